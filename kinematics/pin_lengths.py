"""What lies on a pin between its plates, and how long the pin must be.

Terms. The *pieces* lie along the pin, each from one height to the next (mm). Between two plates stands a washer, for
their faces move on each other; where plates are further apart, a *spacer* (a tube) between two washers; what is left
over is made up by *shims*. A washer lies under the head, and one under the clip. The *grip* is what all pieces come to;
the *room* is what the pin leaves between its head and what keeps it at its other end: a split pin's hole, the end of
a shoulder, a ring in its groove. Room less grip is the *end float*, without which nothing turns.

A pin of a standard length is taken where there is one: the shortest that leaves room for the thickest stack that there
may be, as washers and plates differ from piece to piece. Washers and shims fill up what it is too long, fewer or more
of them as the stack comes out. Else a pin is made to length, once the stack is measured.

Sources: lengths and limits stand in the tables (`kinematics.hardware`), each row with its own. Float 0.1 to 0.3 mm,
washers under head and clip: common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.hardware import Hardware, PinSize
    from kinematics.joints_made import JointMade

LEAST_FLOAT, MOST_FLOAT = 0.1, 0.3
"""Mm of end float that is usual."""
TUBE = 3.0
"""Mm, the shortest tube that is worth cutting; washers and shims make up less."""
STEP = 0.1
"""Mm by which shims and tubes are chosen."""
NONE = 0.05
"""Less than this (mm) is left open."""
TUBE_OFF = 0.1
"""Mm (±) by which a tube may be off where the tables don't say (ISO 2768-m up to 6 mm)."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Something that lies round a pin.

    kind : "plate", "bushing", "washer", "spacer" or "shim".   low, high : its faces along the pin.   least, most : how
    thick it may be.   inside, outside : diameters; of a plate the hole's, and 0.   link : of plates and bushings.
    counts : whether it makes up the grip; of a plate and the bushing in it the longer one does.
    """

    kind: str
    low: float
    high: float
    least: float
    most: float
    inside: float
    outside: float
    link: str = ""
    counts: bool = True

    @property
    def thickness(self) -> float:
        """Mm along the pin."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class PinLength:
    """A pin's length and what follows from it; all mm, lengths and places from below the head (of a plain pin: end).

    length : of the pin; of a shoulder bolt, of its shoulder.   stock : whether it is a standard length.   place : of
    the split pin's hole (its middle), the shoulder's end, or the first groove's outer edge.   apart : between the
    grooves' outer edges, 0 where there are none.   room : between head and clip.   fill : washers, shims and a spacer
    that are added beneath the clip where all comes out nominal.   end_float : that is left then.   fill_least,
    fill_most : what it takes to the same float where the stack comes out thickest, and thinnest.   tight : whether it
    is too short for the thickest stack.
    """

    length: float
    stock: bool
    place: float
    apart: float
    room: float
    fill: tuple[Piece, ...]
    end_float: float
    fill_least: float
    fill_most: float
    tight: bool = False


def grip_of(pieces: Sequence[Piece]) -> tuple[float, float, float]:
    """What pieces come to along the pin: nominal, least and most (mm)."""
    counted = [piece for piece in pieces if piece.counts]
    return (
        math.fsum(piece.thickness for piece in counted),
        math.fsum(piece.least for piece in counted),
        math.fsum(piece.most for piece in counted),
    )


def washer_at(low: float, joint: JointMade) -> Piece:
    """The joint's washer from a height on."""
    washer = joint.washer
    return Piece("washer", low, low + washer.thickness, washer.least, washer.most, washer.inside, washer.outside)


def between(low: float, high: float, joint: JointMade, hardware: Hardware) -> tuple[Piece, ...]:
    """What fills the way from one plate to the next: a washer and what else it takes."""
    washer = washer_at(low, joint)
    rest = high - washer.high
    if rest < NONE:
        return (washer,)
    tube = rest - washer.thickness
    if tube >= TUBE:
        spacer = _spacer(washer.high, tube, joint, hardware)
        return (washer, spacer, washer_at(spacer.high, joint))
    return (washer, *_filled(washer.high, rest, joint, hardware))


def _filled(low: float, rest: float, joint: JointMade, hardware: Hardware) -> tuple[Piece, ...]:
    """Washers and shims that come to `rest` as nearly as they can, and no further; a tube where that is long."""
    pieces: list[Piece] = []
    washer = joint.washer
    if rest >= 2.0 * washer.thickness + TUBE:
        return (_spacer(low, math.floor(rest / STEP + 1e-6) * STEP, joint, hardware),)
    while rest >= washer.thickness - 1e-9 and washer.thickness > NONE:
        pieces.append(washer_at(low, joint))
        low, rest = pieces[-1].high, rest - washer.thickness
    rows = hardware.washers_for(joint.pin.diameter, "shim")
    if not rows and rest >= NONE:
        return (*pieces, replace(_spacer(low, rest, joint, hardware), kind="shim"))
    for row in reversed(rows):
        while rest >= row.thickness - 1e-9:
            pieces.append(Piece("shim", low, low + row.thickness, row.least, row.most, row.inside, row.outside))
            low, rest = pieces[-1].high, rest - row.thickness
    return tuple(pieces)


def _spacer(low: float, length: float, joint: JointMade, hardware: Hardware) -> Piece:
    """A tube of a length, as wide as the washers."""
    off = hardware.may_be_off(length) or TUBE_OFF
    return Piece("spacer", low, low + length, length - off, length + off, joint.washer.inside, joint.washer.outside)


def pin_length(pieces: Sequence[Piece], joint: JointMade, end_float: float, hardware: Hardware) -> PinLength:
    """The pin for what lies on it.   end_float : that is wanted."""
    grip, least, most = grip_of(pieces)
    top = max((piece.high for piece in pieces), default=0.0)
    if joint.pin.kind == "plain pin":
        return _between_rings(grip, joint, end_float)
    for thick in (most, grip):  # where none takes the thickest stack, one that takes it as drawn
        for length, place, room in _stock(joint):
            if room >= thick + min(LEAST_FLOAT, end_float) - 1e-9:
                fill = _filled(top, room - grip - end_float, joint, hardware) if room > grip + end_float + NONE else ()
                left = room - grip - grip_of(fill)[0]
                needs = [max(room - stack - left, 0.0) for stack in (most, least)]
                return PinLength(length, True, place, 0.0, room, fill, left, needs[0], needs[1], thick < most)
    room = grip + end_float
    place, length = _made(joint, room)
    return PinLength(length, False, place, 0.0, room, (), end_float, 0.0, 0.0)


def _stock(joint: JointMade) -> list[tuple[float, float, float]]:
    """Length, place and room of each standard length there is, shortest first."""
    size = joint.pin.size
    if size is None:
        return []
    if joint.pin.kind == "shoulder bolt":
        return [(length, length, length) for length in sorted(size.lengths)]
    hole, end = _hole(joint, size)
    if size.reach_least is not None and size.reach_most is not None:
        middle = 0.5 * (size.reach_least + size.reach_most)
        return [(size.reach_most + end, middle, size.reach_least - 0.5 * hole)]
    return [(length, length - end, length - end - 0.5 * hole) for length in sorted(size.lengths)]


def _hole(joint: JointMade, size: PinSize | None) -> tuple[float, float]:
    """A split pin's hole, and from its middle to the pin's end."""
    hole = size.hole_most if size is not None and size.hole_most is not None else 0.25 * joint.pin.diameter
    end = size.end if size is not None and size.end is not None else joint.pin.tail - hole
    return hole, end


def _made(joint: JointMade, room: float) -> tuple[float, float]:
    """Place and length of a pin that is made to leave a room."""
    if joint.pin.kind == "shoulder bolt":
        return room, room
    hole, end = _hole(joint, joint.pin.size)
    place = room + 0.5 * hole
    return place, math.ceil(place + end - 1e-9)


def _between_rings(grip: float, joint: JointMade, end_float: float) -> PinLength:
    """A plain pin: pushed outwards, each ring lies on its groove's outer edge, and that gives the room."""
    ring, room = joint.pin.ring, grip + end_float
    thick = ring.thickness if ring is not None else joint.pin.tail
    edge = ring.edge if ring is not None else 0.0
    apart = room + 2.0 * thick
    return PinLength(apart + 2.0 * edge, False, edge, apart, room, (), end_float, 0.0, 0.0)
