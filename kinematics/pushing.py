"""Pushing: which way to move each free pin so that the worst check gets better, and how much that brings per mm.

A *push* is the steepest way for one pin alone, the others standing: the direction of its rate (`kinematics.slopes`),
and the rate along it. Small rates are left out: there is no point in telling where to push what hardly matters. All
pins come from one solve at one pose, so it can be told while a pin is dragged.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex
from kinematics.following import WAYS, following, panel_still
from kinematics.slopes import told

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.project import Point
    from kinematics.results import Check, Pose

SINGULAR = 1e-3
"""A pin whose place at a pose hardly depends on its shut place (the determinant of the one by the other)."""
LEAST = 0.02
"""mm or deg per mm below which a pin isn't worth pushing."""


@dataclass(frozen=True, slots=True)
class Push:
    """What one pin can do for a check.

    way : unit vector, where the pin is pushed.   per_mm : how much better the check gets per mm that way, above 0:
    mm, or deg for an opening, a transmission angle, and a gap that touches (less of the travel in contact; but mm less
    deep, where that has no honest rate).
    """

    pivot: str
    way: Point
    per_mm: float


@dataclass(frozen=True, slots=True)
class Pushes:
    """The pushes for one check, of the free pins that matter, in the project's order.

    by_depth : for a gap that touches, whether the rates are of the depth (mm), not of the travel in contact.
    """

    check: Check
    pins: tuple[Push, ...]
    by_depth: bool = False

    @property
    def in_degrees(self) -> bool:
        """Whether the rates are degrees per mm."""
        touches = self.check.kind == "gap" and self.check.have is not None and self.check.have <= 0.0
        return (touches and not self.by_depth) or self.check.kind in ("opening", "transmission")


def pushes(analysis: Analysis, check: Check | None = None, pose: Pose | None = None) -> Pushes | None:
    """Which way to push the free pins for a check, or without one for the worst; None where no rate is honest.

    pose : where the pins are pushed; the ways are then those in which they go there, panel held, and per_mm counts
    from there too. None: shut. Pins that can't be pushed at that pose are left out.
    """
    if not analysis.checks:
        return None
    check = analysis.checks[0] if check is None else check
    known = told(analysis, check)
    if known is None:
        return None
    rates = known.rates
    if pose is not None and pose.deg > 0.0:
        rates = _at_pose(analysis, pose, rates)
    found = []
    for pivot, (x, y) in zip(analysis.project.pivots, rates.tolist(), strict=True):
        rate = math.hypot(x, y)
        if not pivot.locked and rate >= LEAST:
            found.append(Push(pivot.id, (x / rate, y / rate), rate))
    return Pushes(check, tuple(found), known.by_depth)


def _at_pose(analysis: Analysis, pose: Pose, rates: Floats) -> Floats:
    """Rates per mm of the pivots' places at a pose, from those per mm of their shut places; 0 where that is singular.

    With the place at the pose p and the shut place s, dp = M·ds; so what is rate·ds is also (M⁻ᵀ·rate)·dp.
    """
    y = analysis.unknowns(pose)
    follow = following(analysis.sweep, y, panel_still(analysis.sweep, y))
    pins = np.arange(len(rates))
    columns = np.array([analysis.links.index(pivot.joins[0]) for pivot in analysis.project.pivots])
    e = follow.e[0, columns]
    places = follow.shifts[0, columns] + e * as_complex(pivot.at for pivot in analysis.project.pivots)
    moves = follow.drifts(np.zeros_like(pins), columns, places)[pins, pins] + e[:, None] * WAYS
    M = np.stack([moves.real, moves.imag], axis=1)
    area = M[:, 0, 0] * M[:, 1, 1] - M[:, 0, 1] * M[:, 1, 0]
    sound = np.isfinite(area) & (np.abs(area) > SINGULAR)
    found = np.zeros_like(rates)
    found[sound] = np.linalg.solve(np.swapaxes(M[sound], 1, 2), rates[sound][:, :, None])[:, :, 0]
    return found
