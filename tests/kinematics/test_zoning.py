"""Zones: the signed distance against another program's, the check of each link, flawed zones, edits."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from kinematics import analyse, edits, zoning
from kinematics.errors import ProjectError
from kinematics.project import Project, Zone
from tests.specimens import ALL, demo_six_bar, four_bar_a1

if TYPE_CHECKING:
    from kinematics.results import Check

ROOM = ((-50.0, -50.0), (150.0, -50.0), (150.0, 80.0), (-50.0, 80.0))
BOWTIE = ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0))
IN_LINE = ((0.0, 0.0), (5.0, 5.0), (20.0, 20.0))
coordinates = st.floats(-100.0, 100.0, allow_nan=False)
places = st.tuples(coordinates, coordinates)


def zoned(*zones: Zone, base: Project = four_bar_a1) -> Project:
    return replace(base, zones=zones)


def zone_checks(project: Project) -> list[Check]:
    return [check for check in analyse(project).checks if check.kind == "zone"]


# --------------------------------------------------------------------------------------------------- signed distances
@pytest.mark.parametrize(
    ("at", "have"),
    [
        ((0.0, 0.0), 50.0),  # by hand: the left edge is at −50, the lower one at −50
        ((140.0, 0.0), 10.0),
        ((150.0, 0.0), 0.0),
        ((160.0, 0.0), -10.0),
        ((153.0, 84.0), -5.0),  # from the corner: 3, 4, 5
        ((-50.0, -50.0), 0.0),
    ],
)
def test_distance_from_the_edge_by_hand(at: tuple[float, float], have: float) -> None:
    assert zoning.inside(ROOM, at) == pytest.approx(have, rel=0, abs=1e-12)
    assert zoning.inside(ROOM[::-1], at) == pytest.approx(have, rel=0, abs=1e-12)


@settings(max_examples=40)
@given(st.lists(places, min_size=3, max_size=5).map(tuple), places)
def test_distance_from_the_edge_as_geos_finds_it(
    points: tuple[tuple[float, float], ...], at: tuple[float, float]
) -> None:
    region = shapely.Polygon(points)
    assume(shapely.is_valid(region) and region.area > 1.0)
    spot = shapely.Point(at)
    distance = region.exterior.distance(spot)
    assume(distance > 1e-6)  # on the edge itself either side is right
    assert zoning.inside(points, at) == pytest.approx(distance if region.contains(spot) else -distance, abs=1e-9)
    assert zoning.flaw(points) == ""


# -------------------------------------------------------------------------------------------------------------- checks
def test_a_link_without_zones_has_no_check() -> None:
    assert zone_checks(four_bar_a1) == []


def test_a_zone_without_pins_has_no_check_yet() -> None:
    empty = ALL["empty"]
    assert zone_checks(zoned(Zone(empty.fixed.id, ROOM), base=empty)) == []


def test_the_check_speaks_of_the_worst_pin() -> None:
    fixed = four_bar_a1.fixed.id
    pins = four_bar_a1.pivots_on(fixed)
    low, high = pins[0].at, pins[1].at
    around = zoned(
        Zone(
            fixed,
            (
                (low[0] - 4, low[1] - 9),
                (high[0] + 3, low[1] - 9),
                (high[0] + 3, high[1] + 9),
                (low[0] - 4, high[1] + 9),
            ),
        )
    )
    (check,) = zone_checks(around)
    assert check.subject == (fixed, pins[1].id)
    assert (check.have, check.margin, check.ok) == (pytest.approx(3.0), pytest.approx(3.0), True)
    assert (check.place, check.deg, check.want) == (pins[1].at, 0.0, 0.0)


@pytest.mark.parametrize(("over", "ok"), [(0.0, True), (1e-10, True), (-1e-10, True), (1e-8, False)])
def test_on_the_edge_is_inside(over: float, ok: bool) -> None:
    fixed = four_bar_a1.fixed.id
    low, high = (pin.at for pin in four_bar_a1.pivots_on(fixed))
    edge = (
        (low[0] + over, low[1] - 9),
        (high[0] + 3, low[1] - 9),
        (high[0] + 3, high[1] + 9),
        (low[0] + over, high[1] + 9),
    )
    (check,) = zone_checks(zoned(Zone(fixed, edge)))
    assert check.ok is ok


def test_each_pin_may_stand_in_any_zone_of_its_link() -> None:
    fixed = four_bar_a1.fixed.id
    pins = four_bar_a1.pivots_on(fixed)

    def around(at: tuple[float, float], half: float) -> Zone:
        x, y = at
        return Zone(fixed, ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)))

    two = zoned(around(pins[0].at, 5.0), around(pins[1].at, 7.0))
    (check,) = zone_checks(two)
    assert (check.subject, check.have) == ((fixed, pins[0].id), pytest.approx(5.0))
    (check,) = zone_checks(zoned(around(pins[0].at, 5.0)))
    away = math.dist(pins[0].at, pins[1].at)
    assert (check.ok, check.subject[1]) == (False, pins[1].id)
    assert check.have is not None
    assert -away < check.have < 0.0


def test_zones_of_every_link_are_held_shut_and_nowhere_else() -> None:
    """The panel's pins swing out of their zone as it opens; what counts is where they stand shut."""
    panel = demo_six_bar.panel.id
    pins = demo_six_bar.pivots_on(panel)
    xs, ys = zip(*(pin.at for pin in pins), strict=True)
    box = (
        (min(xs) - 1, min(ys) - 1),
        (max(xs) + 1, min(ys) - 1),
        (max(xs) + 1, max(ys) + 1),
        (min(xs) - 1, max(ys) + 1),
    )
    (check,) = zone_checks(zoned(Zone(panel, box), base=demo_six_bar))
    assert (check.ok, check.have) == (True, pytest.approx(1.0))


# ------------------------------------------------------------------------------------------------------- flawed zones
@pytest.mark.parametrize(
    ("points", "why"),
    [(BOWTIE, "crosses itself"), (IN_LINE, "has no area"), (((1.0, 2.0),) * 3, "has no area"), (ROOM, "")],
)
def test_what_bounds_no_region_is_told_and_holds_no_pin(points: tuple[tuple[float, float], ...], why: str) -> None:
    assert zoning.flaw(points) == why
    project = zoned(Zone(four_bar_a1.fixed.id, points))
    (check,) = zone_checks(project)
    told = [remark for remark in analyse(project).remarks if "zone" in remark]
    if why:
        assert (check.have, check.ok) == (None, False)
        assert len(told) == 1
        assert why in told[0]
        with pytest.raises(ProjectError, match=why):
            zoning.add_zone(four_bar_a1, four_bar_a1.fixed.id, points)
    else:
        assert told == []


def test_a_sound_zone_beside_a_flawed_one_counts() -> None:
    fixed = four_bar_a1.fixed.id
    wide = ((-1e3, -1e3), (1e3, -1e3), (1e3, 1e3), (-1e3, 1e3))
    (check,) = zone_checks(zoned(Zone(fixed, BOWTIE), Zone(fixed, wide)))
    assert check.ok


def test_a_doubled_corner_is_no_flaw() -> None:
    assert zoning.flaw((*ROOM, ROOM[-1], ROOM[0])) == ""


# --------------------------------------------------------------------------------------------------------------- edits
def test_zones_are_drawn_moved_and_taken_out() -> None:
    fixed, panel = four_bar_a1.fixed.id, four_bar_a1.panel.id
    one = zoning.add_zone(zoning.add_zone(four_bar_a1, fixed, ROOM), panel, ROOM)
    two = zoning.add_zone(one, fixed, ROOM)
    assert two.zone_names == (f"on {fixed}", f"on {panel}", f"2 on {fixed}")
    assert [two.zone_place(name) for name in two.zone_names] == [0, 1, 2]
    assert two.zone(f"2 on {fixed}") is two.zones[2]
    moved = zoning.move_zone_point(two, 1, 2, (200.0, 90.0))
    assert moved.zones[1].points == (*ROOM[:2], (200.0, 90.0), ROOM[3])
    assert moved.zones[0] is two.zones[0]
    assert zoning.move_zone_point(two, 1, 2, ROOM[2]) is two
    assert zoning.shift_zone(two, 0, (1.0, -2.0)).zones[0].points[0] == (-49.0, -52.0)
    longer = zoning.insert_zone_point(two, 0, 4, (-60.0, 0.0))
    assert longer.zones[0].points == (*ROOM, (-60.0, 0.0))
    assert zoning.delete_zone_point(longer, 0, 4) == two
    assert zoning.ride_zone(two, 0, panel).zones[0].on == panel
    assert zoning.set_zone_points(two, 0, ROOM[:3]).zones[0].points == ROOM[:3]
    assert zoning.remove_zone(two, 2) == one


def test_zones_follow_their_link() -> None:
    link = next(link.id for link in four_bar_a1.links if link.kind == "link")
    project = zoning.add_zone(four_bar_a1, link, ROOM)
    assert edits.rename_link(project, link, "other arm").zones == (Zone("other arm", ROOM),)
    assert edits.remove_link(project, link).zones == ()


@pytest.mark.parametrize(
    "edit",
    [
        lambda p: zoning.remove_zone(p, 1),
        lambda p: zoning.move_zone_point(p, 0, 4, (0.0, 0.0)),
        lambda p: zoning.move_zone_point(p, -1, 0, (0.0, 0.0)),
        lambda p: zoning.insert_zone_point(p, 0, 5, (0.0, 0.0)),
        lambda p: zoning.delete_zone_point(zoning.delete_zone_point(p, 0, 0), 0, 0),
        lambda p: p.zone("2 on nowhere"),
        lambda p: zoning.ride_zone(p, 0, "nobody"),
        lambda p: zoning.set_zone_points(p, 0, BOWTIE),
    ],
)
def test_what_is_not_there_is_refused(edit: object) -> None:
    project = zoning.add_zone(four_bar_a1, four_bar_a1.fixed.id, ROOM)
    with pytest.raises(ProjectError):
        edit(project)  # type: ignore[operator]
