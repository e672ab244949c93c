"""The toolbox: the column of tools at the board's right edge. The tool in hand is pressed in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QToolButton

from app.board.tools import TOOLS
from app.fields import named
from app.icons import icon

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from app.look import Look

SIDE, LEAST_SIDE, GAP, EDGE = 32, 26, 2, 4  # WCAG 2.2, 2.5.8: a target has 24 pixels at least
HAND = "Hand"
HAND_TIP = "Move pins, swing links, select (Esc). The wheel zooms, the paper can be pushed about."


class Toolbox(QFrame):
    """A button a tool: in one column, smaller ones if need be, and in more where even those don't find room."""

    chosen = Signal(str)  # name of a tool; HAND for none
    widened = Signal()  # or made narrower

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("toolbox")
        self.setAccessibleName("Tools of the board")
        self._rows, self._side = 0, SIDE
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(EDGE, EDGE, EDGE, EDGE)
        self._grid.setSpacing(GAP)
        self.buttons: dict[str, QToolButton] = {}
        self._add(HAND, HAND_TIP)
        for tool in TOOLS:
            self._add(tool.name, f"{tool.tip}\nKey: {tool.key}.")
        self.show_tool(HAND)
        self.set_look(look)
        self._arrange(len(self.buttons))

    def _add(self, name: str, tip: str) -> None:
        button = QToolButton()
        button.setCheckable(True)
        button.setFixedSize(SIDE, SIDE)
        button.setIconSize(QSize(22, 22))
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        named(button, f"Tool {name}", tip)
        button.clicked.connect(lambda _=False: self._choose(name))
        self.buttons[name] = button

    def _choose(self, name: str) -> None:
        self.chosen.emit(name)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        for name, button in self.buttons.items():
            button.setIcon(icon(f"tool {name.lower()}", look.ink, 22))

    def show_tool(self, name: str) -> None:
        """Press the button of the tool in hand; "": none of them is, as something is being drawn."""
        for each, button in self.buttons.items():
            button.setChecked(each == name)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand in more columns where there is little height."""
        super().resizeEvent(event)
        high = self.height() - 2 * EDGE + GAP
        side = high // len(self.buttons) - GAP
        self._size(min(side, SIDE) if side >= LEAST_SIDE else SIDE)
        self._arrange(high // (self._side + GAP))

    def minimumSizeHint(self) -> QSize:
        """As low as need be: then there are more columns."""
        return QSize(self._wide(), 3 * (SIDE + GAP) + 2 * EDGE)

    def sizeHint(self) -> QSize:
        """Give the size it would like: one column."""
        return QSize(self._wide(), len(self.buttons) * (SIDE + GAP) + 2 * EDGE)

    def _wide(self) -> int:
        columns = -(-len(self.buttons) // max(self._rows, 1))
        return columns * (self._side + GAP) - GAP + 2 * EDGE

    def _size(self, side: int) -> None:
        """Give the buttons a size."""
        if side == self._side:
            return
        self._side = side
        for button in self.buttons.values():
            button.setFixedSize(side, side)
            button.setIconSize(QSize(min(22, side - 8), min(22, side - 8)))
        self._set_width()

    def _set_width(self) -> None:
        self.setFixedWidth(self._wide())
        self.widened.emit()

    def _arrange(self, rows: int) -> None:
        rows = max(min(rows, len(self.buttons)), 3)
        if rows == self._rows:
            return
        self._rows = rows
        for button in self.buttons.values():
            self._grid.removeWidget(button)
        for place in range(self._grid.rowCount()):
            self._grid.setRowStretch(place, 0)
        for place, button in enumerate(self.buttons.values()):
            self._grid.addWidget(button, place % rows, place // rows)
        self._grid.setRowStretch(rows, 1)
        self._set_width()
