"""The hand of the tests: real mouse events on the board's viewport, told in mm of the board."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board.view import BoardView
    from kinematics.project import Point

LEFT = Qt.MouseButton.LeftButton
Keys = Qt.KeyboardModifier
NONE = Keys.NoModifier


def spot(view: BoardView, at: Point) -> QPoint:
    """Give the pixel nearest to a point of the board; it must be on the screen."""
    found = view.to_px(at).toPoint()
    assert view.viewport().rect().contains(found), f"{at} is not on the board"
    return found


def hover(qtbot: QtBot, view: BoardView, at: Point) -> None:
    """Move the pointer, no button down."""
    qtbot.mouseMove(view.viewport(), spot(view, at))
    QApplication.processEvents()


def press(qtbot: QtBot, view: BoardView, at: Point, keys: Keys = NONE) -> None:
    """Move the pointer there and press, with these keys held."""
    hover(qtbot, view, at)
    qtbot.mousePress(view.viewport(), LEFT, keys, pos=spot(view, at))


def move(qtbot: QtBot, view: BoardView, start: Point, end: Point, steps: int = 4, keys: Keys = NONE) -> None:
    """Move the pointer along a line with the button down, with these keys held."""
    for step in range(1, steps + 1):
        share = step / steps
        at = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        if keys == NONE:
            qtbot.mouseMove(view.viewport(), spot(view, at))
        else:
            _move_with(view, spot(view, at), keys)
        QApplication.processEvents()


def _move_with(view: BoardView, at: QPoint, keys: Keys) -> None:
    """Move the pointer with keys held, which qtbot can't."""
    port, place = view.viewport(), QPointF(at)
    event = QMouseEvent(
        QEvent.Type.MouseMove, place, QPointF(port.mapToGlobal(place)), Qt.MouseButton.NoButton, LEFT, keys
    )
    QApplication.sendEvent(port, event)


def release(qtbot: QtBot, view: BoardView, at: Point, keys: Keys = NONE) -> None:
    """Let the button go."""
    qtbot.mouseRelease(view.viewport(), LEFT, keys, pos=spot(view, at))
    QApplication.processEvents()


def drag(qtbot: QtBot, view: BoardView, start: Point, end: Point, steps: int = 4, keys: Keys = NONE) -> None:
    """Move there, press, move, let go, with these keys held all along."""
    press(qtbot, view, start, keys)
    move(qtbot, view, start, end, steps, keys)
    release(qtbot, view, end, keys)


def click(qtbot: QtBot, view: BoardView, at: Point, keys: Keys = NONE) -> None:
    """Press and let go at one place, with these keys held."""
    press(qtbot, view, at, keys)
    release(qtbot, view, at, keys)


def double_click(qtbot: QtBot, view: BoardView, at: Point) -> None:
    """Click twice at one place, as Qt tells it: press, release, double click, release."""
    click(qtbot, view, at)
    qtbot.mouseDClick(view.viewport(), LEFT, pos=spot(view, at))
    qtbot.mouseRelease(view.viewport(), LEFT, pos=spot(view, at))
    QApplication.processEvents()
