"""Parts as they are cut from sheet: contours, pin holes and marks, laid in coordinates of their own.

A *part* is what one file of the cutter holds. Its first pin is its origin and its longest row of pins runs along x, so
that a sheet of parts is easy to lay out and the hole distances can be read off. It is moved and turned for that, never
mirrored; a part that isn't the same from both sides has a *hand*, and its other hand is `mirrored`. Contours are
nominal: whoever cuts allows for the width of the beam.

*Pin holes* are cut to the diameters that they are given; *cutouts* only make a part lighter. A *pierce* is where the
beam first goes through: one for each contour.
"""

from __future__ import annotations

import cmath
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.contours import ONE, Contour, circle
from kinematics.plating import cut_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from kinematics.plating import Cut
    from kinematics.project import Link, Project

Line = tuple[complex, complex]
FINE = 0.01
"""Mm by which a scribed line may miss an edge; shorter ones are left out."""
DIGITS = 10
"""Of a hole's place (mm) that stand in a file."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A pin's hole: which pivot's, its centre, and the diameter that is cut (mm)."""

    pivot: str
    at: complex
    diameter: float


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """One part as it is cut, in its own coordinates (mm).

    kind : "plate" of a link, or "mount".   mark : what is written on it.   note : written behind that, where there is
    room.   bends : lines (from, to) at which it is bent, and others that are scribed on it: where another part stands,
    meets it or is welded to it.   count : parts of one hinge.   hand : "left" or "right" where both sides aren't the
    same, else "".
    taper : thickness at its thin and its thick end, for one that is planed down after it is cut.
    """

    kind: str
    link: str
    mark: str
    outer: Contour
    holes: tuple[Hole, ...] = ()
    cutouts: tuple[Contour, ...] = ()
    bends: tuple[tuple[complex, complex], ...] = ()
    thickness: float = 0.0
    count: int = 1
    density: float = 0.0
    hand: str = ""
    taper: tuple[float, float] | None = None
    note: str = ""

    @property
    def area(self) -> float:
        """mm² of one side, less all holes."""
        return self.outer.area - sum(each.area for each in self.inner)

    @property
    def mass(self) -> float:
        """Kg of one."""
        return self.area * self.thickness * self.density * 1e-9

    @property
    def inner(self) -> tuple[Contour, ...]:
        """The contours of all its holes, pin holes first."""
        return (*(circle(hole.at, hole.diameter / 2.0) for hole in self.holes), *self.cutouts)

    @property
    def cut_length(self) -> float:
        """Mm that the cutter goes for one."""
        return self.outer.length + sum(each.length for each in self.inner)

    @property
    def pierces(self) -> int:
        """How often the cutter begins anew for one."""
        return 1 + len(self.inner)

    def moved(self, turn: float, shift: complex) -> Part:
        """The same turned by `turn` (rad) about the origin, then shifted."""
        way = cmath.exp(1j * turn)
        return replace(
            self,
            outer=self.outer.moved(turn, shift),
            holes=tuple(replace(hole, at=hole.at * way + shift) for hole in self.holes),
            cutouts=tuple(each.moved(turn, shift) for each in self.cutouts),
            bends=tuple((a * way + shift, b * way + shift) for a, b in self.bends),
        )

    def mirrored(self) -> Part:
        """The other hand, left and right exchanged about the first pin; contours anticlockwise again."""
        return replace(
            self,
            outer=self.outer.mirrored(),
            holes=tuple(replace(hole, at=-hole.at.conjugate()) for hole in self.holes),
            cutouts=tuple(each.mirrored() for each in self.cutouts),
            bends=tuple((-a.conjugate(), -b.conjugate()) for a, b in self.bends),
            hand={"left": "right", "right": "left"}.get(self.hand, ""),
        )

    def box(self) -> tuple[float, float, float, float]:
        """Left, low, right, high of its edge, to 0.01 mm."""
        x, y = self.outer.polyline(0.005).T
        return float(x.min()), float(y.min()), float(x.max()), float(y.max())


def part_of(project: Project, link: Link, hole: Callable[[str, str], float], lines: Sequence[Line] = ()) -> Part | None:
    """The plate of a link as a part, in its own coordinates; None where the link has none.

    hole : the diameter that is cut (mm) for a link and one of its pivots.   lines : that are scribed on it, shut.
    Raises HingewrightError where its shape can't be, saying what to change.
    """
    cut = cut_of(project, link)
    if cut is None:
        return None
    part = Part(
        "plate",
        cut.link,
        cut.link,
        tidy(cut.outer),
        tuple(Hole(pin, at, hole(link.id, pin)) for pin, at in cut.pins),
        tuple(_anticlockwise(tidy(each)) for each in cut.cutouts),
        clipped(cut.outer, lines),
        cut.thickness,
        cut.count,
        cut.density,
    )
    return laid(part, cut)


def clipped(outer: Contour, lines: Iterable[Line]) -> tuple[Line, ...]:
    """What of lines lies on a part with this edge: nothing is scribed beside it."""
    lines = tuple(lines)
    if not lines:
        return ()
    face = shapely.Polygon(outer.polyline(FINE))
    found: list[Line] = []
    for a, b in lines:
        on = (face if face.is_valid else face.buffer(0.0)).intersection(_line(a, b))
        for piece in shapely.get_parts(on):
            ends = shapely.get_coordinates(piece)
            if len(ends) > 1 and piece.length > FINE:
                found.append((complex(*ends[0]), complex(*ends[-1])))
    return tuple(found)


def _line(a: complex, b: complex) -> shapely.LineString:
    return shapely.LineString([(a.real, a.imag), (b.real, b.imag)])


def laid(part: Part, cut: Cut) -> Part:
    """The part with its first pin at the origin and its longest row of pins along x."""
    places = [at for _, at in cut.pins]
    start, end = _farthest(places)
    turn = -cmath.phase(end - start) if abs(end - start) > ONE else 0.0
    moved = part.moved(0.0, -start).moved(turn, 0j)
    return replace(moved, holes=tuple(replace(hole, at=_snapped(hole.at)) for hole in moved.holes))


def _snapped(at: complex) -> complex:
    """The place without the last digits that turning leaves, so that a nought reads as one."""
    return complex(round(at.real, DIGITS) + 0.0, round(at.imag, DIGITS) + 0.0)


def tidy(contour: Contour) -> Contour:
    """The same without pieces of no length, so that no corner stands twice."""
    gone = [abs(piece.end - piece.start) <= ONE for piece in contour.pieces()]
    if not any(gone):
        return contour
    stays = ~np.array(gone)
    return Contour(contour.corners[stays], contour.bulges[stays])


def is_round(contour: Contour) -> bool:
    """Whether it is a whole circle in two halves."""
    return len(contour.corners) == 2 and bool(np.all(np.abs(np.abs(contour.bulges) - 1.0) < ONE))


def _anticlockwise(contour: Contour) -> Contour:
    return contour if contour.area > 0.0 else contour.reversed()


def _farthest(places: Sequence[complex]) -> tuple[complex, complex]:
    """The two that are farthest apart, in their order; the first of equals."""
    pairs = [(one, other) for k, one in enumerate(places) for other in places[k + 1 :]]
    if not pairs:
        return places[0], places[0]
    most = max(abs(other - one) for one, other in pairs)
    return next(pair for pair in pairs if abs(pair[1] - pair[0]) >= most - ONE)
