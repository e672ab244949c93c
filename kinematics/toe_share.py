"""The least share of all joints' play with which hinges in planes of their own stand on one stiff panel.

Each *station* is one hinge: its plane turned by R about the foot of its base. Carried by that hinge alone the panel
would move by D; without any turn it moves by D₀. Small moves are u + ω × p (six numbers a body): the panel's off D₀,
the other links' off where their own hinge carries them. A linear programme finds the least s with which at every joint
both ends of the bearing stay within s · play/2 across the pin, and its middle within s · end_float/2 along it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.results import Pose

SIDES = 24
"""Sides of the polygons about the circles of play: 1/cos(180°/24) is 1.0086, so up to 1 % too small a share."""


@dataclass(frozen=True, slots=True)
class JointPlay:
    """What a joint gives, mm.   play : of a hole over its pin.   length : of its bearing.   end_float : along it."""

    play: float
    length: float
    end_float: float


@dataclass(frozen=True, slots=True, eq=False)
class Station:
    """One hinge: its way off the centreline (mm, to whoever looks), the foot of its base (3,), its turn (3, 3)."""

    z: float
    foot: Floats
    turn: Floats

    def placed(self, points: Floats) -> Floats:
        """Points of the hinge's own frame (n, 3) where they are in space."""
        return np.asarray(self.foot + (points - self.foot) @ self.turn.T)


def least_share(analysis: Analysis, pose: Pose, stations: Sequence[Station], plays: Mapping[str, JointPlay]) -> float:
    """The share of the play that a pose takes; more than 1: only force gets there. NaN: nothing is found."""
    from scipy.optimize import linprog  # noqa: PLC0415  slow to load, and never asked for in a drag

    project = analysis.project
    moving = [project.panel.id, *(link.id for link in project.links if link.kind == "link")]
    size = max(abs(complex(*pivot.at)) for pivot in project.pivots) or 1.0
    unknowns = 6 + 6 * (len(moving) - 1) * len(stations) + 1
    rows, limits = [], []
    for number, station in enumerate(stations):
        columns = _columns(moving, number)
        off = panel_off(analysis, pose, station)
        for pivot in project.pivots:
            at = pose.place(analysis.links.index(pivot.joins[0]), pivot.at)
            for other in pivot.joins[1:]:
                pair = (pivot.joins[0], other)
                low = _bounds(station, at, plays[pivot.id], [columns.get(link) for link in pair], unknowns, size)
                moved = [off if link == project.panel.id else None for link in pair]
                rows.append(low.rows)
                limits.append(low.limits(moved))
    held = np.zeros((1, unknowns))
    held[0, 5] = 1.0  # the panel's opening
    aim = np.zeros(unknowns)
    aim[-1] = 1.0
    found = linprog(
        aim,
        A_ub=np.vstack(rows),
        b_ub=np.concatenate(limits),
        A_eq=held,
        b_eq=[0.0],
        bounds=[(None, None)] * (unknowns - 1) + [(0.0, None)],
        method="highs",
    )
    return math.nan if found.status != 0 or found.fun is None else float(found.fun)


def panel_off(analysis: Analysis, pose: Pose, station: Station) -> Floats:
    """log(D · D₀⁻¹) of a station, as u, ω (6,): by how much its hinge alone would carry the panel elsewhere."""
    panel = analysis.links.index(analysis.project.panel.id)
    theta, shift = float(pose.turns[panel]), complex(pose.shifts[panel])
    spun = np.array(
        [[math.cos(theta), -math.sin(theta), 0.0], [math.sin(theta), math.cos(theta), 0.0], [0.0, 0.0, 1.0]]
    )
    plain = _rigid(spun, np.array([shift.real, shift.imag, 0.0]))
    toed = _rigid(station.turn, station.foot - station.turn @ station.foot)
    return logarithm(toed @ plain @ np.linalg.inv(toed) @ np.linalg.inv(plain))


def logarithm(motion: Floats) -> Floats:
    """The twist u, ω (6,) whose exponential a rigid motion (4, 4) is; turns of less than 180°."""
    from scipy.spatial.transform import Rotation  # noqa: PLC0415  slow to load, and never asked for in a drag

    omega = Rotation.from_matrix(motion[:3, :3]).as_rotvec()
    angle = float(np.linalg.norm(omega))
    cross = np.array([[0.0, -omega[2], omega[1]], [omega[2], 0.0, -omega[0]], [-omega[1], omega[0], 0.0]])
    second = 1.0 / 12.0 if angle < 1e-4 else (1.0 - 0.5 * angle / math.tan(0.5 * angle)) / angle**2
    inverse = np.eye(3) - 0.5 * cross + second * cross @ cross
    return np.concatenate([inverse @ motion[:3, 3], omega])


# ------------------------------------------------------------------------------------------------------------- inside
def _rigid(turn: Floats, shift: Floats) -> Floats:
    whole = np.eye(4)
    whole[:3, :3], whole[:3, 3] = turn, shift
    return whole


def _columns(moving: Sequence[str], station: int) -> dict[str, int]:
    """Where each link's six unknowns begin; the panel is one for all stations, the fixed link has none."""
    each = len(moving) - 1
    return {link: 0 if place == 0 else 6 * (station * each + place) for place, link in enumerate(moving)}


@dataclass(frozen=True, slots=True, eq=False)
class _Bounds:
    """rows · x ≤ limits: a joint's bounds; `gives` (m, 3) the way that each looks along, `at` (m, 3) where."""

    rows: Floats
    gives: Floats
    at: Floats

    def limits(self, moved: Sequence[Floats | None]) -> Floats:
        """What stands on the right, as the panel, if it is one of the two, is carried elsewhere by `moved`."""
        right = np.zeros(len(self.at))
        for off, sign in zip(moved, (-1.0, 1.0), strict=True):
            if off is not None:
                right += sign * np.einsum("ij,ij->i", self.gives, off[:3] + np.cross(off[3:], self.at))
        return right


def _bounds(
    station: Station,
    at: tuple[float, float],
    play: JointPlay,
    columns: Sequence[int | None],
    unknowns: int,
    size: float,
) -> _Bounds:
    """A joint's bounds: polygons at either end of its bearing, and both ways along it at its middle."""
    turned = np.arange(SIDES) * (2.0 * math.pi / SIDES)
    round_it = np.stack([np.cos(turned), np.sin(turned), 0.0 * turned], axis=1)
    along = np.array([[0.0, 0.0, 1.0], [0.0, 0.0, -1.0]])
    ends = [station.z - 0.5 * play.length, station.z + 0.5 * play.length]
    own = np.array([[*at, end] for end in ends for _ in range(SIDES)] + [[*at, station.z]] * 2)
    ways = np.vstack([round_it, round_it, along]) @ station.turn.T
    places = station.placed(own)
    rows = np.zeros((len(ways), unknowns))
    levers = np.cross(places, ways) / size  # way · (ω × p) = ω · (p × way)
    for column, sign in zip(columns, (-1.0, 1.0), strict=True):
        if column is not None:
            rows[:, column : column + 6] += sign * np.hstack([ways, levers])
    rows[: 2 * SIDES, -1] = -0.5 * play.play
    rows[2 * SIDES :, -1] = -0.5 * play.end_float
    return _Bounds(rows, ways, places)
