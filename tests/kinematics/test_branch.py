"""Frames, rooms, cubics and Newton: what `branch` promises of the curve, held against the curve itself."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.branch import Branch, Curve, Frames, curve_of, frames, newton_step, solve_on, solved, tangents_at
from kinematics.mobility import freedom
from tests import specimens
from tests.kinematics.making import PLAIN, plain

if TYPE_CHECKING:
    from kinematics.project import Project

SOME = {
    "four-bar": specimens.four_bar_a1,
    "demo": specimens.demo_six_bar,
    "Watt": specimens.watt_a21,
    "twin arms": specimens.twin_arms,
    **{f"seed {seed}": plain(seed) for seed in PLAIN[:6]},
}

WITHOUT_FORK = [name for name in SOME if name != "Watt"]
"""Across a fork nothing is proved; the Watt chain has one far on."""


def branch_of(project: Project) -> Branch:
    return kinematics.analyse(project, steps=2).sweep.branch


@pytest.fixture(params=SOME)
def branch(request: pytest.FixtureRequest) -> Branch:
    return branch_of(SOME[request.param])


def test_knots_are_poses_and_tangents_keep_them_so(branch: Branch) -> None:
    assert np.abs(branch.curve.residual(branch.turns)).max() <= branch.curve.accepted
    assert np.linalg.norm(branch.tangents, axis=1) == pytest.approx(1.0, abs=1e-12)
    moved = np.einsum("mrj,mj->mr", branch.curve.jacobian(branch.turns), branch.tangents)
    assert np.abs(moved).max() < 1e-9 * branch.curve.size


def test_arcs_are_measured_along_the_tangents(branch: Branch) -> None:
    steps = np.einsum("ij,ij->i", branch.tangents[:-1], np.diff(branch.turns, axis=0))
    assert np.diff(branch.arcs) == pytest.approx(steps, rel=0, abs=1e-12)
    assert steps.min() > 0.0
    assert 0.0 in branch.arcs


def test_cubics_meet_the_knots_and_their_tangents(branch: Branch) -> None:
    assert branch.cubic(branch.arcs) == pytest.approx(branch.turns, rel=0, abs=1e-14)
    inner, step = branch.arcs[1:-1], 1e-6
    before, after = branch.cubic(inner - step), branch.cubic(inner + step)
    slope = (after - branch.turns[1:-1]) / step  # measured along the tangent that begins there
    assert slope == pytest.approx(branch.tangents[1:-1], rel=0, abs=1e-3)
    rates = (branch.turns[1:-1] - before) / step
    rates /= np.linalg.norm(rates, axis=1, keepdims=True)
    assert rates == pytest.approx(branch.tangents[1:-1], rel=0, abs=1e-3)


def test_rates_are_what_the_cubics_change_by(branch: Branch) -> None:
    knots, step = np.arange(len(branch.arcs) - 1), 1e-5
    middles = 0.5 * (branch.arcs[:-1] + branch.arcs[1:])
    turns, rates = branch.cubic_and_rates(middles, knots)
    assert turns == pytest.approx(branch.cubic(middles), rel=0, abs=1e-15)
    slope = (branch.cubic(middles + step) - branch.cubic(middles - step)) / (2.0 * step)
    assert rates == pytest.approx(slope, rel=0, abs=1e-7)
    assert branch.cubic_and_rates(branch.arcs[1:], knots)[1] == pytest.approx(branch.end_rates, rel=0, abs=1e-9)


def test_a_place_belongs_to_the_knot_before_it_and_beyond_the_ends_to_the_last_interval_there(branch: Branch) -> None:
    first, last = branch.arcs[0], branch.arcs[-1]
    assert branch.interval(branch.arcs[:-1]).tolist() == list(range(len(branch.arcs) - 1))
    assert branch.interval(np.array([first - 1.0, last, last + 1.0])).tolist() == [0, *2 * [len(branch.arcs) - 2]]


def test_poses_between_knots_are_exact_and_lie_in_their_planes(branch: Branch) -> None:
    arcs = np.sort(np.random.default_rng(4).uniform(branch.arcs[0], branch.arcs[-1], 80))
    y, i = branch.at(arcs), branch.interval(arcs)
    assert np.abs(branch.curve.residual(y)).max() <= branch.curve.accepted
    along = np.einsum("ij,ij->i", branch.tangents[i], y - branch.turns[i])
    assert along == pytest.approx(arcs - branch.arcs[i], rel=0, abs=1e-12)


@pytest.mark.parametrize("branch", WITHOUT_FORK, indirect=True)
def test_no_pose_of_the_curve_leaves_the_room(branch: Branch) -> None:
    """The room that is proved for a step holds the whole way up to it."""
    steps = np.diff(branch.arcs)
    room, proved = branch.frames.pick(slice(-1)).room(steps)
    assert proved.all()
    for share in (0.25, 0.5, 0.75, 1.0):
        y = branch.at(branch.arcs[:-1] + share * steps * (1 - 1e-12))
        strayed = np.abs(y - branch.turns[:-1] - (share * steps)[:, None] * branch.tangents[:-1])
        assert np.all(strayed <= room + 1e-11)


@pytest.mark.parametrize("branch", WITHOUT_FORK, indirect=True)
def test_derivatives_are_bounded(branch: Branch) -> None:
    """The curve between knots, differentiated four times by differences, stays below the four bounds."""
    steps = np.diff(branch.arcs)
    bounds = branch.frames.pick(slice(-1)).derivatives(steps)
    shares = np.arange(9) / 8.0
    y = np.stack([branch.at(branch.arcs[:-1] + share * steps * (1 - 1e-12)) for share in shares])
    wide = steps > 0.02  # or rounding drowns the fourth differences
    for order, bound in enumerate(bounds, start=1):
        found = np.abs(np.diff(y, n=order, axis=0)).max(axis=(0, 2)) / (steps / 8.0) ** order
        assert np.all(found[wide] <= bound[wide] * (1 + 1e-6) + 1e-3)


@pytest.mark.parametrize("branch", WITHOUT_FORK, indirect=True)
def test_the_cubics_miss_by_no_more_than_their_remainder(branch: Branch) -> None:
    steps = np.diff(branch.arcs)
    fourth = branch.frames.pick(slice(-1)).derivatives(steps)[3]
    middles = branch.arcs[:-1] + 0.5 * steps
    missed = np.abs(branch.cubic(middles) - branch.at(middles)).max(axis=1)
    assert np.all(missed <= fourth * steps**4 / 384.0 + 1e-12)


def test_the_sway_bounds_how_the_jacobian_changes() -> None:
    """|M·(J(y) − J)| ≤ sway·|y − y_i|, entry by entry, for y at will."""
    branch = branch_of(specimens.demo_six_bar)
    dice = np.random.default_rng(8)
    for k in (0, 7, 20):
        y, tangent = branch.turns[k : k + 1], branch.tangents[k : k + 1]
        there = frames(branch.curve, y, tangent)
        inverse = solved(branch.curve, y, tangent, np.eye(y.shape[1])[None])[:, :, :-1]
        here = flat(branch.curve.jacobian(y))
        for _ in range(20):
            away = dice.normal(size=y.shape) * 10.0 ** dice.uniform(-3, 0.5)
            change = np.abs(inverse @ (flat(branch.curve.jacobian(y + away)) - here))
            assert np.all(change <= there.sway * np.abs(away)[:, None, :] + 1e-12)


def flat(jacobian: np.ndarray) -> np.ndarray:
    """(poses, rows, unknowns) complex as (poses, 2·rows, unknowns) real."""
    return np.concatenate([jacobian.real, jacobian.imag], axis=1)


def test_newton_doubles_its_digits() -> None:
    """The residual falls with its square: from 1e-2 of the size to rounding in three steps."""
    curve = curve_of(freedom(specimens.watt_a21).closure)
    branch = branch_of(specimens.watt_a21)
    y, plane = branch.turns[3:4] + 1e-2, branch.tangents[3:4]
    lacks = []
    for _ in range(4):
        residual = curve.residual(y)
        lacks.append(float(np.abs(residual).max()) / curve.size)
        y = y - newton_step(curve, y, residual, plane)
    for before, after in itertools.pairwise(lacks):
        assert after <= 20.0 * before**2 + 1e-14
    assert lacks[-1] < 1e-12


def test_what_cannot_close_comes_back_unclosed() -> None:
    """A four-bar asked for a crank far beyond its reach: no exception; the residual tells."""
    closure = freedom(specimens.four_bar_a1).closure
    curve = curve_of(closure)
    start = np.zeros((1, 3))
    start[0, 0] = 2.5
    plane = np.array([[1.0, 0.0, 0.0]])
    assert np.abs(curve.residual(solve_on(curve, start, plane))).max() > 1.0


def test_redundant_rows_are_solved_by_least_squares() -> None:
    branch = branch_of(specimens.three_parallel_cranks)
    assert branch.curve.redundant
    y = branch.turns[4:5] + 1e-3
    closed = solve_on(branch.curve, y, branch.tangents[4:5])
    assert np.abs(branch.curve.residual(closed)).max() <= branch.curve.accepted


def test_a_singular_frame_proves_nothing_and_raises_nothing() -> None:
    """All links of a parallelogram in line: two curves cross there."""
    curve = curve_of(freedom(specimens.change_point).closure)
    flat_pose = np.radians(np.array([[-60.0, -60.0, 0.0]]))
    found = frames(curve, flat_pose, np.array([[-0.7, -0.7, 0.0]]))
    assert np.isfinite(found.sway).all()
    assert not found.room(np.array([1e-4]))[1].any()


def test_tangents_look_the_way_they_are_told() -> None:
    branch = branch_of(specimens.demo_six_bar)
    back = tangents_at(branch.curve, branch.turns, -branch.tangents)
    assert back == pytest.approx(-branch.tangents, rel=0, abs=1e-12)


def test_frames_backwards_and_joined() -> None:
    there = branch_of(specimens.four_bar_a1).frames
    twice = there.backwards().backwards()
    assert np.array_equal(twice.tangents, there.tangents)
    assert np.array_equal(twice.sway, there.sway)
    both = there.pick(slice(3)).then(there.pick(slice(3, None)))
    assert np.array_equal(both.curl, there.curl)
    assert isinstance(both, Frames)


def test_tolerances_follow_the_size_within_bounds() -> None:
    """Residuals of a large linkage stay within 1e-9 mm, those of a tiny one within its own digits."""
    rows = np.zeros((1, 3), dtype=np.complex128)
    large, tiny = Curve(rows, 2000.0, redundant=False), Curve(rows, 1e-3, redundant=False)
    assert large.accepted <= 1e-9
    assert tiny.accepted <= 1e-12
    assert tiny.solved < tiny.accepted
