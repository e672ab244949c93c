"""Layers: the fewest there can be, held against all ways there are; faults of layers set by hand."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.layering import Layering, NoWay, Passing, Through, is_turned, layered
from tests.thorough import cases

if TYPE_CHECKING:
    from hypothesis.strategies import DrawFn

NAMES = "abcdefg"


@st.composite
def passings(draw: DrawFn, most: int = 7, pairs: bool = False) -> Passing:
    """Members, some of which meet, on pins that may strike others."""
    names = NAMES[: draw(st.integers(2, most))]
    plates = {name: draw(st.integers(1, 2)) if pairs else 1 for name in names}
    couples = list(itertools.combinations(names, 2))
    meets = draw(st.sets(st.sampled_from(couples)))
    pins = []
    for k, members in enumerate(draw(st.lists(st.sampled_from(couples), max_size=5, unique=True))):
        others = [name for name in names if name not in members]
        some = st.frozensets(st.sampled_from(others), max_size=2) if others else st.just(frozenset())
        pins.append(Through(str(k), members, draw(some), draw(some), draw(st.sampled_from([1.0, 5.0]))))
    ids = list(itertools.combinations([pin.pin for pin in pins], 2))
    near = draw(st.sets(st.sampled_from(ids), max_size=2)) if ids else set()
    return Passing(plates, frozenset(map(frozenset, meets)), tuple(pins), frozenset(map(frozenset, near)))


def fewest_by_trying_all(passing: Passing, most: int) -> int | None:
    """Try every way of every number of layers; no shortcut."""
    names = list(passing.plates)
    for count in range(1, most + 1):
        ways = [list(itertools.combinations(range(1, count + 1), passing.plates[name])) for name in names]
        for way in itertools.product(*ways):
            if _can_pass(passing, dict(zip(names, way, strict=True))):
                return count
    return None


def _can_pass(passing: Passing, layers: dict[str, tuple[int, ...]]) -> bool:
    on_pins = [set(pin.members) for pin in passing.pins]
    for one, other in itertools.combinations(layers, 2):
        bound = {one, other} in on_pins or frozenset((one, other)) in passing.meets
        if bound and set(layers[one]) & set(layers[other]):
            return False
    for pin in passing.pins:
        on = sorted(layer for name in pin.members for layer in layers[name])
        if any(on[0] <= layer <= on[-1] for name in pin.shank_strikes for layer in layers[name]):
            return False
        if any(layer in (on[0] - 1, on[-1] + 1) for name in pin.ends_strike for layer in layers[name]):
            return False
    for first, second in itertools.permutations(passing.pins, 2):
        if frozenset((first.pin, second.pin)) in passing.near:
            low, high = _reach(first, layers)
            other_low, other_high = _reach(second, layers)
            if any(other_low - 1 <= end <= other_high + 1 for end in (low - 1, high + 1)):
                return False
    return True


def _reach(pin: Through, layers: dict[str, tuple[int, ...]]) -> tuple[int, int]:
    on = [layer for name in pin.members for layer in layers[name]]
    return min(on), max(on)


@settings(max_examples=cases(30, 100))
@given(passings(most=cases(5, 7)))
def test_no_way_has_fewer_layers_single_plates(passing: Passing) -> None:
    found = layered(passing, most=5)
    assert (found.count if isinstance(found, Layering) else None) == fewest_by_trying_all(passing, 5)
    if isinstance(found, Layering):
        assert found.fewest
        assert passing.faults(found.layers) == []


@settings(max_examples=cases(15, 40))
@given(passings(most=cases(3, 4), pairs=True))
def test_no_way_has_fewer_layers_pairs(passing: Passing) -> None:
    found = layered(passing, most=6)
    assert (found.count if isinstance(found, Layering) else None) == fewest_by_trying_all(passing, 6)
    if isinstance(found, Layering):
        assert found.fewest
        assert passing.faults(found.layers) == []


def test_seven_links_in_a_ring_need_three_layers() -> None:
    """An odd ring of links, each pinned to the next, can't do with two: the colours of a ring (closed form)."""
    ring = [(NAMES[k], NAMES[(k + 1) % 7]) for k in range(7)]
    passing = Passing(dict.fromkeys(NAMES, 1), frozenset(), tuple(Through(a + b, (a, b)) for a, b in ring))
    found = layered(passing)
    assert isinstance(found, Layering)
    assert found.count == 3
    assert found.proven


def test_a_pin_reaches_past_no_plate_that_it_would_strike() -> None:
    passing = Passing({"a": 2, "b": 1, "c": 1}, frozenset(), (Through("p", ("a", "b"), shank_strikes=frozenset("c")),))
    found = layered(passing)
    assert isinstance(found, Layering)
    low, high = found.layers["a"]
    assert not low <= found.layers["c"][0] <= high
    assert found.layers["b"][0] not in found.layers["a"]


def test_a_pair_takes_the_other_between_its_plates_as_that_bends_the_pin_least() -> None:
    found = layered(Passing({"arm": 2, "lid": 1}, frozenset(), (Through("p", ("arm", "lid")),)))
    assert isinstance(found, Layering)
    assert (found.count, found.layers, found.bending) == (3, {"arm": (1, 3), "lid": (2,)}, 0.0)


def test_layers_set_by_hand_are_told_their_faults() -> None:
    passing = Passing(
        {"a": 1, "b": 1, "c": 1},
        frozenset({frozenset("bc")}),
        (Through("p", ("a", "b"), shank_strikes=frozenset("c"), ends_strike=frozenset("c")),),
    )
    assert passing.faults({"a": (1,), "b": (3,), "c": (2,)}) == [("shank", "p", "c")]
    assert passing.faults({"a": (1,), "b": (3,), "c": (4,)}) == [("end", "p", "c")]
    assert passing.faults({"a": (1,), "b": (2,), "c": (2,)}) == [("meet", "b", "c"), ("shank", "p", "c")]
    assert passing.faults({"a": (1,), "b": (1,), "c": (5,)}) == [("meet", "a", "b")]


def test_what_can_never_pass_has_no_layers() -> None:
    """The pin of a and b strikes c whatever lies between, and the pin of a and c strikes b: none can lie outside."""
    through = (
        Through("p", ("a", "b"), shank_strikes=frozenset("c"), ends_strike=frozenset("c")),
        Through("q", ("a", "c"), shank_strikes=frozenset("b"), ends_strike=frozenset("b")),
        Through("r", ("b", "c"), shank_strikes=frozenset("a"), ends_strike=frozenset("a")),
    )
    found = layered(Passing(dict.fromkeys("abc", 1), frozenset(), through))
    assert isinstance(found, NoWay)
    assert found.proven
    assert sorted(found.nearest.values()) == [(1,), (2,), (3,)]


def test_a_search_that_is_cut_short_says_so() -> None:
    """Twelve pairs of which each pin strikes all others: nothing to find, and too much to try."""
    names = [f"link {k}" for k in range(12)]
    pins = tuple(
        Through(one + other, (one, other), frozenset(names) - {one, other})
        for one, other in itertools.combinations(names, 2)
    )
    found = layered(Passing(dict.fromkeys(names, 2), frozenset(), pins), tried=500)
    assert isinstance(found, NoWay)
    assert not found.proven
    assert len(found.nearest) == 12


def test_layers_that_were_not_looked_for_to_the_end_are_layers_all_the_same() -> None:
    names = [f"link {k}" for k in range(9)]
    ends = tuple(
        Through(one + other, (one, other), frozenset(), frozenset(names) - {one, other}, head_layers=2, clip_layers=2)
        for one, other in zip(names, names[1:] + names[:1], strict=True)
    )
    passing = Passing(dict.fromkeys(names, 1), frozenset(), ends)
    found = layered(passing, tried=12)
    assert isinstance(found, Layering)
    assert not found.fewest
    assert passing.faults(found.layers) == []
    assert found.count < 9 * 5  # one for each plate and its neighbours' heads; those that are not needed are closed up


def test_heads_that_are_high_reach_further() -> None:
    pin = Through("p", ("a", "b"), ends_strike=frozenset("c"), head_layers=2, clip_layers=2)
    passing = Passing(dict.fromkeys("abc", 1), frozenset(), (pin,))
    assert [passing.faults({"a": (1,), "b": (2,), "c": (layer,)}) for layer in (3, 4, 5)] == [
        [("end", "p", "c")],
        [("end", "p", "c")],
        [],
    ]


def test_a_pin_is_put_in_from_the_side_where_its_long_end_has_room() -> None:
    pin = Through("p", ("a", "b"), ends_strike=frozenset("c"), clip_layers=2)
    passing = Passing(dict.fromkeys("abc", 1), frozenset(), (pin,))
    above, beneath = {"a": (1,), "b": (2,), "c": (4,)}, {"a": (3,), "b": (4,), "c": (1,)}
    assert passing.faults(above) == passing.faults(beneath) == []
    assert (is_turned(pin, above), is_turned(pin, beneath)) == (True, False)
    assert passing.faults({"a": (1,), "b": (2,), "c": (3,)}) == [("end", "p", "c")]


def test_pins_that_come_near_each_other_keep_their_heads_apart() -> None:
    pins = (Through("p", ("a", "b")), Through("q", ("c", "d")))
    passing = Passing(dict.fromkeys("abcd", 1), frozenset(), pins, frozenset({frozenset("pq")}))
    found = [passing.faults({"a": (1,), "b": (2,), "c": (layer,), "d": (layer + 1,)}) for layer in (1, 2, 3, 4, 5)]
    assert found == [[("pins", "p", "q")]] * 4 + [[]]
    layering = layered(passing)
    assert isinstance(layering, Layering)
    assert (layering.count, layering.fewest) == (6, True)


GRAPHS = Path(__file__).with_name("connected_graphs.txt")
"""All connected graphs of one to seven points, one of each shape: points, and in hex the bits of the pairs that are
joined, in the order of `itertools.combinations`. How many there are is known: 1, 1, 2, 6, 21, 112, 853 (the sequence
A001349 of the On-Line Encyclopedia of Integer Sequences)."""


def graphs() -> list[tuple[int, list[tuple[int, int]]]]:
    found = []
    for line in GRAPHS.read_text(encoding="ascii").splitlines():
        points, bits = int(line.split()[0]), int(line.split()[1], 16)
        joined = [pair for k, pair in enumerate(itertools.combinations(range(points), 2)) if bits >> k & 1]
        found.append((points, joined))
    return found


def colours(points: int, joined: list[tuple[int, int]]) -> int:
    """Fewest colours by looking at all ways of each number of them."""
    for count in range(1, points + 1):
        ways = np.indices((count,) * points).reshape(points, -1)
        fits = np.ones(ways.shape[1], dtype=np.bool_)
        for one, other in joined:
            fits &= ways[one] != ways[other]
        if fits.any():
            return count
    raise AssertionError


def test_no_linkage_of_up_to_seven_links_can_do_with_fewer_layers() -> None:
    """Every linkage that hangs together, a pin wherever two links are joined."""
    all_of_them = graphs()
    assert np.bincount([points for points, _ in all_of_them]).tolist() == [0, 1, 1, 2, 6, 21, 112, 853]
    sevens = [graph for graph in all_of_them if graph[0] == 7]
    for points, joined in all_of_them[:143] + sevens[:: cases(24, 1)]:
        pins = tuple(Through(NAMES[a] + NAMES[b], (NAMES[a], NAMES[b])) for a, b in joined)
        passing = Passing(dict.fromkeys(NAMES[:points], 1), frozenset(), pins)
        found = layered(passing, tried=1000)
        assert isinstance(found, Layering)
        assert (found.count, found.fewest) == (colours(points, joined), True), (points, joined)
        assert passing.faults(found.layers) == []


@pytest.mark.parametrize("seed", range(3))
def test_nor_where_pins_strike_other_links(seed: int) -> None:
    """The same linkages, some of each kind, with strikes and a pair made up."""
    made = np.random.default_rng(seed)
    for points, joined in [each for each in graphs() if each[0] in (4, 5)][seed::3]:
        names = NAMES[:points]
        pins = []
        for a, b in joined:
            others = [name for k, name in enumerate(names) if k not in (a, b)]
            shank, ends = (frozenset(name for name in others if made.random() < share) for share in (0.25, 0.15))
            pins.append(Through(names[a] + names[b], (names[a], names[b]), shank, ends, float(made.integers(1, 9))))
        passing = Passing(dict.fromkeys(names, 1), frozenset(), tuple(pins))
        found = layered(passing, most=5)
        assert (found.count if isinstance(found, Layering) else None) == fewest_by_trying_all(passing, 5)
