"""DXF entities as exact pieces, in the drawing's plane.

An entity with an *extrusion* has its coordinates in a plane of its own; extrusion (0, 0, −1), a plane seen from behind,
is how a mirrored arc is often saved. A *bulge* bends the stretch from one vertex of a polyline to the next into an arc.
A `Frame` is the affine map that carries all this, and the blocks around it, into the drawing. Depth is dropped: seen
along z. Source of names and codes: the public DXF reference.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import radians, tau
from typing import TYPE_CHECKING, Any

from app.files.flatten import Arc, Piece, Spline, Straight, arc_from_bulge

if TYPE_CHECKING:
    from ezdxf.math import Matrix44, Vec3

HIGHEST_DEGREE = 25
"""Splines of a higher degree are damaged ones."""


@dataclass(frozen=True, slots=True)
class Frame:
    """How the coordinates of a block or entity lie in the drawing: images of the origin and of the three axes."""

    matrix: Matrix44
    origin: complex
    axes: tuple[complex, complex, complex]
    depth: tuple[float, float, float, float]

    @classmethod
    def of(cls, matrix: Matrix44) -> Frame:
        """The frame of a 4 × 4 matrix (rows: the images of x, y, z and the origin)."""
        x, y, z, at = (matrix.get_row(k) for k in range(4))
        flat = [complex(row[0], row[1]) for row in (x, y, z, at)]
        return cls(matrix, flat[3], (flat[0], flat[1], flat[2]), (x[2], y[2], z[2], at[2]))

    def in_plane(self, z: complex, depth: float) -> complex:
        """Where the point (z.real, z.imag, depth) lies, seen along z."""
        return self.origin + self.across(z) + self.axes[2] * depth

    def across(self, z: complex) -> complex:
        """A direction in the x-y plane, seen along z."""
        return self.axes[0] * z.real + self.axes[1] * z.imag

    def place(self, point: Vec3) -> complex:
        """Where a point lies, seen along z."""
        return self.origin + self.turn(point)

    def turn(self, way: Vec3) -> complex:
        """A direction, seen along z."""
        return self.axes[0] * float(way.x) + self.axes[1] * float(way.y) + self.axes[2] * float(way.z)

    def height(self, way: Vec3) -> float:
        """The z of a direction."""
        return self.depth[0] * float(way.x) + self.depth[1] * float(way.y) + self.depth[2] * float(way.z)


@dataclass(frozen=True, slots=True)
class Read:
    """What an entity turned out to be; `tilted` when it leaves the drawing's plane."""

    kind: str
    closed: bool
    pieces: tuple[Piece, ...]
    tilted: bool


def read_entity(entity: Any, kind: str, frame: Frame) -> Read:  # noqa: ANN401  ezdxf's entities are dynamic
    """The pieces of one entity of a kind in `READERS`, in the drawing that `frame` leads to.

    Raises ValueError or another of Python's own errors where the entity is damaged.
    """
    return READERS[kind](entity, _own_frame(entity, kind, frame))


def _own_frame(entity: Any, kind: str, frame: Frame) -> Frame:  # noqa: ANN401
    """The frame of an entity whose coordinates are in a plane of its own."""
    if kind in ("LINE", "ELLIPSE", "SPLINE") or (kind == "POLYLINE" and entity.is_3d_polyline):
        return frame
    ocs = entity.ocs()
    return Frame.of(ocs.matrix @ frame.matrix) if ocs.transform else frame


def _line(entity: Any, frame: Frame) -> Read:  # noqa: ANN401
    start, end = entity.dxf.start, entity.dxf.end
    return Read("line", False, (Straight((frame.place(start), frame.place(end))),), _rises(frame, [end - start]))


def _circle(entity: Any, frame: Frame) -> Read:  # noqa: ANN401
    return Read("circle", True, (_round(entity, frame, 0.0, tau),), _leans(frame))


def _arc(entity: Any, frame: Frame) -> Read:  # noqa: ANN401
    start = radians(entity.dxf.start_angle)
    # Anticlockwise in its own plane; equal angles mean all the way round.
    span = (radians(entity.dxf.end_angle) - start) % tau or tau
    return Read("arc", span == tau, (_round(entity, frame, start, span),), _leans(frame))


def _round(entity: Any, frame: Frame, start: float, span: float) -> Arc:  # noqa: ANN401
    """An arc of a circle, in its frame."""
    radius = entity.dxf.radius
    if not radius > 0:
        raise ValueError(radius)
    return Arc(frame.place(entity.dxf.center), frame.axes[0] * radius, frame.axes[1] * radius, start, span)


def _ellipse(entity: Any, frame: Frame) -> Read:  # noqa: ANN401
    major, minor = entity.dxf.major_axis, entity.minor_axis
    start = entity.dxf.start_param
    span = (entity.dxf.end_param - start) % tau
    if span < 1e-9 or tau - span < 1e-9:
        span = tau
    arc = Arc(frame.place(entity.dxf.center), frame.turn(major), frame.turn(minor), start, span)
    return Read("ellipse", span == tau, (arc,), _rises(frame, [major, minor]))


def _lwpolyline(entity: Any, frame: Frame) -> Read:  # noqa: ANN401
    vertices = [(complex(x, y), bulge) for x, y, bulge in entity.get_points("xyb")]
    depth = entity.dxf.get("elevation", 0.0)
    return Read("polyline", entity.closed, _bulged(vertices, entity.closed, frame, depth), _leans(frame))


def _polyline(entity: Any, frame: Frame) -> Read:  # noqa: ANN401
    # Vertices with flag 16 are the frame by which a fitted curve was made, not the curve.
    kept = [vertex for vertex in entity.vertices if not vertex.dxf.flags & 16]
    places = [vertex.dxf.location for vertex in kept]
    closed = entity.is_closed
    if entity.is_3d_polyline:
        points = tuple(frame.place(each) for each in (*places, *places[:closed]))
        steps = [b - a for a, b in pairwise(places)]
        return Read("polyline", closed, (Straight(points),), _rises(frame, steps))
    vertices = [(complex(at.x, at.y), vertex.dxf.get("bulge", 0.0)) for at, vertex in zip(places, kept, strict=True)]
    depth = entity.dxf.get("elevation", places[0]).z
    return Read("polyline", closed, _bulged(vertices, closed, frame, depth), _leans(frame))


def _bulged(vertices: list[tuple[complex, float]], closed: bool, frame: Frame, depth: float) -> tuple[Piece, ...]:
    """The pieces of a polyline with bulges, one Straight for each run of straight stretches."""
    around = [*vertices, *vertices[:1]] if closed else vertices
    pieces: list[Piece] = []
    run: list[complex] = []
    for (start, bulge), (end, _) in pairwise(around):
        piece = _placed(arc_from_bulge(start, end, bulge), frame, depth)
        if isinstance(piece, Straight):
            run += piece.points[1:] if run else piece.points
            continue
        if run:
            pieces.append(Straight(tuple(run)))
            run = []
        pieces.append(piece)
    return (*pieces, Straight(tuple(run))) if run else tuple(pieces)


def _placed(piece: Straight | Arc, frame: Frame, depth: float) -> Straight | Arc:
    """A piece of the entity's own plane, in the drawing."""
    if isinstance(piece, Straight):
        return Straight(tuple(frame.in_plane(z, depth) for z in piece.points))
    u, v = frame.across(piece.u), frame.across(piece.v)
    ends = piece.ends and (frame.in_plane(piece.ends[0], depth), frame.in_plane(piece.ends[1], depth))
    return Arc(frame.in_plane(piece.centre, depth), u, v, piece.start, piece.span, ends)


def _spline(entity: Any, frame: Frame) -> Read:  # noqa: ANN401
    tool = entity.construction_tool()  # fit points, where a spline has no others, become control points
    control = list(tool.control_points)
    weights = tuple(tool.weights()) or (1.0,) * len(control)
    knots, degree = tuple(tool.knots()), tool.degree
    sound = 1 <= degree < len(control) and len(knots) == len(control) + degree + 1 and len(weights) == len(control)
    if not sound or degree > HIGHEST_DEGREE or min(weights) <= 0 or list(knots) != sorted(knots):
        raise ValueError(degree)
    steps = [b - a for a, b in pairwise(control)]
    # A closed one closes by its own ends, as flattening will show.
    return Read(
        "spline", False, (Spline(tuple(map(frame.place, control)), weights, knots, degree),), _rises(frame, steps)
    )


READERS = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _polyline,
    "SPLINE": _spline,
}


def _leans(frame: Frame) -> bool:
    """Whether the frame's x-y plane isn't the drawing's."""
    return abs(frame.depth[0]) + abs(frame.depth[1]) > 1e-9 * (abs(frame.axes[0]) + abs(frame.axes[1]))


def _rises(frame: Frame, ways: list[Vec3]) -> bool:
    """Whether one of these directions leaves the drawing's plane."""
    return any(abs(frame.height(way)) > 1e-6 for way in ways)
