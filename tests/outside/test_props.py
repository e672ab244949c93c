"""A prop under a panel, by equilibrium of every link written out here; and worked examples with their digits.

Three equations a moving link (forces across and up, moments about the origin), two components a pin and the rod's
force along its line: nothing is shared with the program's statics, neither loops nor virtual work. All derivable.

- *Trapdoor*: uniform, 1200 mm, 300 N, hinged at one end, level, held by a rod from 900 mm straight below the hinge to
  its free end: moments about the hinge, 300·600 = F·1200·sin α with tan α = 900/1200, sin α = 0.6: F = 250 N; the
  hinge bears 200 N across and 150 N, 250 N in all (a 3-4-5 triangle; a textbook type of "frames and machines").
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.balance import holding_in_full
from kinematics.fittings import Prop
from kinematics.loads import Loads
from kinematics.parts import Attachment, Mass
from tests.outside.loaded import weight
from tests.specimens import demo_six_bar, single_pivot, stephenson_iii, watt_a21

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.results import PropFigures

G = 9.80665  # m/s², exact (CGPM 1901)


def told(project: Project) -> PropFigures:
    found = holding_in_full(project, kinematics.analyse(project, 2).sweep)
    assert found is not None
    assert found.prop is not None
    return found.prop


def test_a_level_trapdoor() -> None:
    """It hangs straight down when shut and is level at 90°: so the shut places are turned back by that."""
    prop = Prop(Attachment("body", (0.0, -900.0)), Attachment("lid", (0.0, -1200.0)), 90.0)
    loads = Loads((weight("lid", 300.0, -600j),), prop_rod=prop, hinges=1)
    found = told(replace(single_pivot, loads=loads, travel=replace(single_pivot.travel, wanted_deg=95.0)))
    assert found.length == pytest.approx(1500.0, abs=1e-9)
    assert found.force == pytest.approx(250.0, abs=1e-6)
    assert found.pins is not None
    assert found.pins.tolist() == pytest.approx([250.0], abs=1e-6)


def by_equations(project: Project, prop: Prop, mass: Mass) -> tuple[float, dict[str, float]]:
    """The rod's force, and the force on each pin that joins two links, at the prop's opening."""
    pose = kinematics.analyse(project, 2).pose(prop.at_deg)
    ids = [link.id for link in project.links]

    def now(link: str, at: tuple[float, float]) -> complex:
        k = ids.index(link)
        return complex(np.exp(1j * pose.turns[k]) * complex(*at) + pose.shifts[k])

    moving = [link for link in ids if link != project.fixed.id]
    start, end = now(prop.from_end.on, prop.from_end.at), now(prop.to_end.on, prop.to_end.at)
    along = (end - start) / abs(end - start)
    rows = np.zeros((3 * len(moving), 2 * len(project.pivots) + 1))
    right = np.zeros(3 * len(moving))

    def add(link: str, column: int, force: complex, at: complex) -> None:
        if link in moving:
            row = 3 * moving.index(link)
            rows[row : row + 3, column] += force.real, force.imag, (at.conjugate() * force).imag

    for k, pivot in enumerate(project.pivots):
        at = now(pivot.joins[0], pivot.at)
        for sign, link in zip((-1.0, 1.0), pivot.joins, strict=True):
            add(link, 2 * k, sign * (1.0 + 0j), at)
            add(link, 2 * k + 1, sign * 1j, at)
    add(prop.to_end.on, -1, along, end)
    add(prop.from_end.on, -1, -along, start)
    row, down, at = 3 * moving.index(mass.on), -1j * mass.mass * G, now(mass.on, mass.at)
    right[row : row + 3] = -down.real, -down.imag, -(at.conjugate() * down).imag
    x = np.linalg.solve(rows, right)
    return float(x[-1]), {pivot.id: math.hypot(x[2 * k], x[2 * k + 1]) for k, pivot in enumerate(project.pivots)}


@pytest.mark.parametrize("project", [demo_six_bar, watt_a21, stephenson_iii], ids=["demo", "watt", "stephenson"])
@pytest.mark.parametrize("share", [0.3, 0.9])
@pytest.mark.parametrize("between", ["fixed", "arm"])
def test_six_bars_by_fifteen_equations(project: Project, share: float, between: str) -> None:
    """The rod hangs on the fixed link, or on a moving one."""
    reached = kinematics.analyse(project, 2).opening.reached_deg
    arm = next(link.id for link in project.links if link.kind == "link")
    hangs = Attachment(project.fixed.id if between == "fixed" else arm, (70.0, -95.0))
    prop = Prop(hangs, Attachment(project.panel.id, (210.0, 160.0)), share * reached)
    mass = Mass(project.panel.id, 12.0, (250.0, 140.0))
    loaded = replace(project, loads=Loads((mass,), prop_rod=prop, hinges=1))
    force, pins = by_equations(loaded, prop, mass)
    found = told(loaded)
    assert found.force == pytest.approx(force, rel=1e-6)
    assert found.pins is not None
    for pivot, one in zip(project.pivots, found.pins.tolist(), strict=True):
        assert one == pytest.approx(pins[pivot.id], rel=1e-6)
