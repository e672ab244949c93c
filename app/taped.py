"""Rows of a table of measurements, as typed, to points of the side view, with a sentence for each row. No widgets here.

A row that is empty means nothing. One that can't be read or placed says why and gives no point, and the others go on.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import dist, isfinite
from typing import TYPE_CHECKING

from app.lengths import format_length, parse_length
from kinematics.errors import HingewrightError
from kinematics.taping import TAPE_OFF, Datum, Tape, from_datum, from_tapes, running, steps_back

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from app.lengths import Units
    from kinematics.project import Point
    from kinematics.taping import Meeting, Misfit, Side, Taped

PLACES = ("A", "B", "C")


@dataclass(frozen=True, slots=True)
class Told:
    """What became of a row. at : its point, mm; None where there is none.     words : a sentence, "" where all is well.
    fault : whether it keeps the outline from being made.     doubt : whether it should be looked at.
    """

    at: Point | None = None
    words: str = ""
    fault: bool = False
    doubt: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """What became of all rows; uncertain : mm, how far the points may be off by the tapes' own doubt."""

    rows: tuple[Told, ...]
    uncertain: float

    @property
    def points(self) -> tuple[Point, ...]:
        """The points, in order."""
        return tuple(row.at for row in self.rows if row.at is not None)

    @property
    def first_fault(self) -> str:
        """The first row that keeps the outline from being made, with its number; "" for none."""
        return next((f"Row {n}: {row.words}" for n, row in enumerate(self.rows, 1) if row.fault), "")


def from_stations(rows: Sequence[Sequence[str]], datum: Datum, units: Units, *, tail_to_tail: bool = False) -> Table:
    """Points of rows (station, offset) along a datum."""
    read = [_lengths(row[:2], units, ("station", "offset")) for row in rows]
    filled = [place for place, each in enumerate(read) if each is not None]
    good = [place for place in filled if isinstance(read[place], tuple)]
    told = [Told(words=each, fault=True) if isinstance(each, str) else Told() for each in read]
    numbers = [read[place] for place in good]
    values = [each for each in numbers if isinstance(each, tuple)]
    stations = running([row[0] for row in values]) if tail_to_tail else tuple(row[0] for row in values)
    back = set(steps_back(stations))
    points = from_datum([(station, row[1]) for station, row in zip(stations, values, strict=True)], datum)
    broken = min((place for place in filled if place not in good), default=len(rows))
    for number, place in enumerate(good):
        if tail_to_tail and place > broken:
            told[place] = Told(words="it is measured on from a row above that can't be read", fault=True)
        elif number in back:
            told[place] = Told(points[number], "this station lies before the one above; is it read right?", doubt=True)
        else:
            told[place] = Told(points[number])
    return Table(tuple(told), TAPE_OFF)


def from_readings(
    rows: Sequence[Sequence[str]], known: Mapping[str, Point], units: Units, side: Side = "left"
) -> Table:
    """Points of rows with a tape's reading from each known place (A, B, C in order; the third may be empty)."""
    names = [name for name in PLACES if name in known]
    told: list[Told] = []
    tapes: list[Tape] = []
    of_row: list[range] = []  # places in `tapes`
    for number, row in enumerate(rows, 1):
        read = _lengths(row[: len(names)], units, [f"tape from {name}" for name in names[:2]])
        words = read if isinstance(read, str) else _unfit(read)
        start = len(tapes)
        if isinstance(read, tuple) and not words:
            tapes += [Tape(name, str(number), one) for name, one in zip(names, read, strict=False) if isfinite(one)]
        told.append(Told(words=words, fault=bool(words)))
        of_row.append(range(start, len(tapes)))
    try:
        sides: dict[str, Side] = {str(number): side for number in range(1, len(rows) + 1)}
        found = from_tapes(known, tapes, sides)
    except HingewrightError as fault:
        return Table(
            tuple(
                Told(words=str(fault), fault=True) if mine else each for mine, each in zip(of_row, told, strict=True)
            ),
            0.0,
        )
    for place, mine in enumerate(of_row):
        if mine:
            told[place] = _told_of(str(place + 1), [found.misfits[each] for each in mine], found, units)
    doubts = [each for each in found.uncertain.values() if isfinite(each)]
    doubts += _astray(found, known, sides)
    return Table(tuple(told), max(doubts, default=TAPE_OFF))


def _astray(found: Taped, known: Mapping[str, Point], sides: Mapping[str, Side]) -> list[float]:
    """How far points may be off (mm) because one of several tapes is misread and nobody can tell which: as far as they
    would move with each of these set right.
    """
    tapes = [each.tape for each in found.misfits if each is not None]
    off = []
    for place in found.misread:
        wrong = found.misfits[place]
        if wrong is None or wrong.fitting is None or wrong.fitting <= 0:
            continue
        right = replace(wrong.tape, reading=wrong.fitting)
        again = from_tapes(known, [right if each is wrong.tape else each for each in tapes], sides).at
        if right.end in again and right.end in found.at:
            off.append(dist(again[right.end], found.at[right.end]))
    return off


def _unfit(read: tuple[float, ...] | None) -> str:
    """Why readings are none; "" where they are."""
    if read is not None and any(isfinite(each) and each <= 0 for each in read):
        return "a tape reads more than 0"
    return ""


def _told_of(name: str, misfits: list[Misfit | None], found: Taped, units: Units) -> Told:
    """What is said of a point by tapes."""
    if name in found.open:
        met = (found.meetings or {}).get(name)
        return Told(words=meeting_words(met, units), fault=True)
    at = found.at.get(name)
    known = [each for each in misfits if each is not None]
    doubtful = [each for each in known if each.misread]
    if doubtful:
        return Told(at, misread_words(doubtful, units), doubt=True)
    if all(each.standardised is None for each in known):
        return Told(at)
    worst = max(known, key=lambda each: abs(each.off))
    return Told(at, f"the tapes agree to {format_length(abs(worst.off), units)}")


def meeting_words(met: Meeting | None, units: Units) -> str:
    """Say why tapes don't meet."""
    if met is None:
        return "it takes tapes from two places"
    if met.short > 0:
        return f"the two tapes are {format_length(met.short, units)} too short to meet; one of them is misread"
    return f"one tape is {format_length(met.long, units)} too long to meet the other; one of them is misread"


def misread_words(doubtful: list[Misfit], units: Units) -> str:
    """Say which tape is misread, or which may be, with the readings that would fit."""
    read = {each: format_length(each.tape.reading, units) for each in doubtful}
    fits = [
        f"{each.tape.start} would fit with {format_length(each.fitting, units)} (read {read[each]})"
        for each in doubtful
    ]
    if len(doubtful) == 1:
        return f"the tape from {fits[0]}; it is left out, measure it again"
    return f"one of these tapes is misread: {'; or '.join(fits)}; measure again"


def _lengths(row: Sequence[str], units: Units, needed: Sequence[str]) -> tuple[float, ...] | str | None:
    """The lengths of a row, NaN for an empty cell beyond those `needed`, told by their names; a sentence where one is
    missing or can't be read; None where all are empty.
    """
    if not any(cell.strip() for cell in row):
        return None
    made = []
    for place, cell in enumerate(row):
        if not cell.strip():
            if place < len(needed):
                return f"the {needed[place]} is missing"
            made.append(float("nan"))
            continue
        try:
            made.append(parse_length(cell, units))
        except HingewrightError as fault:
            return str(fault)
    return tuple(made)
