"""The swept room in words and shapes: its outline on the sheet, its size, and how far from it everything fixed stands.

No Qt here. What is nearest comes first; a thing that the room touches is told so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import shapely

from app.lengths import format_angle, format_length
from app.shapes import Layer, Pen, Stroke
from app.words import CAUTION, FAILS, HOLDS, doubt_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Outline, Project
    from kinematics.results import Gap
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


def thing_words(near: Near, gaps: Sequence[Gap], units: Units, wider: float = 0.0) -> str:
    """Say how far a thing stands from the room, whether every want of it holds, and with what it falls short.

    "✗ sill: 3.1 mm away; wants 6.0 mm, short with hatch skin". Where every want holds and the room comes nearer all the
    same, something comes there that is not watched: that is marked too.
    wider : mm by which the room may be wider than what moves.
    """
    wants = [gap for gap in gaps if gap.wanted and near.outline in gap.between]
    if not wants:
        return near_words(near, units)
    short = [gap for gap in wants if not gap.ok]
    if short:
        return f"{FAILS} {near_words(near, units)}; wants {_wanted(short, units)}, short with {_others(short, near)}"
    told = f"{near_words(near, units)}; wants {_wanted(wants, units)}"
    from_shut = [gap for gap in wants if gap.after_deg <= 0.0]
    wanted = max((gap.at_least or 0.0 for gap in from_shut), default=0.0)
    watched = min((gap.smallest or 0.0 for gap in from_shut), default=0.0)
    if near.distance + wider >= min(wanted, watched):
        return f"{HOLDS} {told}"
    return f"{CAUTION} {told} and has it with {_others(wants, near)}; what comes nearer is not watched"


def _others(gaps: Sequence[Gap], near: Near) -> str:
    """The partners of a thing in gaps, each once."""
    return ", ".join(dict.fromkeys(next(name for name in gap.between if name != near.outline) for gap in gaps))


def _wanted(wants: Sequence[Gap], units: Units) -> str:
    """The gaps wanted: "6.0 mm", "3.0 mm to 6.0 mm", "6.0 mm from 5° on" where none of them holds from shut."""
    least, most = (format_length(end(gap.at_least or 0.0 for gap in wants), units) for end in (min, max))
    after = min(gap.after_deg for gap in wants)
    late = f" from {format_angle(after, units)} on" if after > 0.0 else ""
    return (least if least == most else f"{least} to {most}") + late


def watched_words(before: Project, after: Project, thing: str, at_least: float, units: Units) -> str:
    """Say what `watch_all_round` has done: "6.0 mm wanted of sill against hatch skin, lift arm."."""
    changed = [gap for gap in after.gaps if gap not in before.gaps]
    if not changed:
        return f"As much is wanted of {thing} already, or nothing that can be watched moves past it: nothing changed."
    others = ", ".join(next(name for name in gap.between if name != thing) for gap in changed)
    held = sum(thing in gap.between for gap in after.gaps) - len(changed)
    rest = f" {held} want{'s' if held > 1 else ''} of it stay{'' if held > 1 else 's'} as before." if held else ""
    return f"{format_length(at_least, units)} wanted of {thing} against {others}.{rest}"


def near_words(near: Near, units: Units) -> str:
    """Say how far a thing stands from the room: "screen and sill: 10.4 mm away", "bulkhead: inside, or touched"."""
    if near.distance <= 0.0:
        return f"{near.outline}: touched, or taken in"
    return (
        f"{near.outline}: {format_length(near.distance, units)}{doubt_words(near.distance, near.uncertain, units)} away"
    )
