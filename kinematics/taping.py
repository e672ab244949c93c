"""Measured points: from what a tape says on the shop floor to points of the side view.

Two ways, as shops measure.

*Stations and offsets.* A line is snapped or a straightedge laid: the *datum*. Along it stand *stations*; at each, the
*offset* square to it is read. Stations are read *running* (all from the start of the tape) or *tail to tail* (each from
the one before, where the tape is laid anew).

*Two tapes.* Two places are known, say two bolts. A tape from each to a point settles it but for the side of the line
through both. A tape more, from a third place or from another point, makes it *checked*: all readings are brought into
agreement by least squares, each reading with the same doubt, and what remains between reading and drawing is its
misfit. A misread tape shows by its *standardised* misfit, the misfit over what it would be by chance: beyond 3.29 it
happens by chance once in 1 000 (Baarda, W.: A testing procedure for use in geodetic networks, 1968: "data snooping",
α = 0.1 %). A tape is called misread when the others agree without it, and the *fitting* reading is what they say. Where
they would agree without any one of several, all of those are named and none is left out: of three tapes to a point,
nobody can tell which is wrong. A reading that no other checks can't be found out at all, and is told to be so.

Nothing here raises for a reading that can't be: the row says so and the other rows go on. mm, x to the right, y up.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import accumulate
from math import cos, hypot, isfinite, radians, sin, sqrt
from typing import TYPE_CHECKING, Literal

import numpy as np

from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    Array = NDArray[np.float64]

Point = tuple[float, float]
Side = Literal["left", "right"]

TAPE_OFF = 1.0
"""By how much a good reading may usually be off: its standard deviation, mm (common practice, no source)."""
MISREAD = 3.29
"""Standardised misfit beyond which a reading counts as misread."""
UNCHECKED = 1e-6
"""A reading whose share of redundancy is below this is checked by no other."""
MOST_STEPS = 50


class TapingError(HingewrightError):
    """Measurements from which nothing can be drawn."""


# ------------------------------------------------------------------------------------------------ stations and offsets
@dataclass(frozen=True)
class Datum:
    """The line that is measured along. start : mm.     along_deg : its direction, anticlockwise from x.

    offsets_to : the side of it, as seen along it, on which positive offsets lie.
    """

    start: Point = (0.0, 0.0)
    along_deg: float = 0.0
    offsets_to: Side = "left"


def running(stations: Sequence[float]) -> tuple[float, ...]:
    """Running stations from ones read tail to tail: each is measured from the one before."""
    return tuple(accumulate(stations))


def tail_to_tail(stations: Sequence[float]) -> tuple[float, ...]:
    """Stations as read tail to tail, from running ones."""
    return tuple(now - before for before, now in zip((0.0, *stations), stations, strict=False))


def from_datum(rows: Sequence[Point], datum: Datum | None = None) -> tuple[Point, ...]:
    """Points of (station, offset), mm, running stations. Raises TapingError where a row holds no finite number."""
    line = datum or Datum()
    c, s = cos(radians(line.along_deg)), sin(radians(line.along_deg))
    sign = 1.0 if line.offsets_to == "left" else -1.0
    made = []
    for number, (station, offset) in enumerate(rows, 1):
        if not (isfinite(station) and isfinite(offset)):
            raise TapingError("station or offset is no number", f"row {number}")
        out = sign * offset
        made.append((line.start[0] + station * c - out * s, line.start[1] + station * s + out * c))
    return tuple(made)


def steps_back(stations: Sequence[float]) -> tuple[int, ...]:
    """Rows (from 0) whose running station lies before that of the row above: right for some outlines, else misread."""
    return tuple(place for place in range(1, len(stations)) if stations[place] < stations[place - 1])


# ------------------------------------------------------------------------------------------------------------ two tapes
@dataclass(frozen=True)
class Meeting:
    """Where two tapes meet. at : the point, None where they can't.

    short : mm by which they fail to (> 0: together too short to reach each other); long : mm by which one of them
    overshoots, as the two places are too near each other for it. One of the two at most is more than 0.
    """

    at: Point | None
    short: float = 0.0
    long: float = 0.0


def two_tapes(a: Point, b: Point, to_a: float, to_b: float, side: Side = "left", tape_off: float = TAPE_OFF) -> Meeting:
    """Where the tapes from a and b meet, on that side of the line from a to b (as seen along it).

    Where they miss each other by no more than good readings do (3 · √2 · `tape_off`), they meet on the line, each
    taking half of it. Raises TapingError for places that are one, and readings that aren't greater than 0.
    """
    base = hypot(b[0] - a[0], b[1] - a[1])
    if base == 0:
        raise TapingError("the two places are one", remedy="Measure from two places far from each other.")
    if not (to_a > 0 and to_b > 0 and isfinite(to_a) and isfinite(to_b)):
        raise TapingError("a tape's reading is no number greater than 0")
    short, over = max(base - to_a - to_b, 0.0), max(abs(to_a - to_b) - base, 0.0)
    if max(short, over) > 3.0 * sqrt(2.0) * tape_off:
        return Meeting(None, short, over)
    along = (to_a**2 - to_b**2 + base**2) / (2.0 * base)
    if short or over:  # half of the miss on either tape
        along = to_a + short / 2 if short else (to_a - over / 2 if to_a > to_b else -(to_a + over / 2))
    out = sqrt(max(to_a**2 - along**2, 0.0)) if not (short or over) else 0.0
    out = out if side == "left" else -out
    x, y = (b[0] - a[0]) / base, (b[1] - a[1]) / base
    return Meeting((a[0] + along * x - out * y, a[1] + along * y + out * x), short, over)


# -------------------------------------------------------------------------------------------------------- many tapes
@dataclass(frozen=True)
class Tape:
    """One reading: the distance (mm) between two places, known ones or points to be found, by name."""

    start: str
    end: str
    reading: float


@dataclass(frozen=True)
class Misfit:
    """How a tape suits the drawn points.

    off : reading less the distance drawn, mm.     standardised : that over what chance would make of it; None where no
    other tape checks this one.     fitting : the reading that all the others say; None likewise.
    misread : whether it is one of those that may be misread.
    """

    tape: Tape
    off: float
    standardised: float | None
    fitting: float | None
    misread: bool = False


@dataclass(frozen=True)
class Taped:
    """Points from tapes.

    at : the points that could be placed, by name; misread tapes are left out of it where it is sure which they are.
    misfits : of each tape, in the order given, None for one that leads to a point that couldn't be placed.
    uncertain : of each point, mm, twice its standard deviation in its worst direction.
    open : names of points with too few tapes, or tapes that can't meet.     meetings : of the latter, why.
    """

    at: Mapping[str, Point]
    misfits: tuple[Misfit | None, ...]
    uncertain: Mapping[str, float]
    open: tuple[str, ...] = ()
    meetings: Mapping[str, Meeting] | None = None

    @property
    def misread(self) -> tuple[int, ...]:
        """Places (from 0) of the tapes that may be misread."""
        return tuple(place for place, each in enumerate(self.misfits) if each is not None and each.misread)


def from_tapes(
    known: Mapping[str, Point],
    tapes: Sequence[Tape],
    sides: Mapping[str, Side] | None = None,
    tape_off: float = TAPE_OFF,
) -> Taped:
    """Place points by tapes between them and known places, the best way that all readings allow.

    sides : of each point, on which side of the line from the start of its first tape to that of its second it lies;
    "left" where nothing is said. A point needs two tapes from places known or placed before it.
    Raises TapingError for a tape from a place to itself and for readings that are no number greater than 0.
    """
    _check_tapes(tapes)
    first, meetings = _first_places(known, tapes, sides or {}, tape_off)
    used = [place for place, tape in enumerate(tapes) if {tape.start, tape.end} <= first.keys() | known.keys()]
    used = [place for place in used if not {tapes[place].start, tapes[place].end} <= known.keys()]
    names = {name for tape in tapes for name in (tape.start, tape.end)}
    left = tuple(sorted(names - first.keys() - known.keys()))
    found = _adjusted(known, first, tapes, used, tape_off)
    return replace(found, open=left, meetings=meetings)


def _check_tapes(tapes: Sequence[Tape]) -> None:
    for number, tape in enumerate(tapes, 1):
        if tape.start == tape.end:
            raise TapingError(f"the tape leads from “{tape.start}” to itself", f"row {number}")
        if not (tape.reading > 0 and isfinite(tape.reading)):
            raise TapingError("the reading is no number greater than 0", f"row {number}")


def _first_places(
    known: Mapping[str, Point], tapes: Sequence[Tape], sides: Mapping[str, Side], tape_off: float
) -> tuple[dict[str, Point], dict[str, Meeting]]:
    """A first place of each point by two of its tapes, and of those whose tapes don't meet, why."""
    placed: dict[str, Point] = {}
    faults: dict[str, Meeting] = {}
    names = dict.fromkeys(name for tape in tapes for name in (tape.start, tape.end) if name not in known)
    going = True
    while going:
        going = False
        for name in names:
            if name in placed:
                continue
            met = _met(name, {**known, **placed}, tapes, sides.get(name, "left"), tape_off)
            if met is not None and met.at is not None:
                placed[name], going = met.at, True
                faults.pop(name, None)
            elif met is not None:
                faults[name] = met
    return placed, faults


def _met(name: str, there: Mapping[str, Point], tapes: Sequence[Tape], side: Side, tape_off: float) -> Meeting | None:
    """Where the first two tapes to a point that meet do so; None with fewer than two."""
    ends = [(tape.end if tape.start == name else tape.start, tape.reading) for tape in tapes if name in _ends(tape)]
    reached = [(there[other], reading, other) for other, reading in ends if other in there]
    failed: Meeting | None = None
    for late in range(1, len(reached)):
        for early in range(late):
            (a, to_a, _), (b, to_b, _) = reached[early], reached[late]
            if a == b:
                continue
            met = two_tapes(a, b, to_a, to_b, _side_for(reached, early, late, side), tape_off)
            if met.at is not None:
                return met
            failed = failed or met
    return failed


def _side_for(reached: list[tuple[Point, float, str]], early: int, late: int, side: Side) -> Side:
    """The side as seen from this pair: told for the first two, and carried over where others must do."""
    if (early, late) == (0, 1):
        return side
    (a, _, _), (b, _, _) = reached[0], reached[1]
    (c, _, _), (d, _, _) = reached[early], reached[late]
    same = (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]) >= 0
    other: Side = "right" if side == "left" else "left"
    return side if same else other


def _ends(tape: Tape) -> tuple[str, str]:
    return tape.start, tape.end


def _adjusted(
    known: Mapping[str, Point], first: Mapping[str, Point], tapes: Sequence[Tape], used: list[int], tape_off: float
) -> Taped:
    """All readings brought into agreement; those are left out of which it is sure that they are misread."""
    out: list[int] = []
    doubtful: dict[int, _Agreed] = {}
    agreed = _agree(known, first, tapes, used, tape_off)
    while agreed.worst > MISREAD:
        without = _without_each(known, tapes, agreed, tape_off)
        doubtful = {place: each for place, each in without.items() if each.worst <= MISREAD}
        if len(doubtful) > 1:
            break  # any of them may be it
        gone = min(without, key=lambda place: without[place].worst)
        out.append(gone)
        agreed = without[gone]
        doubtful = {}
    misfits: list[Misfit | None] = [agreed.misfits.get(place) for place in range(len(tapes))]
    for place in (*out, *doubtful):
        misfits[place] = _misread(tapes[place], doubtful.get(place, agreed), agreed, tape_off)
    places = {name: agreed.places[name] for name in first}
    return Taped(places, tuple(misfits), _uncertain(list(first), agreed.jacobian, tape_off))


@dataclass(frozen=True)
class _Agreed:
    """Some tapes in agreement: `kept` are their places in the list; worst, their largest standardised misfit."""

    kept: list[int]
    places: dict[str, Point]
    jacobian: Array
    misfits: dict[int, Misfit]

    @property
    def worst(self) -> float:
        return max((abs(each.standardised or 0.0) for each in self.misfits.values()), default=0.0)


def _agree(
    known: Mapping[str, Point], first: Mapping[str, Point], tapes: Sequence[Tape], kept: list[int], tape_off: float
) -> _Agreed:
    places, jacobian = _solved(known, first, [tapes[place] for place in kept])
    return _Agreed(kept, places, jacobian, _judged(tapes, kept, places, jacobian, tape_off))


def _without_each(
    known: Mapping[str, Point], tapes: Sequence[Tape], agreed: _Agreed, tape_off: float
) -> dict[int, _Agreed]:
    """Agreement without one tape, for each whose misfit is at least half as bad as the worst."""
    bad = [place for place, each in agreed.misfits.items() if abs(each.standardised or 0.0) >= agreed.worst / 2]
    first = {name: at for name, at in agreed.places.items() if name not in known}
    return {
        place: _agree(known, first, tapes, [other for other in agreed.kept if other != place], tape_off)
        for place in bad
    }


def _misread(tape: Tape, without: _Agreed, agreed: _Agreed, tape_off: float) -> Misfit:
    """What is told of a tape that may be misread: the reading that fits is the distance drawn without it."""
    fitting = _drawn(without.places, tape)
    off = tape.reading - _drawn(agreed.places, tape)
    return Misfit(tape, off, (tape.reading - fitting) / tape_off, fitting, misread=True)


def _drawn(places: Mapping[str, Point], tape: Tape) -> float:
    (x0, y0), (x1, y1) = places[tape.start], places[tape.end]
    return hypot(x1 - x0, y1 - y0)


def _solved(
    known: Mapping[str, Point], first: Mapping[str, Point], tapes: Sequence[Tape]
) -> tuple[dict[str, Point], Array]:
    """Gauss–Newton on the misfits, with steps halved where they would make them worse; all places, and the Jacobian."""
    names = list(first)
    x = np.array([first[name] for name in names], dtype=float).reshape(-1)
    readings = np.array([tape.reading for tape in tapes])
    drawn, jacobian = _distances(known, names, x, tapes)
    for _ in range(MOST_STEPS):
        step = np.linalg.lstsq(jacobian, readings - drawn)[0] if len(tapes) else np.zeros_like(x)
        share, before = 1.0, float(np.sum((readings - drawn) ** 2))
        while share > 1e-3 and np.sum((readings - _distances(known, names, x + share * step, tapes)[0]) ** 2) > before:
            share /= 2
        if share <= 1e-3 or np.abs(step).max(initial=0.0) < 1e-10:
            break
        x = x + share * step
        drawn, jacobian = _distances(known, names, x, tapes)
    found = {name: (float(x[2 * place]), float(x[2 * place + 1])) for place, name in enumerate(names)}
    return {**known, **found}, jacobian


def _distances(known: Mapping[str, Point], names: list[str], x: Array, tapes: Sequence[Tape]) -> tuple[Array, Array]:
    """Distances drawn (tapes,), and how they follow the points' coordinates (tapes, 2 · points)."""
    column = {name: 2 * place for place, name in enumerate(names)}
    drawn, jacobian = np.zeros(len(tapes)), np.zeros((len(tapes), x.size))
    for row, tape in enumerate(tapes):
        start, end = (
            x[column[name] : column[name] + 2] if name in column else np.array(known[name]) for name in _ends(tape)
        )
        away = end - start
        drawn[row] = np.hypot(*away)
        unit = away / max(drawn[row], 1e-12)
        for name, sign in ((tape.start, -1.0), (tape.end, 1.0)):
            if name in column:
                jacobian[row, column[name] : column[name] + 2] = sign * unit
    return drawn, jacobian


def _judged(
    tapes: Sequence[Tape], kept: list[int], places: Mapping[str, Point], jacobian: Array, tape_off: float
) -> dict[int, Misfit]:
    """The misfit of each tape."""
    residue = np.eye(len(kept)) - jacobian @ np.linalg.pinv(jacobian)  # what of a misreading stays in the misfits
    redundancy = np.clip(np.diag(residue), 0.0, 1.0)
    made: dict[int, Misfit] = {}
    for row, place in enumerate(kept):
        tape, share = tapes[place], float(redundancy[row])
        off = tape.reading - _drawn(places, tape)
        if share < UNCHECKED:
            made[place] = Misfit(tape, off, None, None)
        else:
            made[place] = Misfit(tape, off, off / (tape_off * sqrt(share)), tape.reading - off / share)
    return made


def _uncertain(names: list[str], jacobian: Array, tape_off: float) -> dict[str, float]:
    """Twice the standard deviation of each point in its worst direction, mm; infinite where nothing holds it."""
    if not names:
        return {}
    normal = jacobian.T @ jacobian
    if np.linalg.matrix_rank(normal, hermitian=True, tol=1e-9) < len(normal):
        return dict.fromkeys(names, float("inf"))
    spread = np.linalg.inv(normal) * tape_off**2
    made = {}
    for place, name in enumerate(names):
        own = spread[2 * place : 2 * place + 2, 2 * place : 2 * place + 2]
        made[name] = 2.0 * sqrt(float(np.linalg.eigvalsh(own)[-1]))
    return made
