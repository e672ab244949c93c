"""The sheet that changes an outline's line: choose what, give a figure, see it on the board; then take it or not.

What is seen is a preview: the whole visit is one step, or none when it is given up.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QFormLayout, QLabel, QVBoxLayout, QWidget

from app.buttons import go_on_or_cancel
from app.entry.form import ChoiceBox
from app.entry.line_changes import CHANGES, Change
from app.fields import length_field, named
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.project import Project

WITHOUT_POINT = "Select a point of the line first, on the board or in its table; it is done at the first one now."


class LineDialog(QDialog):
    """Changes one outline; `place` is the number of the point that is selected, None for none."""

    def __init__(self, document: Document, outline_id: str, place: int | None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setModal(True)
        self.setWindowTitle(f"Change the line {outline_id}")
        self.setAccessibleName(self.windowTitle())
        self._document, self._id, self._place = document, outline_id, place
        self._before = document.project
        self._sizes = {change.key: change.usual for change in CHANGES}
        document.begin(f"Change {outline_id}")
        self._build()
        self._choose()

    def _build(self) -> None:
        column = QVBoxLayout(self)
        self._form = QFormLayout()
        self.what = ChoiceBox((change.key, change.words) for change in CHANGES)
        named(self.what, "What to do with the line", "Its effect is seen on the board at once.")
        self.what.currentIndexChanged.connect(lambda _: self._choose())
        self._form.addRow("What", self.what)
        self.size_field = length_field("Length", "How much of it.", lambda: self._document.units, self._take_size)
        self._form.addRow("Length", self.size_field)
        others = [each for each in self._before.outlines if each.id != self._id and not each.closed]
        self.other = ChoiceBox((each.id, each.id) for each in others)
        named(self.other, "The other line", "The open line that is joined to this one.")
        self.other.currentIndexChanged.connect(lambda _: self._preview())
        self._form.addRow("With", self.other)
        column.addLayout(self._form)
        self.tip = QLabel()
        self.tip.setWordWrap(True)
        self.tip.setObjectName("faint")
        column.addWidget(self.tip)
        self.said = QLabel()
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        column.addWidget(self.said)
        box, self.take = go_on_or_cancel("Take it", "Keep the line as it is seen now; Undo brings the old one back.")
        for button in box.buttons():  # Enter in the field takes its figure over and stays here
            button.setAutoDefault(False)  # type: ignore[attr-defined]  # push buttons, all of them
        box.accepted.connect(self.accept)
        box.rejected.connect(self.reject)
        column.addWidget(box)
        self.setMinimumWidth(360)

    @property
    def _change(self) -> Change:
        return next(change for change in CHANGES if change.key == self.what.value)

    def choose(self, key: str) -> None:
        """Choose what to do."""
        self.what.choose(key)

    def _choose(self) -> None:
        change = self._change
        self.tip.setText(change.tip)
        self._form.setRowVisible(self.size_field, change.asks == "length")
        self._form.setRowVisible(self.other, change.asks == "outline")
        if change.asks:
            field = self.size_field if change.asks == "length" else self.other
            self._form.labelForField(field).setText(change.label)  # type: ignore[attr-defined]  # a QLabel
        if change.asks == "length":
            self.size_field.set_value(self._sizes[change.key])
            named(self.size_field.line, change.label, change.tip)
        self._preview()

    def _take_size(self, mm: float) -> None:
        self._sizes[self._change.key] = mm
        self._preview()

    def _made(self) -> Project:
        change = self._change
        place = self._place or 0
        return change.make(self._before, self._id, place, self._sizes[change.key], self.other.value)

    def _preview(self) -> None:
        """Show on the board what would become of the line; say how many points it has, or why it can't be."""
        change = self._change
        try:
            project = self._made()
        except HingewrightError as fault:
            project = self._before
            self._say(f"✗ {fault}", "fault")
            self.take.setEnabled(False)
        else:
            note = f" {WITHOUT_POINT}" if change.of_point and self._place is None else ""
            self._say(f"{self._told(project)}{note}", "faint")
            self.take.setEnabled(project != self._before)
        self._document.preview(project)
        self._document.flush()

    def _told(self, project: Project) -> str:
        """What becomes of the line, in a sentence."""
        new = [each for each in project.outlines if each.id not in {old.id for old in self._before.outlines}]
        if new:
            return f"Another outline, {new[0].id}, of {len(new[0].points)} points."
        before, after = (len(each.outline(self._id).points) for each in (self._before, project))
        return f"{before} points become {after}." if before != after else f"{after} points, as before."

    def _say(self, sentence: str, kind: str) -> None:
        self.said.setObjectName(kind)
        self.said.style().polish(self.said)
        self.said.setText(sentence)

    def done(self, result: int) -> None:
        """Keep what is seen as one step, or go back."""
        if result == QDialog.DialogCode.Accepted and self.take.isEnabled():
            self._document.commit()
        else:
            self._document.cancel()
        super().done(result)
