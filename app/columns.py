"""Columns without frames and margins, still or scrolling: what the parts of the window are stacked in."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QVBoxLayout, QWidget


def tight_column(parent: QWidget) -> QVBoxLayout:
    """Give a widget a column that fills it to its edges."""
    column = QVBoxLayout(parent)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    return column


class KeepingArea(QScrollArea):
    """An area that brings into view what in it takes the keys. Qt does so only for steps of Tab within an area.

    What takes them by a press of the mouse stays where it is: moved away beneath the pointer, it would miss its click.
    """

    def __init__(self) -> None:
        super().__init__()
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._follow)

    def _follow(self, _before: QWidget | None, now: QWidget | None) -> None:
        page = self.widget()
        if QApplication.mouseButtons() != Qt.MouseButton.NoButton:
            return
        if now is not None and page is not None and page.isAncestorOf(now):
            self.ensureWidgetVisible(now, 0, 8)


def scroll_area() -> QScrollArea:
    """Make an area without a frame that scrolls up and down only, and leaves the keys to what is in it."""
    area = KeepingArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area


def scrolling_column() -> tuple[QScrollArea, QVBoxLayout]:
    """Make such an area with an empty column in it."""
    area, page = scroll_area(), QWidget()
    page.setObjectName("page")
    column = tight_column(page)
    area.setWidget(page)
    return area, column
