"""Keep clear of…: things ticked by a click, drawn by a drag on the board or typed, watched, and taken out again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from app.document import Selection
from app.preferences import Preferences
from app.things import THINGS
from kinematics import edits
from tests.app import mouse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.drawers.keep_clear import KeepClearBox
    from app.fields import Field
    from app.window import Window

LEFT = Qt.MouseButton.LeftButton
ONE, OTHER = (300.0, 60.0), (500.0, -40.0)


@pytest.fixture
def box(window: Window) -> KeepClearBox:
    """The list, unfolded by its menu entry."""
    window.show_keep_clear()
    QApplication.processEvents()
    return window.trace.keep_clear


def tick(qtbot: QtBot, box: KeepClearBox, name: str) -> None:
    qtbot.mouseClick(box.ticks[name], LEFT, pos=QPoint(8, box.ticks[name].height() // 2))
    QApplication.processEvents()


def type_in(qtbot: QtBot, field: Field[float], text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def told(box: KeepClearBox, name: str) -> str:
    return next(thing.words for thing in box._shown if thing.name == name)


def test_the_menu_unfolds_the_list(window: Window) -> None:
    assert window.trace.keep_clear.isHidden()
    next(action for action in window.actions() if action.text() == "&Keep clear of…").trigger()
    assert window.area.open_name == "Trace"
    assert window.trace.keep_clear.isVisible()
    assert set(THINGS) <= set(window.trace.keep_clear.ticks)


def test_what_is_ticked_is_kept_and_missed_until_it_is_drawn(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    document = window.document
    before = document.project
    tick(qtbot, box, "knee")
    assert document.project.keep_clear == ("knee",)
    assert (box.ticks["knee"].isChecked(), told(box, "knee")) == (True, "to be drawn")
    assert "“knee” is to be kept clear of but not drawn yet" in window.checks.remarks.text()
    assert document.undo_label == "Keep clear of knee"
    tick(qtbot, box, "knee")
    assert document.project == before
    assert told(box, "knee") == ""


def test_a_box_is_dragged_on_the_board_watched_and_one_step(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    document, view = window.document, window.board.view
    before = document.project
    document.set_preferences(Preferences(clearance=7.0), system_comma=False)
    qtbot.mouseClick(box.draws["wiper drive"], LEFT)
    mouse.drag(qtbot, view, ONE, OTHER)
    outline = document.project.outline("wiper drive")
    assert (outline.on, outline.closed, len(outline.points)) == ("bulkhead", True, 4)
    (left, low), (right, high) = outline.points[0], outline.points[2]
    pixel = 1.0 / view.camera.scale
    assert (left, low, right, high) == pytest.approx((300.0, -40.0, 500.0, 60.0), abs=pixel)
    wants = {want.between: want.at_least for want in document.project.gaps[1:]}
    assert wants == dict.fromkeys(
        (("wiper drive", other) for other in ("hatch skin", "arm", "lift link", "cross link", "short link")), 7.0
    )
    assert document.selection == Selection("outline", "wiper drive")
    assert (box.ticks["wiper drive"].isChecked(), told(box, "wiper drive")) == (True, "placed")
    assert "on bulkhead" in box._told["wiper drive"].toolTip()
    assert document.undo_label == "Place wiper drive"
    document.undo()
    assert document.project == before
    assert not document.can_undo


def test_two_clicks_do_and_esc_drops_it(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    document, view = window.document, window.board.view
    before = document.project
    qtbot.mouseClick(box.draws["light"], LEFT)
    mouse.click(qtbot, view, ONE)
    qtbot.keyClick(window.board, Qt.Key.Key_Escape)
    assert document.project == before
    assert not window.board.is_drawing
    qtbot.mouseClick(box.draws["light"], LEFT)
    mouse.click(qtbot, view, ONE)
    mouse.hover(qtbot, view, (400.0, 0.0))
    assert window.board.scene.has("sketch")
    mouse.click(qtbot, view, OTHER)
    assert document.project.keep_clear == ("light",)
    assert not window.board.scene.has("sketch")


def test_a_box_without_a_size_is_told(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    before = window.document.project
    qtbot.mouseClick(box.draws["light"], LEFT)
    mouse.drag(qtbot, window.board.view, ONE, (500.0, 60.0))
    assert window.document.project == before
    assert "width and a height" in window.area.notice.sentence


def test_corner_and_size_are_typed_and_typed_again(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    document = window.document
    tick(qtbot, box, "engine")
    for key, text in (("left", "250"), ("low", "-100"), ("wide", "18 in"), ("high", "220")):
        type_in(qtbot, box.fields[key], text)
    qtbot.mouseClick(box.place_button, LEFT)
    assert document.project.outline("engine").points == (
        (250.0, -100.0), (707.2, -100.0), (707.2, 120.0), (250.0, 120.0),
    )  # fmt: skip
    gaps = document.project.gaps
    document.apply("Move a corner", edits.move_outline_point(document.project, "engine", 2, (720.0, 150.0)))
    box.which.activated.emit(0)  # chosen again: its figures are what it has now
    assert box.fields["wide"].line.text() == "470 mm"
    type_in(qtbot, box.fields["high"], "200")
    qtbot.mouseClick(box.place_button, LEFT)
    assert document.project.outline("engine").points[2] == (720.0, 100.0)
    assert document.project.gaps is gaps
    type_in(qtbot, box.fields["wide"], "0")
    qtbot.mouseClick(box.place_button, LEFT)
    assert "width and a height" in window.area.notice.sentence


def test_it_may_ride_on_another_link_at_an_open_pose(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    document = window.document
    box.rides_on.choose("hatch")
    document.set_opening(30.0)
    window.board.fit()
    column = document.analysis.links.index("hatch")
    qtbot.mouseClick(box.draws["light"], LEFT)
    one = document.pose.place(column, (600.0, 250.0))
    other = (one[0] + 80.0, one[1] - 60.0)
    mouse.drag(qtbot, window.board.view, one, other)
    outline = document.project.outline("light")
    assert outline.on == "hatch"
    pixel = 1.5 / window.board.view.camera.scale
    placed = [document.pose.place(column, point) for point in outline.points]
    assert min(x for x, _ in placed) == pytest.approx(one[0], abs=pixel)
    assert max(y for _, y in placed) == pytest.approx(one[1], abs=pixel)
    assert "hatch skin" not in {name for want in document.project.gaps[1:] for name in want.between}


def test_unticked_the_box_and_its_wants_go_in_one_step(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    document = window.document
    before = document.project
    tick(qtbot, box, "engine")
    qtbot.mouseClick(box.place_button, LEFT)
    placed = document.project
    tick(qtbot, box, "engine")
    assert document.project == before
    document.undo()
    assert document.project == placed


def test_anything_else_can_be_named(window: Window, box: KeepClearBox, qtbot: QtBot) -> None:
    type_in(qtbot, box.other, "tow hook")  # type: ignore[arg-type]
    assert window.document.project.keep_clear == ("tow hook",)
    assert box.ticks["tow hook"].isChecked()
    assert box.other.line.text() == ""
    window.document.undo()
    assert "tow hook" not in box.ticks
    type_in(qtbot, box.other, "x" * 81)  # type: ignore[arg-type]
    assert "81 characters" in box.other.message
    assert window.document.project.keep_clear == ()


def test_a_thing_named_like_a_link_is_not_offered(window: Window, box: KeepClearBox) -> None:
    document = window.document
    document.apply("Rename", edits.rename_link(document.project, "arm", "latch"))
    assert "latch" not in box.ticks
    document.undo()
    assert "latch" in box.ticks
