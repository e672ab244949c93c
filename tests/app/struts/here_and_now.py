"""A search for struts that needs no processes: two units, done here and worked out once for all tests."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from app.proposals.job import SearchJob
from app.struts.question import StrutEnough
from kinematics.struts import unit

if TYPE_CHECKING:
    from typing import Any

    from kinematics.project import Project
    from kinematics.struts.results import StrutSettings, StrutUnit

UNITS = 2


@cache
def done(project: Project, settings: StrutSettings, number: int) -> StrutUnit:
    """A unit, worked out once."""
    return unit.run(project, settings, number)


class HereAndNow(SearchJob):
    """Does its units in this process, all at once, when it is started."""

    def warm(self) -> None:
        """There are no processes."""

    def start(self, project: Project, settings: Any, collector: Any, enough: Any = None) -> None:  # noqa: ANN401
        assert isinstance(enough, StrutEnough)
        super().start(project, settings, collector, StrutEnough(good=0, least_units=UNITS))
        while self.is_running:
            self._take(self._deal.take(done(project, settings, self._deal.give())))  # type: ignore[arg-type]
