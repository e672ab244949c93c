"""What can be made of an outline's line, each with its words, what it asks for, and the edit. No Qt here.

`asks` is what the builder gives: nothing, a length ("length", mm), or another outline ("outline"). `of_point` says that
it is about the point that is selected.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kinematics import redrawing

if TYPE_CHECKING:
    from kinematics.project import Point, Project

Make = Callable[["Project", str, int, float, str], "Project"]


@dataclass(frozen=True, slots=True)
class Change:
    """One way to change a line, or to draw another from it.

    make : (project, outline's id, number of a point, length, other outline's id) → project.
    """

    key: str
    words: str
    tip: str
    make: Make
    asks: str = ""
    label: str = ""
    usual: float = 0.0
    of_point: bool = False


def _upright(project: Project, id: str, place: int) -> tuple[Point, Point]:
    x, y = project.outline(id).points[place]
    return (x, y), (x, y + 1.0)


def _level(project: Project, id: str, place: int) -> tuple[Point, Point]:
    x, y = project.outline(id).points[place]
    return (x, y), (x + 1.0, y)


CHANGES = (
    Change(
        "round",
        "Round the corner",
        "Put an arc into the corner at the chosen point; it leaves both sides smoothly.",
        lambda project, id, place, mm, _: redrawing.round_corner(project, id, place, mm),
        "length",
        "Radius",
        20.0,
        True,
    ),
    Change(
        "bend",
        "Arc through three points",
        "Run an arc from the point before the chosen one, through it, to the one after it.",
        lambda project, id, place, *_: redrawing.bend(project, id, place),
        of_point=True,
    ),
    Change(
        "smooth",
        "Smooth curve through its points",
        "Run a curve without corners through every point of the line.",
        lambda project, id, *_: redrawing.smooth(project, id),
    ),
    Change(
        "thin",
        "Leave points out",
        "Leave out the points that the line can do without; it stays within this distance of where it was.",
        lambda project, id, _place, mm, _: redrawing.thin_out(project, id, mm),
        "length",
        "Within",
        0.2,
    ),
    Change(
        "trim",
        "Cut where others cross it",
        "Cut the line where other outlines cross it while shut, and keep the piece with the chosen point.",
        lambda project, id, place, *_: redrawing.trim(project, id, place),
        of_point=True,
    ),
    Change(
        "join",
        "Join with another line",
        "Make one line of this and another open one, by their nearest ends.",
        lambda project, id, _place, _mm, other: redrawing.join(project, id, other),
        "outline",
        "With",
    ),
    Change(
        "beside",
        "Another line beside it",
        "Draw a line at this distance all along: the inside of a sheet, the edge of a seal. A minus takes the other "
        "side; of a solid, the inside.",
        lambda project, id, _place, mm, _: redrawing.beside(project, id, mm),
        "length",
        "Distance",
        10.0,
    ),
    Change(
        "face",
        "Panel's edge along it",
        "Draw the panel's edge so that it faces this line of the body everywhere at this shut gap.",
        lambda project, id, _place, mm, _: redrawing.facing_edge(project, id, mm),
        "length",
        "Shut gap",
        4.0,
    ),
    Change(
        "turn plumb",
        "Mirror image, left to right",
        "Draw its mirror image about the plumb line through the chosen point.",
        lambda project, id, place, *_: redrawing.mirror_copy(project, id, *_upright(project, id, place)),
        of_point=True,
    ),
    Change(
        "turn level",
        "Mirror image, top to bottom",
        "Draw its mirror image about the level line through the chosen point.",
        lambda project, id, place, *_: redrawing.mirror_copy(project, id, *_level(project, id, place)),
        of_point=True,
    ),
)
