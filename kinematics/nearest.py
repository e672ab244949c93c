"""The nearest place of every watched pair: the undecided meetings sharpened, the few that are left settled exactly.

Sharpening cuts the stretches of meetings until none of those left could undercut the best distance by TOLERANCE. What is
near the best then goes into a final: its lowest place is sought by parabolas on the cubics, where an error of the place costs
only its square, and measured on the exact motion. Of equal distances the one at the smallest opening is taken.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.arrays import Bools, Complexes, Floats, Ints
from kinematics.branch import Branch
from kinematics.meetings import Meetings, feet, in_parts, meetings, met
from kinematics.nearness import TOLERANCE, Bounds, Couples, Forest
from kinematics.stretches import Pairs, Stretches, shorter
from kinematics.sweep import Sweep

FINALISTS = 6
"""Meetings of a pair that are settled exactly."""
BUCKET = 0.08
"""Lows of one meeting further apart along the branch (rad) than this are looked at each by itself."""
ROUNDS = 4
"""Parabolas through which a finalist's lowest place is sought."""
PARTS = 3
"""Into so many parts an undecided stretch is cut."""
TIE = 1e-7
"""mm within which two distances count as equal."""


@dataclass(frozen=True, slots=True)
class Nearest:
    """Where two bodies' lines are nearest: distance (mm), place on the fine branch, opening's turns, the two points."""

    distance: float
    arc: float
    turns: Floats
    points: tuple[complex, complex]


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """Meetings near the best: pair (n,), the meeting, its place (arc), distance there, width of its stretch."""

    pair: Ints
    those: Meetings
    arcs: Floats
    distance: Floats
    widths: Floats

    def pick(self, which: Bools | Ints) -> Candidates:
        """Some of them."""
        return Candidates(
            self.pair[which], self.those.pick(which), self.arcs[which], self.distance[which], self.widths[which]
        )


def nearest(
    sweep: Sweep, branch: Branch, pairs: Pairs, trees: Forest, cuts: Stretches, counts: Bools, bounds: Bounds, edges: Couples
) -> list[Nearest | None]:
    """The nearest place of each pair over the rows that count; None where the pair has none. Lowers `bounds`."""
    those = meetings(edges)
    first = met(trees, cuts, those)
    bounds.lower(those.rows, counts[those.rows], first.start, first.end)
    candidates = _sharpened(sweep, branch, pairs, trees, cuts, bounds, those.pick(counts[those.rows]))
    chosen = candidates.pick(_finalists(candidates, bounds.best))
    counted = np.where(counts.reshape(-1, len(bounds.best)), cuts.starts[:, None], np.inf)
    starts = counted.min(axis=0, initial=np.inf)
    return _settled(sweep, branch, pairs, trees, chosen, starts)


def _sharpened(
    sweep: Sweep, branch: Branch, pairs: Pairs, trees: Forest, cuts: Stretches, bounds: Bounds, those: Meetings
) -> Candidates:
    """Shorten the stretches of undecided meetings until none could undercut the best; lowers `bounds.best`."""
    number = len(bounds.best)
    kept = []
    while True:
        distances = met(trees, cuts, those)
        lower = np.minimum(distances.start, distances.end)
        pair, stretch = those.rows % number, those.rows // number
        np.minimum.at(bounds.best, pair, lower)
        arcs = np.where(distances.start <= distances.end, cuts.starts[stretch], cuts.ends[stretch])
        found = Candidates(pair, those, arcs, lower, cuts.ends[stretch] - cuts.starts[stretch])
        kept.append(found.pick(lower <= bounds.best[pair] + 2.0 * TOLERANCE))
        those, which = in_parts(those.pick(bounds.open_for(those.rows, distances.low)), number, PARTS)
        if len(which) == 0:
            return _joined(kept)
        cuts = shorter(sweep, branch, pairs, cuts, which, PARTS)


def _joined(parts: list[Candidates]) -> Candidates:
    those = Meetings(
        *(np.concatenate([getattr(part.those, name) for part in parts]) for name in ("rows", "frame", "vertex", "edge"))
    )
    return Candidates(
        np.concatenate([part.pair for part in parts]),
        those,
        np.concatenate([part.arcs for part in parts]),
        np.concatenate([part.distance for part in parts]),
        np.concatenate([part.widths for part in parts]),
    )


def _finalists(candidates: Candidates, best: Floats) -> Ints:
    """Indices of the meetings to settle: each pair's best few, and the first of those that tie."""
    near = np.flatnonzero(candidates.distance <= best[candidates.pair] + 2.0 * TOLERANCE)
    near = near[np.lexsort((candidates.arcs[near], candidates.distance[near]))]
    those = candidates.those
    bucket = (candidates.arcs[near] / BUCKET).astype(np.intp)
    key = np.stack([candidates.pair[near], those.frame[near], those.vertex[near], those.edge[near], bucket], axis=1)
    _, firsts = np.unique(key, axis=0, return_index=True)
    near = near[np.sort(firsts)]
    chosen: list[int] = []
    for pair in np.unique(candidates.pair[near]):
        own = near[candidates.pair[near] == pair]
        chosen += own[:FINALISTS].tolist()
        tied = own[candidates.distance[own] <= best[pair] + TIE]
        if len(tied):
            chosen.append(int(tied[np.argmin(candidates.arcs[tied])]))
    return np.array(chosen, dtype=np.intp)


def _settled(
    sweep: Sweep, branch: Branch, pairs: Pairs, trees: Forest, chosen: Candidates, starts: Floats
) -> list[Nearest | None]:
    """The exact nearest place of each pair among the finalists."""
    result: list[Nearest | None] = [None] * len(starts)
    if len(chosen.pair) == 0:
        return result
    arcs = _lowest_places(sweep, branch, pairs, trees, chosen, starts[chosen.pair])
    y = branch.at(arcs)
    vertex, foot = _points(sweep, pairs, trees, chosen, y)
    distance = np.abs(vertex - foot)
    for pair in np.unique(chosen.pair):
        own = np.flatnonzero(chosen.pair == pair)
        tied = own[distance[own] <= distance[own].min() + TIE]
        k = int(tied[np.argmin(arcs[tied])])
        # In frame 0 the vertex is the second body's, in frame 1 the first body's.
        ends = (foot[k], vertex[k]) if chosen.those.frame[k] == 0 else (vertex[k], foot[k])
        result[int(pair)] = Nearest(float(distance[k]), float(arcs[k]), y[k], (complex(ends[0]), complex(ends[1])))
    return result


def _lowest_places(
    sweep: Sweep, branch: Branch, pairs: Pairs, trees: Forest, chosen: Candidates, starts: Floats
) -> Floats:
    """(n,) place along the branch at which each finalist's distance is least, by parabolas through five samples."""
    best, width = chosen.arcs.copy(), chosen.widths.copy()
    repeated = chosen.pick(np.repeat(np.arange(len(best)), 5))
    for _ in range(ROUNDS):
        places = np.clip(best[:, None] + width[:, None] * np.linspace(-1.0, 1.0, 5), starts[:, None], branch.arcs[-1])
        vertex, foot = _points(sweep, pairs, trees, repeated, branch.cubic(places.ravel()))
        best = _lowest_of_five(places, np.abs(vertex - foot).reshape(-1, 5))
        width *= 0.1
    return best


def _lowest_of_five(places: Floats, values: Floats) -> Floats:
    """Lowest place of the parabola through the least sample and its neighbours; the sample itself at an end."""
    line = np.arange(len(places))
    least = np.argmin(values, axis=1)
    m = np.clip(least, 1, 3)
    left, here, right = places[line, m - 1], places[line, m], places[line, m + 1]
    gap_left, gap_right = here - left, right - here
    whole = (least == m) & (gap_left > 0.0) & (gap_right > 0.0)
    gap_left, gap_right = np.where(whole, gap_left, 1.0), np.where(whole, gap_right, 1.0)
    fall = (values[line, m] - values[line, m - 1]) / gap_left
    rise = (values[line, m + 1] - values[line, m]) / gap_right
    bend = (rise - fall) / (0.5 * (gap_left + gap_right))
    slope = (fall * gap_right + rise * gap_left) / (gap_left + gap_right)
    bent = whole & (bend > 0.0)
    vertex = np.clip(here - slope / np.where(bent, bend, 1.0), left, right)
    return np.where(bent, vertex, places[line, least])


def _points(
    sweep: Sweep, pairs: Pairs, trees: Forest, those: Candidates, y: Floats
) -> tuple[Complexes, Complexes]:
    """(n,) where each meeting's vertex stands at its own pose y (n, unknowns), and the nearest point of its edge."""
    line = np.arange(len(y))
    turns = sweep.link_turns(y)
    shifts, e = sweep.closure.shifts(turns), np.exp(1j * turns)
    moving = pairs.links[those.pair, 1 - those.those.frame]
    still = pairs.links[those.pair, those.those.frame]
    vertex = shifts[line, moving] + e[line, moving] * trees.starts[those.those.vertex]
    tail = shifts[line, still] + e[line, still] * trees.starts[those.those.edge]
    head = shifts[line, still] + e[line, still] * trees.heads[those.those.edge]
    return vertex, feet(vertex, tail, head)

