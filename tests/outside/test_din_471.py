"""Circlips of DIN 471 on shafts, as reprinted; edge and tolerance at 12 from memory."""

from __future__ import annotations

import pytest

from app.hardware import hardware

ROWS = {
    6.0: (5.7, 0.7, 0.8, 0.5, 50),
    8.0: (7.6, 0.8, 0.9, 0.6, 60),
    10.0: (9.6, 1.0, 1.1, 0.6, 110),
    12.0: (11.5, 1.0, 1.1, 0.8, 110),
}
"""Shaft: groove's diameter, ring, groove's width, edge at least, by how many µm the groove may be deeper."""


@pytest.mark.parametrize("shaft", ROWS)
def test_f5_circlips(shaft: float) -> None:
    """F5."""
    (row,) = hardware().rings_for(shaft, "circlip")
    assert (row.groove, row.thickness, row.slot, row.edge, row.groove_under_um) == ROWS[shaft]


def test_a_shaft_between_two_sizes_has_no_circlip() -> None:
    """A circlip fits one shaft only; trap: taking the nearest."""
    assert hardware().rings_for(9.0, "circlip") == ()
