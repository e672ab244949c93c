"""Hinges as built, drawn beside what is drawn: in thin dashed lines, with the smallest gaps. No Qt here.

Each measured hinge stands with its panel at the turn that the drawn panel has; below its own shut it stays shut. Left
and right have dashes of their own, and words at their gaps say which is which.
"""

from __future__ import annotations

from dataclasses import replace
from math import degrees
from typing import TYPE_CHECKING

from app.as_made import both_built
from app.lengths import format_angle, format_length
from app.shapes import Label, Layer, Pen, Shape, Stroke
from app.trials.picture import beside
from kinematics.built_beside import panel_turn

if TYPE_CHECKING:
    from app.lengths import Units
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.built_beside import Beside
    from kinematics.project import Point
    from kinematics.results import Gap

DASHES = {"left": (7.0, 3.0), "right": (2.5, 2.5)}


def made_shapes(analysis: Analysis, deg: float, look: Look, units: Units) -> list[Shape]:
    """Give the measured hinges as built at an opening of the drawn one; nothing where they aren't to be shown."""
    if not analysis.project.made.shown:
        return []
    found: list[Shape] = []
    for now in both_built(analysis):
        if now.made.is_said and now.analysis is not None:
            found += _hinge(analysis, now, deg, look, units)
    return found


def _hinge(drawn: Analysis, now: Beside, deg: float, look: Look, units: Units) -> list[Shape]:
    """One hinge, all of it on the drawn fixed link."""
    assert now.analysis is not None
    assert now.built is not None
    fixed, dashes = drawn.project.fixed.id, DASHES[now.hand]
    own = deg - now.analysis.sweep.sign * degrees(panel_turn(now.built))
    found: list[Shape] = []
    for shape in beside(now.analysis, own, fixed, look):
        named = replace(shape, key=f"as built {now.hand}:{shape.key}")
        if isinstance(named, Stroke):
            named = replace(named, pen=replace(named.pen, dash=dashes), layer=Layer.GAPS)
        found.append(named)
    for gap in now.analysis.gaps:
        if gap.wanted and gap.at_points is not None and gap.smallest:
            found += _gap(now, gap, gap.at_points, fixed, look, units)
    return found


def _gap(now: Beside, gap: Gap, ends: tuple[Point, Point], fixed: str, look: Look, units: Units) -> list[Shape]:
    """The smallest gap over the travel, with its figure."""
    key = f"as built {now.hand}:{gap.between[0]}|{gap.between[1]}"
    ink = look.short if gap.ok is False else look.path
    middle = (0.5 * (ends[0][0] + ends[1][0]), 0.5 * (ends[0][1] + ends[1][1]))
    words = f"{now.hand} as built: {format_length(gap.smallest, units)} at {format_angle(gap.at_deg, units)}"
    return [
        Stroke(key, fixed, ends, Pen(ink, look.thin, DASHES[now.hand]), Layer.GAPS),
        Label(
            f"{key}:label",
            fixed,
            middle,
            words,
            ink,
            look.paper,
            look.small_px,
            (-1.0, -1.0),
            rank=3,
            leader=True,
            clear_px=30.0,
        ),
    ]
