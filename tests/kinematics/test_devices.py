"""Devices: their laws, their temperature, and where a strut's end stops the motion."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

import kinematics
from kinematics.devices import bounds, gas_factor, moment, push
from kinematics.errors import ProjectError
from kinematics.project import Attachment, Device, Loads, PinFriction
from kinematics.slopes import pose_at, slopes
from tests.specimens import demo_six_bar, single_pivot

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Project

ENDS = Attachment("body", (0.0, -200.0)), Attachment("lid", (300.0, 0.0))


def device(kind: Any, **figures: Any) -> Device:  # noqa: ANN401
    return Device("helper", kind, figures.pop("count", 1), *figures.pop("ends", ENDS), **figures)


def strut(shortest: float, longest: float, **more: Any) -> Device:  # noqa: ANN401
    figures = {"extended": longest, "stroke": longest - shortest, "force": 300.0, "ratio": 1.3, **more}
    return device("gas strut", **figures)


def length(deg: float) -> float:
    """Pin to pin on a lid at an opening, by complex numbers."""
    return abs(cmath.rect(300.0, math.radians(deg)) + 200j)


def opened(*devices: Device, wanted: float = 80.0, opens: Any = "anticlockwise") -> Analysis:  # noqa: ANN401
    lid = replace(single_pivot, loads=Loads(devices=devices), gaps=(), outlines=())
    return kinematics.analyse(replace(lid, travel=replace(lid.travel, wanted_deg=wanted, opens=opens)), steps=5)


# -------------------------------------------------------------------------------------------------------------- laws
def test_a_gas_strut_is_a_straight_line_between_its_two_forces() -> None:
    """format.md: force·(1 + (ratio − 1)·(extended − L)/stroke); drawn out 300, pushed in 390, a quarter in 322.5."""
    found = push(strut(300.0, 500.0), np.array([500.0, 450.0, 300.0]))
    assert found == pytest.approx([300.0, 322.5, 390.0], rel=1e-15)
    assert bounds(strut(300.0, 500.0)) == (300.0, 500.0)


def test_a_tension_spring_pulls_beyond_its_free_length_only() -> None:
    spring = device("tension spring", free=120.0, initial=20.0, rate=2.5)
    assert push(spring, np.array([100.0, 120.0, 130.0])) == pytest.approx([0.0, 0.0, -45.0])


def test_a_compression_spring_pushes_within_its_free_length_only() -> None:
    spring = device("compression spring", free=120.0, initial=5.0, rate=2.5)
    assert push(spring, np.array([100.0, 120.0, 130.0])) == pytest.approx([55.0, 0.0, 0.0])


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_torsion_spring_unwinds_and_then_is_slack(way: float) -> None:
    """2000 N·mm when shut, 50 less a degree: nothing after 40°, and more when it is wound up further."""
    spring = device("torsion spring", moment=way * 2000.0, moment_rate=50.0)
    found = moment(spring, way * np.radians([-10.0, 0.0, 30.0, 40.0, 60.0]))
    assert way * found == pytest.approx([2500.0, 2000.0, 500.0, 0.0, 0.0], abs=1e-9)
    assert push(spring, np.array([10.0])) == 0.0
    assert moment(strut(300.0, 500.0), np.array([0.3])) == 0.0


def test_cold_gas_pushes_less_by_kelvin() -> None:
    assert gas_factor(20.0) == 1.0
    cold = push(strut(300.0, 500.0), np.array([500.0]), -10.0)
    assert cold[0] == pytest.approx(300.0 * 263.15 / 293.15, rel=1e-15)


REFUSED = {
    "moment is missing": {"kind": "torsion spring"},
    "moment is missing or 0": {"kind": "torsion spring", "moment": 0.0},
    "moment_rate": {"kind": "torsion spring", "moment": 5.0, "moment_rate": -1.0},
    "friction": {"kind": "gas strut", "extended": 5.0, "stroke": 2.0, "force": 1.0, "ratio": 1.2, "friction": -1.0},
    "kind": {"kind": "leaf spring"},
    "rate": {"kind": "compression spring", "rate": -1.0},
}


@pytest.mark.parametrize("told", REFUSED)
def test_what_no_device_can_be_is_refused(told: str) -> None:
    with pytest.raises(ProjectError, match=told):
        device(**REFUSED[told])


@pytest.mark.parametrize("celsius", [-273.15, 1000.0, float("nan"), True])
def test_no_strut_works_at_such_a_temperature(celsius: float) -> None:
    with pytest.raises(ProjectError, match="temperature"):
        Loads(temperature=celsius)


def test_pins_dont_push_by_rubbing() -> None:
    with pytest.raises(ProjectError, match="coefficient"):
        PinFriction(4.0, -0.1)


# ------------------------------------------------------------------------------------------------------------- stops
@pytest.mark.parametrize("deg", [0.5, 22.5, 61.0, 79.9999])
def test_a_strut_drawn_out_stops_the_motion(deg: float) -> None:
    """1e-6° as asked; the largest opening knows nothing of devices."""
    found = opened(strut(300.0, length(deg)))
    assert found.opening.ends == "device stop"
    assert found.opening.reached_deg == pytest.approx(deg, abs=1e-9)
    assert found.opening.largest_deg == 180.0
    assert found.openings[-1] == found.opening.reached_deg
    assert not found.checks[0].ok
    assert found.checks[0].margin == pytest.approx(deg - 80.0, abs=1e-9)
    assert any("drawn out to its full length" in remark for remark in found.remarks)


def test_a_strut_pushed_in_stops_the_motion() -> None:
    found = opened(strut(length(-33.0), 500.0), opens="clockwise")
    assert found.opening.ends == "device stop"
    assert found.opening.reached_deg == pytest.approx(33.0, abs=1e-9)
    assert any("pushed in as far as it goes" in remark for remark in found.remarks)


def test_the_first_of_two_struts_stops_it() -> None:
    late, early = strut(300.0, length(50.0)), replace(strut(300.0, length(40.0)), id="other")
    found = opened(late, early)
    assert found.opening.reached_deg == pytest.approx(40.0, abs=1e-9)
    assert found.sweep.stop is not None
    assert found.sweep.stop.device == "other"


def test_a_strut_that_is_just_at_its_end_stops_nothing() -> None:
    """Full length at the wanted opening, fully pushed in when shut: as struts are meant to be fitted."""
    found = opened(strut(length(0.0), length(80.0)))
    assert (found.opening.ends, found.opening.reached_deg) == ("wanted opening", 80.0)


@pytest.mark.parametrize(
    ("shortest", "longest", "told"),
    [(200.0, 350.0, "too far apart"), (370.0, 500.0, "too near"), (360.6, 500.0, "0.04 mm")],
)
def test_a_strut_that_doesnt_fit_when_shut_stops_it_there(shortest: float, longest: float, told: str) -> None:
    found = opened(strut(shortest, longest))
    assert found.opening.ends == "device stop"
    assert found.opening.reached_deg == 0.0
    assert list(found.openings) == [0.0]
    assert any(told in remark for remark in found.remarks)
    assert not any("dead point" in remark for remark in found.remarks)


@pytest.mark.parametrize("spare", [1e-3, -1e-3])
def test_a_strut_that_is_shortest_half_way(spare: float) -> None:
    """Its pins are nearest at 30°, by a hair within its stroke or beyond it: only the latter is a stop."""
    high = cmath.rect(500.0, math.radians(30.0))
    ends = Attachment("body", (high.real, high.imag)), Attachment("lid", (300.0, 0.0))
    found = opened(strut(200.0 - spare, 600.0, ends=ends))
    if spare > 0.0:
        assert found.opening.ends == "wanted opening"
    else:
        # law of cosines: the turn before 30° at which the pins are 200.001 apart
        before = math.acos((500.0**2 + 300.0**2 - 200.001**2) / (2 * 500.0 * 300.0))
        assert found.opening.reached_deg == pytest.approx(30.0 - math.degrees(before), abs=1e-6)


def fitted_demo(longest: float) -> Project:
    ends = Attachment("bulkhead", (100.0, -100.0)), Attachment("arm", (60.0, 240.0))
    return replace(demo_six_bar, loads=Loads(devices=(strut(300.0, longest, ends=ends),)))


def test_a_stop_is_the_same_after_another_layout() -> None:
    """Followed from an analysis without the stop, and from one with it."""
    free, stopped = kinematics.analyse(fitted_demo(600.0), 5), kinematics.analyse(fitted_demo(420.0), 5)
    assert (free.opening.ends, stopped.opening.ends) == ("wanted opening", "device stop")
    for before in (free, stopped):
        again = kinematics.analyse(fitted_demo(420.0), 5, near=before)
        assert again.opening.reached_deg == pytest.approx(stopped.opening.reached_deg, abs=1e-9)
    assert kinematics.analyse(fitted_demo(600.0), 5, near=stopped).opening == free.opening
    end = stopped.pose(90.0)
    column = stopped.links.index("arm")
    assert math.dist(end.place(column, (60.0, 240.0)), (100.0, -100.0)) == pytest.approx(420.0, abs=1e-9)


def test_a_stop_has_no_rate_of_its_own_and_mending_is_honest_about_it() -> None:
    """Pins move the strut's end too, which the rates of the sweep don't know: none is told rather than a wrong one."""
    stopped = kinematics.analyse(fitted_demo(420.0), 31)
    opening = next(check for check in stopped.checks if check.kind == "opening")
    assert not opening.ok
    assert slopes(stopped, opening) is None
    assert pose_at(stopped, stopped.opening.reached_deg) is None
