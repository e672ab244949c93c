"""The nearest place of every watched pair: the undecided meetings sharpened, the few that are left settled exactly.

Sharpening cuts the stretches of meetings until none of those left could undercut the best distance by TOLERANCE. What
is near the best then goes into a final: its lowest place is sought by parabolas on the cubics, where an error of the
place costs only its square, and measured on the exact motion. Of equal distances the one at the smallest opening is
taken.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from kinematics.extremes import EVEN
from kinematics.meetings import crossing_at_knots, feet, meetings, met, sharpen
from kinematics.nearness import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.meetings import Meetings, Met
    from kinematics.nearness import Couples, Search
    from kinematics.stretches import Stretches

FINALISTS = 6
"""Meetings of a pair that are settled exactly."""
BUCKET = 0.08
"""Lows of one meeting further apart along the branch (rad) than this are looked at each by itself."""
ROUNDS = 4
"""Parabolas on the cubics through which a finalist's lowest place is sought."""
LAST = 1e-4
"""Half width (rad of arc) of the last parabola, on the exact motion."""
PARTS = 3
"""Into so many parts an undecided stretch is cut."""
TIE = 1e-7
"""mm within which two distances count as equal."""


@dataclass(frozen=True, slots=True)
class Nearest:
    """Where two bodies' lines are nearest: distance (mm), place on the fine branch, opening's turns, the two points.

    sure : whether nothing can be nearer by TOLERANCE; not where there was far too much to look at.
    """

    distance: float
    arc: float
    turns: Floats
    points: tuple[complex, complex]
    sure: bool


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """Meetings near the best, (n,) each.

    pair, frame, vertex, edge : as in `Meetings`.   arcs, distance : the nearer end of its stretch, and the distance
    (mm) there.   widths : of its stretch.
    """

    pair: Ints
    frame: Ints
    vertex: Ints
    edge: Ints
    arcs: Floats
    distance: Floats
    low: Floats
    widths: Floats

    def pick(self, which: Bools | Ints) -> Candidates:
        """Some of them."""
        return Candidates(*(values[which] for values in self.columns))

    @property
    def columns(self) -> tuple[Any, ...]:
        """All arrays, in the order of the fields."""
        return self.pair, self.frame, self.vertex, self.edge, self.arcs, self.distance, self.low, self.widths

    def near(self, best: Floats) -> Bools:
        """Which of them may be as near as the best (pairs,)."""
        own = best[self.pair]
        return np.asarray((self.distance <= own + 2.0 * TOLERANCE) | (self.low <= own))


def nearest(search: Search, edges: Couples) -> list[Nearest | None]:
    """The nearest place of each pair over the rows that count, among couples of edges; None where there is none, and
    where edges surely cross at a knot that counts: they touch, and how near their corners come is nobody's business.

    Lowers the search's bounds.
    """
    those = meetings(edges)
    first = met(search.trees, search.cuts, those)
    counted = search.counts[those.rows]
    search.bounds.lower(those.rows, counted, first.start, first.end)
    if (first.low[counted] <= 0.0).any() or not search.bounds.best.all():  # else nothing meets there
        rows = edges.rows[crossing_at_knots(search.trees, search.cuts, edges)]
        crosses = np.zeros(len(search.bounds.best), dtype=np.bool_)
        crosses[rows[search.counts[rows]] % len(crosses)] = True
        counted &= ~crosses[those.rows % len(crosses)]
    if not counted.any():
        return [None] * len(search.bounds.best)
    candidates, unsure = _sharpened(search, those.pick(counted), first.pick(counted))
    return _settled(search, candidates.pick(_finalists(candidates, search.bounds.best)), unsure)


def _sharpened(search: Search, those: Meetings, first: Met) -> tuple[Candidates, set[int]]:
    """Shorten the stretches of undecided meetings until none could undercut the best; lowers `bounds.best`.

    Returns meetings near the best, and the pairs of which some stay undecided.
    """
    bounds, pairs = search.bounds, len(search.bounds.best)
    kept: list[Candidates] = []

    def undecided(those: Meetings, cuts: Stretches, found: Met) -> Bools:
        pair, stretch = those.rows % pairs, those.rows // pairs
        lower = np.minimum(found.start, found.end)
        np.minimum.at(bounds.best, pair, lower)
        starts, ends = cuts.starts[stretch], cuts.ends[stretch]
        arcs = np.where(found.start <= found.end, starts, ends)
        some = Candidates(pair, those.frame, those.vertex, those.edge, arcs, lower, found.low, ends - starts)
        kept.append(some.pick(some.near(bounds.best)))
        return bounds.open_for(those.rows, found.low)

    undone = sharpen(search.course, search.trees, search.cuts, those, first, PARTS, undecided)
    unsure = {int(pair) for left, _ in undone for pair in np.unique(left.rows % pairs)}
    found = Candidates(*(np.concatenate(column) for column in zip(*(part.columns for part in kept), strict=True)))
    return found, unsure


def _finalists(candidates: Candidates, best: Floats) -> Ints:
    """Indices of the meetings to settle: each pair's best few, and a few more wherever else it comes as near."""
    near = np.flatnonzero(candidates.near(best))
    near = near[np.lexsort((candidates.arcs[near], candidates.distance[near]))]
    bucket = (candidates.arcs[near] / BUCKET).astype(np.intp)
    key = np.stack([*candidates.pick(near).columns[:4], bucket], axis=1)
    _, firsts = np.unique(key, axis=0, return_index=True)
    near = near[np.sort(firsts)]
    chosen: list[Ints] = []
    for pair in np.unique(candidates.pair[near]):
        own = near[candidates.pair[near] == pair]
        chosen.append(own[:FINALISTS])
        if len(own) > FINALISTS:
            others = own[FINALISTS:]
            _, firsts = np.unique((candidates.arcs[others] / BUCKET).astype(np.intp), return_index=True)
            chosen.append(others[firsts])
    return np.concatenate(chosen)


def _settled(search: Search, chosen: Candidates, unsure: set[int]) -> list[Nearest | None]:
    """The exact nearest place of each pair among the finalists."""
    result: list[Nearest | None] = [None] * len(search.bounds.best)
    arcs = _lowest_places(search, chosen)
    y = search.course.branch.at(arcs)
    vertex, foot = _points(search, chosen, y)
    distance = np.abs(vertex - foot)
    for pair in np.unique(chosen.pair).tolist():
        own = np.flatnonzero(chosen.pair == pair)
        tied = own[distance[own] <= distance[own].min() + TIE]
        k = int(tied[np.argmin(arcs[tied])])
        # In frame 0 the vertex is the second body's, in frame 1 the first body's.
        ends = (foot[k], vertex[k]) if chosen.frame[k] == 0 else (vertex[k], foot[k])
        points = (complex(ends[0]), complex(ends[1]))
        result[pair] = Nearest(float(distance[k]), float(arcs[k]), y[k], points, pair not in unsure)
    return result


def _lowest_places(search: Search, chosen: Candidates) -> Floats:
    """(n,) place along the branch at which each finalist's distance is least, by parabolas through even samples."""
    branch, cuts = search.course.branch, search.cuts
    counted = np.where(search.counts.reshape(len(cuts.starts), -1), cuts.starts[:, None], np.inf)
    first, last = counted.min(axis=0)[chosen.pair], branch.arcs[-1]
    best, most = chosen.arcs, 0.5 * (last - first)

    def look(width: Floats, samples: int, pose: Callable[[Floats], Floats]) -> tuple[Floats, Bools]:
        middle = np.minimum(np.maximum(best, first + width), last - width)
        places = middle[:, None] + width[:, None] * EVEN[samples]
        vertex, foot = _points(search, chosen.pick(np.repeat(np.arange(len(best)), samples)), pose(places.ravel()))
        return _lowest_of(places, np.abs(vertex - foot).reshape(-1, samples))

    width = np.minimum(chosen.widths, most)
    for _ in range(ROUNDS):
        best, inside = look(width, 5, branch.cubic)
        width = width * np.where(inside, 0.1, 0.3)
    best, _ = look(np.minimum(LAST, most), 3, branch.at)
    return np.clip(best, first, last)


def _lowest_of(places: Floats, values: Floats) -> tuple[Floats, Bools]:
    """Lowest place by the parabola through the least of even samples and its neighbours, and whether it lies between.

    Where the least sample is an end, the parabola may reach beyond it by as much as a sample; where it lies on a
    straight, that sample itself.
    """
    line = np.arange(len(places))
    least = np.argmin(values, axis=1)
    m = np.minimum(np.maximum(least, 1), values.shape[1] - 2)
    left, here, right = values[line, m - 1], values[line, m], values[line, m + 1]
    step = places[:, 1] - places[:, 0]
    bend = left - 2.0 * here + right
    bent = bend > 1e-12 * np.abs(here)
    shift = np.clip(0.5 * (left - right) / np.where(bent, bend, 1.0), -2.0, 2.0)
    return np.where(bent, places[line, m] + shift * step, places[line, least]), bent & (least == m)


def _points(search: Search, those: Candidates, y: Floats) -> tuple[Complexes, Complexes]:
    """(n,) where each meeting's vertex stands at its own pose y (n, unknowns), and the nearest point of its edge."""
    sweep, trees, links = search.course.sweep, search.trees, search.course.pairs.links
    line = np.arange(len(y))
    shifts, e = sweep.shifts(y), np.exp(1j * sweep.link_turns(y))
    moving, still = links[those.pair, 1 - those.frame], links[those.pair, those.frame]
    vertex = shifts[line, moving] + e[line, moving] * trees.starts[those.vertex]
    tail = shifts[line, still] + e[line, still] * trees.starts[those.edge]
    head = shifts[line, still] + e[line, still] * trees.heads[those.edge]
    return vertex, feet(vertex, tail, head)
