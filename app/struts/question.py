"""What a search for struts is asked: the project without what it puts in, its wants or the usual ones, the grid.

No Qt here.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.proposals.enough import Enough
from kinematics.loading import with_loads
from kinematics.loads import LiftWants, WorstCase
from kinematics.struts.wanted import asks, without_struts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Project

USUAL = LiftWants(at_most=100.0, rests_until_deg=5.0, stays_open=True, stays_open_in=WorstCase(temperature=-10.0))
"""What is looked for where nobody said what is wanted: common practice, no source."""
GRIDS = {"mm": 1.0, "in": 25.4 / 16}
"""To what the ends' places are rounded, mm: what a tape tells."""
LONGEST = 160
"""So many units without one that holds are enough to say what stands in the way."""


def has_wants(project: Project) -> bool:
    """Whether anything is wanted of lifting."""
    return project.loads is not None and asks(project.loads.wants)


def searched(project: Project) -> Project:
    """What is searched: the project without struts, with the usual wants where it has none."""
    bare = without_struts(project)
    return bare if has_wants(bare) else with_loads(bare, wants=USUAL)


def question(project: Project) -> Project:
    """What a search is asked by a project. Two projects with the same question get the same struts."""
    return replace(
        searched(project), title="", notes="", display_units="mm", marks=(), limits=(), gaps=(), measures=(),
        pictures=(), trials=(), zones=(), keep_clear=(), room=None, sureness=None,
    )  # fmt: skip


class StrutEnough(Enough):
    """Enough was found, or looked for long enough in vain."""

    def after(self, news: Sequence[object], kept: Sequence[object]) -> bool:
        """Whether the search may end after a unit that brought `news`."""
        return super().after(news, kept) or self._units >= LONGEST  # type: ignore[arg-type]  # they need only be `ok`
