"""The table of links and layers: a mark where a plate runs, the panel's middle being at the left.

The arrow keys go from cell to cell; Enter, Space or a double click puts the row's plate there (of a pair the one that
is nearest), Ctrl with left or right takes it one layer in or out. Beyond the last layer stands an empty one, to go to.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from app.document import Selection
from app.fields import named
from app.stack_words import layer_words

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent, QWheelEvent

    from app.document import Document
    from kinematics.stacking import StackMade

HERE, STRUCK = "■", "✗"
ROW_HEIGHT, HEAD_HEIGHT, SEEN = 24, 24, 9
WIDE = 24
PUT = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
SIDEWAYS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}


class LayerTable(QTableWidget):
    """Rows of links, columns of layers. It only asks (`wanted`: link, its layer, layer to go to)."""

    wanted = Signal(str, int, int)

    def __init__(self, document: Document) -> None:
        super().__init__(0, 1)
        self._document = document
        self.links: list[str] = []
        self.layers: dict[str, tuple[int, ...]] = {}
        named(
            self,
            "Links and their layers",
            "Layer 1 is nearest to the panel's middle. Enter, Space or a double click puts the link's plate into that "
            "layer; Ctrl+Left and Ctrl+Right take it one layer in or out.",
        )
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(ROW_HEIGHT)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(True)
        self.setWordWrap(False)
        header = self.horizontalHeader()
        header.setFixedHeight(HEAD_HEIGHT)
        header.setMinimumSectionSize(WIDE)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.cellDoubleClicked.connect(self.put)
        self.cellClicked.connect(lambda row, _: self._select(row))

    def show_stack(self, stack: StackMade) -> None:
        """Show the newest layers; the cell that has the keys keeps them."""
        row, column = self.currentRow(), self.currentColumn()
        self.links, self.layers = list(stack.layers), dict(stack.layers)
        struck = {name for fault in stack.faults if fault.breaks for name in (fault.name, fault.other)}
        self.setRowCount(len(self.links))
        self.setColumnCount(stack.count + 2)
        self.setHorizontalHeaderLabels(["", *map(str, range(1, stack.count + 2))])
        header = self.horizontalHeader()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for layer in range(1, stack.count + 2):
            header.setSectionResizeMode(layer, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(layer, WIDE)
        for place, link in enumerate(self.links):
            on = self.layers[link]
            by_hand = " (by hand)" if link in stack.by_hand else ""
            self._put(place, 0, link, f"{link}: layer {layer_words(on)}{by_hand}")
            for layer in range(1, stack.count + 2):
                sign = (STRUCK if link in struck else HERE) if layer in on else ""
                there = "runs here" if layer in on else "doesn't run here"
                self._put(place, layer, sign, f"{link} {there}, layer {layer}")
        if row >= 0:
            self.setCurrentCell(min(row, self.rowCount() - 1), min(column, self.columnCount() - 1))
        self.setFixedHeight(ROW_HEIGHT * min(max(len(self.links), 1), SEEN) + HEAD_HEIGHT + 4)

    def _put(self, row: int, column: int, words: str, spoken: str) -> None:
        item = self.item(row, column)
        if item is None:
            item = QTableWidgetItem()
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            side = Qt.AlignmentFlag.AlignHCenter if column else Qt.AlignmentFlag.AlignLeft
            item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            self.setItem(row, column, item)
        item.setText(words)
        item.setToolTip(spoken)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the drawer, which scrolls, unless the keys are here."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put the plate here, or take it one layer in or out."""
        key = Qt.Key(event.key())
        row, column = self.currentRow(), self.currentColumn()
        if key in PUT and row >= 0:
            self.put(row, column)
        elif key in SIDEWAYS and event.modifiers() & Qt.KeyboardModifier.ControlModifier and row >= 0:
            self.step(row, column, SIDEWAYS[key])
        else:
            super().keyPressEvent(event)

    def put(self, row: int, layer: int) -> None:
        """Ask for the row's nearest plate to run in a layer."""
        if layer > 0 and layer not in self.layers[self.links[row]]:
            self._ask(row, self._nearest(row, layer), layer)

    def step(self, row: int, column: int, by: int) -> None:
        """Ask for the row's plate that is nearest to a column to go one layer in (−1) or out (1)."""
        layer = self._nearest(row, column)
        self.setCurrentCell(row, max(layer + by, 1))
        self._ask(row, layer, layer + by)

    def _ask(self, row: int, layer: int, to: int) -> None:
        self._select(row)
        self.wanted.emit(self.links[row], layer, to)

    def _nearest(self, row: int, layer: int) -> int:
        return min(self.layers[self.links[row]], key=lambda on: abs(on - layer))

    def _select(self, row: int) -> None:
        """Let the board show which link it is."""
        self._document.select(Selection("link", self.links[row]))
