"""The rear edge: where on a drawing a hinge belongs, and how much room there is.

Terms. The *rear edge* is the end of the panel near which the hinge sits; the other end, the *front*, swings. A drawing
is looked at in a *hinge frame*: its origin at the rear edge, u *ahead* along the panel towards the front, v the way in
which the front sets out when the panel opens. So the body is below (−v), and in this frame every panel opens
anticlockwise, whichever way it turns on the sheet; one that opens clockwise is seen mirrored. All that is done with u
and v then holds for all panels.

Which end is the rear? The one that is clearly nearer to the fixed outlines. Where both ends are near them (a lid in its
frame) or there are none, the front must rise: gravity pulls along −y. For an upright panel, which neither rises nor
sinks at first, the body lies behind it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import Complexes, as_complex

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from kinematics.project import Outline, Point, Project

DEFAULT_LENGTH = 600.0
"""Length (mm) of a panel that nobody has drawn yet."""
CLEARLY = 0.5
"""An end is clearly nearer when its distance is below this share of the other's, which itself isn't small."""
SQUARE = 0.7
"""From this ratio of its sides on, a panel's section may be hinged along either."""
LYING = 0.5
"""A panel whose way ahead is level by this share or more lies: what is ahead of it is to the right or to the left."""

END = 0.15
"""Share of the panel's length that counts as its rear end, and as its front end."""
REAR_CORNER, FRONT_CORNER, CORNER = "rear corner", "front corner", "corner"


@dataclass(frozen=True, slots=True, eq=False)
class RearEdge:
    """The hinge frame and what is seen in it, all in mm of u + iv.

    Attributes
    ----------
    origin, ahead : rear edge and unit way to the front, on the sheet (x + iy).   sign : +1 anticlockwise, −1 clockwise.
    length : of the panel, rear to front.
    fixed, panel : the outlines as shapely geometries (empty where there are none).
    face : u of what stands behind the rear edge, seen from ahead just below the panel; None where nothing does.
    """

    origin: complex
    ahead: complex
    sign: int
    length: float
    fixed: BaseGeometry
    panel: BaseGeometry
    face: float | None

    def seen(self, z: Complexes) -> Complexes:
        """Points of the sheet, x + iy, in the hinge frame, u + iv."""
        turned = (z - self.origin) / self.ahead
        return turned if self.sign > 0 else np.conj(turned)

    def drawn(self, w: complex) -> Point:
        """A point of the hinge frame on the sheet, to 0.1 mm."""
        z = self.origin + self.ahead * (w if self.sign > 0 else w.conjugate())
        return round(z.real, 1), round(z.imag, 1)

    def underside(self, u: float) -> float:
        """The v of the panel's underside at a u; level with its nearest end beyond it, 0 where there is no panel."""
        if self.panel.is_empty:
            return 0.0
        low, bottom, high, top = self.panel.bounds
        at = min(max(u, low + 1e-3 * (high - low)), high - 1e-3 * (high - low))
        cut = self.panel.intersection(shapely.LineString([(at, bottom - 1.0), (at, top + 1.0)]))
        return float(bottom if cut.is_empty else cut.bounds[1])


def rear_edge(project: Project) -> RearEdge:
    """Find the rear edge of a project's panel, from its outlines and the way in which it opens."""
    panel = _points(project, project.panel.id)
    fixed = _lines(project, project.fixed.id)
    sign = project.travel.sign
    if len(panel) < 2 or np.ptp(panel.real) + np.ptp(panel.imag) < 1e-6:
        return _with_room(project, _undrawn_corner(project, sign), complex(sign), DEFAULT_LENGTH)
    ahead = _way_ahead(panel, fixed, sign)
    along = (panel / ahead).real
    across = sign * (panel / ahead).imag
    length = float(np.ptp(along))
    outer = across[along < along.min() + 0.02 * length].max()
    return _with_room(project, ahead * complex(along.min(), sign * outer), ahead, length)


def rising_turn(project: Project) -> int:
    """Tell which way a panel turns if its front rises from the body at its rear: +1 anticlockwise, −1 clockwise.

    0 where nobody can tell: without outlines of both, where both ends are near the body, or where the panel stands
    upright. How the project says that the panel opens doesn't matter.
    """
    panel, fixed = _points(project, project.panel.id), _lines(project, project.fixed.id)
    if fixed.is_empty or len(panel) < 2 or np.ptp(panel.real) + np.ptp(panel.imag) < 1e-6:
        return 0
    ways = _ways(panel)
    by_turn = {sign: max(_merit(way, panel, fixed, sign) for way in ways) for sign in (1, -1)}
    return 0 if abs(by_turn[1] - by_turn[-1]) < LYING else max(by_turn, key=lambda sign: by_turn[sign])


def side_ahead(project: Project) -> int:
    """Tell on which side of the sheet the front of the panel is: +1 right, −1 left.

    0 where the panel stands upright, and where it isn't drawn: nobody can tell then what is ahead.
    """
    ends = _ends(project)
    level = 0.0 if ends is None else ends.ahead.real
    return 0 if abs(level) < LYING else 1 if level > 0.0 else -1


def rear_point(project: Project) -> tuple[Point, complex] | None:
    """Give the rear edge as a point of the panel's outlines, and the unit way (on the sheet) out of the body there.

    Of the points within a fiftieth of the panel's length from its rear end it is the outermost. None without outlines.
    """
    ends = _ends(project)
    return None if ends is None else ((ends.rear.real, ends.rear.imag), 1j * project.travel.sign * ends.ahead)


@dataclass(frozen=True, slots=True)
class _Ends:
    """The unit way from a panel's rear edge to its front, and its rear point, x + iy."""

    ahead: complex
    rear: complex


_told: tuple[tuple[object, ...], _Ends | None] | None = None
"""What was asked last (outlines, links, sign) and the answer: a drag of a pin asks it again for every move."""


def _ends(project: Project) -> _Ends | None:
    global _told  # noqa: PLW0603  one answer is kept
    asked = (project.outlines, project.links, project.travel.sign)
    if _told is None or any(now is not before for now, before in zip(asked, _told[0], strict=True)):
        _told = (asked, _ends_afresh(project))
    return _told[1]


def _ends_afresh(project: Project) -> _Ends | None:
    panel, sign = _points(project, project.panel.id), project.travel.sign
    if len(panel) < 2 or np.ptp(panel.real) + np.ptp(panel.imag) < 1e-6:
        return None
    ahead = _way_ahead(panel, _lines(project, project.fixed.id), sign)
    along = (panel / ahead).real
    rearmost = panel[along <= along.min() + 0.02 * float(np.ptp(along))]
    return _Ends(ahead, complex(rearmost[np.argmax(sign * (rearmost / ahead).imag)]))


def front_point(project: Project) -> Point | None:
    """Give the point of the panel's outlines that lies furthest ahead; None without any.

    Of those within a fiftieth of the panel's length it is the highest, as a lip may hang down there.
    """
    panel = _points(project, project.panel.id)
    if len(panel) < 2 or np.ptp(panel.real) + np.ptp(panel.imag) < 1e-6:
        return None
    along = (panel / _way_ahead(panel, _lines(project, project.fixed.id), project.travel.sign)).real
    foremost = panel[along >= along.max() - 0.02 * float(np.ptp(along))]
    front = complex(foremost[np.argmax(foremost.imag)])
    return front.real, front.imag


def corner_name(project: Project, at: Point) -> str:
    """Say which corner of the panel a shut point of it is: the rear one, the front one, or just a corner."""
    panel = _points(project, project.panel.id)
    if len(panel) < 2 or np.ptp(panel.real) + np.ptp(panel.imag) < 1e-6:
        return CORNER
    ahead = _way_ahead(panel, _lines(project, project.fixed.id), project.travel.sign)
    along = (panel / ahead).real
    share = ((complex(*at) / ahead).real - along.min()) / max(float(np.ptp(along)), 1e-12)
    return REAR_CORNER if share < END else FRONT_CORNER if share > 1.0 - END else CORNER


def _way_ahead(panel: Complexes, fixed: BaseGeometry, sign: int) -> complex:
    """The unit way from the rear edge to the front, on the sheet."""
    return max(_ways(panel), key=lambda way: _merit(way, panel, fixed, sign))


def _undrawn_corner(project: Project, sign: int) -> complex:
    """Where the rear edge of a panel that nobody has drawn is taken to be: the body's upper corner ahead."""
    fixed = _points(project, project.fixed.id)
    return complex(max(fixed, key=lambda z: z.imag + 0.5 * sign * z.real)) if len(fixed) else 0j


def _points(project: Project, link: str) -> Complexes:
    """All outline points of a link, x + iy."""
    return as_complex(point for outline in project.outlines if outline.on == link for point in outline.points)


def _lines(project: Project, link: str) -> BaseGeometry:
    """All outlines of a link on the sheet; empty where there are none."""
    found = [outline for outline in project.outlines if outline.on == link]
    return shapely.MultiLineString([_line(as_complex(outline.points), outline) for outline in found])


def _line(z: Complexes, outline: Outline) -> shapely.LineString:
    """Points of an outline, closed where it is."""
    around = np.append(z, z[0]) if outline.closed else z
    return shapely.LineString(np.stack([around.real, around.imag], axis=1))


def _ways(panel: Complexes) -> list[complex]:
    """Unit ways along a panel, both ways round: along the longer side of its tightest box, or both if it is square."""
    box = shapely.oriented_envelope(shapely.MultiPoint(np.stack([panel.real, panel.imag], axis=1)))
    corners = as_complex(shapely.get_coordinates(box))
    sides = sorted(np.diff(corners[:3]).tolist(), key=abs, reverse=True)
    used = sides if abs(sides[-1]) > SQUARE * abs(sides[0]) else sides[:1]
    return [way / abs(way) * turn for way in used for turn in (1, -1)]


def _merit(ahead: complex, panel: Complexes, fixed: BaseGeometry, sign: int) -> float:
    """How well a way fits as the way ahead; the greatest wins."""
    along = (panel / ahead).real
    length = float(np.ptp(along))
    front_moves = 1j * sign * ahead
    rising = front_moves.imag
    if fixed.is_empty:
        return rising
    rear = _apart(panel[along < along.min() + 0.1 * length], fixed)
    front = _apart(panel[along > along.max() - 0.1 * length], fixed)
    if min(rear, front) < CLEARLY * max(rear, front) and max(rear, front) > 0.15 * length:
        return math.copysign(3.0, front - rear) + rising
    middle = complex(*fixed.centroid.coords[0])
    behind = ((panel.mean() - middle) / front_moves).real
    return rising if abs(rising) > 0.3 else rising + math.copysign(2.0, behind)


def _apart(points: Complexes, lines: BaseGeometry) -> float:
    """Least distance between points and lines."""
    return float(shapely.distance(shapely.points(points.real, points.imag), lines).min())


def _with_room(project: Project, origin: complex, ahead: complex, length: float) -> RearEdge:
    """The frame with the outlines seen in it."""
    nothing = shapely.MultiLineString()
    frame = RearEdge(origin, ahead, project.travel.sign, length, nothing, nothing, None)
    seen = replace(frame, fixed=_seen(frame, project, project.fixed.id), panel=_seen(frame, project, project.panel.id))
    return replace(seen, face=_face(seen))


def _seen(frame: RearEdge, project: Project, link: str) -> BaseGeometry:
    """The outlines of a link in the hinge frame, thinned to what matters for placing."""
    shapes = [_line(frame.seen(as_complex(each.points)), each) for each in project.outlines if each.on == link]
    return shapely.simplify(shapely.MultiLineString(shapes), frame.length / 2000)


def _face(frame: RearEdge) -> float | None:
    """How far ahead the body behind the rear edge stands, looked for level by level below the panel."""
    near = 0.3 * frame.length
    start = frame.underside(0.1 * frame.length)
    depth = room_below(frame, 0.15 * frame.length)
    faces = []
    for share in (0.05, 0.2, 0.4, 0.6):
        v = start - share * min(depth, 0.2 * frame.length)
        hit = frame.fixed.intersection(shapely.LineString([(-near, v), (near, v)]))
        if not hit.is_empty:
            faces.append(float(hit.bounds[2]))
    return max(faces, default=None)


def room_below(frame: RearEdge, u: float) -> float:
    """How deep (mm) the space below the panel is at a u; one panel's length where nothing ends it."""
    top = frame.underside(u)
    hit = frame.fixed.intersection(shapely.LineString([(u, top), (u, top - frame.length)]))
    return frame.length if hit.is_empty else top - float(hit.bounds[3])
