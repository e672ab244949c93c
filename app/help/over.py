"""A page of the help over a dialog that lets nothing else be used: the dialog waits beneath, Esc goes back to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog

from app.buttons import close_only
from app.columns import tight_column
from app.help.page_view import PageView
from app.help.pages import page_of, section_of

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from app.document import Document
    from app.look import Look

SIZE = (460, 520)


class HelpSheet(QDialog):
    """The page; its links lead to other pages. What a link would do in the window has to wait."""

    def __init__(self, document: Document, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Help")
        self.setAccessibleName("Help")
        self.resize(*SIZE)
        self.view = PageView(document, look)
        self.view.anchorClicked.connect(lambda url: self._follow(url.toString()))
        column = tight_column(self)
        column.addWidget(self.view, 1)
        box = close_only()
        box.setContentsMargins(8, 6, 8, 8)
        box.rejected.connect(self.reject)
        column.addWidget(box)

    def open_on(self, place: str) -> None:
        """Come up with a place, and take the keys."""
        self.show()
        self.raise_()
        self.activateWindow()
        self.view.show_place(place)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def _follow(self, link: str) -> None:
        page = page_of(link)
        if page is not None:
            self.view.show_place(f"{page}#{section_of(link)}" if section_of(link) else page)
