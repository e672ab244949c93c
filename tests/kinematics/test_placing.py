"""A pivot dragged at any pose stands under the hand there, the others keep their shut places; or nothing happens."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.placing import drag_pivot, stands_at
from tests import specimens
from tests.kinematics.making import PLAIN, plain

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project
    from kinematics.results import Pose

PINS = [pin.id for pin in specimens.demo_six_bar.pivots]


@pytest.fixture(scope="module")
def demo() -> Analysis:
    return kinematics.analyse(specimens.demo_six_bar, steps=5)


def standing(analysis: Analysis, pose: Pose, pivot: str) -> Point:
    pin = analysis.project.pivot(pivot)
    return pose.place(analysis.links.index(pin.joins[0]), pin.at)


def lands(moved: Project, pivot: str, deg: float, hand: Point) -> float:
    """How far from the hand the pivot stands at an opening, by a fresh analysis of the new project."""
    fresh = kinematics.analyse(moved, steps=2)
    assert fresh.opening.largest_deg >= deg
    y = fresh.sweep.at_openings(np.radians([deg]))
    pin = moved.pivot(pivot)
    column = fresh.links.index(pin.joins[0])
    z = fresh.sweep.shifts(y)[0, column] + np.exp(1j * fresh.sweep.link_turns(y)[0, column]) * complex(*pin.at)
    return math.dist((z.real, z.imag), hand)


@pytest.mark.parametrize("pivot", PINS)
@pytest.mark.parametrize("deg", [0.0, 30.0, 75.0])
@pytest.mark.parametrize("by", [(1.5, -0.7), (0.3, 0.2)])
def test_small_moves_land_under_the_hand(demo: Analysis, pivot: str, deg: float, by: tuple[float, float]) -> None:
    pose = demo.pose(deg)
    x, y = standing(demo, pose, pivot)
    hand = (x + by[0], y + by[1])
    moved = drag_pivot(demo.project, demo, pivot, pose, hand)
    assert moved is not None
    assert lands(moved, pivot, deg, hand) < 1e-6
    for pin in demo.project.pivots:
        if pin.id != pivot:
            assert moved.pivot(pin.id) is pin
    assert moved.outlines is demo.project.outlines


@pytest.mark.parametrize("pivot", PINS)
@pytest.mark.parametrize("deg", [0.0, 30.0, 75.0])
def test_wild_moves_land_or_do_nothing(demo: Analysis, pivot: str, deg: float) -> None:
    pose = demo.pose(deg)
    dice = np.random.default_rng(sum(map(ord, pivot)))
    x, y = standing(demo, pose, pivot)
    for reach in (15.0, 80.0, 500.0, 1e4):
        hand = (x + reach * float(dice.normal()), y + reach * float(dice.normal()))
        moved = drag_pivot(demo.project, demo, pivot, pose, hand)
        if moved is not None and not (deg == 0.0 or demo.project.fixed.id in demo.project.pivot(pivot).joins):
            assert lands(moved, pivot, deg, hand) < 1e-4


def test_moves_out_of_reach_are_refused(demo: Analysis) -> None:
    """By trying shut places all about, P1 at 30° comes no nearer than 1.8 mm to the first hand, X at 50° 0.4 mm."""
    for pivot, deg, by in (("P1", 30.0, (-2.0, 1.5)), ("X", 50.0, (6.0, 2.0)), ("B", 60.0, (5000.0, -4000.0))):
        pose = demo.pose(deg)
        x, y = standing(demo, pose, pivot)
        assert drag_pivot(demo.project, demo, pivot, pose, (x + by[0], y + by[1])) is None


def test_nothing_moved_nothing_changed(demo: Analysis) -> None:
    pose = demo.pose(42.0)
    for pivot in PINS:
        moved = drag_pivot(demo.project, demo, pivot, pose, standing(demo, pose, pivot))
        assert moved is not None
        assert moved.pivot(pivot).at == pytest.approx(demo.project.pivot(pivot).at, rel=0, abs=1e-6)


def test_there_and_back_again(demo: Analysis) -> None:
    """Dragged at a pose by steps and back: the pin has its old shut place."""
    pose, project, analysis = demo.pose(50.0), demo.project, demo
    start = standing(demo, pose, "X")
    for x, y in ((1.5, 0.5), (3.0, 1.0), (-1.0, 0.5), (0.0, 0.0)):
        moved = drag_pivot(project, analysis, "X", analysis.pose(50.0), (start[0] + x, start[1] + y))
        assert moved is not None
        project = moved
        analysis = kinematics.analyse(project, steps=2, near=analysis)
    assert project.pivot("X").at == pytest.approx(demo.project.pivot("X").at, rel=0, abs=1e-5)


def test_the_analysis_may_be_of_before_the_drag(demo: Analysis) -> None:
    """During a drag the hand's place counts from the pose that was grabbed, the project has moved on."""
    pose = demo.pose(35.0)
    x, y = standing(demo, pose, "Q")
    project = demo.project
    for by in (2.0, 5.0, 9.0):
        moved = drag_pivot(project, demo, "Q", pose, (x + by, y))
        assert moved is not None
        project = moved
    assert lands(project, "Q", 35.0, (x + 9.0, y)) < 1e-6


def test_at_shut_and_on_the_fixed_link_a_pivot_goes_where_it_is_put(demo: Analysis) -> None:
    moved = drag_pivot(demo.project, demo, "X", demo.pose(0.0), (130.0, 220.0))
    assert moved is not None
    assert moved.pivot("X").at == (130.0, 220.0)
    moved = drag_pivot(demo.project, demo, "O1", demo.pose(75.0), (150.0, 250.0))
    assert moved is not None
    assert moved.pivot("O1").at == (150.0, 250.0)


@pytest.mark.parametrize("seed", PLAIN[:8])
def test_random_linkages_land_too(seed: int) -> None:
    analysis = kinematics.analyse(plain(seed), steps=2)
    deg = 0.5 * analysis.opening.reached_deg
    pose, landed = analysis.pose(deg), 0
    for pin in analysis.project.pivots:
        x, y = standing(analysis, pose, pin.id)
        hand = (x + 0.3, y - 0.2)
        moved = drag_pivot(analysis.project, analysis, pin.id, pose, hand)
        if moved is not None:
            landed += 1
            assert lands(moved, pin.id, deg, hand) < 1e-6
    assert landed >= len(analysis.project.pivots) - 2


@pytest.mark.parametrize("name", ["locked_triangle", "loose_chain", "half_drawn", "unjoined_panel"])
def test_where_nothing_opens_pivots_move_at_shut(name: str) -> None:
    analysis = kinematics.analyse(specimens.ALL[name], steps=2)
    for pin in analysis.project.pivots:
        moved = drag_pivot(analysis.project, analysis, pin.id, analysis.pose(0.0), (12.0, -34.0))
        assert moved is not None
        assert moved.pivot(pin.id).at == (12.0, -34.0)


def test_a_sliding_panel_keeps_sliding_or_nothing_happens() -> None:
    analysis = kinematics.analyse(specimens.parallelogram, steps=2)
    pose = analysis.along(0.4)
    for pin in analysis.project.pivots:
        x, y = standing(analysis, pose, pin.id)
        moved = drag_pivot(analysis.project, analysis, pin.id, pose, (x + 0.5, y + 0.5))
        if moved is not None and "ground" not in pin.joins:
            assert kinematics.analyse(moved, steps=2).state == "slides"


def test_a_dead_point_pose_can_be_dragged_or_is_refused() -> None:
    """At the dead point itself the change is singular: no exception, and what comes back lands."""
    from tests.kinematics.making import four_bar

    analysis = kinematics.analyse(four_bar((40.0, 120.0, 80.0, 100.0), 40.0, wanted=180.0), steps=2)
    pose = analysis.pose(180.0)
    for pivot in ("A", "B"):
        x, y = standing(analysis, pose, pivot)
        moved = drag_pivot(analysis.project, analysis, pivot, pose, (x + 1.0, y + 1.0))
        if moved is not None:
            assert lands(moved, pivot, pose.deg, (x + 1.0, y + 1.0)) < 1e-4


def test_where_a_pivot_stands_in_a_changed_project(demo: Analysis) -> None:
    at = stands_at(demo.project, demo, "Q", 33.0)
    assert at == pytest.approx(standing(demo, demo.pose(33.0), "Q"), rel=0, abs=1e-8)
    assert stands_at(specimens.locked_triangle, demo, "C", 33.0) is None
