"""Columns that scroll: what takes the keys comes into view, and what is clicked keeps its place beneath the pointer."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget

from app.columns import scrolling_column, tight_column

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

HIGH = 150


@pytest.fixture
def column(qtbot: QtBot) -> QWidget:
    """A window with ten buttons, the third of which is cut off at the foot."""
    whole = QWidget()
    area, buttons = scrolling_column()
    for number in range(10):
        button = QPushButton(str(number))
        button.setFixedHeight(60)
        buttons.addWidget(button)
    outer: QVBoxLayout = tight_column(whole)
    outer.addWidget(area)
    whole.resize(100, HIGH)
    qtbot.addWidget(whole)
    with qtbot.waitExposed(whole):
        whole.show()
    whole.activateWindow()
    return whole


def test_a_button_that_is_cut_off_takes_its_click(column: QWidget, qtbot: QtBot) -> None:
    button = column.findChildren(QPushButton)[2]
    clicked: list[bool] = []
    button.clicked.connect(lambda: clicked.append(True))
    window, spot = column.windowHandle(), button.mapTo(column, QPoint(20, 25))
    assert button.mapTo(column, QPoint(0, 60)).y() > HIGH
    qtbot.mousePress(window, Qt.MouseButton.LeftButton, pos=spot)
    QApplication.processEvents()
    qtbot.mouseRelease(window, Qt.MouseButton.LeftButton, pos=spot)
    QApplication.processEvents()
    assert clicked == [True]


def test_what_tab_comes_to_is_in_view(column: QWidget, qtbot: QtBot) -> None:
    buttons = column.findChildren(QPushButton)
    buttons[2].setFocus(Qt.FocusReason.OtherFocusReason)
    QApplication.processEvents()
    assert buttons[2].mapTo(column, QPoint(0, 60)).y() <= HIGH
