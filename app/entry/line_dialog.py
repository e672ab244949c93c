"""The sheet that changes an outline's line: choose what, give a figure, see it on the board; then take it or not.

What is seen is a preview: the whole visit is one step, or none when it is given up.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QFormLayout, QLabel, QVBoxLayout, QWidget

from app.buttons import StayingDialog, go_on_or_cancel
from app.dialog_places import show_at_foot
from app.document import Selection
from app.entry.form import ChoiceBox
from app.entry.line_changes import CHANGES, Change
from app.fields import length_field, named
from app.lengths import format_length
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.project import Project

LINES_TOLD = 3  # room for that many, so that the sheet keeps its place at the screen's edge


def change_line(document: Document, outline_id: str, place: int | None, window: QWidget) -> LineDialog:
    """Open the sheet beside the board, where it leaves the line to be seen."""
    dialog = LineDialog(document, outline_id, place, window)
    dialog.adjustSize()
    show_at_foot(dialog, window)
    return dialog


class LineDialog(StayingDialog):
    """Changes one outline; `place` is the number of the point that is selected, None for none."""

    def __init__(self, document: Document, outline_id: str, place: int | None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setModal(True)
        self.setObjectName("change line")  # by which the help knows it
        self.setWindowTitle(f"Change the line {outline_id}")
        self.setAccessibleName(self.windowTitle())
        self._document, self._id = document, outline_id
        self._before = document.project
        self._first = place if place is not None else min(1, len(document.project.outline(outline_id).points) - 1)
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
        self.point = ChoiceBox(self._points())
        self.point.choose(str(self._first))
        named(self.point, "At point", "Which point of the line it is done at, or about.")
        self.point.currentIndexChanged.connect(lambda _: self._preview())
        self._form.addRow("At point", self.point)
        self.size_field = length_field("Length", "How much of it.", lambda: self._document.units, self._take_size)
        self._form.addRow("Length", self.size_field)
        on = self._before.outline(self._id).on
        others = [each for each in self._before.outlines if each.id != self._id and not each.closed]
        others.sort(key=lambda each: each.on != on)  # those that can be joined come first
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
        self.said.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.said.setMinimumHeight(LINES_TOLD * self.said.fontMetrics().lineSpacing())
        column.addWidget(self.said)
        box, self.take = go_on_or_cancel("Take it", "Keep the line as it is seen now; Undo brings the old one back.")
        box.accepted.connect(self.accept)
        box.rejected.connect(self.reject)
        column.addWidget(box)
        self.setMinimumWidth(360)

    def _points(self) -> list[tuple[str, str]]:
        """The line's points by number, each with where it lies while shut."""
        points, units = self._before.outline(self._id).points, self._document.units
        return [
            (str(place), f"{place + 1}: {format_length(x, units)}, {format_length(y, units)}")
            for place, (x, y) in enumerate(points)
        ]

    @property
    def _change(self) -> Change:
        return next(change for change in CHANGES if change.key == self.what.value)

    def choose(self, key: str) -> None:
        """Choose what to do."""
        self.what.choose(key)

    def _choose(self) -> None:
        change = self._change
        self.tip.setText(change.tip)
        self._form.setRowVisible(self.point, change.of_point)
        self._form.setRowVisible(self.size_field, change.asks == "length")
        self._form.setRowVisible(self.other, change.asks == "outline")
        if change.asks:
            field = self.size_field if change.asks == "length" else self.other
            self._form.labelForField(field).setText(change.label)  # type: ignore[attr-defined]  # a QLabel
        if change.asks == "length":
            self.size_field.set_value(self._sizes[change.key])
            named(self.size_field.line, change.label, change.tip)
        self._preview()

    @property
    def _at(self) -> int:
        return int(self.point.value)

    def _take_size(self, mm: float) -> None:
        self._sizes[self._change.key] = mm
        self._preview()

    def _made(self) -> Project:
        change = self._change
        return change.make(self._before, self._id, self._at, self._sizes[change.key], self.other.value)

    def _preview(self) -> None:
        """Show on the board what would become of the line; say how many points it has, or why it can't be."""
        try:
            project = self._made()
        except HingewrightError as fault:
            project = self._before
            self._say(f"✗ {fault}", "fault")
            self.take.setEnabled(False)
        else:
            self._say(self._told(project), "faint")
            self.take.setEnabled(project != self._before)
        self._document.preview(project)
        self._document.flush()
        self._ring(project)

    def _ring(self, project: Project) -> None:
        """Show on the board which point it is about, as long as the line has it."""
        lines = [each.outline(self._id).points for each in (self._before, project)]
        part = self._at if self._change.of_point and lines[0] == lines[1] else None
        self._document.select(Selection("outline", self._id, part))

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
