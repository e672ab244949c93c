"""The stack and the toe worked out without a process, at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.stack.job import StackJob
from app.stacked import stacked
from app.toe.job import ToeJob
from app.toe.unit import toe_found

if TYPE_CHECKING:
    from kinematics.project import Project


class HereAndNow(StackJob):
    """Works it out where it is asked for: `newest` is never None, but while something is dragged."""

    def _send(self, project: Project) -> None:  # noqa: ARG002  it is what is shown
        self.blockSignals(True)
        self._take(stacked(self._document.analysis))
        self.blockSignals(False)


class ToeHereAndNow(ToeJob):
    """The same for toe."""

    def _send(self, project: Project) -> None:
        self.blockSignals(True)
        self._take(toe_found(project))
        self.blockSignals(False)
