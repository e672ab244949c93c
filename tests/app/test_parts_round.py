"""F6 leaves what it passes alive: PySide must not take a living widget for a child of one that goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication
from shiboken6 import isValid

from app.document import Selection
from app.parts_round import controls, parts

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def test_what_f6_passed_outlives_the_forms_that_go(window: Window, qtbot: QtBot) -> None:
    viewport, undo = window.board.view.viewport(), window.menus.undo
    window.document.select(Selection("pivot", "Q"))
    for _ in range(12):
        qtbot.keyClick(window, Qt.Key.Key_F6)
    window.document.select(Selection("link", "arm"))  # the pivot's form goes
    window.document.new()  # and the lanes
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert isValid(viewport)
    assert isValid(undo)


def test_the_round_goes_through_parts_with_controls_from_above_to_below(window: Window) -> None:
    for part in parts(window):
        tops = [each.mapTo(part, each.rect().topLeft()).y() for each in controls(part)]
        assert tops == sorted(tops)
    assert len(controls(window.checks)) > 5
