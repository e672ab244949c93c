"""The sheet that looks for struts: what is asked, the search, what it finds, and one click that takes it.

It stands beside the work and leaves the project alone until one is taken: one step, which Undo takes back. Stopping,
at any instant, leaves what was found on the sheet; closing ends every process. Where what is asked changes meanwhile,
the search stops, as it would go on for a question that is no more.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.dialog_places import undo_from
from app.entry.form import push_button
from app.proposals.asking import Told
from app.proposals.job import SearchJob
from app.proposals.search_sheet import SearchSheet
from app.struts.asking import StrutAsking
from app.struts.cards import StrutCards, StrutsModel
from app.struts.question import StrutEnough, has_wants, question, searched
from app.struts.words import (
    CAUTION,
    CHECKED,
    CHECKED_WHOLLY,
    USUAL_TOLD,
    asked_words,
    progress_words,
    size_words,
    way_words,
)
from kinematics.struts.collecting import StrutCollector
from kinematics.struts.zoned import strut_zones

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.board import Board
    from app.look import Look
    from app.struts.shown import StrutShown
    from kinematics.project import Project
    from kinematics.results import Check
    from kinematics.struts.results import Placement, StrutSettings

RUNNER = "kinematics.struts.unit"
NOTHING_YET = (
    "Struts are looked for that meet every want above; those found stand here, the best first, and get better until "
    "you stop. The project stays as it is until you take one."
)
TAKEN = "It is on the board now; Undo brings back what was there. Support the panel while you fit it."


class StrutSheet(SearchSheet):
    """The sheet. job : who searches; tests put a small one in its place."""

    def __init__(
        self, board: Board, shown: StrutShown, look: Callable[[], Look], parent: QWidget, job: SearchJob | None = None
    ) -> None:
        super().__init__("Find struts", board.document, job or SearchJob(runner=RUNNER), parent)
        self._shown, self._look = shown, look
        self._asked: tuple[Project, StrutSettings] | None = None  # of the newest search
        self._collector: StrutCollector | None = None
        self._label = ""  # of the step that took struts last
        self.model = StrutsModel(lambda: self._document.units)
        self._build(board)
        self._connect_search(self._read_question, self.take_it)
        self.cards.taken_row.connect(self._take_row)
        self.job.found.connect(self._refresh)
        undo_from(self, self._document)
        self.resize(460, 760)
        self.job.warm()
        self._read_question()

    # Layout ----------------------------------------------------------------------------------------------------------

    def _build(self, board: Board) -> None:
        column = QVBoxLayout(self)
        column.setSpacing(6)
        self.asking = StrutAsking(self._document, board)
        column.addWidget(self.asking)
        self._build_go(column, "Look for struts on all cores; the project stays as it is.")
        self.way = Told("fault")
        self.hint = Told("faint", NOTHING_YET)
        self.cards = StrutCards(self.model, self._look)
        column.addWidget(self.way)
        column.addWidget(self.hint)
        column.addWidget(self.cards, 1)
        checked = Told("faint", CHECKED)
        checked.setToolTip(CHECKED_WHOLLY)
        column.addWidget(checked)
        column.addWidget(Told("", CAUTION))
        self.take = push_button(
            "Take it", "Put the chosen struts in place of those there are. One step; Undo takes it back.", self.take_it
        )
        self._build_foot(column, self.take)

    # What is asked ---------------------------------------------------------------------------------------------------

    @property
    def is_stale(self) -> bool:
        """Whether something else is asked now than what was searched."""
        return self._asked is not None and question(self._document.project) != self._asked[0]

    def _read_question(self) -> None:
        """Say what is asked, and what hinders; stop a search for what is asked no more."""
        from kinematics.struts.wanted import cannot

        if not self._may_read():
            return
        document = self._document
        project = document.project
        self._shown.show_zones(strut_zones(project))
        faults = cannot(searched(project), self.asking.settings)
        usual = "" if has_wants(project) else USUAL_TOLD
        self.asking.tell(asked_words(self._checks(project), document.units), usual, faults)
        self.model.refresh()  # the units may be others
        if self.said.text() == TAKEN and document.undo_label != self._label:
            self.said.tell("")
        self._tell_progress()
        self._enable()

    def _checks(self, project: Project) -> Sequence[Check]:
        """The wants of lifting, each with its figures as it is now; usual ones where there are none."""
        if has_wants(project):
            return self._document.analysis.checks
        from kinematics import analyse

        return analyse(searched(project), 2).checks

    # The search ------------------------------------------------------------------------------------------------------

    def toggle(self) -> None:
        """Start, go on with, or stop the search."""
        if self.job.is_running:
            self.job.stop()
            return
        project, settings = self._document.project, self.asking.settings
        asked = (question(project), settings)
        if self._collector is None or asked != self._asked:
            self._collector, self._asked = StrutCollector(), asked
        self.said.tell("")
        # The job deals out units and takes them in; what they are of is nothing to it.
        self.job.start(searched(project), cast("Any", settings), cast("Any", self._collector), StrutEnough())
        self._refresh()

    def _goes_on(self) -> bool:
        return self._asked == (question(self._document.project), self.asking.settings)

    # Showing ---------------------------------------------------------------------------------------------------------

    def _refresh(self) -> None:
        """Show what was found, the best first; the chosen card stays chosen."""
        collector, chosen = self._collector, self.placement
        found = () if collector is None else collector.kept
        if found != self.model.placements:
            scrolled = self.cards.verticalScrollBar().value()
            loads = searched(self._document.project).loads
            wants = None if loads is None else loads.wants
            self.model.show(found, None if wants is None else wants.at_most)
            self._shown.low = self.model.range[0]
            self._keep_view(found.index(chosen) if chosen is not None and chosen in found else -1, scrolled)
        self.hint.setVisible(not found)
        self._tell_progress()
        self._enable()

    def _tell_progress(self) -> None:
        job, collector = self.job, self._collector
        if collector is None:
            self.progress.tell("")
            self.way.tell("")
            return
        good = sum(each.ok for each in collector.kept)
        self.progress.tell(progress_words(job.seconds, collector.tried, good, job.units, job.is_running))
        self.way.tell(way_words(collector, self._document.units))

    def _enable(self) -> None:
        self._enable_search(is_something_found=bool(self.model.placements))
        self.take.setEnabled(self.placement is not None and not self.is_stale)

    @property
    def placement(self) -> Placement | None:
        """The chosen one."""
        row = self.cards.currentIndex().row()
        return self.model.placements[row] if 0 <= row < len(self.model.placements) else None

    def _show_row(self, row: int) -> None:
        there = 0 <= row < len(self.model.placements)
        self._shown.show(self.model.placements[row] if there else None)

    # Doing -----------------------------------------------------------------------------------------------------------

    def _take_row(self, row: int) -> None:
        self.cards.setCurrentIndex(self.model.index(row))
        self.take_it()

    def take_it(self) -> None:
        """Put the chosen struts in: one step."""
        from kinematics.struts.fitting import with_struts

        found = self.placement
        if found is None or self.is_stale:
            return
        self.job.stop()
        self._label = f"Fit struts {size_words(found.size)}"
        if self._document.attempt(self._label, lambda project: with_struts(project, found)):
            self._shown.show(None)
            self.said.tell(TAKEN)

    def done(self, result: int) -> None:
        """End the search and its processes, and take strut and zones off the board, with the sheet."""
        self._shown.close()
        super().done(result)
