"""The foot of bracket or base slid along the face that it lies on, as by a hand.

Pure functions from one project to the next, as in `kinematics.edits`. Lengths mm, places in the side view, shut.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kinematics.faces import skin, slid, wall
from kinematics.mount_edits import set_mount

if TYPE_CHECKING:
    from kinematics.project import Point, Project


def slide_foot(project: Project, which: str, to: Point, step: float = 0.0) -> Project:
    """Bring the foot of bracket or base to the place of its face that is nearest to another (mm, shut).

    step : its x and y become multiples of it where the face runs that way; 0: as they come. The project itself where
    there is no face yet; ProjectError where nothing is said of the part.
    """
    part = getattr(project.mounted, which)
    link, found = (project.panel, skin) if which == "bracket" else (project.fixed, wall)
    face = None if part is None else found(project, part)
    if face is None:
        return set_mount(project, which)
    is_typed = getattr(part, "skin_deg" if which == "bracket" else "wall_deg") is not None
    at = slid(project, link, face, is_typed, complex(*to))
    if step > 0.0 and abs(face.along.real) >= abs(face.along.imag):
        at = slid(project, link, face, is_typed, complex(round(at.real / step) * step, at.imag))
    elif step > 0.0:
        at = slid(project, link, face, is_typed, complex(at.real, round(at.imag / step) * step))
    return set_mount(project, which, at=(round(at.real, 6), round(at.imag, 6)))
