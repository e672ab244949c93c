"""The viewer of the help: a page at a time, at the window's right side or by itself where it is dragged off.

It never takes the work away: the window beside it stays as it is, and Esc puts the help back. Pictures are drawn as a
page is shown, as wide as it is, in the sheet's look and the units of the open hinge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, QUrl, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QTextDocument
from PySide6.QtWidgets import QDockWidget, QFrame, QHBoxLayout, QTextBrowser, QToolButton, QWidget

from app.entry.form import ChoiceBox
from app.fields import named
from app.help.dress import dress
from app.help.hands import commands_table, hands_table
from app.help.pages import FIRST, ORDER, page_of, title, words
from app.help.pictures import picture

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from PySide6.QtGui import QAction

    from app.document import Document
    from app.lengths import Units
    from app.look import Look

WIDTH, LEAST_WIDTH = 440, 300
MARGIN = 14.0
SETTLE_MS = 150  # after the last change of width, pages are set anew


class PageView(QTextBrowser):
    """Shows one page. Links are told, not followed."""

    back_wanted = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._work, self.look = document, look
        self._page = ""
        self._width = 0
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(SETTLE_MS)
        self._settle.timeout.connect(self.show_afresh)
        self._commands: Callable[[], Iterable[QAction]] = tuple
        self.setOpenLinks(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)  # pictures are as wide as it leaves
        named(self, "Help page", "Tab goes from link to link, Enter follows one. Esc puts the help away.")

    @property
    def page(self) -> str:
        """The page on show, "" before there is one."""
        return self._page

    def list_commands(self, commands: Callable[[], Iterable[QAction]]) -> None:
        """Take the commands that the page on keys lists from here."""
        self._commands = commands

    def show_page(self, page: str) -> None:
        """Show a page from its top."""
        self._page = page
        self._set()
        self.setAccessibleName(f"Help: {title(page)}")
        self.moveCursor(self.textCursor().MoveOperation.Start)
        self.verticalScrollBar().setValue(0)

    def show_afresh(self) -> None:
        """Set the page anew, in other colours, units or width, where one was reading."""
        if not self._page:
            return
        bar = self.verticalScrollBar()
        share = bar.value() / max(bar.maximum(), 1)
        self._set()
        bar.setValue(round(share * bar.maximum()))

    def _set(self) -> None:
        self._width = self.viewport().width()
        inserts = {"hands": hands_table(), "commands": commands_table(self._commands())}
        sheet = self.document()
        sheet.clear()
        sheet.setDocumentMargin(MARGIN)
        features = QTextDocument.MarkdownFeature
        dialect = features.MarkdownDialectGitHub | features.MarkdownNoHTML
        sheet.setMarkdown(words(self._page, self._units, inserts), dialect)
        dress(sheet, self.look)

    @property
    def _units(self) -> Units:
        return self._work.units

    def loadResource(self, kind: int, url: QUrl | str) -> Any:  # noqa: ANN401, N802  Qt's own
        """Draw the picture that a page asks for."""
        name = QUrl(url).toString() if isinstance(url, str) else url.toString()
        if name.startswith("picture:"):
            width = round(self.viewport().width() - 2 * MARGIN)
            return picture(name.removeprefix("picture:"), self.look, self._units, width, self.devicePixelRatioF())
        return super().loadResource(kind, url)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw the pictures for the new width, once it stands still."""
        super().resizeEvent(event)
        if self._page and self.viewport().width() != self._width:
            self._settle.start()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Ask for the page before, which Qt would look for in a history of its own."""
        if event.matches(QKeySequence.StandardKey.Back):
            self.back_wanted.emit()
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Draw the pictures anew for a screen of another scale."""
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self._settle.start()
        return super().event(event)


class Help(QDockWidget):
    """The page, with a way back, the list of contents and a way out above it."""

    asked = Signal(str)  # what a link wants the window to do
    left = Signal()  # the help was put away

    def __init__(self, document: Document, look: Look, commands: Callable[[], Iterable[QAction]]) -> None:
        super().__init__("Help")
        self.setObjectName("help")
        self.setAllowedAreas(Qt.DockWidgetArea.LeftDockWidgetArea | Qt.DockWidgetArea.RightDockWidgetArea)
        self._work, self._units = document, document.units
        self._history: list[str] = []
        self.view = PageView(document, look)
        self.view.list_commands(commands)
        self.view.anchorClicked.connect(lambda url: self.follow(url.toString()))
        self.view.back_wanted.connect(self.go_back)
        self.view.setMinimumWidth(LEAST_WIDTH)
        self.setWidget(self.view)
        self.setTitleBarWidget(self._head())
        document.changed.connect(lambda _: self._check_units())
        document.restyled.connect(self._check_units)

    def _head(self) -> QWidget:
        self.back = QToolButton()
        self.back.setText("‹ Back")
        named(self.back, "Back", "The page before this one (Alt and Left).")
        self.back.clicked.connect(self.go_back)
        self.contents = ChoiceBox([(page, title(page)) for page in ORDER])
        named(self.contents, "Contents", "All pages of the help.")
        self.contents.activated.connect(lambda place: self.show_page(ORDER[place]))
        shut = QToolButton()
        shut.setText("×")
        named(shut, "Close help", "Put the help away (Esc).")
        shut.clicked.connect(self.leave)
        head = QWidget()
        row = QHBoxLayout(head)
        row.setContentsMargins(10, 8, 8, 4)
        row.addWidget(self.back)
        row.addWidget(self.contents, 1)
        row.addWidget(shut)
        return head

    def sizeHint(self) -> QSize:
        """Give the size it would like."""
        return QSize(WIDTH, 600)

    @property
    def page(self) -> str:
        """The page on show, "" before there is one."""
        return self.view.page

    def show_page(self, page: str) -> None:
        """Show a page; the one before can be gone back to."""
        if self.page and page != self.page:
            self._history.append(self.page)
        self._turn_to(page)

    def go_back(self) -> None:
        """Show the page before."""
        if self._history:
            self._turn_to(self._history.pop())

    def _turn_to(self, page: str) -> None:
        self.view.show_page(page)
        self.contents.choose(page)
        self.back.setEnabled(bool(self._history))

    def follow(self, link: str) -> None:
        """Do what a link asks for: another page, or something that the window does."""
        page = page_of(link)
        if page is not None:
            self.show_page(page)
        elif link.startswith("do:"):
            self.asked.emit(link.removeprefix("do:"))

    def open_on(self, page: str) -> None:
        """Come up with a page, and take the keys."""
        self.show()
        self.raise_()
        self.show_page(page or FIRST)
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
