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

from kinematics.contours import Contour, Eye, around, circle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.build_parts import Plate
    from kinematics.project import Link, Project


SLACK = 1e-9
"""Turns (rad) that differ by less are one."""


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

    def mass(self, holes: Sequence[float] = ()) -> float:
        """Kg of one plate, less round holes of these diameters (mm)."""
        return self.area(holes) * self.thickness * self.density * 1e-9


def cut_of(project: Project, link: Link) -> Cut | None:
    """The plate of a link of kind "link" that has pins; None of all others.

    Raises HingewrightError where its shape can't be, saying what to change.
    """
    pins = tuple((pivot.id, complex(*pivot.at)) for pivot in project.pivots if link.id in pivot.joins)
    if link.kind != "link" or not pins:
        return None
    plate = project.plating.of(link.id, link.width)
    return Cut(
        link.id,
        _edge(plate) if plate.edge else _round(plate, pins),
        pins,
        tuple(circle(complex(*each.at), each.diameter / 2.0) for each in plate.cutouts),
        plate.thickness or 0.0,
        plate.count or 1,
        plate.density or 0.0,
    )


def _edge(plate: Plate) -> Contour:
    """The plate's own edge, anticlockwise."""
    x, y, bulges = np.array(plate.edge).T
    contour = Contour(x + 1j * y, bulges)
    return contour if contour.area > 0.0 else contour.reversed()


def _round(plate: Plate, pins: Sequence[tuple[str, complex]]) -> Contour:
    """The contour round the outermost eyes, each side with its belly."""
    own = {each.pivot: each.radius for each in plate.eyes}
    eyes = [Eye(at, own.get(pin, plate.radius or 0.0)) for pin, at in pins]
    order = outermost(eyes)
    bellies = {side.between: side.belly for side in plate.sides}
    names = [pins[k][0] for k in order]
    after = [*names[1:], names[0]]
    return around([eyes[k] for k in order], [bellies.get(pair, 0.0) for pair in zip(names, after, strict=True)])


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
            return order[:-1] if len(order) > 1 else order
        order.append(here)


def _heading(here: Eye, there: Eye) -> float | None:
    """Rad, which way the common touching line runs that has both eyes to its left; None where one holds the other."""
    way = there.at - here.at
    if abs(way) <= abs(here.radius - there.radius):
        return None
    lean = (here.radius - there.radius) / abs(way)
    return cmath.phase(way * (math.sqrt(1.0 - lean**2) + 1j * lean))
