"""Edits of how the wall stands: begun square, changed on one side or on both, taken out again.

Pure functions from one project to the next, as in `kinematics.edits`: an edit that changes nothing gives back the
project itself, and what can't be is a `ProjectError`. While both sides are *alike*, one of them is said and the other
follows; they part once one is said to be its own. Lengths mm, angles deg.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.wall_parts import HandWall, Wall

if TYPE_CHECKING:
    from kinematics.project import Project


def begin_wall(project: Project) -> Project:
    """Say how the wall stands, square to begin with; the project itself where that is said already."""
    return _put(project, Wall(left=HandWall())) if project.wall is None else _put(project, project.walled)


def set_wall(project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of the wall
    """Change what is said of the wall as a whole; ProjectError where nothing is said of it yet."""
    return _put(project, replace(_said(project), **fields))


def set_hand(project: Project, hand: str, **fields: Any) -> Project:  # noqa: ANN401  any field of a side
    """Change one side, and the other one with it as long as both are alike.   hand : "left", "right"."""
    wall = _said(project)
    if are_alike(project):
        return _put(project, replace(wall, left=replace(wall.side("left"), **fields), right=None))
    own: dict[str, Any] = {hand: replace(wall.side(hand), **fields)}
    return _put(project, replace(wall, **own))


def are_alike(project: Project) -> bool:
    """Whether one side is said alone, so that the other follows it."""
    wall = project.walled
    return wall.left is None or wall.right is None


def set_alike(project: Project, alike: bool) -> Project:
    """Let both sides be alike, as the left one is, or each its own."""
    wall = _said(project)
    if alike == are_alike(project):
        return project
    if alike:
        return _put(project, replace(wall, right=None))
    return _put(project, replace(wall, left=wall.side("left"), right=wall.side("right")))


def drop_wall(project: Project) -> Project:
    """Say nothing of the wall any more."""
    return project if project.wall is None else replace(_put(project, project.walled), wall=None)


def _said(project: Project) -> Wall:
    if project.wall is None:
        raise ProjectError("nothing is said of it yet", "wall", "Begin with a square one.")
    return project.walled


def _put(project: Project, wall: Wall) -> Project:
    """The project with its wall; what a file carries in its place is never written over."""
    if project.wall is not None and not isinstance(project.wall, Wall):
        what = "what the file says of the wall isn't sound, and is kept as it is"
        raise ProjectError(what, "wall", "Correct it in the file, or take it out there.")
    return project if project.wall == wall else replace(project, wall=wall)
