"""Drawing a box on the board by dragging from corner to corner, or by two clicks. No widgets here."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeAlias

from app.board import marking
from app.board.drawing import rounded
from app.board.gestures import Move, Press, Release, is_far, placement_of
from app.board.guiding import Guide
from app.hand_words import box_words
from kinematics import wanting
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Generator

    from app.board.gestures import Desk, Event
    from kinematics.project import Point

Drawn: TypeAlias = Callable[[tuple["Point", ...]], None]
BOX_HINT = "Drag a box from corner to corner, or click two corners (arrow keys and Enter); Esc drops it."


def draw_box(desk: Desk, link_id: str, on_done: Drawn) -> Generator[None, Event, None]:
    """Draw a box, upright on the sheet, at the pose that is shown.

    `on_done` gets its four corners as shut points of the link; none when it was dropped or has no size.
    """
    try:
        one, other = yield from _corners(desk)
    except GeneratorExit:
        _clear(desk)
        on_done(())
        raise
    _clear(desk)
    back = placement_of(desk.document, link_id).back
    try:
        corners = tuple(map(back, wanting.box(one, other)))
    except HingewrightError as error:
        desk.document.refuse(str(error))
        corners = ()
    on_done(corners)


def _corners(desk: Desk) -> Generator[None, Event, tuple[Point, Point]]:
    """Wait for two opposite corners: a press and a release far from it, or two presses."""
    guide, first, start = Guide(desk), None, None
    while True:
        event = yield
        if not isinstance(event, Press | Move | Release):
            continue
        at = rounded(guide.lead(event.at), desk.step)
        if first is None or start is None:
            first, start = (event, at) if isinstance(event, Press) else (None, None)
        elif isinstance(event, Press) or (isinstance(event, Release) and is_far(first, event.at)):
            return start, at
        else:
            words = box_words(abs(at[0] - start[0]), abs(at[1] - start[1]), desk.document.units)
            desk.draw(marking.frame_shapes(start, at, desk.document.project.fixed.id, desk.look, words))


def _clear(desk: Desk) -> None:
    desk.draw(())
    desk.show_led(None)
