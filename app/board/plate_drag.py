"""Dragging a grip of a link's plate: one gesture, one step; Esc takes it back. No widgets here.

A side or the bow follows the hand across the plate, in steps no smaller than can be seen, and catches where it is
straight; Ctrl lets it go freely. Where the plate can't be so, it stays as it last could, and that is said once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board import gestures, plate_hands
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.board.gestures import Desk, Gesture, Press
    from app.document import Document, Selection
    from kinematics.project import Point

CATCH = 0.4
"""Share of the hand's reach within which a side is straight."""


def drag_grip(desk: Desk, press: Press, selection: Selection) -> Gesture:
    """Drag the grip of a plate that is pressed; a click selects it."""
    document = desk.document
    document.select(selection)
    at, is_drag = yield from gestures.moves(press)
    if not is_drag:
        return
    where = gestures.placement_of(document, selection.id)
    was = where.carry(plate_hands.grip_at(document.project, selection))
    told = ""

    def put(at: Point) -> None:
        nonlocal told
        to = where.back((was[0] + at[0] - press.at[0], was[1] + at[1] - press.at[1]))
        told = _put(desk, document, selection, to, told)

    yield from gestures.one_step(document, plate_hands.label(document.project, "Move", selection), at, put)


def _put(desk: Desk, document: Document, selection: Selection, to: Point, told: str) -> str:
    """Preview the grip there; gives what was said against it, "" for nothing."""
    free = "free" in desk.held
    step, near = (0.0, 0.0) if free else (desk.step, CATCH * desk.reach)
    try:
        document.preview(plate_hands.moved(document.project, selection, to, step, near))
    except HingewrightError as fault:
        if not told:
            document.noticed.emit(str(fault))
        return str(fault)
    return ""
