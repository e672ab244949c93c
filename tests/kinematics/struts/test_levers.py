"""Lengths and levers by two products are those of places and of the analysis, whichever links the ends ride on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import kinematics
from kinematics.project import Attachment, Device
from kinematics.struts.levers import SHORT, spans
from tests.kinematics.struts.making import hatch_problem


def ends(problem: object, pair: int, count: int) -> tuple[np.ndarray, np.ndarray]:
    random = np.random.default_rng([7, pair])
    lot = random.uniform(-300.0, 300.0, (4, count))
    return lot[0] + 1j * lot[1], lot[2] + 1j * lot[3]


@pytest.mark.parametrize("which", [0, 1, 2])
def test_they_are_those_of_the_analysis(which: int) -> None:
    """Lengths by the analysis' own poses; levers: 1 N along a strut against the same push at the handle."""
    problem = hatch_problem()
    pair = problem.pairs[which]
    tails, heads = ends(problem, which, 3)
    lengths, levers = spans(pair, tails, heads)
    for k in range(3):
        at = [(z.real, z.imag) for z in (tails[k] + pair.centre, heads[k] + pair.centre)]
        spring = Device(
            "push",
            "compression spring",
            1,
            Attachment(pair.zones[0].on, at[0]),
            Attachment(pair.zones[1].on, at[1]),
            free=1e6,
            initial=0.0,
            rate=1e-3,
        )
        loads = problem.project.loads
        assert loads is not None
        found = kinematics.analyse(replace(problem.project, loads=replace(loads, devices=(spring,))), 41).loads
        assert found is not None
        there = [int(np.argmin(np.abs(problem.openings - 75.0 * step / 40))) for step in range(41)]
        assert lengths[k, there] == pytest.approx(found.lengths[:, 0], abs=1e-9)
        push = found.pushes[:, 0]
        assert problem.bare[there] - push * levers[k, there] == pytest.approx(found.effort, abs=1e-8)


def test_a_pair_begins_on_the_fixed_link() -> None:
    """Zones were given panel, body, arm."""
    names = [(pair.zones[0].on, pair.zones[1].on) for pair in hatch_problem().pairs]
    assert names == [("bulkhead", "hatch"), ("bulkhead", "lift link"), ("hatch", "lift link")]


def test_a_lever_is_the_rate_of_the_length() -> None:
    """C14 the other way: by differences of the lengths over the handle's way, here on a lid whose handle is at 800."""
    from kinematics.project import Zone
    from kinematics.struts.wanted import read_problem
    from tests.kinematics.struts.making import lid, settings

    square = ((0.0, -300.0), (300.0, -300.0), (300.0, 0.0), (0.0, 0.0))
    problem = read_problem(lid(), settings(Zone("body", square), Zone("lid", square)))
    (pair,) = problem.pairs
    lengths, levers = spans(pair, np.array([40.0 - 250.0j]) - pair.centre, np.array([260.0 - 30.0j]) - pair.centre)
    ways = np.radians(problem.openings) * 800.0
    middle = slice(1, -1)
    assert np.gradient(lengths[0], ways)[middle] == pytest.approx(levers[0, middle], abs=2e-4)


def test_ends_in_one_place_make_no_division_by_nothing() -> None:
    """A pair on the pin itself has no length to tell."""
    problem = hatch_problem()
    lengths, levers = spans(problem.pairs[0], np.zeros(1, complex), np.zeros(1, complex))
    assert np.isfinite(levers).all()
    assert (lengths >= SHORT).all()
