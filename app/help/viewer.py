"""The viewer of the help: a page at a time, at the window's right side or by itself where it is dragged off.

It never takes the work away: the window beside it stays as it is, and Esc puts the help back. Pictures are drawn as a
page is shown, as wide as it is, in the sheet's look and the units of the open hinge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QDockWidget, QGridLayout, QLineEdit, QToolButton, QWidget

from app.entry.form import ChoiceBox
from app.fields import named
from app.help.page_view import LOOKED_FOR, PageView
from app.help.pages import FIRST, ORDER, page_of, section_of, title

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from PySide6.QtGui import QAction, QKeyEvent

    from app.document import Document
    from app.look import Look

WIDTH, LEAST_WIDTH = 440, 300
SHARE = 0.27  # of the window's width


class Help(QDockWidget):
    """The page; above it the ways back and ahead, the list of contents, a field to look for words, and a way out."""

    asked = Signal(str)  # what a link wants the window to do
    left = Signal()  # the help was put away

    def __init__(self, document: Document, look: Look, commands: Callable[[], Iterable[QAction]]) -> None:
        super().__init__("Help")
        self.setObjectName("help")
        self.setAllowedAreas(Qt.DockWidgetArea.LeftDockWidgetArea | Qt.DockWidgetArea.RightDockWidgetArea)
        self._work, self._units = document, document.units
        self._before: list[tuple[str, int]] = []  # places, and how far down one was reading
        self._after: list[tuple[str, int]] = []
        self.view = PageView(document, look)
        self.view.list_commands(commands)
        self.view.anchorClicked.connect(lambda url: self.follow(url.toString()))
        self.view.back_wanted.connect(self.go_back)
        self.view.ahead_wanted.connect(self.go_ahead)
        self.view.search_wanted.connect(self._begin_search)
        self.view.setMinimumWidth(LEAST_WIDTH)
        self.setWidget(self.view)
        self.setTitleBarWidget(self._head())
        document.changed.connect(self._check_units)
        document.restyled.connect(self._check_units)

    def _head(self) -> QWidget:
        self.back = _button("‹", "Back", "The page before this one (Alt and Left).", self.go_back)
        self.ahead = _button("›", "Ahead", "The page that you came back from (Alt and Right).", self.go_ahead)
        self.contents = ChoiceBox([(page, title(page)) for page in ORDER])
        named(self.contents, "Contents", "All pages of the help.")
        self.contents.activated.connect(lambda _: self.show_place(self.contents.value or self.view.place))
        self.search = QLineEdit()
        named(self.search, "Search the help", "Words to look for in all pages; Enter lists where they stand (Ctrl+F).")
        self.search.setPlaceholderText("Search the help: words, then Enter")
        self.search.returnPressed.connect(self._search)
        head = QWidget()
        grid = QGridLayout(head)
        grid.setContentsMargins(10, 8, 8, 4)
        grid.addWidget(self.back, 0, 0)
        grid.addWidget(self.ahead, 0, 1)
        grid.addWidget(self.contents, 0, 2)
        grid.addWidget(_button("×", "Close help", "Put the help away (Esc).", self.leave), 0, 3)
        grid.addWidget(self.search, 1, 0, 1, 4)
        grid.setColumnStretch(2, 1)
        return head

    def sizeHint(self) -> QSize:
        """Give the size it would like."""
        return QSize(WIDTH, 600)

    @property
    def page(self) -> str:
        """The page on show, "" before there is one and where something was looked for."""
        return self.view.page

    # Going about -----------------------------------------------------------------------------------------------------

    def show_place(self, place: str) -> None:
        """Show a place; the one before can be gone back to."""
        if self.view.place and place != self.view.place:
            self._before.append(self._here())
            self._after.clear()
        self._turn_to(place)

    def go_back(self) -> None:
        """Show the place before, where one was reading."""
        if self._before:
            self._after.append(self._here())
            self._turn_to(*self._before.pop())

    def go_ahead(self) -> None:
        """Show the place that one came back from."""
        if self._after:
            self._before.append(self._here())
            self._turn_to(*self._after.pop())

    def _here(self) -> tuple[str, int]:
        return self.view.place, self.view.verticalScrollBar().value()

    def _turn_to(self, place: str, down: int | None = None) -> None:
        self.view.show_place(place)
        if down is not None:
            self.view.verticalScrollBar().setValue(down)
        self.contents.setCurrentIndex(-1)
        self.contents.choose(self.view.page)  # none while something was looked for
        self.back.setEnabled(bool(self._before))
        self.ahead.setEnabled(bool(self._after))

    def follow(self, link: str) -> None:
        """Do what a link asks for: another page, or something that the window does."""
        page = page_of(link)
        if page is not None:
            self.show_place(f"{page}#{section_of(link)}" if section_of(link) else page)
        elif link.startswith("do:"):
            self.asked.emit(link.removeprefix("do:"))

    def _begin_search(self) -> None:
        self.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.search.selectAll()

    def _search(self) -> None:
        """List where the typed words stand; the keys go to the list."""
        wanted = " ".join(self.search.text().split())
        if wanted:
            self.show_place(LOOKED_FOR + wanted)
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    # Coming and going ------------------------------------------------------------------------------------------------

    def open_on(self, place: str) -> None:
        """Come up with a place, and take the keys."""
        self.show()
        self.raise_()
        self.show_place(place or FIRST)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def leave(self) -> None:
        """Go away."""
        self.hide()
        self.left.emit()

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self.view.look = look
        self.view.show_afresh()

    def _check_units(self) -> None:
        if self._work.units != self._units:
            self._units = self._work.units
            self.view.show_afresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc puts the help away."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)


def wanted_width(room: int) -> int:
    """Give the width that the help comes up with in a window so wide: in a small one the board keeps most of it."""
    return round(min(max(SHARE * room, LEAST_WIDTH), WIDTH))


def _button(words: str, name: str, tip: str, act: Callable[[], object]) -> QToolButton:
    made = QToolButton()
    made.setText(words)
    made.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    named(made, name, tip)
    made.clicked.connect(lambda _=False: act())
    return made
