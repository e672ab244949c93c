"""The figures of the pages, against figures typed here: the standard's, and those of the examples."""

from __future__ import annotations

import pytest

from app.help.facts import FACTS, fact
from app.lengths import NOTHING


@pytest.mark.parametrize(
    ("name", "mm"), [("finger", "25.0 mm"), ("hand", "100.0 mm"), ("arm", "120.0 mm"), ("head", "300.0 mm")]
)
def test_least_gaps_are_those_of_the_standard(name: str, mm: str) -> None:
    """EN ISO 13854 (ISO 13854:2017), table 1."""
    assert fact(name, "mm") == mm


@pytest.mark.parametrize("name", FACTS)
def test_every_fact_has_a_figure(name: str) -> None:
    for units in ("mm", "in"):
        assert any(sign.isdigit() for sign in fact(name, units))
        assert NOTHING not in fact(name, units)


def test_an_unknown_one_is_a_fault_of_the_page() -> None:
    with pytest.raises(KeyError):
        fact("nobody.knows", "mm")
