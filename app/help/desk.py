"""The help of one window: made when it is first asked for, opened on the page of what one is at, put away again."""

from __future__ import annotations

from math import isfinite
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QCursor, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QDialog

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from app.help.viewer import Help
    from app.look import Look
    from app.window import Window


SIZE = "help letters"  # name in the settings
MET = "help answers"  # a property of dialogs
DIALOGS = {
    "change line": "trace#a-line-changed",
    "paste points": "trace#how-to-bring-lines-in",
    "choose outlines": "trace#how-to-bring-lines-in",
    "trials": "pins#layouts-compared",
    "swept room": "checks#the-swept-room",
}
"""Places of the help by the object name of a dialog."""


class HelpDesk(QObject):
    """Opens the help beside one window's work, and gives the keys back to the part that had them."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._viewer: Help | None = None
        self._home: QWidget = window.board
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._meet)

    @property
    def viewer(self) -> Help | None:
        """The viewer, once it was asked for."""
        return self._viewer

    def open_here(self) -> None:
        """Open the page on what one is at."""
        from app.help.where import page_for, place_of

        window = self._window
        chosen, focus = window.document.selection, window.focusWidget()
        kind = chosen.kind if chosen is not None else ""
        is_on_board = focus in (None, window) or has_focus(window.board)
        pointed = place_of(self._pointed(), kind) if is_on_board else ""
        self.open(pointed or page_for(focus, window.area.open_name, kind))

    def _pointed(self) -> QWidget | None:
        """Give what the pointer is on, None where that isn't of this window or is the help itself."""
        found: QWidget | None = QApplication.widgetAt(QCursor.pos())
        if found is None or found.window() is not self._window:
            return None
        is_help = self._viewer is not None and (found is self._viewer or self._viewer.isAncestorOf(found))
        return None if is_help else found

    def open(self, place: str) -> None:
        """Open a page or a section of one (`tools#measure`); the help comes up where it isn't yet."""
        viewer = self._viewer or self._made()
        if viewer.isHidden():
            self._home = self._part()
        viewer.open_on(place)

    def answer_in(self, dialog: QWidget, place: str) -> None:
        """Let the help's key open a place from a dialog: beside the work, or over a dialog that holds the work up."""
        key = QShortcut(QKeySequence(QKeySequence.StandardKey.HelpContents), dialog)
        key.activated.connect(lambda: self._open_over(dialog, place) if dialog.isModal() else self.open(place))

    def _meet(self, _before: QWidget | None, now: QWidget | None) -> None:
        """Let the help's key answer in a dialog that takes the keys for the first time and has a place in the help."""
        dialog = now.window() if now is not None else None
        if not isinstance(dialog, QDialog) or dialog.objectName() not in DIALOGS or dialog.property(MET):
            return
        parent = dialog.parentWidget()
        if parent is not None and parent.window() is self._window:
            dialog.setProperty(MET, True)
            self.answer_in(dialog, DIALOGS[dialog.objectName()])

    def _open_over(self, dialog: QWidget, place: str) -> None:
        """Open a place in a sheet of its own: the window beneath, and the help in it, wait for the dialog."""
        from app.help.over import HelpSheet

        window = self._window
        sheet = next(iter(dialog.findChildren(HelpSheet)), None) or HelpSheet(window.document, window.look, dialog)
        sheet.view.set_letters(kept_size(window.settings.text(SIZE)))
        sheet.open_on(place)

    def _made(self) -> Help:
        from app.help.viewer import Help, wanted_width

        window = self._window
        viewer = self._viewer = Help(window.document, window.look, window.actions)
        viewer.hide()
        viewer.view.set_letters(kept_size(window.settings.text(SIZE)))
        viewer.view.sized.connect(lambda size: window.settings.set_text(SIZE, f"{size:.2f}"))
        viewer.left.connect(lambda: self._home.setFocus(Qt.FocusReason.OtherFocusReason))
        viewer.asked.connect(self._do)
        window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, viewer)
        window.resizeDocks([viewer], [wanted_width(window.width())], Qt.Orientation.Horizontal)
        return viewer

    def _part(self) -> QWidget:
        """The part of the window that has the keys: one that lives as long as the window does."""
        window = self._window
        parts = (window.board, window.strip, window.checks, *window.area.drawers.made.values())
        return next((part for part in parts if has_focus(part)), window.board)

    def _do(self, what: str) -> None:
        """Do what a link of a page asks the window for."""
        if what == "first-steps":
            self._window.first_steps.begin()

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        if self._viewer is not None:
            self._viewer.set_look(look)


def kept_size(kept: str) -> float:
    """Read the size of letters that is kept; what is no size, as in a settings file of noise, is the desktop's."""
    try:
        size = float(kept)
    except ValueError:
        return 1.0
    return size if isfinite(size) and size > 0 else 1.0


def has_focus(part: QWidget) -> bool:
    """Tell whether a part of the window, or something in it, has the keys."""
    focus: QWidget | None = part.window().focusWidget()
    return focus is not None and (focus is part or part.isAncestorOf(focus))
