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


MOST_MEETINGS = 60_000
"""More undecided meetings than this are not cut further (bodies that lie along one another)."""
MOST_ROUNDS = 16
"""After so many cuts a stretch is shorter than any difference that counts; what is undecided then stays so."""


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


def sharpen(
    course: Course,
    trees: Forest,
    cuts: Stretches,
    those: Meetings,
    found: Met,
    parts: int,
    undecided: Callable[[Meetings, Stretches, Met], Bools],
) -> None:
    """Cut the stretches of meetings into ever shorter ones, so many parts at a time, until none is undecided.

    found : distances of the meetings to begin with.   undecided : told of the meetings that are left, their stretches
    and distances, says which to look at more closely; what it wants to keep of the others it keeps itself.
    """
    for _ in range(MOST_ROUNDS):
        left = those.pick(undecided(those, cuts, found))
        if not 0 < len(left.rows) * parts <= MOST_MEETINGS:
            break
        those, which = _in_parts(left, len(course.pairs.links), parts)
        cuts = shorter(course, cuts, which, parts)
        found = met(trees, cuts, those)


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
    return np.asarray(tail + np.clip(share, 0.0, 1.0) * along)
