"""Scores against exact figures: GEOS at the openings that are looked at, and `analyse` over the whole travel.

A score looks up points in a field of 3 mm cells at openings some degrees apart, so it may be off by as much as a field
is (0.71 of a cell at a spike's tip or a line's end, next to nothing elsewhere) and by what happens between openings.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from kinematics.analysis import analyse
from kinematics.project import FrontEdge, GapWant, Limit, Link, Mark, Outline, Project, Room, Travel, Zone
from kinematics.proposals.chains import FOUR_BAR, PANEL, SINGLE_PIVOT, SIX_BARS
from kinematics.proposals.drafting import drafted
from kinematics.proposals.marching import march
from kinematics.proposals.problem import finer, read_problem
from kinematics.proposals.refining import refine
from kinematics.proposals.results import Settings
from kinematics.proposals.scoring import AT_ONCE, DEEP, Score, course_misses, outside, score
from kinematics.proposals.seeding import courses, seeds
from tests.kinematics.proposals.making import DEMOS, about, bare, demo, mirrored

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Complexes
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem

PLAIN = Settings(width=0.0)
CELL = 0.71 * 3.0
SHORT = 0.3
"""mm: what misses by more is taken to be short."""


@cache
def problem_of(name: str) -> Problem:
    """A demo without its pins, looked at twice as often, pins anywhere."""
    return replace(finer(read_problem(bare(demo(name)), Settings())), cavity=None)


@cache
def candidates(name: str, chain: Chain) -> Complexes:
    """Good ones, fair ones and seeds, to a hundredth, as they would be drawn."""
    problem, random = problem_of(name), np.random.default_rng(3)
    pins, held = seeds(problem, chain, courses(problem, random), 200, random)
    order = np.argsort(score(problem, chain, pins).cost, kind="stable")
    best, others = order[:4], order[10:130:24]
    fair, _, _ = refine(problem, chain, pins[:, best], held[:, best], 1)
    good, _, _ = refine(problem, chain, fair, held[:, best], 5, 0.25, 0.02)
    return np.asarray(np.concatenate([good, fair, pins[:, others]], axis=1).round(2))


def exact(problem: Problem, chain: Chain, pins: Complexes) -> Analysis:
    """As a layout alone: without struts, of which a search knows nothing."""
    layout = replace(drafted(problem.project, problem.settings, chain, pins), loads=None, strength=None)
    return analyse(layout, steps=2)


@pytest.mark.parametrize(("name", "chain"), [(DEMOS[1], FOUR_BAR), (DEMOS[0], SIX_BARS[2])])
def test_who_is_short_by_the_score_is_short_by_the_analysis(name: str, chain: Chain) -> None:
    """Four in five at least; the others miss by less than a field may be off."""
    problem, pins = problem_of(name), candidates(name, chain)
    worst = score(problem, chain, pins).worst
    same = 0
    for k, miss in enumerate(worst):
        short = [check for check in exact(problem, chain, pins[:, k]).checks if not check.ok]
        same += (miss > SHORT) == bool(short)
        if miss <= SHORT:
            assert max((-check.margin for check in short), default=0.0) < CELL
        elif np.isfinite(miss) and not short:
            assert miss < CELL
    assert same >= 0.8 * len(worst)
    assert 2 <= (worst <= SHORT).sum() <= len(worst) - 2


def shape(outline: Outline) -> shapely.Geometry:
    return shapely.Polygon(outline.points) if outline.closed else shapely.LineString(outline.points)


def placed(outline: Outline, turn: float, shift: complex) -> shapely.Geometry:
    def moved(points: np.ndarray) -> np.ndarray:
        z = (points[:, 0] + 1j * points[:, 1]) * np.exp(1j * turn) + shift
        return np.stack([z.real, z.imag], axis=1)

    return shapely.transform(shape(outline), moved)


@pytest.mark.parametrize("name", DEMOS)
def test_every_gap_at_every_opening_is_that_of_geos(name: str) -> None:
    """Who crosses is seen to, but for one case in five: two thin solids that stand far apart at shut have few points.

    Where they later lie across each other like an X, no point of either may be within the other.
    """
    problem, pins = problem_of(name), candidates(name, FOUR_BAR)
    problem = replace(problem, bounds=(), zones=((), ()), spacing=-1e9)
    told = march(FOUR_BAR, pins, problem.openings)
    through = [k for k, reached in enumerate(told.reached) if reached == len(problem.openings)]
    for pair in problem.pairs:
        one, other = (problem.project.outline(each) for each in pair.names)
        fixed, panel = (one, other) if one.on == problem.project.fixed.id else (other, one)
        wide = replace(pair, want=DEEP)  # so that every gap below it shows
        misses = score(replace(problem, pairs=(wide,)), FOUR_BAR, pins).misses[: problem.counts(pair.after).sum()]
        off, crossed = [], []
        for k in through:
            has_crossed = False
            for row, pose in enumerate(np.flatnonzero(problem.counts(pair.after))):
                moved = placed(panel, float(problem.openings[pose]), complex(told.shifts[pose, PANEL, k]))
                gap = shapely.distance(shape(fixed), moved)
                has_crossed |= gap == 0.0
                if not has_crossed:
                    off.append(misses[row, k] - max(0.0, DEEP - gap))
                elif gap == 0.0:
                    crossed.append(misses[row, k])
        assert np.abs(off).max() <= CELL
        assert np.mean(np.abs(off) < 0.3) > 0.9
        if crossed:
            assert np.mean(np.array(crossed) > DEEP - CELL) > 0.8
    assert len(through) > 8


def lid(*wall: tuple[float, float], back: float = 0.0, want: float = 1.0) -> Project:
    """A lid on one pin at (0, 0), 400 mm ahead of it and so much behind, that opens by 60°, and a wall somewhere."""
    return Project(
        links=(Link("body", "fixed"), Link("lid", "panel")),
        outlines=(Outline("wall", "body", wall), Outline("skin", "lid", ((-back, 0.0), (400.0, 0.0)))),
        gaps=(GapWant(("wall", "skin"), want),),
        travel=Travel("anticlockwise", 60.0),
    )


def polar(radius: float, degrees: float) -> tuple[float, float]:
    return (radius * float(np.cos(np.radians(degrees))), radius * float(np.sin(np.radians(degrees))))


THROUGH = {
    "a small post between two openings": lid(polar(300.0, 22.0), polar(312.0, 22.0)),
    "a post across the way": lid((200.0, 100.0), (200.0, 300.0)),
    "a wall behind, above its end": lid((-50.0, -25.0), (-50.0, -100.0), back=60.0),
    "a wall behind, all along": lid((-55.0, -300.0), (-55.0, -10.0), (-80.0, -10.0), back=60.0),
}
ROUND = {
    "a post beyond the tip": lid(polar(405.0, 22.0), polar(450.0, 22.0)),
    "a post across, beyond the tip": lid(polar(405.0, 22.0), polar(405.0, 30.0)),
    "a post nearer than the skin begins": replace(
        lid(polar(50.0, 22.0), polar(94.0, 22.0)),
        outlines=(
            Outline("wall", "body", (polar(50.0, 22.0), polar(94.0, 22.0))),
            Outline("skin", "lid", ((100.0, 0.0), (400.0, 0.0))),
        ),
    ),
    "a wall behind, round its end": lid((-50.0, -40.0), (-50.0, -100.0), back=60.0),
    "a wall behind, along it": lid((-66.0, -300.0), (-66.0, 200.0), back=60.0),
}


@pytest.mark.parametrize(("way", "closer"), [("drawn", False), ("mirrored", True)])
@pytest.mark.parametrize("project", THROUGH.values(), ids=list(THROUGH))
def test_what_goes_through_a_line_counts_as_through(project: Project, way: str, closer: bool) -> None:
    """Though it is clear of it at every opening that is looked at, and clear again at the end."""
    project = project if way == "drawn" else mirrored(project)
    problem = replace(read_problem(project, PLAIN), cavity=None)
    problem = finer(problem) if closer else problem
    told = score(problem, SINGLE_PIVOT, np.zeros((1, 1), dtype=np.complex128))
    gap = analyse(drafted(project, PLAIN, SINGLE_PIVOT, np.zeros(1, dtype=np.complex128))).gaps[0]
    assert gap.smallest == 0.0
    assert told.worst[0] > 5.0
    assert told.misses[-1, 0] > 5.0 or gap.touching_deg[-1][1] > 59.0


@pytest.mark.parametrize(("way", "closer"), [("drawn", False), ("mirrored", True)])
@pytest.mark.parametrize("project", ROUND.values(), ids=list(ROUND))
def test_what_goes_round_the_end_of_a_line_does_not(project: Project, way: str, closer: bool) -> None:
    project = project if way == "drawn" else mirrored(project)
    problem = replace(read_problem(project, PLAIN), cavity=None)
    problem = finer(problem) if closer else problem
    told = score(problem, SINGLE_PIVOT, np.zeros((1, 1), dtype=np.complex128))
    gap = analyse(drafted(project, PLAIN, SINGLE_PIVOT, np.zeros(1, dtype=np.complex128))).gaps[0]
    assert gap.smallest is not None
    assert gap.smallest > 1.0 + CELL  # a field may see it that much nearer
    assert told.worst[0] == 0.0


# ------------------------------------------------------------------------------------------------------- other wants
OPEN = Project(
    links=(Link("body", "fixed", 30.0), Link("lid", "panel", 30.0)),
    outlines=(Outline("skin", "lid", ((0.0, 0.0), (300.0, 20.0), (600.0, 0.0))),),
    marks=(Mark("tip", "lid", (600.0, 0.0)), Mark("heel", "lid", (-10.0, -5.0))),
    travel=Travel("anticlockwise", 50.0),
    pin_spacing=60.0,
)
ASKED = {
    "limit": replace(
        OPEN,
        limits=(
            Limit("tip", dy_at_least=430.0, after_deg=45.0),
            Limit("heel", dx_at_least=-12.0, dx_at_most=20.0, dy_at_most=9.0),
            Limit("tip", dx_at_most=-210.0, after_deg=49.0),
        ),
    ),
    "roof": replace(OPEN, room=Room(None, 430.0)),
    "front edge": replace(OPEN, room=Room(-900.0, None, FrontEdge(None, 1350.0))),
    "front edge at a mark": replace(OPEN, room=Room(-900.0, None, FrontEdge("tip", 1340.0))),
    "pin spacing": OPEN,
}


@pytest.mark.parametrize("opens", ["anticlockwise", "clockwise"])
@pytest.mark.parametrize("kind", ASKED)
def test_other_wants_are_missed_by_what_the_analysis_says(kind: str, opens: str) -> None:
    """To a third of a mm, most of it the little that is asked beyond a want; misses beyond DEEP are damped."""
    project = ASKED[kind] if opens == "anticlockwise" else mirrored(ASKED[kind])
    settings = Settings(width=30.0 if kind == "pin spacing" else 0.0)
    if kind != "pin spacing":
        project = replace(project, links=tuple(replace(link, width=0.0) for link in project.links))
    problem = replace(finer(read_problem(project, settings)), cavity=None)
    pins = (about(FOUR_BAR, 60, 12, 160.0) - 60j).round(2)
    pins = pins if opens == "anticlockwise" else -pins.conj()
    told = score(problem, FOUR_BAR, pins)
    seen = []
    for k in np.flatnonzero(told.reached == 1.0)[:4]:
        analysis = exact(problem, FOUR_BAR, pins[:, k])
        checks = [check for check in analysis.checks if kind.startswith(check.kind)]
        assert checks
        miss = max(0.0, *(-check.margin for check in checks))
        seen.append(miss)
        if miss < DEEP - 1.0:
            assert abs(told.worst[k] - miss) < 0.34
        else:
            assert told.worst[k] > DEEP - 1.0
    assert len(seen) == 4
    assert max(seen) > 0.0


def test_pins_miss_zones_and_cavity_by_how_far_they_are_out() -> None:
    square = ((0.0, -100.0), (100.0, -100.0), (100.0, 0.0), (0.0, 0.0))
    project = replace(OPEN, zones=(Zone("body", square), Zone("body", ((200.0, 0.0), (260.0, 0.0), (230.0, 50.0)))))
    problem = replace(read_problem(project, PLAIN), cavity=None)
    pins = about(FOUR_BAR, 200, 5, 200.0) - 50.0 - 150j  # within reach of the fields
    regions = shapely.union_all([shapely.Polygon(zone.points) for zone in project.zones])
    mine = [pin for pin, pair in enumerate(FOUR_BAR.pins) if 0 in pair]
    away = shapely.distance(regions, shapely.points(pins[mine].real, pins[mine].imag)).sum(axis=0)
    assert np.abs(outside(problem, FOUR_BAR, pins) - away).max() < 2 * (CELL + 0.1)
    assert np.median(np.abs(outside(problem, FOUR_BAR, pins) - away)) < 0.25  # twice the tenth asked beyond
    middle = np.full((4, 1), 50 - 50j)
    assert outside(problem, FOUR_BAR, middle)[0] == 0.0


def test_bands_are_missed_by_their_middle_lines() -> None:
    wall = Outline("wall", "body", ((-30.0, -300.0), (-30.0, 300.0)), uncertain=1.0)
    settings = Settings(width=20.0, bands_clear=4.0)
    problem = read_problem(replace(OPEN, outlines=(*OPEN.outlines, wall), pin_spacing=0.0), settings)
    problem = replace(problem, cavity=None, pairs=(), openings=problem.openings[:1])
    pins = about(FOUR_BAR, 50, 6, 100.0) - 60.0
    told = score(problem, FOUR_BAR, pins)
    wanted = 4.0 + 1.0 + 10.0
    near = []
    for k in np.flatnonzero(told.reached == 1.0):
        arms = [shapely.LineString([(z.real, z.imag) for z in pins[[a, b], k]]) for a, b in ((0, 2), (1, 3))]
        gaps = [shapely.distance(arm, shape(wall)) for arm in arms]
        miss = max(0.0, wanted - min(gaps))
        longest = max(arm.length for arm in arms)
        assert told.worst[k] <= miss + 1e-3  # what is looked up is never nearer than the line
        assert told.worst[k] >= miss - longest / 8  # five points a side, so half a quarter from the nearest at most
        near.append(miss)
    assert max(near) > 10.0


def test_who_does_not_get_through_comes_behind_all_that_do() -> None:
    problem = problem_of("launch hatch")
    pins = np.concatenate([candidates("launch hatch", FOUR_BAR), about(FOUR_BAR, 30, 4, 300.0)], axis=1)
    told = score(problem, FOUR_BAR, pins)
    through = told.reached == 1.0
    assert 0 < through.sum() < len(through)
    assert told.cost[through].max() < told.cost[~through].min()
    assert np.isinf(told.worst[~through]).all()
    further = np.argsort(told.reached[~through])[::-1]
    assert (np.diff(told.cost[~through][further]) >= 0.0).all()


def test_where_none_gets_through_there_are_scores_all_the_same() -> None:
    """A unit asks for them: all its candidates may be beyond their dead point."""
    hopeless = np.repeat(np.array([[0j], [100j], [50j], [150j]]), 3, axis=1)
    project = demo("potting bench")
    wanted = replace(
        project, room=Room(-900.0, 900.0, FrontEdge(None, 100.0)), zones=(Zone("bin", ((0, 0), (9, 0), (9, 9))),)
    )
    for problem in (problem_of("launch hatch"), read_problem(wanted, Settings(bands_clear=3.0))):
        told = score(problem, FOUR_BAR, hopeless)
        assert np.isinf(told.worst).all()
        assert score(problem, FOUR_BAR, hopeless[:, :0]).misses.shape[1] == 0


def test_a_score_is_of_its_candidate_alone() -> None:
    """In whatever company, and whether or not it falls into the same lot."""
    problem, pins = problem_of("launch hatch"), candidates("launch hatch", FOUR_BAR)
    alone = [score(problem, FOUR_BAR, pins[:, k : k + 1]).worst[0] for k in (0, 7, 11)]
    many = np.tile(pins, AT_ONCE // pins.shape[1] + 2)
    together = score(problem, FOUR_BAR, many).worst.reshape(-1, pins.shape[1])
    assert np.allclose(together[:, [0, 7, 11]], alone, rtol=0.0, atol=1e-3)  # single precision, Newton's last step


def test_margins_ask_for_more() -> None:
    problem, pins = problem_of("potting bench"), candidates("potting bench", FOUR_BAR)
    plain, more = score(problem, FOUR_BAR, pins), score(problem, FOUR_BAR, pins, 1.5)
    one = score(problem, FOUR_BAR, pins, np.array([1.5, 0.0]))
    through = plain.reached == 1.0
    assert ((more.misses - plain.misses)[:, through] >= -1e-9).all()
    assert (more.misses - plain.misses)[:, through].max() <= 1.5 + 1e-4
    rows = problem.counts(problem.pairs[0].after).sum()
    assert np.abs(one.misses[:rows] - more.misses[:rows]).max() == 0.0
    assert np.abs(one.misses[rows:] - plain.misses[rows:]).max() == 0.0


def test_a_course_is_missed_as_the_hinge_that_runs_it() -> None:
    """With pairs and limits alone both count the same."""
    problem = replace(problem_of("launch hatch"), spacing=-1e9, zones=((), ()))
    pins = candidates("launch hatch", FOUR_BAR)
    told = march(FOUR_BAR, pins, problem.openings)
    through = told.reached == len(problem.openings)
    costs = course_misses(problem, told.shifts[:, PANEL, through])
    misses = score(problem, FOUR_BAR, pins).misses[:, through]
    assert np.abs(costs - (misses**2).sum(axis=0)).max() < 1e-3 * max(1.0, costs.max())


def test_cost_and_worst_of_nothing() -> None:
    nothing = Score(np.zeros((0, 2)), np.zeros((0, 2)), np.array([1.0, 0.5]))
    assert list(nothing.worst) == [0.0, np.inf]
    assert nothing.cost[0] == 0.0
