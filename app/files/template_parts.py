"""What is drawn on a template for the drill: of the wall's side here, of the panel's in `template_skin`. No Qt here.

A *face* is a drawing in mm, y up, as one sees it who stands before the wall: the plate that comes there, its holes, and
lines to lay it by. Where the centreline or the level line lies beyond the sheet, a line at a round distance from it
stands in. Above the plate is a band of words, with the hand in large letters.
"""

from __future__ import annotations

from cmath import phase
from dataclasses import dataclass
from math import ceil, degrees, floor
from typing import TYPE_CHECKING

import numpy as np

from app.files.mockup_parts import Line
from app.files.paper import Box
from app.lengths import exact_length, style_of
from app.template_words import (
    HAND_WORDS,
    line_from_centre,
    line_from_level,
    side_words,
    wall_cautions,
    wall_distances,
    wall_drills,
    wall_notes,
)
from kinematics.mount_shapes import rectangle, slot

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from app.lengths import Units
    from kinematics.arrays import Complexes
    from kinematics.contours import Contour
    from kinematics.marking_out import WallMarks
    from kinematics.project import Project
    from kinematics.values import Point

STEPS = {"mm": (100.0, 50.0, 20.0, 10.0, 5.0, 1.0), "in": (127.0, 50.8, 25.4, 12.7, 6.35, 1.5875)}
"""What round distances are multiples of, roundest first, mm."""
NEAR = 40.0
"""A line that lies so near to the plate is drawn itself."""
BESIDE, BEYOND = 7.0, 20.0
"""Between which distances from the plate, and its words, a line stands in for one that lies farther."""
BAND, BELOW = 44.0, 20.0
"""Room for words above the plate, and room below it."""
SIDE, NOTES = 24.0, 36.0
"""Room beside the plate, and for the holes' words where they stand there."""
NARROW = 37.0
"""Where a hole has less room between its middle and the links' plane, its words stand outside."""
LOW = 24.0
"""Words of holes that are nearer to the plate's foot stand above them."""
IN_A_ROW, TWO_BLOCKS = 56.0, 42.0
"""Mm between neighbours that words between two of them take, beside each other, and over each other."""
CLOSE = 27.0
"""Holes nearer to each other than this have no room for their words; the list has their distances."""
LEAST_WIDE = 150.0
BIG, BIG_WIDE = 11.0, 60.0
FINEST = 2.0
"""Lines along the edge aren't drawn nearer to each other than this."""
LABELLED = 8.0
WORDS_BESIDE = 5.2
"""From words to the left of an upright line to words to its right."""
SAGITTA = 0.02


@dataclass(frozen=True, slots=True)
class Word:
    """Words at a place of the drawing.   turn : degrees clockwise."""

    at: Point
    text: str
    height: float = 2.5
    bold: bool = False
    align: float = 0.0
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Drill:
    """A hole to mark.   rings : half axes (across, up) of each circle as it is seen; a circle but behind a shim.

    side : on which side its words stand: −1 left, +1 right, 0 below it.   above : over its number, not under it.
    beside : x where they stand, at the end of a leader; None: at it.
    """

    at: Point
    name: str
    notes: tuple[str, ...]
    rings: tuple[tuple[complex, complex], ...]
    side: int
    above: bool = False
    beside: float | None = None


@dataclass(frozen=True, slots=True)
class FaceTemplate:
    """One face of one hand: title, what is said beneath, lines, holes, words; `box` holds all."""

    hand: str
    title: str
    notes: tuple[str, ...]
    lines: tuple[Line, ...]
    drills: tuple[Drill, ...]
    words: tuple[Word, ...]
    box: Box


# ---------------------------------------------------------------------------------------------------------------- wall
def wall_template(project: Project, marks: WallMarks, units: Units) -> FaceTemplate:
    """The wall's side of one hand."""
    made, hand = marks.out.base, marks.out.hand
    plate = marks.laid(places_of(rectangle(made.part.width, made.height, made.part.corner)))
    drills = _wall_drills(marks, plate, units)
    notes = NOTES if any(drill.beside is not None for drill in drills) else 0.0
    box = _wall_box(marks, plate, notes)
    middle = tuple(Line("cross", points(marks.laid(np.array([-4 * way, 4 * way])))) for way in (1.0 + 0j, 1j))
    lines = [Line("edge", points(plate), closed=True), *_slots(marks), *middle, *_edge_lines(marks, box)]
    links = aslant(marks.middle, marks.rise, box)
    lines.append(Line("links", links))
    words = [Word((links[1][0], links[1][1] + 1.5), "plane of the links", align=0.5)]
    for line, word in (*_level(marks, plate, box, units), *_centre(marks, plate, box, notes, units)):
        lines.append(line)
        words.append(word)
    words += _edge_words(marks, project.walled.lines, box, units)
    lines += _parallel(marks, project.walled.lines, box)
    outboard = f"this face to you; outboard is to your {side_words(marks.right)}"
    over = None if marks.edge is None else float(plate.imag.max()) - marks.edge
    warned = (*wall_cautions(project, marks, over or 0.0, units), *every_hole(drills, _wall_holes(marks, units)))
    words += band(hand, ("wall, as you face it from the pins", outboard), warned, "UP", box)
    title = f"{HAND_WORDS[hand]}: base on {project.fixed.id}"
    return FaceTemplate(hand, title, wall_notes(marks, units), tuple(lines), drills, tuple(words), box)


def _wall_holes(marks: WallMarks, units: Units) -> tuple[str, ...]:
    return wall_drills(marks.out.base.thread, marks.out.base.part.backing > 0.0, units)


def _wall_drills(marks: WallMarks, plate: Complexes, units: Units) -> tuple[Drill, ...]:
    """The holes, each with its circles and words."""
    made, spots = marks.out.base, marks.out.bolts
    places = [marks.seen(spot) for spot in spots]
    sizes = (made.thread.clearance, made.thread.drill) if made.part.backing > 0.0 else (made.thread.clearance,)
    rings = tuple((size / 2 * marks.across, size / 2 * marks.up) for size in sizes)
    off = [(at - marks.middle).real - (at - marks.middle).imag * marks.rise.real / marks.rise.imag for at in places]
    most, lowest = max(map(abs, off), default=0.0), float(plate.imag.min())
    edges = float(plate.real.min()) - 2.0, float(plate.real.max()) + 2.0
    found = []
    for spot, at, x in zip(spots, places, off, strict=True):
        outward = 1 if x > 1.0 else -1
        side = outward if most < NARROW else -outward if abs(x) > most - 1.0 else 0
        told = (*_wall_holes(marks, units), *wall_distances(marks, spot, units))
        words = () if side == 0 and not _apart(at, places) else numbered(spot.name, told, places)
        beside = edges[outward > 0] if most < NARROW and words else None
        above = beside is None and at.imag - lowest < LOW and _under(at, places) >= TWO_BLOCKS
        found.append(Drill((at.real, at.imag), spot.name, words, rings, side, above, beside))
    return tuple(found)


def _apart(at: complex, places: Sequence[complex]) -> bool:
    """Whether words below a hole have room beside those of its neighbours in a row."""
    return min((abs(at - other) for other in places if other != at), default=IN_A_ROW) >= IN_A_ROW


def _under(at: complex, places: Sequence[complex]) -> float:
    """How far below the next hole of its column a hole is."""
    column = [other for other in places if other.imag > at.imag + 1.0 and abs((other - at).real) < LOW]
    return min((abs(other - at) for other in column), default=TWO_BLOCKS)


def _slots(marks: WallMarks) -> list[Line]:
    """The base plate's slots, as they lie over the holes."""
    made = marks.out.base
    shape = places_of(slot(0j, made.thread.clearance, 2.0 * made.part.up_down, 1j))
    if made.part.up_down <= 0.0:
        return []
    return [Line("slot", points(marks.laid(shape, marks.seen(spot))), closed=True) for spot in marks.out.bolts]


def _wall_box(marks: WallMarks, plate: Complexes, notes: float) -> Box:
    """Room for the plate, its words, and the lines that are near."""
    box = around(plate)
    tall = [y for y in (0.0, marks.edge) if y is not None and box.low - NEAR <= y <= box.high + NEAR]
    wide = [] if marks.out.from_middle else [marks.taped(0.0, marks.middle.imag).real]
    wide = [x for x in wide if box.left - NEAR <= x <= box.right + NEAR]
    left, right = min([box.left, *wide]), max([box.right, *wide])
    return roomed(Box(left, min([box.low, *tall]), right, max([box.high, *tall])), SIDE + notes)


def _outer(marks: WallMarks, box: Box) -> tuple[float, float]:
    """Where words stand on the outboard side, and how they are aligned."""
    return (box.right - 1.0, 1.0) if marks.right > 0.0 else (box.left + 1.0, 0.0)


def _level(marks: WallMarks, plate: Complexes, box: Box, units: Units) -> Iterable[tuple[Line, Word]]:
    """The level line, or one at a round height beneath the plate."""
    low = float(plate.imag.min())
    height = 0.0
    if not box.low <= 0.0 <= box.high - BAND:
        per = 1.0 / marks.level_up(1.0)
        height = round_within((low - 0.8 * BELOW) * per, (low - 0.3 * BELOW) * per, units)
    up = marks.level_up(height)
    leans = abs(marks.out.plane.lean_deg) > 0.05
    outer, align = _outer(marks, box)
    word = Word((outer, up - 3.4), line_from_level(height, leans, units), align=align)
    yield Line("datum", ((box.left, up), (box.right, up))), word


def _centre(marks: WallMarks, plate: Complexes, box: Box, notes: float, units: Units) -> Iterable[tuple[Line, Word]]:
    """The centreline, or a line at a round distance from it on the plate's inboard side; none where it isn't known."""
    if marks.out.from_middle:
        return
    rise = marks.rise
    taped = marks.right * (plate.real - plate.imag * rise.real / rise.imag)
    nearest = float(taped.min())
    along = 0.0
    if nearest > NEAR:
        along = round_within(nearest - notes - BEYOND, nearest - notes - BESIDE, units)
    square = along * float(marks.out.plane.along[2])
    line = aslant(marks.taped(along, box.low), rise, box)
    x, y = foot_of(line, BELOW + 2.0)
    away = 0.0 if marks.right > 0.0 else WORDS_BESIDE  # on the side away from the plate
    told = line_from_centre(along, square, units)
    yield Line("datum", line), Word((x + away, y), told, turn=-degrees(phase(rise)))


def _edge_lines(marks: WallMarks, box: Box) -> list[Line]:
    """The wall's upper edge where it is on the sheet."""
    if marks.edge is None or not box.low < marks.edge < box.high - BAND + 1.0:
        return []
    return [Line("wall edge", ((box.left, marks.edge), (box.right, marks.edge)))]


def _parallel(marks: WallMarks, apart: float, box: Box) -> list[Line]:
    """Lines along the wall's upper edge, so far apart."""
    return [Line("offset", ((box.left, y), (box.right, y))) for _, y in offsets(marks, apart, box)]


def offsets(marks: WallMarks, apart: float, box: Box) -> list[tuple[int, float]]:
    """Number and height of each line below the edge that is on the sheet; of many the n-th alone."""
    if marks.edge is None:
        return []
    each = max(ceil(FINEST / apart), 1)
    high, low = marks.edge - (box.high - BAND), marks.edge - (box.low + 0.75 * BELOW)
    first, last = max(ceil(high / apart / each), 1), floor(low / apart / each)
    return [(k * each, marks.edge - k * each * apart) for k in range(first, last + 1)]


def _edge_words(marks: WallMarks, apart: float, box: Box, units: Units) -> list[Word]:
    """Say how far below the edge the lines are; of lines that lie near to each other only some."""
    if marks.edge is None:
        return []
    outer, align = _outer(marks, box)
    each = max(ceil(LABELLED / apart), 1)
    words = [
        Word((outer, y + 0.6), exact_length(number * apart, units, unit=False), 2.0, align=align)
        for number, y in offsets(marks, apart, box)
        if number % each == 0 and abs(y) > LABELLED / 2.0  # the level line has words of its own
    ]
    told = f"lines: {'in' if style_of(units).units == 'in' else 'mm'} below the wall's upper edge, on the wall"
    if box.low < marks.edge < box.high - BAND + 1.0:
        words.append(Word((outer, marks.edge + 0.8), "upper edge of the wall", align=align))
    return [*words, Word((outer, box.high - BAND + 4.6), told, 2.0, align=align)]


# ---------------------------------------------------------------------------------------------------------------- both
def band(hand: str, face: tuple[str, str], warned: Sequence[str], up: str, box: Box) -> list[Word]:
    """The hand in large letters, which way is up, what face it is; beneath, what else must be seen there."""
    top, left = box.high - 2.0, box.left + 2.0
    return [
        Word((left, top - BIG), HAND_WORDS[hand], BIG, bold=True),
        Word((left + BIG_WIDE, top - 4.5), f"↑ {up}", 4.0, bold=True),
        *(Word((left + BIG_WIDE, top - 9.5 - 3.9 * row), text) for row, text in enumerate(face)),
        *(Word((left, top - 18.0 - 3.9 * row), text, bold=True) for row, text in enumerate(warned)),
    ]


def every_hole(drills: Sequence[Drill], told: Sequence[str]) -> tuple[str, ...]:
    """What is drilled, where the holes have no room for it."""
    return () if all(drill.notes for drill in drills) else (f"Every hole: {', '.join(told)}. Distances: see the list.",)


def numbered(name: str, told: Sequence[str], places: Sequence[complex]) -> tuple[str, ...]:
    """The words of a hole, its number before them, as other holes' words may be near; none where there is no room."""
    return (f"{name}: {told[0]}", *told[1:]) if roomy(places) else ()


def roomy(places: Sequence[complex]) -> bool:
    """Whether there is room at the holes for their words."""
    gaps = [abs(a - b) for k, a in enumerate(places) for b in places[:k]]
    return min(gaps, default=CLOSE) >= CLOSE


def roomed(box: Box, side: float) -> Box:
    """A box with room for words around it."""
    more = max(LEAST_WIDE - box.wide - 2.0 * side, 0.0) / 2.0
    return Box(box.left - side - more, box.low - BELOW, box.right + side + more, box.high + BAND)


def around(places: Complexes) -> Box:
    """The box that holds places."""
    return Box(*(float(each) for each in (places.real.min(), places.imag.min(), places.real.max(), places.imag.max())))


def round_within(low: float, high: float, units: Units) -> float:
    """The roundest distance from low to high, mm; the middle where none lies there."""
    for step in STEPS[style_of(units).units]:
        if floor(high / step) * step >= low:
            return floor(high / step) * step
    return 0.5 * (low + high)


def places_of(contour: Contour) -> Complexes:
    """A contour as a ring of places."""
    points = contour.polyline(SAGITTA)
    return np.asarray(points[:, 0] + 1j * points[:, 1])


def points(places: Complexes) -> tuple[Point, ...]:
    """Places as points."""
    return tuple((float(place.real), float(place.imag)) for place in places)


def aslant(through: complex, way: complex, box: Box) -> tuple[Point, Point]:
    """A steep line through a place, from the box's foot to below its band of words."""
    ends = [through + way * ((y - through.imag) / way.imag) for y in (box.low, box.high - BAND + 8.0)]
    return (ends[0].real, ends[0].imag), (ends[1].real, ends[1].imag)


def foot_of(line: tuple[Point, Point], up: float) -> Point:
    """A place so far up a steep line from its foot, a little to its left: where words begin that run up it."""
    (x, y), (x2, y2) = line
    return x + (x2 - x) * up / (y2 - y) - 1.4, y + up
