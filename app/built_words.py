"""What is built, as strength reckons with it, in words: pins and plates typed elsewhere, and the whole stack."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_length
from app.strength_words import mode_words, safety_words, utilised_name
from kinematics.as_stacked import as_stacked
from kinematics.joints import joint_by_pivot
from kinematics.joints_made import choice_of
from kinematics.plating import are_said, sheet_of
from kinematics.strength_parts import joint_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import Utilised
    from kinematics.stacking import StackMade

SLACK = 1e-9


def built_pins(project: Project, pivot: str, units: Units) -> str:
    """Say what the pins are, or one pivot's ("": all)."""
    choice = choice_of(project, pivot or None)
    rated = None if project.strength is None else joint_of(project.strength, pivot).bushing
    name = "" if rated is None or rated.kind not in (None, choice.bushing) else f" of {rated.name}"
    bushing = "no bushings" if choice.bushing == "none" else f"{choice.bushing} bushings{name}"
    metal = "" if choice.metal is None else f" of {choice.metal.name}"
    size = format_length(choice.diameter or 0.0, units, fine=True)
    washer = format_length(project.stacking.washer, units, fine=True)
    return f"{'Pin' if pivot else 'Pins'} ⌀{size}{metal}, {bushing}, washers {washer}."


def built_plates(project: Project, pivot: str, units: Units) -> str:
    """Say what the plates are, or those on one pivot; "" where nothing is said of plates."""
    if not are_said(project):
        return ""
    if pivot:
        made = joint_by_pivot(project)[pivot]
        outer, inner = (format_length(mm, units, fine=True) for mm in (made.joint.outer, made.joint.inner))
        return f"At {pivot}: {made.outer} {outer} outside, {', '.join(made.inner)} {inner}, {made.joint.shear} shear."
    named = {link.id: sheet_of(project, link.id) for link in project.links if link.kind == "link"}
    alike = len(set(named.values())) == 1
    each = [f"{link} {_sheet(*sheet, units)}" for link, sheet in named.items()]
    told = _sheet(*next(iter(named.values())), units) if alike and named else ", ".join(each)
    metal = project.plating.metal
    return f"Plates: {told}{'' if metal is None else f' of {metal.name}'}." if named else ""


def _sheet(thick: float, count: int, units: Units) -> str:
    return f"{'2 × ' if count > 1 else ''}{format_length(thick, units, fine=True)}"


# ------------------------------------------------------------------------------------------------------------ the stack
def stacked_sentences(analysis: Analysis, stack: StackMade, units: Units) -> list[str]:
    """Say what bears least in the stack as it is, where that isn't what the figures of the joints say; every way that
    falls short. Nothing where nothing is said of strength.
    """
    figures = as_stacked(analysis.project, analysis.strength, stack)
    short = short_as_stacked(figures)
    if short or not figures:
        return [_stacked(figure, stack, units) for figure in short]
    return [f"In the stack as it is nothing falls short; least: {_least(figures[0], stack, units)}."]


def short_sentences(analysis: Analysis, stack: StackMade, units: Units) -> list[str]:
    """Say what falls short in the stack alone, and not by the joints' own figures already."""
    figures = as_stacked(analysis.project, analysis.strength, stack)
    told = () if analysis.strength is None else analysis.strength.figures
    known = {(each.mode, each.pivot, each.link) for each in told if each.ratio < 1.0 - SLACK}
    new = [each for each in short_as_stacked(figures) if (each.mode, each.pivot, each.link) not in known]
    return [_stacked(figure, stack, units) for figure in new]


def short_as_stacked(figures: Sequence[Utilised]) -> list[Utilised]:
    """Those that fall short, worst first."""
    return [figure for figure in figures if figure.ratio < 1.0 - SLACK]


def _stacked(figure: Utilised, stack: StackMade, units: Units) -> str:
    least = _least(figure, stack, units)
    return f"In the stack as it is, short: {least}. Bring its links nearer, or take thicker ones."


def _least(figure: Utilised, stack: StackMade, units: Units) -> str:
    has, wants = (safety_words(value, units) for value in (figure.have, figure.want))
    pin = stack.pin(figure.pivot)
    apart = None if pin is None or pin.bearing is None else pin.bearing.apart
    way = (
        ""
        if apart is None or figure.mode.startswith("bushing")
        else f", {format_length(apart, units, fine=True)} between its plates"
    )
    return f"{utilised_name(figure)} ({mode_words(figure.mode)}), a safety of {has} where {wants} is wanted{way}"
