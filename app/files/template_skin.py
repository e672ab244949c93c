"""The panel's side of the templates for the drill: flange and doubler as they lie on the inner skin. No Qt here."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from app.files.mockup_parts import Line
from app.files.paper import Box
from app.files.template_parts import (
    BELOW,
    BESIDE,
    BEYOND,
    NEAR,
    NOTES,
    SIDE,
    WORDS_BESIDE,
    Drill,
    FaceTemplate,
    Word,
    around,
    aslant,
    band,
    every_hole,
    foot_of,
    numbered,
    places_of,
    points,
    roomed,
    round_within,
)
from app.template_words import (
    HAND_WORDS,
    ahead_words,
    side_words,
    skin_cautions,
    skin_centre_words,
    skin_distances,
    skin_drills,
    skin_notes,
)
from kinematics.mount_shapes import rectangle, slot
from kinematics.setting_out import drilling_order

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.lengths import Units
    from kinematics.arrays import Complexes
    from kinematics.marking_out import SkinMarks
    from kinematics.project import Project


BOTH_SIDES = 2
"""Rows of bolts whose words have room: one to either side."""


def skin_template(project: Project, marks: SkinMarks, units: Units) -> FaceTemplate:
    """The panel's side of one hand."""
    made, hand = marks.made, marks.hand
    foot = 0.5 * (made.foot[1] - made.foot[0])
    flange = marks.laid(np.array([-1j * foot, made.flange - 1j * foot, made.flange + 1j * foot, 1j * foot]))
    doubler = _doubler(marks)
    whole = np.concatenate([flange, doubler])
    drills = _drills(marks, whole, units)
    notes = _inboard(marks, drills)
    box = _box(marks, whole, notes)
    web = aslant(0j, 1j, box)
    lines = [Line("edge", points(flange), closed=True), Line("links", web), *_slots(marks)]
    lines += [Line("outline", points(doubler), closed=True)] if made.part.doubler > 0.0 else []
    words = [Word((web[1][0], web[1][1] + 1.5), "outer side of the web", align=0.5)]
    for line, word in (*_rear(marks, whole, box, units), *_centre(marks, whole, box, notes, units)):
        lines.append(line)
        words.append(word)
    outboard = f"outboard is to your {side_words(marks.right)}"
    holes = every_hole(drills, skin_drills(made.thread, units))
    face = ("inner skin, as you face it from the hinge", f"this face to you; {outboard}")
    warned = (*skin_cautions(marks), *holes)
    words += band(hand, face, warned, "AHEAD, the panel's front", box)
    title = f"{HAND_WORDS[hand]}: bracket on {project.panel.id}"
    return FaceTemplate(hand, title, skin_notes(marks, units), tuple(lines), drills, tuple(words), box)


def bolt_places(marks: SkinMarks) -> tuple[complex, ...]:
    """The bolts in the order of drilling, seen."""
    places = marks.laid(np.array(marks.made.bolts))
    order = drilling_order(np.column_stack([places.real, places.imag]))
    return tuple(complex(places[k]) for k in order)


def _doubler(marks: SkinMarks) -> Complexes:
    """The doubler's edge, round the bolts with their slots and its margin."""
    made, part = marks.made, marks.made.part
    across = [bolt.real for bolt in made.bolts]
    more = made.thread.clearance / 2.0 + part.doubler_margin
    wide = max(across) - min(across) + 2.0 * (part.side + more)
    tall = 2.0 * (max(abs(bolt.imag) for bolt in made.bolts) + part.fore_aft + more)
    middle = 0.5 * (max(across) + min(across))
    return marks.laid(middle + places_of(rectangle(wide, tall, min(6.0, part.doubler_margin))))


def _drills(marks: SkinMarks, whole: Complexes, units: Units) -> tuple[Drill, ...]:
    """The bolts; their words stand beside all, at the ends of leaders: outboard, and of a second row inboard.

    Of more rows no bolt has words, as leaders would run through others.
    """
    made, places = marks.made, bolt_places(marks)
    half = made.thread.clearance / 2.0
    rows = sorted({round(marks.right * at.real, 3) for at in places}, reverse=True)  # the outboard one first
    found = []
    for number, at in enumerate(places, 1):
        row = rows.index(round(marks.right * at.real, 3))
        side = 1 if (marks.right > 0.0) == (row == 0) else -1
        told = (*skin_drills(made.thread, units), *skin_distances(marks, at, units))
        column = [1j * each.imag for each in places if abs(each.real - at.real) < 1.0]
        words = numbered(str(number), told, column) if len(rows) <= BOTH_SIDES else ()
        edge = float(whole.real.max()) + 2.0 if side > 0 else float(whole.real.min()) - 2.0
        rings = ((half + 0j, half * 1j),)
        found.append(Drill((at.real, at.imag), str(number), words, rings, side, False, edge if words else None))
    return tuple(found)


def _inboard(marks: SkinMarks, drills: Iterable[Drill]) -> float:
    """The room that words take on the inboard side."""
    return NOTES if any(drill.notes and drill.side * marks.right < 0.0 for drill in drills) else 0.0


def _slots(marks: SkinMarks) -> list[Line]:
    """The slots of flange and doubler, which cross."""
    made, part = marks.made, marks.made.part
    found = []
    for span, way in ((part.fore_aft, 1j), (part.side, 1.0 + 0j)):
        if span > 0.0:
            shape = places_of(slot(0j, made.thread.clearance, 2.0 * span, way))
            found += [Line("slot", points(at + shape), closed=True) for at in bolt_places(marks)]
    return found


def _box(marks: SkinMarks, whole: Complexes, notes: float) -> Box:
    """Room for flange and doubler, the words beside them, and the rear edge where it is near."""
    box = around(whole)
    low = box.low if marks.rear is None or marks.rear < box.low - NEAR else min(box.low, marks.rear)
    return roomed(Box(box.left, low, box.right, box.high), SIDE + max(notes, NOTES / 2.0))


def _rear(marks: SkinMarks, whole: Complexes, box: Box, units: Units) -> Iterable[tuple[Line, Word]]:
    """The panel's rear edge, or a line at a round distance ahead of it; none where no panel is drawn."""
    if marks.rear is None:
        return
    low, ahead = float(whole.imag.min()), 0.0
    if not box.low <= marks.rear <= box.high:
        ahead = round_within(low - 0.8 * BELOW - marks.rear, low - 0.3 * BELOW - marks.rear, units)
    y = marks.rear + ahead
    outer, align = (box.right - 1.0, 1.0) if marks.right > 0.0 else (box.left + 1.0, 0.0)
    word = Word((outer, y - 3.4), ahead_words(ahead, units), align=align)
    yield Line("datum", ((box.left, y), (box.right, y))), word


def _centre(marks: SkinMarks, whole: Complexes, box: Box, notes: float, units: Units) -> Iterable[tuple[Line, Word]]:
    """A line at a round distance from the panel's centreline, on the inboard side; none where it isn't known."""
    if marks.from_centre is None:
        return
    nearest = min(marks.square(float(x)) for x in (whole.real.min(), whole.real.max())) - notes
    square = 0.0 if nearest < NEAR else round_within(nearest - BEYOND, nearest - BESIDE, units)
    line = aslant(complex(marks.out_to(square)), 1j, box)
    x, y = foot_of(line, BELOW + 2.0)
    away = 0.0 if marks.right > 0.0 else WORDS_BESIDE
    yield Line("datum", line), Word((x + away, y), skin_centre_words(square, units), turn=-90.0)
