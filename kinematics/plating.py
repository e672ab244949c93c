"""Plates from pins: the contour that is cut for a link, with its holes, and what it weighs.

The eyes lie round the pins; a plate is what a band laid round its outermost eyes encloses, each side with its belly. A
plate with an edge of its own keeps to that. The same contours are the plate's body in the sweep.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.build_parts import Plates
from kinematics.contours import ONE, STRAIGHT, Contour, Eye, Piece, around, circle, touching
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.build_parts import Plate
    from kinematics.project import Link, Project


SLACK = 1e-9
"""Turns (rad) that differ by less are one."""
MOST_BULGE = 50.0
"""Bulge of an arc that lacks less than 5° of a whole circle: a slip of the hand, and nothing to reckon with."""


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """A plate as it is cut, in the side view with the panel shut.

    outer : its contour.   pins : (id, centre) of its pins.   cutouts : contours of the holes that only make it lighter.
    """

    link: str
    outer: Contour
    pins: tuple[tuple[str, complex], ...]
    cutouts: tuple[Contour, ...]
    thickness: float
    count: int
    density: float

    def area(self, holes: Sequence[float] = ()) -> float:
        """mm² of sheet that is left, less round holes of these diameters (mm)."""
        drilled = sum(math.pi * diameter**2 / 4.0 for diameter in holes)
        return self.outer.area - sum(each.area for each in self.cutouts) - drilled

    @property
    def centre(self) -> complex:
        """Centre of that area, without pin holes."""
        pieces = [(self.outer, 1.0), *((each, -1.0) for each in self.cutouts)]
        return sum((sign * each.area * each.centre for each, sign in pieces), 0j) / self.area()

    def mass(self, holes: Sequence[float] = ()) -> float:
        """Kg of one plate, less round holes of these diameters (mm)."""
        return self.area(holes) * self.thickness * self.density * 1e-9


def cut_of(project: Project, link: Link) -> Cut | None:
    """The plate of a link of kind "link" that has pins; None of all others.

    Raises HingewrightError where its shape can't be, saying what to change.
    """
    pins = pins_of(project, link)
    return cut_from(project.plating.of(link.id, link.width), pins) if pins else None


def are_said(project: Project) -> bool:
    """Whether a project says what its plates are: they then take the place of the links' bands."""
    return isinstance(project.plates, Plates) and project.plates.is_said


def sheet_of(project: Project, link: str) -> tuple[float, int]:
    """How thick a link's plates are (mm), and how many there are: of the fixed link and the panel as the mount says."""
    mount, plate = project.mounted, project.plating.of(link)
    if mount.base is not None and link == project.fixed.id:
        return mount.base.web, mount.base.webs
    if mount.bracket is not None and link == project.panel.id:
        return mount.bracket.thickness, 1
    return plate.thickness or 0.0, plate.count or 1


def pins_of(project: Project, link: Link) -> tuple[tuple[str, complex], ...]:
    """(id, centre) of the pins that a link's plate has; none of what isn't built as a plate."""
    if link.kind != "link":
        return ()
    return tuple((pivot.id, complex(*pivot.at)) for pivot in project.pivots if link.id in pivot.joins)


def cut_from(plate: Plate, pins: tuple[tuple[str, complex], ...]) -> Cut:
    """A plate round its pins, at least one; all that it has is filled in (`Plates.of`).

    Raises HingewrightError where its shape can't be, saying what to change.
    """
    return Cut(
        plate.link,
        _edge(plate) if plate.edge else _round(plate, pins),
        pins,
        tuple(circle(complex(*each.at), each.diameter / 2.0) for each in plate.cutouts),
        plate.thickness or 0.0,
        plate.count or 1,
        plate.density or 0.0,
    )


def _edge(plate: Plate) -> Contour:
    """The plate's own edge, anticlockwise, without stretches of no length and arcs that no eye tells from a line."""
    x, y, bulges = np.array(plate.edge).T
    corners = x + 1j * y
    chords = np.abs(np.roll(corners, -1) - corners)
    kept = chords > ONE
    if kept.sum() < 2:
        raise HingewrightError("its own edge encloses nothing", "plate", "Draw it round its pins.")
    if np.abs(bulges[kept]).max() > MOST_BULGE:
        raise HingewrightError("an arc of its own edge is all but a whole circle", "plate", "Draw it as two arcs.")
    bulges = np.where(np.abs(bulges) * chords / 2.0 < STRAIGHT, 0.0, bulges)
    contour = Contour(corners[kept], bulges[kept])
    return contour if contour.area > 0.0 else contour.reversed()


def _round(plate: Plate, pins: Sequence[tuple[str, complex]]) -> Contour:
    """The contour round the outermost eyes, each side with its belly."""
    own = eye_radii(plate, pins)
    eyes = [Eye(at, own[pin]) for pin, at in pins]
    names = ring_of(plate, pins)
    order = [next(k for k, (pin, _) in enumerate(pins) if pin == name) for name in names]
    bellies = {side.between: side.belly for side in plate.sides}
    after = [*names[1:], names[0]]
    return around([eyes[k] for k in order], [bellies.get(pair, 0.0) for pair in zip(names, after, strict=True)])


def eye_radii(plate: Plate, pins: Sequence[tuple[str, complex]]) -> dict[str, float]:
    """How far the plate reaches round each of its pins (mm): its edge distances."""
    own = {each.pivot: each.radius for each in plate.eyes}
    return {pin: own.get(pin, plate.radius or 0.0) for pin, _ in pins}


def ring_of(plate: Plate, pins: Sequence[tuple[str, complex]]) -> list[str]:
    """Pins whose eyes lie at the plate's edge, anticlockwise: its sides run from each to the next."""
    own = eye_radii(plate, pins)
    return [pins[k][0] for k in outermost([Eye(at, own[pin]) for pin, at in pins])]


def straight_side(plate: Plate, pins: Sequence[tuple[str, complex]], between: tuple[str, str]) -> Piece:
    """The side from the eye of one pin to that of another, were it straight."""
    at, radii = dict(pins), eye_radii(plate, pins)
    one, other = (Eye(at[pin], radii[pin]) for pin in between)
    return touching(one, other)


def outermost(eyes: Sequence[Eye]) -> list[int]:
    """Places of the eyes that a band laid round all of them touches, anticlockwise, from the lowest on.

    As one wraps a parcel (Jarvis's march), with circles in place of points. A large eye may be touched more than once.
    """
    here = min(range(len(eyes)), key=lambda k: (eyes[k].at.imag - eyes[k].radius, -eyes[k].at.real))
    order, heading = [here], 0.0
    while True:
        ways = {k: _heading(eyes[here], eye) for k, eye in enumerate(eyes) if k != here}
        turns = {k: (way - heading + SLACK) % (2.0 * math.pi) - SLACK for k, way in ways.items() if way is not None}
        if not turns:
            return order
        here = min(turns, key=lambda k: (turns[k], -abs(eyes[k].at - eyes[order[-1]].at)))
        heading += turns[here]
        if heading > 2.0 * math.pi - SLACK:
            back = len(order) > 1 and order[-1] == order[0]  # not yet, where it begins level with the last one
            return order[:-1] if back else order
        order.append(here)


def _heading(here: Eye, there: Eye) -> float | None:
    """Rad, which way the common touching line runs that has both eyes to its left; None where one holds the other."""
    way = there.at - here.at
    if abs(way) <= abs(here.radius - there.radius):
        return None
    lean = (here.radius - there.radius) / abs(way)
    return cmath.phase(way * (math.sqrt(1.0 - lean**2) + 1j * lean))
