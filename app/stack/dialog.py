"""The sections through the pins: one pin at a time, to scale, with what is said of it; all of them on paper."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QListWidget, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.dialog_places import undo_from
from app.drawers.lift_box import paragraph, say
from app.entry.form import push_button
from app.fields import named
from app.stack.view import SectionView
from app.stack_words import pin_sentences, pin_title
from app.stacked import stacked
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.document import Document
    from app.look import Look

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
        self._document = document
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
        document.analysed.connect(self._renew)
        document.restyled.connect(self._renew)
        self._renew()

    def show_pin(self, pivot: str) -> None:
        """Look at a pin."""
        for row in range(self.pins.count()):
            if self.pins.item(row).text() == pivot:
                self.pins.setCurrentRow(row)

    def _renew(self, *_: object) -> None:
        """List the pins anew; the chosen one stays chosen."""
        if self._document.is_dragging:
            return
        chosen = self.pins.currentItem().text() if self.pins.currentItem() is not None else ""
        names = [pin.pivot for pin in stacked(self._document.analysis).pins]
        self.pins.blockSignals(True)
        self.pins.clear()
        self.pins.addItems(names)
        self.pins.setCurrentRow(names.index(chosen) if chosen in names else 0)
        self.pins.blockSignals(False)
        self.save_button.setEnabled(bool(names))
        self._show_pin(self.pins.currentRow())

    def _show_pin(self, row: int) -> None:
        """Draw and describe the chosen pin."""
        stack, units = stacked(self._document.analysis), self._document.units
        if not 0 <= row < len(stack.pins):
            self.view.show_nothing()
            self.title.setText("No link has a pin yet.")
            say(self.sentences, [])
            return
        pin = stack.pins[row]
        self.view.show_pin(self._document.analysis.project, stack, pin, units)
        self.title.setText(pin_title(pin, units))
        say(self.sentences, pin_sentences(pin, units))

    def save(self) -> None:
        """Ask for a name and write the sheets."""
        from app.stack.sheets import save_sections

        name, _ = QFileDialog.getSaveFileName(self, "Save the sections", "sections.pdf", FILTER)
        if not name:
            return
        path = Path(name) if Path(name).suffix.lower() == ".pdf" else Path(name).with_suffix(".pdf")
        document = self._document
        try:
            count = save_sections(document.project, stacked(document.analysis), path, document.units)
        except HingewrightError as fault:
            document.noticed.emit(str(fault))
        else:
            document.tell(f"{path.name} written, {count} page{'s' if count > 1 else ''}.")

    def done(self, result: int) -> None:
        """Stop following."""
        self._document.analysed.disconnect(self._renew)
        self._document.restyled.disconnect(self._renew)
        super().done(result)
