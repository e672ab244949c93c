"""Closed contours of straight pieces and true arcs: the edges of plates, as they are cut.

Terms. A contour is a ring of corners, anticlockwise; from each to the next runs a straight piece or an arc, told by its
*bulge*: the tangent of a quarter of the angle that the arc spans, positive where it goes anticlockwise (it bellies out
of the ring), 0 where it is straight. An *eye* is the round end of a plate about a hole. A *side* runs from eye to eye,
touching both: straight, or as an arc whose middle lies by the side's *belly* outside (negative: inside, a waist).

Sources: the bulge is that of DXF's group 42; areas and centres of circular segments, any handbook (from memory).
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from kinematics.arrays import Complexes, Floats

Triple = tuple[float, float, float]
STRAIGHT = 1e-4
"""A belly below this (mm) is none: no cutter keeps to it, and its circle would be too large to reckon with."""
ONE = 1e-9
"""Corners nearer than this (mm) are one."""
FINEST = 1e-7
"""Of its radius: no arc is cut into chords that miss it by less."""


@dataclass(frozen=True, slots=True, eq=False)
class Contour:
    """A ring: corners (n,) complex mm, bulges (n,) of the pieces that begin at them."""

    corners: Complexes
    bulges: Floats

    def __post_init__(self) -> None:
        object.__setattr__(self, "corners", frozen(np.array(self.corners, dtype=np.complex128)))
        object.__setattr__(self, "bulges", frozen(np.array(self.bulges, dtype=np.float64)))

    @property
    def area(self) -> float:
        """mm²; positive where it runs anticlockwise."""
        return float(sum(piece.area for piece in self.pieces()))

    @property
    def length(self) -> float:
        """Mm along it, once round: what the cutter goes."""
        return float(sum(piece.length for piece in self.pieces()))

    @property
    def centre(self) -> complex:
        """Centre of its area."""
        moment = sum((piece.moment for piece in self.pieces()), 0j)
        return moment / self.area

    def pieces(self) -> Iterator[Piece]:
        """Its pieces in order."""
        after = np.roll(self.corners, -1)
        for start, end, bulge in zip(self.corners.tolist(), after.tolist(), self.bulges.tolist(), strict=True):
            yield Piece(start, end, bulge)

    def moved(self, turn: float, shift: complex) -> Contour:
        """The same turned by `turn` (rad) about the origin, then shifted."""
        return Contour(self.corners * cmath.exp(1j * turn) + shift, self.bulges)

    def mirrored(self) -> Contour:
        """The same with left and right exchanged, anticlockwise again: the other hand."""
        corners = -self.corners.conj()[::-1]
        return Contour(corners, np.roll(self.bulges[::-1], -1))

    def reversed(self) -> Contour:
        """The same ring run through the other way round."""
        return Contour(self.corners[::-1], -np.roll(self.bulges[::-1], -1))

    def polyline(self, sagitta: float = 0.01) -> Floats:
        """(n, 2) corners of a polygon whose edges miss the arcs by no more than `sagitta` (mm)."""
        places = np.concatenate([piece.chords(sagitta) for piece in self.pieces()])
        return np.column_stack([places.real, places.imag])


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a contour, from start to end."""

    start: complex
    end: complex
    bulge: float

    @property
    def angle(self) -> float:
        """Rad that it spans, anticlockwise positive."""
        return 4.0 * math.atan(self.bulge)

    @property
    def centre(self) -> complex:
        """Of its circle; only of an arc."""
        return (self.start + self.end) / 2 + 1j * (self.end - self.start) * (1.0 - self.bulge**2) / (4.0 * self.bulge)

    @property
    def radius(self) -> float:
        """Of its circle (mm); only of an arc."""
        return abs(self.end - self.start) * (1.0 + self.bulge**2) / (4.0 * abs(self.bulge))

    @property
    def length(self) -> float:
        """Mm along it."""
        return abs(self.end - self.start) if self.bulge == 0.0 else self.radius * abs(self.angle)

    @property
    def _segment(self) -> float:
        """mm² between chord and arc, positive where it bellies out."""
        if self.bulge == 0.0:
            return 0.0
        return 0.5 * self.radius**2 * (self.angle - math.sin(self.angle))

    @property
    def area(self) -> float:
        """mm² swept about the origin."""
        return 0.5 * (self.start.conjugate() * self.end).imag + self._segment

    @property
    def moment(self) -> complex:
        """mm³, its area times the area's centre."""
        triangle = 0.5 * (self.start.conjugate() * self.end).imag * (self.start + self.end) / 3.0
        if self.bulge == 0.0:
            return triangle
        outwards = -1j * (self.end - self.start) / abs(self.end - self.start)
        reach = (
            4.0
            * self.radius
            * math.sin(abs(self.angle) / 2.0) ** 3
            / (3.0 * (abs(self.angle) - math.sin(abs(self.angle))))
        )
        middle = self.centre + outwards * math.copysign(reach, self.bulge)
        return triangle + self._segment * middle

    def chords(self, sagitta: float) -> Complexes:
        """Places along it, its start among them and its end not, whose chords miss it by no more than `sagitta`.

        Of a circle larger than any hinge a ten millionth of its radius must do.
        """
        if self.bulge == 0.0:
            return np.array([self.start])
        miss = max(sagitta, FINEST * self.radius)
        step = 2.0 * math.acos(max(1.0 - miss / self.radius, 0.0))
        quarters = math.ceil(abs(self.angle) / (math.pi / 2.0) - ONE)  # however small, a round encloses something
        count = max(math.ceil(abs(self.angle) / step), quarters, 1)
        turns = np.exp(1j * self.angle * np.arange(count) / count)
        return np.asarray(self.centre + (self.start - self.centre) * turns)


def circle(at: complex, radius: float) -> Contour:
    """A round contour, in two halves."""
    return Contour(np.array([at + radius, at - radius]), np.array([1.0, 1.0]))


@dataclass(frozen=True, slots=True)
class Eye:
    """A round end of a plate: its middle and radius (mm)."""

    at: complex
    radius: float


def around(eyes: Sequence[Eye], bellies: Sequence[float] = (), *, sharp: bool = False) -> Contour:
    """The contour round eyes, given anticlockwise, as a band that is laid round them.

    bellies : mm, of the side from each eye to the next; absent: straight.   sharp : eyes of no size may be among them:
    mere corners, which the contour may turn round either way.
    Raises HingewrightError where a side can't touch both of its eyes, as when one lies within the other, and where an
    eye has no size.
    """
    if not sharp and min(eye.radius for eye in eyes) <= ONE:
        raise HingewrightError("an eye of a plate has next to no size", "plate", "Make the plate wider.")
    if len(eyes) == 1:
        return circle(eyes[0].at, eyes[0].radius)
    bellies = bellies or (0.0,) * len(eyes)
    count = len(eyes)
    sides = [touching(eyes[k], eyes[(k + 1) % count], bellies[k]) for k in range(count)]
    corners, bulges = [], []
    for k, side in enumerate(sides):
        eye, before = eyes[k], sides[k - 1].end
        if abs(side.start - before) > ONE:
            turn = cmath.phase((side.start - eye.at) / (before - eye.at)) % (2.0 * math.pi)
            corners.append(before)
            bulges.append(math.tan(turn / 4.0))
        corners.append(side.start)
        bulges.append(side.bulge)
    return Contour(np.array(corners), np.array(bulges))


def touching(one: Eye, other: Eye, belly: float = 0.0) -> Piece:
    """The piece that touches two eyes, both to its left. Raises HingewrightError as `around` does."""
    way = other.at - one.at
    lean = (one.radius - other.radius) / abs(way) if way else 2.0
    if abs(lean) >= 1.0:
        raise HingewrightError("one round end of a plate lies within another", "plate", "Move the pins apart.")
    outwards = way / abs(way) * (lean - 1j * math.sqrt(1.0 - lean**2))
    start, end = one.at + one.radius * outwards, other.at + other.radius * outwards
    if abs(belly) < STRAIGHT:
        return Piece(start, end, 0.0)
    return _bellied(one, other, (start + end) / 2 + belly * outwards, 1.0 if belly < 0.0 else -1.0)


def _bellied(one: Eye, other: Eye, through: complex, away: float) -> Piece:
    """The arc through a place that touches two eyes: from outside (away 1: a waist) or round them (−1: a belly).

    With the place as origin the centre c has |c| = R and |c − q| = R + away·r for each eye (q, r): two linear equations
    in c and R, so (c, R) lies on a line in space, and meets the cone |c| = R where a quadratic says (the problem of
    Apollonius).
    """
    q, r = (one.at - through, other.at - through), (one.radius, other.radius)
    (a, b, c), (d, e, f) = rows = [(at.real, at.imag, away * size) for at, size in zip(q, r, strict=True)]
    along = (b * f - c * e, c * d - a * f, a * e - b * d)
    size = math.sqrt(_dot(along, along))
    if not size > 0.0:
        raise _impossible()
    along = (along[0] / size, along[1] / size, along[2] / size)
    foot = _least(rows[0], rows[1], [(abs(at) ** 2 - own**2) / 2.0 for at, own in zip(q, r, strict=True)])
    square, line, left = (
        u[0] * v[0] + u[1] * v[1] - u[2] * v[2] for u, v in ((along, along), (along, foot), (foot, foot))
    )
    found = [tuple(k + t * way for k, way in zip(foot, along, strict=True)) for t in _roots(square, line, left)]
    for x, y, radius in sorted(found, key=lambda place: place[2]):
        centre = complex(x, y)
        if radius <= 0.0 or min(radius + away * own for own in r) <= 0.0:
            continue
        touches = [through + at + away * own * (centre - at) / abs(centre - at) for at, own in zip(q, r, strict=True)]
        turn = cmath.phase((touches[1] - through - centre) / (touches[0] - through - centre))
        passes = cmath.phase(-centre / (touches[0] - through - centre))
        if -away * turn > 0.0 and 0.0 < -away * passes < -away * turn:
            return Piece(touches[0], touches[1], math.tan(turn / 4.0))
    raise _impossible()


def _dot(one: Triple, other: Triple) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def _least(one: Triple, other: Triple, values: Sequence[float]) -> Triple:
    """The shortest of all (x, y, z) whose products with two triples, not parallel, are these values."""
    aa, ab, bb = _dot(one, one), _dot(one, other), _dot(other, other)
    under = aa * bb - ab * ab
    s = (values[0] * bb - values[1] * ab) / under
    t = (values[1] * aa - values[0] * ab) / under
    return (s * one[0] + t * other[0], s * one[1] + t * other[1], s * one[2] + t * other[2])


def _roots(square: float, line: float, left: float) -> list[float]:
    """Roots of square·x² + 2·line·x + left."""
    if abs(square) < 1e-14:
        return [] if line == 0.0 else [-left / (2.0 * line)]
    under = line**2 - square * left
    return [] if under < 0.0 else [(-line + s * math.sqrt(under)) / square for s in (1.0, -1.0)]


def _impossible() -> HingewrightError:
    return HingewrightError(
        "a side of a plate can't be bent so far", "plate", "Bend it less, or make its eyes smaller."
    )
