"""Washers of ISO 7089 and shims of DIN 988, as reprinted; least thickness and shims' thicknesses from memory."""

from __future__ import annotations

import pytest

from app.hardware import hardware

ROWS = {
    5.0: (5.3, 10.0, 1.0),
    6.0: (6.4, 12.0, 1.6),
    8.0: (8.4, 16.0, 1.6),
    10.0: (10.5, 20.0, 2.0),
    12.0: (13.0, 24.0, 2.5),
}
"""Thread: inside, outside, thickness."""


@pytest.mark.parametrize("size", ROWS)
def test_f7_washers(size: float) -> None:
    """F7."""
    (row,) = hardware().washers_for(size)
    assert (row.inside, row.outside, row.thickness) == ROWS[size]


def test_f7_shims() -> None:
    """F7: 6×12, 8×14, 10×16, 12×18; thicknesses from memory, which every row says."""
    for size, outside in ((6.0, 12.0), (8.0, 14.0), (10.0, 16.0), (12.0, 18.0)):
        rows = hardware().washers_for(size, "shim")
        assert {(row.inside, row.outside) for row in rows} == {(size, outside)}
        assert [row.thickness for row in rows] == [0.1, 0.2, 0.3, 0.5, 1.0]
        assert all("memory" in row.known for row in rows)


def test_e13_the_grip_of_three_plates_and_four_washers() -> None:
    """E13: 3·5 + 4·1.6 = 21.4; by ISO 7089's limits for M8, 1.4 (memory) to 1.8, it may be 20.6 … 22.2."""
    (row,) = hardware().washers_for(8.0)
    grips = [3 * 5.0 + 4 * each for each in (row.least, row.thickness, row.most)]
    assert grips == pytest.approx([20.6, 21.4, 22.2], abs=1e-12)
