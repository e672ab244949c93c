"""What the sheets that search have in common: the question, a search that starts, stops and goes on, cards, one word.

A sheet stands beside the work and leaves the project alone until something found is taken. Where what is asked changes
meanwhile, the search stops, as it would go on for a question that is no more. A sheet says what is asked
(`_read_question`), whether that is still what was searched (`is_stale`, `_goes_on`), and shows what was found
(`_refresh`); this one has the button, the progress, what was said last, and the end.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.buttons import close_only
from app.entry.form import push_button
from app.proposals.asking import Told

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from app.proposals.job import SearchJob

REST_MS = 250
GO = START, STOP, GO_ON = "Start", "Stop", "Go on"
"""What the button says that begins and ends a search."""
CHANGED = "What is asked has changed since these were found. Start again to look for what is asked now."


class SearchSheet(QDialog):
    """A sheet with a search of its own.   asking : what is asked, made by the sheet.   cards, model : what is found."""

    asking: Any
    cards: Any
    model: Any

    def __init__(self, title: str, document: Document, job: SearchJob, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self.setAccessibleName(title)
        self._document, self.job = document, job
        self.job.setParent(self)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._read_question)

    # Layout ----------------------------------------------------------------------------------------------------------

    def _build_go(self, column: QVBoxLayout, tip: str) -> None:
        """Add the button that starts and stops, and the progress beside it."""
        row = QHBoxLayout()
        self.go = push_button(START, tip, self.toggle)
        self.go.setMinimumWidth(90)
        self.go.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.progress = Told()
        row.addWidget(self.go, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.progress, 1)
        row.addStretch(0)
        column.addLayout(row)

    def _build_foot(self, column: QVBoxLayout, *before: QWidget) -> None:
        """Add the last row: widgets, what was said last, Close. Enter belongs to the cards from then on."""
        row = QHBoxLayout()
        self.said = Told()
        self.said.setMinimumHeight(2 * self.fontMetrics().height() + 4)
        policy = self.said.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # nothing moves under the hand when it speaks
        self.said.setSizePolicy(policy)
        box = close_only()
        box.rejected.connect(self.close)
        for widget in before:
            row.addWidget(widget, 0, Qt.AlignmentFlag.AlignBottom)
        row.addWidget(self.said, 1)
        row.addWidget(box, 0, Qt.AlignmentFlag.AlignBottom)
        column.addLayout(row)
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(False)
        self.go.setFocus()

    def _connect_search(self, restyled: Callable[[], None], take: Callable[[], None]) -> None:
        """Follow document, question, cards and search."""
        document, job = self._document, self.job
        document.analysed.connect(self._question_moved)
        document.restyled.connect(restyled)
        self._restyled = restyled
        self.asking.changed.connect(self._settings_changed)
        self.cards.shown_row.connect(self._show_row)
        self.cards.selectionModel().currentRowChanged.connect(lambda *_: self._enable())
        self.cards.entered_row.connect(take)
        job.progressed.connect(self._tell_progress)
        job.told.connect(self._say)
        job.ended.connect(self._end)

    # What sheets say -------------------------------------------------------------------------------------------------

    @property
    def is_stale(self) -> bool:
        """Whether something else is asked now than what was searched."""
        raise NotImplementedError

    def toggle(self) -> None:
        """Start, go on with, or stop the search."""
        raise NotImplementedError

    def _goes_on(self) -> bool:
        """Whether starting would go on with the newest search."""
        raise NotImplementedError

    def _read_question(self) -> None:
        """Say what is asked, and what hinders; stop a search for what is asked no more."""
        raise NotImplementedError

    def _refresh(self) -> None:
        """Show what was found, the progress, and what can be done."""
        raise NotImplementedError

    def _show_row(self, row: int) -> None:
        """Show a card's find on the board; none: as it is."""
        raise NotImplementedError

    def _tell_progress(self) -> None:
        """Say how far the search is."""
        raise NotImplementedError

    def _enable(self) -> None:
        """Offer what can be done."""
        raise NotImplementedError

    # What they have in common ----------------------------------------------------------------------------------------

    def _question_moved(self, _: object) -> None:
        self._rest.start()

    def _settings_changed(self) -> None:
        self._rest.start()
        self._enable()

    def _may_read(self) -> bool:
        """Whether the question stands still; a search for what is asked no more is stopped."""
        if self._document.is_dragging:
            self._rest.start()
            return False
        if self.is_stale and self.job.is_running:
            self.job.stop()
        return True

    def _end(self, sentence: str) -> None:
        if sentence:
            self._say(f"✗ {sentence}")
        self._refresh()

    def _say(self, sentence: str) -> None:
        self.said.tell(sentence)

    def _keep_view(self, row: int, scrolled: int) -> None:
        """Choose a card among new ones (−1: none); who reads is not carried off by what comes in."""
        if row >= 0:
            self.cards.setCurrentIndex(self.model.index(row))
        self.cards.doItemsLayout()
        self.cards.verticalScrollBar().setValue(scrolled)
        self.cards.look_again()

    def _enable_search(self, *, is_something_found: bool) -> None:
        """Name the button, hold the question while it is searched, and say when it has changed."""
        job = self.job
        self.go.setText(STOP if job.is_running else GO_ON if self._goes_on() else START)
        self.go.setEnabled(job.is_running or not self.asking.is_hindered)
        self.asking.lock(job.is_running)
        if self.is_stale and is_something_found:
            self._say(CHANGED)
        elif self.said.text() == CHANGED:
            self._say("")

    def done(self, result: int) -> None:
        """End the search and its processes with the sheet."""
        self._document.analysed.disconnect(self._question_moved)
        self._document.restyled.disconnect(self._restyled)
        self._rest.stop()
        self.job.close()
        super().done(result)
