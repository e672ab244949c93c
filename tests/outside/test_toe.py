"""Toe against a physics engine: MuJoCo's bodies in space, every joint with its play, nothing linearised.

MuJoCo knows where bodies stand in space for given joint coordinates (its own forward kinematics, quaternions). From its
figures, differenced, the least play at which loops close and every pin stays in its hole is found by linear programmes
one upon the other, until nothing changes: an answer for large moves, where the program's is for small ones.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import mujoco
import numpy as np
import pytest
from scipy.optimize import linprog

from kinematics import analyse
from kinematics.loads import Loads
from kinematics.mount_parts import Base
from kinematics.toe_share import SIDES, JointPlay, Station, least_share, panel_off
from kinematics.toeing import stations_of
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import hinge

if TYPE_CHECKING:
    from kinematics.project import Project

PINS = {"A": 100 + 0j, "D": 160 - 30j, "B": 120 + 90j, "C": 185 + 65j}
APART, LENGTH, PLAY = 300.0, 20.0, 1.0
BASE = Base(at=(60.0, 0.0), wall_deg=90.0)


def four_bar() -> Project:
    joins = {"A": "body arm", "D": "body link", "B": "arm lid", "C": "link lid"}
    project = hinge("body lid arm link", {name: (at, joins[name]) for name, at in PINS.items()}, wanted_deg=40.0)
    loads = Loads(hinges=2, spacing=APART)
    return replace(project, loads=loads, wall=Wall(left=HandWall(1.0)))


def _slack(name: str, free: bool = True) -> str:
    """The joints of a pin with play: across it two ways, tilting two ways, turning."""
    axes = (("slide", "1 0 0"), ("slide", "0 1 0"), ("hinge", "1 0 0"), ("hinge", "0 1 0"), ("hinge", "0 0 1"))
    return "".join(
        f'<joint name="{name}{number}" type="{kind}" axis="{axis}"/>'
        for number, (kind, axis) in enumerate(axes if free else ())
    )


def _ends(name: str) -> str:
    return "".join(f'<site name="{name}{end:+d}" pos="0 0 {end * LENGTH / 2}"/>' for end in (-1, 1))


def _body(name: str, at: complex, inner: str = "", slack: bool = True) -> str:
    mass = '<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>'
    return f'<body name="{name}" pos="{at.real} {at.imag} 0">{_slack(name, slack)}{mass}{_ends(name)}{inner}</body>'


def _hole(name: str, at: complex) -> str:
    return "".join(
        f'<site name="hole {name}{end:+d}" pos="{at.real} {at.imag} {end * LENGTH / 2}"/>' for end in (-1, 1)
    )


def model(stations: tuple[Station, Station]) -> mujoco.MjModel:
    """Both hinges: an arm with the lid at its end, a link with an end that must meet the lid."""
    a, d, b, c = (PINS[name] for name in "ADBC")
    parts = []
    for k, station in enumerate(stations):
        foot = complex(station.foot[0], station.foot[1])
        quat = np.zeros(4)
        mujoco.mju_mat2Quat(quat, station.turn.ravel())
        lid = _body(f"B{k}", b - a, f'<site name="lid C{k}" pos="{(c - b).real} {(c - b).imag} 0"/>')
        arm = _body(f"A{k}", a - foot, _hole(f"B{k}", b - a) + lid)
        link = _body(f"D{k}", d - foot, _hole(f"C{k}", c - d) + _body(f"C{k}", c - d))
        x, y, z = station.foot
        frame = f'<body pos="{x} {y} {z}" quat="{" ".join(map(repr, map(float, quat)))}">'
        parts.append(f"{frame}{_hole(f'A{k}', a - foot)}{_hole(f'D{k}', d - foot)}{arm}{link}</body>")
    return mujoco.MjModel.from_xml_string(
        f'<mujoco><compiler angle="radian"/><worldbody>{"".join(parts)}</worldbody></mujoco>'
    )


class Engine:
    """MuJoCo's bodies, what must be zero of them, and how far each end of a pin is off the middle of its hole."""

    def __init__(self, stations: tuple[Station, Station], turn: float) -> None:
        self.model = model(stations)
        self.data, self.turn = mujoco.MjData(self.model), turn
        mujoco.mj_kinematics(self.model, self.data)
        names = ("B0", "B1", "C0", "C1")
        self.shut = {name: (self.data.body(name).xpos.copy(), self._frame(name)) for name in names}

    def _frame(self, name: str) -> np.ndarray:
        return np.asarray(self.data.body(name).xmat.reshape(3, 3).copy())

    def _turned(self, name: str) -> np.ndarray:
        return np.asarray(self._frame(name) @ self.shut[name][1].T)

    def __call__(self, q: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """What must be zero (mm, and 100 · sines), and the pins' ways off (32, 2), mm in the hole's plane."""
        self.data.qpos[:] = q
        mujoco.mj_kinematics(self.model, self.data)
        zero: list[np.ndarray] = []
        for k in "01":
            zero.append(self.data.site(f"lid C{k}").xpos - self.data.body(f"C{k}").xpos)
            zero.append(100.0 * _between(self._turned(f"B{k}"), self._turned(f"C{k}")))
        one = self._turned("B0")
        zero.append(100.0 * _between(one, self._turned("B1")))
        carried = self.data.body("B0").xpos + one @ (self.shut["B1"][0] - self.shut["B0"][0])
        zero.append(carried - self.data.body("B1").xpos)
        zero.append(np.array([100.0 * (np.arctan2(one[1, 0], one[0, 0]) - self.turn)]))
        off = []
        for pin in (f"{name}{k}{end}" for k in "01" for name in "ABCD" for end in ("-1", "+1")):
            hole = self.data.site(f"hole {pin}")
            way = hole.xmat.reshape(3, 3).T @ (self.data.site(pin).xpos - hole.xpos)
            off.append(way[:2])
        return np.concatenate(zero), np.array(off)

    def least_play(self, q: np.ndarray) -> float:
        """The least play (mm, diametral) with which all this can be, by programmes one upon the other from q on."""
        around = np.exp(2j * np.pi * np.arange(SIDES) / SIDES)
        ways = np.column_stack([around.real, around.imag])
        play = np.inf
        for _ in range(12):
            zero, off = self(q)
            rates = [self(q + step) for step in 1e-6 * np.eye(len(q))]
            closing = np.column_stack([(each[0] - zero) / 1e-6 for each in rates])
            moving = np.stack([(each[1] - off) / 1e-6 for each in rates], axis=-1)  # (pins, 2, q)
            rows = np.einsum("wc,pcq->pwq", ways, moving).reshape(-1, len(q))
            below = np.column_stack([rows, np.full(len(rows), -0.5)])
            found = linprog(
                np.append(np.zeros(len(q)), 1.0),
                A_ub=below,
                b_ub=-(off @ ways.T).ravel(),
                A_eq=np.column_stack([closing, np.zeros(len(zero))]),
                b_eq=-zero,
                bounds=[(-5.0, 5.0) if number % 5 < 2 else (-0.2, 0.2) for number in range(len(q))] + [(0.0, None)],
                method="highs",
            )
            assert found.status == 0, found.message
            q = q + found.x[:-1]
            if abs(found.fun - play) < 1e-7:
                return float(found.fun)
            play = found.fun
        raise AssertionError("it doesn't settle")


def _between(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """Sines of the turn from one to the other about the three axes."""
    turn = one @ other.T
    return np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]]) / 2.0


def _start(turns: dict[str, float]) -> np.ndarray:
    """Coordinates at which all stands as without toe: each body's turn against the one that carries it."""
    arm, link, lid = turns["arm"], turns["link"], turns["lid"]
    order = (arm, lid - arm, link, lid - link)
    return np.concatenate([[0, 0, 0, 0, each] for each in order] * 2)


@pytest.mark.parametrize("toe_deg", [(1.0, 1.0), (1.5, -0.5)])
def test_the_share_of_play_is_what_a_physics_engine_needs(toe_deg: tuple[float, float]) -> None:
    project = four_bar()
    analysis = analyse(project, steps=5)
    assert analysis.opening.reached_deg == pytest.approx(40.0)
    pose = analysis.pose(40.0)
    stations = stations_of(project, BASE, toe_deg)
    plays = dict.fromkeys(PINS, JointPlay(PLAY, LENGTH, 1e-9 * PLAY))
    share = least_share(analysis, pose, stations, plays)
    turns = dict(zip(analysis.links, map(float, pose.turns), strict=True))
    needed = Engine(stations, turns["lid"]).least_play(_start(turns))
    assert share * PLAY == pytest.approx(needed, rel=0.02), (share * PLAY, needed)


def test_a_hinge_with_toe_carries_its_panel_as_the_engine_says() -> None:
    """log(D · D₀⁻¹) against MuJoCo's own body frames, for a large toe."""
    project = four_bar()
    analysis = analyse(project, steps=5)
    pose = analysis.pose(30.0)
    stations = stations_of(project, BASE, (9.5, 9.5))
    engine = model(stations)
    data = mujoco.MjData(engine)
    turns = dict(zip(analysis.links, map(float, pose.turns), strict=True))
    points = np.array([[0.0, 0, 0], [500.0, 0, 0], [0.0, 300, 0], [0.0, 0, 200]])
    seen = []
    for q in (np.zeros(engine.nq), _start(turns)):
        data.qpos[:] = q
        mujoco.mj_kinematics(engine, data)
        lid = data.body("B0")
        seen.append((lid.xpos.copy(), lid.xmat.reshape(3, 3).copy()))
    (at0, turn0), (at1, turn1) = seen
    carried = at1 + (points - at0) @ (turn1 @ turn0.T).T
    panel = analysis.links.index("lid")
    flat = pose.places(panel, points[:, :2])
    plain = np.column_stack([flat, points[:, 2]])
    twist = panel_off(analysis, pose, stations[0])
    from scipy.linalg import expm

    u, w = twist[:3], twist[3:]
    whole = expm(
        np.block([[np.array([[0, -w[2], w[1]], [w[2], 0, -w[0]], [-w[1], w[0], 0]]), u[:, None]], [np.zeros(4)]])
    )
    assert plain @ whole[:3, :3].T + whole[:3, 3] == pytest.approx(carried, abs=1e-7)
