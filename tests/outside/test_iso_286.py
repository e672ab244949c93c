"""Limits and fits of ISO 286-2: H7 as reprinted in its tables, shafts from JIS B 0401:1999, whose numbers are the same.

Whole micrometres, so nothing is rounded and nothing may differ. Each range is asked at its edges: "over … up to and
with …", so 6, 10 and 18 belong to the range below. Trap: by the formula i = 0.45·∛D + 0.001·D the width of IT7 comes
out at 14 and 17, where the standard has 15 and 18.
"""

from __future__ import annotations

import pytest

from app.hardware import hardware
from kinematics.fits import Limits, deviation, fit, fit_um

EDGES = {"3-6": (3.001, 6.0), "6-10": (6.001, 8.0, 10.0), "10-18": (10.001, 12.0, 18.0)}
"""Sizes in each range, its edges first and last."""
TABLE = {
    "3-6": {"H7": (0, 12), "f7": (-22, -10), "g6": (-12, -4), "h6": (-8, 0), "p6": (12, 20), "s6": (19, 27)},
    "6-10": {"H7": (0, 15), "f7": (-28, -13), "g6": (-14, -5), "h6": (-9, 0), "p6": (15, 24), "s6": (23, 32)},
    "10-18": {"H7": (0, 18), "f7": (-34, -16), "g6": (-17, -6), "h6": (-11, 0), "p6": (18, 29), "s6": (28, 39)},
}
FITS = {
    ("H7", "g6"): ((4, 24), (5, 29), (6, 35)),
    ("H7", "f7"): ((10, 34), (13, 43), (16, 52)),
    ("H7", "p6"): ((-20, 0), (-24, 0), (-29, 0)),
    ("H7", "s6"): ((-27, -7), (-32, -8), (-39, -10)),
}
"""Least and most clearance; interference is negative."""


@pytest.mark.parametrize("span", TABLE)
def test_f1_deviations_at_each_edge_of_a_range(span: str) -> None:
    """F1."""
    for zone, expected in TABLE[span].items():
        for size in EDGES[span]:
            row = deviation(hardware().deviations, size, zone)
            assert row is not None
            assert (row.lower_um, row.upper_um) == expected, (zone, size)


@pytest.mark.parametrize(("hole", "shaft"), FITS)
def test_f1_clearance_and_interference(hole: str, shaft: str) -> None:
    """F1."""
    for span, expected in zip(EDGES, FITS[hole, shaft], strict=True):
        for size in EDGES[span]:
            assert fit_um(hardware().deviations, size, hole, shaft) == expected, size


def test_f1_the_same_in_mm() -> None:
    """F1: a pin of 10 f7 in a hole of 10 H7, 13 to 43 µm; 12 p6 in 12 H7, up to 29 µm of interference."""
    tables = hardware()
    hole, pin = tables.limits(10.0, "H7"), tables.limits(10.0, "f7")
    assert hole is not None
    assert pin is not None
    between = fit(hole, pin)
    assert (between.least, between.most) == pytest.approx((0.013, 0.043), abs=1e-12)
    assert between.is_clearance
    hole, pin = tables.limits(12.0, "H7"), tables.limits(12.0, "p6")
    assert hole is not None
    assert pin is not None
    pressed = fit(hole, pin)
    assert pressed.interference == pytest.approx((0.0, 0.029), abs=1e-12)
    assert not pressed.is_clearance


def test_each_zone_has_every_range_once_and_without_a_hole() -> None:
    """Over … up to: no size has two rows, none between 0 and 50 mm has none."""
    zones = {row.zone for row in hardware().deviations}
    for zone in zones:
        spans = sorted((row.over, row.up_to) for row in hardware().deviations if row.zone == zone)
        assert spans == [(0, 3), (3, 6), (6, 10), (10, 18), (18, 30), (30, 50)], zone


def test_holes_and_shafts_of_one_letter_mirror_each_other() -> None:
    """ISO 286-1: for letters up to h the hole's lower deviation is the shaft's upper one, negated. f7/F7, g/G, h/H."""
    for size in (3.0, 6.0, 10.0, 18.0, 30.0, 50.0):
        rows = {zone: deviation(hardware().deviations, size, zone) for zone in ("F7", "f7", "H11", "h11", "H8", "h8")}
        for hole, shaft in (("F7", "f7"), ("H11", "h11"), ("H8", "h8")):
            one, other = rows[hole], rows[shaft]
            assert one is not None
            assert other is not None
            assert (one.lower_um, one.upper_um) == (-other.upper_um, -other.lower_um)


def test_a_size_beyond_the_tables_has_no_limits() -> None:
    """Nothing is guessed."""
    assert hardware().limits(50.001, "H7") is None
    assert hardware().limits(0.0, "H7") is None
    assert hardware().limits(8.0, "Q7") is None
    assert hardware().limits(50.0, "H7") == Limits(50.0, 50.025)
