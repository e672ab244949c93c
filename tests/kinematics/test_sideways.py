"""Tilt and sway: one pin by hand, a four-bar against rigid bodies in space with their whole rotations."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.optimize import minimize

import kinematics
from kinematics.project import Handle, Loads, Mark, Mass, Metal, Project, Room, Strength, Sureness
from kinematics.room import FrontEdge
from kinematics.sideways import SIDES, Sideways, sideways
from tests.specimens import hinge, single_pivot, twin_arms

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from kinematics.values import Point

ROUND = 1.0 / math.cos(math.pi / SIDES)
STEEL = Metal("steel", 235.0, 210_000.0)
PINS = Strength(diameter=8.0, inner=20.0, outer=5.0, pin_material=STEEL, plate_material=STEEL)
four_bar = hinge(
    "body lid rear fore",
    {
        "A": (0j, "body rear"),
        "B": (120 + 30j, "body fore"),
        "C": (20 + 150j, "rear lid"),
        "D": (150 + 170j, "fore lid"),
    },
    opens="clockwise",
    wanted_deg=15.0,
)


def with_play(project: Project, front: Point, play: float = 0.1, **loads: float) -> Project:
    """The project with pins, play, and a mark for its front edge."""
    panel = project.panel.id
    return replace(
        project,
        strength=PINS,
        sureness=Sureness(play=play),
        marks=(Mark("front", panel, front),),
        room=Room(floor=-1000.0, front_edge=FrontEdge("front")),
        loads=Loads((Mass(panel, 10.0, front),), Handle(panel, front), **loads),  # type: ignore[arg-type]
    )


def found(project: Project) -> Sideways:
    told = sideways(kinematics.analyse(project, steps=3))
    assert told is not None
    return told


def test_a_lid_on_one_pin_by_hand() -> None:
    """0.1 mm in 20 mm: 1/200, 0.28648°; at 500 mm from the pin 2.5 mm, at every opening."""
    told = found(with_play(single_pivot, (300.0, 400.0)))
    assert told.tilts == (("A", pytest.approx(0.28648, abs=5e-6)),)
    for sway in told.sways:
        assert sway.one is not None
        assert 2.5 - 1e-9 <= sway.one <= 2.5 * ROUND
        assert sway.two is None
    assert [sway.deg for sway in told.sways] == [0.0, 80.0]


def test_two_lids_on_one_pin_each_hold_each_other() -> None:
    """600 mm apart, each pin lets the panel off by 0.05 mm: it turns by 0.1/600, so 500 mm out it sways by 1/12 mm."""
    told = found(with_play(single_pivot, (300.0, 400.0), spacing=600.0))
    two = told.sways[0].two
    assert two is not None
    # Tilted, both ends of each hole must stay within the play: 620 mm from end to end of the outermost.
    assert 500.0 * 0.1 / 620.0 - 1e-9 <= two <= 500.0 * 0.1 / 620.0 * ROUND


@pytest.mark.parametrize("stations", [(0.0,), (-200.0, 200.0)])
def test_a_four_bar_as_rigid_bodies_in_space(stations: tuple[float, ...]) -> None:
    spacing = {"spacing": 400.0} if len(stations) == 2 else {}
    sway = found(with_play(four_bar, (700.0, 200.0), 0.02, **spacing)).sways[0]
    told = sway.one if len(stations) == 1 else sway.two
    assert told is not None
    exact = swayed_in_space(stations, 0.02, 20.0)
    assert exact * (1.0 - 2e-3) <= told <= exact * ROUND * (1.0 + 2e-3)


def swayed_in_space(stations: tuple[float, ...], play: float, length: float) -> float:
    """The largest move across at (700, 200) with whole rotations: a search over all bodies' places, by SLSQP.

    Bodies: lid, then rear and fore arm of each hinge; a pin (fast in the one) within the hole of the other, at both
    ends of it.
    """
    fixed = 1 + 2 * len(stations)
    pins = []
    for k, z in enumerate(stations):
        rear, fore = 1 + 2 * k, 2 + 2 * k
        pins += [(fixed, rear, (0.0, 0.0, z)), (fixed, fore, (120.0, 30.0, z))]
        pins += [(0, rear, (20.0, 150.0, z)), (0, fore, (150.0, 170.0, z))]
    holders, bodies = (np.repeat([pin[k] for pin in pins], 2) for k in (0, 1))
    ends = np.array([[x, y, z + end * length] for _, _, (x, y, z) in pins for end in (-0.5, 0.5)])
    scale = np.array([play] * 3 + [play / 20.0] * 3)

    def placed(x: NDArray[np.float64], who: NDArray[np.intp], points: NDArray[np.float64]) -> NDArray[np.float64]:
        six = np.vstack([x.reshape(fixed, 6) * scale, np.zeros(6)])[who]
        return np.asarray(six[:, :3] + turned(six[:, 3:], points))

    def lies(x: NDArray[np.float64]) -> NDArray[np.float64]:
        """How far each end of each pin lies from the hole's middle, and along it; plays."""
        return np.asarray((placed(x, bodies, ends) - placed(x, holders, ends)) / play)

    def inside(x: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(0.25 - (lies(x)[:, :2] ** 2).sum(axis=1))

    def along(x: NDArray[np.float64]) -> NDArray[np.float64]:
        off = lies(x)[:, 2]
        return np.append(0.5 * (off[::2] + off[1::2]), x[5])  # washers hold the middle; the opening is held

    def across(x: NDArray[np.float64]) -> float:
        return -float(placed(x, np.array([0]), np.array([[700.0, 200.0, 0.0]]))[0, 2] / play)

    constraints = [{"type": "ineq", "fun": inside}, {"type": "eq", "fun": along}]
    result = minimize(
        across, np.zeros(6 * fixed), method="SLSQP", constraints=constraints, options={"maxiter": 300, "ftol": 1e-4}
    )
    assert result.success, result.message
    return -float(result.fun) * play


def turned(by: NDArray[np.float64], points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Points turned by rotation vectors, a row each (Rodrigues)."""
    angle = np.linalg.norm(by, axis=1, keepdims=True)
    axis = by / np.where(angle > 0.0, angle, 1.0)
    along = (axis * points).sum(axis=1, keepdims=True) * axis
    return np.asarray(along + np.cos(angle) * (points - along) + np.sin(angle) * np.cross(axis, points))


def test_two_hinges_sway_less_than_one_and_more_where_they_stand_close() -> None:
    sways = [found(with_play(four_bar, (700.0, 200.0), spacing=apart)).sways[0] for apart in (50.0, 400.0, 1200.0)]
    two = [sway.two for sway in sways]
    assert all(each is not None for each in two)
    assert sways[0].one > two[0] > two[1] > two[2] > 0.0  # type: ignore[operator]


def test_sway_grows_evenly_with_play() -> None:
    small, large = (found(with_play(four_bar, (700.0, 200.0), play)).sways[0].one for play in (0.05, 0.2))
    assert large == pytest.approx(4.0 * small, rel=1e-6)  # type: ignore[operator]


def test_twin_arms_hold_more() -> None:
    told = found(with_play(twin_arms, (400.0, 100.0)))
    assert all(sway.one is not None and sway.one > 0.0 for sway in told.sways)


def test_without_play_or_pins_nothing_is_told() -> None:
    project = with_play(four_bar, (700.0, 200.0))
    for without in (replace(project, sureness=None), replace(project, strength=None)):
        assert sideways(kinematics.analyse(without, steps=2)) is None
