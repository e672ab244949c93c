"""Nearness: distances of segments as GEOS has them; no couple of edges that matters is dropped on the way down."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from kinematics.bodies import bodies
from kinematics.closure import build
from kinematics.meetings import meetings, met
from kinematics.nearness import (
    FAR_SHARE,
    LANE_FLOOR,
    LANE_SHARE,
    SEEN,
    SEEN_LEAST,
    TOLERANCE,
    Bounds,
    Couples,
    Search,
    _edge_distances,
    _run_bounds,
    between_segments,
    close_edges,
    forest,
    from_origin,
    near_edges,
)
from kinematics.stretches import course_of, fine_branch, pairs_of, whole
from kinematics.sweep import sweep
from tests.kinematics.making import lid, on_body, on_lid

if TYPE_CHECKING:
    from kinematics.bodies import Body
    from kinematics.project import Outline


def random_segments(count: int, seed: int) -> tuple[np.ndarray, ...]:
    """Starts and ways; some of no length, some parallel, some crossing, some end to end."""
    dice = np.random.default_rng(seed)
    a, along_a, b, along_b = (dice.normal(size=(4, count)) + 1j * dice.normal(size=(4, count))) * 10.0
    along_a[::7] = 0.0
    along_b[::11] = 0.0
    along_b[3::13] = 0.6 * along_a[3::13]
    b[5::17] = a[5::17] + along_a[5::17]
    return a, along_a, b, along_b


def lines(start: np.ndarray, along: np.ndarray) -> np.ndarray:
    ends = np.stack([start, start + along], axis=1)
    return np.asarray(shapely.linestrings(np.stack([ends.real, ends.imag], axis=-1)))


def test_distances_of_segments_are_those_of_geos() -> None:
    a, along_a, b, along_b = random_segments(4000, 1)
    expected = shapely.distance(lines(a, along_a), lines(b, along_b))
    assert between_segments(a, along_a, b, along_b) == pytest.approx(expected, rel=0, abs=1e-12)
    assert between_segments(b, along_b, a, along_a) == pytest.approx(expected, rel=0, abs=1e-12)
    assert (expected == 0.0).sum() > 200  # crossings are among them


def test_distances_from_the_origin_are_those_of_geos() -> None:
    a, along, _, _ = random_segments(2000, 2)
    expected = shapely.distance(shapely.Point(0.0, 0.0), lines(a, along))
    assert from_origin(a, along) == pytest.approx(expected, rel=0, abs=1e-12)


@pytest.mark.parametrize("hair", [1e-310, 1e-300, 1e-160, 1e-16, 1e-12])
def test_segments_of_a_hair_neither_overflow_nor_lie(hair: float) -> None:
    a, b = np.array([0j]), np.array([3.0 + 4.0j])
    far = between_segments(a, np.array([hair + 0j]), b, np.array([hair * 1j]))
    assert far == pytest.approx([5.0], rel=1e-12)
    crossing = between_segments(np.array([-hair + 0j]), np.array([2 * hair + 0j]), np.array([-1j]), np.array([2j]))
    assert crossing == pytest.approx([0.0], abs=1e-12)


# -------------------------------------------------------------------------------------------------------------- search


def scene(*outlines: Outline, wanted: float = 80.0) -> tuple[Search, list[tuple[Body, Body]]]:
    project = lid(*outlines, wanted=wanted)
    moved = sweep(project)
    there = bodies(project, {name: k for k, name in enumerate(build(project).links)}, {})
    couples = [(there[outlines[0].id], there[outlines[1].id])]
    pairs, trees = pairs_of(moved, couples), forest(couples)
    branch, _ = fine_branch(moved, float(pairs.reach.max()), [0.0])
    course = course_of(moved, branch, pairs)
    cuts = whole(course)
    counts = np.ones(len(cuts.starts), dtype=np.bool_)
    bounds = Bounds(np.full(1, np.inf), np.full((len(branch.arcs), 1), np.inf), np.zeros(1), np.zeros(1))
    return Search(course, trees, cuts, counts, bounds), couples


def all_couples(search: Search, couples: list[tuple[Body, Body]]) -> Couples:
    """Every edge with every edge over every stretch."""
    first, second = (
        np.flatnonzero(search.trees.leaf[_own(search, side)]) + _own(search, side).start for side in (0, 1)
    )
    rows = np.arange(len(search.cuts.starts))
    grid = np.meshgrid(rows, first, second, indexing="ij")
    return Couples(*(axis.ravel() for axis in grid))


def _own(search: Search, side: int) -> slice:
    """Where the runs of one body of the first pair stand in the forest."""
    root = int(search.trees.roots[0, side])
    other = int(search.trees.roots[0, 1 - side])
    return slice(0, root + 1) if root < other else slice(other + 1, root + 1)


def some_outlines(seed: int) -> tuple[Outline, Outline]:
    dice = np.random.default_rng(seed)

    def chain(about: complex) -> list[tuple[float, float]]:
        z = about + np.cumsum((dice.normal(size=9) + 1j * dice.normal(size=9)) * 15.0)
        return [(float(x.real), float(x.imag)) for x in z]

    return on_body(*chain(-60.0 - 120.0j)), on_lid(*chain(150.0 + 40.0j), closed=bool(seed % 2))


@pytest.mark.parametrize("seed", range(6))
def test_the_nearest_couple_is_kept_and_the_best_is_a_true_distance(seed: int) -> None:
    """Against all edges with all edges: what could undercut the best by more than TOLERANCE is kept."""
    search, couples = scene(*some_outlines(seed))
    kept = near_edges(search)
    every = meetings(all_couples(search, couples))
    found = met(search.trees, search.cuts, every)
    least = float(np.minimum(found.start, found.end).min())
    # a true distance at some pose, so not below the least over all poses between either
    assert search.bounds.best[0] >= float(found.low.min()) - 1e-12
    held = met(search.trees, search.cuts, meetings(kept))
    best = min(float(search.bounds.best[0]), float(np.minimum(held.start, held.end).min()))
    assert best <= least + 1e-9
    # whatever could undercut the best by more than TOLERANCE is among what is kept
    keys = {tuple(row) for row in np.stack([kept.rows, kept.first, kept.second], axis=1).tolist()}
    half = len(every.rows) // 2
    low = np.minimum(found.low[:half], found.low[half:])
    for k in np.flatnonzero(low < search.bounds.best[0] - TOLERANCE).tolist():
        assert (int(every.rows[k]), int(every.edge[k]), int(every.vertex[k])) in keys


@pytest.mark.parametrize("seed", range(6))
def test_bounds_at_single_poses_are_distances_there(seed: int) -> None:
    """Never below the distance that GEOS finds, and little above it where a lane is looked at."""
    search, couples = scene(*some_outlines(seed))
    near_edges(search)
    course = search.course
    y = course.branch.turns
    turns, shifts = course.sweep.link_turns(y), course.sweep.shifts(y)
    exact = []
    for pose in range(len(y)):
        drawn = []
        for body in couples[0]:
            z = shifts[pose, body.column] + np.exp(1j * turns[pose, body.column]) * body.tails
            ring = np.append(z, z[0]) if body.solid else z
            drawn.append(shapely.LineString(np.stack([ring.real, ring.imag], axis=1)))
        exact.append(drawn[0].distance(drawn[1]))
    ends, least = search.bounds.ends[:, 0], np.array(exact)
    assert np.all(ends >= least - 1e-9)
    looked_at = ends <= SEEN * max(search.bounds.best[0], SEEN_LEAST)
    assert looked_at.any()
    assert np.all(ends[looked_at] * (1.0 - LANE_SHARE) - LANE_FLOOR <= least[looked_at] + 1e-9)
    assert np.all(ends * (1.0 - FAR_SHARE) - LANE_FLOOR <= least + 1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_no_run_comes_nearer_than_its_bound(seed: int) -> None:
    """Every run against every other over every stretch: their edges are no nearer, at its ends or between them."""
    search, couples = scene(*some_outlines(seed))
    trees, every = search.trees, all_couples(search, couples)
    found = met(trees, search.cuts, meetings(every))
    half = len(every.rows)
    tightest = np.full((len(search.cuts.starts), len(trees.radii), len(trees.radii), 2), np.inf)
    for end, apart in enumerate((found.start, found.end)):
        tightest[every.rows, every.first, every.second, end] = np.minimum(apart[:half], apart[half:])
    above = [(k, child) for k in range(len(trees.radii)) for child in trees.children[k].tolist() if child >= 0]
    for k, child in sorted(above):  # children stand before their parents
        tightest[:, k] = np.minimum(tightest[:, k], tightest[:, child])
    for k, child in sorted(above):
        tightest[:, :, k] = np.minimum(tightest[:, :, k], tightest[:, :, child])
    rows, first, second = np.nonzero(np.isfinite(tightest[:, :, :, 0]))
    low, at_ends = _run_bounds(trees, search.cuts, Couples(rows, first, second))
    at = _edge_distances(trees, search.cuts, Couples(rows, first, second))
    exact = tightest[rows, first, second]
    assert np.all(low <= exact.min(axis=1) + 1e-9)
    assert np.all(at_ends <= exact + 1e-9)
    bodies = tightest[rows, trees.roots[0, 0], trees.roots[0, 1]]
    assert np.all(np.stack(at, axis=1) >= bodies - 1e-9)  # of real places
    assert (low > 0.5 * exact.min(axis=1)).mean() > 0.3  # and worth something
    assert (at_ends > 0.5 * exact).mean() > 0.3


@pytest.mark.parametrize("within", [0.5, 5.0, 40.0])
def test_close_edges_leave_out_only_what_stays_away(within: float) -> None:
    search, couples = scene(*some_outlines(3))
    kept = close_edges(search.trees, search.cuts, np.array([within]))
    every = all_couples(search, couples)
    found = met(search.trees, search.cuts, meetings(every))
    half = len(every.rows)
    least = np.minimum(np.minimum(found.start, found.end)[:half], np.minimum(found.start, found.end)[half:])
    keys = {tuple(row) for row in np.stack([kept.rows, kept.first, kept.second], axis=1).tolist()}
    near = np.flatnonzero(least <= within)
    for k in near.tolist():
        assert (int(every.rows[k]), int(every.first[k]), int(every.second[k])) in keys
    assert len(keys) < half or within == 40.0


def test_a_body_in_several_pairs_stands_in_the_forest_once() -> None:
    _, ((a, b),) = scene(*some_outlines(1))
    trees = forest([(a, b), (b, a), (a, a)])
    assert len(trees.radii) == len(a.runs.radii) + len(b.runs.radii)
    assert trees.roots[0, 0] == trees.roots[1, 1] == trees.roots[2, 0]
    assert trees.leaf.sum() == len(a.tails) + len(b.tails)


def test_stretches_that_do_not_count_lower_no_best() -> None:
    search, _ = scene(*some_outlines(2))
    nothing = Search(search.course, search.trees, search.cuts, np.zeros_like(search.counts), search.bounds)
    near_edges(nothing)
    assert np.isinf(search.bounds.best[0])
    assert np.isfinite(search.bounds.ends).all()  # the lane is drawn all the same
