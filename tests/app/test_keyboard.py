"""The keyboard alone: where it stands is to be seen, and the first key does something."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from app.document import Selection
from app.entry.outline import OutlineForm
from app.parts_round import parts

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
    assert drawer.isAncestorOf(after) or name == "Build"  # it has nothing to set


def test_a_check_that_the_keys_come_to_from_elsewhere_is_brought_into_view(fresh_window: Window) -> None:
    window = fresh_window  # the list is given a height that nothing takes back
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


@pytest.mark.parametrize("name", ["links", "pivots"])
def test_a_list_that_the_keys_come_to_selects_nothing_until_an_arrow_or_space(
    window: Window, qtbot: QtBot, name: str
) -> None:
    window.area.open_drawer("Pins")
    parts = {"links": window.pins.links, "pivots": window.pins.pivots}[name]
    window.document.select(None)
    parts.setFocus(TAB)
    QApplication.processEvents()
    assert parts.hasFocus()
    assert window.document.selection is None
    qtbot.keyClick(parts, Qt.Key.Key_Space)
    assert window.document.selection is not None
    first = window.document.selection
    qtbot.keyClick(parts, Qt.Key.Key_Down)
    assert window.document.selection not in (None, first)


def test_the_points_of_an_outline_are_selected_by_arrows_and_left_by_tab(window: Window, qtbot: QtBot) -> None:
    outline = window.document.project.outlines[0]
    window.document.select(Selection("outline", outline.id))
    form = window.checks.entry.form
    assert isinstance(form, OutlineForm)
    form.table.setFocus(TAB)
    QApplication.processEvents()
    assert window.document.selection == Selection("outline", outline.id)
    qtbot.keyClick(form.table, Qt.Key.Key_Down)
    assert window.document.selection == Selection("outline", outline.id, 1)
    qtbot.keyClick(form.table, Qt.Key.Key_Tab)
    assert not form.table.hasFocus()


def test_a_list_that_still_names_what_has_gone_selects_nothing(window: Window) -> None:
    """The drawer is brought up to date a moment after the project; meanwhile its list may get the keys."""
    window.area.open_drawer("Pins")
    document = window.document
    gone = next(link.id for link in document.project.links if link.kind == "link")
    document.blockSignals(True)
    ends = tuple(link for link in document.project.links if link.kind != "link")
    document.new(replace(document.project, links=ends, pivots=(), gaps=(), limits=(), measures=()))
    document.blockSignals(False)
    names = [window.pins.links.item(row).text().split()[0] for row in range(window.pins.links.count())]
    window.pins.links.setCurrentRow(names.index(gone.split()[0]))
    assert document.selection is None
    document.select(Selection("link", gone))
    assert document.selection is None


def held_key(kind: QEvent.Type, moment: int) -> QKeyEvent:
    """The right arrow as a desktop tells it that doesn't mark what repeats."""
    event = QKeyEvent(kind, Qt.Key.Key_Right, Qt.KeyboardModifier.NoModifier)
    event.setTimestamp(moment)
    return event


def test_an_arrow_that_repeats_as_let_go_and_pressed_is_one_step(window: Window) -> None:
    document, down, up = window.document, QEvent.Type.KeyPress, QEvent.Type.KeyRelease
    pivot = next(each for each in document.project.pivots if not each.locked)
    before = document.project
    document.select(Selection("pivot", pivot.id))
    told = [(down, 1000), (up, 1500), (down, 1500), (up, 1533), (down, 1533), (up, 1700)]
    for kind, moment in told:
        QApplication.sendEvent(window.board, held_key(kind, moment))
    assert document.project.pivot(pivot.id).at == pytest.approx((pivot.at[0] + 3.0, pivot.at[1]))
    document.undo()
    assert document.project == before
    assert not document.can_undo
    document.redo()
    for kind, moment in ((down, 2000), (up, 2060), (down, 2120), (up, 2180)):  # a quick finger: two steps
        QApplication.sendEvent(window.board, held_key(kind, moment))
    document.undo()
    document.undo()
    assert document.project.pivot(pivot.id).at == pytest.approx((pivot.at[0] + 3.0, pivot.at[1]))


def test_a_nudge_doesnt_go_on_over_what_was_done_meanwhile(window: Window) -> None:
    document, down, up = window.document, QEvent.Type.KeyPress, QEvent.Type.KeyRelease
    pivot = next(each for each in document.project.pivots if not each.locked)
    document.select(Selection("pivot", pivot.id))
    QApplication.sendEvent(window.board, held_key(down, 1000))
    QApplication.sendEvent(window.board, held_key(up, 1500))
    document.undo()
    QApplication.sendEvent(window.board, held_key(down, 1500))
    QApplication.sendEvent(window.board, held_key(up, 1600))
    document.undo()
    assert document.project.pivot(pivot.id).at == pivot.at
    assert not document.can_undo


def test_f6_goes_round_all_parts_of_the_window_and_back(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Pins")
    expected = [window.board, window.board.toolbox, window.checks, window.checks.entry, window.strip, window.rail]
    expected.append(window.pins)
    window.pins.take_focus()
    assert len(parts(window)) == len(expected)
    for step in (1, -1):
        for part in expected if step == 1 else [*expected[-2::-1], expected[-1]]:
            keys = Qt.KeyboardModifier.NoModifier if step == 1 else Qt.KeyboardModifier.ShiftModifier
            qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_F6, keys)
            here = QApplication.focusWidget()
            assert here is not None
            assert part is here or part.isAncestorOf(here)
            inner = [each for each in expected if part is not each and part.isAncestorOf(each)]
            assert not any(each.isAncestorOf(here) for each in inner)
