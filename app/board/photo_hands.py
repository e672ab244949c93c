"""What the hand does with a photo beneath the board: pick points of it, drag it. Gestures; no widgets here.

A point of the photo is picked where it is seen on the board, and told in pixels. A click is as sure as a pixel of the
screen is, or one of the photo where the board shows that larger: `Spotted.miss_px` says so, so that whoever comes near
picks better, and is told so.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from app.board.desk import REACH_PX
from app.board.gestures import Enter, Move, Press, Release, placement_of
from app.board.guiding import Guide
from app.shapes import Layer, Pen, Stroke, Symbol
from kinematics import beneath
from kinematics.errors import HingewrightError
from kinematics.pictures import CLICK_PX, inverse, through

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Sequence

    from app.board.gestures import Desk, Event
    from app.shapes import Shape
    from kinematics.project import Picture, Point

LEAVE = " The wheel comes nearer; Esc leaves."


@dataclass(frozen=True, slots=True)
class Spotted:
    """A picked point. px : of the photo, pixels.     at : mm, shut, of the photo's link.     miss_px : by how much the
    click may miss, pixels of the photo.
    """

    px: Point
    at: Point
    miss_px: float


def spot(desk: Desk, picture: Picture, at: Point) -> Spotted:
    """Give the point of a photo that is seen at a place of the board. ProjectError on its horizon."""
    shut = placement_of(desk.document, picture.on).back(at)
    back = inverse(picture.place.matrix)
    px = through(back, shut)
    beside = through(back, (shut[0] + desk.reach / REACH_PX, shut[1]))  # a pixel of the screen further
    return Spotted(px, shut, max(CLICK_PX, hypot(beside[0] - px[0], beside[1] - px[1]) / 2))


Act = ParamSpec("Act")


def sparing(
    act: Callable[Concatenate[Desk, Act], Generator[None, Event, None]],
) -> Callable[Concatenate[Desk, Act], Generator[None, Event, None]]:
    """Let a gesture end with a sentence when its photo is gone meanwhile, by undo for one."""

    def spared(desk: Desk, /, *values: Act.args, **named: Act.kwargs) -> Generator[None, Event, None]:
        try:
            yield from act(desk, *values, **named)
        except HingewrightError as fault:
            _clear(desk)
            desk.document.noticed.emit(str(fault))

    return spared


@sparing
def pick_spots(
    desk: Desk, picture_id: str, sentences: Sequence[str], on_done: Callable[[list[Spotted]], object]
) -> Generator[None, Event, None]:
    """Pick a point of a photo for each sentence; then `on_done` gets them all."""
    found: list[Spotted] = []
    for sentence in sentences:
        found.append((yield from _spotted(desk, picture_id, sentence, found)))
    _clear(desk)
    on_done(found)


@sparing
def pick_pairs(
    desk: Desk, picture_id: str, on_done: Callable[[list[tuple[Spotted, Point]]], object]
) -> Generator[None, Event, None]:
    """Pick points of a photo, and after each the place where it belongs, on another photo or on what is drawn.

    Enter, or a double click, ends; `on_done` gets what was picked, places as mm of the photo's link.
    """
    pairs: list[tuple[Spotted, Point]] = []
    try:
        while True:
            more = "" if len(pairs) < 2 else " Enter: that is all."
            sentence = f"Point {len(pairs) + 1}: click it on {picture_id}.{more}"
            spotted = yield from _spotted(desk, picture_id, sentence, (), pairs, ends=len(pairs) >= 2)
            to = yield from _belongs(desk, picture_id, spotted, pairs)
            pairs.append((spotted, to))
    except _EnoughError:
        pass
    _clear(desk)
    on_done(pairs)


class _EnoughError(Exception):
    """The builder has picked all."""


def _spotted(
    desk: Desk,
    picture_id: str,
    sentence: str,
    before: Sequence[Spotted],
    pairs: Sequence[tuple[Spotted, Point]] = (),
    *,
    ends: bool = False,
) -> Generator[None, Event, Spotted]:
    """Wait for a point of the photo; `ends`: Enter and a double click are the end of it all."""
    desk.say(sentence + LEAVE)
    _draw(desk, picture_id, before, pairs)
    while True:
        event = yield
        if ends and (isinstance(event, Enter) or (isinstance(event, Press) and event.double)):
            raise _EnoughError
        if isinstance(event, Press) and not event.double:
            picture = desk.document.project.picture(picture_id)
            try:
                return spot(desk, picture, event.at)
            except HingewrightError as fault:  # on its horizon
                desk.document.noticed.emit(str(fault))


def _belongs(
    desk: Desk, picture_id: str, spotted: Spotted, pairs: Sequence[tuple[Spotted, Point]]
) -> Generator[None, Event, Point]:
    """Wait for the place where a point belongs; what is near draws the hand."""
    desk.say(f"Point {len(pairs) + 1}: click where it belongs, on the other photo, a pin, a mark or a line.{LEAVE}")
    _draw(desk, picture_id, (spotted,), pairs)
    guide = Guide(desk)
    while True:
        event = yield
        if isinstance(event, Move):
            guide.lead(event.at)
        elif isinstance(event, Press) and not event.double:
            at = guide.lead(event.at).at
            desk.show_led(None)
            return placement_of(desk.document, desk.document.project.picture(picture_id).on).back(at)


def _draw(desk: Desk, picture_id: str, found: Sequence[Spotted], pairs: Sequence[tuple[Spotted, Point]] = ()) -> None:
    """Show what has been picked so far, and of pairs from where to where each point goes."""
    link, look = desk.document.project.picture(picture_id).on, desk.look
    at = (*(spotted.at for spotted, _ in pairs), *(each.at for each in found))
    pen = Pen(look.selection, 1.0, (4.0, 3.0))
    shapes: list[Shape] = [
        Stroke(f"sketch:pair {number}", link, (spotted.at, to), pen, Layer.HANDS)
        for number, (spotted, to) in enumerate(pairs)
    ]
    shapes.append(Symbol("sketch:spots", link, at, "handle", look.selection, look.paper, Layer.HANDS))
    desk.draw(shapes if at else ())


def _clear(desk: Desk) -> None:
    desk.draw(())
    desk.show_led(None)


@sparing
def drag_photo(desk: Desk, picture_id: str) -> Generator[None, Event, None]:
    """Drag a photo about: each drag is one step; Esc leaves."""
    words = f"Drag {picture_id} to where it belongs, from anywhere on it."
    desk.say(words + LEAVE)
    while True:
        event = yield
        if isinstance(event, Press):
            yield from _dragged(desk, picture_id, event.at)


def _dragged(desk: Desk, picture_id: str, start: Point) -> Generator[None, Event, None]:
    document = desk.document
    document.begin(f"Move {picture_id}")
    before = document.project
    back = placement_of(document, before.picture(picture_id).on).back
    origin = back(start)
    try:
        while True:
            event = yield
            if not document.is_dragging:  # undone meanwhile
                return
            if isinstance(event, Move | Release):
                to = back(event.at)
                shift = to[0] - origin[0], to[1] - origin[1]
                document.preview(beneath.move_picture(before, picture_id, shift))
            if isinstance(event, Release):
                document.commit()
                return
    except GeneratorExit:
        document.cancel()
        raise
