"""Swept room: the space that panel and links take through the whole travel, as outlines.

Each thing that moves is laid down at many poses, each pose joined to the next: between two poses a thing stays within
the convex hull of both places of any of its convex pieces, but for the sagitta of its points' paths. The poses stand so
close that this is below `SAGITTA`, and the whole is widened by as much, so the room never tells too little. What comes
is the union of all, with its holes: a loop of free space stays free.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from kinematics.arrays import as_complex
from kinematics.plate_shapes import stroke_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.analysis import Analysis
    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Point

SAGITTA = 0.25  # mm
COARSE = 60  # poses that are tried first
MOST = 720  # poses at most; a path that bends still more is told by a wider rim
ROUND = 8  # chords in a quarter of a pen's round


@dataclass(frozen=True, slots=True)
class SweptRoom:
    """The outlines of the room, mm in the fixed link's frame: solids anticlockwise, their holes clockwise.

    rim : mm, by how much they are widened, so that they surely hold all.
    """

    solids: tuple[tuple[Point, ...], ...]
    holes: tuple[tuple[Point, ...], ...]
    rim: float
    area: float

    @property
    def rings(self) -> tuple[tuple[Point, ...], ...]:
        """All outlines, solids first."""
        return self.solids + self.holes


@dataclass(frozen=True, slots=True, eq=False)
class _Thing:
    """What moves: column of its link, its line as complex points (shut), and the pen's radius."""

    column: int
    line: Complexes
    radius: float
    solid: bool


def swept_room(analysis: Analysis, links: Iterable[str] | None = None) -> SweptRoom:
    """The room that outlines and plates or bands of these links take; by default of all but the fixed link."""
    wanted = set(analysis.links if links is None else links) - {analysis.project.fixed.id}
    things = [thing for thing in _things(analysis) if analysis.links[thing.column] in wanted]
    if not things:
        return SweptRoom((), (), 0.0, 0.0)
    turns, shifts, sagitta = _poses(analysis, things)
    whole = shapely.union_all([_swept(thing, turns[:, thing.column], shifts[:, thing.column]) for thing in things])
    rim = sagitta if len(turns) > 1 else 0.0
    room = whole.buffer(rim, quad_segs=ROUND).simplify(0.2 * SAGITTA) if rim > 0.0 else whole
    return _told(room, rim)


def _things(analysis: Analysis) -> list[_Thing]:
    project, columns = analysis.project, {name: column for column, name in enumerate(analysis.links)}
    found = []
    for outline in project.outlines:
        points = (*outline.points, outline.points[0]) if outline.closed else outline.points
        found.append(_Thing(columns[outline.on], as_complex(points), outline.half_width, outline.closed))
    for link in project.links:
        plate = stroke_of(project, link)
        if plate is not None:
            found.append(_Thing(columns[link.id], plate.points, plate.radius, plate.solid))
            continue
        pins = [pivot.at for pivot in project.pivots if link.id in pivot.joins]
        if link.kind == "link" and len(pins) > 1:
            hull = shapely.MultiPoint(pins).convex_hull
            found.append(_Thing(columns[link.id], _line_of(hull), 0.5 * link.width, isinstance(hull, shapely.Polygon)))
    return found


def _line_of(hull: shapely.Geometry) -> Complexes:
    line = hull.exterior if isinstance(hull, shapely.Polygon) else hull
    points = shapely.get_coordinates(line).tolist()
    return as_complex(points * 2 if len(points) == 1 else points)  # pins on one place: a line without length


def _poses(analysis: Analysis, things: list[_Thing]) -> tuple[Floats, Complexes, float]:
    """Turns and shifts (poses, links) close enough, and how far a path may still stand off its chords, mm."""
    sweep = analysis.sweep
    if sweep.reached <= 0.0:
        return np.zeros((1, len(analysis.links))), np.zeros((1, len(analysis.links)), dtype=np.complex128), 0.0
    count = COARSE
    while True:
        y = sweep.at_arcs(np.linspace(0.0, sweep.reach_arc, count))
        turns, shifts = sweep.link_turns(y), sweep.shifts(y)
        sagitta = max(_sagitta(thing, turns, shifts) for thing in things)
        if sagitta <= SAGITTA or count >= MOST:
            return turns, shifts, max(sagitta, 1e-3)
        count = min(MOST, int(count * max(1.5, (sagitta / SAGITTA) ** 0.5 * 1.1)))


def _sagitta(thing: _Thing, turns: Floats, shifts: Complexes) -> float:
    """How far the paths of a thing's points may stand off their chords: an eighth of the second difference, twice as a
    margin for what lies between.
    """
    z = shifts[:, thing.column, None] + np.exp(1j * turns[:, thing.column, None]) * thing.line
    return 0.25 * float(np.abs(np.diff(z, 2, axis=0)).max(initial=0.0))


def _swept(thing: _Thing, turns: Floats, shifts: Complexes) -> shapely.Geometry:
    """The union of one thing over the poses."""
    z = shifts[:, None] + np.exp(1j * turns[:, None]) * thing.line
    first, last = z[:-1], z[1:]
    if len(z) == 1:
        edges = np.stack([z[0, :-1], z[0, 1:]], axis=-1)
        swept = [_ring(z[0])] if thing.solid else list(shapely.convex_hull(shapely.multipoints(_xy(edges))))
    else:  # every edge sweeps the hull of its four ends; a solid lies down at each pose as well, for what is inside
        corners = np.stack([first[:, :-1], first[:, 1:], last[:, 1:], last[:, :-1]], axis=-1).reshape(-1, 4)
        swept = list(shapely.convex_hull(shapely.multipoints(_xy(corners))))
        swept += [_ring(pose) for pose in z] if thing.solid else []
    whole = shapely.union_all(swept)
    return whole.buffer(thing.radius, quad_segs=ROUND) if thing.radius > 0.0 else whole


def _ring(z: Complexes) -> shapely.Geometry:
    return shapely.make_valid(shapely.Polygon(_xy(z)))


def _xy(z: Complexes) -> Floats:
    return np.stack([z.real, z.imag], axis=-1)


def _told(room: shapely.Geometry, rim: float) -> SweptRoom:
    """The polygons of a geometry as rings, the largest first."""
    parts = [part for part in getattr(room, "geoms", [room]) if isinstance(part, shapely.Polygon) and part.area > 0.0]
    parts = [orient(part) for part in sorted(parts, key=lambda part: -part.area)]
    return SweptRoom(
        tuple(_points(part.exterior) for part in parts),
        tuple(_points(hole) for part in parts for hole in part.interiors),
        rim,
        float(sum(part.area for part in parts)),
    )


def _points(ring: shapely.LinearRing) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])
