"""Following: how all links move when a pivot's shut place does, at any poses and for all pivots at once.

The loops are linear in the pivots' places as they are in the factors exp(i·turn), so their change with one place is
known without solving anything: F_p = (what the maps say of places 1 and 0) @ e. The links must undo it: J·dy = −F_p.
One row is left to choose, what *stands still* meanwhile: the panel's turn (a figure read at a given opening), or the
motion itself (a figure at its least place, where the motion changes nothing to first order).

At a *dead point* the pose itself goes with the pivots. Let t be the motion there (it has no part of the panel's turn)
and w the forces in the loops that need none from the panel: w·J = 0 but for the panel's column. Then
    w·J_panel·dφ + w·F_p = 0        says how the largest opening φ changes, and
    w·d(J·t) = 0                    how far along t the pose goes besides.

Source: implicit differentiation; a fold's conditions as in any text on continuation, e.g. E. L. Allgower, K. Georg,
Numerical Continuation Methods, 1990 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen
from kinematics.branch import solved, tangents_at
from kinematics.closure import maps, walk_from

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats, Ints
    from kinematics.closure import Joint
    from kinematics.sweep import Sweep

WAYS = np.array([1.0, 1j])
"""A pivot's shut place moves along x, and along y."""


@dataclass(frozen=True, slots=True, eq=False)
class Following:
    """How links follow pivots at some poses.

    e, shifts : (poses, links) complex: where the links stand.   turns : (poses, links, pivots, 2) rad, and moved :
    the same shape, complex mm, of the shifts: per mm of each pivot's shut place along x and along y.
    """

    e: Complexes
    shifts: Complexes
    turns: Floats
    moved: Complexes

    def drifts(self, poses: Ints, columns: Ints, places: Complexes) -> Complexes:
        """(n, pivots, 2) how points of links (columns) that stand at places move, each at its own pose."""
        arm = places - self.shifts[poses, columns]
        return self.moved[poses, columns] + 1j * self.turns[poses, columns] * arm[:, None, None]

    def only(self, pose: int) -> Following:
        """One of the poses alone."""
        here = slice(pose, pose + 1)
        return Following(self.e[here], self.shifts[here], self.turns[here], self.moved[here])


@lru_cache(maxsize=8)
def _pin_maps(joints: tuple[Joint, ...], base: int, links: int, pivots: int) -> tuple[Complexes, Complexes]:
    """(pivots, links, links) and (pivots, loops, links): how shift map and loops change per mm of each pivot."""
    walk = walk_from(base, links, joints)
    found = []
    for pivot in range(pivots):
        on = np.array([float(joint.pivot == pivot) for joint in joints], dtype=np.complex128)
        found.append(maps(walk, joints, on, on))
    return frozen(np.array([shift for shift, _ in found])), frozen(np.array([loops for _, loops in found]))


def _changes(sweep: Sweep) -> tuple[Complexes, Complexes]:
    closure = sweep.closure
    shifts, loops = _pin_maps(closure.joints, closure.fixed, len(closure.links), len(closure.places))
    return shifts, loops[:, closure.lively]


def pin_loops(sweep: Sweep) -> Complexes:
    """(pivots, rows, links): how the loops that say anything change per mm of each pivot, before the turns."""
    return _changes(sweep)[1]


def following(sweep: Sweep, y: Floats, still: Floats) -> Following:
    """How the links follow at exact poses y (poses, unknowns), while the directions `still` (alike) don't move."""
    e = np.exp(1j * sweep.closure.link_turns(y))
    return _told(sweep, e, _steps(sweep, y, e, still))


def panel_still(sweep: Sweep, y: Floats) -> Floats:
    """The row that holds the panel's turn."""
    row = np.zeros_like(y)
    row[:, sweep.panel] = 1.0
    return row


def motion_still(sweep: Sweep, arcs: Floats, y: Floats) -> Floats:
    """The row that lets nothing go along the motion; unlike the panel's it is sound near a dead point too."""
    branch = sweep.branch
    return tangents_at(branch.curve, y, branch.tangents[branch.interval(arcs)])


def following_fold(sweep: Sweep) -> Following:
    """How the links follow at the dead point in which the branch ends, which itself goes with the pivots."""
    curve = sweep.branch.curve
    y = sweep.branch.turns[-1:]
    t = tangents_at(curve, y, sweep.branch.tangents[-1:])
    e = np.exp(1j * sweep.closure.link_turns(y))
    steps = _steps(sweep, y, e, t)[0]
    jacobian = curve.jacobian(y)[0]
    parted = np.concatenate([jacobian.real, jacobian.imag])
    w = np.linalg.svd(np.delete(parted, sweep.panel, axis=1))[0][:, -1]
    forces = w[: len(jacobian)] - 1j * w[len(jacobian) :]  # w · (Re, Im) of rows is Re(forces @ rows)
    bent = (forces @ (1j * jacobian) * t[0]).real
    loops = _changes(sweep)[1]
    lever = np.einsum("r,prk,k->p", forces, loops, 1j * e[0] * sweep.closure.link_turns(t)[0])
    direct = np.stack([lever.real, (1j * lever).real], axis=1)
    along = -(np.einsum("u,upd->pd", bent, steps) + direct) / (bent @ t[0])
    return _told(sweep, e, (steps + t[0][:, None, None] * along)[None])


def _steps(sweep: Sweep, y: Floats, e: Complexes, still: Floats) -> Floats:
    """(poses, unknowns, pivots, 2) rad per mm."""
    lack = np.einsum("prk,nk->nrp", _changes(sweep)[1], e)
    both = (lack[..., None] * WAYS).reshape(len(y), lack.shape[1], 2 * lack.shape[2])
    right = np.concatenate([both.real, both.imag, np.zeros((len(y), 1, both.shape[2]))], axis=1)
    return -solved(sweep.branch.curve, y, still, right).reshape(len(y), -1, lack.shape[2], 2)


def _told(sweep: Sweep, e: Complexes, steps: Floats) -> Following:
    """All links' turns and shifts, from the steps of the unknowns."""
    closure = sweep.closure
    turns = np.moveaxis(closure.link_turns(np.moveaxis(steps, 1, -1)), -1, 1)
    spun = 1j * e[:, :, None, None] * turns
    direct = np.einsum("pkl,nl->nkp", _changes(sweep)[0], e)[..., None] * WAYS
    moved = direct + np.einsum("kl,nlpd->nkpd", closure.shift_map, spun) - closure.centre * spun
    shifts = e @ closure.shift_map.T + closure.centre * (1.0 - e)
    return Following(e, shifts, turns, moved)
