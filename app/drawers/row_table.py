"""Tables of figures in a drawer: a row for each thing, which is not edited there but gone to.

Rows are as high as two lines unless a table says otherwise; the first column takes the room that the others leave. A
click, Enter or Space asks for what the row speaks of (`go_to`). The wheel scrolls the drawer unless the keys are here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from app.fields import named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QKeyEvent, QWheelEvent

HEAD_HEIGHT = 24
FRAME = 4
"""Pixels that a table's frame takes."""
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class RowTable(QTableWidget):
    """What such tables share. `row_height` in pixels; `seen`: rows at most before it scrolls by itself."""

    row_height: ClassVar[int] = 38
    seen: ClassVar[int | None] = None
    side: ClassVar[Qt.AlignmentFlag] = Qt.AlignmentFlag.AlignRight
    """Where the words of all columns but the first stand."""

    def __init__(self, columns: int, name: str, tip: str) -> None:
        super().__init__(0, columns)
        named(self, name, tip)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.row_height)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.horizontalHeader().setFixedHeight(HEAD_HEIGHT)

    def choose_rows(self, heads: Sequence[str], widths: Sequence[int]) -> None:
        """Name the columns, give all but the first their widths, and let whole rows be chosen and gone to."""
        self.setHorizontalHeaderLabels(heads)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setShowGrid(False)
        self.set_widths(widths)
        self.cellClicked.connect(lambda row, _: self.go_to(row))

    def set_widths(self, widths: Sequence[int]) -> None:
        """Give all columns but the first their widths; that one takes what is left."""
        header = self.horizontalHeader()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column, width in enumerate(widths, 1):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, width)

    def put_words(self, row: int, column: int, words: str, tip: str, spoken: str) -> None:
        """Let a cell say something, and something aloud."""
        item = self.item(row, column)
        if item is None:
            item = QTableWidgetItem()
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            side = self.side if column else Qt.AlignmentFlag.AlignLeft
            item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            self.setItem(row, column, item)
        item.setText(words)
        item.setToolTip(tip)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)

    def fit(self) -> None:
        """Be as high as the rows that are there, or as are seen at most."""
        count = max(self.rowCount(), 1)
        count = count if self.seen is None else min(count, self.seen)
        self.setFixedHeight(self.row_height * count + HEAD_HEIGHT + FRAME)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the drawer, which scrolls, unless the keys are here and there is something to scroll."""
        if self.hasFocus() and self.seen is not None:
            super().wheelEvent(event)
        else:
            event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and Space go to what the current row speaks of."""
        if event.key() in ENTER and self.currentRow() >= 0:
            self.go_to(self.currentRow())
        else:
            super().keyPressEvent(event)

    def go_to(self, row: int) -> None:
        """Show what a row speaks of."""
