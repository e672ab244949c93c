"""Meetings: a vertex of one body and an edge of the other over a stretch, cut shorter until the answer is sharp.

A couple of edges makes two meetings: the second body's vertex against the first body's edge (frame 0), and the first
body's vertex against the second's edge (frame 1). While bodies are apart their distance is the least over all
meetings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.nearness import between_segments, from_origin
from kinematics.stretches import PLACE, PLACE_RATE, TURN, TURN_RATE, shorter

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.nearness import Couples, Forest
    from kinematics.stretches import Course, Stretches


BATCH = 200_000
"""About so many meetings are looked at together."""
MOST_LOOKS = 400_000
"""After so many looks what is undecided stays so (bodies of thousands of points that lie along one another)."""
MOST_ROUNDS = 16
"""After so many cuts a stretch is shorter than any difference that counts; what is undecided then stays so."""
SURELY = 1e-6
"""mm by which the ends of an edge stand on different sides of another that surely crosses it."""


@dataclass(frozen=True, slots=True, eq=False)
class Meetings:
    """rows (n,) stretch · pairs + pair; frame (n,) 0 or 1; vertex (n,), edge (n,): leaves of the forest."""

    rows: Ints
    frame: Ints
    vertex: Ints
    edge: Ints

    def pick(self, which: Bools | Ints) -> Meetings:
        """Some of them."""
        return Meetings(self.rows[which], self.frame[which], self.vertex[which], self.edge[which])


@dataclass(frozen=True, slots=True, eq=False)
class Met:
    """Distances of meetings, mm.

    low, high : bounds on the least and the greatest over the stretch.   start, end : at its ends.
    """

    low: Floats
    high: Floats
    start: Floats
    end: Floats

    def pick(self, which: Bools) -> Met:
        """Some of them."""
        return Met(self.low[which], self.high[which], self.start[which], self.end[which])


def meetings(couples: Couples) -> Meetings:
    """Both meetings of every couple of edges."""
    zero = np.zeros(len(couples.rows), dtype=np.intp)
    return Meetings(
        np.concatenate([couples.rows, couples.rows]),
        np.concatenate([zero, zero + 1]),
        np.concatenate([couples.second, couples.first]),
        np.concatenate([couples.first, couples.second]),
    )


def met(trees: Forest, cuts: Stretches, those: Meetings) -> Met:
    """How near each vertex comes to its edge."""
    motion = cuts.motion.reshape(-1, 2, 2, 4)[those.rows, those.frame]
    vertex, tail = trees.starts[those.vertex], trees.starts[those.edge]
    edge = trees.heads[those.edge] - tail
    at = motion[:, :, PLACE] + motion[:, :, TURN] * vertex[:, None]
    rates = motion[:, :, PLACE_RATE] + motion[:, :, TURN_RATE] * vertex[:, None]
    chord = at[:, 1] - at[:, 0]
    sagitta = 0.25 * np.abs(rates - chord[:, None]).max(axis=1) + cuts.slack.reshape(-1)[those.rows]
    start, end = from_origin(tail - at[:, 0], edge), from_origin(tail - at[:, 1], edge)
    low = between_segments(at[:, 0], chord, tail, edge) - sagitta
    return Met(low, np.maximum(start, end) + sagitta, start, end)


def crossing(trees: Forest, cuts: Stretches, those: Meetings) -> Bools:
    """(n,) whether the edge of a meeting and the edge that begins at its vertex cross all over the stretch, for sure.

    They do while the ends of each stay on different sides of the other; a path that lies within its sagitta of its
    chord stays on one side of a line if both ends do, further off than that.
    """
    rows, slack = those.rows, cuts.slack.reshape(-1)[those.rows]
    first, second = trees.starts[those.edge], trees.heads[those.edge]
    third, fourth = trees.starts[those.vertex], trees.heads[those.vertex]
    motion = cuts.motion.reshape(-1, 2, 2, 4)
    there, back = motion[rows, those.frame], motion[rows, 1 - those.frame]
    split = _apart(_aside(there, third, first, second, slack), _aside(there, fourth, first, second, slack))
    return split & _apart(_aside(back, first, third, fourth, slack), _aside(back, second, third, fourth, slack))


def crossing_at_knots(trees: Forest, cuts: Stretches, edges: Couples) -> Bools:
    """(n,) whether two edges cross at the first or the last pose of their stretch, for sure: by more than `SURELY`."""
    motion = cuts.motion.reshape(-1, 2, 2, 4)[edges.rows, 0]
    tail, head = trees.starts[edges.first, None], trees.heads[edges.first, None]
    there, on = (
        motion[:, :, PLACE] + motion[:, :, TURN] * ends[edges.second, None] for ends in (trees.starts, trees.heads)
    )
    return np.asarray((_split(tail, head, there, on) & _split(there, on, tail, head)).any(axis=1))


def _split(tail: Complexes, head: Complexes, one: Complexes, other: Complexes) -> Bools:
    """Whether two points lie on different sides of the line through tail and head."""
    along = head - tail
    length = np.abs(along)
    back = np.conj(along) / np.where(length > 0.0, length, 1.0)
    left, right = ((one - tail) * back).imag, ((other - tail) * back).imag
    return np.asarray((np.minimum(left, right) < -SURELY) & (np.maximum(left, right) > SURELY))


def _apart(one: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> Bools:
    """(n,) whether points that stay between (least, most) to the left of a line stay on different sides of it."""
    return np.asarray((one[0] > 0.0) & (other[1] < 0.0) | (one[1] < 0.0) & (other[0] > 0.0))


def _aside(
    motion: Complexes, point: Complexes, tail: Complexes, head: Complexes, slack: Floats
) -> tuple[Floats, Floats]:
    """(n,) the least and the most that a moving point lies to the left of the line through tail and head, mm."""
    at = motion[:, :, PLACE] + motion[:, :, TURN] * point[:, None]
    rates = motion[:, :, PLACE_RATE] + motion[:, :, TURN_RATE] * point[:, None]
    sagitta = 0.25 * np.abs(rates - (at[:, 1] - at[:, 0])[:, None]).max(axis=1) + slack
    along = head - tail
    length = np.abs(along)
    off = ((at - tail[:, None]) * along.conjugate()[:, None]).imag / np.where(length > 0.0, length, 1.0)[:, None]
    return off.min(axis=1) - sagitta, off.max(axis=1) + sagitta


def sharpen(
    course: Course,
    trees: Forest,
    cuts: Stretches,
    those: Meetings,
    found: Met,
    parts: int,
    undecided: Callable[[Meetings, Stretches, Met], Bools],
) -> list[tuple[Meetings, Stretches]]:
    """Cut the stretches of meetings into ever shorter ones, so many parts at a time, until none is undecided.

    found : distances of the meetings to begin with.   undecided : told of the meetings that are left, their stretches
    and distances, says which to look at more closely; what it wants to keep of the others it keeps itself.
    Returns the meetings that are undecided still, with their stretches; none but where there are far too many.
    """
    waiting = [(0, those, cuts, found)]
    looks, undone = 0, []
    while waiting:
        rounds, those, cuts, found = waiting.pop()
        left = those.pick(undecided(those, cuts, found))
        looks += len(those.rows)
        if rounds == MOST_ROUNDS or looks > MOST_LOOKS:
            undone.append((left, cuts))
            continue
        for batch in _batches(left, len(course.pairs.links), BATCH // parts):
            those, which = _in_parts(batch, len(course.pairs.links), parts)
            shorter_cuts = shorter(course, cuts, which, parts)
            waiting.append((rounds + 1, those, shorter_cuts, met(trees, shorter_cuts, those)))
    return [(left, cuts) for left, cuts in undone if len(left.rows)]


def _batches(those: Meetings, pairs: int, most: int) -> list[Meetings]:
    """The meetings in batches of whole stretches, each of about so many; none where there are none."""
    if len(those.rows) <= most:
        return [those] if len(those.rows) else []
    order = np.argsort(those.rows // pairs, kind="stable")
    stretch = (those.rows // pairs)[order]
    begins = np.flatnonzero(np.append(True, np.diff(stretch) > 0))
    batch = begins // most
    firsts = begins[np.append(True, np.diff(batch) > 0)]
    return [those.pick(order[low:high]) for low, high in zip(firsts, np.append(firsts[1:], len(order)), strict=True)]


def _in_parts(those: Meetings, pairs: int, parts: int) -> tuple[Meetings, Ints]:
    """The meetings in all parts of their stretches, numbered as `stretches.shorter` numbers them, and the stretches."""
    stretch, pair = those.rows // pairs, those.rows % pairs
    which, place = np.unique(stretch, return_inverse=True)
    rows = ((parts * place[:, None] + np.arange(parts)) * pairs + pair[:, None]).ravel()
    again = np.repeat(np.arange(len(those.rows)), parts)
    return Meetings(rows, those.frame[again], those.vertex[again], those.edge[again]), which


def feet(point: Complexes, tail: Complexes, head: Complexes) -> Complexes:
    """(n,) nearest points of edges to points."""
    along = head - tail
    square = along.real**2 + along.imag**2
    off = point - tail
    share = (off.real * along.real + off.imag * along.imag) / np.where(square > 0.0, square, 1.0)
    return np.asarray(tail + np.minimum(np.maximum(share, 0.0), 1.0) * along)
