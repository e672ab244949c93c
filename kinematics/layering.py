"""Layers: in which plane along the pins each plate runs, so that all links can pass each other.

Terms. The planes are counted from 1. A *member* is a link with one plate or a pair of them. Two members *meet* where
their plates would overlap in plan at any pose; they share no layer. Members on one pin always meet. A pin reaches from
the lowest to the highest of its plates; a member that its shank would strike has no plate in between, and one that its
head or clip would strike none in the layers just beyond either end. Of two pins that come *near* each other, neither
has its head or clip in a layer where the other has anything.

The fewest layers are found by deepening: from the largest *clique* on (members of which each meets each other need as
many layers as they have plates) all ways are tried for each number of layers, and what can't be is left early, for a
pin that has some of its plates already reaches at least so far. Whether there is any way at all doesn't hang on heads
and clips, as a layer that is left empty beyond each plate makes room for them; and without them nobody needs more
layers than there are plates. Of the ways with the fewest layers that one is taken whose pins are bent least: the sum
over pins of load times how far the members' middles stand apart.

Each of these searches ends after a bounded number of trials. Where one was cut short, the answer says so.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

TRIED = 15_000
"""So many members put somewhere, at most, for each number of layers …"""
IN_ALL = 50_000
"""… and about so many for all of them: a second's work."""

Ways = dict[str, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Through:
    """A pin: the members on it, those that its shank would strike, those that its ends would, and its load (N).

    head_layers, clip_layers : in so many layers beyond its plates head and clip stand. It may be put in from either
    side, whichever strikes less.
    """

    pin: str
    members: tuple[str, ...]
    shank_strikes: frozenset[str] = frozenset()
    ends_strike: frozenset[str] = frozenset()
    load: float = 1.0
    head_layers: int = 1
    clip_layers: int = 1

    @property
    def end_layers(self) -> int:
        """The larger of the two."""
        return max(self.head_layers, self.clip_layers)


@dataclass(frozen=True, slots=True)
class Layering:
    """Layers of each member's plates, ascending, and how many there are.

    fewest : whether it is proven that fewer can't do.   proven : whether it is that no other way bends the pins less.
    """

    layers: Ways
    count: int
    bending: float
    proven: bool
    fewest: bool = True


@dataclass(frozen=True, slots=True)
class NoWay:
    """Nothing was found.   proven : whether there is none at all, or (False) the search was cut short.

    nearest : layers in which none share one that meet, though pins strike some; for a picture of what is wrong.
    """

    proven: bool
    nearest: Ways


@dataclass(frozen=True, slots=True)
class Passing:
    """What must pass: plates of each member (1 or 2), pairs of members that meet, pins, pairs of pins that are near."""

    plates: Mapping[str, int]
    meets: frozenset[frozenset[str]]
    pins: tuple[Through, ...]
    near: frozenset[frozenset[str]] = frozenset()

    def apart(self, one: str, other: str) -> bool:
        """Whether two members may share no layer."""
        together = frozenset((one, other))
        return together in self.meets or any(together <= set(pin.members) for pin in self.pins)

    def faults(self, layers: Mapping[str, Sequence[int]]) -> list[tuple[str, str, str]]:
        """What is wrong with layers, set by hand perhaps: (what, name, other name), none where all can pass.

        what : "meet" (two members in one layer), "shank" or "end" (of a pin, and the member that it strikes), "pins"
        (two pins, the head or clip of one of which strikes the other).
        """
        named = [name for name in self.plates if name in layers]
        found = [
            ("meet", one, other)
            for one, other in itertools.combinations(named, 2)
            if set(layers[one]) & set(layers[other]) and self.apart(one, other)
        ]
        for pin in self.pins:
            on = [layer for name in pin.members if name in layers for layer in layers[name]]
            if on:
                found += [(what, pin.pin, name) for what, name in _struck(pin, min(on), max(on), layers)]
        return found + [("pins", one.pin, other.pin) for one, other in self.near_pins() if _collide(one, other, layers)]

    def near_pins(self) -> list[tuple[Through, Through]]:
        """Pairs of pins that come near each other."""
        couples = itertools.combinations(self.pins, 2) if self.near else ()
        return [(one, other) for one, other in couples if frozenset((one.pin, other.pin)) in self.near]

    def least_layers(self) -> int:
        """Plates of the largest clique: as many layers are needed at least."""
        names = sorted(self.plates, key=lambda name: -self.plates[name])
        meets = {one: {other for other in names if other != one and self.apart(one, other)} for one in names}

        def largest(left: Sequence[str]) -> int:
            tops = (
                self.plates[name] + largest([other for other in left[k + 1 :] if other in meets[name]])
                for k, name in enumerate(left)
            )
            return max(tops, default=0)

        return largest(names)

    def without_ends(self) -> Passing:
        """The same with pins that have neither head nor clip."""
        pins = tuple(replace(pin, ends_strike=frozenset()) for pin in self.pins)
        return replace(self, pins=pins, near=frozenset())

    def without_strikes(self) -> Passing:
        """The same with pins that strike nothing."""
        bare = self.without_ends()
        return replace(bare, pins=tuple(replace(pin, shank_strikes=frozenset()) for pin in bare.pins))


def _struck(pin: Through, low: int, high: int, layers: Mapping[str, Sequence[int]]) -> Iterator[tuple[str, str]]:
    """What a pin that reaches from low to high would strike."""
    for name in pin.shank_strikes:
        if any(low <= layer <= high for layer in layers.get(name, ())):
            yield "shank", name
    both = [_ends_struck(pin, low, high, layers, turned=turned) for turned in (False, True)]
    yield from (("end", name) for name in min(both, key=len))


def _ends_struck(pin: Through, low: int, high: int, layers: Mapping[str, Sequence[int]], *, turned: bool) -> list[str]:
    """What its ends would strike, the head beneath, or above where it is turned."""
    below, above = (pin.clip_layers, pin.head_layers) if turned else (pin.head_layers, pin.clip_layers)
    return [
        name
        for name in pin.ends_strike
        if any(low - below <= layer < low or high < layer <= high + above for layer in layers.get(name, ()))
    ]


def is_turned(pin: Through, layers: Mapping[str, Sequence[int]]) -> bool:
    """Whether a pin had better be put in from above: its head there strikes less than beneath."""
    on = [layer for name in pin.members for layer in layers.get(name, ())]
    if not on:
        return False
    beneath, above = (len(_ends_struck(pin, min(on), max(on), layers, turned=turned)) for turned in (False, True))
    return above < beneath


def _collide(one: Through, other: Through, layers: Mapping[str, Sequence[int]]) -> bool:
    """Whether the head or clip of one of two pins stands where the other has anything."""
    places = []
    for pin in (one, other):
        on = [layer for name in pin.members for layer in layers.get(name, ())]
        if not on:
            return False
        low, high = min(on), max(on)
        every = set(range(low - pin.end_layers, high + pin.end_layers + 1))
        places.append((every, every - set(range(low, high + 1))))
    (every, ends), (other_every, other_ends) = places
    return bool(ends & other_every or other_ends & every)


def layered(passing: Passing, most: int | None = None, tried: int = TRIED) -> Layering | NoWay:
    """The fewest layers in which all can pass, and of those ways the one that bends the pins least.

    most : layers; None: as many as could be of use.   tried : trials for each number of layers.
    """
    plates = max(sum(passing.plates.values()), 1)
    any_way = _Search(passing.without_ends(), plates, tried, first=True)
    any_way.put(0)
    if any_way.best is None:
        return NoWay(any_way.left > 0, _nearest(passing, plates, tried))
    room = 1 + 2 * max((pin.end_layers for pin in passing.pins), default=1)
    spread = {name: tuple(1 + (layer - 1) * room for layer in layers) for name, layers in any_way.best.items()}
    last = max((layer for layers in spread.values() for layer in layers), default=1)
    fewest, left = True, IN_ALL
    for count in range(max(passing.least_layers(), 1), min(last, most or last) + 1):
        search = _Search(passing, count, min(tried, left))
        search.put(0)
        if search.best is not None:
            return Layering(search.best, count, search.bending, search.left > 0, fewest)
        fewest, left = fewest and search.left > 0, left - tried + search.left
        if left <= 0:
            break
    if most is not None and most < last:
        return NoWay(fewest, _nearest(passing, plates, tried))
    if passing.faults(spread):
        return NoWay(proven=False, nearest=any_way.best)
    close = _closed_up(passing, spread)
    count = max((layer for layers in close.values() for layer in layers), default=0)
    return Layering(close, count, _bending(passing, close), proven=False, fewest=False)


def _closed_up(passing: Passing, layers: Ways) -> Ways:
    """The same without the empty layers that nobody needs."""
    for layer in range(max((each for on in layers.values() for each in on), default=0), 0, -1):
        if not any(layer in on for on in layers.values()):
            without = {name: tuple(each - (each > layer) for each in on) for name, on in layers.items()}
            layers = layers if passing.faults(without) else without
    return layers


def _nearest(passing: Passing, plates: int, tried: int) -> Ways:
    """Few layers in which none share one that meet, whatever the pins strike."""
    bare = passing.without_strikes()
    for count in range(max(passing.least_layers(), 1), plates + 1):
        search = _Search(bare, count, tried, first=True)
        search.put(0)
        if search.best is not None:
            return search.best
    numbers = itertools.count(1)
    return {name: tuple(itertools.islice(numbers, many)) for name, many in passing.plates.items()}


def _bending(passing: Passing, layers: Mapping[str, Sequence[int]]) -> float:
    """Load times how far the middles of the members on each pin stand apart; at least, while some aren't there."""
    total = 0.0
    for pin in passing.pins:
        middles = [sum(layers[name]) / len(layers[name]) for name in pin.members if name in layers]
        apart = max(middles) - min(middles) if len(middles) > 1 else 0.0
        single = all(passing.plates.get(name) == 1 for name in pin.members)
        total += pin.load * (max(apart, len(pin.members) - 1.0) if single else apart)
    return total


class _Search:
    """All ways to put members into so many layers, one member after another; `first`: until there is one."""

    def __init__(self, passing: Passing, count: int, tried: int, *, first: bool = False) -> None:
        self.passing, self.count, self.left, self.stops = passing, count, tried, first
        self.order = self._order()
        self.apart = {
            name: [other for other in self.order[:place] if passing.apart(name, other)]
            for place, name in enumerate(self.order)
        }
        self.concerned, self.whole = self._pins()
        self.near = passing.near_pins()
        self.layers: Ways = {}
        self.best: Ways | None = None
        self.bending = float("inf")

    def _order(self) -> list[str]:
        """Members by how much they bind: those that meet most first, then those that meet what is there."""
        names = list(self.passing.plates)
        meets = {one: {other for other in names if other != one and self.passing.apart(one, other)} for one in names}
        order: list[str] = []
        while len(order) < len(names):
            left = [name for name in names if name not in order]
            order.append(max(left, key=lambda name: (len(meets[name] & set(order)), len(meets[name]))))
        return order

    def _pins(self) -> tuple[list[list[Through]], list[set[str]]]:
        """For the member at each place: the pins that have it or would strike it, and those that are whole with it."""
        concerned = [
            [pin for pin in self.passing.pins if name in (*pin.members, *pin.shank_strikes, *pin.ends_strike)]
            for name in self.order
        ]
        there = [set(self.order[: place + 1]) for place in range(len(self.order))]
        known = set(self.order)
        whole = [{pin.pin for pin in self.passing.pins if set(pin.members) & known <= names} for names in there]
        return concerned, whole

    def put(self, place: int, bending: float = 0.0) -> None:
        """Put the member at a place and all behind it, in every way that can be."""
        if bending >= self.bending or self.left <= 0 or (self.stops and self.best is not None):
            return
        if place == len(self.order):
            self.best, self.bending = dict(self.layers), bending
            return
        name = self.order[place]
        for layers in self._ways(place, name):
            self.left -= 1
            self.layers[name] = layers
            if not self._strikes(place):
                self.put(place + 1, _bending(self.passing, self.layers))
            del self.layers[name]

    def _ways(self, place: int, name: str) -> Iterator[tuple[int, ...]]:
        """The layers that a member may have; the first one in the lower half only, as a stack turned over is the same.

        Pairs that lie even about the middle come first: they share their load.
        """
        taken = {layer for other in self.apart[name] for layer in self.layers[other]}
        free = [layer for layer in range(1, self.count + 1) if layer not in taken]
        middle = self.count + 1
        ways = sorted(
            itertools.combinations(free, self.passing.plates[name]),
            key=lambda way: abs(sum(way) / len(way) - middle / 2),
        )
        return (way for way in ways if place > 0 or 2 * sum(way) <= middle * len(way))

    def _strikes(self, place: int) -> bool:
        """Whether a pin strikes a member: with its shank as far as it reaches, with its ends once it's whole."""
        for pin in self.concerned[place]:
            on = [layer for name in pin.members for layer in self.layers.get(name, ())]
            if not on:
                continue
            whole = pin.pin in self.whole[place]
            if any(whole or what == "shank" for what, _ in _struck(pin, min(on), max(on), self.layers)):
                return True
        return any(
            {one.pin, other.pin} <= self.whole[place] and _collide(one, other, self.layers) for one, other in self.near
        )
