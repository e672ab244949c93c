"""Edits that need the solver: a pivot dragged at any pose.

The hand says where the pivot shall stand at the pose shown; wanted is its *shut* place, from which all else follows.
The other pivots keep their shut places and the panel its opening. Newton with the 2 × 2 change of the place at the
pose with the shut place finds it, in steps short enough to stay on the branch.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import curve_of, solve_on
from kinematics.closure import Closure, build
from kinematics.edits import move_pivot
from kinematics.motion import place_gradient, tangents
from kinematics.sweep import sweep

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.project import Point, Project
    from kinematics.results import Pose

NEAR = 1e-7
"""The pivot stands under the hand when it is this near, mm."""
STEP_SHARE = 0.04
"""Longest step of the pivot at the pose, as a share of the linkage's size."""
PATIENCE = 4
"""Steps that may pass without coming a tenth nearer."""
FARTHEST = 1e5
"""Coordinates beyond this are refused by the project."""


def drag_pivot(project: Project, analysis: Analysis, pivot: str, pose: Pose, to: Point) -> Project | None:
    """The project with a pivot's shut place such that the pivot stands at `to` in the pose shown.

    analysis : of `project`, or of a project that differs from it only by this pivot's place. pose : one of its poses.
    Returns None where that can't be: the loops can't close, or the branch from shut no longer reaches that opening.
    """
    shut = pose.deg == 0.0 and not np.any(pose.turns)
    if shut or project.fixed.id in project.pivot(pivot).joins or analysis.state in ("locked", "loose"):
        return move_pivot(project, pivot, to)
    found = _shut_place(project, analysis, pivot, pose, complex(*to))
    if found is None:
        return None
    moved = move_pivot(project, pivot, (found.real, found.imag))
    return moved if _stands(moved, analysis, pivot, pose, to) else None


def _shut_place(project: Project, analysis: Analysis, pivot: str, pose: Pose, to: complex) -> complex | None:
    """Newton, the target drawn along so that each step stays short; None where it is singular or doesn't settle."""
    index = next(k for k, each in enumerate(project.pivots) if each.id == pivot)
    link = analysis.links.index(project.pivots[index].joins[0])
    closure, y = analysis.sweep.closure, analysis.unknowns(pose)[0]
    held = _held(analysis, y)
    place = complex(*project.pivot(pivot).at)
    longest = STEP_SHARE * closure.size
    nearest, idle = math.inf, 0
    for _ in range(60):
        closure = _placed(project, closure, pivot, place)
        moving = replace(
            analysis.sweep, closure=closure, branch=replace(analysis.sweep.branch, curve=curve_of(closure))
        )
        y = solve_on(moving.branch.curve, y[None], held[None])[0]
        if not np.abs(moving.branch.curve.residual(y[None])).max(initial=0.0) <= 1e-9 * closure.size:
            return None
        stands, change = place_gradient(moving, y, index, link, held)
        lack = to - stands
        if abs(lack) < NEAR:
            return place
        # Out of reach, Newton wanders about the nearest place that there is: a few steps tell.
        idle = 0 if abs(lack) < 0.9 * nearest else idle + 1
        nearest = min(nearest, abs(lack))
        if idle > PATIENCE or abs(np.linalg.det(change)) < 1e-4:
            return None
        lack *= min(1.0, longest / abs(lack))
        step = np.linalg.solve(change, [lack.real, lack.imag])
        place += complex(*step) * min(1.0, longest / max(float(np.hypot(*step)), 1e-300))
        if not math.hypot(place.real, place.imag) < FARTHEST:
            return None
    return None


def _held(analysis: Analysis, y: Floats) -> Floats:
    """The direction that stays: the panel's turn, or, where the panel slides, the motion itself."""
    if analysis.state == "slides":
        return np.asarray(tangents(analysis.sweep, y[None])[0])
    row = np.zeros_like(y)
    row[analysis.sweep.panel] = 1.0
    return row


def _placed(project: Project, closure: Closure, pivot: str, place: complex) -> Closure:
    """The closure with that pivot elsewhere, and the same links held together."""
    return build(move_pivot(project, pivot, (place.real, place.imag))).with_groups(closure.group)


def _stands(moved: Project, analysis: Analysis, pivot: str, pose: Pose, to: Point) -> bool:
    """Whether the new branch from shut really brings the pivot there."""
    if analysis.state == "slides":
        return sweep(moved, analysis.sweep).freedom.state == "slides"
    place = stands_at(moved, analysis, pivot, pose.deg)
    return place is not None and math.dist(place, to) < 1e-4


def stands_at(project: Project, near: Analysis, pivot: str, deg: float) -> Point | None:
    """Where a pivot stands at an opening (deg), in a project much like the one that was analysed.

    Returns None where the linkage moves otherwise than that one, or doesn't get to that opening.
    """
    again = sweep(project, near.sweep)
    opening = math.radians(deg)
    if again.freedom.state != near.state or again.largest < opening:
        return None
    y = again.at_openings(np.array([opening]))
    on = project.pivot(pivot)
    column = again.closure.links.index(on.joins[0])
    z = again.shifts(y)[0, column] + np.exp(1j * again.link_turns(y)[0, column]) * complex(*on.at)
    return float(z.real), float(z.imag)
