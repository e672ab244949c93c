"""All figures of the templates as tables: every mark with its distances, and the diagonals to check them by."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from app.files.template_skin import bolt_places
from app.lengths import format_coordinate, style_of
from app.template_words import HAND_WORDS

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from app.files.template_sheets import Table
    from app.lengths import Units
    from kinematics.marking_out import SkinMarks, WallMarks


def tables_of(walls: Iterable[WallMarks | None], skins: Iterable[SkinMarks | None], units: Units) -> tuple[Table, ...]:
    """The tables of all faces that there are."""
    unit = style_of(units).units
    found = [table for each in walls if each is not None for table in _of_wall(each, units, unit)]
    found += [_of_skin(each, units, unit) for each in skins if each is not None]
    return tuple(found)


def _of_wall(marks: WallMarks, units: Units, unit: str) -> Iterator[Table]:
    """A wall's spots, and its diagonals."""
    out = marks.out
    hand = HAND_WORDS[out.hand]
    origin = "the base's middle" if out.from_middle else "the centreline"
    rows = tuple(
        (spot.name, *(format_coordinate(mm, units) for mm in (out.taped(spot), spot.square, spot.up, spot.height)))
        for spot in (out.middle, *out.bolts)
    )
    columns = ("mark", f"along, {unit}", f"square, {unit}", f"up, {unit}", f"height, {unit}")
    yield f"{hand}, wall: from {origin} and the level line", columns, rows
    if out.diagonals:
        told = [(f"{way.one} to {way.other}", format_coordinate(way.length, units)) for way in out.diagonals]
        pairs = [(*one, *other) for one, other in zip_longest(told[::2], told[1::2], fillvalue=("", ""))]
        heads = ("holes", f"on the wall, {unit}") * 2
        yield f"{hand}, wall: check between the outermost holes", heads, tuple(pairs)


def _of_skin(marks: SkinMarks, units: Units, unit: str) -> Table:
    """A skin's bolts: from the rear edge, from the outer side of the web, from the centreline."""

    def told(mm: float | None) -> str:
        return "—" if mm is None else format_coordinate(mm, units)

    rows = tuple(
        (
            str(number),
            told(None if marks.rear is None else at.imag - marks.rear),
            told(abs(at.real)),
            told(None if marks.from_centre is None else marks.square(at.real)),
        )
        for number, at in enumerate(bolt_places(marks), 1)
    )
    columns = ("bolt", f"ahead, {unit}", f"off web, {unit}", f"square, {unit}")
    return f"{HAND_WORDS[marks.hand]}, panel's skin", columns, rows
