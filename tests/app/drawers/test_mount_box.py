"""Bracket, base, stop and adjusters in the drawer Build, by mouse and keys."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.adjusters_box import AdjustersBox
from app.drawers.mount_box import BaseBox, BracketBox, StopPartBox
from kinematics.fittings import Stop
from kinematics.loading import with_loads
from kinematics.mount_parts import Base, Bracket, Mount
from tests.app.drawers.test_lift_boxes import type_in
from tests.app.sharing import bare_demo, demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


def test_a_base_is_begun_changed_and_taken_out_each_in_one_step(window: Window, qtbot: QtBot) -> None:
    window.document.new(bare_demo())
    window.area.open_drawer("Build")
    box = window.build.box(BaseBox)
    QApplication.processEvents()
    assert not box.body.isVisibleTo(window)
    qtbot.mouseClick(box.begin_button, LEFT)
    assert window.document.project.mounted == Mount(base=Base())
    assert box.body.isVisibleTo(window)
    assert box.focusWidget() is box.fields["y"].line
    assert box.sheet.lines[1].startswith("base plate, 1 off")
    type_in(qtbot, box.fields["plate"], "8")
    assert window.document.project.mounted.base == Base(plate=8.0)
    assert box.sheet.lines[1].endswith("× 8.0 mm")
    box.fields["bolt"].setFocus()
    qtbot.keyClick(box.fields["bolt"], Qt.Key.Key_Down)
    assert window.document.project.mounted.base != Base(plate=8.0)
    type_in(qtbot, box.fields["width"], "20")
    assert "✗ " in box.faults.text()
    assert BaseBox.gist(window.document.analysis, window.document) == "✗ has faults"
    for _ in range(3):
        window.document.undo()
    assert window.document.project.mounted.base == Base()
    qtbot.mouseClick(box.drop_button, LEFT)
    assert window.document.project.mount is None


def test_the_table_of_adjusters_follows_and_says_which_to_turn(window: Window, qtbot: QtBot) -> None:
    window.document.new(bare_demo())
    window.area.open_drawer("Build")
    box = window.build.box(AdjustersBox)
    QApplication.processEvents()
    assert box.why.text()
    bracket = Bracket(at=(90.0, 345.0), skin_deg=-1.4)
    window.document.apply("Lay out", replace(window.document.project, mount=Mount(bracket, Base())))
    QApplication.processEvents()
    assert not box.why.text()
    names = [item.text().split("\n")[0] for row in range(8) if (item := box.table.item(row, 0)) is not None]
    assert names[0] == "Slot fore and aft"
    assert len(names) == 8
    steps = window.document.can_undo
    type_in(qtbot, box.wider, "1.5")
    assert "Slot fore and aft: 1.5 mm, panel forwards." in box.answer.text().replace("\u200b", "").splitlines()
    assert window.document.can_undo == steps  # it is a question, no edit
    window.document.set_opening(30.0)
    place = box.table.visualItemRect(box.table.item(0, 0)).center()
    qtbot.mouseClick(box.table.viewport(), LEFT, pos=place)
    assert window.document.pose.deg == 0.0
    assert box.table.places[0] is not None


def test_a_stop_is_made_of_parts_once_there_is_one(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Build")
    box = window.build.box(StopPartBox)
    qtbot.mouseClick(box.begin_button, LEFT)
    assert "no stop" in box.faults.text()
    assert box.fields["on"].currentText() == "the stop's first link"
    project = window.document.project
    arm = next(
        each for p in project.pivots for each in p.joins if project.fixed.id in p.joins and each != project.fixed.id
    )
    stop = Stop((project.fixed.id, arm), 60.0, 40.0)
    window.document.apply("Stop", with_loads(project, stop=stop))
    assert box.figures.text().startswith("A pin of 10.0 mm")
    assert [box.fields["on"].itemText(row) for row in (0, 1)] == [project.fixed.id, arm]
    assert box.sheet.lines[0].startswith("stop block")
    qtbot.mouseClick(box.show_button, LEFT)
    assert window.document.pose.deg == 60.0


def test_a_bracket_that_cant_be_laid_out_says_why(window: Window, qtbot: QtBot) -> None:
    window.document.new(bare_demo())
    window.area.open_drawer("Build")
    box = window.build.box(BracketBox)
    qtbot.mouseClick(box.begin_button, LEFT)
    assert "The eye of P2 reaches" in box.faults.text().replace("\u200b", "")
    assert [line.split(",")[0] for line in box.sheet.lines] == ["doubler"]


def test_a_foot_is_put_beside_a_pin_that_is_too_near_the_skin(window: Window, qtbot: QtBot) -> None:
    """The demo's bracket by hand: its place along the skin is typed, and keeps to the skin that is drawn."""
    window.document.new(replace(demo(), mount=None))
    window.area.open_drawer("Build")
    box = window.build.box(BracketBox)
    qtbot.mouseClick(box.begin_button, LEFT)
    assert "The eye of P2 begins" in box.faults.text().replace("\u200b", "")
    type_in(qtbot, box.fields["x"], "200")
    type_in(qtbot, box.fields["foot"], "64")
    type_in(qtbot, box.fields["shims"], "1")
    bracket = window.document.project.mounted.bracket
    assert bracket is not None
    assert bracket.at == pytest.approx((200.0, 312.0 - 15.0 / 628.0 * 228.0))
    assert bracket.skin_deg is None
    assert "read off “hatch skin”" in box.figures.text().replace("\u200b", "")
    assert "P2" not in box.faults.text()
    assert box.sheet.lines[0].startswith("bracket")
    type_in(qtbot, box.fields["x"], "")
    assert window.document.project.mounted.bracket.at is None  # type: ignore[union-attr]
