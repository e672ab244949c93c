"""Placements held against all wants at once: the closed form against trying forces, and both against the analysis."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.project import Attachment, Device
from kinematics.struts.judging import Judged, bounds, forced, joined, judge, promising, sizes_of
from kinematics.struts.regions import Region
from tests.kinematics.struts.making import SIZES, hatch_problem

if TYPE_CHECKING:
    from kinematics.arrays import Floats
    from kinematics.struts.wanted import Problem


def drawn(problem: Problem, which: int, count: int) -> Judged:
    """Random ends in a pair's zones, judged."""
    pair, random = problem.pairs[which], np.random.default_rng([5, which])
    tails, heads = (Region(pair.region(end)).draw(count, random) for end in (0, 1))
    return judge(problem, sizes_of(problem, SIZES), pair, tails, heads)


def rooms(problem: Problem, judged: Judged, force: float | Floats) -> Floats:
    """(m, columns) N, by adding up."""
    columns = problem.columns
    effort = problem.bare[columns.poses] - force * columns.factors * judged.levers[:, columns.poses]
    limit = columns.ways * columns.rooms + problem.bare[columns.poses]
    return np.asarray(columns.ways * (limit - effort))


def test_bounds_are_where_wants_begin_and_end_to_hold() -> None:
    """Just inside the bounds all wants hold, just outside one doesn't, for every placement that has any such force."""
    problem = hatch_problem()
    judged = drawn(problem, 0, 3000)
    some = judged.pick(np.flatnonzero(judged.high > judged.low + 1.0))
    assert len(some.size) > 5
    low, high = some.low[:, None], some.high[:, None]
    assert (rooms(problem, some, low + 0.01).min(axis=1) >= 0.0).all()
    assert (rooms(problem, some, high - 0.01).min(axis=1) >= 0.0).all()
    sizes = sizes_of(problem, SIZES)
    inner = np.flatnonzero(some.low > sizes.least[some.size] + 1.0)
    assert (rooms(problem, some, low - 0.01)[inner].min(axis=1) < 0.0).all()
    outer = np.flatnonzero(some.high < sizes.most[some.size] - 1.0)
    assert (rooms(problem, some, high + 0.01)[outer].min(axis=1) < 0.0).all()


def test_no_force_helps_where_the_bounds_cross() -> None:
    problem = hatch_problem()
    judged = drawn(problem, 0, 800)
    none = judged.pick(np.flatnonzero(judged.high < judged.low))
    assert len(none.size) > 20
    sizes = sizes_of(problem, SIZES)
    for share in np.linspace(0.0, 1.0, 30):
        force = sizes.least[none.size] + share * (sizes.most - sizes.least)[none.size]
        assert (rooms(problem, none, force[:, None]).min(axis=1) < 0.0).all()


def test_a_strut_without_lever_meets_a_want_or_doesnt() -> None:
    """No division by nothing: where no force changes a column, its room decides."""
    problem = hatch_problem()
    lows, highs = bounds(problem.columns, np.zeros((1, len(problem.openings))))
    largest = problem.columns.names.index("largest")  # 111 N at shut, where 80 are wanted
    assert lows[0, largest] > 1e6
    rests = problem.columns.names.index("rests")
    assert lows[0, rests] <= highs[0, rests]


def test_sizes_are_the_shortest_strokes_that_fit_with_a_reserve() -> None:
    problem = hatch_problem()
    judged = drawn(problem, 0, 400)
    sizes = sizes_of(problem, SIZES)
    pair = problem.pairs[0]
    from kinematics.struts.levers import spans

    lengths = spans(pair, judged.tails, judged.heads)[0]
    for k, size in enumerate(sizes.sizes[j] for j in judged.size):
        low, high = lengths[k].min(), lengths[k].max()
        assert size.extended - size.stroke + 5.0 <= low
        assert high <= size.extended - 5.0
        shorter = [s for s in SIZES if s.rod == size.rod and s.stroke < size.stroke]
        assert not any(s.extended - s.stroke + 5.0 <= low and high <= s.extended - 5.0 for s in shorter)
        assert judged.used[k] == pytest.approx((high - low) / size.stroke, abs=1e-9)


@pytest.mark.parametrize("which", [0, 1, 2])
def test_efforts_are_those_of_the_analysis(which: int) -> None:
    """Every placement's effort, at every opening, to 1e-6 N: random ends, sizes and forces on three pairs of links."""
    problem = hatch_problem()
    judged = drawn(problem, which, 3000)
    sizes, pair, random = sizes_of(problem, SIZES), problem.pairs[which], np.random.default_rng(which)
    there = [int(np.argmin(np.abs(problem.openings - 75.0 * step / 40))) for step in range(41)]
    loads = problem.project.loads
    assert loads is not None
    assert len(judged.size)
    for k in random.choice(len(judged.size), min(3, len(judged.size)), replace=False).tolist():
        size, force = sizes.sizes[judged.size[k]], float(random.uniform(100.0, 600.0))
        ends = [complex(each[k]) + pair.centre for each in (judged.tails, judged.heads)]
        strut = Device(
            "strut",
            "gas strut",
            2,
            *(Attachment(zone.on, (z.real, z.imag)) for zone, z in zip(pair.zones, ends, strict=True)),
            extended=size.extended,
            stroke=size.stroke,
            force=force,
            ratio=size.ratio,
        )
        found = kinematics.analyse(replace(problem.project, loads=replace(loads, devices=(strut,))), 41)
        assert found.loads is not None
        assert found.opening.ends == "wanted opening"
        effort = problem.bare - force * judged.levers[k]
        assert effort[there] == pytest.approx(found.loads.effort, abs=1e-6)
        worst = problem.columns.names.index("worst")
        room = np.minimum.reduceat(rooms(problem, judged.pick(np.array([k])), force)[0], problem.columns.starts)
        assert found.loads.worst is not None
        assert -room[worst] == pytest.approx(found.loads.worst.force, abs=1e-6)


def test_the_best_force_is_the_best_of_all_usual_ones() -> None:
    problem = hatch_problem()
    sizes, judged = sizes_of(problem, SIZES), drawn(problem, 0, 3000)
    judged = judged.pick(promising(judged, 30))
    best = forced(problem, sizes, judged)
    assert (best.force % 50.0 == 0.0).all()
    room = rooms(problem, judged, best.force[:, None])
    assert best.margin == pytest.approx(room.min(axis=1), abs=1e-9)
    met = best.margin >= 0.05
    assert met.any()
    assert ((best.score > 5.0) == met).all()
    for k in np.flatnonzero(~met):  # none of the others would have met them
        size = sizes.sizes[judged.size[k]]
        for force in np.arange(size.least, size.most + 1.0, 50.0):
            assert rooms(problem, judged.pick(np.array([k])), force).min() < 0.05


def test_what_alone_stands_in_the_way_is_told() -> None:
    """Without that want some force meets all others; with it none does."""
    problem = hatch_problem()
    judged, sizes = drawn(problem, 0, 2000), sizes_of(problem, SIZES)
    columns = problem.columns
    ends = [*columns.starts[1:].tolist(), len(columns.poses)]
    for want in range(len(columns.names)):
        for k in np.flatnonzero(judged.blocks[:, want])[:3].tolist():
            size = sizes.sizes[judged.size[k]]
            forces = np.arange(size.least, size.most + 0.5, 1.0)
            room = rooms(problem, judged.pick(np.full(len(forces), k)), forces[:, None])
            others = np.ones(len(columns.poses), dtype=bool)
            others[columns.starts[want] : ends[want]] = False
            assert room.min(axis=1).max() < 0.0
            assert room[:, others].min(axis=1).max() >= -0.5


def test_parts_are_joined_in_order() -> None:
    problem = hatch_problem()
    judged = drawn(problem, 0, 300)
    again = joined([judged.pick(np.arange(4)), judged.pick(np.arange(4, 9))])
    assert np.array_equal(again.tails, judged.tails[:9])
