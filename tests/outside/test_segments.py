"""Distances of two straight pieces that anyone can work out.

Source: plane geometry; check B1 of checks.md. Zero-length pieces are points. Tolerance 1e-12 (closed form, numbers
below 13),
plus 1e-12 for the 37° and the shift by 560 mm, which cost that many digits.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.outside.sketch import WAYS, Line, Sketch, pointed, read

PIECES = {  # one piece, other piece, distance
    "end to inside, slanting": ((0, 0, 4, 0), (5, 1, 5, 3), math.sqrt(2)),
    "crossing": ((0, 0, 4, 4), (0, 4, 4, 0), 0.0),
    "parallel": ((0, 0, 4, 0), (1, 2, 3, 2), 2.0),
    "end to the inside of the other": ((0, 0, 4, 0), (6, -3, 6, 3), 2.0),
    "above": ((0, 0, 10, 0), (4, 3, 12, 9), 3.0),
    "end (6, 1) to the inside of the first": ((0, 0, 3, 4), (6, 0, 6, 1), 4.2),
    "a point and a piece": ((1, 5, 1, 5), (0, 0, 4, 0), 5.0),
    "two points": ((1, 5, 1, 5), (4, 1, 4, 1), 5.0),
    "a point on a piece": ((2, 0, 2, 0), (0, 0, 4, 0), 0.0),
    "end on the inside": ((2, 0, 2, 7), (0, 0, 4, 0), 0.0),
    "in line, apart": ((0, 0, 3, 4), (6, 8, 9, 12), 5.0),
    "in line, overlapping": ((0, 0, 6, 8), (3, 4, 9, 12), 0.0),
}


def panel_with(one: tuple[int, ...], other: tuple[int, ...]) -> Sketch:
    """One piece on the body, the other on a panel that turns about a single pivot."""
    return Sketch(
        links=("body", "lid"),
        panel="lid",
        pivots={"hinge": (-7 - 11j, ("body", "lid"))},
        outlines={
            "one": Line("body", pointed([one[:2], one[2:]])),  # type: ignore[list-item]
            "other": Line("lid", pointed([other[:2], other[2:]])),  # type: ignore[list-item]
        },
        wanted_deg=20.0,
    )


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("swapped", [False, True])
@pytest.mark.parametrize("case", PIECES)
def test_b1_shut_gap_of_two_pieces(case: str, swapped: bool, way: str) -> None:
    """B1. Either piece on the panel; 0 also where they cross, and told as touching from 0°."""
    one, other, distance = PIECES[case]
    reading = read(panel_with(other, one) if swapped else panel_with(one, other), way, steps=2)
    assert reading.shut_gap("one", "other") == pytest.approx(distance, rel=0, abs=2e-12)
    gap = reading.gap("one", "other")
    assert (bool(gap.touching_deg) and gap.touching_deg[0][0] == 0.0) == (distance == 0.0)
    assert (gap.at_least, gap.ok) == (None, None)


def test_b1_the_nearest_points_are_where_they_are() -> None:
    """B1. For 4.2: (6, 1) on the panel's piece, and its foot on the other, ((6·3 + 1·4)/25)·(3, 4) = (2.64, 3.52).

    The panel opens clockwise, away from it, so the shut pose is the nearest.
    """
    one, other, _ = PIECES["end (6, 1) to the inside of the first"]
    reading = read(replace(panel_with(one, other), anticlockwise=False), steps=2)
    gap = reading.gap("one", "other")
    assert gap.at_deg == 0.0
    assert gap.at_points is not None
    places = dict(zip(gap.between, gap.at_points, strict=True))
    assert places["one"] == pytest.approx((2.64, 3.52), rel=0, abs=1e-9)
    assert places["other"] == pytest.approx((6.0, 1.0), rel=0, abs=1e-9)
    assert gap.smallest == pytest.approx(4.2, rel=0, abs=1e-12)
