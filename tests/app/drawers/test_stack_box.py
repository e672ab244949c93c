"""Layers and stack in the drawer Build, by mouse and keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from app.document import Selection
from app.drawers.stack_box import BY_HAND, FOUND, StackBox
from app.help.where import place_of
from app.stack.dialog import SectionDialog
from app.stacked import stacked
from tests.app.drawers.test_lift_boxes import type_in
from tests.app.drawers.test_strength_box import pick
from tests.app.sharing import bare_demo

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window

LEFT, CTRL = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def box(window: Window) -> StackBox:
    """The box of the demo before anything was said of what is built, unfolded."""
    window.document.new(bare_demo())
    window.area.open_drawer("Build")
    made = window.build.box(StackBox)
    QApplication.processEvents()
    return made


def layers(window: Window) -> dict[str, tuple[int, ...]]:
    return {choice.link: choice.layers for choice in window.document.project.stacking.layers}


def test_a_plate_is_moved_by_keys_and_the_fault_is_told_and_gone_to(
    box: StackBox, window: Window, qtbot: QtBot
) -> None:
    document, table = window.document, box.table
    found = dict(stacked(document.analysis).layers)
    assert box.way.value == FOUND
    assert box.faults.isHidden()
    row = table.links.index("cross link")
    table.setFocus()
    table.setCurrentCell(row, found["cross link"][0])
    assert table.item(row, found["cross link"][0]).text()
    qtbot.keyClick(table, Qt.Key.Key_Left, CTRL)
    assert layers(window) == {**found, "cross link": (found["cross link"][0] - 1,)}
    assert box.way.value == BY_HAND
    assert document.selection == Selection("link", "cross link")
    assert box.faults.count() > 0
    struck = next(fault for fault in box.faults_shown if fault.deg)
    item = box.faults.item(box.faults_shown.index(struck))
    assert struck.name in item.text()
    qtbot.mouseClick(box.faults.viewport(), LEFT, pos=box.faults.visualItemRect(item).center())
    assert document.pose.deg == pytest.approx(struck.deg)
    document.undo()
    assert document.project.stack is None
    assert box.faults.isHidden()


def test_enter_puts_a_plate_into_a_layer_and_found_brings_all_back(box: StackBox, window: Window, qtbot: QtBot) -> None:
    table = box.table
    last = table.columnCount() - 1
    table.setFocus()
    table.setCurrentCell(table.links.index("arm"), last)
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert layers(window)["arm"] == (last,)
    assert table.columnCount() == last + 2  # there is always an empty layer beyond
    pick(qtbot, box.way, FOUND)
    assert layers(window) == {}


def test_buttons_move_what_is_chosen_and_the_float_is_typed(box: StackBox, window: Window, qtbot: QtBot) -> None:
    notices: list[str] = []
    window.document.noticed.connect(notices.append)
    qtbot.mouseClick(box.outwards, LEFT)
    assert "No plate is chosen" in notices[-1]
    box.table.setCurrentCell(box.table.links.index("lift link"), 1)
    before = stacked(window.document.analysis).layers["lift link"][0]
    qtbot.mouseClick(box.outwards, LEFT)
    assert layers(window)["lift link"] == (before + 1,)
    type_in(qtbot, box.end_float, "0.3")
    assert window.document.project.stacking.end_float == 0.3


def test_f1_leads_to_its_part_of_the_help(box: StackBox) -> None:
    assert place_of(box.table, "") == "build#layers-and-stack"


def test_the_sections_open_at_the_chosen_pin_and_follow(
    box: StackBox, window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.document.select(Selection("pivot", "Q"))
    qtbot.mouseClick(box.sections, LEFT)
    dialog = window.findChild(SectionDialog)
    assert dialog is not None
    qtbot.waitExposed(dialog)
    assert dialog.title.text().startswith("Pin Q: clevis pin")
    assert dialog.view.shapes()
    qtbot.keyClick(dialog.pins, Qt.Key.Key_Home)
    assert dialog.title.text().startswith("Pin O1:")
    pick(qtbot, box.way, BY_HAND)
    assert dialog.title.text().startswith("Pin O1:")
    target = tmp_path / "sections.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(lambda *_: (str(target), "")))
    with qtbot.waitSignal(window.document.told) as news:  # it is no fault that they are written
        qtbot.mouseClick(dialog.save_button, LEFT)
    assert news.args == [f"4 pages are written, in {target}."]
    dialog.close()
