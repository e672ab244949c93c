"""The sections through the pins: one pin at a time, to scale, with what is said of it; all of them on paper."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QListWidget, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.dialog_places import undo_from
from app.document import News
from app.drawers.lift_box import paragraph, say
from app.entry.form import push_button
from app.fields import named
from app.stack.job import stack_job
from app.stack.view import SectionView
from app.stack_words import pin_sentences, pin_title
from app.working_row import WorkingRow
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.document import Document
    from app.look import Look
    from kinematics.project import Project
    from kinematics.stacking import StackMade

FILTER = "Pages (*.pdf)"
LIST_WIDE = 120


class SectionDialog(StayingDialog):
    """The sheet; it follows the project."""

    def __init__(self, document: Document, look: Look, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Sections through the pins")
        self.setObjectName("sections")  # by which the help knows it
        self.setAccessibleName("Sections through the pins")
        self._document, self._job = document, stack_job(document)
        self._shown: tuple[Project, StackMade] | None = None
        self._wanted = ""  # the pin to look at once it is there
        self.working = WorkingRow(self._job)
        self.pins = QListWidget()
        self.pins.setFixedWidth(LIST_WIDE)
        named(self.pins, "Pins", "Choose the pin to look at.")
        self.pins.currentRowChanged.connect(self._show_pin)
        self.view = SectionView(look)
        self.view.setAccessibleName("Section")
        self.title = QLabel()
        self.title.setObjectName("subheading")
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.sentences = paragraph()
        right = QVBoxLayout()
        right.addWidget(self.view, 1)
        right.addWidget(self.title)
        right.addWidget(self.sentences)
        row = QHBoxLayout()
        row.addWidget(self.pins)
        row.addLayout(right, 1)
        column = QVBoxLayout(self)
        column.addLayout(row, 1)
        column.addWidget(self.working)
        self.save_button = push_button(
            "Save the sections…", "Write all sections to one scale, with their figures, as a PDF.", self.save
        )
        box = close_only()
        box.rejected.connect(self.close)
        foot = QHBoxLayout()
        foot.addWidget(self.save_button)
        foot.addStretch(1)
        foot.addWidget(box)
        column.addLayout(foot)
        undo_from(self, document)
        self.resize(860, 620)
        self._told_by = (document.analysed, document.restyled, self._job.changed)
        for signal in self._told_by:
            signal.connect(self._renew)
        self._renew()

    def show_pin(self, pivot: str) -> None:
        """Look at a pin, once it is worked out."""
        self._wanted = pivot
        for row in range(self.pins.count()):
            if self.pins.item(row).text() == pivot:
                self.pins.setCurrentRow(row)
                self._wanted = ""

    def _renew(self, *_: object) -> None:
        """List the pins anew; the chosen one stays chosen. What isn't worked out yet stands as it did, faint."""
        stack = self._job.newest()
        if stack is not None:
            self._shown = (self._document.project, stack)
            self._list_pins([pin.pivot for pin in stack.pins])
        self.view.set_faint(stack is None)
        for words in (self.title, self.sentences):
            words.setEnabled(stack is not None)
        self.save_button.setEnabled(stack is not None and bool(stack.pins))
        self._show_pin(self.pins.currentRow())
        self.working.renew()

    def _list_pins(self, names: list[str]) -> None:
        chosen = self.pins.currentItem().text() if self.pins.currentItem() is not None else ""
        chosen, self._wanted = self._wanted or chosen, ""
        self.pins.blockSignals(True)
        self.pins.clear()
        self.pins.addItems(names)
        self.pins.setCurrentRow(names.index(chosen) if chosen in names else 0)
        self.pins.blockSignals(False)

    def _show_pin(self, row: int) -> None:
        """Draw and describe the chosen pin."""
        units = self._document.units
        if self._shown is None or not 0 <= row < len(self._shown[1].pins):
            self.view.show_nothing()
            self.title.setText("" if self._shown is None else "No link has a pin yet.")
            say(self.sentences, [])
            return
        project, stack = self._shown
        pin = stack.pins[row]
        self.view.show_pin(project, stack, pin, units)
        self.title.setText(pin_title(pin, units))
        say(self.sentences, pin_sentences(pin, units))

    def save(self) -> None:
        """Ask for a name and write the sheets."""
        from app.stack.sheets import save_sections

        name, _ = QFileDialog.getSaveFileName(self, "Save the sections", "sections.pdf", FILTER)
        if not name:
            return
        path = Path(name) if Path(name).suffix.lower() == ".pdf" else Path(name).with_suffix(".pdf")
        document, stack = self._document, self._job.newest()
        if stack is None:
            document.noticed.emit("The sections aren't worked out yet. Wait until they are, and save them then.")
            return
        try:
            count = save_sections(document.project, stack, path, document.units)
        except HingewrightError as fault:
            document.noticed.emit(str(fault))
        else:
            pages = "1 page is" if count == 1 else f"{count} pages are"
            document.tell(News(f"{pages} written, in {path}."))

    def done(self, result: int) -> None:
        """Stop following."""
        for signal in self._told_by:
            signal.disconnect(self._renew)
        super().done(result)
