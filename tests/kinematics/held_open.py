"""A lid that is held open, for several test files: 10 kg at 400 on one pin at the origin, drawn from there to 900.

It is to open by 80°. Level it asks 98.0665·400 N·mm about the pin, at an opening φ that times cos φ.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import kinematics
from kinematics.balance import holding_in_full
from kinematics.fittings import Prop, Stop
from kinematics.loads import LiftWants, Loads, WorstCase
from kinematics.parts import Attachment, Handle, Mass
from kinematics.project import Outline
from tests.specimens import single_pivot

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import HoldingFigures

PROP = Prop(Attachment("body", (600.0, 0.0)), Attachment("lid", (600.0, 0.0)), 60.0)
"""With the lid it makes a triangle of three sides of 600 at 60°."""
STOP = Stop(("body", "lid"), 100.0, 50.0)
"""Past the tip-over, at 90°."""
SKIN = (Outline("skin", "lid", ((0.0, 0.0), (900.0, 0.0))),)


def lid(case: WorstCase | None = None, **more: Any) -> Project:  # noqa: ANN401  any field of the loads
    """Give the lid with some of its loads."""
    fields: dict[str, Any] = {"masses": (Mass("lid", 10.0, (400.0, 0.0)),), "handle": Handle("lid", (800.0, 0.0))}
    if case is not None:
        fields["wants"] = LiftWants(stays_open=True, stays_open_in=case)
    return replace(single_pivot, outlines=SKIN, loads=Loads(**(fields | more)))


def analysed(project: Project) -> tuple[Analysis, HoldingFigures]:
    """Give its analysis, and what of it tells of holding."""
    found = kinematics.analyse(project, 5)
    told = holding_in_full(project, found.sweep)
    assert told is not None
    return found, told
