"""The rail at the window's left edge: a button a drawer, Trace, Pins, Lift, Build; and the sheet area over which the
open drawer slides.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QEasingCurve, QPoint, QPointF, QPropertyAnimation, QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QToolButton, QVBoxLayout, QWidget

from app.fields import named
from app.icons import icon
from app.notice import Notice

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from PySide6.QtGui import QResizeEvent

    from app.board import Board
    from app.drawers.drawer import Drawer
    from app.look import Look

NAMES = ("Trace", "Pins", "Lift", "Build")
TIPS = {
    "Trace": "Bring in the outlines of the panel and of what it must clear (Alt+1).",
    "Pins": "Place links and pivots, or begin from a start that moves at once (Alt+2).",
    "Lift": "Enter weights, handle, struts and springs, and read how hard it lifts (Alt+3).",
    "Build": "Distances between the pins, for a card model (Alt+4).",
}


class Rail(QFrame):
    """The four buttons. The open drawer's is pressed."""

    chosen = Signal(str)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("rail")
        self.setFixedWidth(70)
        column = QVBoxLayout(self)
        column.setContentsMargins(5, 8, 5, 8)
        column.setSpacing(6)
        self.buttons: dict[str, QToolButton] = {}
        for name in NAMES:
            button = QToolButton()
            button.setText(name)
            button.setCheckable(True)
            button.setIconSize(QSize(26, 26))
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
            button.setFixedSize(60, 58)
            named(button, f"Drawer {name}", TIPS[name])
            button.clicked.connect(lambda _=False, name=name: self.chosen.emit(name))
            column.addWidget(button)
            self.buttons[name] = button
        column.addStretch(1)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        for name, button in self.buttons.items():
            button.setIcon(icon(name.lower(), look.ink, 26))

    def show_open(self, name: str) -> None:
        """Press the button of the open drawer; "" for none."""
        for each, button in self.buttons.items():
            button.setChecked(each == name)


class Drawers(Mapping[str, "Drawer"]):
    """The drawers by name, each made when it is first looked up: hundreds of controls that few need at the start.

    made : those that are there by now.
    """

    def __init__(self, take_in: Callable[[Drawer], None]) -> None:
        self.makers: dict[str, Callable[[], Drawer]] = {}
        self.made: dict[str, Drawer] = {}
        self._take_in = take_in

    def __getitem__(self, name: str) -> Drawer:
        """Give a drawer, made now if it hasn't been."""
        if name not in self.made:
            drawer = self.made[name] = self.makers[name]()
            self._take_in(drawer)
        return self.made[name]

    def __iter__(self) -> Iterator[str]:
        """Go through the names, made or not."""
        return iter(self.makers)

    def __len__(self) -> int:
        """Count them, made or not."""
        return len(self.makers)


class SheetArea(QWidget):
    """The board, with the open drawer over its left edge and the notice over its upper one."""

    drawer_changed = Signal(str)
    drawer_made = Signal(object)  # Drawer
    slide_ms = 140

    def __init__(self, board: Board) -> None:
        super().__init__()
        self.board = board
        board.setParent(self)
        self.notice = Notice(self)
        self.drawers = Drawers(self._take_in)
        self.open_name = ""
        board.toolbox.widened.connect(lambda: self.notice.fit(right=board.toolbox.sizeHint().width()))
        self._slide = QPropertyAnimation(self)
        self._slide.setPropertyName(b"pos")
        self._slide.setEasingCurve(QEasingCurve.Type.OutCubic)
        self._slide.finished.connect(self._slid)
        self.setMinimumSize(360, 220)

    def add_drawer(self, name: str, make: Callable[[], Drawer]) -> None:
        """Have a drawer made when it is first asked for; it stays hidden until it is opened."""
        self.drawers.makers[name] = make

    def _take_in(self, drawer: Drawer) -> None:
        drawer.setParent(self)
        drawer.hide()
        drawer.closed.connect(lambda: self.open_drawer(""))
        self.drawer_made.emit(drawer)

    @property
    def drawer(self) -> Drawer | None:
        """The drawer that is open."""
        return self.drawers.made.get(self.open_name)

    def toggle_drawer(self, name: str) -> None:
        """Open a drawer, or close it if it is the open one."""
        self.open_drawer("" if name == self.open_name else name)

    def open_drawer(self, name: str) -> None:
        """Open a drawer and close any other; "" closes."""
        if name == self.open_name:
            return
        self._slide.stop()
        self._slid()
        leaving, coming = self.drawer, self.drawers.get(name)
        self.open_name = name if coming is not None else ""
        self._clear_of(coming.width() if coming is not None else 0)
        if coming is not None:
            if leaving is not None:
                leaving.hide()
            coming.setGeometry(0, 0, coming.width(), self.height())
            coming.show()
            coming.raise_()
            self._move(coming, -coming.width(), 0)
            coming.take_focus()
        elif leaving is not None:
            self._move(leaving, 0, -leaving.width())
            self.board.setFocus(Qt.FocusReason.OtherFocusReason)
        self.notice.fit(coming.width() if coming is not None else 0, self.board.toolbox.sizeHint().width())
        self.notice.raise_()
        self.drawer_changed.emit(self.open_name)

    def _clear_of(self, covered: int) -> None:
        """Move the sheet aside, so that what was seen of it is seen beside the drawer too; what was fitted is fitted
        again.
        """
        view, before, was_fitted = self.board.view, self.board.covered_left, self.board.is_fitted
        self.board.covered_left = float(covered)
        if was_fitted:
            self.board.fit()
            return
        width = float(view.width())
        if width > max(before, covered) + 160:  # else too little would be left to see
            view.zoom((width - covered) / (width - before), QPointF(width, view.height() / 2))

    def _move(self, drawer: Drawer, start: int, end: int) -> None:
        if self.slide_ms <= 0 or not self.isVisible():
            drawer.move(end, 0)
            drawer.setVisible(end == 0)
            return
        self._slide.setTargetObject(drawer)
        self._slide.setDuration(self.slide_ms)
        self._slide.setStartValue(QPoint(start, 0))
        self._slide.setEndValue(QPoint(end, 0))
        self._slide.start()

    def _slid(self) -> None:
        """Hide the drawers that are not open."""
        for name, drawer in self.drawers.made.items():
            if name != self.open_name:
                drawer.hide()
            else:
                drawer.move(0, 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep board, drawer and notice to the area."""
        super().resizeEvent(event)
        self.board.setGeometry(self.rect())
        if self.drawer is not None:
            self.drawer.setGeometry(0, 0, self.drawer.width(), self.height())
        self.notice.fit(right=self.board.toolbox.sizeHint().width())
