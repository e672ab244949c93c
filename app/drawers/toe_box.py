"""How parallel the two hinges must be, in the drawer Build: where the pair binds, worked out beside the window."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox, say
from app.toe.job import ToeJob, toe_job
from app.toe_words import TOE_CAUTION, toe_gist, toe_sentences
from app.working_row import WorkingRow
from kinematics.mount_parts import Base
from kinematics.walling import wedge

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis


class ToeBox(LiftBox):
    """Sentences, and what is said while they are worked out."""

    title: ClassVar[str] = "Parallel hinges"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.told(
            "Each hinge carries the panel in a plane of its own. Where the two planes aren't parallel, the play of the "
            "pins is used up as the panel opens, and then the pair binds."
        )
        self.job = toe_job(document)
        self.job.changed.connect(self._again)
        self.working = WorkingRow(self.job)
        self.wide(self.working)
        self.sentences = self.text_row()
        self.told(TOE_CAUTION)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say how true they must be, once that is known."""
        job = document.findChild(ToeJob)
        last = None if job is None else job.last
        return toe_gist(last[1], document.units) if last is not None and last[0] is analysis.project else ""

    def show_analysis(self, analysis: Analysis) -> None:
        """Have it worked out, and show it."""
        super().show_analysis(analysis)
        self._renew()

    def _again(self) -> None:
        if self.isVisible():
            self._renew()

    def _renew(self) -> None:
        """Show what there is: the newest, or the last one in a low voice."""
        project = self.document.analysis.project
        found = self.job.newest()
        last = self.job.last
        shown = found if found is not None else last[1] if last is not None else None
        base = project.mounted.base or Base()
        say(self.sentences, [] if shown is None else toe_sentences(shown, wedge(project, base, "left"), self.units))
        self.sentences.setEnabled(found is not None)
        self.working.renew()
