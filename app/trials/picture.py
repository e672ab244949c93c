"""A trial drawn: small, for the table, and in thin lines over the board, to compare. No Qt here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.shapes import Layer, Pen, Shape, Stroke, Symbol, hull, placed
from kinematics.layouts import Miniature
from kinematics.layouts import Stroke as Line

if TYPE_CHECKING:
    from app.look import Look
    from app.shapes import Placement
    from kinematics.analysis import Analysis
    from kinematics.project import Point

HALF = 0.5  # of the opening reached, at which a small picture shows the panel
ROOM = 0.3  # around the pins, a share of their box: a small picture is about the linkage, not the whole panel
LONE = 0.5  # around a single pin: this share of what is drawn, as one pin has no box
DASH = (6.0, 3.0)


def moved(points: tuple[Point, ...], at: Placement) -> tuple[Point, ...]:
    """Where points stand that a placement carries."""
    return tuple(at.carry(point) for point in points)


def beside(analysis: Analysis, deg: float, fixed: str, look: Look) -> list[Shape]:
    """Give what moves in a trial, at an opening, as thin dashed lines on the link `fixed` of another project."""
    project, pen = analysis.project, Pen(look.path, look.thin, DASH)
    places = placed(analysis, analysis.pose(deg))
    found: list[Shape] = [
        Stroke(f"beside:outline:{each.id}", fixed, moved(each.points, places[each.on]), pen, Layer.PATHS, each.closed)
        for each in project.outlines
        if each.on != project.fixed.id and not each.hidden
    ]
    for link in project.links:
        pins = tuple(pivot.at for pivot in project.pivots_on(link.id))
        if link.kind == "link" and len(pins) > 1 and not link.hidden:
            line = moved(pins if len(pins) == 2 else (*pins, pins[0]), places[link.id])
            found.append(Stroke(f"beside:link:{link.id}", fixed, line, pen, Layer.PATHS))
    pins = tuple(moved((pivot.at,), places[pivot.joins[0]])[0] for pivot in project.pivots if not pivot.hidden)
    if pins:
        found.append(Symbol("beside:pins", fixed, pins, "mark", look.path, look.paper, Layer.PATHS))
    return found


def small_picture(analysis: Analysis) -> Miniature:
    """Give the small picture of a layout, the panel half open."""
    project = analysis.project
    places = placed(analysis, analysis.pose(HALF * analysis.opening.reached_deg))
    lines = [
        (_role(project.link(outline.on).kind), moved(outline.points, places[outline.on]), outline.closed)
        for outline in project.outlines
    ]
    for link in project.links:
        pins = tuple(pivot.at for pivot in project.pivots_on(link.id))
        if link.kind == "link" and len(pins) > 1:
            lines.append(("link", moved(hull(pins), places[link.id]), len(pins) > 2))
    pivots = [(pivot, moved((pivot.at,), places[pivot.joins[0]])[0]) for pivot in project.pivots]
    drawn = [point for _, points, _ in lines for point in points]
    low, size = _about([at for _, at in pivots] or drawn, LONE * _widest(drawn) if len(pivots) == 1 else 1.0)

    def put(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((x - low[0], y - low[1]) for x, y in points)

    return Miniature(
        tuple(Line(role, put(points), closed) for role, points, closed in lines),
        put(tuple(at for _, at in pivots)),
        put(tuple(at for pivot, at in pivots if project.fixed.id in pivot.joins)),
        size,
    )


def _role(kind: str) -> str:
    return kind if kind in ("fixed", "panel") else "link"


def _widest(points: list[Point]) -> float:
    """How far the points reach, the wider way."""
    return max((max(v) - min(v) for v in zip(*points, strict=True)), default=1.0)


def _about(points: list[Point], least: float = 1.0) -> tuple[Point, Point]:
    """Lower left corner and size of the field to show: the points with some room around them.

    least : mm, taken for how far they reach where they reach less.
    """
    if not points:
        return (0.0, 0.0), (1.0, 1.0)
    (left, right), (low, high) = ((min(v), max(v)) for v in zip(*points, strict=True))
    room = ROOM * max(right - left, high - low, least)
    return (left - room, low - room), (right - left + 2.0 * room, high - low + 2.0 * room)
