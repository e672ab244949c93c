"""Tracing a branch: knot by knot from shut, or all knots at once when the linkage has only been changed a little.

A step goes along the tangent and back to the curve by Newton. Its length follows from the bend, so that the pair of
knots passes the test of `branch`. At a *fork* the bend grows beyond bound: the curve crosses another, as where all
links of a parallelogram come into line. It is passed by a leap straight on, if what lies beyond continues place and
tangent; two curves that cross do so at an angle, so the leap can't change over. A trace ends where the caller's
`stop` says so, at a fork that can't be passed, or after MOST_KNOTS.

When a pin has been moved a millimetre, the old knots are first guesses: a Newton step or two for all together, then
the same test for every pair. If one fails, the branch is traced afresh.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import Branch, Curve, frames, newton_step, solve_on

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Floats

STRIDE = 0.11
"""A step is this share of 1/bend. The test allows 0.25: room for the knots to drift while a pin is dragged."""
NEAR_FORK = 60.0
"""Where the bend (1/rad) is more than this, a fork is near and the motion won't be followed while a pin is dragged …"""
LONG_STRIDE = 0.22
"""… so steps go nearly as far as the test allows."""
LONGEST = 0.12
"""No step is longer (rad), so that the cubics between knots stay close."""
SHORTEST = 4e-6
"""A step shorter than this (rad) means a fork."""
LEAPS = (1e-3, 4e-3)
"""Steps (rad) that are tried across a fork."""
STRAIGHT = 30.0
"""A leap of δ may miss its tangent by this times δ² (rad), and turn it by as much times δ."""
MOST_KNOTS = 3000


def trace(
    curve: Curve, start: Floats, heading: Floats, stop: Callable[[Floats, Floats], bool], most: int = MOST_KNOTS
) -> Branch:
    """The branch from `start` (unknowns,) towards `heading`, to the first knot at which stop(turns, tangent) holds."""
    tangent, bend = _one_frame(curve, start, heading)
    points, tangents, bends, arcs, forks = [start], [tangent], [bend], [0.0], []
    while len(points) < most:
        found = _next(curve, points[-1], tangents[-1], bends[-1])
        if found is None:
            found = _leap(curve, points[-1], tangents[-1])
            forks.append(arcs[-1])
        if found is None:
            break
        point, tangent, bend = found
        arcs.append(arcs[-1] + float(tangents[-1] @ (point - points[-1])))
        points.append(point)
        tangents.append(tangent)
        bends.append(bend)
        if stop(point, tangent):
            break
    return Branch(curve, np.array(arcs), np.array(points), np.array(tangents), np.array(bends), tuple(forks))


def _one_frame(curve: Curve, point: Floats, heading: Floats) -> tuple[Floats, float]:
    tangents, bends = frames(curve, point[None], heading[None])
    return tangents[0], float(bends[0])


def _next(curve: Curve, point: Floats, tangent: Floats, bend: float) -> tuple[Floats, Floats, float] | None:
    """The next knot with its frame; None at a fork."""
    step = min((STRIDE if bend < NEAR_FORK else LONG_STRIDE) / bend, LONGEST)
    while step > SHORTEST:
        after = solve_on(curve, (point + step * tangent)[None], tangent[None])[0]
        closed = np.abs(curve.residual(after[None])).max(initial=0.0) <= curve.accepted
        if closed and np.linalg.norm(after - point) <= 0.5 / bend:
            new_tangent, new_bend = _one_frame(curve, after, tangent)
            if new_tangent @ tangent > 0.5:
                return after, new_tangent, new_bend
        step *= 0.5
    return None


def _leap(curve: Curve, point: Floats, tangent: Floats) -> tuple[Floats, Floats, float] | None:
    """The knot beyond a fork, straight on; None if nothing there continues the curve."""
    for step in LEAPS:
        ahead = point + step * tangent
        after = solve_on(curve, ahead[None], tangent[None])[0]
        closed = np.abs(curve.residual(after[None])).max(initial=0.0) <= curve.accepted
        if not closed or np.linalg.norm(after - ahead) > STRAIGHT * step**2:
            continue
        new_tangent, bend = _one_frame(curve, after, tangent)
        if np.linalg.norm(new_tangent - tangent) <= STRAIGHT * step and LONG_STRIDE / bend > SHORTEST:
            return after, new_tangent, bend
    return None


def follow(near: Branch, curve: Curve) -> Branch | None:
    """The knots of an earlier branch, brought to the changed curve; None unless every pair passes the test."""
    if near.forks or curve.loops.shape != near.curve.loops.shape or curve.redundant != near.curve.redundant:
        return None
    y = near.turns.copy()
    for _ in range(5):
        residual = curve.residual(y)
        if np.abs(residual).max(initial=0.0) <= curve.solved:
            break
        y -= newton_step(curve, y, residual, near.tangents)
    if not np.all(np.abs(curve.residual(y)) <= curve.accepted):
        return None
    y[0] = 0.0
    tangents, bends = frames(curve, y, near.tangents)
    return certified(curve, y, tangents, bends)


def certified(curve: Curve, y: Floats, tangents: Floats, bends: Floats) -> Branch | None:
    """A branch of these knots, if each follows from the one before it; else None."""
    steps = np.diff(y, axis=0)
    along = np.einsum("ij,ij->i", tangents[:-1], steps)
    limit = 1.0 / bends[:-1]
    whole = (
        np.all(along > 0.0)
        and np.all(along <= np.minimum(0.25 * limit, 2.0 * LONGEST))
        and np.all(np.linalg.norm(steps, axis=1) <= 0.5 * limit)
        and np.all(np.einsum("ij,ij->i", tangents[:-1], tangents[1:]) > 0.5)
    )
    if not whole:
        return None
    return Branch(curve, np.concatenate([[0.0], np.cumsum(along)]), y, tangents, bends)
