"""The box that opens the sheet which looks for struts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from app.board.board import Board
from app.document import Document
from app.drawers.finder_box import WANTED, FinderBox
from app.drawers.lift import LiftDrawer
from app.look import light
from tests.app.sharing import demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_its_button_asks_the_window_for_the_sheet(qtbot: QtBot) -> None:
    document = Document(demo())
    drawer = LiftDrawer(document, Board(document, light()))
    qtbot.addWidget(drawer)
    box = drawer.box(FinderBox)
    with qtbot.waitSignal(drawer.wanted) as asked:
        qtbot.mouseClick(box.find_button, Qt.MouseButton.LeftButton)
    assert asked.args == [WANTED]


def test_cautions_stand_beside_it(qtbot: QtBot) -> None:
    document = Document(demo())
    box = FinderBox(document, Board(document, light()))
    qtbot.addWidget(box)
    told = " ".join(label.text() for label in box.findChildren(QLabel))
    assert "under pressure" in told
    assert "maker go first" in told
