"""The tip at a pin: it comes when the pointer rests, says what the pin does, and goes when the pointer leaves."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QToolTip

from app.board import Board, resting
from app.board.resting import pin_tip
from app.document import Document
from app.look import light
from kinematics import influence
from tests import specimens
from tests.app import mouse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot


@pytest.fixture
def board(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Iterator[Board]:
    monkeypatch.setattr(resting, "REST_MS", 20)
    board = Board(Document(specimens.demo_six_bar), light())
    board.resize(1000, 700)
    with qtbot.waitExposed(board):
        board.show()
    board.fit_pins()
    yield board
    QToolTip.hideText()
    board.close()
    board.deleteLater()


def hover_pin(qtbot: QtBot, board: Board, name: str) -> None:
    qtbot.mouseMove(board.view.viewport(), QPoint(20, 20))  # from elsewhere: a move to where it is would be none
    mouse.hover(qtbot, board.view, board.document.project.pivot(name).at)


def test_a_rest_on_a_pin_tells_what_it_does(qtbot: QtBot, board: Board) -> None:
    hover_pin(qtbot, board, "X")
    qtbot.waitUntil(QToolTip.isVisible)
    told = QToolTip.text()
    assert told.splitlines()[0] == "X: arm + cross link"
    assert all(len(line) <= resting.LINE for line in told.splitlines())
    assert " ".join(told.splitlines()[1:]) == (
        "Worst check, screen and sill – hatch skin: 1 mm up gives 0.1 mm more; 1 mm to the right gives 0.1 mm more. "
        "The other way takes as much."
    )


def test_it_stays_when_qt_asks_the_board_for_a_tip_of_its_own(qtbot: QtBot, board: Board) -> None:
    """Qt asks 0.7 s after the last move; a graphics view without tips answers by taking away what is shown."""
    hover_pin(qtbot, board, "X")
    qtbot.waitUntil(QToolTip.isVisible)
    viewport, at = board.view.viewport(), board.view.viewport().rect().center()
    QApplication.sendEvent(viewport, QHelpEvent(QEvent.Type.ToolTip, at, viewport.mapToGlobal(at)))
    qtbot.wait(350)  # Qt hides a tip 300 ms after it was asked to
    assert QToolTip.isVisible()


def test_it_goes_when_the_pointer_leaves_and_follows_to_the_next_pin(qtbot: QtBot, board: Board) -> None:
    hover_pin(qtbot, board, "X")
    qtbot.waitUntil(QToolTip.isVisible)
    hover_pin(qtbot, board, "B")
    qtbot.waitUntil(lambda: QToolTip.text().startswith("B: "))
    qtbot.mouseMove(board.view.viewport(), QPoint(20, 20))
    QApplication.processEvents()
    qtbot.waitUntil(lambda: not QToolTip.isVisible())


def test_nothing_is_reckoned_while_the_pointer_moves_or_drags(
    qtbot: QtBot, board: Board, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    monkeypatch.setattr(resting, "pin_tip", lambda _, pin: asked.append(pin) or pin)
    board._resting._timer.setInterval(60_000)
    for name in ("X", "B", "Q"):
        hover_pin(qtbot, board, name)
    assert board._resting._timer.isActive()
    start = board.document.project.pivot("Q").at
    qtbot.mousePress(board.view.viewport(), Qt.MouseButton.LeftButton, pos=mouse.spot(board.view, start))
    assert not board._resting._timer.isActive()
    mouse.move(qtbot, board.view, start, (start[0] + 6.0, start[1]))
    assert not board._resting._timer.isActive()
    mouse.release(qtbot, board.view, (start[0] + 6.0, start[1]))
    assert asked == []


def test_a_tip_asked_for_twice_costs_one_reckoning(board: Board) -> None:
    influence.influence.cache_clear()
    assert pin_tip(board.document, "X") == pin_tip(board.document, "X")
    assert influence.influence.cache_info().misses == 1
