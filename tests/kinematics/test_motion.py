"""Rates, instant centres, transmission angles and sensitivities against differences and textbook formulas."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.branch import newton_step
from kinematics.closure import maps
from kinematics.motion import place_gradient, rates, tangents, transmitter, two_pin_links
from kinematics.sweep import sweep
from tests import specimens
from tests.kinematics.making import PLAIN, four_bar, open_meet, plain, pushed

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.sweep import Sweep

A1 = (40.0, 120.0, 80.0, 100.0)


def between(one: complex, other: complex) -> float:
    """Angle of two lines, 0 … 90 degrees."""
    angle = abs(math.degrees(cmath.phase(one / other)))
    return min(angle, 180.0 - angle)


def folded(cosine: float) -> float:
    angle = math.degrees(math.acos(cosine))
    return min(angle, 180.0 - angle)


# ------------------------------------------------------------------------------------------------- transmission angles


def exact_angles(project: Project, degrees: np.ndarray) -> tuple[set[str], np.ndarray]:
    """The links that transmit, and their angles at openings."""
    moved = sweep(project)
    links = transmitter(project, moved)
    assert links is not None
    y = moved.at_openings(np.radians(degrees))
    return set(links.names), links.angles(moved.arcs_of(y), y)


@pytest.mark.parametrize("opens", ["anticlockwise", "clockwise"])
def test_a_driven_crank_has_alts_angle_between_coupler_and_rocker(opens: str) -> None:
    """By the cosine: cos μ = (b² + c² − a² − d² + 2ad·cos θ)/(2bc); Alt 1932, Norton ch. 4.10 (from memory)."""
    a, b, c, d = A1
    degrees, sign = np.linspace(0.0, 100.0, 41), 1.0 if opens == "anticlockwise" else -1.0
    links, angles = exact_angles(four_bar(A1, 40.0, "crank", opens, 100.0), degrees)
    theta = np.radians(40.0 + sign * degrees)
    expected = [folded((b * b + c * c - a * a - d * d + 2 * a * d * math.cos(t)) / (2 * b * c)) for t in theta]
    assert links == {"coupler", "rocker"}
    for column in range(2):
        assert angles[:, column] == pytest.approx(expected, rel=0, abs=1e-8)


def test_a_driven_rocker_has_the_angle_between_coupler_and_crank() -> None:
    """The link that is driven counts, not "link 2": cos μ = (a² + b² − |B|²)/(2ab), B on the rocker's circle."""
    a, b, c, d = A1
    degrees = np.linspace(0.0, 70.0, 36)
    links, angles = exact_angles(four_bar(A1, 40.0, "rocker", wanted=70.0), degrees)
    psi = cmath.phase(open_meet(*A1, math.radians(40.0)) - d) + np.radians(degrees)
    expected = [folded((a * a + b * b - abs(d + cmath.rect(c, p)) ** 2) / (2 * a * b)) for p in psi]
    assert links == {"coupler", "crank"}
    for column in range(2):
        assert angles[:, column] == pytest.approx(expected, rel=0, abs=1e-7)


def test_a_driven_coupler_has_the_angle_between_its_cranks() -> None:
    project = four_bar((90.0, 60.0, 70.0, 100.0), 75.0, "coupler", "clockwise", 25.0)
    analysis, degrees = kinematics.analyse(project, steps=2), np.linspace(0.0, 25.0, 11)
    assert analysis.opening.ends == "wanted opening"
    links, found = exact_angles(project, degrees)
    assert links == {"crank", "rocker"}
    for deg, angles in zip(degrees, found, strict=True):
        pose = analysis.pose(float(deg))
        at = {pin.id: complex(*pose.place(analysis.links.index(pin.joins[1]), pin.at)) for pin in project.pivots}
        assert angles == pytest.approx([between(at["A"] - at["O2"], at["B"] - at["O4"])] * 2, rel=0, abs=1e-7)


@pytest.mark.parametrize("project", [specimens.demo_six_bar, specimens.watt_a21, specimens.four_bar_a1])
def test_what_is_drawn_of_them_is_near_enough_and_reaches_from_end_to_end(project: Project) -> None:
    """The lane is read off the cubics: within 0.01 degrees. The smallest is exact and no sample lies below it."""
    analysis = kinematics.analyse(project)
    told = analysis.transmission
    assert told is not None
    assert told.openings[[0, -1]] == pytest.approx([0.0, analysis.opening.reached_deg], rel=0, abs=0)
    inside = told.openings <= analysis.opening.reached_deg
    _, exact = exact_angles(project, told.openings[inside])
    assert told.angles[inside] == pytest.approx(exact, rel=0, abs=0.01)
    _, fine = exact_angles(project, np.linspace(0.0, analysis.opening.reached_deg, 2000))
    assert told.smallest_deg <= fine.min() + 1e-9
    assert told.smallest_deg == pytest.approx(fine.min(), rel=0, abs=1e-3)
    _, there = exact_angles(project, np.array([told.at_deg]))
    assert there[0, told.links.index(told.link)] == pytest.approx(told.smallest_deg, rel=0, abs=1e-6)


def test_the_smallest_lies_between_poses_too() -> None:
    """A turning crank: the least angle is at 180°, 26.38432975° at 0°: typed from check A7 of the outside tests."""
    told = kinematics.analyse(four_bar(A1, 321.3, "crank", "anticlockwise", 100.0), steps=4).transmission
    assert told is not None
    assert told.smallest_deg == pytest.approx(26.38432975, rel=0, abs=1e-8)
    assert told.at_deg == pytest.approx(360.0 - 321.3, rel=0, abs=1e-4)


def test_at_a_dead_point_the_angle_is_0() -> None:
    analysis = kinematics.analyse(four_bar(A1, 40.0, "rocker", wanted=180.0))
    assert analysis.opening.ends == "dead point"
    assert analysis.transmission is not None
    assert analysis.transmission.smallest_deg == pytest.approx(0.0, abs=1e-6)
    assert analysis.transmission.angles[-1] == pytest.approx([0.0, 0.0], rel=0, abs=1e-6)
    assert analysis.transmission.at_deg == analysis.dead_point_deg


@pytest.mark.parametrize("seed", [seed for seed in PLAIN[:10] if seed != 67])
def test_the_definition_holds_for_any_linkage(seed: int) -> None:
    """Its cotangent is ℓ·|dθ/dℓ|: the link made longer by a hair, the panel held, by a sweep of the longer linkage."""
    project = plain(seed)
    moved = sweep(project)
    links = transmitter(project, moved)
    assert links is not None  # seed 67 has no link with two pins
    opening = 0.37 * moved.reached
    y = moved.at_openings(np.array([opening]))
    told = links.angles(moved.arcs_of(y), y)[0]
    listed = {column: (near, far) for column, near, far in two_pin_links(project, moved.closure)}
    for k, column in enumerate(links.links):
        near, far = (project.pivots[pin] for pin in listed[column])
        length = abs(complex(*far.at) - complex(*near.at))
        hair = 1e-5 * length
        turned = [_turn_when_stretched(moved, column, listed[column], way * hair, opening) for way in (1.0, -1.0)]
        rate = abs(turned[0] - turned[1]) / (2.0 * hair)
        assert told[k] == pytest.approx(math.degrees(math.atan2(1.0, length * rate)), rel=0, abs=1e-3)


def _turn_when_stretched(moved: Sweep, column: int, pins: tuple[int, int], by: float, opening: float) -> float:
    """Turn of a link at an opening of the panel once this link alone is longer; the loops made anew, by hand."""
    closure = moved.closure
    near, far = closure.places[pins[0]], closure.places[pins[1]]
    longer = far + by * (far - near) / abs(far - near)
    ends = np.array([closure.places[joint.pivot] for joint in closure.joints])
    first, second = ends.copy(), ends.copy()
    for k, joint in enumerate(closure.joints):
        if joint.pivot == pins[1]:
            first[k] = longer if joint.first == column else first[k]
            second[k] = longer if joint.second == column else second[k]
    shift_map, loops = maps(closure.walk, closure.joints, first, second)
    other = replace(closure, shift_map=shift_map, loops=loops)
    curve = replace(moved.branch.curve, loops=other.by_group(loops)[closure.lively])
    y = moved.at_openings(np.array([opening]))
    held = np.zeros_like(y)
    held[0, moved.panel] = 1.0
    for _ in range(4):
        y = y - newton_step(curve, y, curve.residual(y), held)
    return float(closure.link_turns(y)[0, column])


def test_links_with_other_than_two_pins_transmit_nothing() -> None:
    moved = sweep(specimens.demo_six_bar)
    names = {moved.closure.links[column] for column, _, _ in two_pin_links(specimens.demo_six_bar, moved.closure)}
    assert names == {"short link", "lift link"}
    assert transmitter(specimens.single_pivot, sweep(specimens.single_pivot)) is None
    assert transmitter(specimens.twin_arms, sweep(specimens.twin_arms)) is None


# --------------------------------------------------------------------------------------------------- rates and centres


@pytest.mark.parametrize("project", [specimens.demo_six_bar, specimens.four_bar_a1, plain(PLAIN[0]), plain(PLAIN[5])])
def test_rates_are_derivatives_by_the_opening(project: Project) -> None:
    """Central differences of turns and shifts; halving the step quarters the error."""
    moved = sweep(project)
    opening = np.array([0.4 * moved.reached])
    y = moved.at_openings(opening)
    told = rates(moved, y)

    def error(step: float) -> float:
        after, before = moved.at_openings(opening + step), moved.at_openings(opening - step)
        turns = (moved.link_turns(after) - moved.link_turns(before)) / (2 * step)
        shifts = (moved.shifts(after) - moved.shifts(before)) / (2 * step)
        apart = np.abs(shifts - told.shifts).max() / moved.closure.size
        return max(float(np.abs(turns - told.turns).max()), float(apart))

    step = 0.02 * moved.reached
    assert error(step) / error(0.5 * step) == pytest.approx(4.0, rel=0.1)
    assert error(0.01 * step) < 1e-5


def test_the_panels_own_rate_is_its_sign() -> None:
    for name, sign in (("demo_six_bar", 1.0), ("watt_a21", -1.0)):
        moved = sweep(specimens.ALL[name])
        told = rates(moved, moved.at_openings(np.array([0.1])))
        assert told.turns[0, moved.closure.panel] == pytest.approx(sign, rel=0, abs=1e-12)
        assert told.turns[0, moved.closure.fixed] == 0.0


def test_an_instant_centre_is_carried_alike_by_both_links() -> None:
    analysis = kinematics.analyse(specimens.watt_a21)
    pose, step = analysis.pose(7.0), 1e-4
    after, before = analysis.pose(7.0 + step), analysis.pose(7.0 - step)
    for one, other in (("panel", "crank"), ("yoke", "lever"), ("panel", "yoke"), ("strap", "crank")):
        centre = analysis.instant_centre(pose, one, other)
        assert centre is not None
        moves = []
        for name in (one, other):
            k = analysis.links.index(name)
            shut = (complex(*centre) - pose.shifts[k]) * np.exp(-1j * pose.turns[k])
            moves.append(
                complex(*after.place(k, specimens.xy(complex(shut))))
                - complex(*before.place(k, specimens.xy(complex(shut))))
            )
        assert abs(moves[0] - moves[1]) < 1e-7 * max(1.0, abs(moves[0]))


def test_the_centre_of_two_links_on_a_pin_is_the_pin() -> None:
    analysis = kinematics.analyse(specimens.demo_six_bar)
    pose = analysis.pose(40.0)
    for pin in specimens.demo_six_bar.pivots:
        centre = analysis.instant_centre(pose, *pin.joins)
        assert centre == pytest.approx(pose.place(analysis.links.index(pin.joins[0]), pin.at), rel=0, abs=1e-8)


def test_links_that_move_alike_have_their_centre_at_infinity() -> None:
    analysis = kinematics.analyse(specimens.change_point)
    assert analysis.instant_centre(analysis.pose(20.0), "coupler", "ground") is None
    assert analysis.instant_centre(analysis.pose(20.0), "panel", "crank") is None


def test_the_tangent_looks_on_from_shut() -> None:
    moved = sweep(specimens.demo_six_bar)
    y = moved.at_openings(np.radians([0.0, 20.0, 60.0]))
    assert np.all(moved.sign * tangents(moved, y)[:, moved.panel] > 0.0)
    still = sweep(specimens.locked_triangle)
    assert np.all(tangents(still, np.zeros((2, 2))) == 0.0)


# ------------------------------------------------------------------------------------------------------- sensitivities


@pytest.mark.parametrize("pivot", range(7))
def test_the_place_gradient_is_the_derivative_by_the_shut_place(pivot: int) -> None:
    """The demo with the pin pushed by ±h, swept anew; where the pin then stands at the same openings, 10° and 55°."""
    project = specimens.demo_six_bar
    moved, pin = sweep(project), project.pivots[pivot]
    column = moved.closure.links.index(pin.joins[0])
    openings = np.radians([10.0, 55.0])
    poses = moved.at_openings(openings)
    held = np.zeros_like(poses[0])
    held[moved.panel] = 1.0
    found = [place_gradient(moved, y, pivot, column, held) for y in poses]

    def stands(push: complex) -> np.ndarray:
        other = sweep(pushed(project, **{pin.id: push}))
        there = other.at_openings(openings)
        at = complex(*pin.at) + push
        return np.asarray(other.shifts(there)[:, column] + np.exp(1j * other.link_turns(there)[:, column]) * at)

    def differences(step: float) -> np.ndarray:
        ways = [(stands(step * way) - stands(-step * way)) / (2 * step) for way in (1.0, 1j)]
        return np.stack([[way.real for way in ways], [way.imag for way in ways]]).transpose(2, 0, 1)

    assert np.array([place for place, _ in found]) == pytest.approx(stands(0j), rel=0, abs=1e-9)
    changes = np.array([change for _, change in found])
    assert changes == pytest.approx(differences(1e-3), rel=0, abs=1e-5)
    coarse, fine = (np.abs(differences(step) - changes).max(axis=(1, 2)) for step in (0.8, 0.4))
    bent = fine > 1e-7
    assert coarse[bent] / fine[bent] == pytest.approx(4.0, rel=0.1)


def test_at_shut_a_pin_stands_where_it_is_put() -> None:
    moved = sweep(specimens.demo_six_bar)
    y = np.zeros(5)
    held = np.zeros(5)
    held[moved.panel] = 1.0
    for pivot in range(7):
        column = moved.closure.links.index(specimens.demo_six_bar.pivots[pivot].joins[1])
        place, change = place_gradient(moved, y, pivot, column, held)
        assert place == pytest.approx(complex(*specimens.demo_six_bar.pivots[pivot].at), rel=0, abs=1e-10)
        assert change == pytest.approx(np.eye(2), rel=0, abs=1e-10)
