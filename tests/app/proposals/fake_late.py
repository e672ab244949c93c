"""The small search with its first units the slowest."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from tests.app.proposals import fake

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.proposals.results import Settings, UnitResult


def run(project: Project, settings: Settings, number: int) -> UnitResult:
    """A unit of the small search, later the lower its number."""
    time.sleep(0.1 * max(0, 3 - number))
    return fake.run(project, settings, number)
