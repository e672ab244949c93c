"""Layers: in which plane along the pins each plate runs, so that all links can pass each other.

Terms. The planes are counted from 1. A *member* is a link with one plate or a pair of them. Two members *meet* where
their plates would overlap in plan at any pose; they share no layer. Members on one pin always meet. A pin reaches from
the lowest to the highest of its plates; a member that its shank would strike has no plate in between, and one that its
head or clip would strike none in the layer just beyond either end.

The fewest layers are found for certain: for each number of layers, from the least that the pins alone need, all ways
are tried, and what can't be is left early. Of those with the fewest layers that one is taken whose pins are bent least:
the sum over pins of load times how far the members' middles stand apart. That second choice is looked for among a
bounded number of ways, and told where it was cut short.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

TRIED = 200_000
"""So many members put somewhere, at most, while the least bent pins are looked for."""
SPARE = 2
"""With so many times as many layers as plates, and one more, whatever is possible at all is found."""

Ways = dict[str, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Through:
    """A pin: the members on it, those that its shank would strike, those that its ends would, and its load (N)."""

    pin: str
    members: tuple[str, ...]
    shank_strikes: frozenset[str] = frozenset()
    ends_strike: frozenset[str] = frozenset()
    load: float = 1.0


@dataclass(frozen=True, slots=True)
class Layering:
    """Layers of each member's plates, ascending; how many there are; whether the least bent pins were found surely."""

    layers: Ways
    count: int
    bending: float
    proven: bool


@dataclass(frozen=True, slots=True)
class Passing:
    """What must pass: plates of each member (1 or 2), pairs of members that meet, pins."""

    plates: Mapping[str, int]
    meets: frozenset[frozenset[str]]
    pins: tuple[Through, ...]

    def apart(self, one: str, other: str) -> bool:
        """Whether two members may share no layer."""
        together = frozenset((one, other))
        return together in self.meets or any(together <= set(pin.members) for pin in self.pins)

    def faults(self, layers: Mapping[str, Sequence[int]]) -> list[tuple[str, str, str]]:
        """What is wrong with layers, set by hand perhaps: (what, name, other name), none where all can pass.

        what : "meet" (two members in one layer), "shank" or "end" (of a pin, and the member that it strikes).
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
        return found


def _struck(pin: Through, low: int, high: int, layers: Mapping[str, Sequence[int]]) -> Iterator[tuple[str, str]]:
    """What a pin that reaches from low to high would strike."""
    for name in pin.shank_strikes:
        if any(low <= layer <= high for layer in layers.get(name, ())):
            yield "shank", name
    for name in pin.ends_strike:
        if any(layer in (low - 1, high + 1) for layer in layers.get(name, ())):
            yield "end", name


def layered(passing: Passing, most: int | None = None) -> Layering | None:
    """The fewest layers in which all can pass, and of those ways the one that bends the pins least.

    most : layers; None: as many as could be of use.   None where there is no way.
    """
    plates = sum(passing.plates.values())
    least = max((sum(passing.plates[name] for name in pin.members) for pin in passing.pins), default=1)
    for count in range(max(least, max(passing.plates.values(), default=1)), (most or SPARE * plates + 1) + 1):
        search = _Search(passing, count)
        search.put(0)
        if search.best is not None:
            return Layering(search.best, count, search.bending, search.left > 0)
    return None


class _Search:
    """All ways to put members into so many layers, one member after another."""

    def __init__(self, passing: Passing, count: int) -> None:
        self.passing, self.count, self.left = passing, count, TRIED
        self.order = self._order()
        self.apart = {
            name: [other for other in self.order[:place] if passing.apart(name, other)]
            for place, name in enumerate(self.order)
        }
        self.ready = self._ready()
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

    def _ready(self) -> list[list[Through]]:
        """Pins that can be looked at once the member at each place is put: those with all of their members there."""
        place = {name: k for k, name in enumerate(self.order)}
        ready: list[list[Through]] = [[] for _ in self.order]
        for pin in self.passing.pins:
            concerned = [place[name] for name in (*pin.members, *pin.shank_strikes, *pin.ends_strike) if name in place]
            on = max(place[name] for name in pin.members)
            for k in sorted({each for each in concerned if each >= on}):
                ready[k].append(pin)
        return ready

    def put(self, place: int, bending: float = 0.0) -> None:
        """Put the member at a place and all behind it, in every way that can be."""
        if bending >= self.bending or (self.left <= 0 and self.best is not None):
            return
        if place == len(self.order):
            self.best, self.bending = dict(self.layers), bending
            return
        name = self.order[place]
        for layers in self._ways(place, name):
            self.left -= 1
            self.layers[name] = layers
            if not self._strikes(place):
                self.put(place + 1, self._bending())
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
        """Whether a pin whose members are all there strikes a member that is."""
        for pin in self.ready[place]:
            on = [layer for name in pin.members for layer in self.layers[name]]
            if next(_struck(pin, min(on), max(on), self.layers), None) is not None:
                return True
        return False

    def _bending(self) -> float:
        """Load times how far the middles of the members on each pin stand apart, of all that are there."""
        total = 0.0
        for pin in self.passing.pins:
            middles = [sum(self.layers[name]) / len(self.layers[name]) for name in pin.members if name in self.layers]
            if len(middles) > 1:
                total += pin.load * (max(middles) - min(middles))
        return total
