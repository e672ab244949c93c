"""How sure: how far holes may be off and how much play pins have, what that does to each gap, and hinges tried.

What is entered is part of the project, one step each. Hinges are tried a few at a time between frames, so that the
window stays at hand; the button stops them, and a change of the project drops what was found.
"""

from __future__ import annotations

from time import perf_counter
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFormLayout, QLabel, QVBoxLayout, QWidget

from app.entry.form import push_button
from app.fields import length_field
from app.lettering import breakable
from app.sure_words import sure_gap_words, tried_words
from kinematics import wanting
from kinematics.sampling import COUNT, Trying
from kinematics.sureness import how_sure, unanswered

if TYPE_CHECKING:
    from app.document import Document
    from app.fields import Field
    from kinematics.analysis import Analysis
    from kinematics.project import Project

SLICE_S = 0.008
"""How long hinges are tried at a time: half of a frame."""
TRY = f"Try {COUNT} hinges"
TRY_TIP = (
    f"Move {COUNT} hinges anew, each with holes and pins off at random within what is entered, and measure their gaps. "
    "No worst case: nobody draws all faults to the full at once. The same faults are drawn each time."
)
LABELS = {"holes": "Set how far holes are off", "play": "Set play of pins"}
"""Names of the steps."""
NOTHING = "Enter one of them, and each gap is told with its low end; 0 takes every figure as drawn."


class SureBox(QWidget):
    """Two fields, what follows from them, and one button."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._trying: Trying | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._try_on)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.holes = self._field("Holes off by ±", "How far each hole of each link may be off, any way.", "holes")
        self.play = self._field("Play of pins", "How much wider each hole is than its pin, across.", "play")
        self._add_fields()
        self.told, self.tried = self._label(), self._label()
        self.try_button = push_button(TRY, TRY_TIP, self._toggle)
        column.insertWidget(2, self.try_button)
        document.analysed.connect(self._show)
        document.restyled.connect(self._restyle)
        self._show(document.analysis)

    def _add_fields(self) -> None:
        rows = QFormLayout()
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setHorizontalSpacing(10)
        for words, field in (("Holes off by ±", self.holes), ("Play of pins", self.play)):
            label = QLabel(words)
            label.setBuddy(field.line)
            rows.addRow(label, field)
        self._column.addLayout(rows)

    def _field(self, name: str, tip: str, key: str) -> Field[float]:
        def take(mm: float) -> None:
            document = self._document
            document.commit()
            document.apply(LABELS[key], wanting.set_sureness(document.project, **{key: mm}))

        return length_field(name, tip, lambda: self._document.units, take)

    def _label(self) -> QLabel:
        label = QLabel()
        label.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
        label.setWordWrap(True)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._column.addWidget(label)
        return label

    # Showing ---------------------------------------------------------------------------------------------------------

    def _restyle(self) -> None:
        """Show all once more, told in other words."""
        self._show(self._document.analysis)

    def _show(self, analysis: Analysis) -> None:
        if self._trying is not None and self._trying.analysis is not analysis:
            self._drop()
        self._say(self.tried, [] if self._trying is None else self._tried_words())
        if self._document.is_dragging:
            return
        sure = analysis.project.sureness
        self.holes.set_value(0.0 if sure is None else sure.holes)
        self.play.set_value(0.0 if sure is None else sure.play)
        self._say(self.told, self._words(analysis.project, analysis))
        self.try_button.setEnabled(sure is not None and bool(how_sure(analysis)))

    def _words(self, project: Project, analysis: Analysis) -> list[str]:
        if project.sureness is None:
            return [NOTHING]
        why = unanswered(analysis)
        if why:
            return [f"Nothing to tell: {why}."]
        return [sure_gap_words(sure, self._document.units) for sure in how_sure(analysis) if sure is not None]

    @staticmethod
    def _say(label: QLabel, sentences: list[str]) -> None:
        label.setText(breakable("\n\n".join(sentences)))
        label.setVisible(bool(sentences))

    # Trying ----------------------------------------------------------------------------------------------------------

    def _toggle(self) -> None:
        if self._timer.isActive():
            self._stop()
            return
        self._document.flush()
        self._trying = Trying(self._document.analysis)
        self.try_button.setText("Stop")
        self._timer.start()

    def _try_on(self) -> None:
        """Try hinges for a little while."""
        if self._trying is None:
            self._stop()
            return
        until = perf_counter() + SLICE_S
        while not self._trying.is_done and perf_counter() < until:
            self._trying.one_more()
        self._say(self.tried, self._tried_words())
        if self._trying.is_done:
            self._stop()

    def _tried_words(self) -> list[str]:
        return [] if self._trying is None else tried_words(self._trying.found(), self._document.units)

    def _stop(self) -> None:
        self._timer.stop()
        self.try_button.setText(TRY)

    def _drop(self) -> None:
        """What was tried is none of this project."""
        self._trying = None
        self._stop()
