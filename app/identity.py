"""Who the program is to a desktop: its name, its icon, the entry that its windows belong to, and files that the desktop
hands over.

Linux: windows are told apart by the name of the desktop entry (Wayland's app id; on X11 a property). Windows: a taskbar
groups windows by an id that the program claims, else it would be Python's. macOS: a file that is double-clicked comes
as an event, none of the words on the command line.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QRectF, Qt
from PySide6.QtGui import QFileOpenEvent, QGuiApplication, QIcon, QImage, QPainter, QPixmap

from resources import find

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QApplication

ENTRY = "hingewright"  # of resources/desktop/hingewright.desktop
TASKBAR_ID = "Hingewright.Hingewright"  # Company.Product, as Windows asks for
SIDES = (16, 24, 32, 48, 64, 128, 256)


def identify(application: QApplication) -> None:
    """Give the application its name, its icon and its place among the desktop's applications."""
    application.setApplicationName("Hingewright")
    QGuiApplication.setDesktopFileName(ENTRY)
    application.setWindowIcon(program_icon())
    claim_taskbar()


def claim_taskbar() -> None:
    """On Windows, let the taskbar take our windows for ours, with our icon."""
    if sys.platform == "win32":
        import contextlib
        import ctypes

        with contextlib.suppress(AttributeError, OSError):  # older than the taskbar that asks
            ctypes.windll.shell32.SetCurrentProcessExplicitAppUserModelID(TASKBAR_ID)


# ---------------------------------------------------------------------------------------------------------------- icon
def icon_image(side: int) -> QImage:
    """Draw the icon, `side` pixels wide and high, on nothing."""
    from PySide6.QtSvg import QSvgRenderer

    image = QImage(side, side, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    QSvgRenderer(str(find(f"desktop/{ENTRY}.svg"))).render(painter, QRectF(0, 0, side, side))
    painter.end()
    return image


def program_icon() -> QIcon:
    """Give the icon in all sizes that desktops ask for."""
    made = QIcon()
    for side in SIDES:
        made.addPixmap(QPixmap.fromImage(icon_image(side)))
    return made


# ---------------------------------------------------------------------------------------------------------------- files
def take_handed_over(application: QApplication, take: Callable[[Path], object]) -> None:
    """Let the desktop hand files over while the program runs. Elsewhere than on macOS no desktop does, and a look at
    every event would only cost time.
    """
    if sys.platform == "darwin":
        HandedOver(application, take)


class HandedOver(QObject):
    """Takes the files that the desktop hands over."""

    def __init__(self, application: QApplication, take: Callable[[Path], object]) -> None:
        super().__init__(application)
        self._take = take
        application.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take a file."""
        if event.type() == QEvent.Type.FileOpen and isinstance(event, QFileOpenEvent) and event.file():
            self._take(Path(event.file()))
            return True
        return super().eventFilter(watched, event)
