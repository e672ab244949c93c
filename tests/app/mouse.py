"""The hand of the tests: real mouse events on the board's viewport, told in mm of the board."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board.view import BoardView
    from kinematics.project import Point

LEFT = Qt.MouseButton.LeftButton


def spot(view: BoardView, at: Point) -> QPoint:
    """Give the pixel nearest to a point of the board; it must be on the screen."""
    found = view.to_px(at).toPoint()
    assert view.viewport().rect().contains(found), f"{at} is not on the board"
    return found


def hover(qtbot: QtBot, view: BoardView, at: Point) -> None:
    """Move the pointer, no button down."""
    qtbot.mouseMove(view.viewport(), spot(view, at))
    QApplication.processEvents()


def press(qtbot: QtBot, view: BoardView, at: Point) -> None:
    """Move the pointer there and press."""
    hover(qtbot, view, at)
    qtbot.mousePress(view.viewport(), LEFT, pos=spot(view, at))


def move(qtbot: QtBot, view: BoardView, start: Point, end: Point, steps: int = 8) -> None:
    """Move the pointer along a line with the button down."""
    for step in range(1, steps + 1):
        share = step / steps
        at = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        qtbot.mouseMove(view.viewport(), spot(view, at))
        QApplication.processEvents()


def release(qtbot: QtBot, view: BoardView, at: Point) -> None:
    """Let the button go."""
    qtbot.mouseRelease(view.viewport(), LEFT, pos=spot(view, at))
    QApplication.processEvents()


def drag(qtbot: QtBot, view: BoardView, start: Point, end: Point, steps: int = 8) -> None:
    """Move there, press, move, let go."""
    press(qtbot, view, start)
    move(qtbot, view, start, end, steps)
    release(qtbot, view, end)


def click(qtbot: QtBot, view: BoardView, at: Point) -> None:
    """Press and let go at one place."""
    press(qtbot, view, at)
    release(qtbot, view, at)


def double_click(qtbot: QtBot, view: BoardView, at: Point) -> None:
    """Click twice at one place, as Qt tells it: press, release, double click, release."""
    click(qtbot, view, at)
    qtbot.mouseDClick(view.viewport(), LEFT, pos=spot(view, at))
    qtbot.mouseRelease(view.viewport(), LEFT, pos=spot(view, at))
    QApplication.processEvents()
