"""Seals and bump stops: energy against virtual work, releases wherever they lie, samples that see the first degree."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest

import kinematics
from kinematics.balance import load_figures
from kinematics.fittings import Cushion
from kinematics.project import Handle, LiftWants, Loads, Mass
from kinematics.statics import Statics
from kinematics.sweep import sweep
from tests.kinematics.random_linkages import chain, whole
from tests.specimens import demo_six_bar, single_pivot

SEAL = Cushion("seal", "seal", "hatch", (1100.0, 230.0), 4.0, 95.0, per_metre=120.0, length=1300.0)
BUMP = Cushion("bumps", "bump stop", "hatch", (900.0, 240.0), 6.0, 80.0, force=45.0, count=2)
HATCH = Loads(
    masses=(Mass("hatch", 18.0, (620.0, 285.0)),), handle=Handle("hatch", (1180.0, 255.0)), cushions=(SEAL, BUMP)
)
OPENING = (0, 1, 3, 4, 6, 7, 8)
"""Seeds of linkages that open by 3 degrees."""


def bearing(start: tuple[float, float], end: tuple[float, float]) -> float:
    """Deg from the x axis of the way from one place to another."""
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))


def energy(analysis: kinematics.Analysis, deg: float) -> float:
    """N·mm of weight and squeezed cushions at an opening, from the poses alone."""
    loads, pose = analysis.project.loads, analysis.pose(deg)
    assert loads is not None
    total = 0.0
    for mass in loads.masses:
        total += 9.80665 * mass.mass * pose.place(analysis.links.index(mass.on), mass.at)[1]
    for each in loads.cushions:
        x, y = pose.place(analysis.links.index(each.on), each.at)
        way = math.radians(each.way_deg)
        out = (x - each.at[0]) * math.cos(way) + (y - each.at[1]) * math.sin(way)
        total += 0.5 * each.pushes * each.squeeze * max(1.0 - out / each.squeeze, 0.0) ** 2
    return total


@pytest.mark.parametrize("deg", [0.02, 0.1, 0.25, 2.0, 40.0])
def test_the_effort_is_the_slope_of_the_energy(deg: float) -> None:
    analysis = kinematics.analyse(replace(demo_six_bar, loads=HATCH), 2)
    statics = Statics(HATCH, analysis.sweep)
    at = statics.at(analysis.sweep.at_openings(np.radians([deg])))
    effort = float(statics.effort(at, statics.applied(at))[0])
    h = 2e-4
    column = analysis.links.index("hatch")
    ends = [analysis.pose(deg + way * h) for way in (-1.0, 1.0)]
    way = math.dist(*(pose.place(column, (1180.0, 255.0)) for pose in ends))
    slope = (energy(analysis, deg + h) - energy(analysis, deg - h)) / way
    assert effort == pytest.approx(slope, rel=2e-6)  # central difference: error falls with h²


@pytest.mark.parametrize("seed", OPENING)
def test_work_over_the_travel_is_the_energy_gained(seed: int) -> None:
    """∫ effort · way of the handle, by Gauss–Legendre between bends, on linkages made at random."""
    project = whole(chain(random.Random(seed), 1 + seed % 3)).project()
    panel, pins = project.panel.id, [pivot.at for pivot in project.pivots]
    (x, y), size = np.mean(pins, axis=0), float(np.ptp(pins))
    project = replace(project, travel=replace(project.travel, wanted_deg=3.0))
    at = (x + size, y)
    to = kinematics.analyse(project, 2).pose(0.01).place(project.link_index[panel], at)
    cushion = Cushion("stop", "bump stop", panel, at, 0.01 * size, bearing(at, to), force=80.0)
    loads = Loads(masses=(Mass(panel, 9.0, (x, y)),), handle=Handle(panel, (x + 1.3 * size, y)), cushions=(cushion,))
    analysis = kinematics.analyse(replace(project, loads=loads), 2)
    moved = analysis.sweep
    assert analysis.state == "moves"
    statics = Statics(loads, moved)
    cuts = np.unique(np.concatenate([[0.0], statics.cushions.bends, moved.fine_arcs(0.0, 2)]))
    nodes, weights = np.polynomial.legendre.leggauss(8)
    arcs = (cuts[:-1, None] + np.diff(cuts)[:, None] * 0.5 * (nodes + 1.0)).ravel()
    shares = (np.diff(cuts)[:, None] * 0.5 * weights).ravel()
    at = statics.at(moved.at_arcs(arcs))
    power = statics.power(at, statics.applied(at))
    # rates are unit tangents; arcs run along the tangent of the knot before, so dy/darc is that much longer
    group = moved.closure.group.tolist()
    y_rates = at.rates[:, [group.index(unknown + 1) for unknown in range(moved.closure.unknowns)]]
    along = np.einsum("ij,ij->i", moved.branch.tangents[moved.branch.interval(arcs)], y_rates)
    work = -float((power / along * shares).sum())
    gained = energy(analysis, moved.reached_deg) - energy(analysis, 0.0)
    assert work == pytest.approx(gained, rel=1e-7, abs=1e-6 * 9.8 * 9.0 * size)


def test_figures_dont_depend_on_how_many_poses_are_reported() -> None:
    moved = sweep(replace(demo_six_bar, loads=HATCH))
    project = replace(demo_six_bar, loads=HATCH)
    few, many = (
        load_figures(project, moved, moved.at_openings(np.linspace(0.0, moved.reached, count))) for count in (2, 3001)
    )
    assert few is not None
    assert many is not None
    assert few.largest == many.largest
    assert few.least == many.least
    assert few.largest is not None
    assert few.least is not None
    assert float(many.effort.max()) <= few.largest.force + 1e-9
    assert float(many.effort.min()) >= few.least.force - 1e-9


def test_a_release_between_the_first_two_knots_is_exact() -> None:
    """On a lid that turns about a pin, 900 mm out and 3 mm to go: asin(3/900)."""
    cushion = Cushion("stop", "bump stop", "lid", (900.0, 0.0), 3.0, force=80.0)
    moved = sweep(single_pivot)
    statics = Statics(Loads(cushions=(cushion,)), moved)
    assert statics.cushions.openings[0] == pytest.approx(math.asin(3.0 / 900.0), abs=1e-12)


def test_what_is_released_stays_so_though_its_place_comes_back() -> None:
    """A place that goes over the top of its circle comes down again behind, where there is nothing left to squeeze."""
    cushion = Cushion("stop", "bump stop", "lid", (100.0, 300.0), 3.0, force=80.0)
    project = replace(single_pivot, travel=replace(single_pivot.travel, wanted_deg=150.0))
    loads = Loads(handle=Handle("lid", (800.0, 0.0)), cushions=(cushion,))
    told = kinematics.analyse(replace(project, loads=loads), 151).loads
    assert told is not None
    assert told.effort[0] < -1.0
    assert not told.effort[2:].any()


def test_one_that_is_squeezed_further_gets_solid_and_is_told() -> None:
    cushion = Cushion("lip", "bump stop", "lid", (900.0, 0.0), 3.0, -90.0, force=80.0)
    loads = Loads(handle=Handle("lid", (800.0, 0.0)), cushions=(cushion,))
    analysis = kinematics.analyse(replace(single_pivot, loads=loads), 3)
    assert analysis.loads is not None
    assert analysis.loads.effort[0] == pytest.approx(90.0)
    assert np.abs(analysis.loads.effort).max() <= 180.0 + 1e-9
    assert any("“lip”" in remark and "squeezed" in remark for remark in analysis.remarks)


def test_one_on_the_fixed_link_pushes_nothing_and_is_told() -> None:
    cushion = Cushion("lip", "bump stop", "body", (900.0, 0.0), 3.0, force=80.0)
    loads = Loads(handle=Handle("lid", (800.0, 0.0)), cushions=(cushion,))
    analysis = kinematics.analyse(replace(single_pivot, loads=loads), 3)
    assert analysis.loads is not None
    assert not analysis.loads.effort.any()
    assert any("“lip”" in remark for remark in analysis.remarks)


def test_that_a_seal_lifts_it_a_little_is_no_rising_by_itself() -> None:
    """Pressed up by its stops when shut, it comes to lie on them at a part of a degree, and rests from there on."""
    wants = LiftWants(rests_until_deg=10.0)
    analysis = kinematics.analyse(replace(demo_six_bar, loads=replace(HATCH, wants=wants)), 3)
    told = analysis.loads
    assert told is not None
    assert told.effort[0] < 0.0
    assert 0.0 < told.balances[0].deg < told.let_go_deg < 1.0
    check = next(check for check in analysis.checks if check.kind == "rests")
    assert check.ok
    strong = replace(BUMP, force=4000.0, squeeze=500.0)  # no stop any more: a spring that throws the panel open
    thrown = kinematics.analyse(replace(demo_six_bar, loads=replace(HATCH, cushions=(strong,), wants=wants)), 3)
    assert not next(check for check in thrown.checks if check.kind == "rests").ok
