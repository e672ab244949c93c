"""Where the ends of struts may be, when nobody has drawn zones for them; and points drawn at random in a zone.

The zone on the panel lies along the inside of its outline; the one on the fixed link beneath it, as deep as half the
panel is long. Both stop well before the front edge, where a strut has lever enough to throw the panel, and keep off
what is drawn of the fixed link. They are only a beginning: what a bracket can be fastened to, the builder knows.
The shares are common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import as_complex, as_point
from kinematics.parts import Zone
from kinematics.zoning import flaw

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from kinematics.arrays import Complexes
    from kinematics.project import Outline, Point, Project

ALONG = (0.02, 0.62)
"""From where to where along the panel, as shares of its length from the hinge on."""
BENEATH = 0.08
"""How deep the zone on the panel is, as a share of that length …"""
DEPTH = (0.04, 0.5)
"""… and from where to where beneath the panel's inside the one on the fixed link lies."""
OFF = 15.0
"""mm that a pin keeps from an outline, for its bracket."""
BETWEEN = 12
"""Points on each edge of the panel's outline by which its inside is told."""
DRAWS = 24
"""So often points are drawn until enough lie within a zone."""


def default_zones(project: Project) -> tuple[Zone, ...]:
    """A zone on the fixed link and one on the panel; empty where nothing is drawn that says where the panel is."""
    frame = _frame(project)
    if frame is None:
        return ()
    hinge, along, inward, length, inside = frame

    def box(depths: tuple[float, float]) -> Complexes:
        corners = [(ALONG[0], depths[0]), (ALONG[1], depths[0]), (ALONG[1], depths[1]), (ALONG[0], depths[1])]
        return np.array([hinge + along * u * length + inward * v for u, v in corners])

    panel = box((inside + OFF, inside + OFF + BENEATH * length))
    body = box((inside + OFF + DEPTH[0] * length, inside + OFF + DEPTH[1] * length))
    free = _apart(project, body)
    found = (Zone(project.fixed.id, free), Zone(project.panel.id, _rounded(panel)))
    return found if not any(flaw(zone.points) for zone in found) else ()


def _frame(project: Project) -> tuple[complex, complex, complex, float, float] | None:
    """Hinge, unit ways along the panel and inward, its length, how deep its outlines hang beneath that line (mm)."""
    panel, fixed = project.panel.id, project.fixed.id
    pins = as_complex(pivot.at for pivot in project.pivots if {panel, fixed} & set(pivot.joins))
    drawn = [_along(each) for each in project.outlines if each.on == panel]
    loads = project.loads
    if loads is not None and loads.handle is not None and loads.handle.on == panel:
        drawn.append(as_complex([loads.handle.at]))
    if not len(pins) or not drawn:
        return None
    points = np.concatenate(drawn)
    hinge = complex(pins.mean())
    tip = complex(points[np.argmax(np.abs(points - hinge))])
    back = complex(points[np.argmin((points * (tip - hinge).conjugate()).real)])
    length = abs(tip - back)
    if length < 1.0:
        return None
    along = (tip - back) / length
    inward = along * (-1j * project.travel.sign)
    shares = ((points - back) * along.conjugate()).real / length
    depths = ((points - back) * inward.conjugate()).real
    near = depths[(shares >= ALONG[0]) & (shares <= ALONG[1])]
    return back, along, inward, length, float(near.max()) if len(near) else 0.0


def _along(outline: Outline) -> Complexes:
    """Points along an outline, its corners and some between."""
    corners = as_complex(outline.points)
    ends = np.append(corners, corners[:1]) if outline.closed else corners
    between = ends[:-1, None] + np.diff(ends)[:, None] * (np.arange(BETWEEN) / BETWEEN)
    return np.append(between.ravel(), ends[-1:])


def _apart(project: Project, corners: Complexes) -> tuple[Point, ...]:
    """The largest part of a region that keeps off the fixed link's outlines."""
    region: BaseGeometry = shapely.Polygon(list(map(as_point, corners.tolist())))
    for each in project.outlines:
        if each.on == project.fixed.id and not each.hidden:
            region = region.difference(shape_of(each).buffer(OFF + each.half_width))
    parts = [part for part in shapely.get_parts(region).tolist() if part.geom_type == "Polygon"]
    if not parts:
        return _rounded(corners)
    largest = max(parts, key=lambda part: part.area).simplify(2.0)
    return _rounded(as_complex(list(largest.exterior.coords)[:-1]))


def shape_of(outline: Outline) -> BaseGeometry:
    """An outline as GEOS has it: a solid where it is closed."""
    if outline.closed:
        return shapely.make_valid(shapely.Polygon(outline.points))
    return shapely.LineString(outline.points)


def _rounded(corners: Complexes) -> tuple[Point, ...]:
    return tuple((round(z.real), round(z.imag)) for z in corners.tolist())


class Region:
    """A closed region, from which points are drawn."""

    def __init__(self, corners: Complexes) -> None:
        self._shape = shapely.Polygon(list(map(as_point, corners.tolist())))
        shapely.prepare(self._shape)
        self._low = complex(corners.real.min(), corners.imag.min())
        self._size = complex(corners.real.max(), corners.imag.max()) - self._low

    def has(self, points: Complexes) -> np.ndarray:
        """(n,) whether points lie in it, on its edge too."""
        return np.asarray(shapely.intersects_xy(self._shape, points.real, points.imag))

    def draw(self, count: int, random: np.random.Generator) -> Complexes:
        """(count,) points, spread evenly."""
        found = [np.zeros(0, dtype=np.complex128)]
        left = count
        for _ in range(DRAWS):
            lot = random.random((2, 2 * left + 8))
            points = self._low + self._size.real * lot[0] + 1j * self._size.imag * lot[1]
            found.append(points[self.has(points)][:left])
            left -= len(found[-1])
            if left <= 0:
                break
        inside = np.concatenate(found)
        if not len(inside):  # a sliver
            middle = self._shape.representative_point()
            inside = np.array([complex(middle.x, middle.y)])
        return np.asarray(np.resize(inside, count))
