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

FIRST_ROWS, ROW_HEIGHT, SEEN_ROWS = 6, 24, 8
MOST_ROWS = 500
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class MeasuredTable(QTableWidget):
    """Rows of lengths as typed; a new one is always there to go on, and pasted cells fill as many as they are."""

    def __init__(self) -> None:
        super().__init__(FIRST_ROWS, 3)
        named(
            self,
            "Measured points",
            "Type lengths as you would write them; Enter goes down. Copied cells can be pasted.",
        )
        self._heads: tuple[str, ...] = ()
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
        self.setFixedHeight((SEEN_ROWS + 1) * ROW_HEIGHT + 4)

    def set_heads(self, heads: tuple[str, ...]) -> None:
        """Have these columns, and one that tells."""
        if len(heads) > len(self._heads):  # where it was told, lengths are typed now
            self._clear_told()
        self._heads = heads
        self.setColumnCount(len(heads) + 1)
        self.setHorizontalHeaderLabels([*heads, ""])
        last = self.horizontalHeader()
        last.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        last.setSectionResizeMode(len(heads), QHeaderView.ResizeMode.Fixed)
        self.setColumnWidth(len(heads), 28)

    def _clear_told(self) -> None:
        self.blockSignals(True)
        for row in range(self.rowCount()):
            self.takeItem(row, len(self._heads))
        self.blockSignals(False)

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
        """Go down once Enter has taken over what was typed."""
        super().closeEditor(editor, hint)
        if hint == QAbstractItemDelegate.EndEditHint.SubmitModelCache:
            self._go_down()

    def _go_down(self) -> None:
        self.setCurrentCell(min(self.currentRow() + 1, self.rowCount() - 1), self.currentColumn())

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
