"""The set-out in the drawer Build and its drawing, by mouse and keys."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from app.drawers.setout_box import SetOutBox
from app.help.where import place_of
from app.setout.dialog import SKIN, SetOutDialog
from app.setout.drawing import NO_BASE
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.wall_parts import HandWall, Wall
from tests.app.drawers.test_strength_box import pick

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window) -> SetOutBox:
    """The box of the demo with nothing laid out, unfolded."""
    window.document.apply("Bare", replace(window.document.project, mount=None, wall=None))
    window.area.open_drawer("Build")
    made = window.build.box(SetOutBox)
    QApplication.processEvents()
    return made


def test_places_are_told_copied_and_drawn_larger(box: SetOutBox, window: Window, qtbot: QtBot) -> None:
    document = window.document
    assert box.why.text() == NO_BASE
    assert not box.drawing_button.isEnabled()
    mount = Mount(Bracket(at=(90.0, 345.0), skin_deg=-1.4), Base(webs=2))
    wall = Wall(left=HandWall(6.0, None, 500.0))
    document.apply("Lay out", replace(document.project, mount=mount, wall=wall))
    QApplication.processEvents()
    figure = box.figure
    assert figure is not None
    assert not box.why.text()
    assert box.table.rowCount() == len(figure.rows)
    along, square = (float(box.table.item(0, column).text()) for column in (1, 2))
    assert along > square  # off square, a tape on the wall reads more than one held across
    assert box.skin_table.rowCount() == 4
    assert box.skin_table.item(0, 2).text() != "—"  # the stack says where the bracket's web stands
    assert box.plan.view is not None
    assert place_of(box.table, "") == "wall#marks-on-the-wall"
    document.set_opening(30.0)
    qtbot.mouseClick(box.table.viewport(), LEFT, pos=box.table.visualItemRect(box.table.item(1, 0)).center())
    assert document.pose.deg == 0.0
    qtbot.mouseClick(box.copy_button, LEFT)
    told = QGuiApplication.clipboard().text().splitlines()
    assert told[1].split("\t")[0] == "left middle"
    qtbot.mouseClick(box.drawing_button, LEFT)
    dialog = window.findChild(SetOutDialog)
    assert dialog is not None
    assert [sheet.view.key for sheet in dialog.sheets if sheet.view is not None] == ["wall", "plan"]
    pick(qtbot, dialog.face, SKIN)
    assert [sheet.view.key for sheet in dialog.sheets if sheet.view is not None] == ["skin"]
    assert not dialog.grab().isNull()
    document.undo()
    assert dialog.sentences.text() == "Lay out a bracket at the panel first."
    dialog.close()
