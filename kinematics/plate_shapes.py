"""Plates as they are to move: each link's plate looked at for what can't be, and as a body in the sweep.

Where a project says of what its plates are (`plates`), they take the place of the bands. A plate that can't be cut (a
side bent too far, an edge that crosses itself, a pin outside it) is told, and its band stays. What can be cut but
leaves too little round a hole is told too.

As a body a plate is a line drawn with a round pen, as a band is: its contour moved in by the pen's radius, as far as
no round end vanishes. A plate with equal eyes and straight sides so has the few corners that its band has, and a bowed
one is a single arc. Moving a contour of tangent pieces in turns each arc into one about the same centre, with the same
bulge; where the moved one doesn't cross itself, the pen's stroke round it is the contour again (parallel curves).

A plate with a waist is wide at its eyes and thin between them, so no pen is as large as its eyes, and their rounds take
most of its corners: they turn about a pin, so that all of them stay as near to what they pass. Such a plate is watched
in *pieces* instead: each eye as a round about its middle, and its *core*, which cuts the eyes' rounds short by chords.
What the chords leave out lies within the rounds, so together the pieces are the plate.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import frozen
from kinematics.contours import Contour
from kinematics.errors import HingewrightError
from kinematics.plating import Cut, are_said, cut_from, eye_radii, pins_of, ring_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kinematics.arrays import Complexes
    from kinematics.build_parts import Plate
    from kinematics.contours import Piece
    from kinematics.project import Link, Project

SAGITTA = 0.003
"""Mm by which a body's straight edges may miss the arcs that they stand for."""
SHORT = 0.01
"""An edge distance that is missed by less (mm) is kept: no cutter tells the difference."""
PENS = (1.0, 0.6, 0.3)
"""Shares of the smallest round end that are tried as a pen: a waist may be too narrow for the whole of it."""
LEAST_ROUND = math.radians(60.0)
"""A round end that spans less (rad) is no eye: its few corners stay."""
CUT_SHORT = 0.3
"""Share of an eye's radius by which the chords of a core may cut it short: a chord for each quarter of it."""
WORTH = 0.7
"""Share of its corners that a body may keep where it is worth being two."""
TANGENT = 1e-6
"""Rad by which two pieces may lean to each other and still run on smoothly."""

AS_STRAIGHT = (
    "Section and buckling of {} are reckoned as of a straight, whole plate: bent, cut out or with an edge of its own "
    "it carries less."
)

Pins = tuple[tuple[str, complex], ...]


@dataclass(frozen=True, slots=True, eq=False)
class PlateShape:
    """A link's plate, looked at.

    plate : all that it has.   cut : None where it can't be cut; `why` then says why not.   cautions : sentences on what
    is wrong with one that can.
    """

    plate: Plate
    cut: Cut | None
    why: HingewrightError | None
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A body's line: points (n,) complex, shut mm; the radius of its pen; whether what it encloses belongs to it.

    core, eyes : the same in pieces, where that takes far fewer corners: a ring for the same pen, and rounds (middle,
    radius); None and () where it is one piece.
    """

    points: Complexes
    radius: float
    solid: bool
    core: Complexes | None = None
    eyes: tuple[tuple[complex, float], ...] = ()


def shape_of(project: Project, link: Link) -> PlateShape | None:
    """The plate of a link; None where the project says nothing of plates, or the link isn't built as one."""
    pins = pins_of(project, link)
    if not pins or not are_said(project):
        return None
    return _shape(project.plating.of(link.id, link.width), pins)


def plate_cut(project: Project, link: Link) -> Cut | None:
    """The plate as it is cut, in place of the link's band; None where the band stays."""
    shape = shape_of(project, link)
    return None if shape is None else shape.cut


def plate_remarks(project: Project, only: str = "") -> list[str]:
    """Sentences on plates that can't be, or leave too little round a hole.   only : a link, "" for all."""
    found, bent = [], []
    for link in project.links:
        shape = shape_of(project, link) if only in ("", link.id) else None
        if shape is None:
            continue
        if shape.why is not None:
            what = f"The plate of “{link.id}” can't be: {shape.why.what}. Until then its band stands for it."
            found.append(f"{what} {shape.why.remedy}".strip())
        found += [f"Plate of “{link.id}”: {sentence}" for sentence in shape.cautions]
        if shape.plate.sides or shape.plate.cutouts or shape.plate.edge:
            bent.append(f"“{link.id}”")
    if bent and project.strength is not None:
        found.append(AS_STRAIGHT.format(", ".join(bent)))
    return found


# ------------------------------------------------------------------------------------------------------ looking at it
@lru_cache(maxsize=256)
def _shape(plate: Plate, pins: Pins) -> PlateShape:
    """They stay while others are dragged."""
    try:
        cut = cut_from(plate, pins)
        ring = cut.outer.polyline(SAGITTA)
        face = shapely.Polygon(ring) if len(ring) > 2 else shapely.Polygon()
        _refuse(plate, cut, face)
    except HingewrightError as fault:
        return PlateShape(plate, None, _named(plate, pins, fault), ())
    return PlateShape(plate, cut, None, tuple(_cautions(plate, cut, face)))


def _refuse(plate: Plate, cut: Cut, face: shapely.Polygon) -> None:
    """Raise HingewrightError for a contour that is no plate."""
    if not face.is_valid or not face.area > 0.0:
        what = "its own edge crosses itself" if plate.edge else "its sides cross each other"
        raise HingewrightError(what, remedy="Draw it anew." if plate.edge else "Bend them less.")
    for pin, at in cut.pins:
        if not face.contains(shapely.Point(at.real, at.imag)):
            remedy = "Draw it round all pins of the link." if plate.edge else "Bend its sides less."
            raise HingewrightError(f"its pin {pin} lies outside its edge", remedy=remedy)


def _named(plate: Plate, pins: Pins, fault: HingewrightError) -> HingewrightError:
    """The fault with the side named that alone is bent too far, where there is one."""
    for side in () if plate.edge else plate.sides:
        try:
            cut_from(replace(plate, sides=(side,)), pins)
        except HingewrightError as one:
            return HingewrightError(f"{one.what} (side {'–'.join(side.between)})", "plate", one.remedy)
    return fault


def _cautions(plate: Plate, cut: Cut, face: shapely.Polygon) -> Iterator[str]:
    edge, radii = face.exterior, eye_radii(plate, cut.pins)
    for pin, at in cut.pins:
        if edge.distance(shapely.Point(at.real, at.imag)) < radii[pin] - SHORT:
            yield (
                f"round pin {pin} it leaves less than its edge distance. "
                + ("Draw its edge further out." if plate.edge else "Make its waist less deep.")
            )
    yield from _cutout_cautions(plate, cut, face, radii)
    ring = [] if plate.edge else ring_of(plate, cut.pins)
    sides = set(zip(ring, [*ring[1:], *ring[:1]], strict=True))
    for side in plate.sides:
        if not plate.edge and side.between not in sides:
            yield f"between {' and '.join(side.between)} runs no side of it any more, so the belly there means nothing."


def _cutout_cautions(plate: Plate, cut: Cut, face: shapely.Polygon, radii: dict[str, float]) -> Iterator[str]:
    discs = [(complex(*each.at), each.diameter / 2.0) for each in plate.cutouts]
    for place, (at, radius) in enumerate(discs, start=1):
        spot = shapely.Point(at.real, at.imag)
        if not face.contains(spot) or face.exterior.distance(spot) <= radius:
            yield f"cutout {place} runs over its edge. Move it in, or make it smaller."
        for pin, centre in cut.pins:
            if abs(at - centre) - radius < radii[pin] - SHORT:
                yield f"cutout {place} comes nearer to pin {pin} than its edge distance. Move it away from the pin."
    for (one, first), (other, second) in combinations(enumerate(discs, start=1), 2):
        if abs(first[0] - second[0]) <= first[1] + second[1]:
            yield f"cutouts {one} and {other} run into each other. Move one of them."


# ---------------------------------------------------------------------------------------------------------- as a body
def stroke_of(project: Project, link: Link) -> Stroke | None:
    """The line and pen of a link's plate; None where its band stands for it. The same object while nothing changes."""
    cut = plate_cut(project, link)
    return None if cut is None else _stroke(cut)


@lru_cache(maxsize=256)  # a cut is the same object while its plate and pins are
def _stroke(cut: Cut) -> Stroke:
    contour, largest = cut.outer, _pen(cut.outer)
    for radius in (share * largest for share in PENS if largest > 0.0):
        inner = _moved_in(contour, radius)
        if len(inner.corners) < 3 and _is_line(inner):
            return Stroke(_along(inner), radius, False)
        line = _closed(inner)
        face = shapely.Polygon(np.column_stack([line.real, line.imag])) if len(line) > 3 else shapely.Polygon()
        if face.is_valid and face.area > 0.0 and face.exterior.is_ccw:
            return _in_pieces(inner, line, radius, face)
    line = _closed(contour)
    return _in_pieces(contour, line, 0.0, shapely.Polygon(np.column_stack([line.real, line.imag])))


def _in_pieces(inner: Contour, line: Complexes, pen: float, face: shapely.Polygon) -> Stroke:
    """A solid body, in pieces where it has eyes whose rounds lie within it; moved in by the pen."""
    pieces = list(inner.pieces())
    rounds = {
        k: piece
        for k, piece in enumerate(pieces)
        if piece.angle > LEAST_ROUND
        and face.exterior.distance(shapely.Point(piece.centre.real, piece.centre.imag)) > piece.radius - 2.0 * SAGITTA
    }
    if not rounds:
        return Stroke(frozen(line), pen, True)
    core = np.concatenate(
        [p.chords(CUT_SHORT * p.radius) if k in rounds else _straddling(p) for k, p in enumerate(pieces)]
    )
    if len(core) > WORTH * len(line):
        return Stroke(frozen(line), pen, True)
    eyes = dict.fromkeys((piece.centre, piece.radius + pen) for piece in rounds.values())
    return Stroke(frozen(line), pen, True, frozen(np.append(core, core[0])), tuple(eyes))


def _pen(contour: Contour) -> float:
    """Radius of the smallest round end where all runs on smoothly, else 0."""
    pieces = list(contour.pieces())
    for before, piece in zip([pieces[-1], *pieces[:-1]], pieces, strict=True):
        ends = cmath.exp(0.5j * before.angle) * (before.end - before.start)
        begins = cmath.exp(-0.5j * piece.angle) * (piece.end - piece.start)
        if abs(cmath.phase(begins / ends)) > TANGENT:
            return 0.0
    return min((piece.radius for piece in pieces if piece.bulge > 0.0), default=0.0)


def _moved_in(contour: Contour, by: float) -> Contour:
    """The contour moved in; round ends of that radius are gone. At least one corner is left."""
    ways = np.array([cmath.exp(-0.5j * p.angle) * (p.end - p.start) / abs(p.end - p.start) for p in contour.pieces()])
    corners = contour.corners + 1j * by * ways
    kept = np.abs(np.roll(corners, -1) - corners) > 1e-7
    kept[0] |= not kept.any()
    return Contour(corners[kept], contour.bulges[kept])


def _is_line(inner: Contour) -> bool:
    """Whether a contour of one or two corners runs back the way it came."""
    return len(inner.corners) == 1 or abs(inner.bulges.sum()) < TANGENT


def _along(inner: Contour) -> Complexes:
    """The places along the first of the two ways, both ends among them."""
    first = next(inner.pieces())
    if len(inner.corners) == 1:
        return frozen(inner.corners)
    return frozen(np.append(_straddling(first), first.end))


def _closed(contour: Contour) -> Complexes:
    ring = np.concatenate([_straddling(piece) for piece in contour.pieces()])
    return np.append(ring, ring[0])


def _straddling(piece: Piece) -> Complexes:
    """Places along a piece, its start among them and its end not, whose chords lie on either side of it: so they miss
    it by SAGITTA with fewer chords than those that begin and end on it.
    """
    if piece.bulge == 0.0:
        return np.array([piece.start])
    radius = piece.radius
    if abs(piece.angle) <= 2.0 * math.acos(max(1.0 - SAGITTA / radius, -1.0)):
        return np.array([piece.start])
    count = math.ceil(abs(piece.angle) / (2.0 * math.acos((radius - SAGITTA) / (radius + SAGITTA))))
    turns = np.exp(1j * piece.angle * (np.arange(count) + 0.5) / count)
    places = piece.centre + (piece.start - piece.centre) * (1.0 + SAGITTA / radius) * turns
    return np.append(piece.start, places)
