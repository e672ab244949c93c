"""Equilibrium of all links at many poses: multipliers of the loops, and from them the force at every joint.

The pins that close loops hold by multipliers λ (N, complex: the force on a joint's first link, the opposite on its
second), one for each loop. Sums of forces do the rest: a pin on the way from the fixed link out to a link bears what
all that hangs beyond it needs. That sum knows no pose, so it is a matrix of 0, 1 and −1, made once.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats, Ints
    from kinematics.closure import Closure, Joint


@dataclass(frozen=True, slots=True, eq=False)
class Bearing:
    """Sums of forces: the force on every joint's second link = by_links @ loads on links + by_loops @ λ.

    by_links (joints, links), by_loops (joints, loops).   turning (joints, links): 1 at the second link, −1 at the
    first, so that turning @ turns is how the second turns against the first.
    """

    by_links: Floats
    by_loops: Floats
    turning: Floats


def bearing(closure: Closure) -> Bearing:
    """The sums of one linkage, all of whose links are joined."""
    return _bearing(len(closure.links), closure.joints, closure.walk.steps, closure.walk.closing)


@lru_cache(maxsize=16)
def _bearing(
    links: int, joints: tuple[Joint, ...], steps: tuple[tuple[int, int, int], ...], closing: tuple[int, ...]
) -> Bearing:
    """The same for a way from the fixed link over the joints; it stays while pins are dragged."""
    turning = np.zeros((len(joints), links))
    for k, joint in enumerate(joints):
        turning[k, joint.second], turning[k, joint.first] = 1.0, -1.0
    on_links = -turning[list(closing)].T  # λ on the first link, −λ on the second
    beyond = np.eye(links)
    by_links = np.zeros((len(joints), links))
    by_loops = np.zeros((len(joints), len(closing)))
    for at, other, index in reversed(steps):
        beyond[at] += beyond[other]
        way = -1.0 if joints[index].second == other else 1.0
        by_links[index] = way * beyond[other]
        by_loops[index] = way * beyond[other] @ on_links
    for row, index in enumerate(closing):
        by_loops[index, row] = -1.0
    return Bearing(frozen(by_links), frozen(by_loops), frozen(turning))


@dataclass(frozen=True, slots=True, eq=False)
class Reactions:
    """The loops' Jacobian at poses, made ready to give multipliers for any loads.

    moving : columns of the links that turn.   transposed (n, moving, 2·loops): Jᵀ, mm per rad.   inverse (n, moving,
    2·loops): what undoes J across the motion; rates (n, links): the motion, of unit length; both None where there are
    more loops than the motion leaves.
    """

    moving: Ints
    transposed: Floats
    inverse: Floats | None
    rates: Floats | None

    def pick(self, which: slice) -> Reactions:
        """At some of the poses."""
        inverse, rates = (None if each is None else each[which] for each in (self.inverse, self.rates))
        return Reactions(self.moving, self.transposed[which], inverse, rates)

    def multipliers(self, bears: Bearing, work: Floats, by_link: Complexes) -> Complexes:
        """(n, loops) λ for work (n, links) N·mm per rad, in balance along the motion, and forces by_link (n, links).

        For many loads at each pose, (n, m, links) both, λ is (n, m, loops).
        """
        if work.ndim == 2:
            return np.asarray(self.multipliers(bears, work[:, None], by_link[:, None])[:, 0])
        right = -work[:, :, self.moving]
        if self.inverse is not None:
            flat = right @ self.inverse
        else:
            flat = self._least(bears, right, by_link @ bears.by_links.T)
        half = flat.shape[2] // 2
        return np.asarray(flat[:, :, :half] + 1j * flat[:, :, half:])

    def _least(self, bears: Bearing, right: Floats, borne: Complexes) -> Floats:
        """The multipliers with the least sum of squares over all joints' forces, of many that hold."""
        root = np.linalg.cholesky(bears.by_loops.T @ bears.by_loops)
        both = np.kron(np.eye(2), np.linalg.inv(root))
        lean = np.concatenate([borne.real @ bears.by_loops, borne.imag @ bears.by_loops], axis=2) @ both.T
        rows = self.transposed @ both.T
        asked = right + lean @ np.swapaxes(rows, 1, 2)
        found = asked @ np.swapaxes(np.linalg.pinv(rows, rcond=1e-11), 1, 2)
        return np.asarray((found - lean) @ both)


def reactions(closure: Closure, e: Complexes, heading: Floats) -> Reactions:
    """Make ready at poses (n, links) e; heading (n, links): about how the links turn along the motion."""
    moving = np.flatnonzero(np.arange(len(closure.links)) != closure.fixed)
    rows = (1j * e[:, moving])[:, None, :] * closure.loops[:, moving]
    loops = len(closure.loops)
    whole: Floats = np.empty((len(e), 2 * loops + 1, len(moving)))
    whole[:, :loops], whole[:, loops:-1] = rows.real, rows.imag
    transposed = np.swapaxes(whole[:, :-1], 1, 2)
    if 2 * loops != len(moving) - 1:
        return Reactions(moving, transposed, None, None)
    np.multiply(closure.size, heading[:, moving], out=whole[:, -1])
    try:
        inverse = np.asarray(np.linalg.inv(whole), dtype=np.float64)
    except np.linalg.LinAlgError:
        inverse = np.asarray(np.linalg.pinv(whole, rcond=1e-14), dtype=np.float64)
    rates = np.zeros(e.shape)
    rates[:, moving] = inverse[:, :, -1]
    length = np.sqrt((rates**2).sum(axis=1, keepdims=True))
    return Reactions(moving, transposed, inverse[:, :, :-1], rates / np.where(length > 0.0, length, 1.0))
