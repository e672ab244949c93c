"""Rail and sheet area: drawers slide in and out, and the notice keeps clear of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractAnimation
from PySide6.QtTest import QTest

from app.rail import SheetArea

if TYPE_CHECKING:
    import pytest
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
    qtbot.waitUntil(lambda: window.area._slide.state() == QAbstractAnimation.State.Stopped, timeout=3000)
    assert drawer.x() == 0
    assert seen[0] < -drawer.width() // 2
    assert seen == sorted(seen)
    window.area.open_drawer("")
    assert drawer.isVisible()  # until it is out
    qtbot.waitUntil(lambda: not drawer.isVisible(), timeout=3000)


def test_another_drawer_opened_meanwhile_leaves_one_open(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(SheetArea, "slide_ms", 120)
    window.area.open_drawer("Build")
    QTest.qWait(30)
    window.area.open_drawer("Lift")
    qtbot.waitUntil(lambda: window.area._slide.state() == QAbstractAnimation.State.Stopped, timeout=3000)
    assert [name for name, drawer in window.area.drawers.items() if drawer.isVisible()] == ["Lift"]
    assert window.area.drawers["Lift"].x() == 0


def test_the_notice_stands_beside_an_open_drawer(window: Window) -> None:
    notice = window.area.notice
    window.document.noticed.emit("Something to tell. " * 20)
    assert notice.geometry().left() == 0
    assert notice.height() > 40  # a long sentence wraps
    window.area.open_drawer("Trace")
    assert notice.geometry().left() == window.trace.width()
    assert notice.geometry().right() == window.area.width() - 1


def test_the_area_keeps_its_parts_to_its_size(window: Window) -> None:
    window.area.open_drawer("Trace")
    window.resize(1100, 700)
    assert window.board.size() == window.area.size()
    assert window.trace.height() == window.area.height()
