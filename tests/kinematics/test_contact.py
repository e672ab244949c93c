"""Contact ranges against closed forms of a lid on one pin, at the very start, at the very end, mere, thin and solid."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics import meetings
from kinematics.contact import geometries, touch_at, touching
from kinematics.project import GapWant, Outline
from kinematics.stretches import fine_branch
from tests import specimens
from tests.kinematics.making import gaps_by_geos, lid, on_body, on_lid

if TYPE_CHECKING:
    from kinematics.project import Point
    from kinematics.results import Gap

FINE = 0.01
"""Degrees within which a range's ends are promised."""


def ranges(*outlines: Outline, wanted: float = 80.0, opens: str = "anticlockwise", after: float = 0.0) -> Gap:
    return kinematics.analyse(lid(*outlines, wanted=wanted, opens=opens, after=after)).gaps[0]


def polar(radius: float, deg: float) -> tuple[float, float]:
    return (radius * math.cos(math.radians(deg)), radius * math.sin(math.radians(deg)))


def dot(radius: float, deg: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """A point, as an outline of two equal points."""
    return (polar(radius, deg), polar(radius, deg))


def test_a_thin_edge_runs_through_a_pin() -> None:
    """An edge from the pivot out, a pin of radius 0.3 at radius 80 and 20.5°: asin(0.3/80) before and after."""
    gap = ranges(on_body(*dot(80.0, 20.5), half_width=0.3), on_lid((0.0, 0.0), (100.0, 0.0)))
    half = math.degrees(math.asin(0.3 / 80.0))
    assert gap.touching_deg == (pytest.approx((20.5 - half, 20.5 + half), rel=0, abs=FINE),)
    assert gap.smallest == 0.0
    assert gap.at_deg == pytest.approx(20.5 - half, rel=0, abs=FINE)


def test_the_thinner_the_pin_the_shorter_the_range_and_none_is_lost() -> None:
    for radius in (1e-2, 1e-4, 1e-6):
        gap = ranges(on_body(*dot(80.0, 33.3), half_width=radius), on_lid((0.0, 0.0), (100.0, 0.0)))
        assert gap.touching_deg
        assert gap.touching_deg[0][0] == pytest.approx(33.3, rel=0, abs=FINE)
        assert gap.touching_deg[-1][1] == pytest.approx(33.3, rel=0, abs=FINE)
        assert gap.smallest == 0.0


def test_lines_that_cross_in_passing_touch_once() -> None:
    """Two bare lines: a radius that sweeps over a radial stroke touches it at one opening, a mere touch."""
    gap = ranges(on_body(polar(50.0, 41.0), polar(70.0, 41.0)), on_lid((0.0, 0.0), (100.0, 0.0)))
    assert len(gap.touching_deg) == 1
    assert gap.touching_deg[0] == pytest.approx((41.0, 41.0), rel=0, abs=FINE)


def test_a_mere_touch_has_no_length() -> None:
    """A corner at radius 100 comes just up to a wall at x = 100·cos 20° … and turns away: it touches at one opening."""
    wall = 100.0 * math.cos(math.radians(0.0))
    gap = ranges(on_body((wall, -50.0), (wall, 50.0)), on_lid((0.0, 0.0), polar(100.0, -30.0)))
    assert gap.touching_deg == (pytest.approx((30.0, 30.0), rel=0, abs=0.05),)  # it leaves with the square of the turn
    assert gap.smallest == pytest.approx(0.0, abs=1e-9)


def test_two_meetings_are_two_ranges() -> None:
    posts = (polar(60.0, 12.0), polar(60.0, 55.0))
    fence = on_body(posts[0], (200.0, 300.0), posts[1])  # far away but for its two ends
    gap = ranges(fence, on_lid((0.0, 0.0), (61.0, 0.0), half_width=0.5), wanted=80.0)
    exact = kinematics.analyse(lid(fence, on_lid((0.0, 0.0), (61.0, 0.0), half_width=0.5)))
    assert len(gap.touching_deg) == 2
    for low, high in gap.touching_deg:
        inside = np.linspace(low + FINE, high - FINE, 9)
        beside = np.array([low - FINE, high + FINE])
        assert gaps_by_geos(exact, gap.between, inside).max() == 0.0
        assert gaps_by_geos(exact, gap.between, beside).min() > 0.0


def test_contact_at_the_very_start_begins_at_0() -> None:
    """The lid lies upon a stop when shut and lifts off it at once."""
    gap = ranges(on_body((50.0, -20.0), (50.0, 0.0)), on_lid((0.0, 0.0), (100.0, 0.0)))
    assert gap.touching_deg == (pytest.approx((0.0, 0.0), rel=0, abs=FINE),)
    assert gap.touching_deg[0][0] == 0.0
    assert (gap.smallest, gap.at_deg, gap.shut) == (0.0, 0.0, 0.0)


def test_contact_from_the_start_ends_where_it_ends() -> None:
    """A stop of radius 5 under the lid at 50: clear from asin(5/50) on."""
    gap = ranges(on_body(*dot(50.0, 0.0), half_width=5.0), on_lid((0.0, 0.0), (100.0, 0.0)))
    assert gap.touching_deg == (pytest.approx((0.0, math.degrees(math.asin(0.1))), rel=0, abs=FINE),)
    assert gap.touching_deg[0][0] == 0.0


def test_contact_at_the_very_end_ends_there() -> None:
    """The lid comes to rest on a stop just when it is open."""
    gap = ranges(on_body(polar(40.0, 80.0), polar(40.0, 95.0)), on_lid((0.0, 0.0), (100.0, 0.0)))
    assert gap.touching_deg == (pytest.approx((80.0, 80.0), rel=0, abs=FINE),)
    assert gap.touching_deg[0][1] == 80.0
    assert gap.smallest == 0.0


def test_contact_all_along_is_one_range() -> None:
    """A square round the pivot, a line within it."""
    square = ((-90.0, -90.0), (90.0, -90.0), (90.0, 90.0), (-90.0, 90.0))
    gap = ranges(on_body(*square, closed=True), on_lid((0.0, 0.0), (30.0, 0.0)))
    assert gap.touching_deg == ((0.0, 80.0),)
    assert (gap.smallest, gap.at_deg) == (0.0, 0.0)


def test_an_open_outline_holds_nothing_within() -> None:
    """The same square as a line: what is inside is clear of it, by 90 − 30."""
    square = ((-90.0, -90.0), (90.0, -90.0), (90.0, 90.0), (-90.0, 90.0), (-90.0, -90.0))
    gap = ranges(on_body(*square), on_lid((0.0, 0.0), (30.0, 0.0)))
    assert gap.touching_deg == ()
    assert gap.smallest == pytest.approx(60.0, rel=0, abs=1e-9)


def test_a_solid_that_takes_a_point_in_and_lets_it_out_again() -> None:
    """A point at radius 70 passes through a square post from 20° to 40° of its way."""
    post = (polar(60.0, 20.0), polar(80.0, 20.0), polar(80.0, 40.0), polar(60.0, 40.0))
    analysis = kinematics.analyse(lid(on_body(*post, closed=True), on_lid((70.0, 0.0), (70.0, 0.0))))
    gap = analysis.gaps[0]
    assert gap.touching_deg == (pytest.approx((20.0, 40.0), rel=0, abs=FINE),)
    assert gaps_by_geos(analysis, gap.between, [30.0])[0] == 0.0


def test_contact_before_the_want_holds_is_told_but_does_not_count() -> None:
    """A pin at 12 degrees; the want holds from 30 on."""
    outlines = (on_body(*dot(80.0, 12.0), half_width=2.0), on_lid((0.0, 0.0), (100.0, 0.0)))
    gap = ranges(*outlines, after=30.0)
    half = math.degrees(math.asin(2.0 / 80.0))
    assert gap.touching_deg == (pytest.approx((12.0 - half, 12.0 + half), rel=0, abs=FINE),)
    assert gap.smallest == pytest.approx(80.0 * math.sin(math.radians(18.0)) - 2.0, rel=0, abs=1e-6)
    assert gap.at_deg == pytest.approx(30.0, rel=0, abs=1e-9)
    assert gap.ok is True


def test_contact_of_a_pair_whose_want_never_comes_to_hold_is_told() -> None:
    gap = ranges(on_body(*dot(80.0, 12.0), half_width=2.0), on_lid((0.0, 0.0), (100.0, 0.0)), after=120.0)
    assert (gap.smallest, gap.at_deg, gap.at_points, gap.ok) == (None, None, None, False)
    assert len(gap.touching_deg) == 1


def test_the_smallest_is_the_first_touch_after_the_want_begins_to_hold() -> None:
    """Contact from 10 to 30 about a post; the want holds from 20 on: 0 at 20."""
    post = (polar(60.0, 10.0), polar(80.0, 10.0), polar(80.0, 30.0), polar(60.0, 30.0))
    gap = ranges(on_body(*post, closed=True), on_lid((70.0, 0.0), (70.0, 0.0)), after=20.0)
    assert gap.smallest == 0.0
    assert gap.at_deg == pytest.approx(20.0, rel=0, abs=1e-6)


@pytest.mark.parametrize("opens", ["anticlockwise", "clockwise"])
def test_ranges_ascend_and_keep_apart_either_way_round(opens: str) -> None:
    sign = 1.0 if opens == "anticlockwise" else -1.0
    comb = [polar(radius, sign * deg) for deg in (11.0, 23.0, 37.0, 52.0, 71.0) for radius in (150.0, 60.0, 150.0)]
    gap = ranges(on_body(*comb), on_lid((0.0, 0.0), (62.0, 0.0), half_width=0.4), opens=opens)
    edges = [edge for touch in gap.touching_deg for edge in touch]
    assert len(gap.touching_deg) == 5
    assert edges == sorted(edges)
    for (low, high), deg in zip(gap.touching_deg, (11.0, 23.0, 37.0, 52.0, 71.0), strict=True):
        assert low < deg < high


def test_contact_of_two_scraggly_outlines_before_the_want_holds() -> None:
    """Found by random scenes: a six-bar's panel runs over a body line at 2.9 degrees, the want holds from 10 on."""
    pins = {
        "O1": (132.5657, 248.7296),
        "O2": (34.2742, 176.0919),
        "X": (130.154, 207.2534),
        "B": (73.9536, 86.998),
        "Q": (242.1093, 229.2072),
        "P1": (17.3388, 252.0324),
        "P2": (120.8196, 289.7895),
    }
    line = ((-63.67, -40.914), (-98.033, -22.793), (-75.226, -21.691), (-30.872, -26.125), (-47.028, -25.955))
    line += ((-78.238, -51.916), (-76.087, -70.607), (-104.227, -63.368), (-103.775, -76.155))
    solid = ((-96.453, -129.606), (-104.47, -124.214), (-101.076, -100.495), (-109.75, -125.172), (-116.582, -117.023))
    solid += ((-114.538, -127.752), (-116.297, -126.879), (-130.864, -121.341), (-123.797, -133.207))
    solid += ((-114.505, -154.274), (-109.405, -167.549), (-109.801, -139.905))
    project = replace(
        specimens.demo_six_bar,
        pivots=tuple(replace(pin, at=pins[pin.id]) for pin in specimens.demo_six_bar.pivots),
        outlines=(Outline("line", "bulkhead", line), Outline("solid", "hatch", solid, closed=True)),
        gaps=(GapWant(("line", "solid"), 5.0, 10.0),),
        limits=(),
        marks=(),
    )
    analysis = kinematics.analyse(project)
    gap = analysis.gaps[0]
    assert len(gap.touching_deg) == 1
    low, high = gap.touching_deg[0]
    assert 2.0 < low < high < 5.0
    assert gaps_by_geos(analysis, gap.between, np.linspace(low + FINE, high - FINE, 5)).max() == 0.0
    assert gaps_by_geos(analysis, gap.between, [low - FINE, high + FINE]).min() > 0.0
    assert gap.smallest is not None
    assert gap.smallest > 20.0


def ripple(points: int, first: float, last: float, radius: float, high: float, waves: float) -> list[Point]:
    """A wavy arc about the pivot, angles in rad."""
    angles = np.linspace(first, last, points).tolist()
    return [polar(radius + high * math.cos(waves * angle), math.degrees(angle)) for angle in angles]


@pytest.mark.parametrize("points", [60, 300])
def test_two_rippled_arcs_that_run_through_each_other(points: int) -> None:
    """Thousands of crossings come and go; what counts is where there is none, here and in between."""
    still = on_body(*ripple(points, 0.3, 2.8, 100.0, 3.0, 60.0))
    turning = on_lid(*ripple(points, -0.5, -0.1, 97.2, 0.2, 900.0))
    analysis = kinematics.analyse(lid(still, turning))
    gap = analysis.gaps[0]
    degrees = np.linspace(0.0, 80.0, 401)
    told = np.zeros(len(degrees), dtype=np.bool_)
    beside = np.full(len(degrees), np.inf)
    for low, high in gap.touching_deg:
        told |= (degrees >= low) & (degrees <= high)
        beside = np.minimum(beside, np.minimum(abs(degrees - low), abs(degrees - high)))
    exact = gaps_by_geos(analysis, gap.between, degrees) == 0.0
    assert 0.5 < exact.mean() < 0.9
    assert np.array_equal(told[beside > FINE], exact[beside > FINE])


def test_too_many_events_to_follow_are_looked_at_pose_by_pose(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(meetings, "MOST_LOOKS", 1000)
    test_two_rippled_arcs_that_run_through_each_other(60)


def test_touching_speaks_of_places_along_the_branch() -> None:
    analysis = kinematics.analyse(lid(on_body(*dot(80.0, 20.5), half_width=0.3), on_lid((0.0, 0.0), (100.0, 0.0))))
    couple = (analysis.bodies["still"], analysis.bodies["turning"])
    branch, _ = fine_branch(analysis.sweep, 200.0, [0.0])
    (low, high), *more = touching(analysis.sweep, branch, couple)
    assert not more
    places = np.array([low - 1e-3, 0.5 * (low + high), high + 1e-3])
    assert touch_at(analysis.sweep, branch, couple, places).tolist() == [False, True, False]
    assert touch_at(analysis.sweep, branch, couple, np.zeros(0)).tolist() == []


def test_geometries_of_points_lines_and_solids() -> None:
    analysis = kinematics.analyse(
        lid(on_body((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), closed=True), on_lid((5.0, 5.0), (5.0, 5.0)))
    )
    solid, point = analysis.bodies["still"], analysis.bodies["turning"]
    assert [shape.geom_type for shape in geometries(solid, np.stack([solid.tails, 2 * solid.tails]))] == ["Polygon"] * 2
    assert geometries(point, point.tails[None])[0].geom_type == "Point"
