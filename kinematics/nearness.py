"""Nearness: which parts of two moving bodies come nearest, over all stretches and all watched pairs at once.

Two bodies that don't cross are nearest at a vertex of one of them, and that vertex runs along a smooth path in the
other's frame. So the answer lies among *meetings*: a vertex of one body, an edge of the other, a stretch of the
sweep. There are millions, but runs of edges stand for many at once: the distance between two circles over a stretch
is at least that of their centres' chord less its sagitta less both radii; and in any one direction it is at least
what lies between their slabs, which tells far more of long thin runs. All undecided couples of runs, of every
pair and stretch, are looked at together; those that can't matter are dropped, the others split, until single edges
are left.

A couple matters while it could lower the pair's smallest distance by more than TOLERANCE, or the pair's distance at
one of the stretch's ends by more than LANE_SHARE (enough to draw its lane). Before that a distance at every pose is
found by going straight down both trees; it begins the bounds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.bodies import FAN
from kinematics.stretches import PLACE, PLACE_RATE, TURN, TURN_RATE

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.bodies import Body
    from kinematics.stretches import Course, Stretches

TOLERANCE = 0.004
"""mm by which the smallest distance found may miss the true one; with what `stretches` leaves out, less than 0.01."""
SAME = 1e-9
"""mm by which the same distance may come out otherwise, measured from the other of two edges."""
LANE_SHARE = 0.04
"""Share by which the drawn distance at a pose may exceed the true one …"""
LANE_FLOOR = 0.05
"""… and mm below which it needn't be better."""
SEEN = 5.0
"""A lane is drawn up to a few times its want or its smallest gap; where it lies beyond this many times them …"""
SEEN_LEAST = 4.0
"""… (and this many mm), a rough figure will do:"""
FAR_SHARE = 0.4
"""share by which the distance there may exceed the true one."""
FEW = 400
"""So few couples of runs aren't looked at but split at once: to look at more of them costs hardly more."""
BEAM = 6
"""So many couples of runs are kept at each pose on the way down to a distance for the lane."""


@dataclass(frozen=True, slots=True, eq=False)
class Forest:
    """The runs of all bodies of all pairs in one array.

    centres, radii, ways, halves, depths, starts, heads, children : (n,) and (n, FAN) as in `Runs` and `Body`; heads
    (ends of edges) mean something for leaves only.   roots : (pairs, 2) the top runs of the pairs' bodies.
    leaf : (n,) single edges.
    """

    centres: Complexes
    radii: Floats
    ways: Complexes
    halves: Floats
    depths: Floats
    starts: Complexes
    heads: Complexes
    children: Ints
    roots: Ints
    leaf: Bools


def forest(couples: list[tuple[Body, Body]]) -> Forest:
    """The runs of all bodies behind one another; a body that stands in several pairs is there once."""
    offsets: dict[int, int] = {}
    parts: list[Body] = []
    count = 0
    for body in (body for couple in couples for body in couple):
        if id(body) not in offsets:
            offsets[id(body)] = count
            parts.append(body)
            count += len(body.runs.radii)
    children = [np.where(b.runs.children >= 0, b.runs.children + offsets[id(b)], -1) for b in parts]
    heads = [np.append(b.heads, np.zeros(len(b.runs.radii) - len(b.heads))) for b in parts]
    roots = [[offsets[id(body)] + len(body.runs.radii) - 1 for body in couple] for couple in couples]
    joined = np.concatenate(children)
    return Forest(
        np.concatenate([b.runs.centres for b in parts]),
        np.concatenate([b.runs.radii for b in parts]),
        np.concatenate([b.runs.ways for b in parts]),
        np.concatenate([b.runs.halves for b in parts]),
        np.concatenate([b.runs.depths for b in parts]),
        np.concatenate([b.runs.starts for b in parts]),
        np.concatenate(heads),
        joined,
        np.array(roots, dtype=np.intp),
        joined[:, 0] < 0,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Couples:
    """Runs of the first and the second body of a pair over a stretch: row = stretch · pairs + pair."""

    rows: Ints
    first: Ints
    second: Ints

    def pick(self, which: Bools | Ints) -> Couples:
        """Some of them."""
        return Couples(self.rows[which], self.first[which], self.second[which])


@dataclass(slots=True, eq=False)
class Bounds:
    """What is known from above, mm.

    best : (pairs,) over the rows that count.   ends : (stretches + 1, pairs) at single poses.
    floor : (pairs,) where the pens touch; how much nearer the lines come doesn't matter.
    wants : (pairs,) the least gaps wanted, by which lanes are scaled.
    """

    best: Floats
    ends: Floats
    floor: Floats
    wants: Floats

    def open_for(self, rows: Ints, low: Floats) -> Bools:
        """Which of these lower bounds leave room for a smallest distance below the best."""
        pair = rows % len(self.best)
        best = self.best[pair]
        return np.asarray((low < best - TOLERANCE) & (best > self.floor[pair]))

    def held_by(self, rows: Ints, found: Floats) -> Bools:
        """Which of these distances are the best itself (but for rounding): where it is is asked, undercut or not."""
        return np.asarray(found <= self.best[rows % len(self.best)] + SAME)

    def open_for_lane(self, rows: Ints, at_ends: Floats) -> Bools:
        """Which of these lower bounds (n, 2), each of one end of a stretch alone, leave room for a lane drawn
        noticeably lower there.
        """
        pairs = len(self.best)
        drawn = self.ends.reshape(-1)[rows[:, None] + np.array([0, pairs])]
        seen = self.floor + SEEN * np.maximum(np.maximum(self.wants, self.best - self.floor), SEEN_LEAST)
        share = np.where(drawn > seen[rows % pairs, None], FAR_SHARE, LANE_SHARE)
        return np.asarray((at_ends < drawn * (1.0 - share) - LANE_FLOOR).any(axis=1))

    def lower(self, rows: Ints, counts: Bools, at_start: Floats, at_end: Floats) -> None:
        """Take in distances found at both ends of some rows' stretches."""
        pairs = len(self.best)
        flat = self.ends.reshape(-1)
        np.minimum.at(flat, rows, at_start)
        np.minimum.at(flat, rows + pairs, at_end)
        np.minimum.at(self.best, rows[counts] % pairs, np.minimum(at_start, at_end)[counts])


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """What the nearest places are sought in.

    course, trees : the motion and the bodies.   cuts : one stretch between each two knots of the course.
    counts : (rows,) over which of them the pair's smallest distance is asked.   bounds : lowered as the search goes on.
    """

    course: Course
    trees: Forest
    cuts: Stretches
    counts: Bools
    bounds: Bounds


def near_edges(search: Search) -> Couples:
    """Couples of single edges that may hold a pair's smallest distance; lowers the search's bounds."""
    counts, bounds = search.counts, search.bounds
    seen = _look_at_poses(search)

    def matters(couples: Couples) -> Bools:
        rows, trees = couples.rows, search.trees
        low, at_ends = _run_bounds(trees, search.cuts, couples)
        start, end = _edge_distances(trees, search.cuts, couples)
        bounds.lower(rows, counts[rows], start, end)
        smallest = bounds.open_for(rows, low) | bounds.held_by(rows, np.minimum(start, end))
        # Single edges were measured, and taken in: nothing is left to be learnt of them for the lane.
        runs = ~(trees.leaf[couples.first] & trees.leaf[couples.second])
        lane = bounds.open_for_lane(rows, at_ends) & runs if runs.any() else runs
        return lane | (counts[rows] & smallest)

    return _joined([_searched(search.trees, len(search.cuts.starts), matters), seen])


def _look_at_poses(search: Search) -> Couples:
    """A distance of every pair at the ends of all stretches, by going down both trees along the few nearest couples.

    It is the distance of two real edges, so a bound from above, and often the distance of the bodies itself.
    Returns the couple of edges of each pair that is nearest so, at the end of a stretch that counts.
    """
    trees, motion, bounds = search.trees, search.cuts.motion[:, :, 0, :, :TURN_RATE], search.bounds
    place = np.concatenate([motion[:, :, 0, PLACE], motion[-1:, :, 1, PLACE]]).reshape(-1, 1)
    turn = np.concatenate([motion[:, :, 0, TURN], motion[-1:, :, 1, TURN]]).reshape(-1, 1)
    poses = len(search.cuts.starts) + 1
    first, second = (np.tile(trees.roots[:, side : side + 1], (poses, 1)) for side in (0, 1))
    while not (trees.leaf[first] & trees.leaf[second]).all():
        first, second = _parted(trees, first, second)
        apart = np.abs(place + turn * trees.centres[second] - trees.centres[first])
        apart = np.where(first < 0, np.inf, apart - trees.radii[first] - trees.radii[second])
        if first.shape[1] > BEAM:
            nearest = np.argpartition(apart, BEAM, axis=1)[:, :BEAM]
            first, second = np.take_along_axis(first, nearest, 1), np.take_along_axis(second, nearest, 1)
            apart = np.take_along_axis(apart, nearest, 1)
        # An absent part gives way to the nearest there is.
        there = np.argmin(apart, axis=1)[:, None]
        first = np.where(first < 0, np.take_along_axis(first, there, 1), first)
        second = np.where(np.isinf(apart), np.take_along_axis(second, there, 1), second)
    tail_b, head_b = place + turn * trees.starts[second], place + turn * trees.heads[second]
    tail_a, head_a = trees.starts[first], trees.heads[first]
    apart = np.minimum(from_origin(tail_a - tail_b, head_a - tail_a), from_origin(tail_b - tail_a, head_b - tail_b))
    edge = np.argmin(apart, axis=1)[:, None]
    least = np.take_along_axis(apart, edge, 1).reshape(poses, -1)
    np.minimum(bounds.ends, least, out=bounds.ends)
    counts = search.counts.reshape(poses - 1, -1)
    by_stretch = np.where(counts, np.minimum(least[:-1], least[1:]), np.inf)
    np.minimum(bounds.best, by_stretch.min(axis=0), out=bounds.best)
    stretch, pair = np.argmin(by_stretch, axis=0), np.arange(least.shape[1])
    stretch, pair = stretch[counts.any(axis=0)], pair[counts.any(axis=0)]
    pose = stretch + (least[stretch + 1, pair] < least[stretch, pair])
    at = pose * least.shape[1] + pair
    return Couples(stretch * least.shape[1] + pair, first[at, edge[at, 0]], second[at, edge[at, 0]])


def _parted(trees: Forest, first: Ints, second: Ints) -> tuple[Ints, Ints]:
    """(poses, FAN · n) couples with the larger run of each taken apart; −1 in `first` where there is no such part."""
    size_first = np.where(trees.leaf[first], -1.0, trees.radii[first])
    size_second = np.where(trees.leaf[second], -1.0, trees.radii[second])
    by_first = (size_first >= size_second)[:, :, None]
    parts = trees.children[np.where(by_first[:, :, 0], first, second)]
    whole = (trees.leaf[first] & trees.leaf[second])[:, :, None]
    itself = np.arange(FAN) == 0
    new_first = np.where(whole, np.where(itself, first[:, :, None], -1), np.where(by_first, parts, first[:, :, None]))
    new_second = np.where(whole | by_first, second[:, :, None], parts)
    new_first = np.where(new_second < 0, -1, new_first)
    return new_first.reshape(len(first), -1), new_second.reshape(len(first), -1)


def close_edges(trees: Forest, cuts: Stretches, within: Floats) -> Couples:
    """Couples of single edges that may come as near as within (pairs,) mm."""

    def matters(couples: Couples) -> Bools:
        return np.asarray(_run_bounds(trees, cuts, couples)[0] <= within[couples.rows % len(within)])

    return _searched(trees, len(cuts.starts), matters)


def _searched(trees: Forest, stretches: int, matters: Callable[[Couples], Bools]) -> Couples:
    """From the roots down: couples that matter are split, until single edges are left."""
    pairs = len(trees.roots)
    rows = np.arange(stretches * pairs)
    couples = Couples(rows, trees.roots[rows % pairs, 0], trees.roots[rows % pairs, 1])
    kept: list[Couples] = []
    while len(couples.rows):
        whole = trees.leaf[couples.first] & trees.leaf[couples.second]
        if len(couples.rows) > FEW or whole.all():
            matter = matters(couples)
            kept.append(couples.pick(matter & whole))
            couples = _split(trees, couples.pick(matter & ~whole))
        else:
            couples = _joined([couples.pick(whole), _split(trees, couples.pick(~whole))])
    return _joined(kept)


def _joined(parts: list[Couples]) -> Couples:
    return Couples(
        np.concatenate([part.rows for part in parts]),
        np.concatenate([part.first for part in parts]),
        np.concatenate([part.second for part in parts]),
    )


def _split(trees: Forest, couples: Couples) -> Couples:
    """Each couple with the larger of its runs (that has any) taken apart."""
    size_first = np.where(trees.leaf[couples.first], -1.0, trees.radii[couples.first])
    size_second = np.where(trees.leaf[couples.second], -1.0, trees.radii[couples.second])
    by_first = size_first >= size_second
    parts = trees.children[np.where(by_first, couples.first, couples.second)]
    there = parts >= 0
    rows = np.repeat(couples.rows, FAN).reshape(-1, FAN)
    first = np.where(by_first[:, None], parts, couples.first[:, None])
    second = np.where(by_first[:, None], couples.second[:, None], parts)
    return Couples(rows[there], first[there], second[there])


def _run_bounds(trees: Forest, cuts: Stretches, couples: Couples) -> tuple[Floats, Floats]:
    """Least distance of two runs from below, mm: (n,) over the stretch, (n, 2) at its ends."""
    motion = cuts.motion.reshape(-1, 2, 2, 4)[couples.rows, 0]
    still, centre = trees.centres[couples.first], trees.centres[couples.second]
    turn = motion[:, :, TURN]
    ends = motion[:, :, PLACE] + turn * centre[:, None] - still[:, None]
    rates = motion[:, :, PLACE_RATE] + motion[:, :, TURN_RATE] * centre[:, None]
    chord = ends[:, 1] - ends[:, 0]
    sagitta = 0.25 * np.abs(rates - chord[:, None]).max(axis=1) + cuts.slack.reshape(-1)[couples.rows]
    # Points about the centre depart from their chords by so much more, as they turn with it.
    bend = 0.25 * np.abs(motion[:, :, TURN_RATE] - (turn[:, 1] - turn[:, 0])[:, None]).max(axis=1)
    low, at_ends = _between_slabs(trees, couples, ends, turn)
    return low - bend * trees.radii[couples.second] - sagitta, at_ends


def _between_slabs(trees: Forest, couples: Couples, ends: Complexes, turn: Complexes) -> tuple[Floats, Floats]:
    """What lies between the slabs of two runs, mm: (n,) over the stretch, and (n, 2) at its ends; 0 where they overlap.

    Boxes that lie apart by x along a way and by y across it are at least hypot(x, y) apart; the way is that of the
    longer run, so that of a long edge and a small run it is nearly the distance itself.
    ends : (n, 2) from the first run's centre to the second's, at both ends of a stretch.   turn : (n, 2) of the second.
    """
    first, second = couples.first, couples.second
    own, way = trees.ways[first], turn * trees.ways[second][:, None]
    longer = np.where(trees.halves[first] >= trees.halves[second], own, way[:, 0])
    middle = (ends[:, 0] + ends[:, 1]) * longer.conj()
    apart = []
    for to, part in ((longer, middle.real), (1j * longer, middle.imag)):
        back = np.where(part < 0.0, -1.0, 1.0) * to.conj()
        mine, other = own * back, way * back[:, None]
        here = (ends * back[:, None]).real
        here -= trees.halves[second][:, None] * np.abs(other.real) + trees.depths[second][:, None] * np.abs(other.imag)
        here -= (trees.halves[first] * np.abs(mine.real) + trees.depths[first] * np.abs(mine.imag))[:, None]
        apart.append(np.maximum(here, 0.0))
    along, across = apart
    return np.hypot(along.min(axis=1), across.min(axis=1)), np.hypot(along, across)


def _edge_distances(trees: Forest, cuts: Stretches, couples: Couples) -> tuple[Floats, Floats]:
    """(n,) distances of two edges at both ends of their stretches, mm; a run's first vertex stands for it."""
    motion = cuts.motion.reshape(-1, 2, 2, 4)[couples.rows, 0, :, :TURN_RATE]
    first, second = couples.first, couples.second
    place, turn = motion[:, :, PLACE].T, motion[:, :, TURN].T
    tail, other = trees.starts[first], place + turn * trees.starts[second]
    singles = trees.leaf[first], trees.leaf[second]
    if not (singles[0].any() or singles[1].any()):
        start, end = np.abs(other - tail)
        return start, end
    along, other_along = (
        np.where(single, trees.heads[side] - trees.starts[side], 0.0)
        for single, side in zip(singles, (first, second), strict=True)
    )
    start, end = between_segments(tail, along, other, turn * other_along)
    return start, end


def from_origin(start: Complexes, along: Complexes) -> Floats:
    """(n,) distances of the origin from segments start … start + along."""
    square = along.real**2 + along.imag**2
    share = -(start.real * along.real + start.imag * along.imag) / np.where(square > 0.0, square, 1.0)
    return np.asarray(np.abs(start + np.minimum(np.maximum(share, 0.0), 1.0) * along))


def between_segments(a: Complexes, along_a: Complexes, b: Complexes, along_b: Complexes) -> Floats:
    """(n,) distances of segments a … a + along_a from b … b + along_b, 0 where they cross."""
    apart = np.minimum(
        np.minimum(from_origin(b - a, along_b), from_origin(b - a - along_a, along_b)),
        np.minimum(from_origin(a - b, along_a), from_origin(a - b - along_b, along_a)),
    )
    cross = along_a.real * along_b.imag - along_a.imag * along_b.real
    # Nearly parallel ones cross, if they do, within rounding of one of their ends.
    across = np.abs(cross) > 1e-15 * np.abs(along_a) * np.abs(along_b) + 1e-30
    gap = b - a
    safe = np.where(across, cross, 1.0)
    on_a = (gap.real * along_b.imag - gap.imag * along_b.real) / safe
    on_b = (gap.real * along_a.imag - gap.imag * along_a.real) / safe
    crossing = across & (on_a >= 0.0) & (on_a <= 1.0) & (on_b >= 0.0) & (on_b <= 1.0)
    return np.asarray(np.where(crossing, 0.0, apart))
