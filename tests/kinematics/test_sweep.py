"""The sweep against closed forms: dead points to 1e-6 degrees, openings exact and even, any link as the drive."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest

import kinematics
from kinematics.branch import curve_of
from kinematics.mobility import freedom
from kinematics.remarks import remarks
from kinematics.sweep import sweep, trace_link
from tests import specimens
from tests.kinematics.making import PLAIN, four_bar, mapped, open_meet, plain, pushed, residual_mm

A1 = (40.0, 120.0, 80.0, 100.0)


def rocker_dead_points(a: float, b: float, c: float, d: float) -> list[float]:
    """Angles of a rocker c (0 … π) at which crank and coupler are in line, so that it can turn no further: |B| = b ± a.

    B = d + c·exp(iψ), so |B|² = d² + c² + 2dc·cos ψ.
    """
    cosines = [(reach**2 - d**2 - c**2) / (2 * d * c) for reach in (b + a, abs(b - a))]
    return [math.acos(cosine) for cosine in cosines if abs(cosine) < 1]


def random_rockers(count: int) -> list[tuple[tuple[float, ...], float]]:
    """Four-bars and crank angles at which the rocker stands well between its dead points, above the ground."""
    dice, found = np.random.default_rng(21), []
    while len(found) < count:
        a, b, c, d = (float(length) for length in dice.uniform(25.0, 150.0, 4))
        theta = float(dice.uniform(0.0, 2 * math.pi))
        apart = abs(d - cmath.rect(a, theta))
        if not abs(b - c) + 3.0 < apart < b + c - 3.0:
            continue
        psi = cmath.phase(open_meet(a, b, c, d, theta) - d)
        ends = rocker_dead_points(a, b, c, d)
        if 0.1 < psi < 3.0 and len(ends) == 2 and min(ends) + 0.1 < psi < max(ends) - 0.1:
            found.append(((a, b, c, d), math.degrees(theta)))
    return found


@pytest.mark.parametrize(("lengths", "crank_deg"), random_rockers(24))
@pytest.mark.parametrize("opens", ["anticlockwise", "clockwise"])
def test_dead_points_of_random_rockers(lengths: tuple[float, ...], crank_deg: float, opens: str) -> None:
    """Both dead points, to 1e-6 degrees; there crank and coupler are in line, to what the root of the error leaves."""
    project = four_bar(lengths, crank_deg, opens=opens, wanted=180.0)
    psi = cmath.phase(open_meet(*lengths, math.radians(crank_deg)) - lengths[3])
    ends = rocker_dead_points(*lengths)
    far = max(ends) - psi if opens == "anticlockwise" else psi - min(ends)
    analysis = kinematics.analyse(project, steps=5)
    assert analysis.opening.ends == "dead point"
    assert analysis.opening.largest_deg == pytest.approx(math.degrees(far), rel=0, abs=1e-6)
    assert analysis.dead_point_deg == analysis.opening.largest_deg
    places = [complex(*analysis.pivot_paths[name][-1]) for name in ("O2", "A", "B")]
    crank, coupler = places[1] - places[0], places[2] - places[1]
    assert abs((crank.conjugate() * coupler).imag) < 1e-7 * abs(crank) * abs(coupler)


def test_a_dead_point_is_exact_wherever_the_knots_fall() -> None:
    """The same four-bar begun at many crank angles: always the same angle of the rocker."""
    found = []
    for crank_deg in np.linspace(35.0, 200.0, 12):
        analysis = kinematics.analyse(four_bar(A1, float(crank_deg), wanted=180.0), steps=2)
        psi = cmath.phase(open_meet(*A1, math.radians(crank_deg)) - 100.0)
        found.append(math.degrees(psi) + analysis.opening.largest_deg)
    assert found == pytest.approx([128.68218745] * 12, rel=0, abs=1e-7)


@pytest.mark.parametrize("steps", [2, 3, 181, 5000])
def test_openings_are_even_and_exact_near_a_dead_point(steps: int) -> None:
    """The dead point is at 71.357…; wanted is 0.0003 degrees before it, where the links turn with the square root."""
    largest = kinematics.analyse(specimens.four_bar_a1).opening.largest_deg
    wanted = largest - 3e-4
    analysis = kinematics.analyse(four_bar(A1, 40.0, wanted=wanted), steps=steps)
    assert analysis.opening.ends == "wanted opening"
    assert analysis.opening.reached_deg == wanted
    assert analysis.openings == pytest.approx(np.linspace(0.0, wanted, steps), rel=0, abs=1e-12)
    panel = analysis.links.index("rocker")
    assert np.degrees(analysis.turns[:, panel]) == pytest.approx(analysis.openings, rel=0, abs=1e-9)
    assert residual_mm(analysis) < 1e-9


@pytest.mark.parametrize("steps", [2, 181])
def test_openings_up_to_the_dead_point_itself(steps: int) -> None:
    analysis = kinematics.analyse(four_bar(A1, 40.0, wanted=90.0), steps=steps)
    panel = analysis.links.index("rocker")
    assert analysis.opening.reached_deg == analysis.opening.largest_deg == analysis.openings[-1]
    assert np.degrees(analysis.turns[:, panel]) == pytest.approx(analysis.openings, rel=0, abs=1e-9)
    assert residual_mm(analysis) < 1e-9


@pytest.mark.parametrize("seed", PLAIN)
def test_poses_do_not_depend_on_how_many_are_asked(seed: int) -> None:
    few, many = (kinematics.analyse(plain(seed), steps=steps) for steps in (4, 31))
    assert few.openings == pytest.approx(many.openings[::10], rel=0, abs=1e-12)
    # At a dead point the turns hang on the square root of the opening, so the last pose has half the digits.
    assert few.turns[:-1] == pytest.approx(many.turns[::10][:-1], rel=0, abs=1e-9)
    assert few.turns[-1] == pytest.approx(many.turns[-1], rel=0, abs=1e-9)


def test_the_largest_opening_may_lie_beyond_the_wanted_one() -> None:
    opening = kinematics.analyse(specimens.four_bar_a1).opening
    assert opening.ends == "wanted opening"
    assert opening.reached_deg == 70.0
    assert opening.largest_deg == pytest.approx(128.68218745 - 57.32488010, rel=0, abs=1e-6)


def test_a_panel_that_turns_on_and_on_opens_to_180() -> None:
    moved = sweep(specimens.single_pivot)
    assert (moved.largest_deg, moved.reached_deg, moved.folds) == (180.0, 80.0, False)


@pytest.mark.parametrize("seed", PLAIN[:6])
def test_a_mirror_changes_only_signs(seed: int) -> None:
    project = plain(seed)
    pins = tuple(replace(pin, at=(-pin.at[0], pin.at[1])) for pin in project.pivots)
    other = "clockwise" if project.travel.opens == "anticlockwise" else "anticlockwise"
    mirrored = replace(
        project, pivots=pins, travel=replace(project.travel, opens=other), outlines=(), marks=(), gaps=()
    )
    here, there = kinematics.analyse(project, steps=9), kinematics.analyse(mirrored, steps=9)
    assert there.opening.largest_deg == pytest.approx(here.opening.largest_deg, rel=0, abs=1e-7)
    assert there.turns[:-1] == pytest.approx(-here.turns[:-1], rel=0, abs=1e-8)


@pytest.mark.parametrize("seed", PLAIN[:6])
def test_turning_and_growing_the_drawing_changes_no_angle(seed: int) -> None:
    here = kinematics.analyse(plain(seed), steps=9)
    there = kinematics.analyse(mapped(plain(seed), 25.4 * np.exp(0.6458j), 700.0 - 300.0j), steps=9)
    assert there.opening.largest_deg == pytest.approx(here.opening.largest_deg, rel=0, abs=1e-7)
    assert there.turns[:-1] == pytest.approx(here.turns[:-1], rel=0, abs=1e-8)


# -------------------------------------------------------------------------------------------------------------- places


def test_arcs_and_openings_lead_to_each_other() -> None:
    moved = sweep(specimens.demo_six_bar)
    openings = np.radians(np.linspace(0.0, 75.0, 40))
    y = moved.at_openings(openings)
    arcs = moved.arcs_of(y)
    assert np.all(np.diff(arcs) > 0.0)
    assert moved.at_arcs(arcs) == pytest.approx(y, rel=0, abs=1e-10)
    assert moved.arcs_at(openings) == pytest.approx(arcs, rel=0, abs=1e-4)  # by the cubics


def test_fine_places_begin_exactly_where_a_want_holds_from() -> None:
    moved = sweep(specimens.demo_six_bar)
    places = moved.fine_arcs(12.5, 4)
    y = moved.at_arcs(places)
    openings = np.degrees(moved.sign * y[:, moved.panel])
    assert openings[0] == pytest.approx(12.5, rel=0, abs=1e-9)
    assert openings[-1] == pytest.approx(75.0, rel=0, abs=1e-9)
    assert np.all(np.diff(places) > 0.0)
    assert moved.fine_arcs(200.0, 4).tolist() == [moved.reach_arc] * 2


def test_a_sliding_panel_has_a_branch_both_ways() -> None:
    moved = sweep(specimens.parallelogram)
    assert (moved.reached, moved.ends) == (0.0, "dead point")
    assert moved.branch.arcs[0] < -1.0
    assert moved.branch.arcs[-1] > 1.0
    assert np.all(np.diff(moved.branch.arcs) > 0.0)
    assert np.abs(moved.branch.turns[np.flatnonzero(moved.branch.arcs == 0.0)[0]]).max() == 0.0
    assert np.abs(moved.branch.turns[:, moved.panel]).max() < 1e-5


def test_a_trace_that_gives_up_says_so() -> None:
    """Cut short before its dead point, a sweep doesn't pass for one that ends there."""
    moved = sweep(specimens.demo_six_bar)
    kept = slice(5)
    branch = replace(
        moved.branch,
        arcs=moved.branch.arcs[kept],
        turns=moved.branch.turns[kept],
        frames=moved.branch.frames.pick(kept),
    )
    short = replace(moved, branch=branch, largest=float(moved.knot_openings[4]), ends="dead point")
    assert short.given_up
    assert any("too fine to be followed" in sentence for sentence in remarks(specimens.demo_six_bar, short))
    for project in (specimens.demo_six_bar, specimens.four_bar_a1, specimens.change_point, specimens.peaucellier):
        assert not sweep(project).given_up


@pytest.mark.parametrize("push", np.linspace(4.38, 4.62, 9).round(3).tolist())
def test_a_panel_that_turns_back_between_two_knots_is_seen(push: float) -> None:
    """Where its rate dips to just about 0, between knots 0.12 rad apart, by 4000 poses of the whole motion.

    Pushed by 4.38 mm the pin leaves the panel opening on and on; pushed further, it turns back for a moment.
    """
    project = pushed(plain(1906), P1=1j * push)
    branch = trace_link(project, "L1", math.copysign(0.6, sweep(project).branch.tangents[0, 1]))
    assert branch is not None
    opening = sweep(project).sign * branch.at(np.linspace(0.0, 0.6, 4001))[:, sweep(project).panel]
    falls = np.flatnonzero(np.diff(opening) < 0.0)
    told = sweep(project).largest
    if len(falls):
        assert told == pytest.approx(float(opening[falls[0]]), rel=0, abs=1e-9)
    else:
        assert told >= opening[-1] - 1e-12


# ----------------------------------------------------------------------------------------------------- any link drives


def test_a_crank_drives_the_rocker_past_both_its_dead_points() -> None:
    """A full turn of the crank, which no sweep by the panel could give; every pose by the meet of two circles."""
    branch = trace_link(four_bar(A1, 40.0), "crank", 2 * math.pi)
    assert branch is not None
    rocker, crank, coupler = branch.turns.T
    assert crank[-1] >= 2 * math.pi
    shut = open_meet(*A1, math.radians(40.0))
    for turn, b, link in zip(crank, 100.0 + (shut - 100.0) * np.exp(1j * rocker), coupler, strict=True):
        expected = open_meet(*A1, math.radians(40.0) + turn)
        assert abs(b - expected) < 1e-9
        assert (
            abs(
                np.exp(1j * link) * (shut - cmath.rect(40.0, math.radians(40.0)))
                - (expected - cmath.rect(40.0, math.radians(40.0) + turn))
            )
            < 1e-9
        )
    assert len(np.flatnonzero(np.diff(np.sign(branch.tangents[:, 0])))) == 2  # both folds


def test_a_crank_drives_backwards() -> None:
    branch = trace_link(four_bar(A1, 40.0), "crank", -0.5)
    assert branch is not None
    assert branch.turns[-1, 1] <= -0.5
    assert np.all(np.diff(branch.turns[:, 1]) < 0.0)


def test_what_cannot_drive_gives_no_branch() -> None:
    assert trace_link(specimens.locked_triangle, "stay", 1.0) is None
    assert trace_link(specimens.parallelogram, "panel", 1.0) is None  # it slides without turning
    assert trace_link(specimens.loose_chain, "arm", 1.0) is None
    assert trace_link(specimens.four_bar_a1, "ground", 1.0) is None


# ----------------------------------------------------------------------------------------------------------- following


def test_an_earlier_sweep_of_another_linkage_is_no_guess() -> None:
    """Other links, other joints, another way to open, another panel: all the same as without."""
    near = sweep(specimens.demo_six_bar)
    for project in (specimens.watt_a21, specimens.four_bar_a1, specimens.single_pivot, specimens.locked_triangle):
        cold, warm = sweep(project), sweep(project, near)
        assert np.array_equal(cold.branch.turns, warm.branch.turns)
        assert (cold.reached, cold.ends) == (warm.reached, warm.ends)


def test_a_followed_sweep_reaches_on_where_the_dead_point_moves_away() -> None:
    before = four_bar((40.0, 120.0, 80.0, 100.0), 40.0, wanted=180.0)
    near = sweep(before)
    after = pushed(before, O4=-9.0 + 6.0j)
    cold, warm = sweep(after), sweep(after, near)
    assert warm.largest == pytest.approx(cold.largest, rel=0, abs=1e-12)
    assert warm.branch.turns[-1] == pytest.approx(cold.branch.turns[-1], rel=0, abs=1e-9)
    assert abs(warm.largest_deg - near.largest_deg) > 0.5


def test_knots_do_not_pile_up_where_the_dead_point_moves_on_and_on() -> None:
    """Eighty small drags, each of which puts the dead point further out."""
    project = four_bar((40.0, 120.0, 80.0, 100.0), 40.0, wanted=180.0)
    near = sweep(project)
    for _ in range(80):
        project = pushed(project, O4=-0.05 + 0.02j)
        near = sweep(project, near)
    fresh = sweep(project)
    assert len(near.branch.arcs) <= len(fresh.branch.arcs) + 3
    assert near.largest == pytest.approx(fresh.largest, rel=0, abs=1e-12)


def test_half_drawn_linkages_are_followed_too() -> None:
    """A link that hangs costs no fresh trace."""
    near = sweep(specimens.hanging_link)
    project = pushed(specimens.hanging_link, A=0.5 + 0.5j)
    warm, cold = sweep(project, near), sweep(project)
    assert np.abs(warm.branch.turns[5] - near.branch.turns[5]).max() > 1e-4
    assert not np.array_equal(warm.branch.arcs[:9], cold.branch.arcs[:9])  # its knots are near's, moved
    assert warm.largest == pytest.approx(cold.largest, rel=0, abs=1e-12)
    assert warm.freedom.free == ("stay",)


def test_one_more_freedom_is_noticed_where_a_guess_is_given() -> None:
    near = sweep(specimens.twin_arms)
    assert near.branch.curve.redundant
    project = pushed(specimens.twin_arms, O3=0.5j)
    assert freedom(project).state == "locked"
    assert sweep(project, near).ends == "locked"
    assert curve_of(freedom(project).closure).redundant
