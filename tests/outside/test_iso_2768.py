"""General tolerances of ISO 2768-1, class m. Trap: "over … up to": 6, 30 and 120 belong to the range below."""

from __future__ import annotations

import pytest

from app.hardware import hardware

EDGES = [
    (6.0, 0.1),
    (6.001, 0.2),
    (30.0, 0.2),
    (30.001, 0.3),
    (120.0, 0.3),
    (120.001, 0.5),
    (400.0, 0.5),
    (400.001, 0.8),
    (1000.0, 0.8),
]


@pytest.mark.parametrize(("size", "off"), EDGES)
def test_f11_class_m(size: float, off: float) -> None:
    """F11."""
    assert hardware().may_be_off(size) == off


def test_f11_beyond_the_table() -> None:
    """F11: nothing is guessed."""
    assert hardware().may_be_off(1000.001) is None
