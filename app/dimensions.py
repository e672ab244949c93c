"""How a measure is drawn: a thin line between its places, a stroke across each end, and its figure. No Qt here.

A measure's shapes stand where it reads at the pose that is shown, in the fixed link's frame; all their keys begin with
"measure:" and its id. An angle is an arc about its corner, a path the line that its point runs along.
"""

from __future__ import annotations

from cmath import phase, rect
from math import degrees, dist, pi
from typing import TYPE_CHECKING

from app.measure_words import reading_words
from app.shapes import Label, Layer, Pen, Shape, Stroke, Symbol

if TYPE_CHECKING:
    from collections.abc import Collection

    from app.lengths import Units
    from app.look import Look
    from kinematics.measures import Measure
    from kinematics.measuring import Reading, Readings
    from kinematics.project import Point
    from kinematics.results import Pose

ARC_SHARE = 0.4  # radius of an angle's arc, of its shorter side
CHORDS = 24  # of an arc of 180°


def dimensions(readings: Readings, pose: Pose, look: Look, units: Units, chosen: Collection[str] = ()) -> list[Shape]:
    """Give the shapes of all measures of a project at a pose; those that are `chosen`, by id, stand out."""
    return [
        shape
        for measure in readings.project.measures
        for shape in dimension_shapes(readings, pose, measure, look, units, measure.id in chosen)
    ]


def dimension_shapes(
    readings: Readings, pose: Pose, measure: Measure, look: Look, units: Units, chosen: bool = False
) -> list[Shape]:
    """Give the shapes of one measure; none where it reads nothing."""
    reading = readings.read(pose, measure)
    if reading.value is None or not reading.places:
        return []
    key, fixed = f"measure:{measure.id}", readings.project.fixed.id
    ink = look.selection if chosen else look.ink
    pen = Pen(ink, look.line if chosen else look.thin)
    if measure.kind == "angle":
        found, at, away = _angle(key, fixed, reading, pen)
    elif measure.kind == "path":
        points = readings.path(measure.of[0])
        line = Stroke(key, fixed, points, Pen(ink, pen.px, (6.0, 2.0, 1.0, 2.0)), Layer.PATHS)
        found, at, away = [line] if len(points) > 1 else [], reading.places[0], (1.0, -1.0)
        found.append(Symbol(f"{key}:end", fixed, (at,), "dot", ink, look.paper, Layer.GAPS))
    else:
        found, at, away = _line(key, fixed, reading, pen, look.paper)
    words = reading_words(measure, reading, units)
    found.append(
        Label(
            f"{key}:label", fixed, at, words, ink, look.paper, look.words_px, away,
            rank=3, framed=True, leader=measure.kind == "path", clear_px=14.0,
        )
    )  # fmt: skip
    return found


def _line(key: str, fixed: str, reading: Reading, pen: Pen, paper: str) -> tuple[list[Shape], Point, Point]:
    """A line between two places with a stroke across each end; where they touch, a struck circle."""
    one, other = reading.places
    middle = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
    if reading.value == 0.0:
        mark = Symbol(f"{key}:end", fixed, (one,), "contact", pen.colour, paper, Layer.GAPS)
        return [mark], one, (1.0, 1.0)
    along = other[0] - one[0], other[1] - one[1]
    turn = degrees(phase(complex(*along)))
    ends = Symbol(f"{key}:end", fixed, (one, other), "tick", pen.colour, paper, Layer.GAPS, turn)
    up = (-along[1], along[0]) if along[0] >= 0 else (along[1], -along[0])
    return [Stroke(key, fixed, (one, other), pen, Layer.GAPS), ends], middle, up


def _angle(key: str, fixed: str, reading: Reading, pen: Pen) -> tuple[list[Shape], Point, Point]:
    """Two sides and an arc about the corner."""
    one, corner, other = reading.places
    a, b = complex(*one) - complex(*corner), complex(*other) - complex(*corner)
    radius = ARC_SHARE * min(dist(one, corner), dist(other, corner))
    sweep = phase(b / a) if a and b else 0.0
    count = max(2, round(CHORDS * abs(sweep) / pi))
    spots = [complex(*corner) + rect(radius, phase(a) + sweep * k / count) for k in range(count + 1)]
    arc = tuple((z.real, z.imag) for z in spots)
    middle = rect(1.0, phase(a) + sweep / 2)
    at = complex(*corner) + radius * middle
    sides = Stroke(key, fixed, (one, corner, other), pen, Layer.GAPS)
    return [sides, Stroke(f"{key}:arc", fixed, arc, pen, Layer.GAPS)], (at.real, at.imag), (middle.real, middle.imag)
