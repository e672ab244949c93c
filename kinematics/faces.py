"""The faces that the hinge is held at: the panel's inner skin and the wall, as a straight line in the side view.

A *face* is a place on the surface, a unit way along it and one out of it, to the side on which the pins are; so the
pins stand at positive heights in its frame: w = (z − at) · conj(along), whose imaginary part is the height. Where
nobody said where it is, it is the nearest place of what is drawn of that link; where nothing is drawn, it is taken a
little way off the pins: above them for the panel, behind them for the wall.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kinematics.errors import HingewrightError
from kinematics.rear_edge import side_ahead

if TYPE_CHECKING:
    from kinematics.mount_parts import Base, Bracket
    from kinematics.project import Link, Point, Project

LEAST_WAY = 0.1
"""Of a face's unit way: one that runs less along x, or along y, isn't placed by it."""
ROOM = 40.0
"""Mm from the pins' eyes to a face that nobody drew."""


@dataclass(frozen=True, slots=True)
class Face:
    """A face: a place (complex mm), the unit way along it with the pins to its left, and the outline it was read off.

    outline : "" where somebody typed it or nothing is drawn.   drawn : whether it was read off an outline.
    """

    at: complex
    along: complex
    outline: str = ""

    @property
    def out(self) -> complex:
        """The unit way off the face, to the pins."""
        return 1j * self.along

    @property
    def deg(self) -> float:
        """Its way from the x axis, deg."""
        return math.degrees(cmath.phase(self.along))

    def seen(self, z: complex) -> complex:
        """A place of the sheet in the face's frame: along it + i · height."""
        return (z - self.at) * self.along.conjugate()

    def drawn(self, w: complex) -> complex:
        """A place of the face's frame on the sheet."""
        return self.at + w * self.along

    def raised(self, by: float) -> Face:
        """The same, so much nearer to the pins."""
        return Face(self.at + by * self.out, self.along, self.outline)


def pins_of(project: Project, link: Link) -> tuple[tuple[str, complex], ...]:
    """The pins of a link, by id, with their places."""
    return tuple((pivot.id, complex(*pivot.at)) for pivot in project.pivots_on(link.id))


def skin(project: Project, bracket: Bracket) -> Face | None:
    """The panel's inner skin at its pins; None without pins."""
    return _face(project, project.panel, bracket.at, bracket.skin_deg, 1j)


def wall(project: Project, base: Base) -> Face | None:
    """The wall at the fixed pins; None without pins."""
    behind = -1.0 if side_ahead(project) >= 0 else 1.0
    return _face(project, project.fixed, base.at, base.wall_deg, complex(behind))


def place_on(face: Face, axis: int, value: float) -> Point:
    """The place of a face at an x (axis 0) or a y (axis 1).

    Raises HingewrightError where the face hardly runs that way.
    """
    way, start = ((face.along.real, face.at.real), (face.along.imag, face.at.imag))[axis]
    if abs(way) < LEAST_WAY:
        raise HingewrightError(f"the face doesn't run along {'xy'[axis]}", remedy="Type its way first.")
    at = face.at + (value - start) / way * face.along
    return (value, at.imag) if axis == 0 else (at.real, value)


def slid(project: Project, link: Link, face: Face, is_typed: bool, to: complex) -> complex:
    """The place of a link's face that is nearest to another: of what is drawn, or of the face's own line where its way
    was typed or nothing is drawn.
    """
    near = None if is_typed else _nearest(project, link, to)
    if near is None:
        return face.at + ((to - face.at) * face.along.conjugate()).real * face.along
    return near[0] + near[3] * face.out


def _face(project: Project, link: Link, at: Point | None, deg: float | None, bare: complex) -> Face | None:
    """The face of a link.   bare : the way from the pins to one that nobody drew."""
    pins = [place for _, place in pins_of(project, link)]
    if not pins:
        return None
    middle = sum(pins) / len(pins)
    reach = max(abs(place - middle) for place in pins) + ROOM
    near = _nearest(project, link, middle if at is None else complex(*at))
    free = middle + reach * bare if near is None else near[0]
    place = free if at is None else complex(*at)
    along = cmath.rect(1.0, math.radians(deg)) if deg is not None else 1j * bare if near is None else near[1]
    if ((middle - place) * along.conjugate()).imag < 0.0:
        along = -along
    read = "" if near is None or (at is not None and deg is not None) else near[2]
    foot = place + along * ((middle - place) * along.conjugate()).real if at is None else place
    lift = near[3] if near is not None and at is None else 0.0
    return Face(foot + 1j * along * lift, along, read)


def _nearest(project: Project, link: Link, middle: complex) -> tuple[complex, complex, str, float] | None:
    """The nearest place of a link's outlines, the way along there, the outline, half its thickness; None: none."""
    best: tuple[float, tuple[complex, complex, str, float]] | None = None
    for outline in project.outlines:
        if outline.on != link.id:
            continue
        places = [complex(*point) for point in outline.points]
        ends = places[1:] + (places[:1] if outline.closed else [])
        for one, other in zip(places, ends, strict=False):
            if abs(other - one) < 1e-9:
                continue
            along = (other - one) / abs(other - one)
            share = min(max(((middle - one) * along.conjugate()).real, 0.0), abs(other - one))
            foot = one + share * along
            away = abs(middle - foot) + 1e-6 * abs(((middle - foot) * along.conjugate()).real)
            if best is None or away < best[0]:
                best = away, (foot, along, outline.id, outline.half_width)
    return None if best is None else best[1]
