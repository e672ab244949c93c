"""The board under a real mouse and real keys: what happens to the project, the steps, the pose and the shapes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QNativeGestureEvent, QPointingDevice, QWheelEvent
from PySide6.QtWidgets import QApplication

from app.board.hits import pivot_place
from app.board.menu import menu_at
from app.document import Selection
from app.look import dark
from app.shapes import Stroke, placed
from app.sheet import Camera
from kinematics import edits
from tests import specimens
from tests.app import mouse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board
    from kinematics.project import Point


def place_of(board: Board, pivot_id: str) -> Point:
    document = board.document
    return pivot_place(document.project, placed(document.analysis, document.pose), pivot_id)


def shut(board: Board, pivot_id: str) -> Point:
    return board.document.project.pivot(pivot_id).at


def steps(board: Board) -> int:
    """How many steps can be taken back; takes them again."""
    count = 0
    while board.document.can_undo:
        board.document.undo()
        count += 1
    for _ in range(count):
        board.document.redo()
    return count


def off(board: Board, point: Point, x_px: float, y_px: float) -> Point:
    """Give the point that lies so many pixels to the right of and above another."""
    scale = board.view.camera.scale
    return point[0] + x_px / scale, point[1] + y_px / scale


# ------------------------------------------------------------------------------------------------ drag a pivot
def test_a_dragged_pivot_moves_and_is_one_step(qtbot: QtBot, board: Board) -> None:
    start = shut(board, "Q")
    end = off(board, start, 30, 20)
    told: list[str] = []
    board.pivot_grabbed.connect(lambda id_: told.append(f"grabbed {id_}"))
    board.pivot_dragged.connect(lambda id_, _at: told.append(f"dragged {id_}"))
    board.pivot_dropped.connect(lambda id_: told.append(f"dropped {id_}"))
    before = board.document.analysis.gaps[0].smallest
    mouse.drag(qtbot, board.view, start, end)
    pixel = 1.0 / board.view.camera.scale
    assert math.dist(shut(board, "Q"), end) <= 2 * pixel  # press and release each fall on a whole pixel
    assert steps(board) == 1
    assert board.document.undo_label == "Move pivot Q"
    assert board.document.analysis.project is board.document.project
    assert board.document.analysis.gaps[0].smallest != before
    assert (told[0], told[-1]) == ("grabbed Q", "dropped Q")
    assert told[1:-1]
    assert set(told[1:-1]) == {"dragged Q"}
    shape = board.scene.shown("pin:Q")
    assert shape is not None
    assert shape.at == (shut(board, "Q"),)  # type: ignore[union-attr]


def test_at_30_degrees_the_pointer_stays_over_the_pin_all_the_way(qtbot: QtBot, board: Board) -> None:
    board.document.set_opening(30.0)
    start = place_of(board, "Q")
    mouse.press(qtbot, board.view, start)
    for step in range(1, 9):
        at = off(board, start, 4.0 * step, -3.0 * step)
        qtbot.mouseMove(board.view.viewport(), mouse.spot(board.view, at))
        QApplication.processEvents()
        board.document.flush()
        away = board.view.to_px(place_of(board, "Q")) - board.view.to_px(at)
        assert away.manhattanLength() <= 3.0
        item = board.scene.item("pin:Q")
        assert item is not None
        assert (board.view.mapFromScene(item.scenePos()) - mouse.spot(board.view, at)).manhattanLength() <= 4
    mouse.release(qtbot, board.view, at)
    assert board.document.pose.deg == pytest.approx(30.0, abs=1e-9)
    assert steps(board) == 1


def test_esc_ends_a_drag_without_a_step(qtbot: QtBot, board: Board) -> None:
    before = board.document.project
    start = shut(board, "X")
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, off(board, start, -30, 20))
    assert board.document.project is not before
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    assert board.document.project is before
    mouse.move(qtbot, board.view, start, off(board, start, 10, 20), steps=3)  # the hand goes on, the drag is over
    mouse.release(qtbot, board.view, off(board, start, 10, 20))
    assert board.document.project is before
    assert not board.document.can_undo
    assert board.scene.item("pin:X") is not None
    assert board.scene.item("pin:X").scenePos() == QPointF(*start)  # type: ignore[union-attr]


def test_only_what_changed_gets_a_new_item(qtbot: QtBot, board: Board) -> None:
    keys = [
        "outline:hatch skin",
        "hatch:screen and sill",
        "pin:B",
        "band:short link",
        "ghost:hatch skin:3",
        "pin:Q",
        "band:lift link",
    ]
    before = {key: board.scene.item(key) for key in keys}
    path = before["outline:hatch skin"].path()  # type: ignore[union-attr]
    start = shut(board, "Q")
    mouse.drag(qtbot, board.view, start, off(board, start, 20, 20))
    assert {key: board.scene.item(key) for key in keys} == before, "items are kept by key"
    assert board.scene.item("outline:hatch skin").path() == path  # type: ignore[union-attr]


def test_a_drag_of_a_locked_pivot_changes_nothing(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    mouse.click(qtbot, board.view, shut(board, "Q"))
    qtbot.keyClick(board, Qt.Key.Key_L)
    assert board.document.project.pivot("Q").locked
    assert board.scene.shown("lock:Q") is not None
    before = board.document.project
    mouse.drag(qtbot, board.view, shut(board, "Q"), off(board, shut(board, "Q"), 30, 20))
    assert board.document.project is before
    assert len(notices) == 1
    qtbot.keyClick(board, Qt.Key.Key_L)
    assert not board.document.project.pivot("Q").locked
    assert board.document.undo_label == "Free pivot Q"


# ------------------------------------------------------------------------------------------------ swing
def test_the_panel_is_swung_by_its_outline(qtbot: QtBot, board: Board) -> None:
    board.fit()
    hatch = board.document.analysis.links.index("hatch")
    start = (900.0, 279.2)
    end = board.document.analysis.pose(50.0).place(hatch, start)
    mouse.drag(qtbot, board.view, start, end, steps=20)
    assert board.document.pose.deg == pytest.approx(50.0, abs=0.5)
    assert not board.document.can_undo
    assert board.document.selection == Selection("outline", "hatch skin")
    item = board.scene.item("outline:hatch skin")
    assert item is not None
    assert (board.view.mapFromScene(item.mapToScene(*start)) - mouse.spot(board.view, end)).manhattanLength() <= 3


def test_a_link_can_be_swung_and_esc_brings_it_back(qtbot: QtBot, board: Board) -> None:
    start = (190.0, 170.0)
    assert board.hit_at(start) is not None
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, off(board, start, -60, 40), steps=10)
    assert board.document.pose.deg > 1.0
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    assert board.document.pose.deg == 0.0
    mouse.release(qtbot, board.view, off(board, start, -60, 40))


# ------------------------------------------------------------------------------------------------ select and hover
def test_a_click_selects_and_a_click_on_nothing_lets_go(qtbot: QtBot, board: Board) -> None:
    mouse.click(qtbot, board.view, shut(board, "B"))
    assert board.document.selection == Selection("pivot", "B")
    assert board.scene.shown("ring:pivot") is not None
    assert board.scene.shown("path of pivot:B") is not None
    mouse.click(qtbot, board.view, (6.0, 150.0))
    assert board.document.selection == Selection("outline", "screen and sill")
    mouse.click(qtbot, board.view, off(board, shut(board, "Q"), 120, 0))
    assert board.document.selection is None
    assert board.scene.shown("ring:pivot") is None
    assert not board.document.can_undo


def test_the_pointer_says_what_it_would_take(qtbot: QtBot, board: Board) -> None:
    shape = lambda: board.view.viewport().cursor().shape()  # noqa: E731
    mouse.hover(qtbot, board.view, off(board, shut(board, "Q"), 7, 0))  # 7 px beside its middle
    assert shape() == Qt.CursorShape.OpenHandCursor
    assert board.scene.shown("hover:pivot") is not None
    mouse.hover(qtbot, board.view, (190.0, 170.0))
    assert shape() == Qt.CursorShape.PointingHandCursor
    mouse.hover(qtbot, board.view, off(board, shut(board, "Q"), 120, 0))
    assert shape() == Qt.CursorShape.ArrowCursor
    assert board.scene.shown("hover:link") is None


def test_page_keys_select_the_pivots_in_turn(qtbot: QtBot, board: Board) -> None:
    seen = []
    for _ in range(8):
        qtbot.keyClick(board, Qt.Key.Key_PageDown)
        seen.append(board.document.selection)
    assert [each.id for each in seen if each] == ["O1", "O2", "X", "B", "Q", "P1", "P2", "O1"]
    qtbot.keyClick(board, Qt.Key.Key_PageUp)
    assert board.document.selection == Selection("pivot", "P2")


# ------------------------------------------------------------------------------------------------ nudges
@pytest.mark.parametrize(
    ("key", "shift", "by"),
    [
        (Qt.Key.Key_Right, False, (1.0, 0.0)),
        (Qt.Key.Key_Up, False, (0.0, 1.0)),
        (Qt.Key.Key_Left, True, (-0.1, 0.0)),
        (Qt.Key.Key_Down, True, (0.0, -0.1)),
    ],
)
def test_arrows_nudge_the_selected_pivot(qtbot: QtBot, board: Board, key: Qt.Key, shift: bool, by: Point) -> None:
    board.document.select(Selection("pivot", "O1"))
    modifier = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(board, key, modifier)
    assert shut(board, "O1") == pytest.approx((141.0 + by[0], 257.0 + by[1]), abs=1e-9)
    assert steps(board) == 1
    qtbot.keyClick(board, key, modifier)
    assert steps(board) == 2


def test_the_demos_nudge_breaks_a_check_and_mends_it(qtbot: QtBot, board: Board) -> None:
    """As the launch's own notes say of layout C: O1 two up, and the rear corner goes back too far."""
    document = board.document
    assert all(check.ok for check in document.analysis.checks)
    document.select(Selection("pivot", "O1"))
    for _ in range(2):
        qtbot.keyClick(board, Qt.Key.Key_Up)
    assert [check.kind for check in document.analysis.checks if not check.ok] == ["limit"]
    for _ in range(2):
        qtbot.keyClick(board, Qt.Key.Key_Down)
    assert all(check.ok for check in document.analysis.checks)


def test_a_key_held_down_is_one_step_and_esc_takes_it_back(qtbot: QtBot, board: Board) -> None:
    board.document.select(Selection("pivot", "O1"))
    for _ in range(3):
        qtbot.keyPress(board, Qt.Key.Key_Right)
    assert shut(board, "O1") == (144.0, 257.0)
    qtbot.keyRelease(board, Qt.Key.Key_Right)
    assert steps(board) == 1
    qtbot.keyPress(board, Qt.Key.Key_Right)
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    qtbot.keyRelease(board, Qt.Key.Key_Right)
    assert shut(board, "O1") == (144.0, 257.0)
    assert steps(board) == 1


def test_without_a_selection_arrows_push_the_sheet(qtbot: QtBot, board: Board) -> None:
    before = board.view.camera.middle
    qtbot.keyClick(board, Qt.Key.Key_Right)
    assert board.view.camera.middle[0] > before[0]
    assert not board.document.can_undo


# ------------------------------------------------------------------------------------------------ outline points
def test_outline_points_are_inserted_moved_and_deleted(qtbot: QtBot, board: Board) -> None:
    document = board.document
    at = (6.0, 160.0)
    mouse.double_click(qtbot, board.view, at)
    points = document.project.outline("screen and sill").points
    assert len(points) == 8
    assert points[6] == pytest.approx(at, abs=1.0 / board.view.camera.scale)
    assert document.selection == Selection("outline", "screen and sill", 6)
    assert steps(board) == 1
    end = off(board, points[6], -25, 10)
    mouse.drag(qtbot, board.view, points[6], end)
    assert document.project.outline("screen and sill").points[6] == pytest.approx(
        end, abs=2.0 / board.view.camera.scale
    )
    assert steps(board) == 2
    qtbot.keyClick(board, Qt.Key.Key_Delete)
    assert (
        document.project.outline("screen and sill").points == specimens.demo_six_bar.outline("screen and sill").points
    )
    assert document.undo_label == "Delete point 7 of screen and sill"


def test_a_mark_is_dragged(qtbot: QtBot, board: Board) -> None:
    start = (-28.0, 312.0)
    end = off(board, start, 25, 25)
    mouse.drag(qtbot, board.view, start, end)
    assert board.document.project.mark("rear corner").at == pytest.approx(end, abs=2.0 / board.view.camera.scale)
    assert steps(board) == 1


def test_an_outline_is_drawn_by_clicks(qtbot: QtBot, board: Board) -> None:
    done: list[tuple[tuple[Point, ...], bool]] = []
    corners = [off(board, shut(board, "Q"), *by) for by in ((80, 0), (140, 0), (140, 60))]
    board.start_drawing_outline("bulkhead", lambda points, closed: done.append((points, closed)))
    assert board.is_drawing
    assert board.view.viewport().cursor().shape() == Qt.CursorShape.CrossCursor
    for at in corners:
        mouse.click(qtbot, board.view, at)
    assert board.scene.shown("sketch") is not None
    qtbot.keyClick(board, Qt.Key.Key_Return)
    ((points, closed),) = done
    assert not closed
    assert [each for point in points for each in point] == pytest.approx(
        [each for at in corners for each in at], abs=1.0 / board.view.camera.scale
    )
    assert not board.is_drawing
    assert board.scene.shown("sketch") is None
    assert not board.document.can_undo  # what becomes of it is the asker's


def test_drawing_ends_by_double_click_by_the_first_point_and_by_esc(qtbot: QtBot, board: Board) -> None:
    done: list[tuple[int, bool]] = []
    corners = [off(board, shut(board, "Q"), *by) for by in ((80, 0), (140, 0), (140, 60))]

    def start() -> None:
        board.start_drawing_outline("bulkhead", lambda points, closed: done.append((len(points), closed)))

    start()
    mouse.click(qtbot, board.view, corners[0])
    mouse.double_click(qtbot, board.view, corners[1])
    start()
    for at in (*corners, corners[0]):
        mouse.click(qtbot, board.view, at)
    start()
    mouse.click(qtbot, board.view, corners[0])
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    assert done == [(2, False), (3, True), (0, False)]


# ------------------------------------------------------------------------------------------------ zoom, push
def wheel(board: Board, at: QPointF, notches: float) -> None:
    where = QPointF(board.view.viewport().mapToGlobal(at.toPoint()))
    event = QWheelEvent(
        at, where, QPoint(0, 0), QPoint(0, round(120 * notches)), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(board.view.viewport(), event)


def test_the_wheel_zooms_about_the_pointer(board: Board) -> None:
    at = QPointF(310.0, 222.0)
    before, scale = board.view.camera.to_mm((310.0, 222.0)), board.view.camera.scale
    for notches in (1, 1, 1, -1, 3):
        wheel(board, at, notches)
        assert (board.view.to_px(before) - at).manhattanLength() <= 1.0  # half a pixel each way: scroll bars are whole
    assert board.view.camera.scale == pytest.approx(scale * 1.2**5)
    for _ in range(5):
        wheel(board, at, -1)
    assert board.view.camera.scale == pytest.approx(scale)
    assert (board.view.to_px(before) - at).manhattanLength() <= 1.0


def test_a_pinch_zooms_about_the_fingers(board: Board) -> None:
    at = QPointF(700.0, 300.0)
    before, scale = board.view.to_mm(at), board.view.camera.scale
    device = QPointingDevice.primaryPointingDevice()
    where = QPointF(board.view.viewport().mapToGlobal(at.toPoint()))
    event = QNativeGestureEvent(Qt.NativeGestureType.ZoomNativeGesture, device, 2, at, at, where, 0.25, QPointF())
    QApplication.sendEvent(board.view.viewport(), event)
    assert board.view.camera.scale == pytest.approx(1.25 * scale)
    assert (board.view.to_px(before) - at).manhattanLength() <= 2.0


@pytest.mark.parametrize("how", ["middle button", "space", "bare paper"])
def test_the_sheet_is_pushed(qtbot: QtBot, board: Board, how: str) -> None:
    viewport, button = board.view.viewport(), Qt.MouseButton.LeftButton
    start = board.view.to_px(shut(board, "X")).toPoint()
    if how == "bare paper":
        start = board.view.to_px(off(board, shut(board, "Q"), 120, 0)).toPoint()
    elif how == "space":
        qtbot.keyPress(board, Qt.Key.Key_Space)
    else:
        button = Qt.MouseButton.MiddleButton
    there = board.view.to_mm(QPointF(start))
    qtbot.mouseMove(viewport, start)
    qtbot.mousePress(viewport, button, pos=start)
    qtbot.mouseMove(viewport, start + QPoint(30, 10))
    qtbot.mouseMove(viewport, start + QPoint(60, -20))
    qtbot.mouseRelease(viewport, button, pos=start + QPoint(60, -20))
    assert (board.view.to_px(there) - QPointF(start) - QPointF(60.0, -20.0)).manhattanLength() <= 1.5
    assert not board.document.can_undo
    if how == "space":
        qtbot.keyRelease(board, Qt.Key.Key_Space)
        mouse.drag(qtbot, board.view, shut(board, "X"), off(board, shut(board, "X"), -20, 0))
        assert steps(board) == 1


def test_f_shows_all(qtbot: QtBot, board: Board) -> None:
    """The front edge at 75° is the highest point of the sweep, shut it is the farthest."""
    hatch = board.document.analysis.links.index("hatch")
    rect = board.view.viewport().rect()
    high = board.document.analysis.pose(75.0).place(hatch, (1190.0, 262.0))
    assert not rect.contains(board.view.to_px(high).toPoint())
    qtbot.keyClick(board, Qt.Key.Key_F)
    for at in (high, (1190.0, 262.0), (6.0, -200.0), (-160.0, 560.0)):
        assert rect.contains(board.view.to_px(at).toPoint())
    qtbot.keyClick(board, Qt.Key.Key_Plus)
    qtbot.keyClick(board, Qt.Key.Key_Home)
    assert rect.contains(board.view.to_px(high).toPoint())


def test_another_project_is_fitted_and_an_edit_is_not(board: Board) -> None:
    before = board.view.camera
    board.document.apply("Move pivot O1", edits.move_pivot(board.document.project, "O1", (142.0, 257.0)))
    assert board.view.camera == before
    board.document.new(specimens.single_pivot)
    assert board.view.camera != before
    assert board.scene.shown("pin:A") is not None
    assert board.scene.shown("pin:O1") is None


# ------------------------------------------------------------------------------------------------ places and looks
def test_show_place_goes_to_the_pose_and_brings_the_place_on_the_sheet(board: Board) -> None:
    far = (1190.0, 262.0)
    assert not board.view.viewport().rect().contains(board.view.to_px(far).toPoint())
    board.show_place(far, 20.0)
    assert board.document.pose.deg == pytest.approx(20.0)
    assert board.view.viewport().rect().contains(board.view.to_px(far).toPoint())
    assert board.scene.shown("flash") is not None
    before = board.view.camera
    board.show_place(off(board, far, 50, 50), None)
    assert board.view.camera == before  # it is in view already
    assert board.document.pose.deg == pytest.approx(20.0)
    board.show_place(None, 5.0)
    assert board.document.pose.deg == pytest.approx(5.0)


def test_the_flash_goes_out(qtbot: QtBot, board: Board, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.board.board.FLASH_MS", 1)
    board.show_place((6.0, 100.0), None)
    qtbot.waitUntil(lambda: board.scene.shown("flash") is None)


def test_the_menu_locks_and_edits(board: Board) -> None:
    menu = menu_at(board, shut(board, "X"))
    assert [action.text().split("\t")[0] for action in menu.actions()] == [
        "Lock pivot X", "Hide pivot X", "Remove pivot X", "Part pivot X", "", "Show all", "Show the pins",
    ]  # fmt: skip
    menu.actions()[0].trigger()
    assert board.document.project.pivot("X").locked
    menu = menu_at(board, (6.0, 150.0))
    assert [action.text() for action in menu.actions()][:3] == [
        "Insert a point here",
        "Change the line…",
        "Close the outline",
    ]
    menu.actions()[0].trigger()
    assert len(board.document.project.outline("screen and sill").points) == 8


def test_the_menu_and_a_key_hide_a_part_and_the_menu_shows_it_again(board: Board, qtbot: QtBot) -> None:
    document = board.document
    menu = menu_at(board, (190.0, 170.0))
    next(action for action in menu.actions() if action.text().startswith("Hide link")).trigger()
    assert document.project.link("cross link").hidden
    assert board.scene.shown("band:cross link") is None
    assert board._glass.hidden == "1 part hidden"
    document.select(Selection("pivot", "X"))
    qtbot.keyClick(board, Qt.Key.Key_H)
    assert document.undo_label == "Hide pivot X"
    assert board.scene.shown("pin:X") is None
    assert board._glass.hidden == "2 parts hidden"
    menu = menu_at(board, (700.0, 100.0))
    assert menu.actions()[0].text() == "Show what is hidden (2)"
    menu.actions()[0].trigger()
    assert document.undo_label == "Show what is hidden"
    assert board.scene.shown("pin:X") is not None
    assert board._glass.hidden == ""


@pytest.mark.parametrize("kind", ["mark", "outline"])
def test_a_locked_mark_or_outline_is_not_moved_by_the_hand(
    qtbot: QtBot, board: Board, notices: list[str], kind: str
) -> None:
    id_ = {"mark": "rear corner", "outline": "hatch skin"}[kind]
    document = board.document
    document.select(Selection(kind, id_, None if kind == "mark" else 1))
    qtbot.keyClick(board, Qt.Key.Key_L)
    assert document.undo_label == f"Lock {kind} {id_}"
    locked = document.project
    at = locked.mark(id_).at if kind == "mark" else locked.outline(id_).points[1]
    mouse.drag(qtbot, board.view, at, off(board, at, 30, 10))
    qtbot.keyClick(board, Qt.Key.Key_Up)
    assert document.project is locked
    assert notices == [f"{kind.capitalize()} {id_} is locked, so it stays. Press L to free it."] * 2
    qtbot.keyClick(board, Qt.Key.Key_L)
    mouse.drag(qtbot, board.view, at, off(board, at, 30, 10))
    assert document.undo_label.startswith("Move")


def test_the_pose_moves_frames_and_makes_nothing_new(board: Board) -> None:
    before = {id(item) for item in board.scene.items()}
    board.document.set_opening(40.0)
    assert {id(item) for item in board.scene.items()} == before
    item = board.scene.item("outline:hatch skin")
    assert item is not None
    where = board.document.pose.place(board.document.analysis.links.index("hatch"), (600.0, 297.0))
    assert (item.mapToScene(600.0, 297.0) - QPointF(*where)).manhattanLength() < 1e-6


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_is_shown_swung_and_pressed_without_a_fault(qtbot: QtBot, board: Board, name: str) -> None:
    board.document.new(specimens.ALL[name])
    board.grab()
    board.document.set_opening(15.0)
    middle = QPoint(500, 350)
    qtbot.mousePress(board.view.viewport(), Qt.MouseButton.LeftButton, pos=middle)
    qtbot.mouseMove(board.view.viewport(), middle + QPoint(30, 30))
    qtbot.mouseRelease(board.view.viewport(), Qt.MouseButton.LeftButton, pos=middle + QPoint(30, 30))
    board.grab()


def test_ghosts_move_with_the_newest_sweep(board: Board) -> None:
    item = board.scene.item("ghost:hatch skin:4")
    assert item is not None
    before = item.rotation(), item.pos()
    board.document.apply("Move pivot Q", edits.move_pivot(board.document.project, "Q", (270.0, 240.0)))
    assert board.scene.item("ghost:hatch skin:4") is item
    shape = item.shape_shown
    assert isinstance(shape, Stroke)
    assert shape.at is not None
    assert (item.rotation(), item.pos()) != before
    corner = item.mapToScene(-28.0, 312.0)
    assert (corner.x(), corner.y()) == pytest.approx(shape.at.carry((-28.0, 312.0)), abs=1e-6)


def test_a_new_look_repaints_the_paper(board: Board) -> None:
    spot = QPoint(20, 300)
    assert board.grab().toImage().pixelColor(spot).lightness() > 200
    board.set_look(dark())
    assert board.grab().toImage().pixelColor(spot).lightness() < 80
    assert board.scene.shown("outline:hatch skin").pen.colour == dark().panel  # type: ignore[union-attr]


def test_the_panel_is_painted_where_it_stands(board: Board) -> None:
    """One pixel that means something: on the hatch skin, at 30°, between the ghosts."""
    board.fit()
    board.document.set_opening(30.0)
    hatch = board.document.analysis.links.index("hatch")
    at = board.document.pose.place(hatch, (900.0, 279.2))
    image = board.grab().toImage()
    spot = board.view.to_px(at).toPoint()
    assert image.pixelColor(spot).lightness() < 60
    assert image.pixelColor(spot + QPoint(0, 8)).lightness() > 150


def test_a_press_while_a_key_nudges_ends_the_nudge(qtbot: QtBot, board: Board) -> None:
    board.document.select(Selection("pivot", "O1"))
    qtbot.keyPress(board, Qt.Key.Key_Right)
    mouse.click(qtbot, board.view, shut(board, "B"))
    assert steps(board) == 1
    qtbot.keyRelease(board, Qt.Key.Key_Right)
    assert steps(board) == 1


def test_leaving_takes_the_hover_away(qtbot: QtBot, board: Board) -> None:
    mouse.hover(qtbot, board.view, shut(board, "Q"))
    assert board.scene.shown("hover:pivot") is not None
    QApplication.sendEvent(board.view.viewport(), QEvent(QEvent.Type.Leave))
    assert board.scene.shown("hover:pivot") is None


def test_after_a_fit_by_key_what_lies_under_the_pointer_is_looked_at_anew(qtbot: QtBot, board: Board) -> None:
    """The sheet moves, the pointer doesn't: a pin that it has left must not go on looking ready to be taken."""
    board.fit_pins()
    mouse.hover(qtbot, board.view, board.document.project.pivot("X").at)
    assert board.pointer.hit is not None
    assert board.pointer.hit.id == "X"
    board.fit()
    assert board.pointer.hit is None or board.pointer.hit.id != "X"


def test_the_pins_shown_close_leave_room_for_what_tools_say(board: Board) -> None:
    board.fit_pins()
    places = [place for path in board.document.analysis.pivot_paths.values() for place in path]
    lowest = max(board.view.to_px((x, y)).y() for x, y in places)
    assert lowest <= board.view.viewport().height() - 100


def test_while_something_is_drawn_no_tool_is_pressed(board: Board) -> None:
    def pressed() -> list[str]:
        return [name for name, button in board.toolbox.buttons.items() if button.isChecked()]

    for start in (board.start_drawing_outline, board.start_drawing_box):
        start("bulkhead", lambda *_: None)
        assert pressed() == []
        board.give_up()
        assert pressed() == ["Hand"]
    board.take_tool("Split")
    assert pressed() == ["Split"]


def test_what_the_next_tool_says_stands_at_the_foot_again(board: Board) -> None:
    board.take_tool("Split")
    foot = board._glass.hint_box()
    board.keep_hint_clear(board.view.to_mm(QPointF((foot.left + foot.right) / 2, foot.top)))
    assert board._glass.hint_box().bottom < foot.top
    board.give_up()
    board.take_tool("Split")
    assert board._glass.hint_box() == foot


def test_what_is_said_of_a_drag_gives_way_to_what_is_dragged(qtbot: QtBot, board: Board) -> None:
    """A pin that was dragged to the foot of the sheet lay beneath the words on how to drag it."""
    view, document = board.view, board.document
    board.set_snaps(True)
    x, y = document.project.pivot("B").at
    view.set_camera(Camera(1.0, (x, y), view.camera.size))
    foot = view.to_mm(QPointF(view.camera.size[0] / 2.0, view.camera.size[1] - 40.0))
    mouse.press(qtbot, view, (x, y))
    for share in (0.2, 0.6, 1.0):
        mouse.move(qtbot, view, (x, y), (x + share * (foot[0] - x), y + share * (foot[1] - y)), steps=2)
    assert board._glass.hint
    assert not board._glass.hint_box().holds(view.camera.to_px(foot))
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    qtbot.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton)
