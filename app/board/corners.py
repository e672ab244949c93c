"""Watching a corner of the panel: one click puts a mark there and a limit on how far it may go. No widgets here.

A rear corner mustn't go far back, where the body stands close behind it; any other corner mustn't dip. How far is what
Preferences say for new wants; it is changed, or another way is limited, in the mark's own form.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

import numpy as np

from app.board.gestures import placement_of
from app.board.guiding import Guide
from app.board.hits import edge_hit
from app.board.picking import picked
from app.document import Selection
from app.limit_words import limit_ways
from app.shapes import seen
from kinematics import wanting
from kinematics.rear_edge import REAR_CORNER, corner_name, side_ahead

if TYPE_CHECKING:
    from collections.abc import Generator

    from app.board.gestures import Desk, Event
    from app.document import Document
    from kinematics.project import Point, Project

SAYS = "Corner: click a corner of the panel that must never go far back, or never dip. Esc leaves."
NO_CORNER = "There is no corner of the panel there. Click a point of its outline."


def corner(desk: Desk) -> Generator[None, Event, None]:
    """Watch a corner of the panel."""
    _, press = yield from picked(desk, SAYS, Guide(desk, leads=False))
    at = corner_near(desk.document, press.at, 2.0 * desk.reach)
    if at is None:
        desk.document.refuse(NO_CORNER)
    else:
        watch(desk.document, at)


def corner_near(document: Document, at: Point, reach: float) -> Point | None:
    """Give the point (shut) of the panel's outlines that is nearest to a place of the board.

    A vertex within reach, else a place on an edge within half of it; None where there is neither.
    """
    panel = document.project.panel.id
    back = placement_of(document, panel).back(at)
    outlines = [outline for outline in seen(document.project.outlines) if outline.on == panel]
    vertices = [point for outline in outlines for point in outline.points]
    nearest = min(vertices, key=lambda point: _apart(point, back), default=None)
    if nearest is not None and _apart(nearest, back) <= reach:
        return nearest
    edges = [(outline.points, outline.closed, *edge_hit(outline.points, back, outline.closed)) for outline in outlines]
    points, _, edge, away = min(edges, key=lambda each: each[3], default=((), False, 0, float("inf")))
    return _on_edge(points[edge], points[(edge + 1) % len(points)], back) if away <= reach / 2 else None


def _apart(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def _on_edge(tail: Point, head: Point, at: Point) -> Point:
    """The place on an edge that is nearest to a point."""
    a, along = np.array(tail), np.subtract(head, tail)
    share = float(np.clip(np.dot(np.subtract(at, a), along) / max(float(along @ along), 1e-300), 0.0, 1.0))
    x, y = (a + share * along).tolist()
    return x, y


def watch(document: Document, at: Point) -> bool:
    """Put a mark with a limit at a shut point of the panel, as one step, and select it; False where it can't be."""
    on, mm = document.project.panel.id, document.preferences.corner
    limits = first_limit(document.project, at, mm)
    name = corner_name(document.project, at)
    if not document.attempt(f"Watch {name}", lambda project: wanting.watch_corner(project, on, at, name, **limits)):
        return False
    mark = wanting.corner_at(document.project, on, at)
    if mark is not None:
        document.select(Selection("mark", mark.id))
    return True


def first_limit(project: Project, at: Point, mm: float) -> dict[str, float]:
    """What to limit at first, by side: a rear corner's way back, any other corner's way down."""
    ahead = side_ahead(project)
    wanted = "back" if ahead and corner_name(project, at) == REAR_CORNER else "down"
    return {way.side: way.sign * mm for way in limit_ways(ahead) if way.name == wanted}
