"""Datum lines on the sheet: the floor and the roof, as light lines from side to side with their heights. No Qt here.

They are drawn as centre lines are, long dash and dot, so that nobody takes them for an outline.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_length
from app.shapes import Label, Layer, Pen, Shape, Stroke, seen

if TYPE_CHECKING:
    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Point, Project

DASH = (14.0, 4.0, 2.0, 4.0)
BEYOND = 0.15
"""Share of the drawing's width by which a line goes on at either side."""
LEAST_WIDTH = 400.0  # mm, where hardly anything is drawn


def datums(project: Project, look: Look, units: Units) -> list[Shape]:
    """Give the lines of floor and roof, as far as there are any."""
    found: list[Shape] = []
    for name, y in heights(project):
        left, right = _reach(project)
        pen = Pen(look.faint, look.thin, DASH)
        found.append(Stroke(f"datum:{name}", project.fixed.id, ((left, y), (right, y)), pen, Layer.ZONES))
        found.append(_words(project, name, (right, y), look, units))
    return found


def heights(project: Project) -> list[tuple[str, float]]:
    """Give floor and roof by name with their heights (y, mm), as far as there are any."""
    if project.room is None:
        return []
    return [(name, y) for name, y in (("floor", project.room.floor), ("roof", project.room.roof)) if y is not None]


def _words(project: Project, name: str, at: Point, look: Look, units: Units) -> Label:
    away = (-1.0, -1.0) if name == "floor" else (-1.0, 1.0)
    text = f"{name}, y {format_length(at[1], units)}"
    return Label(f"datum:{name}:label", project.fixed.id, at, text, look.faint, look.paper, look.small_px, away, rank=4)


def _reach(project: Project) -> tuple[float, float]:
    """From where to where (x, mm) the lines run: beyond all that is drawn, shut."""
    spots = [pivot.at[0] for pivot in seen(project.pivots)]
    spots += [x for outline in seen(project.outlines) for x, _ in outline.points]
    left, right = min(spots, default=0.0), max(spots, default=0.0)
    more = max(BEYOND * (right - left), 0.5 * (LEAST_WIDTH - (right - left)))
    return left - more, right + more
