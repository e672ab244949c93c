"""Transmitting: how the transmission angle of a link changes with every pivot's shut place, at one pose.

With the panel held, stretching a link by dℓ turns it by T·dℓ, and cot μ = ℓ·|T| (`kinematics.motion`). T is one number
of the solution s of M·s = r, M being the Jacobian with the panel's row, r how the loops change as the link grows. A
pivot that moves changes M and r, through its own place and through how all links follow; so dT is one of the numbers of
M⁻¹·(dr − dM·s), and all pivots take one solve.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import solved
from kinematics.following import WAYS, panel_still, pin_loops

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.following import Following
    from kinematics.motion import Transmitter
    from kinematics.project import Project


def transmission_slopes(project: Project, links: Transmitter, one: int, y: Floats, follow: Following) -> Floats:
    """(pivots, 2) degrees per mm of the transmission angle of a link (its place among the transmitter's).

    y : (1, unknowns) the pose.   follow : how the links follow there, at this pose alone.
    """
    sweep = links.sweep
    closure, column, e = sweep.closure, links.links[one], follow.e[0]
    held = panel_still(sweep, y)
    lack = (links.rows[one] @ e)[None]
    s = solved(sweep.branch.curve, y, held, _parted(lack)[:, :, None])[0, :, 0]
    turned = closure.link_turns(s)
    loops, turns = closure.loops[closure.lively], follow.turns[0]
    grown, ways = _grown(project, links, one)
    dr = ways * lack[0][:, None, None] + np.einsum("rk,kpd->rpd", links.rows[one], 1j * e[:, None, None] * turns)
    own = np.einsum("prk,k->rp", pin_loops(sweep), 1j * e * turned)[..., None] * WAYS
    through = np.einsum("rk,kpd->rpd", loops * (e * turned), turns)
    change = (dr - own + through).reshape(1, len(loops), -1)
    dT = closure.link_turns(np.moveaxis(solved(sweep.branch.curve, y, held, _parted(change))[0], 0, -1))[:, column]
    length, T = float(links.lengths[one]), float(turned[column])
    cot = length * abs(T)
    changed = grown * abs(T) + length * np.sign(T) * dT.reshape(-1, 2)
    return np.asarray(np.degrees(-changed / (1.0 + cot**2)))


def _parted(rows: Complexes) -> Floats:
    """(1, rows, …) complex → (1, 2·rows + 1, …): real parts, imaginary parts, and nothing along the panel."""
    return np.concatenate([rows.real, rows.imag, np.zeros_like(rows[:, :1].real)], axis=1)


def _grown(project: Project, links: Transmitter, one: int) -> tuple[Floats, Complexes]:
    """(pivots, 2) mm by which the link grows, and by which factor's change its way turns, per mm of each pivot."""
    name = links.names[one]
    on = [k for k, pivot in enumerate(project.pivots) if name in pivot.joins]
    near, far = on[0], on[1]
    along = complex(*project.pivots[far].at) - complex(*project.pivots[near].at)
    way = along / abs(along)
    moves = np.zeros((len(project.pivots), 2), dtype=np.complex128)
    moves[far], moves[near] = WAYS, -WAYS
    turned = moves * way.conjugate()
    return turned.real, np.asarray(1j * turned.imag / abs(along), dtype=np.complex128)
