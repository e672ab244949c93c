"""Which pins matter: how a check's figure changes when one pivot's shut place is moved a little.

Mostly the exact rates tell (`kinematics.slopes`). What they can't answer (a redundant linkage, a sweep that ends
without a dead point, a panel that slides) goes by *central differences* of whole analyses, with two steps that must
agree; where they don't, the figure has a bend just here, and there is no honest rate.

A gap that touches has figure 0 on both sides, which tells nothing; its rate is that of the travel spent in contact, in
degrees, or where that has none, the depth in mm; both counted so that less is better.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from kinematics.analysis import Analysis, analyse
from kinematics.edits import move_pivot
from kinematics.errors import ProjectError
from kinematics.slopes import told

if TYPE_CHECKING:
    from kinematics.project import Point
    from kinematics.results import Check

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
    (mm; degrees for an opening), or where `in_contact` of the contact's length (degrees less), or `by_depth` (mm less).
    """

    check: Check
    per_mm: tuple[float, float]
    in_contact: bool = False
    by_depth: bool = False


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
    exact = told(analysis, check)
    if exact is not None:
        index = next(k for k, each in enumerate(analysis.project.pivots) if each.id == pivot)
        return Influence(
            check, (float(exact.rates[index, 0]), float(exact.rates[index, 1])), _touches(check), exact.by_depth
        )
    rate = differences(analysis, check, pivot)
    return None if rate is None else Influence(check, rate, _touches(check))


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
    """What makes two checks one and the same want; what comes nearest the roof, or stands worst in a zone, may be
    another each time.
    """
    subject = {"roof": (), "zone": check.subject[:1]}.get(check.kind, check.subject)
    return check.kind, subject, check.side, check.after_deg, check.want
