"""Weighing: on two supports, and from what is drawn; masses that follow, and what contradicts itself."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.files.project_json import json_of, project_of
from kinematics import edits, weighing
from kinematics.errors import ProjectError
from kinematics.project import Loads, MadeOf, Mass, Outline, Project
from kinematics.weighing import Reading, band_of, place_of, weighed
from tests.specimens import demo_six_bar
from tests.strategies import numbers

NEAR = st.tuples(numbers(-500.0, 500.0), numbers(-500.0, 500.0))
if TYPE_CHECKING:
    from kinematics.project import Point

PANEL, LINK = demo_six_bar.panel.id, next(link.id for link in demo_six_bar.links if link.kind == "link")


def readings(mass: float, a: Point, b: Point, centre: Point, tilt: float) -> Reading:
    """What scales read under A and B, by moments about A in a drawing that is turned until A to B rises by a tilt."""
    rises = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    turn = math.radians(tilt - rises)
    along = [math.cos(turn) * (p[0] - a[0]) - math.sin(turn) * (p[1] - a[1]) for p in (b, centre)]
    at_b = mass * along[1] / along[0]
    return Reading(mass - at_b, at_b, tilt)


@settings(max_examples=60)
@given(numbers(1.0, 60.0), NEAR, numbers(200.0, 1500.0), numbers(-80.0, 80.0), numbers(0.1, 0.9), numbers(-40.0, 40.0))
def test_a_panel_of_known_mass_and_centre_is_found_again(
    mass: float, a: Point, apart: float, rises: float, share: float, height: float
) -> None:
    """B right of A, however A to B lies in the drawing; readings by moments about A."""
    b = a[0] + apart * math.cos(math.radians(rises)), a[1] + apart * math.sin(math.radians(rises))
    centre = place_of(a, b, share * apart, height)
    assert weighing.height_over(a, b, centre) == pytest.approx(height, abs=1e-9)
    level, tilted = readings(mass, a, b, centre, 0.0), readings(mass, a, b, centre, 12.0)
    if min(tilted.at_a, tilted.at_b) < 0.0:
        return
    alone = weighed(apart, level)
    assert (alone.mass, alone.along, alone.height) == (pytest.approx(mass), pytest.approx(share * apart), None)
    found = weighed(apart, level, tilted)
    assert found.mass == pytest.approx(mass)
    assert found.height is not None
    assert place_of(a, b, found.along, found.height) == pytest.approx(centre, abs=1e-6)
    # neither weighing level: the same centre
    other = readings(mass, a, b, centre, -3.0)
    if min(other.at_a, other.at_b) >= 0.0:
        again = weighed(apart, other, tilted)
        assert place_of(a, b, again.along, again.height or 0.0) == pytest.approx(centre, abs=1e-6)


def test_support_b_may_stand_left_of_a_and_over_is_still_up() -> None:
    a, b = (500.0, 40.0), (0.0, 40.0)
    assert place_of(a, b, 100.0, 30.0) == pytest.approx((400.0, 70.0))
    assert weighing.height_over(a, b, (400.0, 70.0)) == pytest.approx(30.0)


def test_sensitivity_is_what_a_reading_off_does() -> None:
    """20 kg on supports 1000 apart, 12 kg at B: 0.1 kg more at B gives 12.1/20.1."""
    found = weighed(1000.0, Reading(8.0, 12.0))
    assert found.along_off == pytest.approx(max(abs(1000 * 11.9 / 19.9 - 600), abs(1000 * 12.0 / 19.9 - 600)))
    tilted = weighed(1000.0, Reading(8.0, 12.0), Reading(8.5, 11.5, 5.0))
    steeper = weighed(1000.0, Reading(8.0, 12.0), Reading(8.5, 11.5, 15.0))
    assert tilted.height_off is not None
    assert steeper.height_off is not None
    assert tilted.height_off > 2.5 * steeper.height_off


@pytest.mark.parametrize(
    ("apart", "level", "tilted", "says"),
    [
        (0.0, Reading(1.0, 1.0), None, "both supports are in one place"),
        (math.nan, Reading(1.0, 1.0), None, "both supports are in one place"),
        (800.0, Reading(-0.5, 9.0), None, "below nothing"),
        (800.0, Reading(0.0, 0.0), None, "read nothing"),
        (800.0, Reading(8.0, 9.0), Reading(9.0, 9.0, 10.0), "contradict each other"),
        (800.0, Reading(8.0, 9.0), Reading(8.2, 8.8, 0.1), "same tilt"),
        (800.0, Reading(8.0, 9.0), Reading(8.2, 8.8, 80.0), "slides off"),
    ],
)
def test_what_no_panel_gives_is_told(apart: float, level: Reading, tilted: Reading | None, says: str) -> None:
    with pytest.raises(ProjectError, match=says):
        weighed(apart, level, tilted)


def test_an_end_is_raised_by_less_than_the_way_between() -> None:
    assert weighing.tilt_of(250.0, 500.0) == pytest.approx(30.0)
    with pytest.raises(ProjectError, match="can't be raised"):
        weighing.tilt_of(500.0, 500.0)


# ------------------------------------------------------------------------------------------------ from what is drawn
@settings(max_examples=60)
@given(st.lists(NEAR, min_size=1, max_size=6), numbers(1.0, 80.0), numbers(-180.0, 180.0))
def test_a_band_is_that_of_geos_whatever_way_it_lies(pins: list[Point], width: float, turn: float) -> None:
    """Against shapely's buffer, whose arcs are chords: 512 to a quarter miss 2e-6 of the arcs' part."""
    import shapely

    area, at = band_of(pins, width)
    buffered = shapely.MultiPoint(pins).convex_hull.buffer(width / 2, quad_segs=512)
    assert area == pytest.approx(buffered.area, rel=4e-6)
    assert at == pytest.approx((buffered.centroid.x, buffered.centroid.y), abs=1e-3 * width)
    way = complex(math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    turned = [(z.real, z.imag) for z in (complex(*pin) * way for pin in pins)]
    other, there = band_of(turned, width)
    assert other == pytest.approx(area, rel=1e-9)
    assert complex(*there) == pytest.approx(complex(*at) * way, abs=1e-6)


def drawn(made_of: MadeOf, on: str = PANEL) -> Project:
    mass = Mass(on, 1.0, (0.0, 0.0), made_of)
    line = Outline("sheet", PANEL, ((0.0, 0.0), (300.0, 0.0), (300.0, 400.0)))
    solid = Outline("core", PANEL, ((0.0, 0.0), (0.0, 200.0), (600.0, 200.0), (600.0, 0.0)), closed=True)
    project = replace(demo_six_bar, outlines=(*demo_six_bar.outlines, line, solid))
    return weighing.settled(replace(project, loads=Loads(masses=(mass,))))


def only(project: Project) -> Mass:
    assert project.loads is not None
    (mass,) = project.loads.masses
    return mass


def test_sheet_weighs_along_its_line() -> None:
    """700 mm of line × 1000 across × 1 mm × 2700 kg/m³ = 1.89 kg; 15 % folded over; at the middle of the length."""
    mass = only(drawn(MadeOf(2700.0, 1.0, "sheet", 1000.0, "aluminium", 1, 0.15)))
    assert mass.mass == pytest.approx(1.89 * 1.15)
    assert mass.at == pytest.approx(((300 * 150 + 400 * 300) / 700, 400 * 200 / 700))


def test_a_solid_weighs_its_area() -> None:
    """0.6 × 0.2 × 1 m × 30 kg/m³ = 3.6 kg, in its middle."""
    mass = only(drawn(MadeOf(30.0, None, "core", 1000.0, "foam")))
    assert (mass.mass, mass.at) == (pytest.approx(3.6), pytest.approx((300.0, 100.0)))


def test_a_link_s_plates_follow_its_pins_and_width() -> None:
    wide = edits.set_width(drawn(MadeOf(7850.0, 6.0, count=4), LINK), LINK, 30.0)
    before = only(weighing.settled(wide))
    pin = wide.pivots_on(LINK)[0]
    moved = weighing.settled(edits.move_pivot(wide, pin.id, (pin.at[0] + 40.0, pin.at[1] - 25.0)))
    after = only(moved)
    area, at = band_of([each.at for each in moved.pivots_on(LINK)], 30.0)
    assert after.mass == pytest.approx(4 * area * 6.0 * 7850e-9)
    assert after.at == pytest.approx(at)
    assert after.at != before.at
    assert weighing.settled(moved) is moved


def test_a_mass_rides_with_its_outline_and_stays_when_that_goes() -> None:
    project = drawn(MadeOf(2700.0, 1.0, "sheet", 1000.0))
    elsewhere = weighing.settled(edits.ride_outline(project, "sheet", LINK))
    assert only(elsewhere).on == LINK
    renamed = edits.rename_outline(project, "sheet", "skin")
    made = only(renamed).made_of
    assert made is not None
    assert made.outline == "skin"
    gone = edits.remove_outline(project, "sheet")
    assert only(gone) == replace(only(project), made_of=None)


def test_what_is_not_there_leaves_the_mass_and_is_told() -> None:
    lost = drawn(MadeOf(2700.0, 1.0, "nothing", 1000.0))
    assert (only(lost).mass, only(lost).at) == (1.0, (0.0, 0.0))
    assert "there is no outline" in weighing.adrift(lost)[0]
    bare = edits.set_width(drawn(MadeOf(7850.0, 6.0), LINK), LINK, 0.0)
    assert weighing.settled(bare) is bare
    assert "has no width" in weighing.adrift(bare)[0]
    assert weighing.adrift(drawn(MadeOf(2700.0, 1.0, "sheet", 1000.0))) == []
    assert "open line" in weighing.adrift(drawn(MadeOf(30.0, None, "sheet", 1000.0)))[0]


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"density": 0.0, "thickness": 1.0}, "density is 0"),
        ({"density": 7850.0}, "thickness is missing"),
        ({"density": 7850.0, "thickness": -1.0}, "thickness is -1"),
        ({"density": 7850.0, "thickness": 1.0, "outline": "skin"}, "across is missing"),
        ({"density": 7850.0, "thickness": 1.0, "count": 0}, "count is 0"),
        ({"density": 7850.0, "thickness": 1.0, "extra": -0.1}, "extra is -0.1"),
    ],
)
def test_what_nothing_is_made_of_is_refused(fields: dict[str, object], says: str) -> None:
    with pytest.raises(ProjectError, match=says):
        MadeOf(**fields)  # type: ignore[arg-type]


def test_it_is_read_back_from_a_file() -> None:
    project = drawn(MadeOf(2700.0, 1.0, "sheet", 1000.0, "aluminium", 2, 0.15))
    assert project_of(json_of(project)) == project


def test_without_any_such_mass_the_project_is_the_same() -> None:
    assert weighing.settled(demo_six_bar) is demo_six_bar
