"""One page of the help as it is shown: its words dressed, its pictures drawn as wide as it is, its letters as large as
the desktop's or as the reader likes them.

A *place* is what is on show: a page (`pins`), a section of one (`tools#measure`), or words that were looked for
(`?dead point`).
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, Qt, QTimer, QUrl, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QKeyEvent,
    QKeySequence,
    QResizeEvent,
    QTextBlock,
    QTextCursor,
    QTextDocument,
    QTextFormat,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QTextBrowser, QTextEdit

from app.fields import named
from app.help.dress import dress
from app.help.hands import commands_table, hands_table
from app.help.pages import slug, title, words
from app.help.pictures import picture
from app.help.search import find, found_page
from app.theme import blend

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from PySide6.QtGui import QAction

    from app.document import Document
    from app.lengths import Units
    from app.look import Look

MARGIN = 14.0
SETTLE_MS = 150  # after the last change of width, pages are set anew
SMALLEST, LARGEST, STEP = 0.75, 3.0, 1.1  # size of letters, in times the desktop's, and the step from one to the next
LOOKED_FOR = "?"  # before the words of a place that is a search


class PageView(QTextBrowser):
    """Shows one page. Links are told, not followed."""

    back_wanted = Signal()
    ahead_wanted = Signal()
    search_wanted = Signal()
    sized = Signal(float)  # the reader has chosen another size of letters

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._work, self.look = document, look
        self._place = ""
        self._width = 0
        self._letters = 1.0
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
    def place(self) -> str:
        """The place on show, "" before there is one."""
        return self._place

    @property
    def page(self) -> str:
        """The page on show, "" before there is one and where something was looked for."""
        return "" if self._place.startswith(LOOKED_FOR) else self._place.partition("#")[0]

    def list_commands(self, commands: Callable[[], Iterable[QAction]]) -> None:
        """Take the commands that the page on keys lists from here."""
        self._commands = commands

    def show_place(self, place: str) -> None:
        """Show a place: a page from its top, or from the heading of a section on."""
        self._place = place
        self._set()
        name = f"Help: {title(self.page)}" if self.page else f"Help, found: {place.removeprefix(LOOKED_FOR)}"
        self.setAccessibleName(name)
        self.moveCursor(self.textCursor().MoveOperation.Start)
        heading = self._heading()
        top = 0.0 if heading is None else self.document().documentLayout().blockBoundingRect(heading).top() - MARGIN
        self.verticalScrollBar().setValue(round(top))

    def _marked(self, heading: QTextBlock) -> QTextEdit.ExtraSelection:
        """Put a wash behind the heading that was gone to: one near the end of a page can't come up to the top."""
        made = QTextEdit.ExtraSelection()
        made.cursor = QTextCursor(heading)
        made.format.setBackground(QColor(blend(self.look.selection, self.look.paper, 0.16)))
        made.format.setProperty(QTextFormat.Property.FullWidthSelection, True)
        return made

    def _heading(self) -> QTextBlock | None:
        """Give the heading of the section on show, None where the whole page is."""
        section = self._place.partition("#")[2] if self.page else ""
        block = self.document().begin()
        while section and block.isValid():
            if block.blockFormat().headingLevel() and slug(block.text()) == section:
                return block
            block = block.next()
        return None

    def show_afresh(self) -> None:
        """Set the page anew, in other colours, units or width, where one was reading."""
        if not self._place:
            return
        bar = self.verticalScrollBar()
        share = bar.value() / max(bar.maximum(), 1)
        self._set()
        bar.setValue(round(share * bar.maximum()))

    def _set(self) -> None:
        self._width = self.viewport().width()
        sheet = self.document()
        sheet.clear()
        sheet.setDefaultFont(self._font())
        sheet.setDocumentMargin(MARGIN)
        features = QTextDocument.MarkdownFeature
        dialect = features.MarkdownDialectGitHub | features.MarkdownNoHTML
        sheet.setMarkdown(self._words(), dialect)
        dress(sheet, self.look)
        heading = self._heading()
        self.setExtraSelections([] if heading is None else [self._marked(heading)])

    def _words(self) -> str:
        inserts = {"hands": hands_table(), "commands": commands_table(self._commands())}
        if self.page:
            return words(self.page, self._units, inserts)
        wanted = self._place.removeprefix(LOOKED_FOR)
        return found_page(wanted, find(wanted, self._units, inserts))

    # Size of letters -------------------------------------------------------------------------------------------------

    @property
    def letters(self) -> float:
        """Size of the letters, in times the desktop's."""
        return self._letters

    def set_letters(self, size: float) -> None:
        """Show letters of another size."""
        size = min(max(size, SMALLEST), LARGEST)
        if size != self._letters:
            self._letters = size
            self.show_afresh()
            self.sized.emit(size)

    def _font(self) -> QFont:
        made = QFont(self.font())
        if made.pointSizeF() > 0:
            made.setPointSizeF(made.pointSizeF() * self._letters)
        else:
            made.setPixelSize(round(made.pixelSize() * self._letters))
        return made

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll; with Ctrl make the letters larger or smaller."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.set_letters(self._letters * STEP ** (event.angleDelta().y() / 120.0))
            event.accept()
        else:
            super().wheelEvent(event)

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
        if self._place and self.viewport().width() != self._width:
            self._settle.start()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what a reader's keys ask for; Qt would look for the page before in a history of its own."""
        done = self._key(event)
        if done is not None:
            done()
        else:
            super().keyPressEvent(event)

    def _key(self, event: QKeyEvent) -> Callable[[], object] | None:
        """Give what a key does here, None for one that isn't the page's."""
        standard = QKeySequence.StandardKey
        keys: dict[QKeySequence.StandardKey, Callable[[], object]] = {
            standard.Back: self.back_wanted.emit,
            standard.Forward: self.ahead_wanted.emit,
            standard.Find: self.search_wanted.emit,
        }
        for key, act in keys.items():
            if event.matches(key):
                return act
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return self._letter_keys().get(event.key())
        return None

    def _letter_keys(self) -> dict[int, Callable[[], object]]:
        """Give what keys do to the letters, with Ctrl: on many keyboards + needs Shift, and = is the same key."""
        larger, smaller = (partial(self.set_letters, self._letters * factor) for factor in (STEP, 1.0 / STEP))
        return {
            Qt.Key.Key_Plus: larger,
            Qt.Key.Key_Equal: larger,
            Qt.Key.Key_Minus: smaller,
            Qt.Key.Key_0: partial(self.set_letters, 1.0),
        }

    def event(self, event: QEvent) -> bool:
        """Keep the reader's keys from the window's commands; draw anew for another screen or other letters."""
        kinds = QEvent.Type
        if isinstance(event, QKeyEvent) and event.type() == kinds.ShortcutOverride and self._key(event) is not None:
            event.accept()
            return True
        if event.type() in (kinds.DevicePixelRatioChange, kinds.ApplicationFontChange):
            self._settle.start()
        return super().event(event)
