"""The cross: the hand of the keyboard while a tool is in hand, or an outline or a box is being drawn.

Arrows move it, Page Up and Page Down take it from pin to pin, to marks and to the points of outlines, Home to the
middle of what is seen; Enter presses and lets go there, just as the mouse would, so what is near draws it too. Where a
gesture is a drag (a frame that gathers), one Enter begins it and the next ends it. It is drawn on the glass, and where
it stands is written at the board's foot and said by a screen reader. The mouse, once it moves, takes over.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QColor, QCursor, QPen
from PySide6.QtWidgets import QAbstractButton, QApplication

from app.board.load_hands import targets_at
from app.board.picking import selected_place
from app.board.snapping import marks_at, pins_at
from app.hand_words import cross_words
from kinematics.values import LARGEST_COORDINATE

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent, QPainter

    from app.board.board import Board
    from app.look import Look
    from kinematics.project import Point

COARSE = 10.0  # an arrow with Ctrl goes so many times as far
ARM_PX, HOLE_PX = 13.0, 3.0  # how far its arms reach, and where they begin: what lies in the middle stays in sight
EDGE_PX = 48.0  # the sheet is pushed before the cross comes nearer to the edge of what is seen
SHIFT, CTRL, ALT = (
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
)
ARROWS: dict[int, tuple[int, int]] = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}


class Cross:
    """The cross of one board. at : where it stands on the board, mm; None while it isn't shown."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self.at: Point | None = None
        self._pressed: Point | None = None  # where the last press was, which the same place again ends
        self._is_down = False
        board.view.touched.connect(self.hide)
        board.document.selected.connect(lambda _: self._follow())
        board.document.posed.connect(lambda _: self._tell())

    # Keys ------------------------------------------------------------------------------------------------------------

    def press(self, event: QKeyEvent) -> bool:
        """Do what a key says while a tool is in hand; False where it says nothing to the cross."""
        if not self._board.pointer.is_standing or event.modifiers() & ALT:
            return False
        key, modifiers = event.key(), event.modifiers()
        if key in ARROWS:
            self._step(ARROWS[key], modifiers)
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self._jump(1 if key == Qt.Key.Key_PageDown else -1)
        elif key == Qt.Key.Key_Home and not modifiers & (SHIFT | CTRL):
            self._go(self._middle())
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return self._enter(modifiers, event.isAutoRepeat())
        else:
            return False
        return True

    def begin(self) -> None:
        """Show the cross: at what is selected, else in the middle of what is seen."""
        if self.at is None and self._board.pointer.is_standing:
            self._go(selected_place(self._board.document) or self._middle())

    def hide(self) -> None:
        """Take the cross away; a drag that it began ends where it stands."""
        if self.at is None:
            return
        at, self.at, self._pressed, self._board.view.stand_in = self.at, None, None, None
        if self._is_down:
            self._is_down = False
            self._board.view.released.emit(at)
        self._board.tell_cross("")
        self._board.view.viewport().update()

    def drop(self) -> None:
        """The gesture has ended: nothing is held down any more, and no tool in hand needs the cross."""
        self._is_down = False
        self._pressed = None
        if not self._board.pointer.is_standing:
            self.hide()

    def _enter(self, modifiers: Qt.KeyboardModifier, repeat: bool) -> bool:
        """Press where the cross stands. Without one: pick what is selected, as ever; where nothing is, show it."""
        pointer = self._board.pointer
        if self.at is None:
            is_line = pointer.is_drawing and not (pointer.is_boxing or pointer.drags)
            if is_line or (selected_place(self._board.document) is not None and not pointer.is_drawing):
                return False
            self.begin()
        elif not repeat:
            self._click(self.at, modifiers)
        return True

    def _click(self, at: Point, modifiers: Qt.KeyboardModifier) -> None:
        """Press and let go; a drag lets go with the next Enter, and an outline ends where it is pressed twice."""
        pointer, view = self._board.pointer, self._board.view
        view.modifiers = modifiers & (SHIFT | CTRL)
        if self._is_down:
            self._is_down = False
            view.released.emit(at)
        else:
            double = pointer.is_drawing and not (pointer.is_boxing or pointer.drags) and at == self._pressed
            self._pressed = at
            self._is_down = pointer.drags
            view.pressed.emit(at, double)
            if not self._is_down:
                view.released.emit(at)
        self._hover()

    # Moving ----------------------------------------------------------------------------------------------------------

    def _step(self, way: tuple[int, int], modifiers: Qt.KeyboardModifier) -> None:
        if self.at is None:
            self.begin()
        preferences = self._board.document.preferences
        coarse = preferences.nudge * (COARSE if modifiers & CTRL else 1.0)
        step = preferences.fine_nudge if modifiers & SHIFT else coarse
        if self.at is not None:
            self._go((self.at[0] + way[0] * step, self.at[1] + way[1] * step))

    def _jump(self, step: int) -> None:
        """Go to the next place that a pin, a mark or a point of an outline gives (+1), or to the one before (−1)."""
        places = self._places()
        if not places:
            return
        here = self.at if self.at is not None else selected_place(self._board.document)
        if here in places:
            self._go(places[(places.index(here) + step) % len(places)])
        else:
            self._go(places[0 if step > 0 else -1])

    def _places(self) -> list[Point]:
        """Where pins stand, then marks, loads, the points of the outlines that are shown; each place once."""
        project, placements = self._board.document.project, self._board.placements
        stand = *pins_at(project, placements), *marks_at(project, placements), *targets_at(project, placements)
        found = [each.at for each in stand]
        for line in project.outlines:
            if not line.hidden and line.on in placements:
                found += map(placements[line.on].carry, line.points)
        return list(dict.fromkeys(found))

    def _middle(self) -> Point:
        """The middle of what is seen, at whole steps of a nudge."""
        camera, covered = self._board.view.camera, self._board.covered_left
        x, y = self._board.view.to_mm(QPointF((covered + camera.size[0]) / 2, camera.size[1] / 2))
        step = self._board.document.preferences.nudge
        return step * round(x / step), step * round(y / step)

    def _follow(self) -> None:
        """Go to what was selected meanwhile, such as in the list of parts."""
        place = selected_place(self._board.document)
        if self.at is not None and not self._is_down and place is not None and self._board.pointer.is_standing:
            self._go(place)

    def _go(self, at: Point) -> None:
        x, y = (min(max(each, -LARGEST_COORDINATE), LARGEST_COORDINATE) for each in at)
        self.at = self._board.view.stand_in = (x, y)
        self._keep_in_sight(self.at)
        self._hover()

    def _keep_in_sight(self, at: Point) -> None:
        """Push the sheet where the cross would leave what is seen of it."""
        view = self._board.view
        spot, (wide, high) = view.to_px(at), view.camera.size
        x = _overshoot(spot.x(), self._board.covered_left + EDGE_PX, wide - EDGE_PX)
        y = _overshoot(spot.y(), EDGE_PX, high - EDGE_PX)
        if x or y:
            view.pan(-x, -y)
            self._board.arrange()

    def _hover(self) -> None:
        """Let the gesture see where the hand is now; the keys that are held are the cross's own, not the hand's."""
        view = self._board.view
        if self.at is not None:
            view.modifiers = Qt.KeyboardModifier.NoModifier
            (view.moved if self._is_down else view.hovered).emit(self.at)
            self._tell()

    # Telling ---------------------------------------------------------------------------------------------------------

    def _tell(self) -> None:
        """Write where it stands at the board's foot, and have it said."""
        if self.at is None:
            return
        board = self._board
        words = cross_words(self.at, board.hit_at(self.at), board.pointer.desk.led, board.document.units)
        board.tell_cross(words)
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(board, words))
        board.view.viewport().update()

    def draw(self, painter: QPainter, look: Look) -> None:
        """Draw it on the glass: two strokes with the paper around them, so that it is seen over anything."""
        if self.at is None:
            return
        spot = self._board.view.to_px(self.at)
        lines = [
            QLineF(spot + way * HOLE_PX, spot + way * ARM_PX)
            for way in (QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1))
        ]
        for ink, wide in ((look.paper, 5.0), (look.selection, 2.0)):
            painter.setPen(QPen(QColor(ink), wide))
            painter.drawLines(lines)


def pressed_by_keys() -> bool:
    """Tell whether a button was pressed by a key just now: it has the keys, and the mouse is elsewhere."""
    button = QApplication.focusWidget()
    return isinstance(button, QAbstractButton) and not button.rect().contains(button.mapFromGlobal(QCursor.pos()))


def _overshoot(at: float, low: float, high: float) -> float:
    """How far a place lies below `low` (negative) or above `high`."""
    return at - low if at < low else max(at - high, 0.0)
