"""Stretches: a sweep cut into short pieces, with the relative motion over each and a bound on what it hides.

Within a stretch of arc length h the path of a point lies near its chord: the cubic that meets both ends with their
rates departs from the chord by at most a quarter of max|h·rate − chord|, and the true path from that cubic by h⁴/384
of its fourth derivative. That derivative follows from those of the turns, which `branch` bounds: a factor exp(iφ) has
|φ'|⁴ + 6φ'²φ'' + 3φ''² + 4φ'φ''' + φ⁗ at most, φ being the difference of two turns. Where a stretch ends between knots,
its ends come from the cubics of the turns, off by h⁴/384 of their fourth derivative, h being from knot to knot. Points
of one body are looked at in the frame of the other, where that one stands still. A column may be a frame that rides on
a strut or spring (`kinematics.riding`), whose turn is bounded by the derivatives of its line; where the turns of links
are off, it is off by `swerve` times as much.

Source: derivatives of the closure equation, differentiated four times along the branch; cubic Hermite remainder.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import Branch, frames
from kinematics.riding import RiddenSweep

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats, Ints
    from kinematics.bodies import Body
    from kinematics.branch import Frames
    from kinematics.sweep import Sweep

HIDDEN = 0.01
"""mm that may be hidden in a stretch between two knots of the fine branch …"""
DRAWN = 0.002
"""… and mm by which the cubics between them may be off, which no shorter stretch undoes."""
MOST_PARTS = 12
"""A stretch between knots is cut into no more than this."""

PLACE, TURN, PLACE_RATE, TURN_RATE = 0, 1, 2, 3
"""What a row of a stretch's table holds at either end: relative place and turn factor, and both rates times h."""


def fine_branch(sweep: Sweep, reach: float, at: list[float]) -> tuple[Branch, Floats]:
    """The reported part of the branch, with knots close enough for bodies that reach so far (mm) and knots `at`.

    at : places along the sweep's own branch. Returns the fine branch, which measures its arcs anew, and these places
    on it.
    """
    branch = sweep.branch
    wanted = np.clip(np.array(at), 0.0, sweep.reach_arc)
    knots = branch.arcs[branch.arcs < sweep.reach_arc]
    steps = np.diff(np.append(knots, sweep.reach_arc))
    path, off = _fourth(branch.frames.pick(slice(len(knots))), steps)
    share = np.maximum(path / HIDDEN, 1.5 * off / DRAWN) * reach * steps**4 / 384.0
    parts = np.clip(np.ceil(share**0.25), 1, MOST_PARTS).astype(np.intp)
    shares = np.concatenate([np.arange(n) / n for n in parts])
    arcs = np.unique(np.concatenate([np.repeat(knots, parts) + np.repeat(steps, parts) * shares, wanted]))
    arcs = np.append(arcs[arcs < sweep.reach_arc - 1e-11], sweep.reach_arc)
    arcs = arcs[np.append(True, np.diff(arcs) > 1e-11)]
    y = sweep.at_arcs(arcs)
    along = frames(branch.curve, y, branch.tangents[branch.interval(arcs)])
    steps = np.einsum("ij,ij->i", along.tangents[:-1], np.diff(y, axis=0))
    fine = Branch(branch.curve, np.concatenate([[0.0], np.cumsum(steps)]), y, along)
    return fine, np.asarray(fine.arcs[np.clip(np.searchsorted(arcs, wanted - 1e-10), 0, len(arcs) - 1)])


def _fourth(along: Frames, steps: Floats) -> tuple[Floats, Floats]:
    """(m,) bounds on the fourth derivatives of a relative turn's factor, and of the relative turn, over steps."""
    one, two, three, four = (2.0 * bound for bound in along.derivatives(steps))
    return one**4 + 6.0 * one**2 * two + 3.0 * two**2 + 4.0 * one * three + four, four


@dataclass(frozen=True, slots=True, eq=False)
class Pairs:
    """Watched pairs as columns: links (p, 2) of first and second body, reach (p,) mm of their relative motion."""

    links: Ints
    reach: Floats


def pairs_of(sweep: Sweep, couples: list[tuple[Body, Body]]) -> Pairs:
    """Columns and reaches of body couples."""
    links = np.array([(a.column, b.column) for a, b in couples], dtype=np.intp)
    chain = np.abs(sweep.closure.shift_map).sum(axis=1)
    swerve = np.ones(len(chain))
    if isinstance(sweep, RiddenSweep):
        chain, swerve = np.append(chain, sweep.riders.chains), np.append(swerve, sweep.swerves)
    reach = np.array(
        [
            (chain[a.column] + chain[b.column] + max(_far(sweep, a), _far(sweep, b)))
            * max(swerve[a.column], swerve[b.column])
            for a, b in couples
        ]
    )
    return Pairs(links, reach)


def _far(sweep: Sweep, body: Body) -> float:
    """Largest distance of a vertex from what its turning is measured about: the linkage's middle, a frame's origin."""
    own = body.column - len(sweep.closure.links)
    about = sweep.riders.origins[own] if isinstance(sweep, RiddenSweep) and own >= 0 else sweep.closure.centre
    return float(max(np.abs(body.tails - about).max(), np.abs(body.heads - about).max()))


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """What is cut into stretches.

    sweep, branch : a sweep and its fine branch.   pairs : watched along it.
    path, off : (m − 1, 1 or pairs) fourth derivatives from knot to knot, of relative places (per mm of reach) and of
    turns.
    """

    sweep: Sweep
    branch: Branch
    pairs: Pairs
    path: Floats
    off: Floats


def course_of(sweep: Sweep, branch: Branch, pairs: Pairs) -> Course:
    """A fine branch with what it may hide."""
    steps = np.diff(branch.arcs)
    path, off = _fourth(branch.frames.pick(slice(-1)), steps)
    if not isinstance(sweep, RiddenSweep):
        return Course(sweep, branch, pairs, path[:, None], off[:, None])
    return Course(sweep, branch, pairs, _ridden_paths(sweep, branch, pairs, steps), off[:, None])


def _ridden_paths(sweep: RiddenSweep, branch: Branch, pairs: Pairs, steps: Floats) -> Floats:
    """(m − 1, pairs) bounds on the fourth derivatives of relative turn factors, frames on devices among them."""
    by_link = np.stack(branch.frames.pick(slice(-1)).derivatives(steps))[:, :, None]
    frames = sweep.turn_derivatives(branch, steps, by_link[:, :, 0])
    links = np.repeat(by_link, len(sweep.closure.links), axis=2)
    columns = np.concatenate([links, frames], axis=2)
    one, two, three, four = columns[:, :, pairs.links[:, 0]] + columns[:, :, pairs.links[:, 1]]
    return np.asarray(one**4 + 6.0 * one**2 * two + 3.0 * two**2 + 4.0 * one * three + four)


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """A list of stretches.

    starts, ends : (s,) places along the branch.   knots : (s,) the knot of the branch that each one follows.
    motion : (s, pairs, 2 frames, 2 ends, 4) complex, see PLACE …: the second body in the frame of the first (frame 0),
        and the first in the frame of the second (frame 1).   slack : (s, pairs) mm, what the chord's own bound leaves
        out.
    """

    starts: Floats
    ends: Floats
    knots: Ints
    motion: Complexes
    slack: Floats


def cut(course: Course, starts: Floats, ends: Floats, knots: Ints) -> Stretches:
    """Stretches of a fine branch, each within one interval between its knots."""
    branch, pairs = course.branch, course.pairs
    steps = ends - starts
    spans = branch.arcs[knots + 1] - branch.arcs[knots]
    motion = np.empty((len(starts), len(pairs.links), 2, 2, 4), dtype=np.complex128)
    for end, arcs in enumerate((starts, ends)):
        y, rates = branch.cubic_and_rates(arcs, knots)
        _relative(course.sweep, pairs, y, rates * steps[:, None], motion[:, :, :, end])
    # The ends come from the cubics of the turns; half as much again covers what their rates are off by.
    hidden = course.path[knots] * steps[:, None] ** 4 + 1.5 * course.off[knots] * spans[:, None] ** 4
    slack = hidden / 384.0 * pairs.reach
    return Stretches(starts, ends, knots, motion, slack)


def _relative(sweep: Sweep, pairs: Pairs, y: Floats, rates: Floats, out: Complexes) -> None:
    """Fill out (s, pairs, 2 frames, 4) with the relative motion at poses y with rates (already times h)."""
    now = sweep.moving(y, rates)
    e, spins, shifts, moved = now.e, now.spins, now.shifts, now.moved
    for frame in (0, 1):
        still, moving = pairs.links[:, frame], pairs.links[:, 1 - frame]
        back = np.conj(e[:, still])
        spin = 1j * spins[:, still]
        apart = shifts[:, moving] - shifts[:, still]
        turn = e[:, moving] * back
        out[:, :, frame, PLACE] = apart * back
        out[:, :, frame, TURN] = turn
        out[:, :, frame, PLACE_RATE] = (moved[:, moving] - moved[:, still]) * back - spin * apart * back
        out[:, :, frame, TURN_RATE] = turn * (1j * spins[:, moving] - spin)


def whole(course: Course) -> Stretches:
    """One stretch between each two knots of a fine branch."""
    arcs = course.branch.arcs
    return cut(course, arcs[:-1], arcs[1:], np.arange(len(arcs) - 1))


def shorter(course: Course, old: Stretches, which: Ints, parts: int) -> Stretches:
    """Some stretches, each in equal parts, in order: parts·j … parts·j + parts − 1 for the j-th of `which`."""
    step = (old.ends[which] - old.starts[which])[:, None]
    edges = old.starts[which][:, None] + step * (np.arange(parts + 1) / parts)
    edges[:, -1] = old.ends[which]
    return cut(course, edges[:, :-1].ravel(), edges[:, 1:].ravel(), np.repeat(old.knots[which], parts))
