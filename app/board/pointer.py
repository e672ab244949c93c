"""The pointer: which gesture a press begins, which tool is in hand, and what lies under it.

A gesture begins with a press and ends with its release. A tool, and the drawing of an outline, *stand*: they go on from
one click to the next until they are done or given up.
"""

from __future__ import annotations

from inspect import GEN_RUNNING, getgeneratorstate
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from app.board import actions, crowd, drawing, foot_hands, gestures, hands, plate_drag, plate_hands
from app.board.boxes import BOX_HINT, draw_box
from app.board.course import SHORT, WAYS, next_way
from app.board.cross import pressed_by_keys
from app.board.desk import BoardDesk
from app.board.load_hands import is_spot
from app.board.tools import work
from app.board.view import CURSORS
from app.document import Selection
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.board.board import Board
    from app.board.boxes import Drawn
    from app.board.hits import Hit
    from app.board.tools import Tool
    from app.document import Document
    from kinematics.project import Point

DRAWING_HINT = (
    "Click the points of the outline (arrow keys and Enter), now {way}; B: {after}. Double-click or Enter twice ends "
    "it, the first point closes it, Esc drops it. Shift: every 15°. Ctrl: no snapping."
)
SHIFT, CTRL = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier


class Pointer:
    """The hand on one board."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self.desk = BoardDesk(board)
        self.hit: Hit | None = None
        self.tool: Tool | None = None
        self.is_drawing = False
        self.is_boxing = False
        self.is_lining = False  # whether an outline, or a zone, is being drawn, point by point
        self._hint = DRAWING_HINT
        self.drags = False  # whether the gesture that stands is done with the button held
        self._gesture: gestures.Gesture | None = None
        self._letters: frozenset[str] = frozenset()
        self._last: Point | None = None
        view = board.view
        view.pressed.connect(self._press)
        view.moved.connect(self._move)
        view.released.connect(lambda at: self._send(gestures.Release(at)))
        view.hovered.connect(self._hover)
        view.clicked.connect(self._click)

    @property
    def _document(self) -> Document:
        return self._board.document

    @property
    def is_standing(self) -> bool:
        """Whether a tool is in hand, or an outline is being drawn."""
        return self.tool is not None or self.is_drawing

    @property
    def is_busy(self) -> bool:
        """Whether a gesture is under way."""
        return self._gesture is not None

    # Tools -----------------------------------------------------------------------------------------------------------

    def take_tool(self, tool: Tool | None) -> None:
        """Take a tool up, or with None put it away. Building is done with the panel shut: it is brought there."""
        self.give_up()
        if tool is None:
            return
        self._document.commit()
        if tool.shut and self._document.pose.turns.any():
            self._document.set_opening(0.0)
        self.tool, self.drags = tool, tool.drags
        self._stand(work(self.desk, tool))

    def draw_outline(self, link_id: str, on_done: gestures.Done, hint: str = DRAWING_HINT) -> None:
        """Let an outline be drawn on a link by clicks. hint : what is said meanwhile, of `way` and the one `after`."""
        self.give_up()
        self.is_drawing = self.is_lining = True
        self._hint = hint
        self._say_way()
        self._stand(drawing.draw_outline(self.desk, link_id, on_done, self._board.way))

    def turn(self) -> None:
        """Let the next piece of the line that is being drawn run as the board says."""
        if self.is_lining:
            self._say_way()
            self._send(gestures.Turn(self._board.way))
            self.again()

    def _say_way(self) -> None:
        way = self._board.way
        self._board.say(self._hint.format(way=WAYS[way], after=SHORT[next_way(way)]))

    def draw_box(self, link_id: str, on_done: Drawn) -> None:
        """Let a box be drawn on a link, from corner to corner."""
        self.give_up()
        self.is_drawing = self.is_boxing = True
        self._board.say(BOX_HINT)
        self._stand(draw_box(self.desk, link_id, on_done))

    def let(self, make: Callable[[gestures.Desk], gestures.Gesture], *, drags: bool = False) -> None:
        """Let a gesture stand until it is done or given up. drags : whether it is done with the button held."""
        self.give_up()
        self._document.commit()
        self.is_drawing, self.drags = True, drags
        self._stand(make(self.desk))

    def _stand(self, gesture: gestures.Gesture) -> None:
        self._gesture = gesture
        keyed = pressed_by_keys()
        next(gesture)
        self.set_cursor()
        self._board.show_tool()
        self._board.setFocus()
        self._board.settle()
        if keyed:
            self._board.cross.begin()

    def enter(self) -> bool:
        """Enter: end the outline that is being drawn, or pick with a tool what is selected. False for neither."""
        if not self.is_standing:
            return False
        self._send(gestures.Enter())
        return True

    def give_up(self) -> bool:
        """Give up the gesture or put the tool away, as Esc does. Tells whether there was one."""
        gesture, self._gesture = self._gesture, None
        if gesture is None:
            return False
        gesture.close()
        self._end()
        self._board.settle()
        return True

    def _end(self) -> None:
        stood, self.tool = self.is_standing, None
        self.is_drawing = self.is_boxing = self.is_lining = self.drags = False
        if stood:
            self._board.say("")
            self._board.show_tool()
        self._board.cross.drop()
        self.set_cursor()

    # Presses and moves -----------------------------------------------------------------------------------------------

    def _press(self, at: Point, double: bool) -> None:
        self._board.setFocus(Qt.FocusReason.MouseFocusReason)
        self._document.commit()
        modifiers = self._board.view.modifiers
        press = gestures.Press(at, self.desk.reach, double, bool(modifiers & (SHIFT | CTRL)))
        if self.is_standing:
            self._send(press)
            return
        self.give_up()
        self.hit = self._board.hit_at(at)
        if double and self.hit is not None and self.hit.kind == "outline":
            actions.insert_point(self._document, self.hit.id, at)
            return
        if double and self.hit is not None and self.hit.kind == "zone":
            actions.insert_corner(self._document, self.hit.id, at)
            return
        self._gesture = self._gesture_for(press, self.hit)
        if self._gesture is None:
            self._board.view.push_sheet()
        else:
            self._last = None
            next(self._gesture)

    def _gesture_for(self, press: gestures.Press, found: Hit | None) -> gestures.Gesture | None:
        """Choose what a press begins; None where nothing moves by the hand, so that it pushes the sheet."""
        if found is None:
            framing = bool(self._board.view.modifiers & SHIFT)
            return crowd.gather(self.desk, press, more=True) if framing else None
        if found.kind == foot_hands.HIT:
            project = self._document.project
            link = project.panel if found.id == "bracket" else project.fixed
            return foot_hands.drag_foot(self.desk, press, found.id, link.id)
        selection = selection_of(found)
        if press.more:
            return crowd.take_more(self.desk, press, selection, self._alone(press, found))
        if len(self._document.selections) > 1 and selection in self._document.selections:
            return crowd.drag(self.desk, press, selection) if crowd.is_movable(selection) else None
        return self._alone(press, found)

    def _alone(self, press: gestures.Press, found: Hit) -> gestures.Gesture | None:
        """Choose what a press on one thing begins."""
        project, selection = self._document.project, selection_of(found)
        if found.kind == "pivot":
            return hands.drag_pivot(self.desk, press, found.id)
        if found.kind == plate_hands.HIT:
            return plate_drag.drag_grip(self.desk, press, selection)
        if found.kind in ("mark", "point", "corner") or is_spot(selection):
            return hands.drag_point(self.desk, press, selection, hands.rides(project, selection))
        if found.kind in ("measure", "zone", "device") or (link_id := project.rides_on(found.id)) == project.fixed.id:
            return None
        return hands.swing(self.desk, press, selection, link_id)

    def _send(self, event: gestures.Event) -> None:
        if self._gesture is None or getgeneratorstate(self._gesture) == GEN_RUNNING:
            return  # none, or one that is at work: what it does may itself move the sheet under the pointer
        if isinstance(event, gestures.Move):
            self._last = event.at
        self._hold()
        try:
            self._gesture.send(event)
        except StopIteration:
            self._gesture = None
            self._end()
        except HingewrightError as fault:  # such as a place that no project holds: what was begun is given up
            self._gesture = None
            self._document.cancel()
            self._end()
            self._document.noticed.emit(str(fault))
        self._board.settle()

    def _move(self, at: Point) -> None:
        """What is dragged stays in sight: what is said about the drag gives way to it."""
        self._send(gestures.Move(at))
        if self.is_busy:
            self._board.keep_hint_clear(at)

    def _click(self) -> None:
        """A click on what can't be moved selects it; on nothing, selects nothing."""
        found = self.hit
        self._document.select(selection_of(found) if found is not None and found.kind in STILL else None)

    def _hover(self, at: Point | None) -> None:
        if self.is_standing and at is not None:
            self._board.keep_hint_clear(at)
            self._send(gestures.Move(at))
        self.look_at(None if at is None or self.is_drawing else self._board.hit_at(at))

    def look_at(self, found: Hit | None) -> None:
        """Take note of what lies under the pointer."""
        if found != self.hit:
            self.hit = found
            self.set_cursor()
            self._board.show_marking()

    def set_cursor(self) -> None:
        """Show by the pointer's shape what a press would do."""
        shape = CURSORS[self.hit.kind] if self.hit is not None else Qt.CursorShape.ArrowCursor
        self._board.view.viewport().setCursor(Qt.CursorShape.CrossCursor if self.is_standing else shape)

    # Held keys -------------------------------------------------------------------------------------------------------

    def hold(self, letter: str, down: bool) -> None:
        """A key is held down that changes what a drag does ("length", "join"), or let go."""
        self._letters = self._letters | {letter} if down else self._letters - {letter}
        self.again()

    def holds(self, letter: str) -> bool:
        """Whether a key is held."""
        return letter in self._letters

    def again(self) -> None:
        """Do the last move again, as held keys have changed."""
        if self._gesture is not None and self._last is not None:
            self._send(gestures.Move(self._last))

    def let_go(self) -> None:
        """No letter is held any more."""
        self._letters = frozenset()

    def _hold(self) -> None:
        modifiers = self._board.view.modifiers
        asked = {"free": CTRL, "line": SHIFT}
        self.desk.held = self._letters | {name for name, key in asked.items() if modifiers & key}


STILL = ("outline", "link", "measure", "zone", "device")


def selection_of(found: Hit) -> Selection:
    """Give what is selected by a click on a thing."""
    if found.kind == "point":
        return Selection("outline", found.id, found.part)
    if found.kind == "corner":
        return Selection("zone", found.id, found.part)
    if found.kind == plate_hands.HIT:
        return Selection("link", found.id, found.part)
    if found.kind == "end":
        return Selection("device", found.id, found.part)
    return Selection(found.kind, found.id)
