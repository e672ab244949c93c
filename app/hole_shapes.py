"""The holes of plates on the sheet, true to size as they are finished, with the bushings and the pin in them. No Qt.

They are shown where the sheet is near enough that they can be told from the pins' symbols. What they are made of hangs
on what pins and plates are, not on where they stand, so while a pin is dragged nothing of it is worked out anew.
"""

from __future__ import annotations

from functools import lru_cache
from math import cos, pi, sin
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.shapes import Layer, Pen, Stroke, rides_on, seen
from kinematics.joints_made import joints_made
from kinematics.plating import are_said

if TYPE_CHECKING:
    from collections.abc import Collection

    from app.look import Look
    from app.shapes import Shape
    from kinematics.project import Point, Project

NEAR = 2.5
"""Pixels per mm from which on they are shown: a pin of 8 mm is twice as wide as its symbol then."""
CORNERS = 40
BUSHING, CROSS = 0.35, 0.25
"""How solid a bushing's face is; by how much of its diameter a hole's centre lines stand out."""
AXIS = (7.0, 2.0, 1.5, 2.0)

Sizes = dict[tuple[str, str], tuple[float, bool]]
"""Of each link and pivot: diameter of the hole, and whether a bushing sits in it."""


def hole_shapes(project: Project, look: Look, webs: Collection[str] = ()) -> list[Shape]:
    """Show the holes of all plates.   webs : links that are drawn as webs, which have holes too.

    Nothing while nothing is said of plates.
    """
    plated = {link.id for link in seen(project.links) if link.kind == "link"} if are_said(project) else set()
    drawn = plated | set(webs)
    if not drawn:
        return []
    holes, pins = _sizes(project)
    found: list[Shape] = []
    for pivot in seen(project.pivots):
        on = [link for link in pivot.joins if link in drawn]
        for link in sorted(on, key=lambda link: -holes[pivot.id, link][0]):
            wide, bushed = holes[pivot.id, link]
            fill = look.path if bushed else ""
            found.append(_round(f"hole:{link}:{pivot.id}", link, pivot.at, wide, Pen(look.link), fill, BUSHING))
        if on:
            ride = rides_on(project, pivot)
            pen = Pen(look.ink, look.line)
            found.append(_round(f"shank:{pivot.id}", ride, pivot.at, pins[pivot.id], pen, look.paper, 1.0))
            found += _cross(pivot.id, ride, pivot.at, max(holes[pivot.id, link][0] for link in on), look)
    return found


def _round(key: str, link: str, at: Point, wide: float, pen: Pen, fill: str, veil: float) -> Stroke:
    return Stroke(key, link, ring(at, wide), pen, Layer.DEVICES, closed=True, fill=fill, veil=veil, near=NEAR)


def _cross(pivot: str, link: str, at: Point, wide: float, look: Look) -> list[Shape]:
    """Centre lines, level and plumb when shut."""
    (x, y), out = at, (0.5 + CROSS) * wide
    pen = Pen(look.ink, look.thin, AXIS)
    ends = {"level": ((x - out, y), (x + out, y)), "plumb": ((x, y - out), (x, y + out))}
    return [Stroke(f"{way} centre:{pivot}", link, line, pen, Layer.DEVICES, near=NEAR) for way, line in ends.items()]


@lru_cache(maxsize=256)
def ring(at: Point, wide: float) -> tuple[Point, ...]:
    """Give the corners of a circle of a diameter."""
    turns = (2.0 * pi * k / CORNERS for k in range(CORNERS))
    return tuple((at[0] + 0.5 * wide * cos(turn), at[1] + 0.5 * wide * sin(turn)) for turn in turns)


class _Last:
    """What was asked for last, and the answer."""

    asked: tuple[object, ...] = ()
    holes: Sizes = {}  # noqa: RUF012  replaced, never changed
    pins: dict[str, float] = {}  # noqa: RUF012


def _sizes(project: Project) -> tuple[Sizes, dict[str, float]]:
    """Diameters of holes and pins; the same as before while what they hang on is the same."""
    plating = project.plating
    sheets = tuple((plate.link, plate.thickness, plate.count) for plate in plating.each)
    joins = tuple((pivot.id, pivot.joins) for pivot in project.pivots)
    asked = (project.stack, project.strength, project.links, plating.thickness, plating.count, sheets, joins)
    if asked != _Last.asked:
        joints = joints_made(project, hardware())
        _Last.holes = {
            (pivot, hole.link): (hole.diameter, hole.bushing is not None)
            for pivot, joint in joints.items()
            for hole in joint.holes
        }
        _Last.pins = {pivot: joint.pin.diameter for pivot, joint in joints.items()}
        _Last.asked = asked
    return _Last.holes, _Last.pins
