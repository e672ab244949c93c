"""The table that measured values are typed into: what is measured, as drawn, as made, and how far it is off.

A cell of the third column takes a length as one would write it; emptied, it is as drawn again. What can't be read, or
can't be, is answered with a sentence and changes nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemDelegate, QAbstractItemView, QTableWidgetItem, QWidget

from app.drawers.row_table import RowTable
from app.lengths import exact_length, format_length, parse_length
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QKeyEvent

    from app.document import Document
    from app.drawers.made_rows import MadeRow

HEADS = ("measured", "drawn", "made", "off")
WIDTHS = (58, 62, 52)
MADE = 2
DELETES = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)


class MadeTable(RowTable):
    """Rows of what can be measured. `typed` asks for a row to be taken over: its place, mm or None."""

    row_height: ClassVar[int] = 24
    seen: ClassVar[int | None] = 9
    typed = Signal(int, object)

    def __init__(self, document: Document) -> None:
        super().__init__(
            len(HEADS),
            "Measured values",
            "Type what you measured into the column “made”, as you would write it; Enter goes on to the next row. "
            "Emptied, a value is as drawn again.",
        )
        self._document = document
        self.rows: list[MadeRow] = []
        self.setHorizontalHeaderLabels(HEADS)
        self.set_widths(WIDTHS)
        self.setShowGrid(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.AnyKeyPressed
            | QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
        )  # not by a click on the cell with the keys: that opens it anew a while later, over what was typed meanwhile
        self.itemChanged.connect(self._read)

    def show_rows(self, rows: Sequence[MadeRow]) -> None:
        """Show the newest values; the cell that has the keys keeps them."""
        self.rows = list(rows)
        self.blockSignals(True)
        self.setRowCount(len(self.rows))
        for place, row in enumerate(self.rows):
            for column, words in enumerate(self._words(row)):
                spoken = words if column == 0 else f"{row.name}, {HEADS[column]}: {words or 'not measured'}"
                self.put_words(place, column, words, row.tip, spoken)
            cell = self.item(place, MADE)
            if cell is not None:
                cell.setFlags(cell.flags() | Qt.ItemFlag.ItemIsEditable)
        self.blockSignals(False)
        self.fit()

    def _words(self, row: MadeRow) -> tuple[str, str, str, str]:
        units = self._document.units
        drawn = format_length(round(row.drawn, 2), units, unit=False, fine=True)
        if row.made is None:
            return row.name, drawn, "", ""
        off = round(row.made - row.drawn, 2)
        sign = "+" if off > 0.0 else ""
        words = f"{sign}{format_length(off, units, unit=False, fine=True)}" if off else "0"
        return row.name, drawn, exact_length(row.made, units, unit=False), words

    def _read(self, item: QTableWidgetItem) -> None:
        """Take over what was typed, or say what is wrong with it."""
        place = item.row()
        if item.column() != MADE or not 0 <= place < len(self.rows):
            return
        try:
            mm = parse_length(item.text(), self._document.units) if item.text().strip() else None
        except HingewrightError as fault:
            self._document.noticed.emit(f"{self.rows[place].name}: {fault}")
            self.show_rows(self.rows)
            return
        self.typed.emit(place, mm)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete empties a value; Enter begins to type."""
        item = self.item(self.currentRow(), MADE)
        if event.key() in DELETES and item is not None:
            item.setText("")
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and item is not None:
            if self.state() == QAbstractItemView.State.NoState:
                self.setCurrentItem(item)
                self.editItem(item)
        else:
            if item is not None and event.text().isprintable() and event.text().strip():
                self.setCurrentItem(item)  # whatever cell of the row one is at, it is this that is typed
            super().keyPressEvent(event)

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        """Go on to the next row once what was typed is taken over by Enter."""
        super().closeEditor(editor, hint)
        if hint == QAbstractItemDelegate.EndEditHint.SubmitModelCache and self.currentRow() + 1 < self.rowCount():
            self.setCurrentCell(self.currentRow() + 1, MADE)
