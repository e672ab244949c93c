"""The table that measured values are typed into: what is measured, as drawn, as made, and how far it is off.

A cell of the third column takes a length as one would write it; emptied, it is as drawn again. What can't be read, or
can't be, changes nothing: what was typed stays to be mended, with a cross beside it and the sentence beneath the table.
Esc brings the old value back.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemDelegate, QAbstractItemView, QLabel, QTableWidgetItem, QWidget

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


@dataclass(frozen=True, slots=True)
class Refused:
    """What was typed and can't be, why, and the value that still holds (mm, or None)."""

    text: str
    sentence: str
    made: float | None


class MadeTable(RowTable):
    """Rows of what can be measured. `typed` asks for a row to be taken over: its place, mm or None.

    message : the sentences of what was refused; whoever shows the table puts it beneath.
    """

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
        self._of: tuple[str, ...] = ()
        self._refused: dict[str, Refused] = {}
        self.message = QLabel()
        self.message.setObjectName("fault")
        self.message.setWordWrap(True)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.hide()
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

    def show_rows(self, rows: Sequence[MadeRow], of: tuple[str, ...] = ()) -> None:
        """Show the newest values; the cell that has the keys keeps them, and what was refused stays to be mended until
        its value is another one.   of : what the rows are of; with another, nothing that was typed stays.
        """
        self.rows = list(rows)
        made = {row.name: row.made for row in self.rows}
        self._refused = {
            name: refused
            for name, refused in self._refused.items()
            if of == self._of and name in made and made[name] == refused.made
        }
        self._of = of
        self._fill()
        self._say()

    def refuse(self, place: int, sentence: str) -> None:
        """Keep what was typed into a row, and say why it can't be taken over."""
        row, cell = self.rows[place], self.item(place, MADE)
        still = "as drawn" if row.made is None else exact_length(row.made, self._document.units)
        if cell is not None:
            self._refused[row.name] = Refused(cell.text(), f"{row.name}: {sentence} Still {still}.", row.made)
        self.show_rows(self.rows, self._of)

    def give_up(self) -> None:
        """Bring all values back that stand beneath what was refused."""
        self._refused.clear()
        self.show_rows(self.rows, self._of)

    def _forget(self, place: int) -> bool:
        """Bring the value of a row back; False where it is there."""
        if not 0 <= place < len(self.rows) or self._refused.pop(self.rows[place].name, None) is None:
            return False
        self.show_rows(self.rows, self._of)
        return True

    def _say(self) -> None:
        said = "\n".join(f"✗ {each.sentence}" for each in self._refused.values())
        self.message.setText(said)
        self.message.setVisible(bool(said))

    def _fill(self) -> None:
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
        if row.name in self._refused:
            return row.name, drawn, self._refused[row.name].text, "✗"
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
            self.refuse(place, str(fault))
            return
        self._refused.pop(self.rows[place].name, None)
        self.typed.emit(place, mm)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete empties a value; Enter begins to type; Esc brings back what was refused."""
        item = self.item(self.currentRow(), MADE)
        if event.key() == Qt.Key.Key_Escape and self._forget(self.currentRow()):
            return
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
        here = self.currentRow()
        if 0 <= here < len(self.rows) and self.rows[here].name in self._refused:
            return  # to be mended first
        if hint == QAbstractItemDelegate.EndEditHint.SubmitModelCache and here + 1 < self.rowCount():
            self.setCurrentCell(here + 1, MADE)
