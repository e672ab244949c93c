"""The table of all that may fail, worst first: what, how safe it is, what is wanted, and what one hinge alone has left.

A click, or Enter on a row, goes to the opening at which it is worst, and selects its pin or link.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from app.document import Selection
from app.fields import named
from app.strength_words import HEAD, MEANINGS, strength_rows
from app.words import FAILS, HOLDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QKeyEvent, QWheelEvent

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.results import Utilised

HEADS = ("what", "safety", "wants", "on one")
ROW_HEIGHT, HEAD_HEIGHT, SEEN = 38, 24, 7
WIDTHS = (56, 44, 52)
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class StrengthTable(QTableWidget):
    """Every figure in a row."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(0, len(HEADS))
        self._document, self._board = document, board
        self.figures: Sequence[Utilised] = ()
        named(
            self,
            "Strength, worst first",
            "Click a row, or press Enter on it, to go to the opening at which it is worst, and to its pin. "
            "“On one”: what is left when one hinge carries all.",
        )
        self.setHorizontalHeaderLabels(HEADS)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(ROW_HEIGHT)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(False)
        header = self.horizontalHeader()
        header.setFixedHeight(HEAD_HEIGHT)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column, width in enumerate(WIDTHS, 1):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, width)
        self.cellClicked.connect(lambda row, _: self.go_to(row))

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the newest figures; the row that is chosen stays chosen by its place."""
        told = analysis.strength
        self.figures = () if told is None else told.figures
        rows = strength_rows(analysis, self._document.units)
        self.setRowCount(len(rows))
        for place, (row, figure) in enumerate(zip(rows, self.figures, strict=True)):
            what, how, has, wants, one, force, stress, at = row
            ok = figure.have is not None and figure.ratio >= 1.0 - 1e-9
            sign = HOLDS if ok else FAILS
            tip = f"{what}, {how}: {stress}, with {force} at {at}.\n{MEANINGS[figure.mode]}"
            tip += f"\n{figure.note[0].upper()}{figure.note[1:]}." if figure.note else ""
            spoken = f"{what}, {how}, {'holds' if ok else 'falls short'}"
            self._put(place, 0, f"{sign} {what}\n    {how}", tip, spoken)
            for column, (name, words) in enumerate(zip(HEAD[2:5], (has, wants, one), strict=True), 1):
                self._put(place, column, words.replace("over ", ">\u2009"), tip, f"{name} {words}")
        self.setFixedHeight(ROW_HEIGHT * min(max(len(rows), 1), SEEN) + HEAD_HEIGHT + 4)

    def _put(self, row: int, column: int, words: str, tip: str, spoken: str) -> None:
        item = self.item(row, column)
        if item is None:
            item = QTableWidgetItem()
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            side = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
            item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            self.setItem(row, column, item)
        item.setText(words)
        item.setToolTip(tip)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the drawer, which scrolls, unless the keys are here."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and Space go to where the current row speaks of."""
        if event.key() in ENTER and self.currentRow() >= 0:
            self.go_to(self.currentRow())
        else:
            super().keyPressEvent(event)

    def go_to(self, row: int) -> None:
        """Show the opening, the pin or link, and its place."""
        if not 0 <= row < len(self.figures):
            return
        figure = self.figures[row]
        if figure.deg is not None:
            self._document.set_opening(figure.deg)
        self._document.select(Selection("pivot", figure.pivot) if figure.pivot else Selection("link", figure.link))
        self._board.show_place(figure.place, figure.deg)
