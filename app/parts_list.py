"""What is bought for all hinges: pins, clips, rings, bushings, washers, with standard designations, counts and spares.

A *designation* is how a standard part is ordered, "ISO 2341 - B - 8 x 30 x 24 - St": the standard, its type, diameter,
length, and for a clevis pin the way from below the head to the middle of the split pin's hole. What no table has is
named in plain words, for the lathe.

How long a pin must be, and which washers, shims and tubes lie on it, follows from the section through the stack
(`kinematics.stacking`). Where there is none, each link's plates and a washer on either side of each are added up.

*Spares* are of small parts a tenth more and two at least, of bushings a tenth and one at least (common practice, no
source).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from app.hardware import INCH, hardware
from kinematics.joints_made import joints_made
from kinematics.pin_lengths import Piece, pin_length, washer_at

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from kinematics.hardware import Hardware, PinSize
    from kinematics.joints_made import BushingMade, JointMade
    from kinematics.pin_lengths import PinLength
    from kinematics.project import Project
    from kinematics.stacking import PinStack

HINGES = 2
"""Where a project has no loads that say how many."""


@dataclass(frozen=True, slots=True)
class Bought:
    """A row.   used_for : pivots.   size : mm, or inches with their sign.   count : in all hinges, without spares."""

    item: str
    used_for: tuple[str, ...]
    designation: str
    size: str
    count: int
    spares: int


def bought(
    project: Project, tables: Hardware | None = None, pins: Mapping[str, PinStack] | None = None
) -> list[Bought]:
    """Every part that is bought, parts that are alike in one row.   pins : with what lies on them, where known."""
    tables, pins = tables or hardware(), pins or {}
    hinges = HINGES if project.loads is None else project.loads.hinges
    rows: list[Bought] = []
    for joint in joints_made(project, tables).values():
        stack = pins.get(joint.pivot)
        known = stack is not None and not stack.lone
        pieces = stack.pieces if stack is not None and known else plain_pieces(project, joint)
        length = stack.length if stack is not None and known else _length(project, joint, pieces, tables)
        rows += _of_joint(joint, (*pieces, *length.fill), length, hinges)
    return _together(rows)


def plain_pieces(project: Project, joint: JointMade) -> tuple[Piece, ...]:
    """What lies on a pin where no section through the stack is at hand: every plate, and a washer beside each."""
    pieces = [washer_at(0.0, joint)]
    for hole in joint.holes:
        thick = max(hole.thickness, 0.0 if hole.bushing is None else hole.bushing.length)
        for _ in range(project.plating.of(hole.link).count or 1):
            low = pieces[-1].high
            plate = Piece("plate", low, low + thick, thick, thick, hole.diameter, 0.0, hole.link)
            pieces += [plate, washer_at(plate.high, joint)]
    return tuple(pieces)


def _length(project: Project, joint: JointMade, pieces: Sequence[Piece], tables: Hardware) -> PinLength:
    return pin_length(pieces, joint, project.stacking.end_float, tables)


def _of_joint(joint: JointMade, pieces: Sequence[Piece], length: PinLength, hinges: int) -> Iterable[Bought]:
    here = (joint.pivot,)
    size = f"{mm_words(joint.pin.diameter)} x {mm_words(length.length)} mm, grip {mm_words(length.room)} mm"
    yield Bought(joint.pin.kind, here, pin_designation(joint, length), size, hinges, 0)
    yield from _ends(joint, hinges)
    for link, bushing in joint.bushings:
        count = hinges * max(1, sum(piece.kind == "plate" and piece.link == link for piece in pieces))
        yield Bought("bushing", here, bushing_designation(bushing), _bushing_size(bushing), count, spare(count, 1))
    for piece in pieces:
        if piece.kind in ("washer", "shim", "spacer") and piece.thickness > 0.0:
            yield _round(piece, joint, hinges)


# Pins ------------------------------------------------------------------------------------------------------------


def pin_designation(joint: JointMade, length: PinLength) -> str:
    """How the pin is ordered, or in plain words what is to be turned."""
    pin, size = joint.pin, joint.pin.size
    if size is None:
        return f"{pin.kind} {mm_words(pin.diameter)} x {mm_words(length.length)}, turned"
    long = _long(size, length.length)
    if pin.kind == "plain pin":
        grooves = "grooved at both ends" if not length.apart else f"grooves {_long(size, length.apart)} apart outside"
        return f"round {_size(size)} {size.zone} x {long} (ISO 286-2), {grooves}"
    if not length.stock:
        return f"{pin.kind} {_size(size)} x {long}, turned: no such length in {size.standard}"
    if pin.kind == "shoulder bolt":
        return f"{size.standard} - {_size(size)} x {long} - {size.thread}"
    if size.units == "in":
        return f"{size.standard} - clevis pin {_size(size)}"
    return f"{size.standard} - B - {_size(size)} x {long} x {mm_words(length.place)} - St"


def _ends(joint: JointMade, hinges: int) -> Iterable[Bought]:
    """Clips, rings or nuts."""
    pin, here = joint.pin, (joint.pivot,)
    if pin.kind == "plain pin":
        count, ring = 2 * hinges, pin.ring
        name = "ring to suit" if ring is None else f"{ring.source.partition(',')[0].partition(' (')[0]} - {ring.size:g}"
        kind, size = ("ring", "") if ring is None else (ring.kind, f"groove {mm_words(ring.groove)} mm")
        yield Bought(kind, here, name, size, count, spare(count, 2))
    elif pin.kind == "shoulder bolt":
        name = "nut to suit" if pin.size is None else f"self-locking nut {pin.size.thread}"
        yield Bought("nut", here, name, "", hinges, spare(hinges, 2))
    else:
        name = "split pin to suit" if pin.size is None else pin.size.clip
        yield Bought("split pin", here, name, "", hinges, spare(hinges, 2))


# Bushings, washers -----------------------------------------------------------------------------------------------


def bushing_designation(bushing: BushingMade) -> str:
    """How a bushing is ordered: its kind, standard, bore, outside, length."""
    size = bushing.size
    if size is None:
        return f"{bushing.kind} bushing {_bushing_size(bushing)}, turned"
    if size.units == "in":
        return f"{bushing.kind} bushing {' x '.join(_inch(mm) for mm in (size.bore, size.outside, bushing.length))} in"
    standard, letter = ("ISO 2795", "A") if bushing.kind == "sintered" else ("ISO 4379", "C")
    return f"{standard} - {letter} - {' x '.join(mm_words(mm) for mm in (size.bore, size.outside, bushing.length))}"


def _bushing_size(bushing: BushingMade) -> str:
    return f"{' x '.join(mm_words(mm) for mm in (bushing.nominal_bore, bushing.nominal_outside, bushing.length))} mm"


def _round(piece: Piece, joint: JointMade, hinges: int) -> Bought:
    """A washer, a shim or a tube."""
    here, row = (joint.pivot,), joint.washer.size
    size = f"{mm_words(piece.inside)} x {mm_words(piece.outside)} x {mm_words(piece.thickness)} mm"
    spares = 0 if piece.kind == "spacer" else spare(hinges, 2)
    if piece.kind == "washer" and row is not None:
        told = f"{_inch(row.size)} in" if row.units == "in" else f"{mm_words(row.size)} - 200 HV"
        return Bought("washer", here, f"{row.standard} - {told}", size, hinges, spares)
    if piece.kind == "shim" and piece.inside == joint.pin.diameter:
        return Bought("shim", here, f"DIN 988 - {size.removesuffix(' mm')}", size, hinges, spares)
    made = {"washer": "washer", "shim": "shim", "spacer": "tube"}[piece.kind]
    return Bought(piece.kind, here, f"{made} {size}", size, hinges, spares)


# ------------------------------------------------------------------------------------------------------------------


def spare(count: int, least: int) -> int:
    """How many to have besides: a tenth, and so many at least."""
    return max(least, ceil(0.1 * count))


def _together(rows: Iterable[Bought]) -> list[Bought]:
    """Rows of the same part as one; spares are reckoned of all of them."""
    found: dict[tuple[str, str, str], Bought] = {}
    for row in rows:
        key = (row.item, row.designation, row.size)
        had = found.get(key)
        if had is None:
            found[key] = row
            continue
        count, least = had.count + row.count, 0 if had.spares == 0 else 1 if row.item == "bushing" else 2
        found[key] = Bought(
            row.item,
            tuple(dict.fromkeys((*had.used_for, *row.used_for))),
            row.designation,
            row.size,
            count,
            spare(count, least) if least else 0,
        )
    order = {"clevis pin": 0, "shoulder bolt": 0, "plain pin": 0, "bushing": 2, "washer": 3, "shim": 4, "spacer": 5}
    return sorted(found.values(), key=lambda row: order.get(row.item, 1))


def _size(size: PinSize) -> str:
    return size.size if size.units == "mm" else f"{size.size} in"


def _long(size: PinSize, mm: float) -> str:
    return mm_words(mm) if size.units == "mm" else f"{_inch(mm)} in"


def mm_words(mm: float) -> str:
    """A length as it is ordered, mm."""
    return f"{round(mm, 2):g}"


def _inch(mm: float) -> str:
    return f"{round(mm / INCH, 4):g}"
