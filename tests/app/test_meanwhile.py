"""Two things at once: a hand on the board while the panel runs, while something is saved, typed, taken out, opened.
Real mouse and keys on the whole window; whatever comes in between, the project stays sound and steps stay whole.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QContextMenuEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu

from app.board.hits import pivot_place
from app.document import Selection
from app.entry.wants import WantsForm
from app.files import load
from app.shapes import placed
from tests.app import mouse

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Point


@pytest.fixture
def near(window: Window) -> Window:
    """The window, close to the pins, its board with the keys."""
    window.board.fit_pins()
    window.board.setFocus()
    return window


def place_of(window: Window, pivot_id: str) -> Point:
    document = window.document
    return pivot_place(document.project, placed(document.analysis, document.pose), pivot_id)


def off(window: Window, point: Point, x_px: float, y_px: float) -> Point:
    scale = window.board.view.camera.scale
    return point[0] + x_px / scale, point[1] + y_px / scale


def steps(window: Window) -> int:
    return len(window.document._done)


def take(window: Window, qtbot: QtBot, pivot_id: str = "Q") -> tuple[Point, Point]:
    """Press on a pivot and move it a little; the button stays down. Gives where it began and where it is."""
    view = window.board.view
    start = place_of(window, pivot_id)
    end = off(window, start, 12.0, 8.0)
    mouse.press(qtbot, view, start)
    mouse.move(qtbot, view, start, end)
    return start, end


class Frames:
    """A clock under the test's hand: so many ms go by with each frame of the panel that runs."""

    ms = 16

    def start(self) -> None:
        """Begin; nothing to do."""

    def restart(self) -> int:
        return self.ms


def line_of(window: Window) -> QLineEdit:
    form = window.checks.entry.form
    assert isinstance(form, WantsForm)
    return form.opening.line


def test_a_pivot_that_is_taken_while_the_panel_runs_stops_it(near: Window, qtbot: QtBot) -> None:
    """Else the pose would run on under the hand, and the pivot would be dragged at another one with each frame."""
    clock = Frames()
    near.strip._clock = clock  # type: ignore[assignment]
    near.strip.play()
    qtbot.waitUntil(lambda: near.document.pose.deg > 2.0)
    clock.ms = 0  # it still runs, but at a pose that is the same each time
    near.document.set_opening(4.0)
    start = place_of(near, "Q")
    mouse.press(qtbot, near.board.view, start)
    assert not near.strip.is_playing
    clock.ms = 100
    held = near.document.pose.deg
    end = off(near, start, 4.0, 2.0)
    mouse.move(qtbot, near.board.view, start, end)
    qtbot.wait(60)
    mouse.release(qtbot, near.board.view, end)
    assert near.document.pose.deg == pytest.approx(held, abs=1e-9)
    assert place_of(near, "Q") == pytest.approx(end, abs=1.5 / near.board.view.camera.scale)


def test_a_save_in_mid_drag_keeps_what_is_seen_and_ends_the_drag(near: Window, qtbot: QtBot, tmp_path: Path) -> None:
    near.document.save(tmp_path / "x.hinge")
    _, end = take(near, qtbot)
    seen = near.document.project.pivot("Q").at
    qtbot.keyClick(near.board, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert load(tmp_path / "x.hinge").pivot("Q").at == seen
    assert not near.isWindowModified()
    mouse.move(qtbot, near.board.view, end, off(near, end, 20.0, 20.0))
    mouse.release(qtbot, near.board.view, off(near, end, 20.0, 20.0))
    assert near.document.project.pivot("Q").at == seen
    assert steps(near) == 1


def test_undo_in_mid_drag_gives_the_drag_up(near: Window, qtbot: QtBot) -> None:
    before = near.document.project
    _, end = take(near, qtbot)
    assert near.document.project != before
    qtbot.keyClick(near.board, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert near.document.project is before
    mouse.release(qtbot, near.board.view, end)
    assert near.document.project is before
    assert steps(near) == 0


def test_what_is_taken_out_in_mid_drag_is_gone_and_both_can_be_undone(near: Window, qtbot: QtBot) -> None:
    before = near.document.project
    _, end = take(near, qtbot)
    qtbot.keyClick(near.board, Qt.Key.Key_Delete)
    assert "Q" not in {pivot.id for pivot in near.document.project.pivots}
    mouse.move(qtbot, near.board.view, end, off(near, end, 9.0, 9.0))
    mouse.release(qtbot, near.board.view, off(near, end, 9.0, 9.0))
    near.document.undo()
    near.document.undo()
    assert near.document.project == before
    assert not near.document.can_undo


def test_the_other_button_opens_no_menu_under_a_hand_that_drags(near: Window, qtbot: QtBot) -> None:
    _, end = take(near, qtbot)
    view = near.board.view
    spot = mouse.spot(view, end)
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, spot, view.viewport().mapToGlobal(spot))
    QApplication.sendEvent(view.viewport(), event)
    QApplication.processEvents()
    assert not [menu for menu in near.board.findChildren(QMenu) if menu.isVisible()]
    mouse.release(qtbot, view, end)
    assert steps(near) == 1


def test_the_wheel_in_mid_drag_zooms_and_the_pivot_stays_in_the_hand(near: Window, qtbot: QtBot) -> None:
    view = near.board.view
    _, end = take(near, qtbot)
    spot = mouse.spot(view, end)
    where = QPointF(spot)
    event = QWheelEvent(
        where, QPointF(view.viewport().mapToGlobal(spot)), QPoint(), QPoint(0, 120), Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view.viewport(), event)
    further = spot + QPoint(15, 5)
    qtbot.mouseMove(view.viewport(), further)
    QApplication.processEvents()
    qtbot.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=further)
    seen = view.to_px(place_of(near, "Q"))
    assert abs(seen.x() - further.x()) < 2.0
    assert abs(seen.y() - further.y()) < 2.0
    assert steps(near) == 1


def test_what_is_half_typed_is_taken_over_when_the_hand_goes_to_the_board(near: Window, qtbot: QtBot) -> None:
    line = line_of(near)
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    line.selectAll()
    qtbot.keyClicks(line, "60")
    _, end = take(near, qtbot)
    mouse.release(qtbot, near.board.view, end)
    assert near.document.project.travel.wanted_deg == 60.0
    assert steps(near) == 2  # the opening, then the pivot
    near.document.undo()
    assert near.document.project.travel.wanted_deg == 60.0
    near.document.undo()
    assert near.document.project.travel.wanted_deg == 75.0


def test_nonsense_in_a_field_stays_there_and_stops_nothing(near: Window, qtbot: QtBot) -> None:
    line = line_of(near)
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    line.selectAll()
    qtbot.keyClicks(line, "banana")
    _, end = take(near, qtbot)
    mouse.release(qtbot, near.board.view, end)
    assert near.document.project.travel.wanted_deg == 75.0
    assert steps(near) == 1


def test_a_click_on_a_check_while_the_panel_runs_stops_it_there(near: Window, qtbot: QtBot) -> None:
    near.strip.play()
    qtbot.waitUntil(lambda: near.document.pose.deg > 8.0)
    row = next(row for row in near.checks.rows if row.check is not None and row.check.kind == "gap")
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton)
    assert not near.strip.is_playing
    assert row.check is not None
    assert near.document.pose.deg == pytest.approx(row.check.deg, abs=1e-9)


def test_a_shorter_travel_brings_a_pose_beyond_it_back_and_a_longer_one_returns_it(near: Window, qtbot: QtBot) -> None:
    near.document.set_opening(70.0)
    line = line_of(near)
    for words, expected in (("40", 40.0), ("75", 70.0)):
        qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
        line.selectAll()
        qtbot.keyClicks(line, words)
        qtbot.keyClick(line, Qt.Key.Key_Return)
        assert near.document.pose.deg == pytest.approx(expected, abs=1e-9)
        assert near.strip.ruler.place == near.document.pose.deg


def test_another_project_opened_in_mid_drag_is_not_touched_by_the_hand(
    near: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    near.document.save(tmp_path / "x.hinge")
    _, end = take(near, qtbot)
    near.document.open(tmp_path / "x.hinge")
    opened = near.document.project
    mouse.move(qtbot, near.board.view, end, off(near, end, 9.0, 9.0))
    mouse.release(qtbot, near.board.view, off(near, end, 9.0, 9.0))
    assert near.document.project is opened
    assert not near.document.can_undo


def test_a_drawer_opened_in_mid_drag_leaves_the_pivot_in_the_hand(near: Window, qtbot: QtBot) -> None:
    view = near.board.view
    take(near, qtbot)
    qtbot.keyClick(near.board, Qt.Key.Key_1, Qt.KeyboardModifier.AltModifier)
    assert near.area.open_name == "Trace"
    spot = QPoint(640, 300)
    qtbot.mouseMove(view.viewport(), spot)
    QApplication.processEvents()
    qtbot.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert not near.document.is_dragging
    assert steps(near) <= 1
    near.document.undo()
    assert not near.document.can_undo


def test_the_selection_follows_a_rename_and_is_dropped_with_its_part(near: Window, qtbot: QtBot) -> None:
    near.document.select(Selection("pivot", "Q"))
    line = next(
        line for line in near.checks.entry.findChildren(QLineEdit) if line.accessibleName() == "Name of pivot Q"
    )
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    line.selectAll()
    qtbot.keyClicks(line, "front pin")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert near.document.selection == Selection("pivot", "front pin")
    near.document.undo()
    assert near.document.selection is None
    assert not near.checks.entry.part_button.isEnabled()
