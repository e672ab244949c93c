"""What is bought for all hinges: pins, clips, rings, bushings, washers, with standard designations, counts and spares.

A *designation* is how a standard part is ordered, "ISO 2341 - B - 8 x 30 x 24 - St": the standard, its type, diameter,
length, and for a clevis pin the way from below the head to the middle of the split pin's hole. What no table has is
named in plain words, for the lathe.

How long a pin must be follows from its *grip*: all plates and washers between its ends. Where no section through the
stack is at hand, each link's plates and a washer on either side of each are added up (`plain_grip`). *Spares* are of
small parts a tenth more and two at least, of bushings a tenth and one at least (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from app.hardware import INCH, hardware
from kinematics.joints_made import joints_made

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kinematics.hardware import Hardware, PinSize
    from kinematics.joints_made import BushingMade, JointMade
    from kinematics.project import Project

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


def bought(project: Project, tables: Hardware | None = None, grips: Mapping[str, float] | None = None) -> list[Bought]:
    """Every part that is bought, parts that are alike in one row.   grips : of pins (mm), where they are known."""
    tables = tables or hardware()
    hinges = HINGES if project.loads is None else project.loads.hinges
    rows: list[Bought] = []
    for joint in joints_made(project, tables).values():
        grip = (grips or {}).get(joint.pivot, plain_grip(project, joint))
        rows += _of_joint(project, joint, grip, hinges)
    return _together(rows)


def plain_grip(project: Project, joint: JointMade) -> float:
    """Mm between a pin's ends: every plate with its bushing, a washer beside each, and the play along the pin."""
    counts = _counts(project, joint)
    plates = [
        (counts[hole.link], max(hole.thickness, 0.0 if hole.bushing is None else hole.bushing.length))
        for hole in joint.holes
    ]
    return (
        sum(count * thick for count, thick in plates)
        + _washers(project, joint) * joint.washer.thickness
        + project.stacking.end_float
    )


def _counts(project: Project, joint: JointMade) -> dict[str, int]:
    """How many plates each link has on the pin."""
    return {hole.link: project.plating.of(hole.link).count or 1 for hole in joint.holes}


def _washers(project: Project, joint: JointMade) -> int:
    """One between two plates, and one below head and clip."""
    return sum(_counts(project, joint).values()) + 1 if joint.washer.thickness > 0.0 else 0


def _of_joint(project: Project, joint: JointMade, grip: float, hinges: int) -> Iterable[Bought]:
    here, counts = (joint.pivot,), _counts(project, joint)
    yield _pin(joint, grip, hinges)
    yield from _ends(joint, hinges)
    for link, bushing in joint.bushings:
        count = counts[link] * hinges
        yield Bought("bushing", here, bushing_designation(bushing), _bushing_size(bushing), count, _spare(count, 1))
    count, washer = _washers(project, joint) * hinges, joint.washer
    if count:
        size = f"{_mm(washer.inside)} x {_mm(washer.outside)} x {_mm(washer.thickness)} mm"
        name = f"washer {size}" if washer.size is None else _washer_name(joint)
        yield Bought("washer", here, name, size, count, _spare(count, 2))


# Pins ------------------------------------------------------------------------------------------------------------


def pin_length(joint: JointMade, grip: float) -> float:
    """Mm from below the head (of a plain pin: in all): the shortest made that is long enough, else what it takes."""
    pin = joint.pin
    if pin.kind == "plain pin":
        return grip + 2.0 * pin.tail
    needed = grip if pin.kind == "shoulder bolt" else grip + pin.tail
    if pin.size is None:
        return needed
    lengths = [*pin.size.lengths, *_only_length(pin.size)]
    return next((length for length in lengths if length >= needed - 1e-6), needed)


def _only_length(size: PinSize) -> tuple[float, ...]:
    """Of a standard that has one length for each diameter: to the hole's middle at least, and to the end from there."""
    return () if size.reach_least is None or size.end is None else (size.reach_least + size.end,)


def pin_designation(joint: JointMade, grip: float) -> str:
    """How the pin is ordered, or in plain words what is to be turned."""
    pin, size, length = joint.pin, joint.pin.size, pin_length(joint, grip)
    if size is None:
        return f"{pin.kind} {_mm(pin.diameter)} x {_mm(length)}, turned"
    if pin.kind == "plain pin":
        return f"round {_size(size)} {size.zone} x {_long(size, length)} (ISO 286-2), grooved at both ends"
    if pin.kind == "shoulder bolt":
        return f"{size.standard} - {_size(size)} x {_long(size, length)} - {size.thread}"
    if size.units == "in":
        if length in _only_length(size):
            return f"{size.standard} - clevis pin {_size(size)}"
        return f"clevis pin {_size(size)} x {_long(size, length)}, turned: longer than {size.standard} has it"
    return f"{size.standard} - B - {_size(size)} x {_mm(length)} x {_mm(grip + _half(joint))} - St"


def _half(joint: JointMade) -> float:
    """From the grip's end to the middle of the split pin's hole."""
    size = joint.pin.size
    return 0.0 if size is None or size.hole_least is None else 0.5 * size.hole_least


def _pin(joint: JointMade, grip: float, hinges: int) -> Bought:
    size = f"{_mm(joint.pin.diameter)} x {_mm(pin_length(joint, grip))} mm, grip {_mm(grip)} mm"
    return Bought(joint.pin.kind, (joint.pivot,), pin_designation(joint, grip), size, hinges, 0)


def _ends(joint: JointMade, hinges: int) -> Iterable[Bought]:
    """Clips, rings or nuts."""
    pin, here = joint.pin, (joint.pivot,)
    if pin.kind == "plain pin":
        count, ring = 2 * hinges, pin.ring
        name = "ring to suit" if ring is None else f"{ring.source.partition(',')[0].partition(' (')[0]} - {ring.size:g}"
        kind, size = ("ring", "") if ring is None else (ring.kind, f"groove {_mm(ring.groove)} mm")
        yield Bought(kind, here, name, size, count, _spare(count, 2))
    elif pin.kind == "shoulder bolt":
        name = "nut to suit" if pin.size is None else f"self-locking nut {pin.size.thread}"
        yield Bought("nut", here, name, "", hinges, _spare(hinges, 2))
    else:
        name = "split pin to suit" if pin.size is None else pin.size.clip
        yield Bought("split pin", here, name, "", hinges, _spare(hinges, 2))


# Bushings, washers -----------------------------------------------------------------------------------------------


def bushing_designation(bushing: BushingMade) -> str:
    """How a bushing is ordered: its kind, standard, bore, outside, length."""
    size = bushing.size
    if size is None:
        return f"{bushing.kind} bushing {_bushing_size(bushing)}, turned"
    if size.units == "in":
        return f"{bushing.kind} bushing {' x '.join(_inch(mm) for mm in (size.bore, size.outside, bushing.length))} in"
    standard, letter = ("ISO 2795", "A") if bushing.kind == "sintered" else ("ISO 4379", "C")
    return f"{standard} - {letter} - {' x '.join(_mm(mm) for mm in (size.bore, size.outside, bushing.length))}"


def _bushing_size(bushing: BushingMade) -> str:
    return f"{' x '.join(_mm(mm) for mm in (bushing.nominal_bore, bushing.nominal_outside, bushing.length))} mm"


def _washer_name(joint: JointMade) -> str:
    row = joint.washer.size
    if row is None:
        return ""
    return (
        f"{row.standard} - {_inch(row.size)} in" if row.units == "in" else f"{row.standard} - {_mm(row.size)} - 200 HV"
    )


# ------------------------------------------------------------------------------------------------------------------


def _spare(count: int, least: int) -> int:
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
            _spare(count, least) if least else 0,
        )
    order = {"clevis pin": 0, "shoulder bolt": 0, "plain pin": 0, "bushing": 2, "washer": 3}
    return sorted(found.values(), key=lambda row: order.get(row.item, 1))


def _size(size: PinSize) -> str:
    return size.size if size.units == "mm" else f"{size.size} in"


def _long(size: PinSize, mm: float) -> str:
    return _mm(mm) if size.units == "mm" else f"{_inch(mm)} in"


def _mm(mm: float) -> str:
    return f"{round(mm, 2):g}"


def _inch(mm: float) -> str:
    return f"{round(mm / INCH, 4):g}"
