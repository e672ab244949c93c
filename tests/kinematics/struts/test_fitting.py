"""A placement as a part of the project."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

import kinematics
from kinematics.errors import ProjectError
from kinematics.struts.fitting import held, with_struts
from tests.kinematics.struts.making import hatch, hatch_problem, placement
from tests.kinematics.struts.test_wanted import SPRING, STRUT

if TYPE_CHECKING:
    from kinematics.project import Device


def devices(*there: Device) -> tuple[Device, ...]:
    """The devices of the demo after a placement was taken, with these before."""
    loads = hatch().loads
    assert loads is not None
    found = with_struts(replace(hatch(), loads=replace(loads, devices=there)), placement()).loads
    assert found is not None
    return found.devices


def test_it_takes_the_place_of_struts_and_leaves_springs() -> None:
    rubbing = replace(STRUT, friction=20.0, unknown={"part": "x"})
    spring, strut = devices(rubbing, SPRING)
    assert spring is SPRING
    assert (strut.id, strut.friction, strut.unknown) == ("old", 20.0, {"part": "x"})
    assert (strut.kind, strut.count, strut.force, strut.ratio) == ("gas strut", 2, 450.0, 1.32)
    assert (strut.extended, strut.stroke) == (395.0, 150.0)
    assert (strut.from_end.on, strut.from_end.at) == ("bulkhead", (400.0, 150.0))
    assert (strut.to_end.on, strut.to_end.at) == ("hatch", (151.0, 205.0))


def test_names_are_free_ones() -> None:
    assert [each.id for each in devices()] == ["strut"]
    assert [each.id for each in devices(replace(SPRING, id="strut"))] == ["strut", "strut 2"]
    assert [each.id for each in devices(STRUT, replace(STRUT, id="other"))] == ["strut"]


def test_it_needs_weights() -> None:
    with pytest.raises(ProjectError, match="need weights"):
        with_struts(replace(hatch(), loads=None), placement())


def test_it_is_held_as_the_analysis_holds_it() -> None:
    found = held(hatch_problem(), placement(ok=False))
    analysis = kinematics.analyse(with_struts(hatch(), placement()))
    checks = [check for check in analysis.checks if check.kind in ("push", "rests")]
    assert found.ok
    assert {(each.kind, each.side): each.have for each in found.checks} == pytest.approx(
        {(each.kind, each.side): each.have for each in checks}, abs=1e-6
    )
    assert found.efforts[0] == pytest.approx(61.698983, abs=1e-5)
    assert found.openings[-1] == 75.0
    assert analysis.loads is not None
    assert found.pin == pytest.approx(analysis.loads.pins.max(), rel=1e-3)  # at other openings


def test_what_falls_short_is_named() -> None:
    found = held(hatch_problem(), placement(force=250.0))
    assert not found.ok
    assert ("push", "worst") in {(each.kind, each.side) for each in found.short}


def test_one_that_comes_to_its_end_doesn_t_hold() -> None:
    """2 mm too short for the open panel."""
    size = replace(placement().size, extended=386.0)
    assert not held(hatch_problem(), placement(size=size)).ok
