"""Refining never makes a candidate worse, moves what it may and nothing else, and gets somewhere."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.proposals.chains import FIXED, FOUR_BAR, SIX_BARS
from kinematics.proposals.refining import LONGEST, Asked, _steps, refine
from kinematics.proposals.scoring import score
from kinematics.proposals.seeding import courses, seeds
from tests.kinematics.proposals.making import about
from tests.kinematics.proposals.test_seeding import problem_of

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem

CHAINS = (FOUR_BAR, SIX_BARS[0], SIX_BARS[5])
NAMES = [chain.family for chain in CHAINS]


@cache
def some(chain: Chain, locks: tuple[int, ...] = ()) -> tuple[Problem, Complexes, Complexes]:
    """A problem, and seeds of a chain of which a few don't get through."""
    problem, random = problem_of(locks=locks), np.random.default_rng(4)
    pins, held = seeds(problem, chain, courses(problem, random), 40, random)
    return problem, pins[:, ::2], held[:, ::2]


def cost(problem: Problem, chain: Chain, pins: Complexes, margin: float = 0.0) -> Floats:
    return score(problem, chain, pins, margin).cost


@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_nobody_gets_worse_and_many_get_better(chain: Chain) -> None:
    problem, pins, held = some(chain)
    before = cost(problem, chain, pins, 0.25)
    found, worst, tried = refine(problem, chain, pins, held, 3, 0.25)
    after = cost(problem, chain, found, 0.25)
    # Scores of another company may differ in the last digits of single precision.
    assert (after <= before * (1.0 + 1e-4) + 1e-6).all()
    through = before < 1e12
    assert (after < 0.9 * before)[through & (before > 1.0)].mean() >= 0.5
    assert (found[:, ~through] == pins[:, ~through]).all()
    assert np.isinf(worst[~through]).all()
    again = score(problem, chain, found, 0.25).worst
    assert np.abs(worst[through] - again[through]).max() < 1e-2
    assert tried > pins.shape[1]


def test_each_step_costs_no_more_than_the_one_before() -> None:
    problem, pins, held = some(FOUR_BAR)
    costs = [cost(problem, FOUR_BAR, refine(problem, FOUR_BAR, pins, held, steps)[0]) for steps in range(4)]
    assert (np.diff(np.asarray(costs), axis=0) <= 1e-4 * costs[0] + 1e-6).all()
    assert (costs[0] == cost(problem, FOUR_BAR, pins)).all()


def test_what_was_handed_over_is_not_written_to() -> None:
    problem, pins, held = some(FOUR_BAR)
    before = pins.copy()
    refine(problem, FOUR_BAR, pins, held, 2)
    assert (pins == before).all()


@pytest.mark.parametrize("chain", CHAINS[:2], ids=NAMES[:2])
def test_held_pins_never_move(chain: Chain) -> None:
    problem, pins, held = some(chain, (FIXED, 1))
    found, _, _ = refine(problem, chain, pins, held, 3, 0.25)
    stay = ~np.isnan(held.real)
    assert (stay.sum(axis=0) == 2).all()
    assert (found[stay] == held[stay]).all()
    assert (found != pins).any()


def test_no_step_is_longer_than_allowed() -> None:
    problem, pins, held = some(FOUR_BAR)
    through = cost(problem, FOUR_BAR, pins) < 1e12
    pins, held = pins[:, through], held[:, through]
    tried = _steps(Asked(problem, FOUR_BAR, 0.0, 1.0), pins, np.isnan(held.real))
    assert np.abs(tried - pins).max() <= LONGEST + 1e-9
    shortest, longest = np.abs(tried - pins).max(axis=1)[[-1, 0]]
    assert (shortest <= longest + 1e-9).all()  # more damping, shorter steps


def test_wishes_weigh_as_told() -> None:
    problem, pins, _ = some(FOUR_BAR)
    whole, little = (Asked(problem, FOUR_BAR, 0.0, weight).score(pins) for weight in (1.0, 0.02))
    assert np.abs(little.wishes - 0.02 * whole.wishes).max() < 1e-12
    assert (little.misses == whole.misses).all()


def test_none_at_all_and_none_that_get_through_come_back_as_they_are() -> None:
    problem = problem_of()
    stuck = np.repeat(np.array([[0j], [100j], [50j], [150j]]), 3, axis=1)
    free = np.full(stuck.shape, complex(np.nan, np.nan))
    for count in (0, 3):
        found, worst, _ = refine(problem, FOUR_BAR, stuck[:, :count], free[:, :count], 4)
        assert (found == stuck[:, :count]).all()
        assert worst.shape == (count,)


def test_candidates_are_refined_as_if_they_were_alone() -> None:
    """But for single precision and Newton's last step, from which another damping may come out best for one in ten."""
    problem, pins, held = some(FOUR_BAR)
    before = cost(problem, FOUR_BAR, pins)
    together = cost(problem, FOUR_BAR, refine(problem, FOUR_BAR, pins, held, 1)[0])
    off = []
    for k in np.flatnonzero(before < 1e12)[:8]:
        alone = cost(problem, FOUR_BAR, refine(problem, FOUR_BAR, pins[:, k : k + 1], held[:, k : k + 1], 1)[0])
        off.append(abs(alone[0] - together[k]) / before[k])
    assert np.mean(np.array(off) < 1e-3) > 0.85


def test_lots_far_from_any_hinge_are_no_fault() -> None:
    problem = problem_of()
    pins = about(FOUR_BAR, 12, 1, 5000.0)
    found, worst, _ = refine(problem, FOUR_BAR, pins, np.full(pins.shape, complex(np.nan, np.nan)), 2)
    assert np.isfinite(found).all()
    assert not np.isnan(worst).any()
