"""What is wrong with a wall as it was typed, found once for the window and for what goes to the shop."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wall_words import lean_sentence, step_sentence
from kinematics.faces import wall
from kinematics.untrued import centre_rise
from kinematics.wall_parts import HANDS
from kinematics.walling import lean_of, wall_plane

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.mount_parts import Base
    from kinematics.project import Project


def wall_told(project: Project, base: Base, units: Units) -> list[str]:
    """Say, each with its mark, where what was typed isn't what is drawn, and where left and right wall don't meet."""
    face = wall(project, base)
    if face is None or project.wall is None:
        return []
    planes = [plane for plane in (wall_plane(project, base, hand) for hand in HANDS) if plane is not None]
    trued = project.walled.trued
    said = [lean_sentence(lean_of(face), plane.lean_deg, trued, units) for plane in planes]
    left, right = (centre_rise(project, base, hand) for hand in HANDS)
    if left is not None and right is not None:
        said.append(step_sentence(left, right, units))
    return [each for each in dict.fromkeys(said) if each]
