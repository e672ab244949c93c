"""Sections that fold: by the mouse and by the keys, their bodies made when they are first seen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from app.drawers.section import Elided, Section

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_the_body_is_made_when_it_is_first_unfolded_and_folds_by_mouse_and_keys(qtbot: QtBot) -> None:
    made: list[QLabel] = []

    def make() -> QLabel:
        made.append(QLabel("body"))
        return made[-1]

    section = Section("Weights", make)
    qtbot.addWidget(section)
    with qtbot.waitExposed(section):
        section.show()
    assert made == []
    qtbot.mouseClick(section.head, Qt.MouseButton.LeftButton)
    assert section.is_unfolded
    assert made[0].isVisible()
    assert section.head.arrowType() is Qt.ArrowType.DownArrow
    qtbot.keyClick(section.head, Qt.Key.Key_Space)
    assert not section.is_unfolded
    assert section.head.arrowType() is Qt.ArrowType.RightArrow
    section.unfold()
    assert len(made) == 1


def test_the_gist_ends_in_dots_where_there_is_no_room(qtbot: QtBot) -> None:
    gist = Elided()
    qtbot.addWidget(gist)
    gist.setText("a good many words about the weights of the panel")
    gist.resize(80, 20)
    assert gist.shown().endswith("…")
    gist.grab()
    assert gist.toolTip() == gist.text()
    gist.resize(900, 20)
    gist.grab()
    assert gist.toolTip() == ""
