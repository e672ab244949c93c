"""Snapping: what the hand is drawn to, what beats what, and what it is told."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from app.board import snapping
from app.board.snapping import Field, Ring, Target, keep_line, keep_ring, snap
from app.hand_words import snap_words
from app.shapes import SHUT, placed
from kinematics import analyse, edits
from kinematics.arranging import hide_part
from tests.specimens import demo_six_bar, four_bar_a1

A, B = Target((0.0, 0.0), "pivot", "A"), Target((100.0, 50.0), "pivot", "B")
CORNER = Target((40.0, 41.0), "point", "skin", 2)
RING = Ring((0.0, 0.0), 80.0, "A", "arm")
FIELD = Field((A, B, CORNER), (A, B), (RING,), 10.0)


def words(at: tuple[float, float], field: Field = FIELD, reach: float = 4.0) -> str:
    found = snap(at, field, reach)
    return "" if found is None else snap_words(found, "mm")


# ------------------------------------------------------------------------------------------------ what holds
@pytest.mark.parametrize(
    ("at", "to", "says"),
    [
        ((2.0, -1.5), (0.0, 0.0), "on pivot A"),
        ((42.0, 41.0), (40.0, 41.0), "on point 3 of skin"),
        ((33.7, 51.0), (33.7, 50.0), "level with B"),
        ((98.0, 24.4), (100.0, 24.4), "plumb with B"),
        ((101.0, -2.0), (100.0, 0.0), "level with A, plumb with B"),
        ((31.0, 51.0), (30.0, 50.0), "level with B, on a corner of the 10 mm squares"),
        (
            (80.9 * math.cos(0.5), 80.9 * math.sin(0.5)),
            (80 * math.cos(0.5), 80 * math.sin(0.5)),
            "as long as arm, 80.0 mm",
        ),
        ((61.0, 51.5), (math.sqrt(80**2 - 50**2), 50.0), "level with B, as long as arm, 80.0 mm"),
        ((1.0, 81.0), (0.0, 80.0), "plumb with A, as long as arm, 80.0 mm"),
        ((31.5, 28.4), (30.0, 30.0), "on a corner of the 10 mm squares"),
        ((25.0, 28.4), (25.0, 30.0), "on a line of the 10 mm squares"),
    ],
)
def test_it_is_drawn_to(at: tuple[float, float], to: tuple[float, float], says: str) -> None:
    found = snap(at, FIELD, 4.0)
    assert found is not None
    assert snap_words(found, "mm") == says
    assert found.at == pytest.approx(to, abs=1e-9)


def test_in_the_open_nothing_holds() -> None:
    assert snap((25.0, 25.0), FIELD, 4.0) is None
    assert snap((25.0, 25.0), Field(), 4.0) is None


def test_the_nearest_of_several_wins() -> None:
    near = Target((1.0, 0.0), "pivot", "C")
    assert words((0.8, 0.0), replace(FIELD, targets=(A, near))) == "on pivot C"
    assert words((0.2, 0.0), replace(FIELD, targets=(A, near))) == "on pivot A"


def test_of_pins_in_one_line_the_nearest_is_named() -> None:
    far = Target((900.0, 50.0), "pivot", "far")
    assert words((33.7, 51.0), Field(pins=(far, B))) == "level with B"
    assert words((833.7, 51.0), Field(pins=(far, B))) == "level with far"


def test_in_inches_lengths_are_fractions() -> None:
    found = snap((0.0 + 25.4, 200.0), Field(grid=25.4), 4.0)
    assert found is not None
    assert snap_words(found, "in") == 'on a line of the 1" squares'
    assert found.at == (25.4, 200.0)  # 200 mm is on none of the lines


def test_a_ring_that_does_not_reach_the_line_is_no_crossing() -> None:
    small = replace(RING, radius=48.0)
    found = snap((1.0, 49.0), Field(pins=(B,), rings=(small,)), 4.0)
    assert found is not None
    assert snap_words(found, "mm") == "level with B"


# ------------------------------------------------------------------------------------------------ keeping
def test_a_line_is_kept_in_the_direction_that_the_hand_has_gone() -> None:
    ways = snapping.ways_of(four_bar_a1, {}, "B")
    assert list(ways) == ["level", "plumb", "to 45° up", "to 45° down", "in line with coupler"]
    start = four_bar_a1.pivot("B").at
    assert keep_line(start, (start[0] + 9.0, start[1] + 1.0), {"level": 0.0, "plumb": math.pi / 2}) == (
        pytest.approx((start[0] + 9.0, start[1])),
        "level",
    )
    place, name = keep_line(start, (start[0] - 0.5, start[1] + 7.0), ways)
    assert (place, name) == (pytest.approx((start[0], start[1] + 7.0)), "plumb")
    other = four_bar_a1.pivot("A").at
    place, name = keep_line(start, other, ways)
    assert (place, name) == (pytest.approx(other), "in line with coupler")


def test_a_length_is_kept_on_a_circle() -> None:
    assert keep_ring((1.0, 1.0), 5.0, (1.0, 90.0)) == pytest.approx((1.0, 6.0))
    assert keep_ring((1.0, 1.0), 5.0, (1.0, 1.0)) == (6.0, 1.0)


def test_the_kept_length_is_that_of_the_link_that_the_hand_is_least_off() -> None:
    """A is on the crank (40 to O2) and the coupler (120 to B)."""
    along_crank = snapping.kept_ring(four_bar_a1, {}, "A", (0.0, 40.0))
    assert along_crank is not None
    assert (along_crank.pivot, along_crank.radius) == ("O2", pytest.approx(40.0))
    assert snapping.kept_ring(four_bar_a1, {}, "O4", (0.0, 0.0)) is None  # it joins ground and panel alone


# ------------------------------------------------------------------------------------------------ fields
def test_pins_and_points_are_where_they_stand_in_the_pose() -> None:
    analysis = analyse(demo_six_bar)
    pose = analysis.pose(40.0)
    where = placed(analysis, pose)
    pins = {pin.id: pin.at for pin in snapping.pins_at(demo_six_bar, where, but=("X",))}
    assert "X" not in pins
    hatch = analysis.links.index("hatch")
    assert pins["P1"] == pytest.approx(pose.place(hatch, demo_six_bar.pivot("P1").at))
    corner = pose.place(hatch, demo_six_bar.outline("hatch skin").points[0])
    points = snapping.shut_points(demo_six_bar)
    (found,) = snapping.targets_near(demo_six_bar, where, (corner[0] + 1.0, corner[1]), 4.0, points)
    assert (found.id, found.part) == ("hatch skin", 0)
    assert found.at == pytest.approx(corner)


def test_what_moves_and_what_is_hidden_draws_nothing() -> None:
    points = snapping.shut_points(demo_six_bar)
    corner = demo_six_bar.outline("hatch skin").points[2]
    moving = snapping.without(points, {"hatch skin": (2,), "nobody": (0,)})
    assert snapping.targets_near(demo_six_bar, {}, corner, 4.0, points)
    assert not snapping.targets_near(demo_six_bar, {}, corner, 4.0, moving)
    assert not np.isnan(points["hatch skin"]).any()
    hidden = hide_part(hide_part(demo_six_bar, "outline", "hatch skin"), "pivot", "X")
    assert "hatch skin" not in snapping.shut_points(hidden)
    assert "X" not in [pin.id for pin in snapping.pins_at(hidden, {})]
    assert [mark.id for mark in snapping.marks_at(demo_six_bar, {})] == ["rear corner"]


def test_an_outline_that_lost_a_point_meanwhile_is_passed_over() -> None:
    points = snapping.shut_points(demo_six_bar)
    shorter = edits.delete_outline_point(demo_six_bar, "hatch skin", 0)
    corner = shorter.outline("hatch skin").points[1]
    assert not [each for each in snapping.targets_near(shorter, {}, corner, 4.0, points) if each.id == "hatch skin"]


def test_rings_are_as_long_as_the_other_links() -> None:
    assert snapping.lengths(four_bar_a1) == pytest.approx({"crank": 40.0, "coupler": 120.0})
    rings = snapping.rings_of(four_bar_a1, {}, "B")
    assert [(ring.pivot, ring.link) for ring in rings] == [("A", "crank")]
    assert rings[0].radius == pytest.approx(40.0)
    new = snapping.rings_about(four_bar_a1, (5.0, 5.0))
    assert [(ring.about, ring.link) for ring in new] == [((5.0, 5.0), "crank"), ((5.0, 5.0), "coupler")]
    assert SHUT.carry((5.0, 5.0)) == (5.0, 5.0)
