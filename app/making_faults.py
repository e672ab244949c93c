"""Joints and their faults of a project, by the tables that ship with the program: what window, list and files share."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, ClassVar

from app.hardware import hardware
from app.materials import materials
from kinematics.joints_made import joints_made
from kinematics.made_faults import making_faults
from kinematics.plate_edits import ALL, has_plate, set_sheet
from kinematics.values import SIXTEENTH

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.joints_made import JointMade
    from kinematics.made_faults import MakingFault
    from kinematics.project import Project


@lru_cache(maxsize=1)
def metal_kinds() -> Mapping[str, str]:
    """What kind of metal each name of the table of materials is of."""
    return {row.name: row.kind for row in materials()}


class _Last:
    """The project that was asked for last, with its answer: a project is a value, so as long as it is the same, so is
    the answer. It takes as long to work out as a sweep, and is asked for by several.
    """

    project: Project | None = None
    joints: ClassVar[dict[str, JointMade]] = {}
    faults: tuple[MakingFault, ...] = ()


def made(project: Project) -> tuple[dict[str, JointMade], tuple[MakingFault, ...]]:
    """Every pivot's joint, and all that is wrong with them."""
    if _Last.project is not project:
        joints = joints_made(project, hardware())
        _Last.faults = making_faults(project, joints, hardware(), metal_kinds())
        _Last.project, _Last.joints = project, joints
    return _Last.joints, _Last.faults


def wide_enough(project: Project) -> Project:
    """The project with edge distances that leave round the holes what is usual, where plates are too narrow for them.

    Of all plates where all are too narrow, else of each that is.
    """
    plated = {link.id for link in project.links if has_plate(project, link.id)}
    if not any(fault.kind == "too narrow" and fault.grave for fault in made(project)[1]):
        return project
    step = SIXTEENTH if project.display_units == "in" else 0.5
    for _ in range(2):  # first to what is the least, then to what is usual
        wants: dict[str, float] = {}
        for fault in made(project)[1]:
            for link in plated.intersection(fault.links) if fault.kind == "too narrow" else ():
                wants[link] = max(wants.get(link, 0.0), math.ceil((fault.want or 0.0) / step) * step)
        if wants.keys() == plated:
            wants = {ALL: max(wants.values())}
        for link, radius in wants.items():
            project = set_sheet(project, link, radius=radius)
    return project
