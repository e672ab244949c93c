"""The sheet that changes a line: previewed on the board, one step when taken, none when not."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox

from app.dialog_places import at_foot
from app.document import Selection
from app.entry.line_changes import CHANGES
from app.entry.line_dialog import LineDialog, change_line
from kinematics.project import Outline
from tests.app.test_accessible import assert_all_named

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

SILL = Outline("sill", "bulkhead", ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (500.0, 200.0)))
POST = Outline("post", "bulkhead", ((150.0, -50.0), (150.0, 50.0)))


@pytest.fixture
def sheet(window: Window) -> LineDialog:
    document = window.document
    project = document.project
    document.apply("Draw", replace(project, outlines=(*project.outlines, SILL, POST)))
    document.select(Selection("outline", "sill", 1))
    sheet = LineDialog(document, "sill", 1, window)
    sheet.show()
    return sheet


def type_size(sheet: LineDialog, qtbot: QtBot, text: str) -> None:
    line = sheet.size_field.line
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)


def points(window: Window, name: str = "sill") -> tuple[tuple[float, float], ...]:
    return window.document.project.outline(name).points


def test_a_radius_is_seen_at_once_and_taken_as_one_step(sheet: LineDialog, window: Window, qtbot: QtBot) -> None:
    assert (280.0, 0.0) in points(window)  # the usual radius, 20 mm
    type_size(sheet, qtbot, "50")
    assert (250.0, 0.0) in points(window)
    assert sheet.said.text().startswith("4 points become ")
    qtbot.mouseClick(sheet.take, Qt.MouseButton.LeftButton)
    assert (250.0, 0.0) in points(window)
    window.document.undo()
    assert points(window) == SILL.points


def test_given_up_the_line_is_as_it_was_without_a_step(sheet: LineDialog, window: Window, qtbot: QtBot) -> None:
    before = window.document.undo_label
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert points(window) == SILL.points
    assert window.document.undo_label == before


def test_what_does_not_fit_is_told_and_cannot_be_taken(sheet: LineDialog, window: Window, qtbot: QtBot) -> None:
    type_size(sheet, qtbot, "500")
    assert "The largest that fits is 200 mm" in sheet.said.text()
    assert not sheet.take.isEnabled()
    assert points(window) == SILL.points
    type_size(sheet, qtbot, "much")
    assert sheet.size_field.message
    type_size(sheet, qtbot, "20")
    assert sheet.take.isEnabled()


def test_each_change_shows_what_it_asks_for_and_does_it(sheet: LineDialog, window: Window, qtbot: QtBot) -> None:
    for change in CHANGES:
        sheet.choose(change.key)
        assert sheet.size_field.isVisible() == (change.asks == "length")
        assert sheet.other.isVisible() == (change.asks == "outline")
        assert assert_all_named(sheet) >= 3
        assert sheet.take.isEnabled() == (change.key != "thin"), change.key  # no point of this one can go
    sheet.choose("trim")
    assert points(window) == ((150.0, 0.0), *SILL.points[1:])
    sheet.choose("join")
    sheet.other.choose("post")
    assert points(window)[-4:] == SILL.points[-4:] or POST.points[0] in points(window)
    sheet.choose("face")
    assert "edge along sill" in sheet.said.text()
    qtbot.mouseClick(sheet.take, Qt.MouseButton.LeftButton)
    assert window.document.project.outline("edge along sill").on == "hatch"


def test_which_point_it_is_done_at_can_be_chosen_in_the_sheet(window: Window) -> None:
    count = len(points(window, "hatch skin"))
    sheet = change_line(window.document, "hatch skin", None, window)
    assert sheet.findChild(QDialogButtonBox) is not None
    assert sheet.point.isVisible()
    assert sheet.point.count() == count
    assert sheet.take.isEnabled()  # a corner, which can be rounded
    sheet.point.choose(str(count - 1))
    assert "end of the line" in sheet.said.text()
    assert window.document.selection == Selection("outline", "hatch skin", count - 1)
    sheet.choose("turn plumb")
    assert window.document.selection == Selection("outline", "hatch skin", count - 1)
    sheet.choose("smooth")
    assert not sheet.point.isVisible()
    sheet.reject()
    assert not window.document.is_dragging


def test_lines_that_can_be_joined_are_offered_first(sheet: LineDialog, window: Window) -> None:
    project = window.document.project
    names = [sheet.other.itemText(place) for place in range(sheet.other.count())]
    assert [project.outline(name).on for name in names] == ["bulkhead", "bulkhead", "hatch"]
    assert [each.on for each in project.outlines if each.id in names] != ["bulkhead", "bulkhead", "hatch"]


def test_it_opens_at_the_foot_and_leaves_the_line_to_be_seen(window: Window) -> None:
    sheet = change_line(window.document, "hatch skin", None, window)
    foot = at_foot(sheet.size(), window.geometry(), window.screen().availableGeometry())
    assert (sheet.pos().x(), sheet.pos().y()) == (foot.x(), foot.y())
    high = sheet.height()
    for change in CHANGES:
        sheet.choose(change.key)
    assert sheet.height() == high
    sheet.reject()
