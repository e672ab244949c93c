"""Work that takes long in a hinge called so, and kills its process in another."""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING

from app.stack import unit

if TYPE_CHECKING:
    from app.layout_unit import LayoutUnit
    from kinematics.project import Project


def run(project: Project, settings: object, number: int) -> LayoutUnit:
    """Work as the title of the hinge says."""
    if project.title == "dies":
        os._exit(3)
    if project.title == "slow":
        time.sleep(600.0)
    return unit.run(project, settings, number)
