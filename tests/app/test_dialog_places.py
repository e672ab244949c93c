"""Sheets that go with the board open at the window's foot, and never off the screen."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QRect, QSize

from app.dialog_places import TITLE, at_foot

SCREEN = QRect(0, 0, 1280, 800)


@pytest.mark.parametrize(
    ("over", "place"),
    [
        (QRect(0, 0, 1280, 800), QPoint(300, 800 - 330 - TITLE)),
        (QRect(100, 50, 1000, 700), QPoint(120, 750 - 330 - TITLE)),
        (QRect(900, 600, 1280, 800), QPoint(300, 800 - 330 - TITLE)),  # a window that hangs off the screen
        (QRect(0, 0, 600, 200), QPoint(0, 0)),  # one that is smaller than the sheet
    ],
)
def test_a_sheet_stands_at_the_foot_and_on_the_screen(over: QRect, place: QPoint) -> None:
    size = QSize(980, 330)
    assert at_foot(size, over, SCREEN) == place
    assert SCREEN.contains(QRect(at_foot(size, over, SCREEN), size))
