"""Gaps of whole projects: random bodies against dense GEOS sampling, bands, stations, huge, tiny, many-pointed."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

import kinematics
from kinematics.clearance import shut_gap
from kinematics.project import GapWant, Link, Outline, Pivot, Project, Travel
from tests import specimens
from tests.kinematics.making import PLAIN, gaps_by_geos, lid, mapped, on_body, on_lid, plain

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.results import Gap

CERTIFIED = 0.01
"""mm by which the smallest may miss the true one."""
FINE = 0.01
"""Degrees by which the ends of contact may be off."""


def random_outline(dice: np.random.Generator, name: str, on: str, about: complex) -> Outline:
    """A star-shaped solid or a scrawl, now and then with a pen."""
    count, half_width = int(dice.integers(3, 12)), float(dice.choice([0.0, 0.0, 3.5]))
    if dice.random() < 0.5:
        angles = np.sort(dice.uniform(0.0, 2.0 * math.pi, count))
        z = about + dice.uniform(15.0, 70.0, count) * np.exp(1j * angles)
        closed = True
    else:
        z = about + np.cumsum((dice.normal(size=count) + 1j * dice.normal(size=count)) * 25.0)
        closed = False
    return Outline(name, on, tuple((float(x.real), float(x.imag)) for x in z), closed, half_width)


def scene(seed: int) -> Project:
    """A hinge (one pivot, the demo's six bars, a random linkage) with outlines at will."""
    dice = np.random.default_rng(seed)
    base = [specimens.single_pivot, specimens.demo_six_bar, plain(PLAIN[seed % len(PLAIN)])][seed % 3]
    fixed, panel = base.fixed.id, base.panel.id

    def somewhere() -> complex:
        return complex(*dice.uniform(-160.0, 260.0, 2))

    outlines = (
        random_outline(dice, "sill", fixed, somewhere()),
        random_outline(dice, "skin", panel, somewhere()),
        random_outline(dice, "rail", fixed, somewhere()),
    )
    after = float(dice.choice([0.0, 0.0, 5.0]))
    return replace(base, outlines=outlines, gaps=(GapWant(("sill", "skin"), 5.0, after),), marks=(), limits=())


def faults(analysis: Analysis, gap: Gap) -> list[str]:
    """Where a gap doesn't agree with GEOS at 300 openings."""
    reached = analysis.opening.reached_deg
    degrees = np.unique(np.append(np.linspace(0.0, reached, 300), [gap.at_deg or 0.0]))
    exact = gaps_by_geos(analysis, gap.between, degrees)
    counted = degrees >= gap.after_deg
    found = []
    if abs((gap.shut or 0.0) - exact[0]) > 1e-9:
        found.append(f"shut {gap.shut}, GEOS {exact[0]}")
    if not counted.any():
        return found if gap.smallest is None else [*found, "a smallest though the want never holds"]
    assert gap.smallest is not None
    assert gap.at_deg is not None
    if gap.smallest > exact[counted].min() + 1e-9:
        found.append(f"smallest {gap.smallest}, but GEOS finds {exact[counted].min()}")
    there = gaps_by_geos(analysis, gap.between, [gap.at_deg])[0]
    near = gap.at_deg + np.linspace(-0.2, 0.2, 81)
    about = gaps_by_geos(analysis, gap.between, near[(near >= gap.after_deg) & (near <= reached)])
    if gap.smallest > about.min(initial=np.inf) + 1e-9:
        found.append(f"smallest {gap.smallest} told at {gap.at_deg}, beside which GEOS finds {about.min()}")
    if abs(there - gap.smallest) > CERTIFIED:
        found.append(f"smallest {gap.smallest} told at {gap.at_deg}, where GEOS finds {there}")
    told, edge = np.zeros(len(degrees), dtype=np.bool_), np.full(len(degrees), np.inf)
    for low, high in gap.touching_deg:
        told |= (degrees >= low) & (degrees <= high)
        edge = np.minimum(edge, np.minimum(np.abs(degrees - low), np.abs(degrees - high)))
    wrong = (told != (exact <= 1e-9)) & (edge > FINE)
    return [
        *found,
        *(f"contact at {deg}: told {not hit}" for deg, hit in zip(degrees[wrong], exact[wrong] <= 1e-9, strict=True)),
    ]


@pytest.mark.parametrize("seed", range(36))
def test_random_bodies_against_geos(seed: int) -> None:
    analysis = kinematics.analyse(scene(seed), steps=3)
    assert analysis.opening.reached_deg > 5.0
    for gap in analysis.gaps:
        assert faults(analysis, gap) == [], gap.between


@pytest.mark.parametrize("seed", range(12))
def test_points_are_those_of_the_bodies_there(seed: int) -> None:
    """Both points lie on their pens' outer edges at the opening told, and as far apart as the gap."""
    analysis = kinematics.analyse(scene(seed), steps=3)
    for gap in analysis.gaps:
        if gap.smallest is None or gap.at_points is None or gap.at_deg is None:
            continue
        first, second = (complex(*point) for point in gap.at_points)
        assert abs(first - second) == pytest.approx(gap.smallest, rel=0, abs=1e-6)
        pose = analysis.pose(gap.at_deg)
        for name, point in zip(gap.between, (first, second), strict=True):
            line = analysis.project.outline(name)
            ring = (*line.points, line.points[0]) if line.closed else line.points
            column = analysis.links.index(line.on)
            placed = shapely.LineString(pose.places(column, np.array(ring)))
            away = placed.distance(shapely.Point(point.real, point.imag))
            assert away <= line.half_width + 1e-3
            if gap.smallest > 1e-6:
                assert away == pytest.approx(line.half_width, rel=0, abs=1e-3)


@pytest.mark.parametrize("seed", range(12))
def test_lanes_ascend_hold_the_smallest_and_follow_the_gap(seed: int) -> None:
    analysis = kinematics.analyse(scene(seed), steps=3)
    for gap in analysis.gaps:
        openings, values = gap.lane
        assert np.all(np.diff(openings) >= 0.0)
        assert openings[[0, -1]] == pytest.approx([0.0, analysis.opening.reached_deg], rel=0, abs=1e-6)
        assert np.isfinite(values).all()
        assert values.min() >= 0.0
        exact = gaps_by_geos(analysis, gap.between, openings)
        pens = sum(analysis.project.outline(name).half_width for name in gap.between)
        assert np.all(values >= exact - 0.02)
        assert np.all(values + pens <= (exact + pens) * 1.7 + 0.1)  # far above a want a rough figure will do …
        low = exact < 20.0
        assert np.all(values[low] + pens <= (exact[low] + pens) * 1.05 + 0.1)  # … where it is looked at it won't
        if gap.smallest is not None:
            assert gap.smallest in values
            k = int(np.flatnonzero(values == gap.smallest)[0])
            assert openings[k] == pytest.approx(gap.at_deg, rel=0, abs=1e-6)
        for edge in (edge for touch in gap.touching_deg for edge in touch):
            assert np.any((openings == edge) & (values == 0.0))


@pytest.mark.parametrize("seed", [1, 4, 8, 10])
def test_the_order_of_the_pair_only_changes_the_order_of_the_points(seed: int) -> None:
    project = scene(seed)
    want = project.gaps[0]
    there = replace(project, gaps=(replace(want, between=want.between[::-1]),))
    one, other = (kinematics.analyse(each, steps=2).gaps[0] for each in (project, there))
    assert other.smallest == pytest.approx(one.smallest, rel=0, abs=1e-9)
    assert other.at_deg == pytest.approx(one.at_deg, rel=0, abs=FINE)
    assert len(other.touching_deg) == len(one.touching_deg)
    if one.smallest:
        assert other.at_points is not None
        assert one.at_points is not None
        assert other.at_points[0] == pytest.approx(one.at_points[1], rel=0, abs=0.05)


@pytest.mark.parametrize("size", [1e-4, 0.04, 25.4, 60.0])
def test_tiny_and_huge(size: float) -> None:
    """Everything scales with the drawing, touches too; the certified error is in mm and shrinks for none."""
    for seed in (1, 3, 4):
        here = kinematics.analyse(scene(seed), steps=2)
        there = kinematics.analyse(mapped(scene(seed), size * np.exp(0.4j), 30.0 * size), steps=2)
        for one, other in zip(here.gaps, there.gaps, strict=True):
            assert other.shut == pytest.approx(size * one.shut, rel=1e-9, abs=1e-9 * size)
            assert other.smallest == pytest.approx(size * one.smallest, rel=1e-6, abs=CERTIFIED * max(size, 1.0))
            if size > 1e-3:
                assert len(other.touching_deg) == len(one.touching_deg)


def test_a_thousand_points_and_more() -> None:
    """An outline of 5000 points past a wall: the bulge's top passes at 5 mm, whatever else there is."""
    angles = np.linspace(-2.0, 1.0, 5000)
    radius = 100.0 - 30.0 * (np.abs(angles + 0.5)) + 0.01 * np.sin(900.0 * angles) * (np.abs(angles + 0.5) > 0.01)
    skin = on_lid(*[(float(r * math.cos(t)), float(r * math.sin(t))) for r, t in zip(radius, angles, strict=True)])
    gap = kinematics.analyse(lid(on_body((105.0, -500.0), (105.0, 500.0)), skin)).gaps[0]
    top = float(radius.max())
    assert gap.smallest == pytest.approx(105.0 - top, rel=0, abs=1e-3)
    assert gap.at_deg == pytest.approx(math.degrees(0.5), rel=0, abs=0.05)


# ----------------------------------------------------------------------------------------------------- bands, stations


def test_the_band_of_a_link_is_watched_by_its_id() -> None:
    """An arm of two pins turns on the body; its band of half width 14 passes a post at (0, 150) by 150 − 100 − 14."""
    project = Project(
        links=(Link("body", "fixed"), Link("lid", "panel", 28.0), Link("tip")),
        pivots=(Pivot("A", (0.0, 0.0), ("body", "lid")), Pivot("T", (100.0, 0.0), ("lid", "tip"))),
        travel=Travel("anticlockwise", 150.0),
        outlines=(Outline("post", "body", ((0.0, 150.0), (0.0, 200.0))),),
        gaps=(GapWant(("post", "lid"), 20.0),),
    )
    gap = kinematics.analyse(project).gaps[0]
    assert gap.smallest == pytest.approx(36.0, rel=0, abs=1e-9)
    assert gap.at_deg == pytest.approx(90.0, rel=0, abs=1e-3)
    assert gap.ok is True


def test_a_band_of_three_pins_is_their_hull() -> None:
    """The cross link's triangle against the short link's line, by GEOS at many openings."""
    project = replace(specimens.demo_six_bar, gaps=(GapWant(("cross link", "lift link"), 0.0),))
    analysis = kinematics.analyse(project)
    gap = analysis.gaps[0]
    assert gap.smallest == 0.0  # they share a pin
    assert gap.touching_deg == ((0.0, 75.0),)


def test_two_bands_apart() -> None:
    project = replace(specimens.demo_six_bar, gaps=(GapWant(("short link", "lift link"), 0.0),))
    analysis = kinematics.analyse(project)
    gap, exact = analysis.gaps[0], []
    pins = {name: [pin.at for pin in project.pivots if name in pin.joins] for name in gap.between}
    for deg in np.linspace(0.0, 75.0, 301):
        pose = analysis.pose(float(deg))
        lines = [
            shapely.LineString(pose.places(analysis.links.index(name), np.array(pins[name]))) for name in gap.between
        ]
        exact.append(lines[0].distance(lines[1]) - 28.0)
    assert gap.smallest is not None
    assert gap.smallest <= min(exact) + 1e-9
    assert gap.smallest == pytest.approx(min(exact), rel=0, abs=1e-3)


def test_a_link_without_pins_gives_a_row_without_figures() -> None:
    project = replace(specimens.half_drawn, gaps=(GapWant(("coaming", "loose"), 3.0),))
    gap = kinematics.analyse(project).gaps[0]
    assert (gap.smallest, gap.shut, gap.at_deg, gap.ok, gap.touching_deg) == (None, None, None, False, ())
    assert gap.wanted
    assert len(gap.lane[0]) == 0


def test_where_nothing_opens_the_one_pose_counts() -> None:
    gap = kinematics.analyse(specimens.half_drawn).gaps[0]
    assert gap.between == ("coaming", "lid skin")
    assert gap.at_deg == 0.0
    assert gap.smallest == gap.shut
    late = replace(specimens.half_drawn, gaps=(GapWant(("coaming", "lid skin"), 3.0, 10.0),))
    assert kinematics.analyse(late).gaps[0].smallest is None
    assert kinematics.analyse(late).gaps[0].ok is False


def test_where_nothing_opens_contact_is_told_at_0() -> None:
    project = replace(
        specimens.locked_triangle,
        outlines=(
            Outline("sill", "ground", ((0.0, 0.0), (90.0, 0.0))),
            Outline("skin", "panel", ((50.0, -5.0), (50.0, 5.0))),
        ),
    )
    gap = kinematics.analyse(project).gaps[0]
    assert (gap.smallest, gap.at_deg, gap.touching_deg, gap.ok) == (0.0, 0.0, ((0.0, 0.0),), None)


def test_shut_gaps_are_those_of_geos() -> None:
    for seed in range(12):
        analysis = kinematics.analyse(scene(seed), steps=2)
        for gap in analysis.gaps:
            a, b = (analysis.bodies[name] for name in gap.between)
            apart, points = shut_gap(a, b)
            assert apart == gap.shut
            assert math.dist(*points) == pytest.approx(apart, rel=0, abs=1e-9)


def test_where_pens_overlap_both_points_are_one_within_both() -> None:
    """A pin of radius 5 in the way of an edge drawn with a pen of 3, from 8 mm on."""
    analysis = kinematics.analyse(
        lid(on_body((50.0, 30.0), (50.0, 30.0), half_width=5.0), on_lid((0.0, 0.0), (100.0, 0.0), half_width=3.0))
    )
    gap = analysis.gaps[0]
    assert gap.smallest == 0.0
    assert gap.at_points is not None
    assert gap.at_points[0] == pytest.approx(gap.at_points[1], rel=0, abs=1e-3)  # where contact begins
    assert math.dist(gap.at_points[0], (50.0, 30.0)) <= 5.0 + 1e-3
    shut = kinematics.analyse(
        lid(on_body((50.0, 4.0), (50.0, 4.0), half_width=5.0), on_lid((0.0, 0.0), (100.0, 0.0), half_width=3.0))
    ).gaps[0]
    assert (shut.shut, shut.at_deg) == (0.0, 0.0)
    assert shut.at_points is not None
    assert shut.at_points[0] == pytest.approx(shut.at_points[1], rel=0, abs=1e-9)
    assert 4.0 - 5.0 <= shut.at_points[0][1] <= 3.0


def test_ok_compares_with_the_want_to_a_billionth() -> None:
    wall = on_body((105.0, -300.0), (105.0, 300.0))
    skin = on_lid((10.0, 5.0), (100.0 * math.cos(-0.5), 100.0 * math.sin(-0.5)))
    for at_least, ok in ((5.0, True), (4.999999, True), (5.000001, False)):
        project = lid(wall, skin)
        project = replace(project, gaps=(replace(project.gaps[0], at_least=at_least),))
        assert kinematics.analyse(project).gaps[0].ok is ok
