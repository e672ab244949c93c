"""The table of links and layers: a mark where a plate runs, the panel's middle being at the left.

The arrow keys go from cell to cell; Enter, Space or a double click puts the row's plate there (of a pair the one that
is nearest), Ctrl with left or right takes it one layer in or out. Beyond the last layer stands an empty one, to go to.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QHeaderView

from app.document import Selection
from app.drawers.row_table import ENTER, RowTable
from app.stack_words import layer_words

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from PySide6.QtGui import QKeyEvent

    from app.document import Document
    from kinematics.stacking import StackMade

HERE, STRUCK = "■", "✗"
WIDE = 24
SIDEWAYS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}


class LayerTable(RowTable):
    """Rows of links, columns of layers. It only asks (`wanted`: link, its layer, layer to go to)."""

    row_height: ClassVar[int] = 24
    seen: ClassVar[int | None] = 9
    side: ClassVar[Qt.AlignmentFlag] = Qt.AlignmentFlag.AlignHCenter
    wanted = Signal(str, int, int)

    def __init__(self, document: Document) -> None:
        super().__init__(
            1,
            "Links and their layers",
            "Layer 1 is nearest to the panel's middle. Enter, Space or a double click puts the link's plate into that "
            "layer; Ctrl+Left and Ctrl+Right take it one layer in or out.",
        )
        self._document = document
        self.links: list[str] = []
        self.layers: dict[str, tuple[int, ...]] = {}
        self.horizontalHeader().setMinimumSectionSize(WIDE)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.cellDoubleClicked.connect(self.put)
        self.cellClicked.connect(lambda row, _: self._select(row))

    def show_stack(self, stack: StackMade) -> None:
        """Show the newest layers; the cell that has the keys keeps them."""
        struck = {name for fault in stack.faults if fault.breaks for name in (fault.name, fault.other)}
        self.show_layers(stack.layers, set(stack.by_hand), struck)

    def show_layers(
        self, layers: Mapping[str, tuple[int, ...]], by_hand: Collection[str], struck: Collection[str] = ()
    ) -> None:
        """Show layers, of whatever links.   struck : links that can't run so."""
        row, column = self.currentRow(), self.currentColumn()
        count = max((layer for on in layers.values() for layer in on), default=0)
        self.links, self.layers = list(layers), dict(layers)
        self.setRowCount(len(self.links))
        self.setColumnCount(count + 2)
        self.setHorizontalHeaderLabels(["", *map(str, range(1, count + 2))])
        self.set_widths([WIDE] * (count + 1))
        for place, link in enumerate(self.links):
            on = self.layers[link]
            told = " (by hand)" if link in by_hand else ""
            spoken = f"{link}: layer {layer_words(on)}{told}"
            self.put_words(place, 0, link, spoken, spoken)
            for layer in range(1, count + 2):
                sign = (STRUCK if link in struck else HERE) if layer in on else ""
                there = "runs here" if layer in on else "doesn't run here"
                spoken = f"{link} {there}, layer {layer}"
                self.put_words(place, layer, sign, spoken, spoken)
        self.show_faint(False)
        if row >= 0:
            self.setCurrentCell(min(row, self.rowCount() - 1), min(column, self.columnCount() - 1))
        self.fit()

    def show_faint(self, faint: bool) -> None:
        """Show in a low voice what is of an older layout. The table keeps the keys, as they may go on at once."""
        colour = self.palette().color(QPalette.ColorRole.PlaceholderText) if faint else None
        for row in range(self.rowCount()):
            for column in range(self.columnCount()):
                item = self.item(row, column)
                if item is not None:
                    item.setData(Qt.ItemDataRole.ForegroundRole, colour)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put the plate here, or take it one layer in or out."""
        key = Qt.Key(event.key())
        row, column = self.currentRow(), self.currentColumn()
        if key in ENTER and row >= 0:
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
