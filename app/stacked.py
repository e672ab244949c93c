"""The stack of the newest analysis, worked out once when it is first asked for, and never during a drag."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from app.hardware import hardware
from kinematics.joints_made import joints_made
from kinematics.stacking import StackMade, stack_of

if TYPE_CHECKING:
    from kinematics.analysis import Analysis


@lru_cache(maxsize=2)  # by the analysis itself, of which each is one value
def stacked(analysis: Analysis) -> StackMade:
    """The stack of what was analysed: 0.1 s or so for a hinge of six links."""
    project, tables = analysis.project, hardware()
    return stack_of(project, analysis.sweep, joints_made(project, tables), tables, analysis.loads)
