"""From what units bring to what is worth showing: placements that differ, the best first.

Two are *alike* where both ends are nearer to each other than a share of the strut's length; of those the better one
stays. Where none meets all wants the nearest are kept, and a count of what stands in the way.
"""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.struts.results import Placement, StrutUnit

ALIKE = 0.12
MOST = 24
"""More than these nobody looks through."""
NEAR = 3
"""Of those that fall short so many are shown, while none holds."""
CLEARLY = 0.01
"""A score that is better by no more than this is no news."""


class StrutCollector:
    """Takes in units by number.

    tried : placements held against all wants.   drawn, fitting, looked, unclear : as units tell.   units : taken in.
    in_the_way : want → placements that meet all wants but that one.
    """

    def __init__(self) -> None:
        self._all: list[Placement] = []
        self.tried = self.drawn = self.fitting = self.looked = self.unclear = self.units = 0
        self.in_the_way: Counter[str] = Counter()

    @property
    def kept(self) -> tuple[Placement, ...]:
        """What is worth showing, the best first; of what falls short, the nearest."""
        good = [each for each in self._all if each.ok]
        return tuple(good[:MOST] or sorted(self._all, key=lambda each: -each.margin)[:NEAR])

    @property
    def best_by_kind(self) -> Mapping[str, Placement | None]:
        """The best; there is one kind only."""
        return {"": self.kept[0] if self._all else None}

    def take(self, result: StrutUnit) -> tuple[Placement, ...]:
        """Take in the next unit and give what is new and worth showing. Units come in the order of their numbers."""
        if result.unit != self.units:
            raise ValueError(f"unit {result.unit} came where {self.units} was expected")
        self.units += 1
        self.tried += result.tried
        self.drawn += result.drawn
        self.fitting += result.fitting
        self.looked += result.looked
        self.unclear += result.unclear
        self.in_the_way.update(dict(result.in_the_way))
        return tuple(each for each in result.placements if self._put(each))

    def _put(self, new: Placement) -> bool:
        """Take one in, where none like it is as good; whether it is news."""
        like = [each for each in self._all if are_alike(each, new)]
        better = max(map(order, like), default=None)
        if better is not None and order(new) <= (better[0], better[1] + CLEARLY):
            return False
        self._all = [each for each in self._all if each not in like]
        self._all.append(new)
        self._all.sort(key=order, reverse=True)
        del self._all[2 * MOST :]
        return new in self.kept


def order(placement: Placement) -> tuple[bool, float]:
    """By which placements are put in order: wants met first, then the score."""
    return placement.ok, placement.score


def are_alike(one: Placement, other: Placement) -> bool:
    """Whether two placements are nearly copies."""
    if (one.from_on, one.to_on) != (other.from_on, other.to_on):
        return False
    away = max(math.dist(one.from_at, other.from_at), math.dist(one.to_at, other.to_at))
    return away < ALIKE * min(one.longest, other.longest)
