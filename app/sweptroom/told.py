"""The swept room in words and shapes: its outline on the sheet, its size, and how far from it everything fixed stands.

No Qt here. What is nearest comes first; a thing that the room touches is told so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely

from app.lengths import format_length
from app.shapes import Layer, Pen, Stroke
from app.words import doubt_words

if TYPE_CHECKING:
    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Outline, Project
    from kinematics.swept import SweptRoom

DASH = (2.0, 3.0)
VEIL = 0.12


@dataclass(frozen=True, slots=True)
class Near:
    """An outline of the fixed link, and how far (mm) from the room it stands, less its pen; 0: the room takes it in.

    uncertain : mm by which that may be off, as the outlines may be.
    """

    outline: str
    distance: float
    uncertain: float = 0.0


def room_shapes(room: SweptRoom, fixed: str, look: Look) -> list[Stroke]:
    """Give the room as a veiled face with a dotted edge, its holes as edges alone."""
    pen = Pen(look.path, look.thin, DASH)
    solids = [
        Stroke(f"swept:{place}", fixed, ring, pen, Layer.ZONES, closed=True, fill=look.path, veil=VEIL)
        for place, ring in enumerate(room.solids)
    ]
    holes = [
        Stroke(f"swept:hole {place}", fixed, ring, pen, Layer.ZONES, closed=True, fill=look.paper)
        for place, ring in enumerate(room.holes)
    ]
    return solids + holes


def nearest_things(room: SweptRoom, project: Project) -> list[Near]:
    """Every outline of the fixed link with its distance from the room, the nearest first."""
    if not room.solids:
        return []
    whole = shapely.union_all([shapely.Polygon(ring) for ring in room.solids])
    whole = whole.difference(shapely.union_all([shapely.Polygon(ring) for ring in room.holes]))
    off = max((outline.uncertain for outline in project.outlines if outline.on != project.fixed.id), default=0.0)
    found = [
        Near(outline.id, max(float(whole.distance(_drawn(outline))) - outline.half_width, 0.0), off + outline.uncertain)
        for outline in project.outlines
        if outline.on == project.fixed.id
    ]
    return sorted(found, key=lambda near: near.distance)


def _drawn(outline: Outline) -> shapely.Geometry:
    return shapely.Polygon(outline.points) if outline.closed else shapely.LineString(outline.points)


def size_words(room: SweptRoom, units: Units) -> str:
    """How large the room is: "812.4 × 640.2 mm over all"; with the rim that it is widened by."""
    if not room.solids:
        return "Nothing moves, so no room is taken."
    xs = [x for ring in room.solids for x, _ in ring]
    ys = [y for ring in room.solids for _, y in ring]
    width = format_length(max(xs) - min(xs), units, unit=False)
    high = format_length(max(ys) - min(ys), units)
    rim = f"; widened by up to {format_length(room.rim, units, fine=True)}, so that it surely holds all"
    return f"{width} × {high} over all{rim if room.rim > 0.0 else ''}."


def near_words(near: Near, units: Units) -> str:
    """Say how far a thing stands from the room: "screen and sill: 10.4 mm away", "bulkhead: inside, or touched"."""
    if near.distance <= 0.0:
        return f"{near.outline}: touched, or taken in"
    return (
        f"{near.outline}: {format_length(near.distance, units)}{doubt_words(near.distance, near.uncertain, units)} away"
    )
