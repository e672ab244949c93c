"""A pivot's joint as it is made: its pin, what it turns in, and the hole that each plate gets for it.

One link of a joint *holds* the pin (`kinematics.bearing`): the link that is built of a pair of plates where the others
are single, else the fixed link or the panel, else the first that the pivot joins. Its plates get a *shank hole*. The
plates of the others turn on the pin: they get a *housing* for a bushing, or, where none is wanted, a running hole.

How a hole is finished depends on what goes into it. A *sintered* bushing is never reamed, as that smears its pores
shut: the plate is reamed, and the bushing pressed in on a fitting pin that sizes its bore. *Solid bronze* is reamed
once it sits, as pressing closes its bore. With *retaining compound* a bushing slips in and nothing closes.

What is to be reamed is *cut* smaller by a little: a cut edge is hard, rough and not quite round. Who has no reamer may
have holes cut *to size*, so large that the pin goes in however they turn out: loose, and too rough to press a bushing
in. Lengths mm. All sizes
come from the tables (`kinematics.hardware`); where they have none, the joint says so and goes on with plain figures.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from kinematics.bearing import holding
from kinematics.fits import Limits, fit
from kinematics.hardware import nearest
from kinematics.plating import sheet_of

if TYPE_CHECKING:
    from kinematics.build_parts import PinChoice
    from kinematics.fits import Fit
    from kinematics.hardware import BushingSize, Hardware, PinSize, RingSize, WasherSize
    from kinematics.project import Pivot, Project

SHANK_ZONE, CLOSE_ZONE = "H8", "H7"
"""Of holes that a pin goes into: with a shank to h11 or f9, and with one to f7 (common practice, no source)."""
Purpose = Literal["housing", "shank", "running"]
HEAD, HEAD_HEIGHT = 1.75, 0.4
"""Of a pin's diameter: a head's outside and height where no table has the pin (common practice, no source)."""
UNTABLED = 0.03
"""Mm that a reamed hole may be over its size where the tables don't reach."""
NEAR = 0.1
"""Mm by which a standard washer may differ from what is wanted, and be it still: 1.6 mm and 0.065 in."""
CLEARS = 0.4
"""Mm by which a washer is wider inside where no table has one, as ISO 7089's are for M8."""


@dataclass(frozen=True, slots=True)
class PinMade:
    """A pin.   size : its row; None where no table has it.   shank : its limits.

    head, height : outside diameter and height of its head (of the ring, where it has two of them).
    clip, clip_height : of what keeps it at its other end: outside diameter, and how far that stands out from the grip.
    ring : of a plain pin.   tail : from the grip's end to the pin's end at least.
    """

    kind: str
    diameter: float
    shank: Limits
    size: PinSize | None
    ring: RingSize | None
    head: float
    height: float
    clip: float
    clip_height: float
    tail: float

    @property
    def widest(self) -> float:
        """The larger of both ends' outside diameters."""
        return max(self.head, self.clip)


@dataclass(frozen=True, slots=True)
class BushingMade:
    """A bushing.   size : its row; None where no table has it.   length : the one that is taken.

    outside, bore : their limits, the bore's as it is in the end.   proud : by how much it is longer than its plate is
    thick; 0 where it isn't.   fixing : "press" or "bond".
    """

    kind: str
    size: BushingSize | None
    nominal_bore: float
    nominal_outside: float
    length: float
    proud: float
    outside: Limits
    bore: Limits
    fixing: str


@dataclass(frozen=True, slots=True)
class HoleMade:
    """The hole that each plate of a link gets for the pin.

    diameter : nominal.   finished : its limits.   cut_diameter : as it is cut from sheet.   zone : of its limits, or ""
    where they are no zone's.   reamed : whether a reamer finishes it once it is cut.   between : clearance (+) of what
    sits in it.   thickness : of the plate.
    """

    link: str
    purpose: Purpose
    diameter: float
    finished: Limits
    zone: str
    cut_diameter: float
    reamed: bool
    between: Fit
    thickness: float
    bushing: BushingMade | None = None


@dataclass(frozen=True, slots=True)
class WasherMade:
    """A washer between two moving faces.   size : its row; None where no table has it."""

    size: WasherSize | None
    inside: float
    outside: float
    thickness: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class JointMade:
    """All of a joint.   holder : the link that holds the pin.   holes : one for each link, as the pivot joins them."""

    pivot: str
    choice: PinChoice
    pin: PinMade
    holder: str
    holes: tuple[HoleMade, ...]
    washer: WasherMade
    running: Fit
    """Clearance of the pin in what turns on it."""

    def hole(self, link: str) -> HoleMade:
        """The hole of one of its links. Raises KeyError for a link that isn't on it."""
        found = next((hole for hole in self.holes if hole.link == link), None)
        if found is None:
            raise KeyError(link)
        return found

    @property
    def bushings(self) -> tuple[tuple[str, BushingMade], ...]:
        """Links with the bushing in each of their plates."""
        return tuple((hole.link, hole.bushing) for hole in self.holes if hole.bushing is not None)

    @property
    def widest(self) -> float:
        """The largest diameter of what lies on the pin: head, clip, washers, bushings."""
        housed = (bushing.nominal_outside for _, bushing in self.bushings)
        return max(self.pin.widest, self.washer.outside, *housed, self.pin.diameter)


def joints_made(project: Project, hardware: Hardware) -> dict[str, JointMade]:
    """The joint of every pivot, in the project's order."""
    return {pivot.id: joint_of(project, pivot.id, hardware) for pivot in project.pivots}


def joint_of(project: Project, pivot_id: str, hardware: Hardware) -> JointMade:
    """Make up the joint of a pivot from what the project's stack says of it.

    Raises ProjectError where there is no such pivot.
    """
    pivot = project.pivot(pivot_id)
    choice = choice_of(project, pivot.id)
    pin = pin_made(choice, hardware)
    holder = holder_of(project, pivot)
    holes = tuple(_hole(project, link, link == holder, choice, pin, hardware) for link in pivot.joins)
    turning = next((hole for hole in holes if hole.link != holder), holes[0])
    running = turning.between if turning.bushing is None else fit(turning.bushing.bore, pin.shank)
    washer = washer_made(pin.diameter, project.stacking.washer, hardware)
    return JointMade(pivot.id, choice, pin, holder, holes, washer, running)


def choice_of(project: Project, pivot: str | None = None) -> PinChoice:
    """What a pivot's pin is, with all that it has; of no pivot, what all pins are.

    What the stack says nothing of is as strength is reckoned with it, so that it is typed once.
    """
    stack = project.stacking
    return (stack if pivot is not None else replace(stack, pins=())).of(pivot or "all pins", project.strength)


def holder_of(project: Project, pivot: Pivot) -> str:
    """The link whose plates hold the pin."""
    strength = project.strength
    told = None if strength is None else strength.joint(pivot.id).outer_link
    counts = {link: sheet_of(project, link)[1] for link in pivot.joins}
    return holding(told, pivot.joins, counts, {link.id for link in project.links if link.kind != "link"})


# The pin ----------------------------------------------------------------------------------------------------------


def pin_made(choice: PinChoice, hardware: Hardware) -> PinMade:
    """The pin of a choice."""
    kind, diameter = choice.kind or "", choice.diameter or 0.0
    size = hardware.pin(kind, diameter)
    shank = _shank(diameter, size, hardware)
    if kind == "plain pin":
        return _ringed(kind, diameter, shank, size, hardware)
    head = HEAD * diameter if size is None or size.head is None else size.head
    height = HEAD_HEIGHT * diameter if size is None or size.height is None else size.height
    if kind == "shoulder bolt":
        nut, thread = _nut(diameter)
        tail = thread if size is None or size.threaded is None else size.threaded
        return PinMade(kind, diameter, shank, size, None, head, height, nut, max(thread, tail), tail)
    hole, end = _clevis_end(diameter, size)
    tail, clip = 0.5 * hole + end, max(head, diameter + 4.0 * hole)  # the split pin's legs, bent (common practice)
    return PinMade(kind, diameter, shank, size, None, head, height, clip, tail, tail)


def _shank(diameter: float, size: PinSize | None, hardware: Hardware) -> Limits:
    """What the tables say of a pin's diameter; of pins in no table, h11."""
    if size is not None and size.least is not None and size.most is not None:
        return Limits(size.least, size.most)
    zone = "h11" if size is None else size.zone
    return hardware.limits(diameter, zone) or Limits(diameter, diameter)


def _clevis_end(diameter: float, size: PinSize | None) -> tuple[float, float]:
    """The split pin's hole, and from its middle to the pin's end."""
    if size is None or size.hole_least is None or size.end is None:
        return 0.25 * diameter, 0.45 * diameter
    return size.hole_least, size.end


def _nut(diameter: float) -> tuple[float, float]:
    """Across the corners of the nut of a shoulder bolt, and its height: as of one thread smaller than the shoulder."""
    return 1.75 * diameter, 0.8 * diameter


def _ringed(kind: str, diameter: float, shank: Limits, size: PinSize | None, hardware: Hardware) -> PinMade:
    """A plain pin between two rings."""
    ring = next(iter(hardware.rings_for(diameter)), None)
    if ring is None:
        outside, out = HEAD * diameter, 0.25 * diameter
        return PinMade(kind, diameter, shank, size, None, outside, out, outside, out, out)
    out = ring.slot + ring.edge
    return PinMade(kind, diameter, shank, size, ring, ring.outside, out, ring.outside, out, out)


# The holes --------------------------------------------------------------------------------------------------------


def _hole(project: Project, link: str, holds: bool, choice: PinChoice, pin: PinMade, hardware: Hardware) -> HoleMade:
    """The hole of one link's plates."""
    thickness, _ = sheet_of(project, link)
    if holds or choice.bushing == "none":
        return _bare(
            link, "shank" if holds else "running", pin, thickness, to_size=choice.holes == "to size", hardware=hardware
        )
    return _housing(link, choice, pin, thickness, hardware)


def _bare(
    link: str, purpose: Purpose, pin: PinMade, thickness: float, *, to_size: bool, hardware: Hardware
) -> HoleMade:
    """A hole for the pin itself."""
    zone = CLOSE_ZONE if pin.kind == "plain pin" else SHANK_ZONE
    finished = hardware.limits(pin.diameter, zone)
    if to_size:
        zone, finished = "", as_cut(pin.diameter, hardware)
    elif finished is None:
        zone, finished = "", Limits(pin.diameter, pin.diameter + UNTABLED)
    cut = finished.middle if to_size else cut_under(pin.diameter, hardware)
    between = fit(finished, pin.shank)
    return HoleMade(link, purpose, pin.diameter, finished, zone, cut, not to_size, between, thickness)


def _housing(link: str, choice: PinChoice, pin: PinMade, thickness: float, hardware: Hardware) -> HoleMade:
    """A hole for a bushing, with it."""
    bushing = bushing_made(choice, pin.diameter, thickness, hardware)
    size = bushing.size
    zone = CLOSE_ZONE if size is None else size.housing_zone
    to_size = choice.holes == "to size"
    if to_size:
        zone, finished = "", as_cut(bushing.outside.most, hardware)
    elif bushing.fixing == "bond":
        zone, finished = "", bond_limits(bushing.outside, hardware)
    else:
        finished = hardware.limits(bushing.nominal_outside, zone) or bushing.outside
    nominal = bushing.nominal_outside if zone else finished.least
    cut = finished.middle if to_size else cut_under(nominal, hardware)
    between = fit(finished, bushing.outside)
    return HoleMade(link, "housing", nominal, finished, zone, cut, not to_size, between, thickness, bushing)


def as_cut(wanted: float, hardware: Hardware) -> Limits:
    """A hole that isn't finished once it is cut, and isn't smaller than this however it turns out."""
    return Limits(wanted, wanted + 2.0 * hardware.rule("cut_off"))


def bond_limits(outside: Limits, hardware: Hardware) -> Limits:
    """The hole into which a bushing slips with retaining compound round it, however large it came."""
    least, most = hardware.rule("bond_least"), hardware.rule("bond_most")
    return Limits(outside.most + least, max(outside.least + most, outside.most + least))


def cut_under(diameter: float, hardware: Hardware) -> float:
    """The diameter to cut where it is to be reamed to this one."""
    large = diameter > hardware.rule("large_hole")
    return diameter - hardware.rule("ream_under_large" if large else "ream_under")


def bushing_made(choice: PinChoice, diameter: float, thickness: float, hardware: Hardware) -> BushingMade:
    """The bushing of a choice in a plate: the longest that isn't longer than the plate is thick, else the shortest."""
    kind, fixing = choice.bushing or "", choice.fixing or "press"
    size = nearest(hardware.bushings_for(kind, diameter), choice.wall)
    if size is None:
        outside = diameter + 2.0 * (choice.wall or 0.25 * diameter)
        return BushingMade(
            kind, None, diameter, outside, thickness, 0.0, Limits(outside, outside), Limits(diameter, diameter), fixing
        )
    fitting = [length for length in size.lengths if length <= thickness + 1e-9]
    length = max(fitting) if fitting else min(size.lengths)
    outside_limits = hardware.limits(size.outside, size.outside_zone) or Limits(size.outside, size.outside)
    as_is = size.bore_zone if fixing == "bond" and kind == "sintered" else size.fitted_zone
    bore = hardware.limits(size.bore, as_is) or Limits(size.bore, size.bore)
    proud = max(0.0, length - thickness)
    return BushingMade(kind, size, size.bore, size.outside, length, proud, outside_limits, bore, fixing)


def washer_made(diameter: float, wanted: float, hardware: Hardware) -> WasherMade:
    """The washer between two moving faces: the standard one where it is as thick as is wanted, else one to be made."""
    rows = hardware.washers_for(diameter)
    if not rows:
        return WasherMade(None, diameter + CLEARS, 2.0 * diameter, wanted, wanted, wanted)
    row = min(rows, key=lambda each: abs(each.thickness - wanted))
    made = WasherMade(row, row.inside, row.outside, row.thickness, row.least, row.most)
    if abs(row.thickness - wanted) < NEAR:
        return made
    return replace(made, size=None, thickness=wanted, least=wanted, most=wanted)
