"""Sheets that are used together with the board: they open at the foot of the window or at its side, so that the board
is seen, and take the keys for Undo and Redo as the window does.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtGui import QKeySequence, QShortcut

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog, QWidget

    from app.document import Document

TITLE = 32  # pixels for the title bar, which isn't known before the sheet is shown


def at_foot(size: QSize, over: QRect, screen: QRect) -> QPoint:
    """Where the upper left corner of a sheet goes: the right end of a window's foot, as far as the screen lets it."""
    x = min(over.right(), screen.right()) + 1 - size.width()
    y = min(over.bottom(), screen.bottom()) + 1 - size.height() - TITLE
    return QPoint(max(x, screen.left()), max(y, screen.top()))


def show_at_foot(dialog: QDialog, window: QWidget) -> None:
    """Show a dialog there; where the desktop puts windows itself, it has the last word."""
    dialog.move(at_foot(dialog.size(), window.geometry(), window.screen().availableGeometry()))
    dialog.show()


def at_side(size: QSize, over: QRect, screen: QRect) -> QRect:
    """Where a high sheet goes: the right side of a window, as high as the window, as far as the screen lets it."""
    top = max(over.top(), screen.top())
    high = max(min(over.bottom(), screen.bottom()) + 1 - TITLE - top, size.height())
    x = min(over.right(), screen.right()) + 1 - size.width()
    return QRect(max(x, screen.left()), top, size.width(), high)


def show_at_side(dialog: QDialog, window: QWidget) -> None:
    """Show a high dialog there; where the desktop puts windows itself, it has the last word."""
    least = QSize(dialog.width(), dialog.minimumSizeHint().height())
    place = at_side(least, window.geometry(), window.screen().availableGeometry())
    dialog.resize(place.size())
    dialog.move(place.topLeft())
    dialog.show()


def undo_from(dialog: QDialog, document: Document) -> None:
    """Let the keys take steps back from a dialog too, and do them again; amid typing they are the field's."""
    keys = QKeySequence.StandardKey
    for key, act in ((keys.Undo, document.undo), (keys.Redo, document.redo)):
        shortcut = QShortcut(dialog)
        shortcut.setKeys(key)  # all that the desktop has for it
        shortcut.activated.connect(act)
