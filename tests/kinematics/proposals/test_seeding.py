"""Seeds: courses that keep the wants, pins where they belong; locked pins stay. How links lead is in test_leading."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.project import Pivot
from kinematics.proposals.chains import FIXED, FOUR_BAR, PANEL, SINGLE_PIVOT, SIX_BARS
from kinematics.proposals.problem import read_problem
from kinematics.proposals.results import Settings
from kinematics.proposals.scoring import course_misses, outside
from kinematics.proposals.seeding import FARTHEST, KEPT, _along, _anywhere, courses, seeds
from tests.kinematics.proposals.making import bare, cramped, demo, mirrored

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem

CHAINS = (FOUR_BAR, *SIX_BARS)
NAMES = [f"{chain.family} {place}" for place, chain in enumerate(CHAINS)]
COUNT = 80
LOCKED = {FIXED: 0.35 - 0.4j, PANEL: 0.5 - 0.15j}
"""Where a pin of each link is locked, in sizes of a hinge, u + iv."""


@cache
def problem_of(way: str = "drawn", locks: tuple[int, ...] = ()) -> Problem:
    project = bare(demo("potting bench"))
    project = project if way == "drawn" else mirrored(project)
    problem = read_problem(project, Settings())
    ends = {FIXED: project.fixed.id, PANEL: project.panel.id}
    pins = tuple(
        Pivot(f"lock {link}", problem.frame.drawn(problem.size * LOCKED[link]), (ends[link], "arm"), locked=True)
        for link in locks
    )
    locked = tuple(tuple(pin for pin in pins if ends[link] in pin.joins) for link in (FIXED, PANEL))
    return replace(problem, locked=(*locked, ()))  # type: ignore[arg-type]


@pytest.mark.parametrize("locks", [(FIXED,), (PANEL,), (FIXED, PANEL)], ids=["body", "panel", "both"])
@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_locked_pins_stay_exactly_where_they_are(chain: Chain, locks: tuple[int, ...]) -> None:
    """Whether a link then leads the panel or not: what comes of it is refined."""
    problem, random = problem_of(locks=locks), np.random.default_rng(5)
    pins, held = seeds(problem, chain, courses(problem, random), COUNT, random)
    stay = ~np.isnan(held.real)
    assert (stay.sum(axis=0) == len(locks)).all()
    assert (pins[stay] == held[stay]).all()


@pytest.mark.parametrize("locks", [(), (FIXED,), (FIXED, PANEL)], ids=["none", "body", "both"])
@pytest.mark.parametrize("chain", [FOUR_BAR, SIX_BARS[3]], ids=["four-bar", "Stephenson II"])
def test_seeds_are_near_and_best_placed_first_and_keep_locked_pins(chain: Chain, locks: tuple[int, ...]) -> None:
    problem, random = problem_of(locks=locks), np.random.default_rng(9)
    drawn = courses(problem, random)
    pins, held = seeds(problem, chain, drawn, 60, random)
    assert pins.shape == held.shape
    assert 20 <= pins.shape[1] <= 60
    assert (np.abs(pins - problem.frame.origin) < FARTHEST * problem.size).all()
    away = outside(problem, chain, pins)
    assert (np.diff(away) >= 0.0).all()
    stay = ~np.isnan(held.real)
    assert (pins[stay] == held[stay]).all()
    assert (stay.sum(axis=0) == len(locks)).all()
    for link in locks:
        at = complex(*problem.locked[link][0].at)
        where = np.argmax(pins[list(chain.on(link))] == at, axis=0)
        assert (pins[list(chain.on(link))] == at).any(axis=0).all()
        assert len(set(where)) == len(chain.on(link))  # by lot any pin of the link is the locked one


def test_a_single_pivot_has_no_course_to_be_fitted_to() -> None:
    problem, random = problem_of(), np.random.default_rng(9)
    pins, held = seeds(problem, SINGLE_PIVOT, courses(problem, random), 50, random)
    assert pins.shape == held.shape == (1, 50)
    assert problem.cavity is not None
    assert (problem.cavity.at(pins[0])[0] < problem.cavity.step).all()


def misses_of(problem: Problem, drawn: Complexes) -> Floats:
    return course_misses(problem, _along(problem, drawn))


@pytest.mark.parametrize("way", ["drawn", "mirrored"])
def test_courses_are_sorted_and_better_than_lots(way: str) -> None:
    problem = problem_of(way)
    drawn = courses(problem, np.random.default_rng(1))
    assert drawn.shape == (2, KEPT)
    cost = misses_of(problem, drawn)
    assert (np.diff(cost) >= -1e-6).all()
    lots = problem.size * np.random.default_rng(3).uniform(-0.3, 1.2, (2, 200)).astype(np.complex128)
    assert cost.max() < np.median(misses_of(problem, lots))
    seen = (drawn / problem.frame.ahead) if problem.frame.sign > 0 else (drawn / problem.frame.ahead).conj()
    assert (seen[1].real > -0.31 * problem.size).all()


def test_a_mirrored_drawing_has_mirrored_courses() -> None:
    one, other = (courses(problem_of(way), np.random.default_rng(1)) for way in ("drawn", "mirrored"))
    same = np.isin(np.round(other, 6), np.round(-one.conj(), 6)).mean()
    assert same > 0.9  # at the end of the list, costs by two grids may come the other way round


def test_courses_run_through_their_three_places() -> None:
    problem = problem_of()
    drawn = courses(problem, np.random.default_rng(1))
    middle = replace(problem, openings=problem.openings[-1] * np.array([0.0, 0.5, 1.0]))
    corner = _along(middle, drawn) + (np.exp(1j * middle.openings)[:, None] - 1.0) * problem.frame.origin
    assert np.abs(corner[0]).max() < 1e-9
    assert np.abs(corner[1:] - drawn).max() < 1e-9


def test_without_a_cavity_places_are_about_the_rear_edge() -> None:
    problem = read_problem(cramped(), Settings())
    assert problem.cavity is None
    pins = _anywhere(problem, FOUR_BAR, 300, np.random.default_rng(1))
    assert (np.abs(pins - problem.frame.origin) < 1.6 * problem.size).all()
