"""Measures on the board: taken by clicks, alive as poses and pins move, selected, told and taken off."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from app.board import measure_tools
from app.board.gestures import Move
from app.board.hits import pivot_place
from app.board.menu import menu_at
from app.document import Document, Selection
from app.shapes import Label, Stroke, placed
from app.sheet import LEAST_SCALE
from kinematics import edits
from kinematics.errors import ProjectError
from kinematics.measures import Anchor, Measure
from kinematics.project import Link
from kinematics.values import LARGEST_COORDINATE
from tests.app import mouse
from tests.app.board.plain import PlainDesk
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board
    from app.window import Window
    from kinematics.project import Point


def pin(board: Board, name: str) -> Point:
    document = board.document
    return pivot_place(document.project, placed(document.analysis, document.pose), name)


def measure(qtbot: QtBot, board: Board, letter: str, *places: Point) -> None:
    qtbot.keyClick(board, Qt.Key[f"Key_{letter}"])
    for place in places:
        mouse.click(qtbot, board.view, place)
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    QApplication.processEvents()


def words(board: Board, name: str) -> str:
    label = board.scene.shown(f"measure:{name}:label")
    assert isinstance(label, Label)
    return label.text


def line(board: Board, name: str) -> Stroke:
    found = board.scene.shown(f"measure:{name}")
    assert isinstance(found, Stroke)
    return found


# ------------------------------------------------------------------------------------------------ taking
def test_a_distance_is_taken_and_follows_pose_and_pins(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "D", pin(board, "O1"), pin(board, "B"))
    document = board.document
    assert document.project.measures[0].of == (Anchor(pivot="O1"), Anchor(pivot="B"))
    assert document.undo_label == "Measure distance 1"
    assert document.selection == Selection("measure", "distance 1")
    assert words(board, "distance 1") == f"{math.dist(pin(board, 'O1'), pin(board, 'B')):.1f} mm"
    document.set_opening(40.0)
    assert words(board, "distance 1") == f"{math.dist(pin(board, 'O1'), pin(board, 'B')):.1f} mm"
    assert line(board, "distance 1").points == (pytest.approx(pin(board, "O1")), pytest.approx(pin(board, "B")))
    document.set_opening(0.0)
    start = pin(board, "B")
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, (start[0] + 10.0, start[1]))
    document.flush()
    assert words(board, "distance 1") == f"{math.dist(pin(board, 'O1'), pin(board, 'B')):.1f} mm"
    mouse.release(qtbot, board.view, (start[0] + 10.0, start[1]))


def test_it_is_shown_before_the_last_click(qtbot: QtBot, board: Board) -> None:
    qtbot.keyClick(board, Qt.Key.Key_D)
    mouse.click(qtbot, board.view, pin(board, "O1"))
    mouse.hover(qtbot, board.view, pin(board, "B"))
    assert words(board, "sketch") == f"{math.dist(pin(board, 'O1'), pin(board, 'B')):.1f} mm"
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    assert board.scene.shown("measure:sketch") is None
    assert board.document.project is demo_six_bar


def test_an_angle(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "A", pin(board, "P1"), pin(board, "O1"), pin(board, "X"))
    p1, o1, x = (complex(*pin(board, name)) for name in ("P1", "O1", "X"))
    (angle,) = [m for m in board.document.project.measures if m.kind == "angle"]
    assert [anchor.name for anchor in angle.of] == ["P1", "O1", "X"]
    import cmath

    degrees = abs(math.degrees(cmath.phase((p1 - o1) / (x - o1))))
    shown = words(board, "angle 1")
    assert float(shown.rstrip("°")) == pytest.approx(degrees, abs=0.051)
    board.document.set_opening(50.0)
    assert words(board, "angle 1") == shown  # three pins of one rigid link
    assert board.scene.shown("measure:angle 1:arc") is not None


def test_a_path_and_how_much_of_it_lies_behind(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "Y", pin(board, "Q"))
    whole, so_far = words(board, "path 1").split(", ")
    assert whole.startswith("path ")
    assert so_far == "0.0 mm to here"
    board.document.set_opening(75.0)
    assert words(board, "path 1").split(", ") == [whole, f"{whole.removeprefix('path ')} to here"]
    assert len(line(board, "path 1").points) == len(board.document.analysis.openings)


def test_a_clearance_of_a_link_and_an_outline(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "C", (60.0, 130.0), (6.0, 100.0))
    assert board.document.project.measures[0].of == (Anchor(link="short link"), Anchor(outline="screen and sill"))
    reading = float(words(board, "clearance 1").removeprefix("clear ").removesuffix(" mm"))
    one, other = line(board, "clearance 1").points
    assert math.dist(one, other) == pytest.approx(reading, abs=0.051)


def test_any_place_on_a_link_can_be_measured_to(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "D", (190.0, 170.0), (290.0, 130.0))
    one, other = board.document.project.measures[0].of
    assert (one.link, other.link) == ("cross link", "bulkhead")  # bare paper is the body's
    before = words(board, "distance 1")
    board.document.set_opening(30.0)
    assert words(board, "distance 1") != before


def test_nothing_and_the_same_again_are_said(qtbot: QtBot, board: Board) -> None:
    heard: list[str] = []
    board.document.noticed.connect(heard.append)
    measure(qtbot, board, "C", (290.0, 130.0))
    measure(qtbot, board, "D", pin(board, "Q"), pin(board, "Q"))
    assert len(heard) == 2
    assert board.document.project is demo_six_bar


# ------------------------------------------------------------------------------------------------ living with it
def test_it_is_selected_by_its_line_and_by_its_figure(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "D", pin(board, "O1"), (290.0, 130.0))
    document = board.document
    document.select(None)
    assert line(board, "distance 1").pen.colour == board.scene.look.ink
    one, other = line(board, "distance 1").points
    mouse.click(qtbot, board.view, (0.3 * one[0] + 0.7 * other[0], 0.3 * one[1] + 0.7 * other[1]))
    assert document.selection == Selection("measure", "distance 1")
    assert line(board, "distance 1").pen.colour == board.scene.look.selection
    document.select(None)
    item = board.scene.item("measure:distance 1:label")
    assert item is not None
    box = item.box  # type: ignore[union-attr]
    place = board.view.viewportTransform().map(item.scenePos())
    spot = place.x() + (box.left + box.right) / 2, place.y() + (box.top + box.bottom) / 2
    mouse.click(qtbot, board.view, board.view.camera.to_mm(spot))
    assert document.selection == Selection("measure", "distance 1")


def test_a_pin_beneath_a_measure_is_still_taken(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "D", pin(board, "O1"), pin(board, "B"))
    mouse.click(qtbot, board.view, pin(board, "B"))
    assert board.document.selection == Selection("pivot", "B")


def test_the_menu_takes_it_off_in_one_step(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "D", pin(board, "O1"), (290.0, 130.0))
    one, other = line(board, "distance 1").points
    menu = menu_at(board, (0.3 * one[0] + 0.7 * other[0], 0.3 * one[1] + 0.7 * other[1]))
    assert menu.actions()[0].text() == "Remove measure distance 1\tDel"
    menu.actions()[0].trigger()
    assert board.document.project.measures == ()
    assert board.scene.shown("measure:distance 1") is None
    board.document.undo()
    assert board.scene.shown("measure:distance 1") is not None


def test_keys_that_mean_parts_leave_a_measure_alone(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "Y", pin(board, "Q"))
    before = board.document.project
    for letter in ("H", "L", "Right"):
        qtbot.keyClick(board, Qt.Key[f"Key_{letter}"])
    assert board.document.project is before


def test_it_goes_with_the_pin_that_it_measures(qtbot: QtBot, board: Board) -> None:
    measure(qtbot, board, "Y", pin(board, "Q"))
    document = board.document
    document.apply("Remove pivot Q", edits.remove_pivot(document.project, "Q"))
    assert document.project.measures == ()
    assert document.selection is None
    assert not board.scene.has("measures")


def test_without_measures_nothing_is_read(board: Board) -> None:
    assert board._measured._readings is None
    board.document.set_opening(20.0)
    assert not board.scene.has("measures")


# ------------------------------------------------------------------------------------------------ in the window
def test_the_window_tells_its_figure_and_delete_takes_it_off(qtbot: QtBot, window: Window) -> None:
    board = window.board
    board.fit_pins()
    measure(qtbot, board, "D", pin(board, "O1"), pin(board, "B"))
    form = window.checks.entry.form
    assert form is not None
    assert form.what.text() == "Distance from pivot O1 to pivot B."  # type: ignore[attr-defined]
    assert form.figure.text() == words(board, "distance 1")  # type: ignore[attr-defined]
    window.document.set_opening(40.0)
    assert form.figure.text() == words(board, "distance 1")  # type: ignore[attr-defined]
    board.setFocus()
    qtbot.keyClick(board, Qt.Key.Key_Delete)
    assert window.document.project.measures == ()
    assert window.document.undo_label == "Remove measure distance 1"


def test_it_is_told_in_inches_where_the_hinge_is(qtbot: QtBot, board: Board) -> None:
    document = board.document
    document.apply("Show inches", edits.set_units(document.project, "in"))
    measure(qtbot, board, "D", pin(board, "O1"), pin(board, "B"))
    assert words(board, "distance 1").endswith('"')


def test_the_tools_are_in_the_menus_and_snapping_is_switched_and_remembered(qtbot: QtBot, window: Window) -> None:
    from app.board.tools import TOOLS

    menu = next(action.menu() for action in window.menuBar().actions() if action.text() == "T&ools")
    texts = [action.text() for action in menu.actions()]  # type: ignore[union-attr]
    assert [text.split("\t")[0] for text in texts[: len(TOOLS)]] == [tool.name for tool in TOOLS]
    menu.actions()[0].trigger()  # type: ignore[union-attr]
    assert window.board.toolbox.buttons["Link"].isChecked()
    window.menus.snaps.setChecked(False)
    assert not window.board.snaps
    window.menus.snaps.trigger()
    assert window.board.snaps
    assert window.settings.snaps()


# ------------------------------------------------------------------------------------------------ faults found
def test_another_hinge_takes_the_place_of_one_whose_measure_is_selected(qtbot: QtBot, board: Board) -> None:
    """Who draws the selection must not read the last hinge's measures at the next one's pose."""
    document = board.document
    document.apply("More links", edits.add_link(document.project, Link("last", "link")))
    measure(qtbot, board, "D", pin(board, "O1"), pin(board, "B"))
    document.apply(
        "On the last", edits.add_measure(document.project, Measure("c", "path", (Anchor(link="last", at=(0.0, 9.0)),)))
    )
    document.select(Selection("measure", "c"))
    document.new(demo_six_bar)
    assert document.selection is None
    assert board.scene.shown("measure:c") is None


def test_a_click_far_off_the_paper_is_on_its_edge(qtbot: QtBot, board: Board) -> None:
    board.view.set_camera(replace(board.view.camera, scale=LEAST_SCALE))
    qtbot.keyClick(board, Qt.Key.Key_D)
    for x in (5, 990):
        qtbot.mouseClick(board.view.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(x, 350))
    (made,) = board.document.project.measures
    assert [abs(anchor.at[0]) for anchor in made.of if anchor.at is not None] == [LARGEST_COORDINATE] * 2


def test_what_no_project_holds_is_told_and_given_up(board: Board, notices: list[str]) -> None:
    def refuse() -> None:
        raise ProjectError("x is too far out", "mark")

    board.pointer.draw_outline("panel", lambda *_: refuse())
    board.pointer.enter()
    assert notices == ["mark: x is too far out."]
    assert not board.pointer.is_standing
    assert not board.document.is_dragging


def test_what_is_picked_whole_draws_no_hand(qapp: object) -> None:
    desk = PlainDesk(Document(demo_six_bar), snaps=True, reach=4.0)
    x, y = desk.document.project.pivot("O1").at
    for kind, leads in (("clearance", False), ("distance", True)):
        gesture = measure_tools.measure(kind, desk)
        next(gesture)
        gesture.send(Move((x + 1.0, y + 300.0)))
        assert (desk.led is not None) == leads
        gesture.close()
