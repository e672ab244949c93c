"""The stack of a hinge as one unit of work for a process beside the window (`app.proposals.worker`). No Qt here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.layout_unit import LayoutUnit
from app.stacked import stacked
from kinematics import analyse

if TYPE_CHECKING:
    from kinematics.project import Project


def run(project: Project, _settings: object, number: int) -> LayoutUnit:
    """Open the hinge and stack it, as the command line does."""
    return LayoutUnit(number, stacked(analyse(project)))
