"""Tracing a branch: knot by knot from shut, or all knots at once when the linkage has only been changed a little.

A step goes along the tangent and back to the curve by Newton. It is as long as the test of `branch` proves, and not
longer than the cubics between knots like. At a *fork* the sway grows beyond bound: the curve crosses another, as
where all links of a parallelogram come into line. It is passed by a leap straight on, if what lies beyond continues
place and tangent; two curves that cross do so at an angle, so the leap can't change over. A trace ends where the
caller's `stop` says so, at a fork that can't be passed, or after MOST_KNOTS.

When a pin has been moved a millimetre, the old knots are first guesses: a Newton step or two for all together, then
the same test for every pair. From the first pair that fails on, the branch is traced afresh: where the hand has jumped,
a dead point may have come nearer, or the knots beyond one may lie on another curve, while those before it are as good.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import Branch, Frames, frames, newton_step, solve_on

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Bools, Floats
    from kinematics.branch import Curve

LONGEST = 0.12
"""No step is longer (rad), so that the cubics between knots stay close."""
SHORTEST = 3e-5
"""A step that must be shorter than this (rad) means a fork."""
STEPS = LONGEST * 0.8 ** np.arange(38)
"""The steps that are tried, down to SHORTEST."""
SPARE = 2.0
"""The test holds so many times as far as a step goes: room for the knots to drift while a pin is dragged …"""
NEAR_FORK = 4e-3
"""… but for steps shorter than this (rad): a fork is near, and the motion won't be followed in a drag …"""
LITTLE_SPARE = 1.1
"""… so they go nearly as far as is proved."""
LEAPS = (1e-3, 4e-3)
"""Steps (rad) that are tried across a fork."""
STRAIGHT = 30.0
"""A leap of δ may miss its tangent by this times δ² (rad), and turn it by as much times δ."""
MOST_KNOTS = 3000
FEWEST = 3
"""Fewer old knots than these aren't worth following."""


def trace(
    curve: Curve, start: Floats, heading: Floats, stop: Callable[[Floats, Floats], bool], most: int = MOST_KNOTS
) -> Branch:
    """The branch from `start` (unknowns,) towards `heading`, to the first knot at which stop(turns, tangent) holds."""
    point, frame = start, frames(curve, start[None], heading[None])
    points, along, arcs, forks = [point], [frame], [0.0], []
    while len(points) < most:
        found = _next(curve, point, frame)
        if found is None:
            found = _leap(curve, point, frame)
            forks.append(arcs[-1])
        if found is None:
            break
        arcs.append(arcs[-1] + float(frame.tangents[0] @ (found[0] - point)))
        point, frame = found
        points.append(point)
        along.append(frame)
        if stop(point, frame.tangents[0]):
            break
    whole = Frames(
        np.concatenate([each.tangents for each in along]),
        np.concatenate([each.sway for each in along]),
        np.concatenate([each.curl for each in along]),
    )
    return Branch(curve, np.array(arcs), np.array(points), whole, tuple(forks))


def _next(curve: Curve, point: Floats, frame: Frames) -> tuple[Floats, Frames] | None:
    """The next knot with its frame; None at a fork."""
    tangent = frame.tangents
    for step in _proved_steps(frame):
        after = solve_on(curve, point + step * tangent, tangent)
        closed = np.abs(curve.residual(after)).max(initial=0.0) <= curve.accepted
        if closed and _within(frame, np.array([step]), after - point).all():
            new = frames(curve, after, tangent)
            if new.tangents[0] @ tangent[0] > 0.5:
                return after[0], new
    return None


def _proved_steps(frame: Frames) -> Floats:
    """(n,) steps that the test allows, the longest first; none at a fork."""
    all_steps = Frames(
        *(np.broadcast_to(part, (len(STEPS), *part.shape[1:])) for part in (frame.tangents, frame.sway, frame.curl))
    )
    spare = np.where(STEPS > NEAR_FORK, SPARE, LITTLE_SPARE)
    return np.asarray(STEPS[all_steps.room(spare * STEPS)[1]])


def _within(frames_there: Frames, along: Floats, moved: Floats) -> Bools:
    """(m,) whether knots that moved so (m, unknowns), so far along the tangents, lie in the room of those before
    them.
    """
    room, proved = frames_there.room(along)
    strayed = np.abs(moved - along[:, None] * frames_there.tangents)
    return np.asarray(proved & np.all(strayed <= room + 1e-12, axis=1))


def _leap(curve: Curve, point: Floats, frame: Frames) -> tuple[Floats, Frames] | None:
    """The knot beyond a fork, straight on; None if nothing there continues the curve."""
    tangent = frame.tangents
    for step in LEAPS:
        ahead = point + step * tangent
        after = solve_on(curve, ahead, tangent)
        closed = np.abs(curve.residual(after)).max(initial=0.0) <= curve.accepted
        if not closed or np.linalg.norm(after - ahead) > STRAIGHT * step**2:
            continue
        new = frames(curve, after, tangent)
        if np.linalg.norm(new.tangents - tangent) <= STRAIGHT * step and len(_proved_steps(new)):
            return after[0], new
    return None


def follow(near: Branch, curve: Curve) -> Branch | None:
    """The knots of an earlier branch, brought to the changed curve, as far as each pair passes the test.

    The rest is to be traced: where a dead point came nearer the later knots can't close, or lie on another curve. None
    where fewer than three knots are left.
    """
    if near.forks or curve.loops.shape != near.curve.loops.shape or curve.redundant != near.curve.redundant:
        return None
    y = near.turns.copy()
    for _ in range(5):
        residual = curve.residual(y)
        if np.abs(residual).max(initial=0.0) <= curve.solved:
            break
        y -= newton_step(curve, y, residual, near.tangents)
    y = y[: _unbroken(np.all(np.abs(curve.residual(y)) <= curve.accepted, axis=1))]
    if len(y) < FEWEST:
        return None
    y[0] = 0.0
    along = frames(curve, y, near.tangents[: len(y)])
    steps, good = _tested(y, along)
    kept = 1 + _unbroken(good)
    return None if kept < FEWEST else _joined(curve, y[:kept], along.pick(slice(kept)), steps[: kept - 1])


def certified(curve: Curve, y: Floats, along: Frames) -> Branch | None:
    """A branch of these knots with their frames, if each follows from the one before it; else None."""
    steps, good = _tested(y, along)
    return _joined(curve, y, along, steps) if good.all() else None


def _unbroken(good: Bools) -> int:
    """How many hold from the first on."""
    return len(good) if good.all() else int(np.argmin(good))


def _tested(y: Floats, along: Frames) -> tuple[Floats, Bools]:
    """(knots − 1,) step from each knot to the next, and whether that one is proved to follow from it."""
    moved, before = np.diff(y, axis=0), along.pick(slice(None, -1))
    steps = np.einsum("ij,ij->i", before.tangents, moved)
    ordered = (steps > 0.0) & (steps <= 2.0 * LONGEST)
    smooth = np.einsum("ij,ij->i", before.tangents, along.tangents[1:]) > 0.5
    return steps, ordered & smooth & _within(before, steps, moved)


def _joined(curve: Curve, y: Floats, along: Frames, steps: Floats) -> Branch:
    return Branch(curve, np.concatenate([[0.0], np.cumsum(steps)]), y, along)
