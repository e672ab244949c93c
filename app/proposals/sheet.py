"""The sheet that looks for hinges: what is asked, the search, what it finds, and what becomes of it.

It stands beside the work and leaves the project alone until a proposal is taken or kept, each one step that Undo takes
back. Stopping, at any instant, leaves what was found on the sheet and nothing in the project; closing ends every
process. Where what is asked changes meanwhile, the search stops, as it would go on for a question that is no more.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.entry.form import push_button
from app.proposals.asking import Asking, Told, subheading
from app.proposals.cards import Analyses, CardsList, CardsModel
from app.proposals.job import SearchJob
from app.proposals.search_sheet import SearchSheet
from app.proposals.taking import kept, question, taken
from app.proposals.wishes import Wishes
from app.proposals.words import asked_words, best_words, progress_words, rounded_words
from app.pumped import Pumped
from app.trials.kept import free_name
from kinematics.proposals.ranking import ranked

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.document import Document
    from app.look import Look
    from app.proposals.command import Collects
    from app.proposals.showing import Shown
    from kinematics.project import Point, Project
    from kinematics.proposals.results import Proposal, Settings

NOTHING_YET = (
    "Hinges are looked for that meet every want above; those found stand here, the best first, and go on coming until "
    "you stop. The project stays as it is until you take one."
)
ROUND_STEPS = {"mm": (1.0, 0.5), "in": (25.4 / 16, 25.4 / 32)}


class FindSheet(SearchSheet):
    """The sheet.

    job : who searches; tests put a small one in its place.     collector : makes what takes the units in.
    hindrances : what can be said at once about why nothing can be found.
    """

    def __init__(
        self,
        document: Document,
        shown: Shown,
        look: Callable[[], Look],
        parent: QWidget,
        job: SearchJob | None = None,
        collector: Callable[[Settings], Collects] | None = None,
        hindrances: Callable[[Project, Settings], Sequence[object]] | None = None,
    ) -> None:
        super().__init__("Find hinges", document, job or SearchJob(), parent)
        self._shown, self._look = shown, look
        self._collector, self._hindrances = collector or _collector, hindrances or _hindrances
        self._asked: tuple[Project, Settings] | None = None  # of the newest search
        self._taken_asks: Project | None = None  # by what was taken last
        self._rounded: dict[tuple[int, tuple[Point, ...]], Proposal] = {}
        self._pumped = Pumped(parent, lambda fault: document.noticed.emit(str(fault)))
        self.analyses = Analyses(self._pumped, self)
        self._is_rounding, self._is_closed = False, False
        self.model = CardsModel(self.analyses, lambda: document.units)
        self._build()
        self._connect_search(self._restyle, self.take_it)
        self.wishes.changed.connect(self._rank)
        self.job.found.connect(self._rank)
        self.resize(440, 740)
        self.job.warm()
        self._read_question()
        self._refresh()

    # Layout ----------------------------------------------------------------------------------------------------------

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setSpacing(6)
        self.asking = Asking(self._document.project, lambda: self._document.units)
        column.addWidget(self.asking)
        self._build_go(column, "Look for hinges on all cores; the project stays as it is.")
        self.best = Told("faint")
        column.addWidget(self.best)
        self._build_cards(column)
        self._build_buttons(column)
        self._build_foot(column)

    def _build_cards(self, column: QVBoxLayout) -> None:
        self.hint = Told("faint", NOTHING_YET)
        self.cards = CardsList(self.model, self._look)
        self.wishes = Wishes()
        column.addWidget(self.hint)
        column.addWidget(self.cards, 1)
        column.addWidget(subheading("What counts"))
        column.addWidget(self.wishes)

    def _build_buttons(self, column: QVBoxLayout) -> None:
        row = QHBoxLayout()
        self.take = push_button(
            "Take it",
            "Make the chosen proposal the layout on the board. One step; Undo brings back what is there now.",
            self.take_it,
        )
        self.keep = push_button(
            "Keep as trial", "Keep the chosen proposal as a trial; the board stays as it is.", self.keep_it
        )
        self.round = push_button(
            "Round its pins",
            "Move the chosen proposal's free pins to whole millimetres, or sixteenths of an inch, if every want still "
            "holds there.",
            self.round_it,
        )
        for button in (self.take, self.keep, self.round):
            row.addWidget(button)
        row.addStretch(1)
        column.addLayout(row)

    # What is asked ---------------------------------------------------------------------------------------------------

    @property
    def settings(self) -> Settings:
        """How to search, as the sheet has it now."""
        settings: Settings = self.asking.settings
        return settings

    @property
    def is_stale(self) -> bool:
        """Whether something else is asked now than what was searched."""
        asks = question(self._document.project)
        return self._asked is not None and asks not in (self._asked[0], self._taken_asks)

    def _read_question(self) -> None:
        """Say what is asked, and what hinders; stop a search for what is asked no more."""
        if not self._may_read():
            return
        document = self._document
        settings = self.settings
        faults = self._hindrances(document.project, settings) if settings.kinds else ("No kind is ticked.",)
        self.asking.tell(asked_words(document.project, document.analysis.checks, document.units), faults)
        self.model.refresh()  # the units may be others
        self._tell_progress()
        self._enable()

    def _restyle(self) -> None:
        self._read_question()
        self._refresh()

    # The search ------------------------------------------------------------------------------------------------------

    def toggle(self) -> None:
        """Start, go on with, or stop the search."""
        if self.job.is_running:
            self.job.stop()
            return
        self._taken_asks = None
        asked = (question(self._document.project), self.settings)
        collector = self.job.collector
        if collector is None or asked != self._asked:
            collector = self._collector(self.settings)
            self._asked = asked
            self._rounded.clear()
        self._say("")
        self.job.start(self._document.project, self.settings, collector)
        self._refresh()

    def _goes_on(self) -> bool:
        """Whether starting would go on with the newest search."""
        return self.job.collector is not None and self._asked == (question(self._document.project), self.settings)

    # Showing ---------------------------------------------------------------------------------------------------------

    def _refresh(self) -> None:
        self.model.refresh()
        self._rank()
        self._tell_progress()
        self._enable()

    def _rank(self) -> None:
        """Put what was found in the order of what counts; the chosen card stays chosen."""
        collector, chosen = self.job.collector, self.proposal
        found = [] if collector is None else [self._rounded.get(_key(each), each) for each in collector.kept]
        self.wishes.show_effort(any(each.figures.effort is not None for each in found))
        order = ranked(found, self.wishes.preferences)
        if order != self.model.proposals:
            scrolled = self.cards.verticalScrollBar().value()
            self.model.show(order)
            self.analyses.want(order)
            row = next((k for k, each in enumerate(order) if chosen is not None and _key(each) == _key(chosen)), -1)
            self._keep_view(row, scrolled)
        self.hint.setVisible(not order)
        self._enable()

    def _tell_progress(self) -> None:
        job, collector = self.job, self.job.collector
        if collector is None:
            self.progress.tell("")
            self.best.tell("")
            return
        good = sum(each.ok for each in collector.kept)
        now = (job.kind or "the first kind") if job.is_running else ""
        self.progress.tell(progress_words(job.seconds, collector.tried, job.units, good, now))
        units = self._document.units
        lines = [best_words(kind, each, units) for kind, each in collector.best_by_kind.items()]
        self.best.tell("\n".join(f"{line[:1].upper()}{line[1:]}" for line in lines))

    def _enable(self) -> None:
        proposal = self.proposal
        self._enable_search(is_something_found=bool(self.model.proposals))
        self.take.setEnabled(proposal is not None and not self.is_stale)
        self.keep.setEnabled(proposal is not None)
        self.round.setEnabled(proposal is not None and proposal.ok and not self._is_rounding)

    @property
    def proposal(self) -> Proposal | None:
        """The chosen proposal."""
        row = self.cards.currentIndex().row()
        return self.model.proposals[row] if 0 <= row < len(self.model.proposals) else None

    def _show_row(self, row: int) -> None:
        there = 0 <= row < len(self.model.proposals)
        self._shown.show(self.analyses.now(self.model.proposals[row]) if there else None)

    # Doing -----------------------------------------------------------------------------------------------------------

    def take_it(self) -> None:
        """Make the chosen proposal the layout on the board: one step."""
        proposal = self.proposal
        if proposal is not None and not self.is_stale:
            self.job.stop()
            label = f"Take a {proposal.kind}"
            # Wants of its links come with it: they are no other question.
            self._taken_asks = question(taken(self._document.project, proposal))
            if self._document.attempt(label, lambda project: taken(project, proposal)):
                self._say("It is on the board now; Undo brings back what was there.")

    def keep_it(self) -> None:
        """Keep the chosen proposal as a trial: one step."""
        proposal = self.proposal
        if proposal is None:
            return
        name = free_name(self._document.project, proposal.kind)
        seed = self._asked[1].seed if self._asked is not None else 0
        note = f"found by a search, seed {seed}"
        if self._document.attempt(f"Keep {name}", lambda project: kept(project, proposal, name, note)):
            self._say(f"It is kept as the trial “{name}” (Ctrl+T shows the trials).")

    def round_it(self) -> None:
        """Put the chosen proposal's pins on round places, where every want holds there; off the window's thread."""
        from kinematics.proposals.rounding import rounded

        proposal = self.proposal
        if proposal is None or not proposal.ok or self._is_rounding:
            return
        steps = ROUND_STEPS[self._document.project.display_units]
        self._is_rounding = True
        self._enable()
        self._pumped.do("round", partial(rounded, proposal, steps), partial(self._take_rounded, proposal, steps))

    def _take_rounded(self, proposal: Proposal, steps: Sequence[float], found: tuple[Proposal, float] | None) -> None:
        self._is_rounding = False
        if self._is_closed:
            return
        if found is not None:
            was_chosen = self.proposal is proposal
            self._rounded[_key(proposal)] = self._rounded[_key(found[0])] = found[0]
            self._rank()
            if was_chosen:
                self._choose(found[0])
        self._say(rounded_words(None if found is None else found[1], steps, self._document.units))
        self._enable()

    def _choose(self, proposal: Proposal) -> None:
        self.cards.setCurrentIndex(self.model.index(self.model.proposals.index(proposal)))

    def done(self, result: int) -> None:
        """End the search and its processes, and take the proposal off the board, with the sheet."""
        self._is_closed = True
        self.analyses.close()
        self._shown.show(None)
        super().done(result)


def _key(proposal: Proposal) -> tuple[int, tuple[Point, ...]]:
    return proposal.unit, tuple(pivot.at for pivot in proposal.project.pivots)


def _collector(settings: Settings) -> Collects:
    from kinematics.proposals.collecting import Collector

    return Collector(settings)


def _hindrances(project: Project, settings: Settings) -> Sequence[object]:
    from kinematics.proposals.hopeless import cannot

    return cannot(project, settings)
