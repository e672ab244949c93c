"""Columns without frames and margins, still or scrolling: what the parts of the window are stacked in."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget


def tight_column(parent: QWidget) -> QVBoxLayout:
    """Give a widget a column that fills it to its edges."""
    column = QVBoxLayout(parent)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    return column


def scroll_area() -> QScrollArea:
    """Make an area without a frame that scrolls up and down only, and leaves the keys to what is in it."""
    area = QScrollArea()
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
