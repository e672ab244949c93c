"""Where each hinge's holes come on the wall, left and right, measured so that a builder can mark them.

A *spot* is the middle of a hole, a slot or the base itself. It is told in two ways that must never be confused:
*along* the wall from the centreline, as a tape on the wall reads, and *square* to the centreline, as a tape held
across the body reads; along = square / cos(off) at one height. Its *height* is plumb over the level line, its *up* is
the same along the wall, which is longer where the wall leans. *Diagonals* between spots check the marking.

A base whose feet are ground lies with its plate on the wall, so its bolts go square into the wall. A base on a tapered
shim stays square to its links: its bolts go in along them, and meet the wall off the plate's own pattern.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from kinematics.mounting import base_made
from kinematics.walling import from_centre, outboard_seen, wall_plane

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.hardware import Hardware
    from kinematics.mounting import BaseMade
    from kinematics.project import Project
    from kinematics.walling import WallPlane

MIDDLE = "middle"


@dataclass(frozen=True, slots=True)
class Spot:
    """A place to mark.   name : "middle", or the bolt's number in the order of drilling.

    along : on the wall from the centreline.   square : square to the centreline.   up : on the wall from the level
    line.   height : plumb over it.   All mm; where nobody knows how far the hinge is off the centreline, `along` and
    `square` count from the base's middle (`SetOut.from_middle`).
    """

    name: str
    along: float
    square: float
    up: float
    height: float


@dataclass(frozen=True, slots=True)
class Diagonal:
    """The distance between two spots, on the wall."""

    one: str
    other: str
    length: float


@dataclass(frozen=True, slots=True, eq=False)
class SetOut:
    """The wall's side of one hinge.

    plane : of the wall.   middle : where the base's middle goes.   bolts : in the order of drilling: first one, then
    the farthest from it, then the others, so that the plate can be pinned by two bolts and serve as its own jig.
    diagonals : between the corners and from the middle.   rise : the line of the links' plane on the wall: its unit
    way (along, up).   from_middle : whether along and square count from the middle, as nobody said where that is.
    outboard : +1 where outboard is to the right of one who faces the wall, −1 where it is to his left.   plate : the
    base plate's corners as they come to lie on the wall, (along, up) each, one round it.
    """

    hand: str
    plane: WallPlane
    base: BaseMade
    middle: Spot
    bolts: tuple[Spot, ...]
    diagonals: tuple[Diagonal, ...]
    rise: tuple[float, float]
    from_middle: bool
    outboard: int
    plate: tuple[tuple[float, float], ...]

    def taped(self, spot: Spot) -> float:
        """What a tape reads that is held level on the wall from the centreline to a spot: square / cos(off).

        On a wall that is off square and leans as well, the centreline runs aslant up it, as `rise` does, so that this
        isn't `along`, which counts from where the centreline crosses the level line.
        """
        return spot.along - spot.up * self.rise[0] / self.rise[1]


def set_out(project: Project, hardware: Hardware, hand: str) -> SetOut | None:
    """Set out the base of one hand; None where no base is laid out, or its wall lies.

    Heights are those with shims as they stand and each slot at its middle's setting.
    """
    part = project.mounted.base
    plane = None if part is None else wall_plane(project, part, hand)
    made = None if part is None or plane is None else base_made(project, part, hardware)
    if made is None or plane is None:
        return None
    half = complex(0.5 * made.part.width, 0.5 * made.height)
    corners = (-half, half.conjugate(), half, -half.conjugate())
    places = on_wall(project, made, plane, hand, np.array([0j, *made.bolts, *corners]))
    bolts, plate = places[1 : 1 + len(made.bolts)], places[1 + len(made.bolts) :]
    spots = _spots(plane, np.vstack([places[:1], bolts[drilling_order(bolts)]]))
    diagonals = _diagonals(spots)
    rise = float(plane.rise @ plane.along), float(plane.rise @ plane.up)
    unknown = from_centre(project, hand) is None
    edge = tuple((float(along), float(up)) for along, up, _ in plane.seen(plate))
    side = outboard_seen(project, plane)
    return SetOut(hand, plane, made, spots[0], spots[1:], diagonals, rise, unknown, side, edge)


def on_wall(project: Project, made: BaseMade, plane: WallPlane, hand: str, places: Complexes) -> Floats:
    """Places of the base plate on the wall, in the hand's frame (n, 3).

    places : (n,) across + i·along, mm from the plate's middle, as `BaseMade.bolts`. The way there is affine.
    """
    foot = made.seat.drawn(complex(0.5 * (made.foot[0] + made.foot[1]), 0.0))
    seat = np.array([[foot.real, foot.imag, from_centre(project, hand) or 0.0]])
    outward = np.array([made.seat.out.real, made.seat.out.imag, 0.0])
    across, along = places.real[:, None], places.imag[:, None]
    if project.walled.trued == "shim":
        face_up = np.array([made.seat.along.real, made.seat.along.imag, 0.0])
        return plane.pierced(seat + across * np.array([0.0, 0.0, 1.0]) + along * face_up, outward)
    lift = made.part.plate + made.part.shims
    middle = plane.pierced(seat, outward, lift)[0] - lift * plane.out
    sideways = np.cross(plane.out, plane.rise)
    sideways *= math.copysign(1.0, sideways[2])
    upward = math.copysign(1.0, made.seat.along.imag) if abs(made.seat.along.imag) > 0.0 else 1.0
    places_3d: Floats = middle + across * sideways + upward * along * plane.rise
    return places_3d


def _spots(plane: WallPlane, points: Floats) -> tuple[Spot, ...]:
    """Points on the wall as spots, the first one being the middle."""
    seen = plane.seen(points)
    names = [MIDDLE, *(str(number) for number in range(1, len(points)))]
    heights = points[:, 1] - plane.at[1]
    return tuple(
        Spot(name, float(at[0]), float(point[2]), float(at[1]), float(height))
        for name, at, point, height in zip(names, seen, points, heights, strict=True)
    )


def drilling_order(places: Floats) -> list[int]:
    """In which order holes (n, 2 or 3) are drilled: the first, the farthest from it, then each farthest from those."""
    left = list(range(1, len(places)))
    order = [0]
    while left:
        gaps = [min(float(np.linalg.norm(places[each] - places[done])) for done in order) for each in left]
        order.append(left.pop(int(np.argmax(np.round(gaps, 6)))))
    return order


def _diagonals(spots: tuple[Spot, ...]) -> tuple[Diagonal, ...]:
    """From spot to spot among the four outermost bolts, longest first."""
    bolts = spots[1:]
    at = {spot.name: np.array([spot.along, spot.up]) for spot in bolts}
    corners = sorted({_outermost(bolts, a, b) for a in (-1, 1) for b in (-1, 1)}) if bolts else []
    pairs = [(a, b, float(np.linalg.norm(at[a] - at[b]))) for a, b in combinations(corners, 2)]
    return tuple(Diagonal(*pair) for pair in sorted(pairs, key=lambda pair: -pair[2]))


def _outermost(bolts: tuple[Spot, ...], along: int, up: int) -> str:
    """The name of the bolt farthest towards one corner."""
    return max(bolts, key=lambda spot: round(along * spot.along + up * spot.up, 6)).name
