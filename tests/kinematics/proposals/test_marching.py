"""Marching against the sweep of `analyse`: the same turns on the same branch, and good reasons for giving up.

The sweep goes along the arc and passes folds; the march steps in the panel's turn and shares no code with it. Newton's
last step is below 1e-4 rad, so what is left is about its square times how strongly closure bends: 1e-8 rad, hundred
times that near a dead point. 1e-6 rad is asked, and of bars of some hundred mm 1e-4 mm; half of all agree to 1e-9.
"""

from __future__ import annotations

from functools import cache
from itertools import permutations
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.analysis import analyse
from kinematics.proposals.chains import FIXED, FOUR_BAR, PANEL, SINGLE_PIVOT, SIX_BARS
from kinematics.proposals.marching import LEAST_DETERMINANT, march, transmissions
from kinematics.sweep import sweep
from tests.kinematics.proposals.making import DEMOS, about, demo, linkage_of

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Project
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.marching import March
    from kinematics.sweep import Sweep

CHAINS = (FOUR_BAR, *SIX_BARS)
NAMES = [f"{chain.family} {place}" for place, chain in enumerate(CHAINS)]
WANTED = 60.0
OPENINGS = np.radians(np.linspace(0.0, WANTED, 14))
COUNT = 11
TURN, PLACE, USUALLY = 1e-6, 1e-4, 1e-9


@cache
def marched(chain: Chain) -> tuple[Complexes, March, list[Sweep]]:
    """Layouts by lot, how they march, and the sweep of each."""
    pins = about(chain, COUNT, 7)
    return pins, march(chain, pins, OPENINGS), [sweep(linkage_of(chain, each, WANTED)) for each in pins.T]


def swept(moved: Sweep, names: list[str], openings: Floats) -> tuple[Floats, Complexes]:
    """(poses, links) turns and shifts by the sweep, at signed openings (rad)."""
    columns = [moved.closure.links.index(name) for name in names]
    y = moved.at_openings(np.abs(openings))
    return moved.link_turns(y)[:, columns], moved.shifts(y)[:, columns]


def through(told: March) -> list[int]:
    return [k for k, reached in enumerate(told.reached) if reached == len(OPENINGS)]


@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_what_gets_through_moves_as_the_sweep_says(chain: Chain) -> None:
    """None is on another branch, and none passes a dead point unseen."""
    _, told, sweeps = marched(chain)
    assert 3 <= len(through(told)) < COUNT
    off = []
    for k in through(told):
        assert sweeps[k].ends == "wanted opening"
        turns, shifts = swept(sweeps[k], [str(link) for link in range(chain.links)], OPENINGS)
        assert np.abs(told.turns[..., k] - turns).max() < TURN
        assert np.abs(told.shifts[..., k] - shifts).max() < PLACE
        off.append(np.abs(told.turns[..., k] - turns).max())
    assert np.median(off) < USUALLY


def test_as_far_as_a_candidate_got_it_was_on_its_branch() -> None:
    seen = 0
    for chain in CHAINS:
        _, told, sweeps = marched(chain)
        for k, reached in enumerate(told.reached.astype(int)):
            if 1 < reached < len(OPENINGS):
                seen += 1
                assert sweeps[k].reached >= OPENINGS[reached - 1]
                turns, _ = swept(sweeps[k], [str(link) for link in range(chain.links)], OPENINGS[:reached])
                assert np.abs(told.turns[:reached, :, k] - turns).max() < 100 * TURN  # its dead point is near
    assert seen > len(CHAINS)


def test_most_of_those_given_up_have_a_dead_point_there() -> None:
    """Of all chains together; the others turn a link very fast, and are given up before the next pose."""
    rightly = wrongly = 0
    for chain in CHAINS:
        _, told, sweeps = marched(chain)
        for k, reached in enumerate(told.reached.astype(int)):
            if reached < len(OPENINGS):
                comes_first = sweeps[k].largest_deg <= np.degrees(OPENINGS[reached]) + 1e-9
                rightly, wrongly = rightly + comes_first, wrongly + (not comes_first)
    assert rightly > 2 * wrongly
    assert wrongly < 0.2 * COUNT * len(CHAINS)


@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_every_pin_stays_one_point_of_both_its_links(chain: Chain) -> None:
    pins, told, _ = marched(chain)
    for pin, pair in enumerate(chain.pins):
        one, other = (told.shifts[:, link] + np.exp(1j * told.turns[:, link]) * pins[pin] for link in pair)
        assert np.abs(one - other)[:, through(told)].max() < PLACE
    assert np.abs(told.shifts[:, FIXED]).max() == np.abs(told.turns[:, FIXED]).max() == 0.0
    assert np.abs(told.turns[:, PANEL] - OPENINGS[:, None]).max() == 0.0


@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_a_mirrored_layout_moves_the_other_way_round(chain: Chain) -> None:
    pins, told, _ = marched(chain)
    seen = march(chain, -pins.conj(), -OPENINGS)
    assert (seen.reached == told.reached).all()
    k = through(told)
    assert np.abs(seen.turns[..., k] + told.turns[..., k]).max() < TURN
    assert np.abs(seen.shifts[..., k] + told.shifts[..., k].conj()).max() < PLACE


@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_size_and_place_change_nothing_in_the_turns(chain: Chain) -> None:
    pins, told, _ = marched(chain)
    seen = march(chain, 7.0 * pins * np.exp(0.6j) + (300 - 900j), OPENINGS)
    assert (seen.reached == told.reached).all()
    k = through(told)
    assert np.abs(seen.turns[..., k] - told.turns[..., k]).max() < TURN
    assert np.abs(seen.spare[:, k] - told.spare[:, k]).max() < TURN


@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_neighbours_matter_little(chain: Chain) -> None:
    """A few late ones among many that settle soon get through as they do alone."""
    pins = np.concatenate([about(chain, 40, 3), np.repeat(marched(chain)[0][:, through(marched(chain)[1])], 300, 1)], 1)
    told = march(chain, pins, OPENINGS)
    alone = [march(chain, pins[:, k : k + 1], OPENINGS) for k in range(40)]
    assert [each.reached[0] for each in alone] == list(told.reached[:40])
    for k, each in enumerate(alone):
        if each.reached[0] == len(OPENINGS):
            assert np.abs(each.turns[..., 0] - told.turns[..., k]).max() < TURN


def as_chain(project: Project) -> tuple[Chain, list[str], Complexes]:
    """A six-bar project's chain, the names of its links by number, and its pins in the chain's order."""
    others = [link.id for link in project.links if link.kind == "link"]
    at = {frozenset(pivot.joins): complex(*pivot.at) for pivot in project.pivots}
    for chain in CHAINS:
        for order in permutations(others, chain.links - 2):
            names = [project.fixed.id, project.panel.id, *order]
            pairs = [frozenset(names[link] for link in pair) for pair in chain.pins]
            if len(pairs) == len(at) and set(pairs) == set(at):
                return chain, names, np.array([at[pair] for pair in pairs])
    raise AssertionError("the demo is none of the chains")


@pytest.mark.parametrize("name", DEMOS)
def test_the_demos_move_as_the_sweep_says(name: str) -> None:
    project = demo(name)
    chain, names, pins = as_chain(project)
    openings = np.radians(np.linspace(0.0, project.travel.wanted_deg, 16)) * project.travel.sign
    told = march(chain, pins[:, None], openings)
    assert told.reached[0] == len(openings)
    turns, shifts = swept(sweep(project), names, openings)
    assert np.abs(told.turns[..., 0] - turns).max() < TURN
    assert np.abs(told.shifts[..., 0] - shifts).max() < PLACE


def test_a_single_pivot_turns_about_its_pin() -> None:
    pins = about(SINGLE_PIVOT, 5, 3)
    told = march(SINGLE_PIVOT, pins, -OPENINGS)
    assert (told.reached == len(OPENINGS)).all()
    assert np.abs(told.shifts[:, PANEL] - (1.0 - np.exp(-1j * OPENINGS))[:, None] * pins).max() < 1e-9


def test_of_a_four_bar_the_determinant_is_the_sine_between_its_arms() -> None:
    """Whether the panel may turn, as it is the coupler: parallel arms can only carry it without a turn."""
    random = np.random.default_rng(8)
    pins = about(FOUR_BAR, 40, 8)
    pins[3, :10] = pins[1, :10] + (pins[2, :10] - pins[0, :10]) * random.uniform(0.5, 2.0, 10)
    one, other = pins[2] - pins[0], pins[3] - pins[1]
    sine = np.abs(np.sin(np.angle(other / one)))
    told = march(FOUR_BAR, pins, OPENINGS[:1])
    assert np.abs(told.spare[0] - sine).max() < 1e-12
    assert ((told.reached == 1.0) == (sine > LEAST_DETERMINANT)).all()
    assert (told.reached[:10] == 0.0).all()


def test_layouts_that_are_nothing_are_given_up_at_once() -> None:
    """All pins in one place, or on one line: no numbers come of it, and no warning."""
    for chain in CHAINS:
        same = np.full((len(chain.pins), 2), 5 + 5j)
        same[:, 1] = np.arange(len(chain.pins)) * 10.0
        told = march(chain, same, OPENINGS)
        assert (told.reached == 0.0).all()
        assert np.isfinite(told.turns).all()


@pytest.mark.parametrize("chain", CHAINS, ids=NAMES)
def test_transmission_angles_are_those_of_the_analysis(chain: Chain) -> None:
    """At openings that both look at: shut, full and between; degrees, as turns are rad above."""
    pins, told, _ = marched(chain)
    k = through(told)[0]
    said = analyse(linkage_of(chain, pins[:, k], WANTED), steps=2).transmission
    assert said is not None
    for opening, angles in zip(said.openings[::9], said.angles[::9], strict=True):
        one = march(
            chain, pins[:, k : k + 1], np.array([*OPENINGS[np.degrees(OPENINGS) < opening], np.radians(opening)])
        )
        found = np.degrees(transmissions(chain, pins[:, k : k + 1], one.turns[-1])[0])
        assert found == pytest.approx(angles.min(), abs=1e-4)
