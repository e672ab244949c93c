"""What keys do on the board. Esc gives up, arrows nudge, F fits, L locks; what isn't known here is the window's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from app.board import actions, hands
from kinematics.arranging import LOCKABLE

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from app.board.board import Board
    from app.document import Selection

PUSH_PX = 40.0  # an arrow key without a selection pushes the sheet by this
ZOOM = 1.2
ARROWS: dict[int, tuple[int, int]] = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}
CHORDS = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


class Keys:
    """The keys of one board. A nudge lasts as long as its key is held down, and is one step."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self._nudging: Selection | None = None

    def press(self, event: QKeyEvent) -> bool:
        """Do what a key says; False where it says nothing."""
        if event.modifiers() & CHORDS:
            return False
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if event.key() in ARROWS:
            preferences = self._board.document.preferences
            self._arrow(ARROWS[event.key()], preferences.fine_nudge if fine else preferences.nudge)
            return True
        return self._show(event.key(), fine) or self._do(event.key(), event.isAutoRepeat())

    def release(self, event: QKeyEvent) -> bool:
        """End what a key began; False where it began nothing."""
        if event.isAutoRepeat():
            return event.key() in ARROWS or event.key() == Qt.Key.Key_Space
        if event.key() in ARROWS:
            self._end_nudge()
        elif event.key() == Qt.Key.Key_Space:
            self._board.hold_sheet(down=False)
        else:
            return False
        return True

    def let_go(self) -> None:
        """End what any key began."""
        self._end_nudge()
        self._board.hold_sheet(down=False)

    def _show(self, key: int, fine: bool) -> bool:
        """Keys that only change what is seen."""
        if key in (Qt.Key.Key_F, Qt.Key.Key_Home):
            (self._board.fit_pins if fine else self._board.fit)()
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus):
            self._board.view.zoom(1 / ZOOM if key == Qt.Key.Key_Minus else ZOOM)
        elif key == Qt.Key.Key_Space:
            self._board.hold_sheet(down=True)
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            actions.step_pivot(self._board.document, 1 if key == Qt.Key.Key_PageDown else -1)
        else:
            return False
        return True

    def _do(self, key: int, repeat: bool) -> bool:
        """Keys that do something to the gesture under way, or to what is selected."""
        document, chosen = self._board.document, self._board.document.selection
        if key == Qt.Key.Key_Escape:
            return self._escape()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._board.is_drawing:
            self._board.finish_drawing()
            return True
        if chosen is None or repeat:
            return False
        if key == Qt.Key.Key_L and chosen.kind in LOCKABLE:
            actions.toggle_lock(document, chosen.kind, chosen.id)
        elif key == Qt.Key.Key_H:
            actions.toggle_hidden(document, chosen.kind, chosen.id)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and chosen.kind == "outline" and chosen.part is not None:
            actions.delete_point(document, chosen.id, chosen.part)
        else:
            return False
        return True

    def _escape(self) -> bool:
        document = self._board.document
        if self._nudging is not None:
            self._nudging = None
            document.cancel()
        elif not self._board.give_up():
            if document.selection is None:
                return False
            document.select(None)
        return True

    def _arrow(self, way: tuple[int, int], step: float) -> None:
        """Nudge what is selected, or push the sheet."""
        document, chosen = self._board.document, self._board.document.selection
        if chosen is None or not hands.can_nudge(chosen):
            self._board.view.pan(-way[0] * PUSH_PX, way[1] * PUSH_PX)
            return
        if self._nudging != chosen or not document.is_dragging:
            document.begin(hands.nudge_label(chosen))
            self._nudging = chosen
        hands.nudge(document, chosen, (way[0] * step, way[1] * step))

    def _end_nudge(self) -> None:
        if self._nudging is not None:
            self._nudging = None
            self._board.document.commit()
