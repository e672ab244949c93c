"""E-rings of DIN 6799, as reprinted. Trap: an E-ring's size is its *groove*; an "8" on a shaft of 8 has no groove."""

from __future__ import annotations

import pytest

from app.hardware import hardware

ROWS = {
    4.0: (5.0, 7.0, 0.74, 0.7, 9.3, 1.2),
    5.0: (6.0, 8.0, 0.74, 0.7, 11.3, 1.2),
    6.0: (7.0, 9.0, 0.74, 0.7, 12.3, 1.2),
    7.0: (8.0, 11.0, 0.94, 0.9, 14.3, 1.5),
    8.0: (9.0, 12.0, 1.05, 1.0, 16.3, 1.8),
    9.0: (10.0, 14.0, 1.15, 1.1, 18.8, 2.0),
    10.0: (11.0, 15.0, 1.25, 1.2, 20.4, 2.0),
}
"""Size: shafts from, to; groove's width; ring; its outside seated; edge."""


@pytest.mark.parametrize("size", ROWS)
def test_f6_e_rings(size: float) -> None:
    """F6."""
    (row,) = (each for each in hardware().rings if each.kind == "E-ring" and each.size == size)
    assert (row.shaft_from, row.shaft_to, row.slot, row.thickness, row.outside, row.edge) == ROWS[size]
    assert row.groove == size
    assert row.groove < row.shaft_from


def test_f6_the_size_of_an_e_ring_is_its_groove() -> None:
    """F6: on a shaft of 8 go the sizes 5, 6 and 7, never 8; on 9 goes 8, on 12 too, not on 12.1."""
    on = {shaft: {row.size for row in hardware().rings_for(shaft, "E-ring")} for shaft in (8.0, 9.0, 12.0, 12.1)}
    assert on[8.0] == {5.0, 6.0, 7.0}
    assert 8.0 in on[9.0]
    assert 8.0 in on[12.0]
    assert 8.0 not in on[12.1]


def test_f6_the_groove_is_h11() -> None:
    """F6: h11 of the groove: 75 µm over 3 up to 6, 90 over 6 up to 10 (ISO 286-2)."""
    for row in hardware().rings:
        if row.kind == "E-ring":
            assert row.groove_under_um == (75 if row.size <= 6.0 else 90)
