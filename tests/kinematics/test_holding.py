"""The worst case: cold, slope, a dead strut. A lid of 10 kg at 400, open 80°, the hand at 800.

Level it asks 49.03325·cos 80° N; on 5° of slope, at worst, 49.03325·cos 75° = 12.690739 N. A strut of 300 N helps by
its arm of 200·300·cos 80°/498.173595 = 20.914175 mm over 800: 7.842816 N; at −10 °C by 0.897663 of that: 7.040208 N.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

import kinematics
from kinematics.errors import ProjectError
from kinematics.project import Attachment, Device, Handle, LiftWants, Loads, Mass, WorstCase
from tests.specimens import single_pivot

if TYPE_CHECKING:
    from kinematics.results import Worst

STRUT = Device(
    "strut",
    "gas strut",
    2,
    Attachment("body", (0.0, -200.0)),
    Attachment("lid", (300.0, 0.0)),
    extended=600.0,
    stroke=300.0,
    force=300.0,
    ratio=1.0,
)


def told(case: WorstCase, *devices: Device, **more: Any) -> tuple[Worst | None, bool]:  # noqa: ANN401
    wants = LiftWants(stays_open_in=case)
    there = Loads((Mass("lid", 10.0, (400.0, 0.0)),), Handle("lid", (800.0, 0.0)), devices=devices, wants=wants)
    found = kinematics.analyse(replace(single_pivot, loads=replace(there, **more)), 5)
    assert found.loads is not None
    (check,) = [check for check in found.checks if check.kind == "push"]
    assert (check.side, check.have) == ("worst", None if found.loads.worst is None else found.loads.worst.force)
    return found.loads.worst, check.ok


@pytest.mark.parametrize("opens", ["anticlockwise", "clockwise"])
def test_a_slope_pulls_the_worse_way(opens: str) -> None:
    """Mirrored, the other slope is the worse one."""
    side = 1.0 if opens == "anticlockwise" else -1.0
    masses, handle = (Mass("lid", 10.0, (side * 400.0, 0.0)),), Handle("lid", (side * 800.0, 0.0))
    loads = Loads(masses, handle, wants=LiftWants(stays_open_in=WorstCase(slope_deg=5.0)))
    travel = replace(single_pivot.travel, opens=opens)
    found = kinematics.analyse(replace(single_pivot, loads=loads, travel=travel), 5).loads
    assert found is not None
    assert found.worst is not None
    assert found.worst.force == pytest.approx(12.690739, abs=1e-6)
    assert found.worst.slope_deg == side * 5.0


def test_cold_and_one_of_two_struts_dead() -> None:
    """One strut of two at −10 °C, on the worse slope: 12.690739 − 7.040208."""
    found, ok = told(WorstCase(-10.0, 5.0, True), STRUT)
    assert found is not None
    assert found.force == pytest.approx(5.650531, abs=2e-6)
    assert (found.temperature, found.slope_deg, found.dead, ok) == (-10.0, 5.0, "strut", False)
    both, ok = told(WorstCase(-10.0, 5.0), STRUT)
    assert both is not None
    assert both.force == pytest.approx(12.690739 - 2 * 7.040208, abs=2e-6)
    assert ok


def test_the_strut_that_is_missed_most_is_the_dead_one() -> None:
    """A single strut that fails is gone; a weaker one beside it is not the worst."""
    strong, weak = replace(STRUT, count=1), replace(STRUT, id="weak", count=1, force=100.0)
    found, _ = told(WorstCase(one_dead=True), weak, strong)
    assert found is not None
    assert found.dead == "strut"
    assert found.force == pytest.approx(49.03325 * 0.173648178 - 7.842816 / 3.0, abs=1e-5)
    ends = Attachment("body", (0.0, 0.0)), Attachment("lid", (0.0, 0.0))
    spring = Device("coil", "torsion spring", 1, *ends, moment=8e3)
    left, _ = told(WorstCase(one_dead=True), spring)  # springs don't fail here
    assert left is not None
    assert (left.dead, left.temperature) == ("", None)


def test_without_an_effort_there_is_no_worst_case() -> None:
    found, ok = told(WorstCase(slope_deg=5.0), STRUT, handle=None)
    assert found is None
    assert not ok


@pytest.mark.parametrize(("key", "value"), [("slope_deg", 46.0), ("slope_deg", -1.0), ("temperature", -300.0)])
def test_no_ground_is_so_steep_and_no_day_so_cold(key: str, value: float) -> None:
    with pytest.raises(ProjectError, match=key):
        WorstCase(**{key: value})
