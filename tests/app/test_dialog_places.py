"""Sheets that go with the board open at the window's foot, and never off the screen."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QRect, QSize

from app.dialog_places import TITLE, at_foot, at_side

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


def test_a_high_sheet_stands_at_the_right_side_and_within_the_screen() -> None:
    screen = QRect(0, 0, 1280, 800)
    assert at_side(QSize(440, 500), QRect(100, 50, 1000, 700), screen) == QRect(660, 50, 440, 700 - TITLE)
    assert at_side(QSize(440, 500), QRect(0, 20, 1280, 900), screen) == QRect(840, 20, 440, 780 - TITLE)
    assert at_side(QSize(440, 600), QRect(0, 0, 300, 200), screen) == QRect(0, 0, 440, 600)
