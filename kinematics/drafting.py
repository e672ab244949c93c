"""Lines made from lines: offset, mirrored, trimmed, joined, simplified, and the edge that faces another at a gap.

*Offset* is the line at one distance all along, left of the way it runs (negative: right); of a solid outline, outwards
(negative: inwards). *Trim* cuts a line where others cross it and keeps the piece that was picked. *Simplify* leaves
points out as long as the line stays within a tolerance of where it was. Corners of an offset are rounded about the
corner they come from, as the distance wants it.

Points are (x, y) in mm. Nothing here knows a project; what can't be drawn is an `OutlineError`.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import shapely
from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.geometry import Point as Spot
from shapely.ops import substring

from kinematics.curves import SAGITTA, chords_of
from kinematics.errors import OutlineError

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kinematics.values import Point

SPLIT = "the line at that distance falls into pieces"


# ------------------------------------------------------------------------------------------------------------ offset
def offset(points: Sequence[Point], distance: float, closed: bool = False) -> tuple[Point, ...]:
    """The line at a distance: left of an open line, outside of a closed one; negative: the other side.

    Raises OutlineError where nothing is left at that distance, where it falls into pieces, or where the line crosses
    itself.
    """
    if abs(distance) < 1e-9:
        return tuple(points)
    if closed:
        return _grown(points, distance)
    quarter = max(1, chords_of(abs(distance), math.pi / 2.0))
    line = LineString(points).offset_curve(distance, quad_segs=quarter)
    chains = [chain for chain in _lines(line) if chain.length > 2.0 * SAGITTA]
    if len(chains) != 1:
        raise OutlineError(SPLIT if chains else "nothing is left at that distance", remedy="Take a smaller distance.")
    (chain,) = chains
    if chain.is_closed:
        raise OutlineError("the line at that distance closes on itself", remedy="Take a smaller distance.")
    return _points(chain.coords)


def _grown(points: Sequence[Point], distance: float) -> tuple[Point, ...]:
    solid = Polygon(points)
    if not solid.is_valid:
        raise OutlineError("the outline crosses itself, so it has no inside", remedy="Mend the crossing first.")
    quarter = max(1, chords_of(abs(distance), math.pi / 2.0))
    grown = solid.buffer(distance, quad_segs=quarter)
    if grown.is_empty:
        raise OutlineError("nothing is left inside at that distance", remedy="Take a smaller distance.")
    if not isinstance(grown, Polygon):
        raise OutlineError(SPLIT, remedy="Take a smaller distance.")
    ring = grown.exterior
    turned = ring.is_ccw != shapely.is_ccw(Polygon(points).exterior)
    return _points(ring.coords[::-1] if turned else ring.coords)[:-1]


def facing_edge(points: Sequence[Point], gap: float, side: Point) -> tuple[Point, ...]:
    """The edge that faces an open line everywhere at a gap (mm), on the side on which `side` lies.

    This is how a panel's edge is had from the body around it. Raises OutlineError as `offset` does.
    """
    line = LineString(points)
    along = line.project(Spot(side))
    step = min(1e-3, line.length / 1e3)
    one, two = (line.interpolate(min(max(along + part, 0.0), line.length)) for part in (-step, step))
    left = (two.x - one.x) * (side[1] - one.y) - (two.y - one.y) * (side[0] - one.x)
    if abs(left) < 1e-12:
        raise OutlineError("the place picked lies on the line or straight ahead of it", remedy="Pick beside the line.")
    return offset(points, math.copysign(gap, left))


# ------------------------------------------------------------------------------------------------------------ mirror
def mirror(points: Sequence[Point], a: Point, b: Point) -> tuple[Point, ...]:
    """The line on the other side of the straight line through two points; OutlineError where those coincide."""
    p, way = complex(*a), complex(*b) - complex(*a)
    if abs(way) < 1e-9:
        raise OutlineError("a mirror line goes through two different points", remedy="Pick them apart.")
    turned = [p + way * ((complex(*point) - p) / way).conjugate() for point in points]
    return tuple((z.real, z.imag) for z in turned)


# --------------------------------------------------------------------------------------------------- trim, join, cut
def pieces(
    points: Sequence[Point], cutters: Iterable[Sequence[Point]], closed: bool = False
) -> list[tuple[Point, ...]]:
    """The line cut wherever one of the cutters (chains of points) crosses or touches it, in the order it runs.

    One piece where nothing crosses it; a closed line is cut open only where it is crossed, once is enough.
    """
    ring = [*points, points[0]] if closed else list(points)
    line = LineString(ring)
    cuts = sorted({round(place, 9) for chain in cutters for place in _crossings(line, LineString(chain))})
    inner = [place for place in cuts if closed or 1e-9 < place < line.length - 1e-9]
    if not inner:
        return [tuple(points)]
    if not closed:
        bounds = [0.0, *inner, line.length]
        return [_points(substring(line, a, b).coords) for a, b in itertools.pairwise(bounds)]
    return [_around(line, a, b) for a, b in zip(inner, [*inner[1:], inner[0] + line.length], strict=True)]


def trim(
    points: Sequence[Point], cutters: Iterable[Sequence[Point]], keep: Point, closed: bool = False
) -> tuple[Point, ...]:
    """Keep the piece nearest to the place picked; what comes is open. OutlineError where nothing crosses the line."""
    parts = pieces(points, cutters, closed)
    if parts == [tuple(points)]:
        raise OutlineError("nothing crosses this line", remedy="Draw the line that cuts it across it.")
    return min(parts, key=lambda part: LineString(part).distance(Spot(keep)))


def _crossings(line: LineString, cutter: LineString) -> list[float]:
    """Places along the line, mm from its start, where the cutter meets it; of a stretch in common, both its ends."""
    met = line.intersection(cutter)
    spots: list[Spot] = []
    for part in getattr(met, "geoms", [met]):
        if part.is_empty:
            continue
        ends = [Spot(part.coords[0]), Spot(part.coords[-1])] if isinstance(part, LineString) else [part]
        spots += ends
    return [line.project(spot) for spot in spots]


def _around(ring: LineString, a: float, b: float) -> tuple[Point, ...]:
    """The stretch of a closed line from a to b, over its start where b is beyond its length."""
    if b <= ring.length + 1e-9:
        return _points(substring(ring, a, min(b, ring.length)).coords)
    before, after = substring(ring, a, ring.length), substring(ring, 0.0, b - ring.length)
    chain = list(before.coords) if before.length > 1e-9 else []
    tail = list(after.coords) if after.length > 1e-9 else []
    return _points([*chain, *(tail[1:] if chain else tail)])


def join(a: Sequence[Point], b: Sequence[Point]) -> tuple[Point, ...]:
    """Two open lines as one, by their nearest ends; a straight piece bridges what lies between. It runs as `a` does
    where it can.
    """
    ends = {
        (turn_a, turn_b): math.dist(a[0] if turn_a else a[-1], b[-1] if turn_b else b[0])
        for turn_a in (False, True)
        for turn_b in (False, True)
    }
    turn_a, turn_b = min(ends, key=lambda key: ends[key])
    first, second = list(a)[::-1] if turn_a else list(a), list(b)[::-1] if turn_b else list(b)
    chain = [*first, *(second[1:] if math.dist(first[-1], second[0]) <= 1e-9 else second)]
    return tuple(chain[::-1] if turn_a and not turn_b else chain)


# ---------------------------------------------------------------------------------------------------------- simplify
def simplify(points: Sequence[Point], tolerance: float, closed: bool = False) -> tuple[Point, ...]:
    """Leave points out as long as none of them stood off by more than the tolerance (mm); the ends stay.

    By Douglas and Peucker's way (GEOS), which keeps points of the line and makes no new ones.
    """
    if tolerance <= 0.0:
        return tuple(points)
    if not closed:
        return _points(LineString(points).simplify(tolerance, preserve_topology=False).coords)
    ring = LineString([*points, points[0]]).simplify(tolerance, preserve_topology=False)
    kept = _points(ring.coords)[:-1]
    return kept if len(kept) >= 3 else tuple(points)


def _lines(shape: shapely.Geometry) -> list[LineString]:
    if isinstance(shape, MultiLineString):
        return list(shape.geoms)
    return [shape] if isinstance(shape, LineString) and not shape.is_empty else []


def _points(coords: Iterable[Sequence[float]]) -> tuple[Point, ...]:
    chain: list[Point] = []
    for x, y in ((each[0], each[1]) for each in coords):
        if not chain or (x, y) != chain[-1]:
            chain.append((float(x), float(y)))
    return tuple(chain)
