"""Where a sheet opens that is used together with the board: at the foot of the window, so that the board is seen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog, QWidget

TITLE = 32  # pixels for the title bar, which isn't known before the sheet is shown


def at_foot(dialog: QDialog, window: QWidget) -> QPoint:
    """Where the upper left corner goes of a dialog at the right end of a window's foot, wholly on its screen."""
    screen, over = window.screen().availableGeometry(), window.geometry()
    x = min(over.right() + 1, screen.right() + 1) - dialog.width()
    y = min(over.bottom() + 1, screen.bottom() + 1) - dialog.height() - TITLE
    return QPoint(max(x, screen.left()), max(y, screen.top()))


def show_at_foot(dialog: QDialog, window: QWidget) -> None:
    """Show a dialog there; where the desktop puts windows itself, it has the last word."""
    dialog.move(at_foot(dialog, window))
    dialog.show()
