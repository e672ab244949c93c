"""Grips by which a hand takes a link's plate: the middle of each side, of the plate as a whole, and each cutout.

Grips are numbered: sides first, anticlockwise, then (of a plate of two eyes) the bow, which takes both sides along,
then the cutouts. A side's grip lies on the side itself and moves across it alone; so does the bow's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kinematics import plate_edits as edits
from kinematics.errors import ProjectError
from kinematics.plating import pins_of, straight_side

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.values import Point

NEW_CUTOUT = 0.01
"""Mm to which a cutout's place is rounded where nothing rounds it more."""


@dataclass(frozen=True, slots=True)
class Grip:
    """One grip. kind : "side", "bow" or "cutout".   place : of a side or cutout, from 0.   at : where it lies, shut."""

    kind: str
    place: int
    at: Point


def grips(project: Project, link: str) -> list[Grip]:
    """The grips of a link's plate, in order; none of a link that has none, as while nothing is said of plates."""
    if not edits.has_plate(project, link):
        return []
    plate = edits.own_plate(project, link)
    sides = [] if plate.edge else _middles(project, link)
    found = [Grip("side", place, _point(at + belly * out)) for place, (at, out, belly) in enumerate(sides)]
    if len(sides) == 2:
        middle = sum(at + belly * out for at, out, belly in sides) / 2.0
        found.append(Grip("bow", 0, _point(middle)))
    return [*found, *(Grip("cutout", place, each.at) for place, each in enumerate(plate.cutouts))]


def move_grip(project: Project, link: str, number: int, to: Point, step: float = 0.0, near: float = 0.0) -> Project:
    """Bring a grip to a place, or as near to it as it goes.

    step : bellies and coordinates become multiples of it (mm), 0: as they come.   near : a side that is bent by less
    becomes straight (mm). Raises ProjectError where the plate can't be so.
    """
    grip = grip_of(project, link, number)
    if grip.kind == "cutout":
        x, y = (_round(each, step) for each in to)
        return edits.change_cutout(project, link, grip.place, at=(x, y))
    sides = edits.sides_of(project, link)
    if grip.kind == "side":
        at, out, _ = _middles(project, link)[grip.place]
        belly = _along(complex(*to) - at, out)
        return edits.set_belly(project, link, sides[grip.place], _belly(belly, step, near))
    (_, out, first), (_, _, second) = _middles(project, link)
    bow = (first - second) / 2.0
    waist = (first + second) / 2.0
    bow = _belly(bow + _along(complex(*to) - complex(*grip.at), out), step, near)
    return edits.set_bellies(project, link, {sides[0]: waist + bow, sides[1]: waist - bow})


def straighten(project: Project, link: str, number: int) -> Project:
    """Take back what a grip has done: a side becomes straight, a cutout goes."""
    grip, sides = grip_of(project, link, number), edits.sides_of(project, link)
    if grip.kind == "cutout":
        return edits.remove_cutout(project, link, grip.place)
    chosen = sides if grip.kind == "bow" else [sides[grip.place]]
    return edits.set_bellies(project, link, dict.fromkeys(chosen, 0.0))


def grip_of(project: Project, link: str, number: int) -> Grip:
    """One grip by its number; ProjectError where there is none."""
    found = grips(project, link)
    if not 0 <= number < len(found):
        raise ProjectError(f"there is no grip {number + 1}", f"plate of {link}")
    return found[number]


def _middles(project: Project, link: str) -> list[tuple[complex, complex, float]]:
    """Of each side: its middle were it straight, the way outwards, its belly."""
    plate, pins = edits.full_plate(project, link), pins_of(project, project.link(link))
    found = []
    for between in edits.sides_of(project, link):
        line = straight_side(plate, pins, between)
        out = -1j * (line.end - line.start) / abs(line.end - line.start)
        found.append(((line.start + line.end) / 2.0, out, edits.belly_of(project, link, between)))
    return found


def _along(by: complex, way: complex) -> float:
    return (by * way.conjugate()).real


def _belly(belly: float, step: float, near: float) -> float:
    return 0.0 if abs(belly) < near else _round(belly, step)


def _round(mm: float, step: float) -> float:
    step = step or NEW_CUTOUT
    return round(round(mm / step) * step, 6)


def _point(at: complex) -> Point:
    return at.real, at.imag
