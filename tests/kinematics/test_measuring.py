"""Readings of measures: figures that are known otherwise, at shut and at other poses."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from kinematics import analyse, edits
from kinematics.measures import Anchor, Measure
from kinematics.measuring import Reading, Readings, angle_deg
from kinematics.project import Link, Outline, Pivot, Project
from tests.specimens import ALL, demo_six_bar, empty, four_bar_a1, single_pivot

PIN = {name: Anchor(pivot=name) for name in ("O1", "O2", "A", "B", "O4")}


def read(project: Project, deg: float, kind: str, *of: Anchor) -> Reading:
    analysis = analyse(project)
    return Readings(analysis).read(analysis.pose(deg), Measure("m", kind, of))


# ------------------------------------------------------------------------------------------------ distances, angles
@pytest.mark.parametrize("deg", [0.0, 20.0, 55.0])
def test_the_two_pins_of_a_link_stay_as_far_apart_as_the_book_says(deg: float) -> None:
    """The four-bar has a crank of 40, a coupler of 120, a rocker of 80 on a ground of 100 (see specimens)."""
    for one, other, length in (("O2", "A", 40.0), ("A", "B", 120.0), ("B", "O4", 80.0), ("O2", "O4", 100.0)):
        reading = read(four_bar_a1, deg, "distance", PIN[one], PIN[other])
        assert reading.value == pytest.approx(length, abs=1e-7)
    assert reading.places == (pytest.approx((0.0, 0.0)), pytest.approx((100.0, 0.0)))


def test_a_point_of_the_panel_moves_away_as_it_opens() -> None:
    """On one pin at the origin, 400 mm out: from its shut place it is 2·400·sin(opening/2) away."""
    corner = Anchor(outline="lid skin", point=2)
    for deg in (0.0, 30.0, 80.0):
        reading = read(single_pivot, deg, "distance", corner, Anchor(link="body", at=(400.0, 0.0)))
        assert reading.value == pytest.approx(800.0 * math.sin(math.radians(deg) / 2), abs=1e-7)


def test_an_angle_at_the_pin_is_the_opening() -> None:
    pin, mark = Anchor(pivot="A"), Anchor(mark="front edge")
    reading = read(single_pivot, 33.0, "angle", mark, pin, Anchor(link="body", at=(10.0, 0.0)))
    assert reading.value == pytest.approx(33.0, abs=1e-9)
    assert reading.places[1] == pytest.approx((0.0, 0.0))


def test_angles_go_from_0_to_180() -> None:
    assert angle_deg((1, 0), (0, 0), (1, 0)) == 0.0
    assert angle_deg((1, 0), (0, 0), (-2, 0)) == 180.0
    assert angle_deg((0, 1), (0, 0), (1, 0)) == pytest.approx(90.0)
    assert angle_deg((1, 0), (0, 0), (0, 1)) == pytest.approx(90.0)
    assert angle_deg((1, 1), (1, 1), (0, 1)) is None


# ------------------------------------------------------------------------------------------------ paths
def test_the_path_of_a_point_on_one_pin_is_an_arc_of_a_circle() -> None:
    mark = Anchor(mark="front edge")
    for deg in (0.0, 0.7, 31.0, 80.0):
        reading = read(single_pivot, deg, "path", mark)
        assert reading.value == pytest.approx(400.0 * math.radians(80.0), rel=1e-7)
        assert reading.so_far == pytest.approx(400.0 * math.radians(deg), rel=1e-4, abs=1e-6)


@pytest.mark.parametrize("pivot", ["X", "B", "P1"])
def test_a_path_is_as_long_as_very_many_chords_of_it(pivot: str) -> None:
    reading = read(demo_six_bar, 20.0, "path", Anchor(pivot=pivot))
    path = analyse(demo_six_bar, steps=20001).pivot_paths[pivot]
    assert reading.value == pytest.approx(float(np.hypot(*np.diff(path, axis=0).T).sum()), rel=1e-5)


def test_a_path_up_to_a_pose_grows_evenly_with_the_pose() -> None:
    analysis = analyse(demo_six_bar)
    readings, measure = Readings(analysis), Measure("m", "path", (Anchor(pivot="X"),))
    path = analyse(demo_six_bar, steps=20001).pivot_paths["X"]
    chords = np.concatenate([[0.0], np.hypot(*np.diff(path, axis=0).T).cumsum()])
    for deg in np.linspace(0.0, analysis.opening.reached_deg, 23):
        so_far = readings.read(analysis.pose(float(deg)), measure).so_far
        row = deg / analysis.opening.reached_deg * 20000
        assert so_far == pytest.approx(float(np.interp(row, np.arange(20001), chords)), abs=2e-3)


@pytest.mark.parametrize("name", ["locked_triangle", "parallelogram", "empty"])
def test_what_does_not_open_has_no_path(name: str) -> None:
    project = ALL[name]
    reading = read(project, 0.0, "path", Anchor(link=project.panel.id, at=(5.0, 5.0)))
    assert (reading.value, reading.so_far) == (0.0, 0.0)


# ------------------------------------------------------------------------------------------------ clearances
@pytest.mark.parametrize("name", ["demo_six_bar", "with_everything"])
def test_at_the_opening_of_a_smallest_gap_the_clearance_is_that_gap(name: str) -> None:
    analysis = analyse(ALL[name])
    readings = Readings(analysis)
    outlines = {outline.id for outline in analysis.project.outlines}
    for gap in analysis.gaps:
        of = tuple(Anchor(outline=each) if each in outlines else Anchor(link=each) for each in gap.between)
        assert gap.at_deg is not None
        reading = readings.read(analysis.pose(gap.at_deg), Measure("m", "clearance", of))
        assert reading.value == pytest.approx(gap.smallest, abs=1e-6)
        shut = readings.read(analysis.pose(0.0), Measure("m", "clearance", of))
        assert shut.value == pytest.approx(gap.shut, abs=1e-6)
        assert shut.value == 0.0 or math.dist(*shut.places) == pytest.approx(shut.value, abs=1e-9)


def test_it_is_the_same_from_either_side() -> None:
    analysis = analyse(demo_six_bar)
    readings, pose = Readings(analysis), analysis.pose(37.0)
    one, other = Anchor(link="arm"), Anchor(outline="hatch skin")
    there = readings.read(pose, Measure("m", "clearance", (one, other)))
    back = readings.read(pose, Measure("m", "clearance", (other, one)))
    assert there.value == pytest.approx(back.value, abs=1e-9)


def test_pens_and_bands_are_taken_off() -> None:
    """A rod of radius 3 ten above a line of radius 2; a link of width 8 whose pins lie 20 below."""
    project = replace(
        empty,
        links=(*empty.links, Link("bar", "link", 8.0)),
        outlines=(
            Outline("line", empty.fixed.id, ((-50.0, 0.0), (50.0, 0.0)), half_width=2.0),
            Outline("rod", empty.panel.id, ((-5.0, 10.0), (5.0, 10.0)), half_width=3.0),
        ),
        pivots=(Pivot("A", (0.0, -20.0), (empty.fixed.id, "bar")), Pivot("B", (30.0, -20.0), (empty.fixed.id, "bar"))),
    )
    line, rod, bar = Anchor(outline="line"), Anchor(outline="rod"), Anchor(link="bar")
    assert read(project, 0.0, "clearance", line, rod).value == pytest.approx(5.0)
    reading = read(project, 0.0, "clearance", line, bar)
    assert reading.value == pytest.approx(14.0)
    assert [y for _, y in reading.places] == pytest.approx([-2.0, -16.0])
    assert read(project, 0.0, "clearance", Anchor(pivot="A"), rod).value == pytest.approx(27.0)
    near = edits.replace_outline(project, "rod", Outline("rod", empty.panel.id, ((0.0, 4.0), (9.0, 4.0)), half_width=3))
    touching = read(near, 0.0, "clearance", line, rod)
    assert touching.value == 0.0
    assert touching.places[0] == touching.places[1]


def test_what_lies_within_a_solid_has_no_clearance() -> None:
    project = replace(
        empty,
        outlines=(
            Outline("box", empty.fixed.id, ((0.0, 0.0), (90.0, 0.0), (90.0, 90.0), (0.0, 90.0)), closed=True),
            Outline("stick", empty.panel.id, ((40.0, 40.0), (50.0, 50.0))),
        ),
    )
    assert read(project, 0.0, "clearance", Anchor(outline="box"), Anchor(outline="stick")).value == 0.0


def test_a_link_without_pins_has_none() -> None:
    project = edits.add_link(demo_six_bar, Link("spare"))
    assert read(project, 0.0, "clearance", Anchor(link="spare"), Anchor(link="arm")).value is None
    panel = replace(empty, outlines=(Outline("o", empty.panel.id, ((0.0, 0.0), (9.0, 0.0))),))
    assert read(panel, 0.0, "clearance", Anchor(link=empty.fixed.id), Anchor(outline="o")).value is None


def test_it_agrees_with_geos_on_lines_carried_there() -> None:
    """The plain way: every outline carried to the pose, point by point, then one distance."""
    analysis = analyse(demo_six_bar)
    readings = Readings(analysis)
    for deg in (0.0, 12.0, 44.0, 70.0):
        pose = analysis.pose(deg)
        lines = [
            shapely.LineString([pose.place(analysis.links.index(o.on), p) for p in o.points])
            for o in demo_six_bar.outlines[:2]
        ]
        of = tuple(Anchor(outline=outline.id) for outline in demo_six_bar.outlines[:2])
        value = readings.read(pose, Measure("m", "clearance", of)).value
        assert value == pytest.approx(lines[0].distance(lines[1]), abs=1e-9)
