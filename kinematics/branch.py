"""A branch of a linkage's motion: the curve of its turns, from shut, by arc length.

Terms. The turns of all unknown groups make one vector y; where the loops close, F(y) = 0, it runs along a curve. At a
point of it the *frame* is the curve's unit tangent t and the pseudo-inverse M of the Jacobian J. Going a step s along
t, the curve strays from its tangent by some z across t. Column j of J only turns with y_j, so entry by entry

    |M·(J(y) − J)| ≤ sway · |y − y_i|,   sway = |M·i·loops·exp(iy)|, the same for all derivatives of F, and
    |M·F(y_i + s·t)| ≤ s²/2·curl + s³/6·sway·|t|³,   curl = |Im(M·…)·t²|, what the curve bends at the knot.

Where numbers *room* ≥ 0 exist, one for each unknown, with

    s²/2·curl + s³/6·sway·|t|³ + sway·((s·|t| + room)·room) ≤ room,

Newton's simplified iteration contracts within |z| ≤ room (Newton-Kantorovich, with a majorant for each unknown by
itself). So up to s just one piece of curve lies there: a *knot* found within the room of the one before it lies on
the same branch. Nothing is jumped, near a dead point or anywhere else. Each unknown has its own bound, so links of a
hair beside links of metres cost no knots.

Between knots i and i + 1 the curve is measured by its place along t_i ("arc", rad, shut is 0), and drawn as the cubic
that meets both ends with their tangents; the same numbers bound its error. Exact points come from Newton, started
there.

Sources: Newton-Kantorovich theorem, e.g. J. M. Ortega, W. C. Rheinboldt, Iterative Solution of Nonlinear Equations,
ch. 12 (vector majorants: ch. 13; both from memory); pseudo-arclength, H. B. Keller 1977 (from memory); cubic Hermite
remainder h⁴/384·max|y⁗|, any numerics text.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.closure import Closure

SOLVED = 1e-13
"""A pose is solved when its residual is below this share of the linkage's size …"""
SOLVED_MM = 2e-10
"""… and below this length, as far as rounding at that size allows."""
ACCEPTED_MM = 5e-10
"""No pose is taken whose residual (mm) is larger, but for rounding."""
ROUNDING = 4e-15
"""Share of the size below which a residual can't be trusted to fall."""
TINY = 1e-9
"""Curl (1/rad) that even a straight curve is taken to have, so that its room isn't empty."""
LARGEST_SWAY = 1e9
"""A sway beyond this (1/rad) is a fork's, and proves nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """The equations of one linkage by unknown: loops (rows, 1 + unknowns) in mm, size in mm, whether rows repeat."""

    loops: Complexes
    size: float
    redundant: bool

    @property
    def unknowns(self) -> int:
        """Number of unknown turns."""
        return int(self.loops.shape[1]) - 1

    @property
    def accepted(self) -> float:
        """Residual (mm) beyond which a pose counts as not closed."""
        return max(min(1e-10 * self.size, ACCEPTED_MM), 2.0 * ROUNDING * self.size)

    @property
    def solved(self) -> float:
        """Residual (mm) at which a pose counts as solved."""
        return max(min(SOLVED * self.size, SOLVED_MM), ROUNDING * self.size)

    def residual(self, y: Floats) -> Complexes:
        """(poses, unknowns) rad → (poses, rows) mm."""
        return np.asarray(np.exp(1j * y) @ self.loops[:, 1:].T + self.loops[:, 0])

    def jacobian(self, y: Floats) -> Complexes:
        """(poses, unknowns) rad → (poses, rows, unknowns) mm per rad, complex."""
        return np.asarray((1j * np.exp(1j * y))[:, None, :] * self.loops[None, :, 1:])


def curve_of(closure: Closure) -> Curve:
    """The equations of a linkage that has one motion; rows repeat where there are more than that leaves."""
    loops = closure.grouped_loops()
    return Curve(loops, closure.size, 2 * len(loops) > closure.unknowns - 1)


@dataclass(frozen=True, slots=True, eq=False)
class Frames:
    """What is known of the curve at knots.

    tangents (m, unknowns), of unit length; sway (m, unknowns, unknowns) and curl (m, unknowns), 1/rad.
    """

    tangents: Floats
    sway: Floats
    curl: Floats

    def pick(self, which: Ints | slice) -> Frames:
        """Some of them."""
        return Frames(self.tangents[which], self.sway[which], self.curl[which])

    def backwards(self) -> Frames:
        """The same seen by someone who comes from the other side, last first."""
        return Frames(-self.tangents[::-1], self.sway[::-1], self.curl[::-1])

    def then(self, more: Frames) -> Frames:
        """These, and more behind them."""
        return Frames(
            np.concatenate([self.tangents, more.tangents]),
            np.concatenate([self.sway, more.sway]),
            np.concatenate([self.curl, more.curl]),
        )

    def room(self, steps: Floats) -> tuple[Floats, Bools]:
        """How far each unknown may stray from the tangent within a step (m, unknowns), and whether that is proved."""
        far = steps[:, None] * np.abs(self.tangents)
        least = 0.5 * steps[:, None] ** 2 * (self.curl + TINY) + _times(self.sway, far**3) / 6.0
        room = 2.0 * least
        for _ in range(3):
            room = 1.5 * (least + _times(self.sway, (far + room) * room))
        proved = least + _times(self.sway, (far + room) * room) <= room
        return room, np.asarray(proved.all(axis=1))

    def derivatives(self, steps: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """(m,) bounds on the first four derivatives of any turn within a step from each knot.

        J·y' is constant along the curve; differentiated on and on, each derivative is bounded by those before it, and
        by how far J may have changed. Where a fork was leapt nothing is proved: the curve is smooth there, as the leap
        has seen, and is taken for one that turns by 0.3 within the step.
        """
        room, proved = self.room(steps)
        change = self.sway * (steps[:, None] * np.abs(self.tangents) + room)[:, None, :]
        unit = np.eye(self.tangents.shape[1])
        grown = np.asarray(np.linalg.inv(unit - np.where(proved[:, None, None], change, 0.0)), dtype=np.float64)
        one = _times(grown, np.abs(self.tangents))
        reached = grown @ self.sway
        two = _times(reached, one**2)
        three = _times(reached, one**3 + 3.0 * one * two)
        four = _times(reached, one**4 + 6.0 * one**2 * two + 3.0 * two**2 + 4.0 * one * three)
        k = 0.3 / steps
        leapt = (np.ones_like(k), k, 3.0 * k**2, 15.0 * k**3)
        found = (part.max(axis=1, initial=0.0) for part in (one, two, three, four))
        first, second, third, fourth = (np.where(proved, a, b) for a, b in zip(found, leapt, strict=True))
        return first, second, third, fourth


@dataclass(frozen=True, slots=True, eq=False)
class Branch:
    """Knots of a curve in order, and what is needed to go between them.

    arcs (m,) rad, shut at 0; turns (m, unknowns) rad; frames at the knots.
    forks : places at which another curve crosses; the last one ends the branch where nothing lies beyond it.
    end_rates (m − 1, unknowns): dy/darc at the end of each interval, measured along the tangent at its start, as the
    start's own rate is.
    cubics (m − 1, 4, unknowns): the turns between two knots by powers of the arc from the first of them.
    """

    curve: Curve
    arcs: Floats
    turns: Floats
    frames: Frames
    forks: tuple[float, ...] = ()
    end_rates: Floats = field(init=False)
    cubics: Floats = field(init=False)

    def __post_init__(self) -> None:
        start, after, apart = self.tangents[:-1], self.tangents[1:], np.diff(self.arcs)[:, None]
        span = np.where(apart > 0.0, apart, 1.0)  # a fold at shut is two knots at one place
        end = after / np.einsum("ij,ij->i", start, after)[:, None]
        mean = np.diff(self.turns, axis=0) / span
        table = [self.turns[:-1], start, (3.0 * mean - 2.0 * start - end) / span, (start + end - 2.0 * mean) / span**2]
        object.__setattr__(self, "end_rates", end)
        object.__setattr__(self, "cubics", np.stack(table, axis=1))

    @property
    def tangents(self) -> Floats:
        """(m, unknowns) unit tangents at the knots."""
        return self.frames.tangents

    def interval(self, arcs: Floats) -> Ints:
        """(n,) the knot before each place."""
        return np.searchsorted(self.arcs[1:-1], arcs, side="right")

    def cubic(self, arcs: Floats) -> Floats:
        """(n, unknowns) turns by the cubics, rad."""
        if len(self.arcs) == 1:
            return np.repeat(self.turns, len(arcs), axis=0)
        return self._cubic(arcs, self.interval(arcs))

    def _cubic(self, arcs: Floats, i: Ints) -> Floats:
        by, along = self.cubics[i], (arcs - self.arcs[i])[:, None]
        return np.asarray(by[:, 0] + along * (by[:, 1] + along * (by[:, 2] + along * by[:, 3])))

    def cubic_and_rates(self, arcs: Floats, i: Ints) -> tuple[Floats, Floats]:
        """(n, unknowns) turns by the cubics of these intervals, and what they change by per arc."""
        by, along = self.cubics[i], (arcs - self.arcs[i])[:, None]
        y = by[:, 0] + along * (by[:, 1] + along * (by[:, 2] + along * by[:, 3]))
        return y, by[:, 1] + along * (2.0 * by[:, 2] + 3.0 * along * by[:, 3])

    def at(self, arcs: Floats) -> Floats:
        """(n, unknowns) exact turns at places along the curve."""
        i = self.interval(arcs)
        return solve_on(self.curve, self._cubic(arcs, i), self.tangents[i])


def solve_on(curve: Curve, y: Floats, plane: Floats) -> Floats:
    """Newton from y (poses, unknowns) to the curve, each within the plane through its start across `plane`.

    What can't be closed comes back as near as it got; callers look at the residual.
    """
    y = y.copy()
    for _ in range(8):
        residual = curve.residual(y)
        lack = np.abs(residual).max(axis=1, initial=0.0)
        left = np.flatnonzero(lack > curve.solved)
        if len(left) == 0:
            break
        if len(left) == len(y):
            y -= newton_step(curve, y, residual, plane)
        else:
            y[left] -= newton_step(curve, y[left], residual[left], plane[left])
    return y


def newton_step(curve: Curve, y: Floats, residual: Complexes, plane: Floats, along: Floats | None = None) -> Floats:
    """The step to take off y: the residual undone, and `along` undone in the direction of `plane` (none: 0)."""
    right = np.concatenate([residual.real, residual.imag, np.zeros((len(y), 1))], axis=1)
    if along is not None:
        right[:, -1] = along
    return solved(curve, y, plane, right[:, :, None])[:, :, 0]


def solved(curve: Curve, y: Floats, plane: Floats, right: Floats) -> Floats:
    """(poses, unknowns, k) what the Jacobian at y, with `plane` as its last row, takes to `right`.

    right : (poses, 2·rows + 1, k), the real parts, the imaginary parts, and along the plane.
    """
    matrix = _with_row(curve.jacobian(y), plane)
    if not curve.redundant:
        try:
            return np.asarray(np.linalg.solve(matrix, right))
        except np.linalg.LinAlgError:
            pass
    # The plane's row is a pure number beside rows in mm: scaled alike, or the least squares would neglect it.
    scale = np.ones((right.shape[1], 1))
    scale[-1] = curve.size
    return np.asarray(np.linalg.pinv(matrix * scale, rcond=1e-11) @ (right * scale))


def _with_row(jacobian: Complexes, row: Floats) -> Floats:
    return np.concatenate([jacobian.real, jacobian.imag, row[:, None, :]], axis=1)


def frames(curve: Curve, y: Floats, heading: Floats) -> Frames:
    """The frames at points (m, unknowns) of the curve, each tangent on the side of `heading`."""
    jacobian = curve.jacobian(y)
    tangents, inverse = _tangents_and_inverse(curve, jacobian, heading)
    rows = jacobian.shape[1]
    turned = (inverse[:, :, :rows] - 1j * inverse[:, :, rows:]) @ jacobian
    curl = np.abs(_times(turned.imag, tangents**2))
    return Frames(tangents, np.minimum(np.abs(turned), LARGEST_SWAY), np.minimum(curl, LARGEST_SWAY))


def tangents_at(curve: Curve, y: Floats, heading: Floats) -> Floats:
    """(m, unknowns) unit tangents at points of the curve, each on the side of `heading`."""
    return _tangents_and_inverse(curve, curve.jacobian(y), heading)[0]


def _times(matrices: Floats, vectors: Floats) -> Floats:
    """(m, n, n) · (m, n) → (m, n)."""
    return np.asarray((matrices @ vectors[:, :, None])[:, :, 0])


def _tangents_and_inverse(curve: Curve, jacobian: Complexes, heading: Floats) -> tuple[Floats, Floats]:
    if not curve.redundant:
        return _frame_by_inverse(jacobian, heading)
    tangents, inverse = _frame_by_rank(curve, jacobian)
    return tangents * np.where(np.einsum("ij,ij->i", tangents, heading) < 0.0, -1.0, 1.0)[:, None], inverse


def _frame_by_inverse(jacobian: Complexes, heading: Floats) -> tuple[Floats, Floats]:
    """One inverse of the Jacobian with the heading as its last row gives tangent and pseudo-inverse."""
    matrix = _with_row(jacobian, heading)
    try:
        inverse = np.linalg.inv(matrix)
    except np.linalg.LinAlgError:
        inverse = np.linalg.pinv(matrix)
    tangents = inverse[:, :, -1]
    length = np.linalg.norm(tangents, axis=1, keepdims=True)
    tangents = tangents / np.where(length > 0.0, length, 1.0)
    across = inverse[:, :, :-1]
    return tangents, across - tangents[:, :, None] * (tangents[:, None, :] @ across)


def _frame_by_rank(curve: Curve, jacobian: Complexes) -> tuple[Floats, Floats]:
    """Where rows repeat (twin arms), the singular values that matter are known in number."""
    matrix = np.concatenate([jacobian.real, jacobian.imag], axis=1)
    left, values, right = np.linalg.svd(matrix, full_matrices=True)
    rank = curve.unknowns - 1
    kept = np.maximum(values[:, :rank], 1e-300)
    inverse = (np.swapaxes(right[:, :rank], 1, 2) / kept[:, None, :]) @ np.swapaxes(left[:, :, :rank], 1, 2)
    return right[:, rank], inverse
