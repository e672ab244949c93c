"""The feet of the webs where they are ground to the wall's bevel: what is left on them for it, and where it is scribed.

A web is cut square, so its foot is a straight line. Ground, it meets the base plate, which lies on the wall: a plane
parallel to the wall, a plate and shims off it. On each side of a web that plane is seen as a line, and that line is
scribed. Its *height* is told over the foot as it is cut, which a builder has under his square; it falls from one side
to the other by the web's thickness times tan B, and from the foot's one end to the other only where the lean that was
typed isn't the one that is drawn. The foot is cut *lower* than the layout has it, so that there is metal wherever the
plane lies, and a little more for the belt to touch.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.mounting import web_places
from kinematics.wall_parts import HANDS
from kinematics.walling import from_centre, wall_plane

if TYPE_CHECKING:
    from kinematics.mounting import BaseMade
    from kinematics.project import Project

TOUCH = 0.5
"""Mm that the belt takes off even where least is ground (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Scribe:
    """A line on one side of a web.   across : how far that side is outboard of the links' plane.   low, high : its
    heights over the foot as cut, at the foot's lower and at its upper end, mm.
    """

    across: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Foot:
    """What is ground off the webs of one hand.   lower : by how much the foot is cut lower than it is laid out.

    lines : outboard sides first.   most : what is ground off at most.
    """

    hand: str
    lower: float
    lines: tuple[Scribe, ...]
    most: float


def lower_by(project: Project, made: BaseMade) -> float:
    """By how much the webs' feet are cut lower than they are laid out, alike on both hands; 0 where none is ground."""
    if not made.ground:
        return 0.0
    return max(TOUCH - min(low, high) for hand in HANDS for _, low, high in _lines(project, made, hand))


def foot_of(project: Project, made: BaseMade, hand: str) -> Foot | None:
    """What is ground off on one hand; None where no feet are ground."""
    if not made.ground:
        return None
    lower = lower_by(project, made)
    lines = tuple(Scribe(across, low + lower, high + lower) for across, low, high in _lines(project, made, hand))
    return Foot(hand, lower, lines, max(max(line.low, line.high) for line in lines))


def _lines(project: Project, made: BaseMade, hand: str) -> list[tuple[float, float, float]]:
    """Each side of each web, outboard first: how far outboard it is, and the plane's heights over the foot as laid out,
    at its lower and its upper end.
    """
    plane = wall_plane(project, made.part, hand)
    if plane is None:
        return []
    half, lift = 0.5 * made.part.web, made.part.plate + made.part.shims
    outward = np.array([made.seat.out.real, made.seat.out.imag, 0.0])
    ends = sorted((made.seat.drawn(complex(u, 0.0)) for u in made.foot), key=lambda z: (z.imag, z.real))
    found = []
    for across in sorted((x + side * half for x in web_places(made) for side in (-1.0, 1.0)), reverse=True):
        z = (from_centre(project, hand) or 0.0) + across
        low, high = plane.reaches(np.array([[end.real, end.imag, z] for end in ends]), outward, lift)
        found.append((across, float(low), float(high)))
    return found
