"""A search that needs no processes: its units are done here, all at once, and worked out once for all tests."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from app.proposals.enough import Enough
from app.proposals.job import SearchJob
from kinematics.proposals.results import Settings, UnitResult
from tests.app.proposals import fake
from tests.app.sharing import demo

if TYPE_CHECKING:
    from app.proposals.command import Collects
    from kinematics.project import Project

UNITS = 6


@cache
def unit(number: int, seed: int, kinds: tuple[str, ...]) -> UnitResult:
    """A unit of the search in small, worked out once for all tests."""
    return fake.run(demo(), Settings(seed=seed, kinds=kinds), number)


class HereAndNow(SearchJob):
    """Does its units in this process, all at once, when it is started."""

    def warm(self) -> None:
        """There are no processes."""

    def start(self, project: Project, settings: Settings, collector: Collects, enough: Enough | None = None) -> None:
        super().start(project, settings, collector, enough or Enough(good=0, least_units=UNITS))
        while self.is_running:
            self._take(self._deal.take(unit(self._deal.give(), settings.seed, settings.kinds)))
