"""What comes of a wall off square where nothing trues the bases, and a wall that stands in the way.

A base bolted flat to such a wall turns its hinge by the bevel B about the line in which the links' plane cuts the wall.
A place d off that line (in the side view, square to it) goes *sideways* by d · sin B, outboard where B is positive. The
panel can't follow both hinges; how far their play lets it open all the same is `kinematics.toeing`'s.

A wall whose lean was typed isn't the one that is drawn, so no watched gap knows of it. It *meets* what moves where that
reaches behind it and not behind the drawn one, in the side view at the hinge, between its lower end and its edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.faces import wall
from kinematics.rear_edge import front_point, rear_point
from kinematics.swept import swept_room
from kinematics.walling import FLAT, from_centre, lean_of, wall_plane

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.analysis import Analysis
    from kinematics.faces import Face
    from kinematics.mount_parts import Base
    from kinematics.project import Project
    from kinematics.walling import WallPlane

AS_DRAWN = 0.05
"""Deg by which a typed lean may differ from the drawn one and still be the same."""
DEEP = 0.5
"""Mm behind a wall from which on something is in it; the swept room is told a little too wide."""
OPENINGS = 25
FAR = 1e5


@dataclass(frozen=True, slots=True)
class Untrued:
    """One hand without wedge.   out_deg : out of parallel to the centreline; positive opens outboard ahead.

    front, rear : how far the panel's front and rear edge would go sideways, shut, outboard positive; None where no
    panel is drawn.   pins : the same of the pin that goes farthest over the travel, `pin`, at `at_deg`.
    """

    hand: str
    out_deg: float
    front: float | None
    rear: float | None
    pins: float
    pin: str
    at_deg: float


def untrued(analysis: Analysis, base: Base, hand: str) -> Untrued | None:
    """What happens on one hand without a wedge; None where there is no plane."""
    project = analysis.project
    plane, face = wall_plane(project, base, hand), wall(project, base)
    if plane is None or face is None:
        return None
    bevel = math.sin(math.radians(plane.bevel_deg))
    away = _away(plane, face)

    def sideways(z: complex) -> float:
        return ((z - face.at) * away.conjugate()).real * bevel

    front, rear = front_point(project), rear_point(project)
    pins, pin, at_deg = max(_pins(analysis, sideways), key=lambda each: abs(each[0]))
    return Untrued(
        hand,
        plane.bevel_deg,
        None if front is None else sideways(complex(*front)),
        None if rear is None else sideways(complex(*rear[0])),
        pins,
        pin,
        at_deg,
    )


def _away(plane: WallPlane, face: Face) -> complex:
    """The unit way in the side view, square to the line in which the links' plane cuts the wall, to the pins."""
    away = complex(float(plane.rise[1]), -float(plane.rise[0]))
    return away if (away * face.out.conjugate()).real > 0.0 else -away


def _pins(analysis: Analysis, sideways: Callable[[complex], float]) -> list[tuple[float, str, float]]:
    """Of every pin at some openings: how far sideways it goes, its id, the opening."""
    columns = {name: column for column, name in enumerate(analysis.links)}
    found = [(0.0, "", 0.0)]
    for deg in np.linspace(0.0, analysis.opening.reached_deg, OPENINGS).tolist():
        pose = analysis.pose(deg)
        for pivot in analysis.project.pivots:
            column = columns[pivot.joins[0]]
            z = complex(pose.shifts[column]) + complex(*pivot.at) * complex(np.exp(1j * pose.turns[column]))
            found.append((sideways(z), pivot.id, deg))
    return found


def wall_meets(analysis: Analysis, base: Base, hand: str) -> tuple[tuple[str, float], ...]:
    """The links (with what is drawn on them) that a wall of typed lean comes to stand in over the travel, how deep, mm.

    Deepest first; empty where the lean is the drawn one.
    """
    project = analysis.project
    face, plane = wall(project, base), wall_plane(project, base, hand)
    if face is None or plane is None or abs(plane.lean_deg - lean_of(face)) <= AS_DRAWN:
        return ()
    away = _away(plane, face)
    behind = _behind(face, away).difference(_behind(face, face.out))
    low, high = _reach(analysis, face)
    behind = behind.intersection(shapely.box(-FAR, low, FAR, high))
    found = []
    for link in project.links:
        if link.kind == "fixed":
            continue
        room = swept_room(analysis, [link.id])
        deep = 0.0
        for ring in room.solids:
            part = shapely.make_valid(shapely.Polygon(ring)).intersection(behind)
            for x, y in shapely.get_coordinates(part).tolist():
                deep = max(deep, -((complex(x, y) - face.at) * away.conjugate()).real)
        if deep > DEEP:
            found.append((link.id, deep))
    return tuple(sorted(found, key=lambda each: -each[1]))


def _reach(analysis: Analysis, face: Face) -> tuple[float, float]:
    """From where to where the wall reaches in height: as drawn, its edge as typed; the fixed pins' where nothing is."""
    project = analysis.project
    heights = [pivot.at[1] for pivot in project.pivots_on(project.fixed.id)]
    drawn = next((each for each in project.outlines if each.id == face.outline), None)
    if drawn is not None:
        heights = [point[1] for point in drawn.points]
    told = project.walled
    return min(heights), max(heights) if told.edge is None else told.level + told.edge


def _behind(face: Face, away: complex) -> shapely.Polygon:
    """All that is behind a line through the face's place, square to `away`."""
    far, along = FAR * away, FAR * 1j * away
    return shapely.Polygon([(z.real, z.imag) for z in (face.at + along, face.at - along, face.at - along - far,
                                                       face.at + along - far)])  # fmt: skip


def centre_rise(project: Project, base: Base, hand: str) -> float | None:
    """By how much a wall stands nearer to the panel at the centreline than at its hinge, mm (negative: farther).

    None where the wall lies, or nobody knows how far the hinge is off the centreline.
    """
    plane, off = wall_plane(project, base, hand), from_centre(project, hand)
    return None if plane is None or off is None else off * math.tan(math.radians(plane.off_deg))


def nearest_elsewhere(project: Project, base: Base, hand: str) -> tuple[str, float] | None:
    """Where along the panel the wall stands nearest to it, and by how much nearer (mm) than at the hinge.

    "centreline" where it falls away outboard, "outer edge" of the panel where it comes nearer. None where it is square,
    or nobody knows how far the hinge, or the panel's outer edge, is off the centreline.
    """
    plane, off = wall_plane(project, base, hand), from_centre(project, hand)
    if plane is None or off is None or abs(plane.off_deg) < FLAT:
        return None
    if plane.off_deg > 0.0:
        return "centreline", off * math.tan(math.radians(plane.off_deg))
    across = None if project.loads is None else project.loads.across
    if across is None or 0.5 * across <= off:
        return None
    return "outer edge", (0.5 * across - off) * math.tan(math.radians(-plane.off_deg))
