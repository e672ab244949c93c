"""What the strip's lanes of lifting say: wants, signs, ends, figures at a pose; sentences of their own. No Qt here."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_angle, format_force
from app.load_words import lift_sentences
from app.words import FAILS, HOLDS

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.carrying import Carried, PinPeak
    from kinematics.results import Balance

RISES = "rises by itself"


def want_words(newtons: float, units: Units, *, shut: bool = False) -> str:
    """A want of the push: "want at most 80 N", "want at most 60 N shut"."""
    return f"want at most {format_force(newtons, units)}{' shut' if shut else ''}"


def balance_sign(balance: Balance, units: Units) -> str:
    """A balance in short: "stays at 34°", "balances at 34°, won't stay"."""
    at = format_angle(balance.deg, units)
    return f"stays at {at}" if balance.stable else f"balances at {at}, won't stay"


def reading_words(now: Carried, units: Units) -> str:
    """The push at the pose: "56 N", with friction "52 … 61 N"; a stroke where none is told."""
    if now.push is None:
        return NOTHING
    if now.raising is not None and now.letting_down is not None:
        return f"{format_force(now.letting_down, units, unit=False)} … {format_force(now.raising, units)}"
    return format_force(now.push, units)


def effort_head(analysis: Analysis, units: Units) -> str:
    """The push in short, as it stands beside the lane: "✓ most 56 N at 24°"."""
    told = analysis.loads
    mark = _mark(analysis)
    if told is None or not any(math.isfinite(each) for each in told.effort.tolist()):
        return f"{mark}{'none is told' if _has_handle(analysis) else 'no handle'}"
    largest, least = told.largest, told.least
    if largest is not None and largest.force > 0.0:
        return f"{mark}most {format_force(largest.force, units)} at {format_angle(largest.deg, units)}"
    if least is not None and least.force < 0.0:
        return f"{mark}{RISES}: {format_force(-least.force, units)} hold it"
    return f"{mark}no largest: it grows without bound" if largest is None else f"{mark}none is needed"


def effort_told(analysis: Analysis, units: Units) -> str:
    """All that is known of lifting, a sentence each: for the lane's tip, and to be copied and read aloud."""
    said = lift_sentences(analysis, units)
    return f"{_mark(analysis)}{' '.join(said)}" if said else effort_head(analysis, units)


def _mark(analysis: Analysis) -> str:
    shown = ("shut", "largest", "")  # what is wanted at full opening isn't drawn in the lane
    held = [check.ok for check in analysis.checks if check.kind in ("push", "rests") and check.side in shown]
    return "" if not held else f"{HOLDS if all(held) else FAILS} "


def _has_handle(analysis: Analysis) -> bool:
    return analysis.project.loads is not None and analysis.project.loads.handle is not None


def why_none(analysis: Analysis) -> str:
    """Why a lane shows no push."""
    loads = analysis.project.loads
    if loads is None or loads.handle is None:
        return "No handle is set: say where the hand pushes, and the push is drawn here."
    if loads.handle.on == analysis.project.fixed.id:
        return f"The handle is on “{loads.handle.on}”, which stands still: put it on what is lifted."
    return "No push can be told: the handle stands still, or the panel is at its dead point."


def end_words(analysis: Analysis, *, last: bool, pushes: bool) -> str:
    """Why a curve ends where it does: at the dead point, or where links come into line."""
    at_dead_point = analysis.opening.ends == "dead point" and analysis.dead_point_deg is not None
    if not (last and at_dead_point):
        return "beyond bound: links in line"
    told = analysis.loads
    grows = pushes and told is not None and (told.largest is None or told.least is None)
    return "grows without bound at the dead point" if grows else "ends at the dead point"


def jam_words() -> str:
    """Where friction lets nothing move."""
    return "pins jam"


def pin_head(own: PinPeak, most: PinPeak, is_chosen: bool, units: Units) -> str:
    """In short: "X: most 1121 N at 0°"; of a selected pin, beside the one that carries most."""
    force, at = format_force(own.force, units), format_angle(own.deg, units)
    if not is_chosen:
        return f"{own.pivot} carries most: {force} at {at}"
    if own.pivot == most.pivot:
        return f"most of all: {force} at {at}"
    return f"most {force} at {at} ({most.pivot} {format_force(most.force, units)})"


def pin_told(own: PinPeak, most: PinPeak, is_chosen: bool, units: Units) -> str:
    """The same in sentences."""
    force, at = format_force(own.force, units), format_angle(own.deg, units)
    if not is_chosen or own.pivot == most.pivot:
        return f"Of the pins of one hinge, {own.pivot} carries most: {force}, at {at}."
    said = f"Pin {own.pivot} of one hinge carries at most {force}, at {at}."
    other = f"{format_force(most.force, units)}, at {format_angle(most.deg, units)}"
    return f"{said} {most.pivot} carries most: {other}."
