"""What is told of the panel shut: latch, shutting push, rear edge, striker, and the second catch; sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_angle, format_force, format_length
from app.quantities import format_temperature
from kinematics.rear_edge import side_ahead
from kinematics.shutting import LAST, USUAL_STEP

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import Entry, ShutFigures

UNTOLD = "Nothing is told of the shut panel: that takes a linkage that moves in just one way, and opens."

__all__ = ["SECOND_CATCH", "shut_cautions", "shut_remarks", "shut_sentences"]

SECOND_CATCH = (
    "A panel that is hinged at its rear, its front edge facing the way of travel: at speed the air gets under that edge"
    " and throws the panel open. On a road it needs a second catch that holds by itself when the latch lets go or"
    " wasn't shut (FMVSS 113, 49 CFR 571.113, asks it of front-opening hoods that can block the view; from memory: look"
    " up what holds where you drive)."
)


def shut_sentences(analysis: Analysis, units: Units) -> list[str]:
    """Say what holds the panel shut and what it takes, a sentence each; none without a latch."""
    told, loads = None if analysis.loads is None else analysis.loads.shut, analysis.project.loads
    if told is None:
        return [] if loads is None or loads.latch is None else [UNTOLD]
    said = [*_latch(told, units), *_closing(told, units), *_rear(told, units), *_rise(analysis.project, told, units)]
    if told.entry is not None:
        said.append(_entry(told.entry, units))
    return [*said, *told.remarks]


def shut_remarks(analysis: Analysis, units: Units) -> list[str]:
    """Warn of a striker that leaves its way by more than strikers usually may, where no want says how far it may."""
    loads = analysis.loads
    entry = None if loads is None or loads.shut is None else loads.shut.entry
    wants = None if analysis.project.loads is None else analysis.project.loads.wants
    asked = None if wants is None else wants.side_step_at_most
    if entry is None or asked is not None or entry.side_step <= USUAL_STEP:
        return []
    step, usual = format_length(entry.side_step, units), format_length(USUAL_STEP, units)
    said = (
        f"Over its last {format_length(entry.length, units)} the striker goes {step} beside the latch's way: beyond "
        f"{usual} (common practice, no source) it may miss the catch or wear on it; say yourself how much it may."
    )
    return [said]


def shut_cautions(project: Project) -> list[str]:
    """Ask for a second catch, of a latched panel that lies, whichever way the vehicle goes: nobody told that."""
    loads = project.loads
    return [SECOND_CATCH] if loads is not None and loads.latch is not None and side_ahead(project) else []


def _latch(told: ShutFigures, units: Units) -> list[str]:
    """What the latch holds, cold and hot."""
    if told.latch is None:
        return []
    hot = ""
    if told.latch_hot is not None and told.hot is not None:
        hot = f"; with struts at {format_temperature(told.hot, units)} {format_force(told.latch_hot, units)}"
    if told.latch <= 0.0 and (told.latch_hot or 0.0) <= 0.0:
        return [f"Shut, the panel lies by itself: {format_force(-told.latch, units)} at the striker before it lifts."]
    if told.latch <= 0.0:
        return [f"The latch holds nothing{hot}."]
    return [f"The latch holds {format_force(told.latch, units)} along its way{hot}."]


def _closing(told: ShutFigures, units: Units) -> list[str]:
    """What the last bit takes."""
    if told.closing is None:
        return []
    last = format_length(LAST, units)
    if told.closing <= 0.0:
        said = f"Over the last {last} it falls shut by itself"
    else:
        said = f"The last {last} take {format_force(told.closing, units)} down at the handle (or that much of a slam)"
    if told.closing_rubbed is not None:
        rubbed = told.closing_rubbed
        more = f"{format_force(rubbed, units)} are needed" if rubbed > 0.0 else "it still falls"
        return [f"{said}; against friction {more}."]
    return [f"{said}, without friction."]


def _rear(told: ShutFigures, units: Units) -> list[str]:
    """What presses the rear edge."""
    if told.rear_force is None:
        return []
    hot = ""
    if (
        told.rear_hot is not None
        and told.hot is not None
        and format_force(told.rear_hot) != format_force(told.rear_force)
    ):
        up = "up" if told.rear_hot > 0.0 else "down"
        hot = f"; at {format_temperature(told.hot, units)} {format_force(abs(told.rear_hot), units)} {up}"
    if told.rear_force > 0.0:
        push = format_force(told.rear_force, units)
        return [f"Latched, its loads press the rear edge up by {push}, which the hinge has to hold down{hot}."]
    push = format_force(-told.rear_force, units)
    return [f"Latched, the rear edge lies on its hinge with {push}, by the loads on the panel{hot}."]


def _rise(project: Project, told: ShutFigures, units: Units) -> list[str]:
    """What play does to the rear edge."""
    if told.rise is None:
        has_play = project.sureness is not None and project.sureness.play > 0.0
        return [] if has_play or told.rear_force is None else ["How far the rear edge rises asks for the pins' play."]
    far, all_of_it = format_length(abs(told.rise), units), format_length(2.0 * abs(told.rise), units)
    if told.rise >= 0.0:
        moves = f"rise by {far} above where it is drawn, {all_of_it} from pressed down"
    else:
        moves = f"sink by {far} below where it is drawn; pressed up it goes {all_of_it}"
    return [f"With its pins pressed so, play lets the rear edge {moves}."]


def _entry(entry: Entry, units: Units) -> str:
    """How the striker comes in."""
    far, step = format_length(entry.length, units), format_length(entry.side_step, units)
    return (
        f"The striker comes in at {format_angle(entry.angle_deg, units)} to the latch's way; over its last {far} it "
        f"goes {step} beside that way, and the panel turns by {format_angle(entry.turn_deg, units)}."
    )
