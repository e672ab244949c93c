"""Which pins matter: how a check's figure changes when one pivot's shut place is moved a little.

A figure that is a least distance over the travel changes, to first order, as the distance at the very pose where it is
least: that the least place itself wanders costs only second order (the envelope theorem). So the *exact* way looks at
one pose alone, holds the panel's turn, and asks how all links move when the pivot's shut place does: the loops are
linear in both, so one solve answers it. It is taken for gaps of outlines, for limits on marks and for pin spacing.

What it can't answer (a band whose own edge moves with the pivot, an opening, a contact, a sweep that ends at a dead
point, a panel that slides) goes by *central differences* of whole analyses, with two steps that must agree; where they
don't, the figure has a bend just here, and there is no honest rate.

A gap that touches has figure 0 on both sides, which tells nothing; its rate is that of the travel spent in contact, in
degrees, counted so that less contact is better.

Source of the theorem: J. M. Danskin, The Theory of Max-Min, 1967 (from memory); the rest derives.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.analysis import Analysis, analyse
from kinematics.branch import newton_step
from kinematics.closure import maps
from kinematics.edits import move_pivot
from kinematics.errors import ProjectError

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Point
    from kinematics.results import Check, Pose

STEP = 0.04
"""mm by which a pivot is moved for a difference; then half of that."""
CONTACT_STEP = 0.4
"""mm where a contact's length is asked for, whose ends are known to some 1e-4 degrees."""
AGREE = 0.03
"""Share by which the rates of the two steps may differ …"""
AGREE_LEAST = 0.004
"""… or this much, mm or degrees per mm, whichever is more."""
KEPT = 16
"""Rates that are remembered, so that resting on a pin twice costs one reckoning."""


@dataclass(frozen=True, slots=True)
class Influence:
    """What one pivot does to one check.

    per_mm : change for the better per mm that the pivot's shut place moves to the right, and up: of the check's margin
    (mm; degrees for an opening), or where `in_contact` of the contact's length (degrees less).
    """

    check: Check
    per_mm: tuple[float, float]
    in_contact: bool = False


@lru_cache(maxsize=KEPT)
def influence(analysis: Analysis, pivot: str) -> Influence | None:
    """What a pivot does to the worst check of an analysis; None where there is no check, or no honest rate."""
    return influence_on(analysis, analysis.checks[0], pivot) if analysis.checks else None


def influence_on(analysis: Analysis, check: Check, pivot: str) -> Influence | None:
    """What a pivot does to one check of an analysis; None where there is no honest rate.

    Raises ProjectError where the project has no such pivot.
    """
    analysis.project.pivot(pivot)
    if check.have is None:
        return None
    if check.kind == "pin spacing":
        return Influence(check, _spacing_rate(analysis, check, pivot))
    exact = None if _touches(check) else _exact(analysis, check, pivot)
    rate = exact if exact is not None else differences(analysis, check, pivot)
    return None if rate is None else Influence(check, rate, _touches(check))


# ------------------------------------------------------------------------------------------------------- the exact way
def _exact(analysis: Analysis, check: Check, pivot: str) -> tuple[float, float] | None:
    """The rate at the check's own pose; None where that pose alone can't tell it."""
    if analysis.state != "moves" or analysis.sweep.branch.curve.redundant or check.deg is None:
        return None
    at_end = check.deg >= analysis.opening.reached_deg - 1e-9
    if at_end and analysis.opening.ends != "wanted opening":
        return None
    if check.kind == "limit":
        return _limit_rate(analysis, check, check.deg, pivot)
    return _gap_rate(analysis, check, check.deg, pivot) if check.kind == "gap" else None


def _gap_rate(analysis: Analysis, check: Check, deg: float, pivot: str) -> tuple[float, float] | None:
    project = analysis.project
    outlines = {outline.id for outline in project.outlines}
    bands = [name for name in check.subject if name not in outlines]
    if any(pivot in (pin.id for pin in project.pivots_on(name)) for name in bands):
        return None  # the band's own edge moves with its pin
    gap = next(gap for gap in analysis.gaps if gap.between == check.subject and gap.after_deg == check.after_deg)
    if gap.at_points is None:
        return None
    first, second = (complex(*point) for point in gap.at_points)
    along = (second - first) / abs(second - first)
    columns = [analysis.links.index(project.rides_on(name)) for name in check.subject]
    drift = _drifts(analysis, deg, pivot, list(zip(columns, (first, second), strict=True)))
    if drift is None:
        return None
    rate = ((drift[:, 1] - drift[:, 0]) * along.conjugate()).real
    return float(rate[0]), float(rate[1])


def _limit_rate(analysis: Analysis, check: Check, deg: float, pivot: str) -> tuple[float, float] | None:
    mark = analysis.project.mark(check.subject[0])
    column = analysis.links.index(mark.on)
    place = analysis.pose(deg).place(column, mark.at)
    drift = _drifts(analysis, deg, pivot, [(column, complex(*place))])
    if drift is None:
        return None
    moved = drift[:, 0].real if check.side.startswith("dx") else drift[:, 0].imag
    better = 1.0 if check.side.endswith("least") else -1.0
    return better * float(moved[0]), better * float(moved[1])


def _drifts(analysis: Analysis, deg: float, pivot: str, places: list[tuple[int, complex]]) -> Complexes | None:
    """(2, places) how points that ride on links (column, place now) move per mm of a pivot's shut place, along x and y.

    The panel's turn is held. None where the links can't follow at that pose.
    """
    turns, shifts, pose = _link_rates(analysis, deg, pivot)
    if not (np.isfinite(turns).all() and np.isfinite(shifts).all()):
        return None
    drifts = [shifts[:, column] + 1j * turns[:, column] * (place - pose.shifts[column]) for column, place in places]
    return np.stack(drifts, axis=1)


def _link_rates(analysis: Analysis, deg: float, pivot: str) -> tuple[Floats, Complexes, Pose]:
    """(2, links) turns in rad and shifts in mm of all links, per mm of a pivot's shut place along x and y; the pose."""
    closure, pose = analysis.sweep.closure, analysis.pose(deg)
    y = analysis.unknowns(pose)[0]
    e = np.exp(1j * closure.link_turns(y))
    index = next(k for k, each in enumerate(analysis.project.pivots) if each.id == pivot)
    on = np.array([float(joint.pivot == index) for joint in closure.joints], dtype=np.complex128)
    shift_change, loop_change = maps(closure.walk, closure.joints, on, on)
    lack = loop_change[closure.lively] @ e
    held = np.zeros_like(y)
    held[analysis.sweep.panel] = 1.0
    steps = newton_step(
        analysis.sweep.branch.curve, np.stack([y, y]), np.stack([lack, 1j * lack]), np.stack([held, held])
    )
    turns = closure.link_turns(-steps)
    moved = 1j * e * turns
    direct = np.stack([shift_change @ e, 1j * (shift_change @ e)])
    return turns, direct + moved @ closure.shift_map.T - closure.centre * moved, pose


def _spacing_rate(analysis: Analysis, check: Check, pivot: str) -> tuple[float, float]:
    """How the distance of two pins changes: along the line through them, for the two alone."""
    _, first, second = check.subject
    if pivot not in (first, second) or not check.have:
        return 0.0, 0.0
    here, there = (analysis.project.pivot(name).at for name in ((first, second) if pivot == first else (second, first)))
    return (here[0] - there[0]) / check.have, (here[1] - there[1]) / check.have


# --------------------------------------------------------------------------------------------------------- differences
def differences(analysis: Analysis, check: Check, pivot: str) -> tuple[float, float] | None:
    """The rate by whole analyses on both sides; None where a side can't be analysed or two steps disagree."""
    longest = CONTACT_STEP if _touches(check) else STEP
    rates = []
    for way in ((1.0, 0.0), (0.0, 1.0)):
        wide, narrow = (_slope(analysis, check, pivot, way, step) for step in (longest, longest / 2))
        if wide is None or narrow is None:
            return None
        if abs(wide - narrow) > max(AGREE * abs(narrow), AGREE_LEAST):
            return None
        rates.append(narrow)
    return rates[0], rates[1]


def _slope(analysis: Analysis, check: Check, pivot: str, way: Point, step: float) -> float | None:
    ahead, behind = (_figure_at(analysis, check, pivot, way, side * step) for side in (1.0, -1.0))
    return None if ahead is None or behind is None else (ahead - behind) / (2.0 * step)


def _figure_at(analysis: Analysis, check: Check, pivot: str, way: Point, by: float) -> float | None:
    """The check's figure with a pivot moved; None where the linkage is another one there."""
    at = analysis.project.pivot(pivot).at
    try:
        moved = move_pivot(analysis.project, pivot, (at[0] + by * way[0], at[1] + by * way[1]))
    except ProjectError:  # off the end of the sheet
        return None
    found = analyse(moved, steps=2, near=analysis)
    if found.state != analysis.state:
        return None
    return _figure(found, check)


def _touches(check: Check) -> bool:
    """Whether a check is of a gap that touches, so that its figure is 0 on both sides."""
    return check.kind == "gap" and check.have is not None and check.have <= 0.0


def _figure(analysis: Analysis, check: Check) -> float | None:
    """What a check's rate is of, more being better: its margin, or less contact from its opening on, deg."""
    if _touches(check):
        gap = next(gap for gap in analysis.gaps if gap.between == check.subject and gap.after_deg == check.after_deg)
        stretches = [(max(low, check.after_deg), high) for low, high in gap.touching_deg]
        return -sum(high - low for low, high in stretches if high > low)
    found = next((each for each in analysis.checks if _key(each) == _key(check)), None)
    return found.margin if found is not None and math.isfinite(found.margin) else None


def _key(check: Check) -> tuple[object, ...]:
    """What makes two checks one and the same want; what comes nearest the roof may be another link each time."""
    return check.kind, () if check.kind == "roof" else check.subject, check.side, check.after_deg, check.want
