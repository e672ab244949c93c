"""Clevis pins of ASME B18.8.1 (1994), inch, as reprinted. Trap: the shank is *under* nominal."""

from __future__ import annotations

import pytest

from app.hardware import hardware

INCH = 25.4
ROWS = {
    0.25: (0.243, 0.248, 0.38, 0.10, 0.073, 0.088, 0.672, 0.692, "1/16"),
    0.3125: (0.306, 0.311, 0.44, 0.10, 0.104, 0.119, 0.812, 0.832, "3/32"),
    0.375: (0.368, 0.373, 0.51, 0.13, 0.104, 0.119, 0.938, 0.958, "3/32"),
    0.5: (0.491, 0.496, 0.63, 0.16, 0.136, 0.151, 1.203, 1.223, "1/8"),
}
"""Nominal: shank least, most; head; its height; cotter hole least, most; head to hole's middle least, most; cotter."""


@pytest.mark.parametrize("nominal", ROWS)
def test_f3_clevis_pins(nominal: float) -> None:
    """F3; the table is in inches, the program in mm."""
    row = hardware().pin("clevis pin", nominal * INCH)
    assert row is not None
    least, most, head, height, hole_least, hole_most, reach_least, reach_most, cotter = ROWS[nominal]
    had = (row.least, row.most, row.head, row.height, row.hole_least, row.hole_most, row.reach_least, row.reach_most)
    expected = (least, most, head, height, hole_least, hole_most, reach_least, reach_most)
    assert had == pytest.approx(tuple(INCH * each for each in expected), abs=1e-9)  # an inch is 25.4 mm exactly
    assert row.clip.endswith(f" {cotter}")
    assert row.most is not None
    assert row.most < row.diameter


def test_f3_play_of_a_quarter_inch_pin_in_a_nominal_hole() -> None:
    """F3: 0.002 to 0.007 in."""
    row = hardware().pin("clevis pin", 6.35)
    assert row is not None
    assert row.least is not None
    assert row.most is not None
    assert (6.35 - row.most, 6.35 - row.least) == pytest.approx((0.0508, 0.1778), abs=1e-9)
