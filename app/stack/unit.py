"""The stack of a hinge as one unit of work for a process beside the window (`app.proposals.worker`). No Qt here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.stacked import stacked
from kinematics import analyse

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.stacking import StackMade


@dataclass(frozen=True, slots=True)
class StackUnit:
    """What came of the work that was asked for under a number."""

    unit: int
    stack: StackMade


def run(project: Project, _settings: object, number: int) -> StackUnit:
    """Open the hinge and stack it, as the command line does."""
    return StackUnit(number, stacked(analyse(project)))
