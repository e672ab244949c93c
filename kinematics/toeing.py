"""Toe: two hinges that aren't parallel, on one stiff panel, and how far they let it open.

Terms. *Toe* is the angle by which a hinge's plane is turned about the line in which it cuts the wall, off the plane
along the centreline; positive where it opens outboard on the way ahead, as on a wall that falls away outboard. It is
what a bevel takes off, and what an error in grinding leaves. Two hinges with toe are bolted up shut, where nothing
forces them; as the panel opens, each wants to carry it in its own plane. What one wants and the other doesn't, the play
of all pins must give: across the pin by `play`, at either end of its bearing, and along it by `end_float`. The *share*
of the play that it takes grows with toe and with the opening. Where it comes to 1, the pair *binds*: from there on
something bends, wears or breaks loose.

Model. Bodies are rigid. Each hinge carries a body of its own exactly, by D = R M R⁻¹ (M its motion in its plane, R the
toe about the foot of its base); log(D · D₀⁻¹) is by how much that differs from where the panel is without toe. The
panel's place, all links' small moves, and the least share s with which all joints' bounds hold, come from a linear
programme, with polygons about the circles of play as in `kinematics.sideways`. Moves beyond the play are only told as a
share; they are no forces. Bending of panel and mounts isn't in it, and lets a pair go on that is told to bind here.
Source: screw displacements, any text on rigid-body kinematics (from memory); the rest derives.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.faces import wall
from kinematics.joints_made import joint_of
from kinematics.rear_edge import side_ahead
from kinematics.toe_share import JointPlay, Station, least_share
from kinematics.walling import from_centre, wall_plane

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.hardware import Hardware
    from kinematics.mount_parts import Base
    from kinematics.project import Project

TRIED_DEG = 0.1
"""Toe at which the share per degree is worked out; it is even in toe as long as toe is small."""
OPENINGS = 8
"""Openings looked at over the travel; between two of them the binding one is found by halving."""
HALVINGS = 7
PLAIN_PLAY = 0.05
"""Mm of play where neither the project nor the tables say any."""


@dataclass(frozen=True, slots=True)
class Toe:
    """How a pair with toe opens.

    toe_deg : of left and right hinge.   degs, shares : openings, and the share of all play that each takes.
    binds_deg : the opening at which it comes to 1; None: at none, up to the opening reached.
    most_deg : toe, either side alike, that just doesn't bind up to there; None: any does no harm.
    """

    toe_deg: tuple[float, float]
    degs: tuple[float, ...]
    shares: tuple[float, ...]
    binds_deg: float | None
    most_deg: float | None


def plays_of(project: Project, hardware: Hardware) -> dict[str, JointPlay]:
    """What each pivot's joint gives: the play that the project says, else the middle of its fit."""
    said = 0.0 if project.sureness is None else project.sureness.play
    found = {}
    for pivot in project.pivots:
        made = joint_of(project, pivot.id, hardware)
        turning = next((hole for hole in made.holes if hole.link != made.holder), made.holes[0])
        length = turning.bushing.length if turning.bushing is not None else turning.thickness
        fitted = 0.5 * (made.running.least + made.running.most)
        play = said or (fitted if fitted > 0.0 else PLAIN_PLAY)
        found[pivot.id] = JointPlay(play, length, project.stacking.end_float)
    return found


def toe_without(project: Project, base: Base) -> tuple[float, float] | None:
    """The toe of left and right hinge (deg) where nothing trues them: the wall's bevel. None where it lies."""
    planes = [wall_plane(project, base, hand) for hand in ("left", "right")]
    if planes[0] is None or planes[1] is None:
        return None
    return planes[0].bevel_deg, planes[1].bevel_deg


def toe(analysis: Analysis, base: Base, toe_deg: tuple[float, float], plays: Mapping[str, JointPlay]) -> Toe | None:
    """How far a pair of hinges with toe (left, right, deg) opens before its play is used up.

    None where the panel doesn't move as one, there aren't two hinges, or nobody says how far they are apart.
    """
    share = _shares(analysis, base, plays)
    if share is None:
        return None
    degs = _openings(analysis)
    shares = (0.0, *(share(deg, *toe_deg) for deg in degs[1:]))
    most = _most(share, degs)
    return Toe(toe_deg, degs, shares, _binds(degs, shares, lambda deg: share(deg, *toe_deg)), most)


def most_toe(analysis: Analysis, base: Base, plays: Mapping[str, JointPlay]) -> float | None:
    """`Toe.most_deg` alone, in a third of the time; None as well where there is no toe to tell."""
    share = _shares(analysis, base, plays)
    return None if share is None else _most(share, _openings(analysis))


def _shares(
    analysis: Analysis, base: Base, plays: Mapping[str, JointPlay]
) -> Callable[[float, float, float], float] | None:
    """The share that an opening takes with toe of left and right, all deg; None where there is no pair to ask."""
    project, loads = analysis.project, analysis.project.loads
    sides = [from_centre(project, hand) for hand in ("left", "right")]
    lacking = wall(project, base) is None or None in sides or analysis.opening.reached_deg <= 0.0
    if lacking or analysis.mobility != 1 or (loads and loads.hinges < 2):
        return None

    def share(deg: float, left: float, right: float) -> float:
        stations = stations_of(project, base, (left, right))
        return least_share(analysis, analysis.pose(deg), stations, plays)

    return share


def _openings(analysis: Analysis) -> tuple[float, ...]:
    """Those looked at, shut first."""
    return tuple(analysis.opening.reached_deg * k / OPENINGS for k in range(OPENINGS + 1))


def _most(share: Callable[[float, float, float], float], degs: tuple[float, ...]) -> float | None:
    """Toe, either side alike, that just doesn't bind at any of these openings; None: any does no harm."""
    tried = max(share(deg, TRIED_DEG, TRIED_DEG) for deg in degs[1:])
    return TRIED_DEG / tried if tried > 1e-9 else None


def _binds(degs: tuple[float, ...], shares: tuple[float, ...], share: Callable[[float], float]) -> float | None:
    """The opening at which the share first comes to 1, by halving between two of those looked at."""
    over = next((place for place, each in enumerate(shares) if each > 1.0), None)
    if over is None:
        return None
    low, high = degs[over - 1], degs[over]
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if share(middle) > 1.0 else (middle, high)
    return low


def stations_of(project: Project, base: Base, toe_deg: tuple[float, float]) -> tuple[Station, Station]:
    """Both hinges in one frame: the sheet's, with z to whoever looks at it, 0 at the centreline."""
    face = wall(project, base)
    assert face is not None
    near = "left" if side_ahead(project) < 0 else "right"  # the hand that is nearer to whoever looks at the sheet
    foot = np.array([face.at.real, face.at.imag, 0.0])
    found = []
    for hand, deg in zip(("left", "right"), toe_deg, strict=True):
        sign = 1.0 if hand == near else -1.0
        plane = wall_plane(project, base, hand)
        rise = np.array([face.along.real, face.along.imag, 0.0]) if plane is None else plane.rise
        outward = np.array([face.out.real, face.out.imag, 0.0])
        turn = _turned(rise, outward, deg)
        flip = np.diag([1.0, 1.0, sign])
        z = sign * (from_centre(project, hand) or 0.0)
        found.append(Station(z, foot + np.array([0.0, 0.0, z]), flip @ turn @ flip))
    return found[0], found[1]


def _turned(rise: Floats, outward: Floats, deg: float) -> Floats:
    """(3, 3) the turn about `rise` that takes the way off the wall outboard (to +z) where `deg` is positive."""
    from scipy.spatial.transform import Rotation  # noqa: PLC0415  slow to load, and never asked for in a drag

    sign = 1.0 if np.cross(rise, outward)[2] > 0.0 else -1.0
    return np.asarray(Rotation.from_rotvec(sign * math.radians(deg) * rise).as_matrix())
