"""When a search has found enough. No Qt here.

It is asked after each unit that is taken in, by number; so, time allowing, a search ends after the same unit whenever
it is run, and what it hands over is the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.proposals.results import Proposal

ENOUGH = 12
LEAST_UNITS = 24
DRY_UNITS = 24


@dataclass(slots=True)
class Enough:
    """Enough is: `good` layouts that hold every want, so many units done, and so many since the last news.

    News are layouts that are new, or better than what they take the place of.
    """

    good: int = ENOUGH
    least_units: int = LEAST_UNITS
    dry_units: int = DRY_UNITS
    _units: int = 0
    _dry: int = 0

    def after(self, news: Sequence[Proposal], kept: Sequence[Proposal]) -> bool:
        """Whether the search may end after a unit that brought `news`."""
        self._units += 1
        self._dry = 0 if any(each.ok for each in news) else self._dry + 1
        good = sum(each.ok for each in kept)
        if self._units < self.least_units:
            return False
        return good >= self.good or (good > 0 and self._dry >= self.dry_units)
