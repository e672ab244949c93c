"""The keyboard alone: where it stands is to be seen, and the first key does something."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from app.document import Selection

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

TAB = Qt.FocusReason.TabFocusReason


@pytest.mark.parametrize("name", ["board", "strip", "hand", "check"])
def test_keys_that_come_to_a_part_are_to_be_seen_there(window: Window, name: str) -> None:
    window.activateWindow()
    parts: dict[str, QWidget] = {
        "board": window.board,
        "strip": window.strip,
        "hand": window.board.toolbox.buttons["Hand"],
        "check": window.checks.rows[0],
    }
    part = parts[name]
    other = window.strip if name == "board" else window.board
    other.setFocus(TAB)
    QApplication.processEvents()
    before = part.grab().toImage()
    part.setFocus(TAB)
    QApplication.processEvents()
    assert part.hasFocus()
    assert part.grab().toImage() != before
    other.setFocus(TAB)
    QApplication.processEvents()
    assert part.grab().toImage() == before


@pytest.mark.parametrize("name", ["Trace", "Pins", "Lift", "Build"])
def test_a_drawer_that_opens_has_the_keys_inside(window: Window, name: str) -> None:
    window.area.open_drawer(name)
    here, drawer = QApplication.focusWidget(), window.area.drawers[name]
    assert here is not None
    assert drawer.isAncestorOf(here)
    window.focusNextPrevChild(True)
    after = QApplication.focusWidget()
    assert after is not None
    assert drawer.isAncestorOf(after) or name in ("Lift", "Build")  # they have nothing to set


def test_a_check_that_the_keys_come_to_from_elsewhere_is_brought_into_view(window: Window) -> None:
    rows = window.checks.rows
    area = rows[0].parent()
    while area is not None and not isinstance(area, QScrollArea):
        area = area.parent()
    assert area is not None
    area.setFixedHeight(60)
    QApplication.processEvents()
    area.verticalScrollBar().setValue(area.verticalScrollBar().maximum())
    assert rows[0].visibleRegion().isEmpty()
    window.board.setFocus(TAB)
    rows[0].setFocus(TAB)
    QApplication.processEvents()
    assert not rows[0].visibleRegion().isEmpty()


def test_the_first_arrow_in_the_list_of_parts_goes_somewhere(window: Window, qtbot: QtBot) -> None:
    window.checks.entry.show_parts()
    table = window.checks.entry.parts.table
    qtbot.keyClick(table, Qt.Key.Key_Down)
    pivots = window.document.project.pivots
    assert window.document.selection == Selection("pivot", pivots[1].id)
