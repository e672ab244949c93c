"""Edits of what pins and plates are: for all joints at once, or for one.

Pure functions from one project to the next, as in `kinematics.edits`: an edit that changes nothing gives back the
project itself, and what can't be is a `ProjectError`. Lengths mm.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.strength_parts import JointStrength, Metal, Strength

if TYPE_CHECKING:
    from kinematics.project import Project

PIN, INCH_PIN = 8.0, 7.9375
"""Diameter of the pins to begin with, and 5/16 in (common practice, no source). The plates follow it as clevises do:
the inner one about as thick, each outer one half of it (Roloff/Matek, ch. 9; from memory)."""


def begin_strength(project: Project, pin: Metal, plate: Metal) -> Project:
    """Say what pins and plates are, with usual sizes to begin with; the project itself where that is said already.

    What the build says already goes before these sizes (`kinematics.joints`).
    """
    if project.strength is not None:
        return project
    size = INCH_PIN if project.display_units == "in" else PIN
    return replace(project, strength=Strength(size, size, 0.5 * size, pin, plate))


def drop_strength(project: Project) -> Project:
    """Say nothing of pins and plates any more."""
    return project if project.strength is None else replace(project, strength=None)


def strengthen(project: Project, pivot: str | None = None, **fields: Any) -> Project:  # noqa: ANN401  any field
    """Change what all joints are, or what the joint of one pivot has of its own; None: as all have it.

    fields : of `Strength`, or of `JointStrength`.
    """
    strength = project.strength
    if strength is None:
        raise ProjectError("nothing is said of pins and plates yet", "strength", "Begin with usual ones.")
    if pivot is None:
        new = replace(strength, **fields)
    else:
        own = replace(strength.joint(project.pivot(pivot).id), **fields)
        others = tuple(joint for joint in strength.joints if joint.pivot != pivot)
        new = replace(strength, joints=others if own.says_nothing else _in_order(project, (*others, own)))
    return project if new == strength else replace(project, strength=new)


def as_all(project: Project, pivot: str) -> Project:
    """Let a pivot's joint be as all the others."""
    if project.strength is None or all(joint.pivot != pivot for joint in project.strength.joints):
        return project
    joints = tuple(joint for joint in project.strength.joints if joint.pivot != pivot)
    return replace(project, strength=replace(project.strength, joints=joints))


def _in_order(project: Project, joints: tuple[JointStrength, ...]) -> tuple[JointStrength, ...]:
    """The joints in the order of their pivots."""
    order = {pivot.id: place for place, pivot in enumerate(project.pivots)}
    return tuple(sorted(joints, key=lambda joint: order.get(joint.pivot, len(order))))
