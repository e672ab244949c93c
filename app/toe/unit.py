"""The toe of a pair of hinges as one unit of work for a process beside the window. No Qt here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.layout_unit import LayoutUnit
from kinematics import analyse
from kinematics.mount_parts import Base
from kinematics.toeing import plays_of, toe, toe_without

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.toeing import Toe

OPENINGS = 61
"""Poses looked at by the analysis: it is read at few openings only."""


@dataclass(frozen=True, slots=True)
class ToeFound:
    """What came of it.   toe : as the wall stands, nothing trued; None: it can't be told, and `why` says the reason.

    play, end_float : mm, the least of all pins.   reached_deg : the opening up to which it was looked at.
    """

    toe: Toe | None
    why: str
    play: float
    end_float: float
    reached_deg: float


def toe_found(project: Project) -> ToeFound:
    """Open the hinge, and open the pair with the toe that the wall would give it."""
    base = project.mounted.base or Base()
    plays = plays_of(project, hardware())
    least = min((each.play for each in plays.values()), default=0.0)
    untrued = toe_without(project, base)
    if untrued is None:
        return ToeFound(None, "The wall lies, or has no pins: there is no toe to tell.", least, 0.0, 0.0)
    analysis = analyse(project, steps=OPENINGS)
    found = toe(analysis, base, untrued, plays)
    why = "" if found is not None else _why(project, analysis.opening.reached_deg)
    return ToeFound(found, why, least, project.stacking.end_float, analysis.opening.reached_deg)


def _why(project: Project, reached_deg: float) -> str:
    """Say what is missing."""
    loads = project.loads
    if loads is not None and loads.hinges < 2:
        return "One hinge alone has nothing to be parallel to."
    if reached_deg <= 0.0:
        return "Nothing moves yet."
    return "Say how far the hinges are apart, and it can be told how parallel they must be."


def run(project: Project, _settings: object, number: int) -> LayoutUnit:
    """Do the work that is asked for under a number."""
    return LayoutUnit(number, toe_found(project))
