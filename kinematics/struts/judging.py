"""Thousands of placements held against all wants at once, and the best force for each.

The force enters linearly (`wanted.py`), so each want bounds it from one side at every opening: a want is met by the
forces between its largest lower and its smallest upper bound, all wants by what is common to them, in closed form and
with no force tried. Only of the few placements with such forces, or nearest to having some, are all usual forces tried
for the one that leaves most room.

The *margin* is the room left by the want that has least, N at the handle. Placements are put in order by a *score*:
margin by the push that counts, up to an ample one, less a little for force (the pins bear it) and for stroke that
isn't used, and for length. What meets all wants scores above what doesn't.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.struts.levers import spans
from kinematics.struts.wanted import AMPLE

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.struts.levers import Pair
    from kinematics.struts.results import StrutSize
    from kinematics.struts.wanted import Columns, Problem

FLAT = 1e-9
"""A slope (N per N) below this is none: no force changes that column."""
CHUNK = 1024
"""Pairs of ends worked on at once, so that the tables stay in the processor's cache."""
DEAR = 0.04
"""What all struts' force together costs, by the weight."""
IDLE, USED = 0.10, 0.7
"""What stroke costs that isn't used, below a share of it that is well used."""
LONG = 0.3
"""What length costs, drawn out, by the reach of the linkage: long struts are in the way."""
MET = 10.0
"""Added to the score of what meets all wants …"""
SURE = 0.05
"""… with so much margin (N): between the openings looked at it may be a little less."""


@dataclass(frozen=True, slots=True, eq=False)
class Sizes:
    """The sizes as arrays (sizes,), each class (rod, tube) by its stroke.

    low, high : mm, lengths between which it may work.   least, most : N, usual forces.   base, slope : 1 N of stated
    force pushes with base − slope·length, all struts together, as warm as they are.   cost : of length, in the score.
    classes : where each begins, and the end.
    """

    sizes: tuple[StrutSize, ...]
    low: Floats
    high: Floats
    least: Floats
    most: Floats
    base: Floats
    slope: Floats
    cost: Floats
    classes: tuple[int, ...]


def sizes_of(problem: Problem, sizes: Iterable[StrutSize]) -> Sizes:
    """Make sizes ready."""
    order = tuple(sorted(sizes, key=lambda s: (s.rod, s.tube, s.stroke, s.extended)))
    kinds = [(each.rod, each.tube) for each in order]
    classes = (*(k for k in range(len(order)) if k == 0 or kinds[k] != kinds[k - 1]), len(order))
    step = problem.settings.force_step
    stroke, high = np.array([s.stroke for s in order]), np.array([s.extended for s in order])
    more = np.array([s.ratio for s in order]) - 1.0
    times = problem.settings.count * problem.warmth
    return Sizes(
        order,
        high - stroke + problem.settings.reserve,
        high - problem.settings.reserve,
        np.array([np.ceil(s.least / step - 1e-9) * step for s in order]),
        np.array([np.floor(s.most / step + 1e-9) * step for s in order]),
        times * (1.0 + more * high / stroke),
        times * more / stroke,
        LONG * high / problem.reach,
        classes,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """Placements (m,) of one pair of zones.

    tails, heads : mm from the pair's centre.   size : which.   low, high : N, forces that meet all wants where
    low ≤ high.   levers (m, n): of 1 N of stated force, all struts together, N at the handle.   used : share of the
    stroke.   blocks (m, wants): whether that want alone stands in the way.
    """

    tails: Complexes
    heads: Complexes
    size: Ints
    low: Floats
    high: Floats
    levers: Floats
    used: Floats
    blocks: Bools

    def pick(self, rows: Ints | Bools) -> Judged:
        """Some of them."""
        return Judged(
            self.tails[rows],
            self.heads[rows],
            self.size[rows],
            self.low[rows],
            self.high[rows],
            self.levers[rows],
            self.used[rows],
            self.blocks[rows],
        )


def joined(parts: list[Judged]) -> Judged:
    """Placements of one pair, one part after another."""
    names = ("tails", "heads", "size", "low", "high", "levers", "used", "blocks")
    return Judged(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))


def judge(problem: Problem, sizes: Sizes, pair: Pair, tails: Complexes, heads: Complexes) -> Judged:
    """Hold pairs of ends (m,) against all wants, each with the shortest stroke of every class of sizes that fits."""
    parts = [
        _judged(problem, sizes, pair, tails[k : k + CHUNK], heads[k : k + CHUNK])
        for k in range(0, max(len(tails), 1), CHUNK)
    ]
    return parts[0] if len(parts) == 1 else joined(parts)


def _judged(problem: Problem, sizes: Sizes, pair: Pair, tails: Complexes, heads: Complexes) -> Judged:
    lengths, levers = spans(pair, tails, heads)
    shortest, longest = lengths.min(axis=1), lengths.max(axis=1)
    row, size = _fits(sizes, shortest, longest)
    forces = sizes.slope[size, None] * lengths[row, : levers.shape[1]]
    np.subtract(sizes.base[size, None], forces, out=forces)
    forces *= levers[row]
    lows, highs = bounds(problem.columns, forces)
    low, high = np.maximum(lows.max(axis=1), sizes.least[size]), np.minimum(highs.min(axis=1), sizes.most[size])
    used = (longest - shortest)[row] / (sizes.high - sizes.low + 2.0 * problem.settings.reserve)[size]
    return Judged(tails[row], heads[row], size, low, high, forces, used, _blocks(lows, highs, sizes, size))


def _fits(sizes: Sizes, shortest: Floats, longest: Floats) -> tuple[Ints, Ints]:
    """For each class of sizes, which ends (rows) have one that fits, and the one with the shortest stroke."""
    fits = (shortest[:, None] >= sizes.low) & (longest[:, None] <= sizes.high)
    rows, found = [], []
    for k, start in enumerate(sizes.classes[:-1]):
        within = fits[:, start : sizes.classes[k + 1]]
        first = within.argmax(axis=1)
        there = np.flatnonzero(within[np.arange(len(within)), first])
        rows.append(there)
        found.append(start + first[there])
    return np.concatenate(rows), np.concatenate(found)


def bounds(columns: Columns, levers: Floats) -> tuple[Floats, Floats]:
    """(m, n) levers of 1 N → (m, wants) N, between which a want is met; none where the lower is above the upper."""
    slope = levers[:, columns.poses]
    slope *= columns.ways * columns.factors
    flat = np.abs(slope) < FLAT
    slope[flat] = FLAT
    edge = -columns.rooms / slope
    rising = slope > 0.0
    lows = np.maximum.reduceat(np.where(rising, edge, -np.inf), columns.starts, axis=1)
    highs = np.minimum.reduceat(np.where(rising, np.inf, edge), columns.starts, axis=1)
    return lows, highs


def _blocks(lows: Floats, highs: Floats, sizes: Sizes, size: Ints) -> Bools:
    """(m, wants) whether leaving out that want alone leaves forces that meet all others."""
    count = lows.shape[1]
    found = np.zeros(lows.shape, dtype=np.bool_)
    least, most = sizes.least[size], sizes.most[size]
    missed = np.maximum(lows.max(axis=1), least) > np.minimum(highs.min(axis=1), most)
    for k in range(count):
        others = [j for j in range(count) if j != k]
        low = lows[:, others].max(axis=1, initial=-np.inf)
        high = highs[:, others].min(axis=1, initial=np.inf)
        found[:, k] = missed & (np.maximum(low, least) <= np.minimum(high, most))
    return found


# -------------------------------------------------------------------------------------------------------------- forces
@dataclass(frozen=True, slots=True, eq=False)
class Forced:
    """Placements with their best usual force (N), margins (N) and scores, (m,) each; way: the want with least left."""

    force: Floats
    margin: Floats
    score: Floats
    way: Ints


def forced(problem: Problem, sizes: Sizes, judged: Judged) -> Forced:
    """Try all usual forces of each placement."""
    step, columns = problem.settings.force_step, problem.columns
    count = len(judged.size)
    least, most = sizes.least[judged.size], sizes.most[judged.size]
    steps = round(float(((most - least) / step).max(initial=0.0))) + 1
    forces = least[:, None] + step * np.arange(steps)
    slope = judged.levers[:, columns.poses] * (columns.ways * columns.factors)
    room = columns.rooms + forces[:, :, None] * slope[:, None, :]
    wants = np.minimum.reduceat(room, columns.starts, axis=2)
    margin = wants.min(axis=2)
    dear = DEAR * problem.settings.count * forces / max(problem.weight, 1.0)
    idle = IDLE * np.maximum(USED - judged.used, 0.0)[:, None]
    long = sizes.cost[judged.size, None]
    score = np.minimum(margin / problem.scale, AMPLE) - dear - idle - long + MET * (margin >= SURE)
    score[forces > most[:, None] + 1e-9] = -np.inf
    rows, best = np.arange(count), score.argmax(axis=1)
    way = wants[rows, best].argmin(axis=1)
    return Forced(forces[rows, best], margin[rows, best], score[rows, best], way)


def promising(judged: Judged, most: int) -> Ints:
    """The placements worth trying forces on: those between whose bounds there is most room, by the force."""
    share = (judged.high - judged.low) / (np.abs(judged.high) + np.abs(judged.low) + 1.0)
    share = np.where(np.isfinite(share), share, -np.inf)
    if len(share) <= most:
        return np.flatnonzero(share > -np.inf)
    best = np.argpartition(-share, most)[:most]
    return best[share[best] > -np.inf]
