"""Leading: links placed one by one, as dyads, so that the panel goes through its course."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.dyads import Poses
from kinematics.proposals.chains import FIXED, FOUR_BAR, PANEL, SIX_BARS, Chain
from kinematics.proposals.leading import led, plan
from kinematics.proposals.marching import march

COUNT = 400
SHARES = np.linspace(0.0, 1.0, 25)
CHAINS = dict(enumerate((FOUR_BAR, *SIX_BARS)))


def course(random: np.random.Generator) -> tuple[Poses, np.ndarray, np.ndarray]:
    """Panels that rise and go ahead by 60 to 160 mm while they open by 70°: their poses, openings and corners' ways."""
    full = random.uniform(60, 160, COUNT) + 1j * random.uniform(60, 160, COUNT)
    half = 0.5 * full + random.uniform(-20, 20, COUNT) + 1j * random.uniform(-20, 20, COUNT)
    openings = np.radians(70.0) * SHARES
    way = np.stack([np.zeros(COUNT), half, full])
    return Poses(way.T, np.broadcast_to(openings[[0, 12, 24]], (COUNT, 3))), openings, way


def lot(chain: Chain, random: np.random.Generator) -> np.ndarray:
    shape = (len(chain.pins), COUNT)
    return np.asarray(random.uniform(0, 250, shape) + 1j * random.uniform(-200, 50, shape))


@pytest.mark.parametrize("number", CHAINS)
def test_every_link_is_placed_once_on_what_is_known(number: int) -> None:
    """Two dyads make the four-bar; in every chain of six links one link is swung and three are dyads."""
    chain = CHAINS[number]
    steps, known = plan(chain), {FIXED, PANEL}
    for step in steps:
        assert set(step.bodies) <= known
        for pin, body in zip(step.pins, step.bodies, strict=True):
            assert set(chain.pins[pin]) == {step.link, body}
        known.add(step.link)
    assert known == set(range(chain.links))
    assert [len(step.pins) for step in steps].count(1) == (0 if chain is FOUR_BAR else 1)
    assert sorted(pin for step in steps for pin in step.pins) == list(range(len(chain.pins)))


@pytest.mark.parametrize("number", CHAINS)
def test_candidates_go_through_the_course_where_they_stay_on_their_branch(number: int) -> None:
    """By the march, which knows only pins and openings: midway and at the end the panel is where its course has it.

    A candidate on another branch than the march follows is somewhere else altogether, and so would all be without
    dyads; at least one in ten is not (one in three or so is usual). 1e-6 mm: the march settles to rounding.
    """
    chain, random = CHAINS[number], np.random.default_rng(4)
    panel, openings, way = course(random)
    first = lot(chain, random)
    pins, found = led(chain, panel, first, np.ones(first.shape, dtype=bool), 1.2, random)
    assert found.mean() > 0.99
    marched = march(chain, pins, openings)
    through = found & (marched.reached >= len(openings))
    miss = np.abs(marched.shifts[[12, 24], PANEL] - way[1:]).max(axis=0)
    assert (through & (miss < 1e-6)).mean() > 0.1
    moved = (np.abs(pins - first) > 1e-9).sum(axis=0)
    dyads = sum(len(step.pins) == 2 for step in plan(chain))
    assert set(moved[found]) == {dyads}  # one pin of each, the others are where the lot put them


def test_pins_that_are_held_stay() -> None:
    """On the body, on the panel, both of a link (nothing is promised then), and none of the others is put out by it."""
    random = np.random.default_rng(6)
    panel, _, _ = course(random)
    first = lot(FOUR_BAR, random)
    free = np.ones(first.shape, dtype=bool)
    free[0], free[3], free[2, :100] = False, False, False
    pins, found = led(FOUR_BAR, panel, first, free, 1.2, random)
    assert (pins[~free] == first[~free]).all()
    assert found[:100].all()
    assert (np.abs(pins - first)[1] > 0.0).all()
    assert (np.abs(pins - first)[2, 100:] > 0.0).all()


def test_a_course_without_turning_has_no_dyads_where_places_lie_in_a_line() -> None:
    """A panel that is only shifted, evenly: every place of a pin lies on a line, no circle, and that is said."""
    random = np.random.default_rng(7)
    way = np.array([0.0, 50.0 + 20j, 100.0 + 40j])
    panel = Poses(np.broadcast_to(way, (COUNT, 3)), np.zeros((COUNT, 3)))
    first = lot(FOUR_BAR, random)
    pins, found = led(FOUR_BAR, panel, first, np.ones(first.shape, dtype=bool), 1.2, random)
    assert not found.any()
    assert np.isfinite(pins).all()
