"""Devices as bodies: how thick and how long their parts are, and how those ride between the two ends.

Terms. A device's *line* runs from its first end to its second. It is not rigid, but its *pieces* are: each is a
straight band that keeps its length, turns with the line, and *rides* at a share of it (0 at the first end, 1 at the
second).

- Of a gas strut the tube rides on the first end and the rod on the second. The tube is as long as the strut pushed in,
  less the *eye* at the rod's end; the rod comes out of it as far as it is drawn. Diameters that nobody gave are those
  in common use for the force (`SIZES`; common practice, no source), as is the eye.
- A tension or compression spring fills the line with its coil's outside diameter. As it lengthens, pieces as long as
  it is at its shortest slide apart beneath each other, so many that they cover it at its longest.
- A torsion spring is a round of its coil's diameter about its first end.

What is watched for clearance leaves out the eyes at both ends, whose shape nobody knows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kinematics.parts import SPRINGS

if TYPE_CHECKING:
    from kinematics.parts import Device

SIZES = ((400.0, 15.0, 6.0), (750.0, 18.0, 8.0), (1200.0, 22.0, 10.0), (math.inf, 28.0, 14.0))
"""Up to which force (N) a strut has which tube and rod (mm): common practice, no source."""
COIL = 20.0
"""Outside diameter (mm) of a spring's coil of which nobody gave one (common practice, no source)."""
EYE = 20.0
"""Mm from a pin to where the tube, or the rod's thread, begins (common practice, no source) …"""
EYE_SHARE = 0.2
"""… but no more than this share of the strut pushed in."""
LEAST_SPAN = 1.0
"""Ends that come nearer than this (mm) have no line to speak of: no body is watched."""
MOST_PIECES = 8
"""A spring that lengthens more than so many times is watched where its pieces are."""


# ----------------------------------------------------------------------------------------------------- what it is like
def tube_of(device: Device) -> float:
    """Diameter (mm) of a gas strut's tube."""
    return device.tube if device.tube is not None else max(_usual(device)[0], 1.25 * (device.rod or 0.0))


def rod_of(device: Device) -> float:
    """Diameter (mm) of a gas strut's rod."""
    return device.rod if device.rod is not None else min(_usual(device)[1], 0.6 * (device.tube or math.inf))


def _usual(device: Device) -> tuple[float, float]:
    force = device.force or 0.0
    return next((tube, rod) for most, tube, rod in SIZES if force <= most)


def coil_of(device: Device) -> float:
    """Outside diameter (mm) of a spring's coil."""
    return COIL if device.coil is None else device.coil


def pushed_in(device: Device) -> float:
    """Length (mm) of a gas strut pushed in; 0 where the stroke leaves nothing."""
    return max((device.extended or 0.0) - (device.stroke or 0.0), 0.0)


def eye_of(device: Device) -> float:
    """How far (mm) a gas strut's tube, and what is thick of its rod's end, keep from the pins."""
    return min(EYE, EYE_SHARE * pushed_in(device))


def tube_end(device: Device) -> float:
    """How far (mm) from the first end a gas strut's tube reaches."""
    return pushed_in(device) - eye_of(device)


def rod_length(device: Device) -> float:
    """How far (mm) from the second end back a gas strut's rod reaches, into the tube."""
    return min((device.stroke or 0.0) + eye_of(device), pushed_in(device))


# -------------------------------------------------------------------------------------------------------------- pieces
@dataclass(frozen=True, slots=True)
class Piece:
    """A band that rides at a share of a device's line, from `start` to `end` (mm along the line from there)."""

    share: float
    start: float
    end: float
    radius: float


def pieces(device: Device, shortest: float, longest: float) -> tuple[Piece, ...]:
    """Give what is watched of a device whose ends come so near and so far (mm); none where it has no line."""
    if device.kind == "torsion spring":
        return (Piece(0.0, 0.0, 0.0, 0.5 * coil_of(device)),)
    if shortest < LEAST_SPAN:
        return ()
    if device.kind in SPRINGS:
        return _coil_pieces(device, shortest, longest)
    eye = eye_of(device)
    return (
        Piece(0.0, eye, tube_end(device), 0.5 * tube_of(device)),
        Piece(1.0, -rod_length(device), -eye, 0.5 * rod_of(device)),
    )


def _coil_pieces(device: Device, shortest: float, longest: float) -> tuple[Piece, ...]:
    eye = min(EYE, EYE_SHARE * shortest)
    least, most = shortest - 2.0 * eye, longest - 2.0 * eye
    count = min(max(math.ceil(most / least - 1e-9), 1), MOST_PIECES)
    shares = [0.5] if count == 1 else [k / (count - 1) for k in range(count)]
    return tuple(
        Piece(share, eye - 2.0 * share * eye - share * least, eye - 2.0 * share * eye + (1.0 - share) * least, radius)
        for share, radius in zip(shares, [0.5 * coil_of(device)] * count, strict=True)
    )
