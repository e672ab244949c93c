"""The cross of the keyboard: whatever the mouse places with a tool, the keys place too."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from app.document import Selection
from app.look import dark, light

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.board import Board
    from app.look import Look
    from kinematics.project import Point

KEY = Qt.Key
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def far_down(qtbot: QtBot, board: Board, times: int = 12) -> None:
    """Take the cross to bare paper, beneath all."""
    for _ in range(times):
        qtbot.keyClick(board, KEY.Key_Down, CTRL)


def there(board: Board) -> Point:
    """Where the cross stands."""
    assert board.cross.at is not None
    return board.cross.at


def test_arrows_move_the_cross_by_the_nudge_finer_and_coarser(board: Board, qtbot: QtBot) -> None:
    before = board.document.project
    qtbot.keyClick(board, KEY.Key_N)
    x, y = there(board)
    for key, modifiers in ((KEY.Key_Right, SHIFT), (KEY.Key_Up, CTRL), (KEY.Key_Left, Qt.KeyboardModifier.NoModifier)):
        qtbot.keyClick(board, key, modifiers)
    step, fine = board.document.preferences.nudge, board.document.preferences.fine_nudge
    assert there(board) == pytest.approx((x + fine - step, y + 10 * step))
    assert board.document.project is before
    assert "Cross at" in board.accessibleDescription()
    qtbot.keyClick(board, KEY.Key_Home)
    off = np.subtract(there(board), board.view.camera.middle)
    assert np.all(np.abs(off) <= step)
    assert np.allclose(np.divide(there(board), step) % 1.0, 0.0)
    qtbot.keyClick(board, KEY.Key_Escape)
    assert board.cross.at is None
    assert "Cross at" not in board.accessibleDescription()


def test_a_link_is_made_between_two_places_of_the_paper(board: Board, qtbot: QtBot) -> None:
    board.document.select(None)
    qtbot.keyClick(board, KEY.Key_N)
    far_down(qtbot, board)
    first = there(board)
    qtbot.keyClick(board, KEY.Key_Return)
    qtbot.keyClick(board, KEY.Key_Right, CTRL)
    qtbot.keyClick(board, KEY.Key_Right, CTRL)
    second = there(board)
    before = len(board.document.project.links)
    qtbot.keyClick(board, KEY.Key_Return)
    links = board.document.project.links
    assert len(links) == before + 1
    ends = [pivot.at for pivot in board.document.project.pivots_on(links[-1].id)]
    assert np.allclose(sorted(ends), sorted([first, second]))
    board.document.undo()
    assert len(board.document.project.links) == before


def test_page_keys_go_round_all_pins_and_say_them(board: Board, qtbot: QtBot) -> None:
    board.document.select(None)
    qtbot.keyClick(board, KEY.Key_D)
    heard = []
    for pivot in board.document.project.pivots:
        qtbot.keyClick(board, KEY.Key_PageDown)
        heard.append(f"pivot {pivot.id}" in board.accessibleDescription())
    assert all(heard)
    qtbot.keyClick(board, KEY.Key_Return)
    for _ in range(len(heard) - 1):
        qtbot.keyClick(board, KEY.Key_PageUp)
    qtbot.keyClick(board, KEY.Key_Return)
    (measure,) = board.document.project.measures[-1:]
    assert [each.pivot for each in measure.of] == [
        board.document.project.pivots[-1].id,
        board.document.project.pivots[0].id,
    ]


def test_a_frame_gathers_from_one_enter_to_the_next_and_then_moves_all(board: Board, qtbot: QtBot) -> None:
    pivots = board.document.project.pivots
    qtbot.keyClick(board, KEY.Key_G)
    board.cross._go((min(p.at[0] for p in pivots) - 5.0, min(p.at[1] for p in pivots) - 5.0))
    qtbot.keyClick(board, KEY.Key_Return)
    board.cross._go((max(p.at[0] for p in pivots) + 5.0, max(p.at[1] for p in pivots) + 5.0))
    assert board.scene.has("sketch")
    qtbot.keyClick(board, KEY.Key_Return)
    assert {each.id for each in board.document.selections} >= {pivot.id for pivot in pivots}


def test_a_gathering_that_the_mouse_takes_over_ends_where_the_cross_stood(board: Board, qtbot: QtBot) -> None:
    qtbot.keyClick(board, KEY.Key_G)
    qtbot.keyClick(board, KEY.Key_Return)
    qtbot.keyClick(board, KEY.Key_Down, CTRL)
    qtbot.mouseMove(board.view.viewport(), QPoint(300, 300))
    qtbot.mouseMove(board.view.viewport(), QPoint(320, 300))
    assert board.cross.at is None
    assert not board.scene.has("sketch")


def test_an_outline_is_drawn_by_keys_and_ends_by_enter_twice(board: Board, qtbot: QtBot) -> None:
    done: list[tuple[tuple[Point, ...], bool]] = []
    board.start_drawing_outline(board.document.project.fixed.id, lambda points, closed: done.append((points, closed)))
    qtbot.keyClick(board, KEY.Key_Home)
    places = []
    for key in (KEY.Key_Right, KEY.Key_Up, KEY.Key_Left):
        qtbot.keyClick(board, key, CTRL)
        places.append(there(board))
        qtbot.keyClick(board, KEY.Key_Return)
    assert not done
    qtbot.keyClick(board, KEY.Key_Return)
    assert np.allclose([points for points, _ in done], [places])
    assert board.cross.at is None


def test_a_box_is_drawn_by_two_enters(board: Board, qtbot: QtBot) -> None:
    done: list[tuple[Point, ...]] = []
    board.start_drawing_box(board.document.project.fixed.id, done.append)
    qtbot.keyClick(board, KEY.Key_Return)  # brings the cross
    x, y = there(board)
    qtbot.keyClick(board, KEY.Key_Return)
    qtbot.keyClick(board, KEY.Key_Up, CTRL)
    qtbot.keyClick(board, KEY.Key_Right, CTRL)
    qtbot.keyClick(board, KEY.Key_Return)
    assert len(done) == 1
    assert np.allclose(sorted(done[0]), sorted([(x, y), (x + 10, y), (x + 10, y + 10), (x, y + 10)]))


def test_the_cross_starts_at_what_is_selected_and_follows_it(board: Board, qtbot: QtBot) -> None:
    one, other = board.document.project.pivots[:2]
    board.document.select(Selection("pivot", one.id))
    qtbot.keyClick(board, KEY.Key_V)
    assert there(board) == pytest.approx(one.at)
    board.document.select(Selection("pivot", other.id))
    assert there(board) == pytest.approx(other.at)


def test_the_sheet_is_pushed_where_the_cross_would_leave_it(board: Board, qtbot: QtBot) -> None:
    qtbot.keyClick(board, KEY.Key_N)
    far_down(qtbot, board, 60)
    spot = board.view.to_px(there(board))
    assert board.view.viewport().rect().contains(spot.toPoint())


@pytest.mark.parametrize("look", [light, dark])
def test_the_cross_is_seen_on_both_sheets(board: Board, qtbot: QtBot, look: Callable[[], Look]) -> None:
    board.set_look(look())
    board.document.select(None)
    qtbot.keyClick(board, KEY.Key_N)
    far_down(qtbot, board, 4)
    QApplication.processEvents()
    spot = board.view.to_px(there(board)).toPoint()
    shot = board.view.viewport().grab().toImage()
    ratio = shot.devicePixelRatio()
    arm = [shot.pixelColor(round((spot.x() + 8) * ratio), round((spot.y() + y) * ratio)).name() for y in (-1, 0, 1)]
    assert look().selection.lower() in arm


def test_without_a_tool_arrows_nudge_as_ever(board: Board, qtbot: QtBot) -> None:
    pivot = next(each for each in board.document.project.pivots if not each.locked)
    board.document.select(Selection("pivot", pivot.id))
    qtbot.keyClick(board, KEY.Key_Right)
    assert board.cross.at is None
    assert board.document.project.pivot(pivot.id).at != pivot.at
