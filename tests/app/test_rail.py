"""Rail and sheet area: drawers slide in and out, and the notice keeps clear of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QAbstractAnimation, QPoint
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.rail import SheetArea
from app.sheet import extent
from kinematics import edits

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def test_a_drawer_slides_in_from_the_left_and_out_again(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(SheetArea, "slide_ms", 120)
    seen: list[int] = []
    window.area._slide.valueChanged.connect(lambda at: seen.append(at.x()))
    window.area.open_drawer("Build")
    drawer = window.area.drawers["Build"]
    qtbot.waitUntil(lambda: window.area._slide.state() == QAbstractAnimation.State.Stopped)
    assert drawer.x() == 0
    assert seen[0] < -drawer.width() // 2
    assert seen == sorted(seen)
    window.area.open_drawer("")
    assert drawer.isVisible()  # until it is out
    qtbot.waitUntil(lambda: not drawer.isVisible())


def test_another_drawer_opened_meanwhile_leaves_one_open(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(SheetArea, "slide_ms", 120)
    window.area.open_drawer("Build")
    QTest.qWait(30)
    window.area.open_drawer("Lift")
    qtbot.waitUntil(lambda: window.area._slide.state() == QAbstractAnimation.State.Stopped)
    assert [name for name, drawer in window.area.drawers.items() if drawer.isVisible()] == ["Lift"]
    assert window.area.drawers["Lift"].x() == 0


def test_the_notice_stands_beside_an_open_drawer(window: Window) -> None:
    notice = window.area.notice
    window.document.noticed.emit("Something to tell. " * 20)
    assert notice.geometry().left() == 0
    assert notice.height() > 40  # a long sentence wraps
    window.area.open_drawer("Trace")
    assert notice.geometry().left() == window.trace.width()
    assert notice.geometry().right() == window.area.width() - window.board.toolbox.width() - 1  # its tools stay free


def test_the_area_keeps_its_parts_to_its_size(window: Window) -> None:
    window.area.open_drawer("Trace")
    window.resize(1100, 700)
    assert window.board.size() == window.area.size()
    assert window.trace.height() == window.area.height()


def sees_all(window: Window) -> bool:
    """Whether all of the layout and its sweep lies on the part of the sheet that can be seen."""
    board, analysis = window.board, window.document.analysis
    camera = board.view.camera
    spots = [camera.to_px((x, y)) for x, y in extent(analysis.project, analysis).tolist()]
    return all(board.covered_left <= x <= camera.size[0] and 0 <= y <= camera.size[1] for x, y in spots)


def test_what_was_fitted_beside_a_drawer_is_fitted_again_without_it(window: Window) -> None:
    """A start is placed while the drawer is open, and fitted; closing it must not push the sweep off the sheet."""
    window.area.open_drawer("Pins")
    window.board.fit()
    beside = window.board.view.camera.scale
    window.area.open_drawer("")
    assert sees_all(window)
    assert window.board.view.camera.scale >= beside


def test_a_view_of_one_s_own_comes_back_when_the_drawer_is_closed(window: Window) -> None:
    window.board.view.zoom(2.5)
    before = window.board.view.camera
    window.area.open_drawer("Pins")
    window.area.open_drawer("")
    after = window.board.view.camera
    assert after.scale == pytest.approx(before.scale, rel=1e-9)
    assert after.middle == pytest.approx(before.middle, abs=1e-6)


def test_what_fits_still_fits_in_a_window_of_another_size(window: Window) -> None:
    window.resize(1000, 620)
    QApplication.processEvents()
    assert sees_all(window)
    small = window.board.view.camera.scale
    window.resize(1500, 900)
    QApplication.processEvents()
    assert window.board.view.camera.scale > 1.2 * small  # and makes use of the room


def test_a_view_of_one_s_own_stays_in_a_window_of_another_size(window: Window) -> None:
    window.board.view.zoom(2.5)
    before = window.board.view.camera
    window.resize(1500, 900)
    QApplication.processEvents()
    after = window.board.view.camera
    assert (after.scale, after.middle) == (before.scale, before.middle)


def test_the_notice_keeps_clear_of_tools_that_take_more_columns(fresh_window: Window) -> None:
    window = fresh_window  # the strip is given a height that nothing takes back
    window.document.noticed.emit("Something to tell.")
    window.strip.setFixedHeight(window.strip.height())
    window.resize(1280, 520)
    QApplication.processEvents()
    board, notice = window.board, window.area.notice
    assert len({button.x() for button in board.toolbox.buttons.values()}) > 1
    assert notice.geometry().right() < board.toolbox.mapTo(window.area, QPoint(0, 0)).x()


def test_the_sheet_lies_still_while_something_is_built(fresh_window: Window) -> None:
    """The strip grows with what is built; no pin goes away from under the hand for it, fitted or not."""
    window = fresh_window  # the strip is given a height that nothing takes back
    document, board = window.document, window.board
    at = document.project.pivots[0].at

    def place() -> tuple[float, float, float]:
        spot = board.view.to_px(at)
        return round(spot.x()), round(spot.y()), board.view.camera.scale

    document.apply("Move pivot", edits.move_pivot(document.project, document.project.pivots[0].id, at))
    document.apply("Name it", edits.set_title(document.project, "another"))
    before, high = place(), board.height()
    window.strip.setFixedHeight(window.strip.height() + 50)
    QApplication.processEvents()
    assert board.height() < high
    assert place() == pytest.approx(before, abs=1.0)
    window.resize(1500, 950)
    QApplication.processEvents()
    assert sees_all(window)
    assert place()[2] > before[2]  # a window of another size is fitted all the same
