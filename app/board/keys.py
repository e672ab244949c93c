"""What keys do on the board. Esc gives up, arrows nudge, F fits, L locks, letters take up tools, and some change a drag
while they are held; what isn't known here is the window's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer

from app.board import actions, crowd, hands
from app.board.course import next_way
from app.board.cross import ARROWS
from app.board.tools import TOOLS
from kinematics.arranging import LISTS, LOCKABLE

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from app.board.board import Board
    from app.document import Selection

PUSH_PX = 40.0  # an arrow key without a selection pushes the sheet by this
ZOOM = 1.2
REPEAT_MS = 60
PAIR_MS = 4
"""A key that repeats may be told as let go and pressed at one moment; no finger is as quick."""
HELD = {Qt.Key.Key_R: "length", Qt.Key.Key_J: "join"}
"""Letters that change a drag while they are held."""
MODIFIERS = {
    Qt.Key.Key_Shift: Qt.KeyboardModifier.ShiftModifier,
    Qt.Key.Key_Control: Qt.KeyboardModifier.ControlModifier,
}
TOOL_KEYS = {Qt.Key[f"Key_{tool.key}"]: tool.name for tool in TOOLS}
DELETE = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)
CHORDS = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


class Keys:
    """The keys of one board. A nudge lasts as long as its key is held down, and is one step."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self._nudging: tuple[Selection, ...] = ()
        self._paused: tuple[int, int, tuple[Selection, ...]] | None = None  # key and time of a nudge's end, and of what
        self._let_go: dict[str, QTimer] = {}

    def press(self, event: QKeyEvent) -> bool:
        """Do what a key says; False where it says nothing."""
        if self._hold(event, down=True):
            return True
        if self._board.cross.press(event):
            return True
        if event.modifiers() & CHORDS:
            return False
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if event.key() in ARROWS:
            preferences = self._board.document.preferences
            self._resume_nudge(event)
            self._arrow(ARROWS[event.key()], preferences.fine_nudge if fine else preferences.nudge)
            return True
        return self._show(event.key(), fine) or self._do(event.key(), event.isAutoRepeat())

    def release(self, event: QKeyEvent) -> bool:
        """End what a key began; False where it began nothing."""
        if self._hold(event, down=False):
            return True
        if event.isAutoRepeat():
            return event.key() in ARROWS or event.key() == Qt.Key.Key_Space
        if event.key() in ARROWS:
            self._pause_nudge(event)
        elif event.key() == Qt.Key.Key_Space:
            self._board.hold_sheet(down=False)
        else:
            return False
        return True

    def _hold(self, event: QKeyEvent, *, down: bool) -> bool:
        """Keys that change a drag while they are held; False for others."""
        pointer, view, key = self._board.pointer, self._board.view, Qt.Key(event.key())
        if key in MODIFIERS:
            view.modifiers = view.modifiers | MODIFIERS[key] if down else view.modifiers & ~MODIFIERS[key]
            pointer.again()
            return False
        if key not in HELD or pointer.is_standing or not (pointer.is_busy or not down):
            return False
        if not event.isAutoRepeat():
            self._hold_letter(HELD[key], down=down)
        return True

    def _hold_letter(self, name: str, *, down: bool) -> None:
        """A letter goes down or up. Some desktops tell a key that repeats as let go and pressed again: it counts as let
        go only once it has stayed so for a moment.
        """
        pointer = self._board.pointer
        if name not in self._let_go:
            timer = self._let_go[name] = QTimer(self._board)
            timer.setSingleShot(True)
            timer.setInterval(REPEAT_MS)
            timer.timeout.connect(lambda: pointer.hold(name, down=False))
        self._let_go[name].stop()
        if not down:
            self._let_go[name].start()
        elif not pointer.holds(name):
            pointer.hold(name, down=True)

    def let_go(self) -> None:
        """End what any key began."""
        for timer in self._let_go.values():
            timer.stop()
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
        """Keys that do something to the gesture under way, take up a tool, or do something to what is selected."""
        if key == Qt.Key.Key_Escape:
            return self._escape()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return self._board.pointer.enter()
        if repeat:
            return False
        if key == Qt.Key.Key_B and self._board.pointer.is_lining:
            self._board.set_way(next_way(self._board.way))
            return True
        if key in TOOL_KEYS:
            return self._take_tool(TOOL_KEYS[Qt.Key(key)])
        return self._do_selected(key)

    def _do_selected(self, key: int) -> bool:
        """Keys that do something to what is selected."""
        document, chosen = self._board.document, self._board.document.selection
        if chosen is None:
            return False
        if key == Qt.Key.Key_L and chosen.kind in LOCKABLE:
            actions.toggle_lock(document, chosen.kind, chosen.id)
        elif key == Qt.Key.Key_H and chosen.kind in LISTS:
            actions.toggle_hidden(document, chosen.kind, chosen.id)
        elif key in DELETE and chosen.part is not None and len(document.selections) == 1:
            actions.delete_part(document, chosen)
        else:
            return False
        return True

    def _take_tool(self, name: str) -> bool:
        """Take a tool up, but not while something is dragged."""
        pointer = self._board.pointer
        if pointer.is_standing or not pointer.is_busy:
            self._board.take_tool(name)
            self._board.cross.begin()
        return True

    def _escape(self) -> bool:
        document = self._board.document
        if self._nudging:
            self._nudging = ()
            document.cancel()
        elif not self._board.give_up():
            if document.selection is None:
                return False
            document.select(None)
        return True

    def _arrow(self, way: tuple[int, int], step: float) -> None:
        """Nudge what is selected, or push the sheet."""
        document, chosen = self._board.document, self._board.document.selections
        if len(chosen) > 1:
            chosen = tuple(crowd.movable(document) if self._nudging != chosen else chosen)
        if not chosen or not hands.can_nudge(chosen[-1]):
            self._board.view.pan(-way[0] * PUSH_PX, way[1] * PUSH_PX)
            return
        if self._nudging != chosen or not document.is_dragging:
            one = len(chosen) == 1
            document.begin(
                hands.nudge_label(document.project, chosen[0]) if one else f"Nudge {crowd.count_words(chosen)}"
            )
            self._nudging = chosen
        by = way[0] * step, way[1] * step
        if len(chosen) == 1:
            hands.nudge(document, chosen[0], by)
        else:
            crowd.nudge(document, chosen, by)

    def _pause_nudge(self, event: QKeyEvent) -> None:
        """End the nudge as its key is let go, so that all stands; should the key only repeat, it will go on."""
        self._paused = (event.key(), event.timestamp(), self._nudging) if self._nudging else None
        self._end_nudge()

    def _resume_nudge(self, event: QKeyEvent) -> None:
        """Go on with the nudge that ended in the very moment in which its key is pressed again: on some desktops a key
        that is held down repeats so, and all of it is one step.
        """
        paused, self._paused = self._paused, None
        if paused is None or self._nudging or not event.timestamp():
            return
        key, moment, chosen = paused
        same = key == event.key() and 0 <= event.timestamp() - moment <= PAIR_MS
        if same and chosen == self._board.document.selections and self._board.document.resume():
            self._nudging = chosen

    def _end_nudge(self) -> None:
        if self._nudging:
            self._nudging = ()
            self._board.document.commit()
