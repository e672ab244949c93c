"""A click that says a place of one link, such as where a panel lies on a support. No widgets here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board.gestures import placement_of
from app.board.guiding import Guide
from app.board.picking import picked

if TYPE_CHECKING:
    from collections.abc import Callable, Generator

    from app.board.gestures import Desk, Event
    from kinematics.project import Point

LEAVE = " Esc leaves."


def pick_place(
    desk: Desk, sentence: str, link: str, on_done: Callable[[Point], object]
) -> Generator[None, Event, None]:
    """Wait for a click; `on_done` gets its place as a shut point of the link, whatever else lies there."""
    try:
        found, _ = yield from picked(desk, sentence + LEAVE, Guide(desk))
    finally:
        desk.show_led(None)
        desk.say("")
    on_done(placement_of(desk.document, link).back(found.at))
