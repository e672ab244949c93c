"""The table that measurements are typed into: rows that tell how they fare. Part of the drawer Trace."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.fields import named

if TYPE_CHECKING:
    from app.taped import Table, Told

FIRST_ROWS, ROW_HEIGHT, SEEN_ROWS = 6, 24, 6
MOST_ROWS = 500
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
Hint = QAbstractItemDelegate.EndEditHint


class MeasuredTable(QTableWidget):
    """Rows of lengths as typed; a new one is always there to go on, and pasted cells fill as many as they are."""

    def __init__(self) -> None:
        super().__init__(FIRST_ROWS, 3)
        named(
            self,
            "Measured points",
            "Type lengths as you would write them; Tab goes on, Enter to the next row. Copied cells can be pasted.",
        )
        self._heads: tuple[str, ...] = ()
        self._put_by: dict[int, list[str]] = {}  # what was typed in columns that aren't there now
        self._begun = 0  # the column that this row was begun in: Enter goes on there in the next
        self.verticalHeader().setDefaultSectionSize(ROW_HEIGHT)
        self.verticalHeader().setMinimumWidth(24)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.AnyKeyPressed
            | QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.setTabKeyNavigation(False)  # Tab leaves the table; while one types, it goes to the next cell
        self.currentCellChanged.connect(self._begin)
        self.setFixedHeight((SEEN_ROWS + 1) * ROW_HEIGHT + 4)

    def set_heads(self, heads: tuple[str, ...]) -> None:
        """Have these columns, and one that tells. What was typed in a column that goes is there again when it comes."""
        had = len(self._heads)
        self.blockSignals(True)
        for column in range(len(heads), had):
            self._put_by[column] = [self._text(row, column) for row in range(self.rowCount())]
        for row in range(self.rowCount()):  # where it was told, lengths are typed now, and the other way
            self.takeItem(row, had)
        self._heads = heads
        self.setColumnCount(len(heads) + 1)
        for column in range(had, len(heads)):
            self._fill(column, self._put_by.pop(column, []))
        self.blockSignals(False)
        self.setHorizontalHeaderLabels([*heads, ""])
        last = self.horizontalHeader()
        last.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        last.setSectionResizeMode(len(heads), QHeaderView.ResizeMode.Fixed)
        self.setColumnWidth(len(heads), 28)

    def _fill(self, column: int, texts: list[str]) -> None:
        self.setRowCount(max(self.rowCount(), len(texts)))
        for row, text in enumerate(texts):
            if text.strip():
                self.setItem(row, column, QTableWidgetItem(text))

    def rows(self) -> list[tuple[str, ...]]:
        """Give what is typed, row by row, as far as anything is."""
        found = [tuple(self._text(row, column) for column in range(len(self._heads))) for row in range(self.rowCount())]
        while found and not any(cell.strip() for cell in found[-1]):
            found.pop()
        return found

    def _text(self, row: int, column: int) -> str:
        item = self.item(row, column)
        return "" if item is None else item.text()

    def tell(self, told: Table) -> None:
        """Show by each row how it fared: a sign, and the sentence as a tip; and have a row to go on."""
        self.blockSignals(True)
        self.setRowCount(max(self.rowCount(), len(told.rows) + 1, FIRST_ROWS))
        for row in range(self.rowCount()):
            state = told.rows[row] if row < len(told.rows) else None
            item = QTableWidgetItem(_sign(state))
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            item.setTextAlignment(Qt.AlignmentFlag.AlignCenter)
            words = state.words if state is not None else ""
            item.setToolTip(words)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, words or ("in order" if item.text() else "empty"))
            self.setItem(row, len(self._heads), item)
        self.blockSignals(False)

    def empty(self) -> None:
        """Take all rows out."""
        self.blockSignals(True)
        self.clearContents()
        self._put_by.clear()
        self.setRowCount(FIRST_ROWS)
        self.blockSignals(False)
        self.itemChanged.emit(QTableWidgetItem())

    def event(self, event: QEvent) -> bool:
        """Paste cells here, before the window would paste a photo."""
        paste = QKeySequence.StandardKey.Paste
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride and event.matches(paste):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Paste cells, empty the chosen ones, and let Enter go down."""
        if event.matches(QKeySequence.StandardKey.Paste):
            self.paste(QGuiApplication.clipboard().text())
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            for index in self.selectedIndexes():
                item = self.item(index.row(), index.column())
                if item is not None and index.column() < len(self._heads):
                    item.setText("")
        elif event.key() in ENTER and self.state() == QAbstractItemView.State.NoState:
            self._go_down()
        else:
            super().keyPressEvent(event)

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        """Go on once what was typed is taken over: Enter down, Tab to the next length, Shift+Tab to the one before."""
        steps = {Hint.EditNextItem: 1, Hint.EditPreviousItem: -1}
        if hint in steps:
            super().closeEditor(editor, Hint.NoHint)
            self._go_on(steps[hint])
            return
        super().closeEditor(editor, hint)
        if hint == Hint.SubmitModelCache:
            self._go_down()

    def _go_on(self, step: int) -> None:
        """Go to the next cell that takes a length, and type there: from a row's last one to the next row's first."""
        begun, wide = self._begun, len(self._heads)
        place = self.currentRow() * wide + self.currentColumn() + step
        row, column = divmod(max(place, 0), wide)
        same = row == self.currentRow()
        self._go_to(row, column)
        self._begun = begun if same else 0
        self.edit(self.currentIndex())

    def _begin(self, _row: int, column: int) -> None:
        self._begun = column

    def _go_down(self) -> None:
        """Go to the next row, to the column that this one was begun in."""
        column = self._begun if self.currentColumn() < len(self._heads) else 0
        self._go_to(self.currentRow() + 1, column)

    def _go_to(self, row: int, column: int) -> None:
        if row >= self.rowCount():
            self.blockSignals(True)
            self.setRowCount(row + 1)
            self.blockSignals(False)
        self.setCurrentCell(row, column)

    def paste(self, text: str) -> None:
        """Put copied cells in from the current one on: tabs or semicolons between cells, a line a row."""
        top, left = max(self.currentRow(), 0), max(self.currentColumn(), 0)
        lines = [line.replace(";", "\t").split("\t") for line in text.splitlines()][:MOST_ROWS]
        self.blockSignals(True)
        self.setRowCount(max(self.rowCount(), top + len(lines) + 1))
        for row, cells in enumerate(lines, top):
            for column, cell in enumerate(cells[: len(self._heads) - left], left):
                self.setItem(row, column, QTableWidgetItem(cell.strip()))
        self.blockSignals(False)
        self.itemChanged.emit(QTableWidgetItem())


def _sign(told: Told | None) -> str:
    """A sign for a row: in order, to be looked at, at fault, empty."""
    if told is None:
        return ""
    if told.fault:
        return "✗"
    if told.doubt:
        return "?"
    return "✓" if told.at is not None else ""
