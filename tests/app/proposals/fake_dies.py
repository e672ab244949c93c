"""The small search, whose process is ended from outside in its second unit, once."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from typing import TYPE_CHECKING

from tests.app.proposals import fake

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.proposals.results import Settings, UnitResult


def run(project: Project, settings: Settings, number: int) -> UnitResult:
    """A unit of the small search; DIES_ONCE in the environment names the file that tells that it has died before."""
    died = Path(os.environ["DIES_ONCE"])
    if number == 1 and not died.exists():
        died.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return fake.run(project, settings, number)
