"""What the tests of the stack share: joints from the tables that ship, and a stack of a project."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from app.hardware import hardware
from kinematics.joints_made import joints_made
from kinematics.stacking import stack_of
from tests.app.sharing import shared_analyse

if TYPE_CHECKING:
    from kinematics.joints_made import JointMade
    from kinematics.project import Project
    from kinematics.stacking import StackMade


def joints(project: Project) -> dict[str, JointMade]:
    """The joint of every pivot."""
    return joints_made(project, hardware())


@cache
def stacked(project: Project) -> StackMade:
    """The stack of a project."""
    analysis = shared_analyse(project)
    return stack_of(project, analysis.sweep, joints(project), hardware(), analysis.loads)
