"""One unit of a search for struts: ends drawn at random, judged, the best tried further near by, rounded, held.

The random numbers of a unit are its own, from the seed and its number, so that what it brings depends on project,
settings and number alone. Units take the pairs of zones in turn, and every second and third one looks among shorter
strokes only: long struts lift with less force, but compact ones are easier to place.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_point
from kinematics.struts.clearing import Obstacles, clear, obstacles_of
from kinematics.struts.fitting import held
from kinematics.struts.judging import Judged, Sizes, forced, judge, promising, sizes_of
from kinematics.struts.levers import spans
from kinematics.struts.regions import Region
from kinematics.struts.results import Placement, StrutUnit
from kinematics.struts.wanted import Problem, read_problem

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.project import Project
    from kinematics.struts.levers import Pair
    from kinematics.struts.results import StrutSettings

DRAWN, FIRST = 12_000, 3_000
"""Pairs of ends that a unit draws, and the first one of a pair of zones, which is to be there soon …"""
FIRST_ROUNDS = 1
"""… and shakes what it finds so many times only."""
STROKES = (1.0, 0.6, 0.35)
"""Units in turn look among strokes up to such a share of all of them."""
TRIED = 240
"""Placements whose forces are tried, …"""
SEEDS, COPIES = 16, 48
"""… of which so many, apart from each other, are copied so many times …"""
SPREADS = (0.03, 0.012, 0.005)
"""… and shaken by so much, in reaches of the linkage, round after round."""
APART = 0.08
"""Two placements are alike where both ends are nearer to each other than this share of the reach."""
KEPT = 4
"""Placements that a unit hands over at most."""
ROUND = np.array([x + 1j * y for x in (-1.0, 0.0, 1.0) for y in (-1.0, 0.0, 1.0)])
"""Places about a rounded end that are tried too, in steps of the grid."""


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """What all units of a search share; sizes : for each of STROKES."""

    problem: Problem
    sizes: tuple[Sizes, ...]
    obstacles: Obstacles
    regions: tuple[tuple[Region, Region], ...]


@lru_cache(maxsize=2)
def prepared(project: Project, settings: StrutSettings) -> Prepared:
    """Read a problem once for all units that a process does."""
    problem = read_problem(project, settings)
    strokes = sorted({each.stroke for each in settings.sizes})
    longest = [strokes[max(1, round(share * len(strokes))) - 1] for share in STROKES]
    sizes = tuple(sizes_of(problem, [s for s in settings.sizes if s.stroke <= most]) for most in longest)
    regions = tuple((Region(pair.region(0)), Region(pair.region(1))) for pair in problem.pairs)
    return Prepared(problem, sizes, obstacles_of(problem), regions)


def run(project: Project, settings: StrutSettings, number: int) -> StrutUnit:
    """Do one unit of a search; what it brings depends on these three alone."""
    ready = prepared(project, settings)
    pairs = len(ready.problem.pairs)
    which, kind = number % pairs, number // pairs % len(STROKES)
    work = _Work(ready, which, ready.sizes[kind], np.random.default_rng([settings.seed, number]), number)
    return work.done(FIRST, FIRST_ROUNDS) if number < pairs else work.done(DRAWN, len(SPREADS))


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Placements, best first, with their best force: N, margin (N), score, and which want has least left."""

    judged: Judged
    force: Floats
    margin: Floats
    score: Floats
    way: Ints

    def pick(self, rows: Ints) -> _Found:
        one = self.judged.pick(rows)
        return _Found(one, self.force[rows], self.margin[rows], self.score[rows], self.way[rows])


@dataclass(slots=True, eq=False)
class _Work:
    """One unit at work. which : of the pairs of zones.

    tried : placements held against all wants so far.   looked, unclear : as in `StrutUnit`.
    """

    ready: Prepared
    which: int
    sizes: Sizes
    random: np.random.Generator
    number: int
    tried: int = 0
    looked: int = 0
    unclear: int = 0

    @property
    def pair(self) -> Pair:
        return self.ready.problem.pairs[self.which]

    def done(self, count: int, rounds: int) -> StrutUnit:
        """Draw so many pairs of ends, judge, refine in so many rounds, round, hold."""
        first, second = self.ready.regions[self.which]
        judged = self._judge(first.draw(count, self.random), second.draw(count, self.random))
        fitting, blocks = len(judged.size), judged.blocks.sum(axis=0).tolist()
        found = self._apart(self._forced(judged), SEEDS)
        for spread in SPREADS[:rounds]:
            found = self._shaken(found, spread * self.ready.problem.reach)
        best = self._apart(found, KEPT)
        placements = [self._held(self._rounded(best.pick(np.array([k])))) for k in range(len(best.force))]
        names = self.ready.problem.columns.names
        ways = tuple((name, many) for name, many in zip(names, blocks, strict=True) if many)
        return StrutUnit(
            self.number, tuple(placements), self.tried, count, fitting, self.looked, self.unclear, in_the_way=ways
        )

    def _judge(self, tails: Complexes, heads: Complexes) -> Judged:
        judged = judge(self.ready.problem, self.sizes, self.pair, tails, heads)
        self.tried += len(judged.size)
        return judged

    def _forced(self, judged: Judged) -> _Found:
        """The promising ones that are in nobody's way, with their best forces."""
        judged = judged.pick(promising(judged, TRIED))
        good = self._clear(judged)
        self.looked, self.unclear = self.looked + len(good), self.unclear + int((~good).sum())
        judged = judged.pick(good)
        best = forced(self.ready.problem, self.sizes, judged)
        order = np.argsort(-best.score, kind="stable")
        order = order[np.isfinite(best.score[order])]
        return _Found(judged.pick(order), best.force[order], best.margin[order], best.score[order], best.way[order])

    def _clear(self, judged: Judged) -> Bools:
        tubes = np.array([each.tube for each in self.sizes.sizes])[judged.size]
        off = 0.5 * tubes + self.ready.problem.settings.off
        return clear(self.ready.obstacles, self.pair, judged.tails, judged.heads, off)

    def _apart(self, found: _Found, most: int) -> _Found:
        """The best few that aren't copies of one another."""
        chosen: list[int] = []
        apart = APART * self.ready.problem.reach
        for k in range(len(found.force)):
            away = np.maximum(
                np.abs(found.judged.tails[chosen] - found.judged.tails[k]),
                np.abs(found.judged.heads[chosen] - found.judged.heads[k]),
            )
            if not (away < apart).any():
                chosen.append(k)
            if len(chosen) == most:
                break
        return found.pick(np.array(chosen, dtype=np.intp))

    def _shaken(self, found: _Found, spread: float) -> _Found:
        """Copies shaken within their zones, and themselves."""
        count = len(found.force)
        if not count:
            return found
        ends = []
        for region, each in zip(self.ready.regions[self.which], (found.judged.tails, found.judged.heads), strict=True):
            lot = self.random.normal(size=(2, count, COPIES))
            lot[:, :, 0] = 0.0
            moved = (each[:, None] + spread * (lot[0] + 1j * lot[1])).ravel()
            ends.append(np.where(region.has(moved), moved, np.repeat(each, COPIES)))
        return self._forced(self._judge(ends[0], ends[1]))

    def _rounded(self, found: _Found) -> _Found:
        """One placement with both ends on the grid: the best of the places about it; itself where none is good."""
        grid, centre = self.ready.problem.settings.grid, self.pair.centre
        if grid <= 0.0:
            return found
        ends = []
        for region, each in zip(self.ready.regions[self.which], (found.judged.tails, found.judged.heads), strict=True):
            at = (complex(each[0]) + centre) / grid
            places = (complex(round(at.real), round(at.imag)) + ROUND) * grid - centre
            ends.append(places[region.has(places)])
        tails, heads = np.repeat(ends[0], len(ends[1])), np.tile(ends[1], len(ends[0]))
        near = self._forced(self._judge(tails, heads))
        return near.pick(np.array([0])) if len(near.force) else found

    def _held(self, found: _Found) -> Placement:
        """The placement held against the wants exactly."""
        problem, judged, pair = self.ready.problem, found.judged, self.pair
        lengths = spans(pair, judged.tails[:1], judged.heads[:1])[0]
        tail, head = (_as_typed(complex(each[0]) + pair.centre) for each in (judged.tails, judged.heads))
        draft = Placement(
            from_on=pair.zones[0].on,
            from_at=tail,
            to_on=pair.zones[1].on,
            to_at=head,
            size=self.sizes.sizes[judged.size[0]],
            count=problem.settings.count,
            force=float(found.force[0]),
            ok=False,
            short=(),
            checks=(),
            margin=float(found.margin[0]),
            way=problem.columns.names[found.way[0]],
            score=float(found.score[0]),
            openings=(),
            efforts=(),
            shortest=float(lengths.min()),
            longest=float(lengths.max()),
            unit=self.number,
        )
        return held(problem, draft)


def _as_typed(z: complex) -> tuple[float, float]:
    """A place without the digits that sums leave behind."""
    x, y = as_point(z)
    return round(x, 6) + 0.0, round(y, 6) + 0.0
