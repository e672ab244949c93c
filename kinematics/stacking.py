"""The stack: where every plate runs along the pins, and what lies on each pin between head and clip.

Terms. The *layers* (`kinematics.layering`) are counted from 1, the panel's middle being beneath the first. Each is as
thick as the thickest plate in it, with a bushing that stands proud of it; from one to the next is the thickness of a
washer. A plate lies at the lower face of its layer, its bushings standing proud of it by half on each side. Heights
are mm along the pins, from the lower face of layer 1.

Layers that somebody set by hand hold as they are; the others are found. What is wrong with them is a fault with names,
so that others can tell it in words. All of it is worked out when a pin is let go, never while it is dragged.
"""

from __future__ import annotations

from cmath import phase
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kinematics.bearing import Faces, bearing_of, heights_of
from kinematics.layering import Layering, is_turned, layered
from kinematics.mounting import base_made, bracket_made, standing
from kinematics.passing import layers_beyond, passing_of
from kinematics.pin_lengths import Piece, between, grip_of, pin_length, washer_at
from kinematics.plating import sheet_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kinematics.bearing import Bearing
    from kinematics.contours import Contour
    from kinematics.hardware import Hardware
    from kinematics.joints_made import HoleMade, JointMade
    from kinematics.layering import Passing, Through
    from kinematics.passing import Overlaps
    from kinematics.pin_lengths import PinLength
    from kinematics.project import Project
    from kinematics.results import LoadFigures
    from kinematics.sweep import Sweep

MEASURED = 0.05
"""Mm (±) of a thickness that was measured with a caliper (common practice, no source)."""
UNMEASURED = 0.06
"""Of its thickness (±) that a sheet may be off that nobody measured (common practice, no source)."""

NUT = 0.8
"""Height of a shoulder bolt's nut over the shoulder's diameter, as it is drawn (common practice, no source)."""
ROUNDS = 3
"""The layers are found anew, so many times at most, where pins turn out longer than was thought."""

Layers = dict[str, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class StackFault:
    """What is wrong with a stack.

    what : "meet" (two links in one layer), "shank" or "end" (of a pin, and the link it strikes), "pins" (two of them),
    "no way" (nothing passes), "not found" (nothing was found, and it isn't proven that nothing is there), "plates"
    (layers by hand don't fit the number of the link's plates), "shapeless" (of a link; `other` says why), "no
    length" (of a pin: no standard length reaches), "tight" (of a pin: the longest doesn't take the thickest stack).
    deg : opening where it was seen first, None where there is none.
    """

    what: str
    name: str = ""
    other: str = ""
    deg: float | None = None

    @property
    def breaks(self) -> bool:
        """Whether the hinge can't be built so; the others are cautions."""
        return self.what not in {"no length", "tight"}


@dataclass(frozen=True, slots=True)
class PinStack:
    """A pin with all that lies on it.

    pieces : from the head on, bushings after the plate that they sit in.   grip, least, most : mm of all of them but
    the shims that the pin's length wants.   length : the pin's.   head, clip : (low, high, diameter) of its ends.
    shank : (low, high) of it.   turned : whether the head is above.
    """

    pivot: str
    joint: JointMade
    pieces: tuple[Piece, ...]
    grip: float
    least: float
    most: float
    length: PinLength
    bearing: Bearing | None
    turned: bool = False

    def _from_head(self, start: float, end: float) -> tuple[float, float]:
        """Heights of what lies so far below the head."""
        if self.turned:
            return (self.pieces[0].high - end, self.pieces[0].high - start)
        return (self.pieces[0].low + start, self.pieces[0].low + end)

    @property
    def all_pieces(self) -> tuple[Piece, ...]:
        """The pieces, with those that fill up what the pin is too long."""
        return self.pieces + self.length.fill

    @property
    def head(self) -> tuple[float, float, float]:
        """The head, or the first ring."""
        pin = self.joint.pin
        thick = pin.ring.thickness if pin.ring is not None else pin.height
        return (*self._from_head(-thick, 0.0), pin.head)

    @property
    def clip(self) -> tuple[float, float, float]:
        """What keeps its other end: of a split pin no more than its hole."""
        pin, room = self.joint.pin, self.length.room
        thick = pin.ring.thickness if pin.ring is not None else pin.clip_height
        if pin.kind == "clevis pin":
            thick = 2.0 * (self.length.place - room)
        elif pin.kind == "shoulder bolt":
            thick = min(thick, NUT * pin.diameter)
        return (*self._from_head(room, room + thick), pin.clip)

    @property
    def shank(self) -> tuple[float, float]:
        """The pin itself, without its head."""
        pin = self.joint.pin
        if pin.kind == "plain pin":
            start = -self.length.place - (pin.ring.thickness if pin.ring is not None else pin.tail)
            return self._from_head(start, start + self.length.length)
        return self._from_head(0.0, self.length.length + (pin.tail if pin.kind == "shoulder bolt" else 0.0))

    @property
    def reaches(self) -> tuple[float, float]:
        """How far head and clip (or the shank's end) reach beyond the plates, mm."""
        ends = (self.head[:2], self.clip[:2], self.shank)
        on = [piece for piece in self.pieces if piece.kind in {"plate", "bushing"}]
        below = min(piece.low for piece in on) - min(low for low, _ in ends)
        above = max(high for _, high in ends) - max(piece.high for piece in on)
        return (above, below) if self.turned else (below, above)

    @property
    def lone(self) -> bool:
        """Whether only one link's plates are on it."""
        return len({piece.link for piece in self.pieces if piece.kind == "plate"}) < 2


@dataclass(frozen=True, slots=True, eq=False)
class StackMade:
    """Where all plates run, and all pins.

    layers : of each link that has plates.   by_hand : links whose layers somebody set.   count : of layers.   fewest :
    whether fewer were proven not to do (of layers that were found).   heights : (low, high) of each layer.
    """

    layers: Layers
    by_hand: tuple[str, ...]
    count: int
    fewest: bool
    heights: tuple[tuple[float, float], ...]
    pins: tuple[PinStack, ...]
    faults: tuple[StackFault, ...]
    overlaps: Overlaps

    def pin(self, pivot: str) -> PinStack | None:
        """The pin of a pivot; None where no plate is on it."""
        return next((pin for pin in self.pins if pin.pivot == pivot), None)

    @property
    def thick(self) -> float:
        """Mm from the lowest plate's face to the highest's."""
        return self.heights[-1][1] if self.heights else 0.0


def stack_of(
    project: Project,
    sweep: Sweep,
    joints: Mapping[str, JointMade],
    hardware: Hardware,
    loads: LoadFigures | None = None,
) -> StackMade:
    """The stack of a hinge.   joints : by pivot (`joints_made`).   loads : for the least bent pins."""
    overlaps = passing_of(project, sweep, joints, loads, webs_of(project, hardware))
    hand, unfit = _by_hand(project, overlaps.passing.plates)
    for _ in range(ROUNDS):
        made = _made(project, overlaps, hand, joints, hardware)
        longer = _longer(project, overlaps.passing, made.pins)
        if longer == overlaps.passing:
            break
        overlaps = replace(overlaps, passing=longer)
    shapeless = tuple(StackFault("shapeless", link, why) for link, why in overlaps.shapeless)
    return replace(made, faults=(*shapeless, *unfit, *made.faults))


def _made(
    project: Project, overlaps: Overlaps, hand: Layers, joints: Mapping[str, JointMade], hardware: Hardware
) -> StackMade:
    """The stack where pins reach as far beyond their plates as is known so far."""
    passing = overlaps.passing
    found = layered(passing)
    layers = dict(found.layers if isinstance(found, Layering) else found.nearest) | hand
    faults = []
    if not isinstance(found, Layering) and not hand:
        faults.append(StackFault("no way" if found.proven else "not found"))
    faults += [_fault(each, overlaps) for each in passing.faults(layers)]
    heights = _heights(project, layers, joints)
    pins = tuple(_pin(project, joints, layers, heights, each, hardware) for each in passing.pins)
    faults += [fault for pin in pins for fault in _pin_faults(pin)]
    fewest = isinstance(found, Layering) and found.fewest and not hand
    return StackMade(layers, tuple(hand), len(heights), fewest, heights, pins, tuple(faults), overlaps)


def _longer(project: Project, passing: Passing, pins: Sequence[PinStack]) -> Passing:
    """The same where pins turned out to reach further beyond their plates."""
    thin = min((sheet_of(project, name)[0] for name in passing.plates), default=1.0)
    through = []
    for each, pin in zip(passing.pins, pins, strict=True):
        head, clip = (layers_beyond(reach, thin, pin.joint.washer.thickness) for reach in pin.reaches)
        head, clip = max(head, each.head_layers), max(clip, each.clip_layers)
        through.append(replace(each, head_layers=head, clip_layers=clip))
    return replace(passing, pins=tuple(through))


def webs_of(project: Project, hardware: Hardware) -> dict[str, Contour]:
    """The webs of base and bracket where somebody said what holds the hinge, in the side view, shut."""
    mount, found = project.mounted, {}
    base = None if mount.base is None else base_made(project, mount.base, hardware)
    if base is not None and base.web is not None:
        found[project.fixed.id] = base.web.moved(phase(base.seat.along), base.seat.at)
    bracket = None if mount.bracket is None else bracket_made(project, mount.bracket, hardware)
    if bracket is not None and (stands := standing(bracket)) is not None:
        found[project.panel.id] = stands.moved(phase(bracket.seat.along), bracket.seat.at)
    return found


def _by_hand(project: Project, plates: Mapping[str, int]) -> tuple[Layers, list[StackFault]]:
    """Layers that were set by hand, and faults of those that fit no link's plates."""
    hand, unfit = {}, []
    for choice in project.stacking.layers:
        if choice.link not in plates:
            continue
        if len(choice.layers) == plates[choice.link]:
            hand[choice.link] = choice.layers
        else:
            unfit.append(StackFault("plates", choice.link, str(len(choice.layers))))
    return hand, unfit


def _fault(each: tuple[str, str, str], overlaps: Overlaps) -> StackFault:
    what, name, other = each
    seen = overlaps.seen_deg
    return StackFault(what, name, other, seen.get(each, seen.get((what, other, name))))


def _pin_faults(pin: PinStack) -> list[StackFault]:
    """What is to be watched on a pin."""
    if not pin.length.stock and pin.joint.pin.kind != "plain pin":
        return [StackFault("no length", pin.pivot)]
    return [StackFault("tight", pin.pivot)] if pin.length.tight else []


def _proud(joints: Mapping[str, JointMade]) -> dict[str, float]:
    """Mm by which the longest bushing of each link stands proud of its plates, where it has bushings."""
    found: dict[str, float] = {}
    for joint in joints.values():
        for link, bushing in joint.bushings:
            found[link] = max(found.get(link, 0.0), bushing.proud)
    return found


def _heights(
    project: Project, layers: Mapping[str, tuple[int, ...]], joints: Mapping[str, JointMade]
) -> tuple[tuple[float, float], ...]:
    """(low, high) of each layer; one that is left empty is as thick as the thinnest plate."""
    proud = _proud(joints)
    thick = {link: sheet_of(project, link)[0] + proud.get(link, 0.0) for link in layers}
    washer = max((joint.washer.thickness for joint in joints.values()), default=project.stacking.washer)
    return heights_of(thick, layers, washer)


# A pin -------------------------------------------------------------------------------------------------------------


def _pin(
    project: Project,
    joints: Mapping[str, JointMade],
    layers: Mapping[str, tuple[int, ...]],
    heights: tuple[tuple[float, float], ...],
    through: Through,
    hardware: Hardware,
) -> PinStack:
    """All that lies on one pin. One that is turned is made head down, and then turned over."""
    joint, proud = joints[through.pin], _proud(joints)
    turned = is_turned(through, layers)
    on = [(layer, hole) for hole in joint.holes for layer in layers.get(hole.link, ())]
    on.sort(key=lambda each: each[0])
    plates = [_plate(project, hole, heights[layer - 1][0] + 0.5 * proud.get(hole.link, 0.0)) for layer, hole in on]
    if turned:
        plates = [tuple(map(_over, bushed)) for bushed in reversed(plates)]
    pieces: list[Piece] = []
    top = min(piece.low for piece in plates[0]) - joint.washer.thickness
    for bushed in plates:
        pieces += between(top, min(piece.low for piece in bushed), joint, hardware)
        pieces += bushed
        top = max(piece.high for piece in bushed)
    pieces.append(washer_at(top, joint))
    grip, least, most = grip_of(pieces)
    length = pin_length(pieces, joint, project.stacking.end_float, hardware)
    faces = [Faces(plate.link, plate.low, plate.high) for plate, *_ in plates]
    bearing = bearing_of(faces, joint.holder)
    if turned:
        pieces, length = [_over(piece) for piece in pieces], replace(length, fill=tuple(map(_over, length.fill)))
    return PinStack(joint.pivot, joint, tuple(pieces), grip, least, most, length, bearing, turned)


def _over(piece: Piece) -> Piece:
    """A piece turned over."""
    return replace(piece, low=-piece.high, high=-piece.low)


def _plate(project: Project, hole: HoleMade, low: float) -> tuple[Piece, ...]:
    """A plate as a piece, and the bushing in it; of a bushing that stands proud it counts how long that is."""
    thick = sheet_of(project, hole.link)[0]
    own = next((plate.thickness for plate in project.plating.each if plate.link == hole.link), None)
    measured = own is not None or project.plating.thickness is not None
    off = MEASURED if measured else UNMEASURED * thick
    bushing = hole.bushing
    proud = bushing is not None and bushing.proud > 0.0
    plate = Piece("plate", low, low + thick, thick - off, thick + off, hole.diameter, 0.0, hole.link, counts=not proud)
    if bushing is None:
        return (plate,)
    long = bushing.length
    inset = 0.5 * (thick - long)
    inside, outside = bushing.nominal_bore, bushing.nominal_outside
    held = Piece("bushing", low + inset, low + inset + long, long, long, inside, outside, hole.link, counts=proud)
    return (plate, held)
