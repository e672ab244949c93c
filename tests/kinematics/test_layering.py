"""Layers: the fewest there can be, held against all ways there are; faults of layers set by hand."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.layering import Passing, Through, layered

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
    return Passing(plates, frozenset(map(frozenset, meets)), tuple(pins))


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
    return True


@settings(max_examples=40)
@given(passings())
def test_no_way_has_fewer_layers_single_plates(passing: Passing) -> None:
    found = layered(passing, most=5)
    assert (None if found is None else found.count) == fewest_by_trying_all(passing, 5)
    if found is not None:
        assert passing.faults(found.layers) == []


@settings(max_examples=20)
@given(passings(most=4, pairs=True))
def test_no_way_has_fewer_layers_pairs(passing: Passing) -> None:
    found = layered(passing, most=6)
    assert (None if found is None else found.count) == fewest_by_trying_all(passing, 6)
    if found is not None:
        assert passing.faults(found.layers) == []


def test_seven_links_in_a_ring_need_three_layers() -> None:
    """An odd ring of links, each pinned to the next, can't do with two: the colours of a ring (closed form)."""
    ring = [(NAMES[k], NAMES[(k + 1) % 7]) for k in range(7)]
    passing = Passing(dict.fromkeys(NAMES, 1), frozenset(), tuple(Through(a + b, (a, b)) for a, b in ring))
    found = layered(passing)
    assert found is not None
    assert found.count == 3
    assert found.proven


def test_a_pin_reaches_past_no_plate_that_it_would_strike() -> None:
    passing = Passing({"a": 2, "b": 1, "c": 1}, frozenset(), (Through("p", ("a", "b"), shank_strikes=frozenset("c")),))
    found = layered(passing)
    assert found is not None
    low, high = found.layers["a"]
    assert not low <= found.layers["c"][0] <= high
    assert found.layers["b"][0] not in found.layers["a"]


def test_a_pair_takes_the_other_between_its_plates_as_that_bends_the_pin_least() -> None:
    found = layered(Passing({"arm": 2, "lid": 1}, frozenset(), (Through("p", ("arm", "lid")),)))
    assert found is not None
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
    assert layered(Passing(dict.fromkeys("abc", 1), frozenset(), through)) is None
