"""Meetings: a vertex and an edge over a stretch; their bounds hold on the true motion and close in when cut shorter."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from kinematics.meetings import Meetings, Met, crossing, crossing_at_knots, feet, meetings, met, sharpen
from kinematics.nearness import Couples, close_edges
from tests.kinematics.making import on_body, on_lid
from tests.kinematics.test_nearness import scene, some_outlines

if TYPE_CHECKING:
    from kinematics.nearness import Search
    from kinematics.stretches import Stretches


def in_frame(search: Search, those: Meetings, cuts: Stretches, share: float) -> np.ndarray:
    """Distance of each meeting's vertex from its edge at a share of its stretch, on the exact motion, by GEOS."""
    course, trees = search.course, search.trees
    arcs = cuts.starts[those.rows] + share * (cuts.ends - cuts.starts)[those.rows]
    y = course.branch.at(np.minimum(arcs, course.branch.arcs[-1]))
    turns, shifts, line = course.sweep.link_turns(y), course.sweep.shifts(y), np.arange(len(y))
    still = course.pairs.links[0, those.frame]
    moving = course.pairs.links[0, 1 - those.frame]

    def placed(column: np.ndarray, z: np.ndarray) -> np.ndarray:
        return np.asarray(shifts[line, column] + np.exp(1j * turns[line, column]) * z)

    vertex = placed(moving, trees.starts[those.vertex])
    tail, head = placed(still, trees.starts[those.edge]), placed(still, trees.heads[those.edge])
    edges = shapely.linestrings(np.stack([np.stack([z.real, z.imag], axis=-1) for z in (tail, head)], axis=1))
    return np.asarray(shapely.distance(shapely.points(vertex.real, vertex.imag), edges))


@pytest.mark.parametrize("seed", range(8))
def test_bounds_hold_on_the_true_motion(seed: int) -> None:
    search, _ = scene(*some_outlines(seed))
    those = meetings(close_edges(search.trees, search.cuts, np.array([1e9])))
    found = met(search.trees, search.cuts, those)
    assert in_frame(search, those, search.cuts, 0.0) == pytest.approx(found.start, rel=0, abs=1e-6)
    assert in_frame(search, those, search.cuts, 1.0) == pytest.approx(found.end, rel=0, abs=1e-6)
    for share in np.linspace(0.0, 1.0, 7):
        exact = in_frame(search, those, search.cuts, float(share))
        assert np.all(found.low <= exact + 1e-6)
        assert np.all(exact <= found.high + 1e-6)


def test_a_couple_makes_two_meetings() -> None:
    both = meetings(Couples(np.array([4]), np.array([10]), np.array([20])))
    assert both.rows.tolist() == [4, 4]
    assert both.frame.tolist() == [0, 1]
    assert both.vertex.tolist() == [20, 10]  # in frame 0 the second body's vertex meets the first body's edge
    assert both.edge.tolist() == [10, 20]


def test_sharpening_closes_in_on_the_distance() -> None:
    """Cut until each stretch tells its least to 0.01 mm; then low and the ends are that near."""
    search, _ = scene(*some_outlines(2))
    those = meetings(close_edges(search.trees, search.cuts, np.array([1e9])))
    width = float((search.cuts.ends - search.cuts.starts).max())
    ended: list[Met] = []
    rounds = 0

    def undecided(left: Meetings, cuts: Stretches, found: Met) -> np.ndarray:
        nonlocal width, rounds
        rounds += 1
        now = (cuts.ends - cuts.starts)[left.rows]
        assert now.max() <= width + 1e-12
        width = float(now.max()) / 3.0 * (1 + 1e-9)
        rough = np.minimum(found.start, found.end) - found.low > 1e-2
        ended.append(found.pick(~rough))
        return np.asarray(rough)

    sharpen(search.course, search.trees, search.cuts, those, met(search.trees, search.cuts, those), 3, undecided)
    assert 1 < rounds < 12
    lows = np.concatenate([part.low for part in ended])
    tops = np.concatenate([np.minimum(part.start, part.end) for part in ended])
    assert np.all(tops - lows <= 1e-2)
    least = min(float(in_frame(search, those, search.cuts, share).min()) for share in np.linspace(0, 1, 41))
    assert lows.min() <= least + 1e-9
    assert tops.min() >= least - 0.05


@pytest.mark.parametrize("seed", range(4))
def test_edges_that_are_sure_to_cross_do_so_at_every_pose(seed: int) -> None:
    """Two tangles of long edges, laid over each other; sure ones cross on the true motion, and many are sure."""
    dice = np.random.default_rng(seed)
    z = dice.normal(size=(2, 30)) * 80.0 + 1j * dice.normal(size=(2, 30)) * 80.0 + 150.0
    points = [tuple((float(each.real), float(each.imag)) for each in chain) for chain in z]
    search, _ = scene(on_body(*points[0]), on_lid(*points[1]), wanted=20.0)
    those = meetings(close_edges(search.trees, search.cuts, np.array([1e9])))
    sure = crossing(search.trees, search.cuts, those)
    assert sure.any()
    course, trees = search.course, search.trees
    always = np.ones(len(those.rows), dtype=np.bool_)
    for share in np.linspace(0.0, 1.0, 6):
        arcs = (search.cuts.starts + share * (search.cuts.ends - search.cuts.starts))[those.rows]
        y = course.branch.at(np.minimum(arcs, course.branch.arcs[-1]))
        turns, shifts, line = course.sweep.link_turns(y), course.sweep.shifts(y), np.arange(len(y))
        edges = []
        for leaf, frame in ((those.edge, those.frame), (those.vertex, 1 - those.frame)):
            column = course.pairs.links[0, frame]
            ends = np.stack([trees.starts[leaf], trees.heads[leaf]], axis=1)
            z = shifts[line, column, None] + np.exp(1j * turns[line, column, None]) * ends
            edges.append(shapely.linestrings(np.stack([z.real, z.imag], axis=-1)))
        always &= np.asarray(shapely.crosses(*edges))
    assert np.all(always[sure])
    assert sure.sum() > 0.3 * always.sum()


def test_feet_are_the_nearest_points_of_edges() -> None:
    dice = np.random.default_rng(1)
    point, tail, head = dice.normal(size=(3, 300)) + 1j * dice.normal(size=(3, 300))
    head[::9] = tail[::9]
    found = feet(point, tail, head)
    lines = shapely.linestrings(np.stack([np.stack([z.real, z.imag], axis=-1) for z in (tail, head)], axis=1))
    expected = shapely.distance(shapely.points(point.real, point.imag), lines)
    assert np.abs(point - found) == pytest.approx(expected, rel=0, abs=1e-12)
    assert shapely.distance(shapely.points(found.real, found.imag), lines) == pytest.approx(0.0, abs=1e-12)


def test_some_of_them() -> None:
    those = Meetings(*(np.arange(5) + 10 * k for k in range(4)))
    some = those.pick(np.array([True, False, False, True, False]))
    assert (some.rows.tolist(), some.edge.tolist()) == ([0, 3], [30, 33])
    found = Met(*(np.arange(3.0) + 10.0 * k for k in range(4)))
    assert found.pick(np.array([False, True, False])).high.tolist() == [11.0]


@pytest.mark.parametrize("seed", range(8))
def test_edges_that_cross_at_a_knot_are_those_that_geos_finds(seed: int) -> None:
    """Of all couples, on the exact motion at both ends of every stretch; touching by a hair counts for neither."""
    search, _ = scene(*some_outlines(seed))
    trees, cuts, course = search.trees, search.cuts, search.course
    edges = close_edges(trees, cuts, np.array([1e9]))
    crosses = np.zeros(len(edges.rows), dtype=bool)
    for arcs in (cuts.starts, cuts.ends):
        y = course.branch.at(arcs[edges.rows])
        turns, shifts = course.sweep.link_turns(y), course.sweep.shifts(y)
        lines = []
        for column, edge in zip(course.pairs.links[0], (edges.first, edges.second), strict=True):
            ends = [shifts[:, column] + np.exp(1j * turns[:, column]) * z[edge] for z in (trees.starts, trees.heads)]
            lines.append(shapely.linestrings(np.stack([np.stack([z.real, z.imag], axis=-1) for z in ends], axis=1)))
        crosses |= shapely.crosses(*lines)
    assert crossing_at_knots(trees, cuts, edges).tolist() == crosses.tolist()
