"""Picks: what a click of a tool takes hold of. No widgets here.

A pick is a place of the board with what lies there: the *spot* where a pin would be (`kinematics.building`), and the
*anchor* that a measure would take. The hand may be led first, by what it snaps to.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.board.gestures import Enter, Move, Press, Release, is_far, placement_of
from app.board.guiding import Guide
from app.board.hands import rides, shut_point
from app.board.hits import Hit, pivot_place
from app.board.load_hands import is_spot
from app.shapes import placed
from kinematics.building import Spot
from kinematics.measures import Anchor

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Sequence

    from app.board.gestures import Desk, Event
    from app.board.snapping import Snap
    from app.document import Document
    from app.shapes import Shape
    from kinematics.project import Point


LEAVE = " Esc leaves."


@dataclass(frozen=True, slots=True)
class Pick:
    """What was picked. at : place on the board.     anchor : the place on what lies there, on bare paper on the fixed
    link.     thing : the whole of what lies there; None on bare paper.
    """

    at: Point
    spot: Spot
    anchor: Anchor
    thing: Anchor | None

    @property
    def body(self) -> str:
        """The link that was picked, "" for bare paper and for a pin."""
        return self.spot.link


def picked(
    desk: Desk,
    sentence: str,
    guide: Guide,
    show: Callable[[Pick], Sequence[Shape]] | None = None,
    dragged: Press | None = None,
) -> Generator[None, Event, tuple[Pick, Press]]:
    """Wait for the next pick; gives it, and the press that made it.

    show : what to draw while the hand looks for it.
    dragged : the press of the pick before: letting go far from it is a pick too, so that one may drag from one place
        to the other.
    """
    desk.say(sentence)
    while True:
        event = yield
        if isinstance(event, Move):
            found = pick(desk, event.at, guide.lead(event.at))
            desk.draw(show(found) if show is not None else ())
        elif isinstance(event, Press) and not event.double:  # twice at one place is an unsteady finger
            return pick(desk, event.at, guide.lead(event.at)), event
        elif isinstance(event, Release) and dragged is not None and is_far(dragged, event.at):
            return pick(desk, event.at, guide.lead(event.at)), Press(event.at, dragged.reach)
        elif isinstance(event, Release):
            dragged = None
        elif isinstance(event, Enter):
            at = selected_place(desk.document)
            if at is not None:
                return pick(desk, at, guide.lead(at)), Press(at, desk.reach)


def picked_body(desk: Desk, sentence: str, but: str = "") -> Generator[None, Event, str]:
    """Wait for a link: by its band, its bar, or an outline of it. Asked again until there is one."""
    guide = Guide(desk, leads=False)
    while True:
        found, press = yield from picked(desk, sentence + LEAVE, guide)
        bodies = [body for body in desk.bodies_at(press.at) if body != but]
        body = found.body if found.body and found.body != but else next(iter(bodies), "")
        if body:
            return body
        desk.document.refuse("There is no link to pick there. Click its band, its bar or an outline of it.")


def selected_place(document: Document) -> Point | None:
    """Give where the selected pivot, mark or point stands: what Enter picks."""
    chosen = document.selection
    if chosen is None or not (
        chosen.kind in ("pivot", "mark") or is_spot(chosen) or (chosen.kind == "outline" and chosen.part is not None)
    ):
        return None
    if chosen.kind == "pivot":
        return pivot_place(document.project, placed(document.analysis, document.pose), chosen.id)
    return placement_of(document, rides(document.project, chosen)).carry(shut_point(document.project, chosen))


def pick(desk: Desk, at: Point, led: Snap) -> Pick:
    """Give what lies where the hand is, or was led to."""
    target = led.target
    found = Hit(target.kind, target.id, target.part) if target is not None else desk.thing_at(at)
    if found is None:
        return Pick(led.at, Spot(led.at), Anchor(link=desk.document.project.fixed.id, at=led.at), None)
    take = {"pivot": _on_pivot, "mark": _on_mark, "point": _on_point}.get(found.kind, _on_body)
    return take(desk, found, led.at)


def _on_pivot(desk: Desk, found: Hit, at: Point) -> Pick:
    anchor = Anchor(pivot=found.id)
    return Pick(at, Spot(desk.document.project.pivot(found.id).at, pivot=found.id), anchor, anchor)


def _on_mark(desk: Desk, found: Hit, at: Point) -> Pick:
    mark, anchor = desk.document.project.mark(found.id), Anchor(mark=found.id)
    return Pick(at, Spot(mark.at, link=mark.on), anchor, anchor)


def _on_point(desk: Desk, found: Hit, at: Point) -> Pick:
    outline, part = desk.document.project.outline(found.id), found.part or 0
    spot = Spot(outline.points[part], link=outline.on)
    return Pick(at, spot, Anchor(outline=outline.id, point=part), Anchor(outline=outline.id))


def _on_body(desk: Desk, found: Hit, at: Point) -> Pick:
    """A link's band or bar, or an outline: a place on the link that it moves with."""
    body = desk.document.project.rides_on(found.id)
    back = placement_of(desk.document, body).back(at)
    thing = Anchor(outline=found.id) if found.kind == "outline" else Anchor(link=found.id)
    return Pick(at, Spot(back, link=body), Anchor(link=body, at=back), thing)
