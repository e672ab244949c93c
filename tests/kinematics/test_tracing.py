"""Tracing: the certificate keeps assemblies apart, forks are leapt straight on, old knots are followed or refused."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.branch import curve_of, frames
from kinematics.closure import build
from kinematics.mobility import freedom, shut_tangent
from kinematics.sweep import sweep
from kinematics.tracing import MOST_KNOTS, certified, follow, trace
from tests import specimens
from tests.kinematics.making import PLAIN, plain, pushed

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.branch import Branch, Curve


def never(_: np.ndarray, __: np.ndarray) -> bool:
    return False


def turned_by(rad: float, unknown: int = 0) -> Callable[[np.ndarray, np.ndarray], bool]:
    return lambda y, _: bool(abs(y[unknown]) >= rad)


def from_shut(name: str, rad: float = 0.6, unknown: int = 0) -> Branch:
    closure = freedom(specimens.ALL[name]).closure
    heading = shut_tangent(closure) * math.copysign(1.0, shut_tangent(closure)[unknown])
    return trace(curve_of(closure), np.zeros(closure.unknowns), heading, turned_by(rad, unknown))


# ----------------------------------------------------------------------------------------- two assemblies 0.7 mm apart


def other_assembly() -> np.ndarray:
    """The second of Stephenson III's six assemblies with the panel where it is at shut, as turns from shut.

    Check A12 of the outside tests: drive at 20.297484122 instead of 11.582437783 degrees, C at (2.682…, 3.447…) × 10.
    """
    pins = {pin.id: complex(*pin.at) for pin in specimens.stephenson_iii.pivots}
    driver = math.radians(20.297484122 - 11.582437783)
    a, c = pins["A"] * cmath.exp(1j * driver), 26.82278795 + 34.47875091j
    coupler = cmath.phase((c - a) / (pins["C"] - pins["A"]))
    b = a + (pins["B"] - pins["A"]) * cmath.exp(1j * coupler)
    rocker = cmath.phase((b - pins["O4"]) / (pins["B"] - pins["O4"]))
    bar = cmath.phase((c - pins["D"]) / (pins["C"] - pins["D"]))
    return np.array([0.0, driver, coupler, rocker, bar])  # panel driver coupler rocker bar


def test_the_other_assembly_is_one_and_near() -> None:
    curve = curve_of(freedom(specimens.stephenson_iii).closure)
    y = other_assembly()
    assert np.abs(curve.residual(y[None])).max() < 1e-6
    assert 0.1 < np.abs(y).max() < 1.0


def test_knots_of_two_assemblies_never_pass_for_neighbours() -> None:
    """Branches through both, both ways on: no knot of one and no knot of the other are certified as neighbours."""
    closure = freedom(specimens.stephenson_iii).closure
    curve, tangent = curve_of(closure), shut_tangent(closure)
    y = other_assembly()
    one = [trace(curve, np.zeros(5), way * tangent, turned_by(0.3), 60) for way in (1, -1)]
    other = [trace(curve, y, way * tangent, turned_by(0.3), 60) for way in (1, -1)]
    pairs = 0
    for here in one:
        for there in other:
            for p, t in zip(here.turns, here.tangents, strict=True):
                near = np.argmin(np.abs(there.turns - p).sum(axis=1))
                q, s = there.turns[near], there.tangents[near]
                for knots, ways in ((np.stack([p, q]), np.stack([t, s])), (np.stack([q, p]), np.stack([s, t]))):
                    for sign in (1.0, -1.0):
                        assert certified(curve, knots, frames(curve, knots, sign * ways)) is None
                        pairs += 1
    assert pairs > 100


def test_neighbours_on_one_branch_do_pass() -> None:
    branch = from_shut("stephenson_iii", 0.3)
    again = certified(branch.curve, branch.turns, branch.frames)
    assert again is not None
    assert again.arcs == pytest.approx(branch.arcs, rel=0, abs=1e-12)


def test_knots_out_of_order_or_too_far_apart_do_not_pass() -> None:
    branch = from_shut("demo_six_bar", 1.0)
    some = branch.turns[::5]
    assert certified(branch.curve, some, frames(branch.curve, some, branch.tangents[::5])) is None
    back = branch.turns[::-1]
    assert certified(branch.curve, back, frames(branch.curve, back, branch.tangents[::-1])) is None


# --------------------------------------------------------------------------------------------------------------- forks


def test_a_fork_is_leapt_straight_on() -> None:
    """A parallelogram's links come into line; beyond, it is a parallelogram still: the coupler hasn't turned."""
    branch = from_shut("change_point", 2.4)
    panel, crank, coupler = branch.turns.T
    assert len(branch.forks) == 1
    assert panel[-1] >= 2.4
    assert np.abs(panel - crank).max() < 1e-9
    assert np.abs(coupler).max() < 1e-6
    at_fork = np.degrees(abs(branch.cubic(np.array(branch.forks))[0, 0]))
    assert at_fork == pytest.approx(120.0, abs=0.05)


@pytest.mark.parametrize("seed", range(6))
def test_forks_are_leapt_wherever_parallelograms_are_drawn(seed: int) -> None:
    dice = np.random.default_rng(seed)
    crank, ground = cmath.rect(dice.uniform(20, 90), dice.uniform(0.4, 2.6)), dice.uniform(40, 200)
    project = specimens.hinge(
        "ground panel crank coupler",
        {
            "O1": (0j, "ground crank"),
            "A": (crank, "crank coupler"),
            "B": (ground + crank, "panel coupler"),
            "O2": (ground + 0j, "ground panel"),
        },
        "clockwise" if seed % 2 else "anticlockwise",
        180.0,
    )
    analysis = kinematics.analyse(project, steps=19)
    flat = math.degrees(cmath.phase(crank)) if seed % 2 else 180.0 - math.degrees(cmath.phase(crank))
    assert analysis.opening.reached_deg == 180.0
    assert np.degrees(analysis.sweep.fork_openings) == pytest.approx([flat], rel=0, abs=0.05)
    assert np.abs(analysis.turns[:, analysis.links.index("coupler")]).max() < 1e-6


def test_a_trace_may_begin_anywhere_and_go_either_way() -> None:
    branch = from_shut("demo_six_bar", 1.0)
    middle = len(branch.arcs) // 2
    back = trace(branch.curve, branch.turns[middle], -branch.tangents[middle], turned_by(1e9), 60)
    near = np.abs(back.turns).sum(axis=1).min()
    assert near < 0.2  # it comes by shut again
    on_it = back.turns[np.argmin(np.abs(back.turns).sum(axis=1))]
    arc = float(branch.tangents[0] @ on_it)
    if 0.0 < arc < branch.arcs[1]:
        assert branch.at(np.array([arc]))[0] == pytest.approx(on_it, rel=0, abs=1e-9)


def test_a_trace_ends_after_so_many_knots() -> None:
    closure = freedom(specimens.demo_six_bar).closure
    branch = trace(curve_of(closure), np.zeros(5), shut_tangent(closure), never, 7)
    assert len(branch.arcs) == 7
    assert MOST_KNOTS >= 1000


# ----------------------------------------------------------------------------------------------------------- following


def curve_after(name: str, **pushes: complex) -> Curve:
    project = pushed(specimens.ALL[name], **pushes)
    return curve_of(build(project).with_groups(freedom(specimens.ALL[name]).closure.group))


def test_knots_follow_a_pin_that_moves_a_millimetre() -> None:
    old = from_shut("demo_six_bar", 1.2)
    new_curve = curve_after("demo_six_bar", B=0.8 - 0.6j)
    new = follow(old, new_curve)
    assert new is not None
    assert np.abs(new_curve.residual(new.turns)).max() <= new_curve.accepted
    assert np.abs(new.turns[0]).max() == 0.0
    assert len(new.arcs) == len(old.arcs)
    fresh = trace(new_curve, np.zeros(5), new.tangents[0], turned_by(1.2))
    arcs = np.linspace(0.0, 0.5, 6)
    for arc in arcs:
        # Both measure from shut along the same tangent, up to their first knots.
        if arc < min(new.arcs[1], fresh.arcs[1]):
            assert new.at(np.array([arc])) == pytest.approx(fresh.at(np.array([arc])), rel=0, abs=1e-9)


def test_knots_do_not_follow_to_where_the_motion_is_another() -> None:
    """Pushed so far that the old knots are no guesses any more: refused, not bent into shape."""
    old = from_shut("demo_six_bar", 1.2)
    assert follow(old, curve_after("demo_six_bar", B=60.0 - 90.0j, X=-50.0j)) is None


@pytest.mark.parametrize("push", [-15.0, -25.0, -30.0])
def test_where_a_hand_jumps_the_first_knots_are_kept_and_the_rest_is_traced(push: float) -> None:
    """A dead point comes nearer, and the old knots beyond it can't close."""
    project = specimens.ALL["demo_six_bar"]
    old, moved = sweep(project), pushed(project, X=push)
    kept = follow(old.branch, curve_after("demo_six_bar", X=push))
    assert kept is not None
    assert 10 < len(kept.arcs) < len(old.branch.arcs)
    assert certified(kept.curve, kept.turns, kept.frames) is not None
    new, fresh = sweep(moved, old), sweep(moved)
    assert np.array_equal(new.branch.turns[: len(kept.arcs) - 2], kept.turns[:-2])
    assert new.largest == pytest.approx(fresh.largest, rel=0, abs=1e-12)
    assert new.folds is fresh.folds
    openings = np.linspace(0.0, fresh.reached, 50)
    assert new.at_openings(openings) == pytest.approx(fresh.at_openings(openings), rel=0, abs=1e-9)


def test_a_branch_with_a_fork_is_not_followed() -> None:
    old = from_shut("change_point", 2.4)
    assert follow(old, old.curve) is None


def test_a_branch_is_not_followed_into_another_linkage() -> None:
    old = from_shut("four_bar_a1")
    assert follow(old, curve_of(freedom(specimens.demo_six_bar).closure)) is None
    redundant = replace(old.curve, redundant=True)
    assert follow(old, redundant) is None


@pytest.mark.parametrize("seed", PLAIN[:8])
def test_nothing_pushed_nothing_changed(seed: int) -> None:
    closure = freedom(plain(seed)).closure
    tangent = shut_tangent(closure)
    old = trace(curve_of(closure), np.zeros(closure.unknowns), tangent, turned_by(0.4), 40)
    if old.forks:
        return
    new = follow(old, old.curve)
    assert new is not None
    assert new.turns == pytest.approx(old.turns, rel=0, abs=1e-10)
