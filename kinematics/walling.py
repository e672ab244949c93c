"""The plane of the wall on either side, and the wedge that makes a base true on it.

In the frame of one hand x and y are the sheet's, and z is square to the centreline, outboard, 0 at the centreline. The
wall's plane holds two lines that a builder can see: in plan, at one height, it runs off square by `off_deg`; in the
side view, at one distance from the centreline, it leans by `lean_deg`. With s = +1 where the pins lie at larger x:

    along = (−s·sin β, 0, cos β),   rise = (−s·sin λ, cos λ, 0),   out = the unit normal of both, to the pins.

`along` is level; `rise` is where a plane of links cuts the wall. They are square to each other only where β or λ is 0:
cos(angle) = sin β · sin λ. A base that is made square to its links meets the wall at the *bevel* B, the angle between
both planes about `rise`:

    tan B = tan β · cos λ          (v's part square to `rise`: cos β along z, sin β · cos λ away)

which is why a wall that leans wants less than its angle in plan. Derived here; tested against rotation matrices.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.faces import wall
from kinematics.rear_edge import side_ahead
from kinematics.wall_parts import HANDS

if TYPE_CHECKING:
    from kinematics.arrays import Floats
    from kinematics.faces import Face
    from kinematics.mount_parts import Base
    from kinematics.project import Project

FLAT = 1e-9
ON_FACE = 0.5
"""Mm by which points of an outline may lie off the face that is read off it."""
LIES = 75.0
"""Deg of lean from which on a wall lies rather than stands: seen from above it is off nothing then."""


@dataclass(frozen=True, slots=True, eq=False)
class WallPlane:
    """The wall of one hand, in that hand's frame.

    off_deg, lean_deg : as in `HandWall`; the lean as drawn where nobody typed one.   at : on the centreline, at the
    level line (3,).   along : level, outboard.   up : square to it in the wall, upward.   rise : as a plane of links
    cuts it.   out : unit normal, to the pins.   bevel_deg : signed as `off_deg`.   skew_deg : by how much `rise` is off
    square to `along`, within the wall: positive where it tilts outboard on its way up.
    """

    hand: str
    off_deg: float
    lean_deg: float
    at: Floats
    along: Floats
    up: Floats
    rise: Floats
    out: Floats
    bevel_deg: float
    skew_deg: float

    def seen(self, points: Floats) -> Floats:
        """Points of the hand's frame (n, 3) as (n, 3): along the wall from the centreline, up it from level, off it."""
        return (points - self.at) @ np.column_stack([self.along, self.up, self.out])

    def placed(self, seen: Floats) -> Floats:
        """The other way round: points of the hand's frame."""
        return self.at + seen @ np.vstack([self.along, self.up, self.out])

    def reaches(self, points: Floats, way: Floats, lift: float = 0.0) -> Floats:
        """How far points (n, 3) are from the wall, or from a plane `lift` mm off it to the pins, along a way (3,)."""
        return np.asarray(((self.at + lift * self.out - points) @ self.out) / (way @ self.out))

    def pierced(self, points: Floats, way: Floats, lift: float = 0.0) -> Floats:
        """Where lines through points (n, 3) along one way (3,) meet it, (n, 3)."""
        return np.asarray(points + self.reaches(points, way, lift)[:, None] * way)


def wall_plane(project: Project, base: Base, hand: str) -> WallPlane | None:
    """The wall's plane on one side; None without fixed pins, and where the wall lies rather than stands.

    It goes through the drawn face at the base's middle, which lies `from_centre` off the centreline.
    """
    face = wall(project, base)
    if face is None:
        return None
    said = project.walled.side(hand)
    lean = lean_of(face) if said.lean_deg is None else said.lean_deg
    if abs(lean) > LIES:
        return None
    side = 1.0 if face.out.real >= 0.0 else -1.0
    off_rad, lean_rad = math.radians(said.off_deg), math.radians(lean)
    along = np.array([-side * math.sin(off_rad), 0.0, math.cos(off_rad)])
    rise = np.array([-side * math.sin(lean_rad), math.cos(lean_rad), 0.0])
    out = np.cross(along, rise)
    out *= (1.0 if out[0] * side > 0.0 or abs(out[0]) < FLAT else -1.0) / np.linalg.norm(out)
    up = rise - (rise @ along) * along
    up /= np.linalg.norm(up)
    middle = np.array([face.at.real, face.at.imag, from_centre(project, hand) or 0.0])
    level = project.walled.level
    drop = level - middle[1]
    on_level = middle + rise * (drop / rise[1])
    at = on_level - along * (on_level[2] / along[2])
    bevel = math.degrees(math.atan(math.tan(off_rad) * math.cos(lean_rad)))
    skew = math.degrees(math.asin(float(rise @ along)))
    return WallPlane(hand, said.off_deg, lean, at, along, up, rise, out, bevel, skew)


def lean_of(face: Face) -> float:
    """How far a drawn face's top leans away from the pins, off plumb, deg from −90 to 90."""
    up = face.along if face.along.imag >= 0.0 else -face.along
    side = 1.0 if face.out.real >= 0.0 else -1.0
    return math.degrees(math.atan2(-side * up.real, up.imag))


def outboard_seen(project: Project, plane: WallPlane) -> int:
    """On which side outboard is for one who stands before the wall and looks at it: +1 to his right, −1 to his left.

    He faces against `out`, so his right is up × out. Where the pins are ahead of the wall he looks backwards, and the
    left hinge, told as seen by one who looks forwards, is to his right. A panel that stands upright counts as one whose
    front is to the right of the sheet.
    """
    pins = 1 if plane.out[0] >= 0.0 else -1
    ahead = side_ahead(project) or 1
    return pins * ahead * (1 if plane.hand == "left" else -1)


def from_centre(project: Project, hand: str) -> float | None:
    """From the centreline to a base's middle, mm: as typed, else half of the hinges' spacing; None: unknown."""
    typed = project.walled.side(hand).from_centre
    if typed is not None:
        return typed
    loads = project.loads
    return None if loads is None or loads.spacing is None else loads.spacing / 2.0


def edge_height(project: Project, base: Base) -> float | None:
    """How high the wall's upper edge lies over the level line, plumb: as typed, else where the drawn face ends.

    None where nobody typed it and the face isn't read off an outline.
    """
    typed = project.walled.edge
    face = wall(project, base)
    if typed is not None or face is None:
        return typed
    outline = next((each for each in project.outlines if each.id == face.outline), None)
    if outline is None:
        return None
    seen = [face.seen(complex(*point)) for point in outline.points]
    near = [abs(place.imag) <= outline.half_width + ON_FACE for place in seen]
    start = min(range(len(seen) - 1), key=lambda k: _beside(seen[k].real, seen[k + 1].real, near[k] and near[k + 1]))
    first = last = start
    while first > 0 and near[first - 1]:
        first -= 1
    while last + 1 < len(seen) and near[last + 1]:
        last += 1
    return max(y for _, y in outline.points[first : last + 1]) - project.walled.level


def _beside(one: float, other: float, lies: bool) -> float:
    """How far the face's place (0) lies beyond a stretch of an outline; without end where the stretch is off it."""
    return max(min(one, other), -max(one, other), 0.0) if lies else math.inf


@dataclass(frozen=True, slots=True)
class Wedge:
    """What is ground off the feet, or cut as a shim, for one hand.

    angle_deg : of the wedge, never negative.   depth : across, square to the links' planes.   slope : the same along
    the ground face.   rise : by how much one end is thicker.   thin, thick : of a shim; 0 and `rise` for feet.
    thick_end : "outboard", "inboard", or "" where the wall is square.   to_belt_deg : between the part and the belt of
    a grinder whose table is square to it.
    """

    hand: str
    trued: str
    angle_deg: float
    depth: float
    slope: float
    rise: float
    thin: float
    thick: float
    thick_end: str
    to_belt_deg: float


def wedge(project: Project, base: Base, hand: str) -> Wedge | None:
    """The wedge of one hand; None where there is no plane. t = depth · tan B, slope = depth / cos B.

    Both shims are as thick at their middles, so that the webs are the same: the thin end of the one that tapers less is
    thicker than was asked.
    """
    plane = wall_plane(project, base, hand)
    if plane is None:
        return None
    told = project.walled
    angle = abs(plane.bevel_deg)
    depth = depth_of(project, base)
    rise = depth * math.tan(math.radians(angle))
    thin = shim_middle(project, base) - 0.5 * rise if told.trued == "shim" else 0.0
    end = "" if angle < FLAT else "outboard" if plane.bevel_deg > 0.0 else "inboard"
    slope = depth / math.cos(math.radians(angle))
    return Wedge(hand, told.trued, angle, depth, slope, rise, thin, thin + rise, end, 90.0 - angle)


def depth_of(project: Project, base: Base) -> float:
    """Over what the wedge is measured, across: as typed, else a shim's plate, else the feet."""
    told = project.walled
    return told.depth or (base.width if told.trued == "shim" else feet_across(base))


def bevels_of(project: Project, base: Base) -> tuple[float, ...]:
    """The bevels of left and right (deg, signed); empty where the wall lies, or nobody knows where it is."""
    planes = [wall_plane(project, base, hand) for hand in HANDS]
    return tuple(plane.bevel_deg for plane in planes if plane is not None)


def is_ground(project: Project, base: Base) -> bool:
    """Whether the webs' feet are ground to a bevel on either side."""
    return project.walled.trued == "foot" and any(abs(bevel) > FLAT for bevel in bevels_of(project, base))


def shim_middle(project: Project, base: Base) -> float:
    """How thick the tapered shims are at their middles; 0 where there are none."""
    bevels = bevels_of(project, base)
    if project.walled.trued != "shim" or all(abs(bevel) < FLAT for bevel in bevels):
        return 0.0
    half = 0.5 * depth_of(project, base)
    return project.walled.shim_least + max(half * math.tan(math.radians(abs(bevel))) for bevel in bevels)


def feet_across(base: Base) -> float:
    """From one outer side of the webs to the other, mm."""
    return base.webs * base.web + (base.webs - 1) * base.apart
