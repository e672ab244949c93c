"""The six six-bar chains, held against an enumeration that shares nothing with them but the two textbook chains."""

from __future__ import annotations

from itertools import combinations, permutations

import numpy as np
import pytest

from kinematics.families import family
from kinematics.project import Project, Travel
from kinematics.proposals.chains import (
    ALONE_A,
    ALONE_B,
    FIXED,
    FOUR_BAR,
    PANEL,
    SHARED_A,
    SHARED_B,
    SINGLE_PIVOT,
    SIX_BARS,
    Chain,
)
from kinematics.proposals.drafting import drafted
from kinematics.proposals.results import KINDS, Settings
from tests.specimens import single_pivot

Pairs = frozenset[frozenset[int]]

ALL = (SINGLE_PIVOT, FOUR_BAR, *SIX_BARS)
NAMES = [f"{chain.family} {place}" for place, chain in enumerate(ALL)]
# Two ternary links 0 and 1: with a pin between them and two paths of two links (Watt), or with two paths of one link
# and one of two (Stephenson).
WATT: Pairs = frozenset(map(frozenset, ((0, 1), (0, 2), (2, 3), (3, 1), (0, 4), (4, 5), (5, 1))))
STEPHENSON: Pairs = frozenset(map(frozenset, ((0, 2), (2, 1), (0, 3), (3, 1), (0, 4), (4, 5), (5, 1))))


def canonical(pairs: Pairs, fixed: int, panel: int) -> tuple[tuple[int, ...], ...]:
    """The chain's smallest writing of all in which the fixed link is 0 and the panel 1."""
    others = [link for link in range(6) if link not in (fixed, panel)]
    writings = []
    for order in permutations(range(2, 6)):
        number = {fixed: 0, panel: 1, **dict(zip(others, order, strict=True))}
        writings.append(tuple(sorted(tuple(sorted(number[link] for link in pair)) for pair in pairs)))
    return min(writings)


def joined(pairs: Pairs, one: int, other: int) -> bool:
    return frozenset((one, other)) in pairs


def hangs_as_coupler(pairs: Pairs, fixed: int, panel: int) -> bool:
    """Whether two links, each pinned to both, lead from the fixed link to the panel: it is their coupler."""
    between = [k for k in range(6) if joined(pairs, fixed, k) and joined(pairs, k, panel)]
    return len(between) >= 2


def enumerated() -> set[tuple[tuple[int, ...], ...]]:
    """Every choice of fixed link and panel in both chains that makes the panel move as no four-bar can."""
    return {
        canonical(pairs, fixed, panel)
        for pairs in (WATT, STEPHENSON)
        for fixed, panel in permutations(range(6), 2)
        if not joined(pairs, fixed, panel) and not hangs_as_coupler(pairs, fixed, panel)
    }


def as_pairs(chain: Chain) -> Pairs:
    return frozenset(frozenset(pair) for pair in chain.pins)


def test_the_six_bars_are_all_that_there_are() -> None:
    found = [canonical(as_pairs(chain), FIXED, PANEL) for chain in SIX_BARS]
    assert len(set(found)) == len(found) == 6
    assert set(found) == enumerated()


def test_what_is_left_out_is_what_the_docstring_says() -> None:
    """Of 60 ordered choices, by symmetry few are different; without the two conditions more than six remain."""
    every = {
        canonical(pairs, fixed, panel) for pairs in (WATT, STEPHENSON) for fixed, panel in permutations(range(6), 2)
    }
    assert enumerated() < every
    left_out = every - enumerated()
    for writing in left_out:
        pairs = frozenset(frozenset(pair) for pair in writing)
        assert joined(pairs, 0, 1) or hangs_as_coupler(pairs, 0, 1)


@pytest.mark.parametrize("chain", ALL, ids=NAMES)
def test_a_chain_is_named_as_textbooks_name_it(chain: Chain) -> None:
    places = np.array([complex(37 * k % 11, 23 * k % 7) * 40 for k in range(len(chain.pins))])
    project = drafted(single_pivot, Settings(), chain, places)
    assert family(project) == chain.family
    assert chain.kind in KINDS
    assert chain.kind == ("six-bar" if chain in SIX_BARS else chain.family)


@pytest.mark.parametrize("chain", ALL, ids=NAMES)
def test_every_link_has_its_pins_and_its_route(chain: Chain) -> None:
    links = {link for pair in chain.pins for link in pair}
    assert links == set(range(chain.links))
    assert len(chain.pins) == {2: 1, 4: 4, 6: 7}[chain.links]
    for link in links:
        assert [k for k, pair in enumerate(chain.pins) if link in pair] == list(chain.on(link))
    placed = {FIXED}
    for link, pin, base in chain.routes:
        assert base in placed
        assert link not in placed
        assert set(chain.pins[pin]) == {link, base}
        placed.add(link)
    assert placed == links


@pytest.mark.parametrize("chain", ALL, ids=NAMES)
def test_loops_close_over_pins_of_their_links(chain: Chain) -> None:
    for loop in chain.loops:
        links = [link for link, _, _ in loop]
        assert len(set(links)) == len(links) >= 4
        for (link, come, leave), (onward, next_come, _) in zip(loop, (*loop[1:], loop[0]), strict=True):
            assert come != leave
            assert leave == next_come
            assert set(chain.pins[leave]) == {link, onward}
            assert link in chain.pins[come]


@pytest.mark.parametrize("chain", ALL, ids=NAMES)
def test_loops_hold_all_pins_and_are_as_many_as_independent_ones(chain: Chain) -> None:
    """Pins less links plus one is the number of independent loops (Euler); together they go over every pin."""
    assert len(chain.loops) == len(chain.pins) - chain.links + 1
    if chain.loops:
        assert {pin for loop in chain.loops for _, come, leave in loop for pin in (come, leave)} == set(
            range(len(chain.pins))
        )


@pytest.mark.parametrize("chain", SIX_BARS, ids=NAMES[2:])
def test_each_loop_has_one_unknown_link_to_itself(chain: Chain) -> None:
    first, second = ({link for link, _, _ in loop} - {FIXED, PANEL} for loop in chain.loops)
    assert first & second == {SHARED_A, SHARED_B}
    assert first - second == {ALONE_A}
    assert second - first == {ALONE_B}


def test_a_four_bar_has_one_loop_of_two_unknown_links() -> None:
    (loop,) = FOUR_BAR.loops
    assert {link for link, _, _ in loop} == {FIXED, PANEL, SHARED_A, SHARED_B}


@pytest.mark.parametrize("chain", ALL[1:], ids=NAMES[1:])
def test_no_pair_of_links_has_two_pins(chain: Chain) -> None:
    assert all(set(one) != set(other) for one, other in combinations(chain.pins, 2))


def test_a_project_is_drawn_for_naming_at_all() -> None:
    """The naming above stands on whole projects, not on chains."""
    bare = Project(links=single_pivot.links, travel=Travel("clockwise", 40.0))
    places = np.array([0j, 100 + 0j, 20 + 80j, 90 + 70j])
    assert family(drafted(bare, Settings(), FOUR_BAR, places)) == "four-bar"
