"""Tools: building by hand and measuring, each one action as a generator that reads from top to bottom. No widgets here.

A tool says at the board's foot what to click next, waits for picks (`app.board.picking`), and does one edit: one step.
Then it begins again, until Esc leaves it. What an edit refuses is said, and nothing changes.
"""

from __future__ import annotations

from collections.abc import Callable, Generator
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from app.board import corners, load_tools, marking, measure_tools
from app.board.crowd import drag, gather, is_movable
from app.board.gestures import Desk, Event, Press, placement_of
from app.board.guiding import Guide
from app.board.hands import tell_locked
from app.board.hits import on_hull
from app.board.picking import picked, picked_body
from app.document import Selection
from kinematics import building, edits
from kinematics.building import Spot

if TYPE_CHECKING:
    from app.board.picking import Pick
    from app.document import Document
    from app.shapes import Shape
    from kinematics.project import Point, Project

Act: TypeAlias = Callable[[Desk], Generator[None, Event, None]]
LEAVE = " Esc leaves."


@dataclass(frozen=True, slots=True)
class Tool:
    """One tool. key : the letter that takes it up.   name : on its button.   tip : what it is for, and how.
    icon : name of its picture.     shut : whether it works on the panel shut.     drags : whether its press is held.
    """

    name: str
    key: str
    tip: str
    icon: str
    act: Act
    shut: bool = True
    drags: bool = False


def work(desk: Desk, tool: Tool) -> Generator[None, Event, None]:
    """Do a tool's action again and again, until it is closed."""
    try:
        while True:
            yield from tool.act(desk)
            desk.draw(())
    finally:
        desk.draw(())
        desk.show_led(None)
        desk.say("")


def _asked(desk: Desk, sentence: str, guide: Guide | None = None) -> Generator[None, Event, Pick]:
    """Wait for one pick, nothing drawn meanwhile."""
    found, _ = yield from picked(desk, sentence + LEAVE, guide or Guide(desk))
    return found


# ------------------------------------------------------------------------------------------------------------- linking
def link(desk: Desk) -> Generator[None, Event, None]:
    """Make a link between two places."""
    words = "Link: click its first end, on a pin, a link or an outline to join it there, on paper to leave it free."
    first, press = yield from picked(desk, words + LEAVE, Guide(desk))
    fixed = desk.document.project.fixed.id

    def show(second: Pick) -> list[Shape]:
        return marking.sketch_shapes((first.at, second.at), fixed, desk.look)

    words = "Link: click its other end, or drag there."
    second, _ = yield from picked(desk, words + LEAVE, Guide(desk, about=first.at), show, press)
    document = desk.document
    name, width = edits.free_id(document.project, "link"), usual_width(document.project)
    if document.attempt(
        f"Make {name}", lambda project: building.make_link(project, name, first.spot, second.spot, width)
    ):
        document.select(Selection("link", name))


def usual_width(project: Project) -> float:
    """Give the width of the link that was made last: a new one is as wide."""
    return next((each.width for each in reversed(project.links) if each.kind == "link"), 0.0)


def pivot(desk: Desk) -> Generator[None, Event, None]:
    """Put a pin through two links at a place; on a pin that is there: one more link."""
    place = yield from _asked(desk, "Pivot: click where the pin goes; where two links lie, it joins them.")
    desk.draw(marking.picked_shapes(place.at, desk.document.project.fixed.id, desk.look))
    if place.spot.pivot:
        other = yield from picked_body(desk, f"Pivot: click the link that {place.spot.pivot} goes through too.")
        _pin(desk.document, other, place.spot)
        return
    bodies = desk.bodies_at(place.at)
    if len(bodies) == 2:
        _pin(desk.document, bodies[1], _spot_on(desk, bodies[0], place))
        return
    first = place.body or (yield from picked_body(desk, "Pivot: click the first link that the pin goes through."))
    other = yield from picked_body(desk, f"Pivot: click the link that it joins with {first}.", but=first)
    _pin(desk.document, other, _spot_on(desk, first, place))


def _spot_on(desk: Desk, body: str, place: Pick) -> Spot:
    """The spot at a picked place on a link."""
    return place.spot if place.spot.link == body else Spot(placement_of(desk.document, body).back(place.at), link=body)


def _pin(document: Document, link_id: str, spot: Spot) -> None:
    name = spot.pivot or building.free_pin(document.project)
    label = f"Put {link_id} on {name}" if spot.pivot else f"Add pivot {name}"
    if document.attempt(label, lambda project: building.add_pin_to_link(project, link_id, spot)):
        document.select(Selection("pivot", name))


def third_pin(desk: Desk) -> Generator[None, Event, None]:
    """Give a link one more pin."""
    link_id = yield from picked_body(desk, "Third pin: click the link that gets one more pin.")
    place = yield from _asked(
        desk, f"Third pin: click where {link_id} gets it: on another link, on a pin, or on paper for a free end."
    )
    spot = place.spot
    if not spot.pivot and spot.link in ("", link_id):  # on paper, or within its own band
        others = [body for body in desk.bodies_at(place.at) if body != link_id]
        back = placement_of(desk.document, link_id).back(place.at)
        spot = _spot_on(desk, others[0], place) if others else Spot(back)
    document = desk.document
    if document.attempt(f"Give {link_id} a pin", lambda project: building.add_pin_to_link(project, link_id, spot)):
        document.select(Selection("link", link_id))


def split(desk: Desk) -> Generator[None, Event, None]:
    """Split a link in two with a pin between."""
    words = "Split: click a link between two of its pins; a new pin parts it in two there."
    place = yield from _asked(
        desk, words, Guide(desk, leads=False)
    )  # the pin comes onto the link, whatever led the hand
    document = desk.document
    link_id = place.body
    if not link_id:
        document.refuse("There is no link to split there. Click a link between two of its pins.")
        return
    at = on_hull(document.project, link_id, place.spot.at, desk.reach)
    name = edits.free_id(document.project, "link")
    if document.attempt(f"Split {link_id}", lambda project: building.split_link(project, link_id, at, name)):
        document.select(Selection("pivot", document.project.pivots[-1].id))


# -------------------------------------------------------------------------------------------------- joining and parting
def join(desk: Desk) -> Generator[None, Event, None]:
    """Make one pin of two."""
    kept = yield from _pin_asked(desk, "Join: click the pin that stays.")
    gone = yield from _pin_asked(desk, f"Join: click the pin that becomes one with {kept}; it comes to stand there.")
    join_pins(desk.document, kept, gone)


def join_pins(document: Document, kept: str, gone: str) -> None:
    """Make one pin of two: one step. A locked one doesn't go to another, and says so."""
    if tell_locked(document, Selection("pivot", gone)):
        return
    if document.attempt(f"Join pivots {kept} and {gone}", lambda p: building.join_pivots(p, kept, gone)):
        document.select(Selection("pivot", kept))


def part(desk: Desk) -> Generator[None, Event, None]:
    """Take a link off a pin."""
    name = yield from _pin_asked(desk, "Part: click the pin that lets a link go.")
    joins = desk.document.project.pivot(name).joins
    if len(joins) == 2:
        part_pin(desk.document, name)
        return
    while True:
        link_id = yield from picked_body(desk, f"Part: click the link that comes off {name}: {', '.join(joins)}.")
        if link_id in joins:
            part_pin(desk.document, name, link_id)
            return
        desk.document.refuse(f"Pivot {name} doesn't go through {link_id}; it joins {', '.join(joins)}.")


def part_pin(document: Document, name: str, link_id: str = "") -> None:
    """Take a link off a pin: one step."""
    label = f"Take {link_id} off {name}" if link_id else f"Part pivot {name}"
    document.attempt(label, lambda project: building.part_pivot(project, name, link_id))


def _pin_asked(desk: Desk, sentence: str) -> Generator[None, Event, str]:
    """Wait for a pin."""
    guide = Guide(desk, leads=False)
    while True:
        _, press = yield from picked(desk, sentence + LEAVE, guide)
        hit = desk.thing_at(press.at)
        if hit is not None and hit.kind == "pivot":
            return hit.id
        desk.document.refuse("There is no pin there. Click the middle of one.")


# ------------------------------------------------------------------------------------------------------------ gathering
def gathering(desk: Desk) -> Generator[None, Event, None]:
    """Select what lies in a frame; a press on one of those that are selected moves them all."""
    desk.say("Gather: drag a frame around pins and marks, then drag one of them to move all; Shift adds more." + LEAVE)
    while True:
        event = yield
        if isinstance(event, Press):
            grabbed = None if event.more else _gathered_at(desk, event.at)
            if grabbed is None:
                yield from gather(desk, event, more=event.more)
            else:
                yield from drag(desk, event, grabbed)
            return


def _gathered_at(desk: Desk, at: Point) -> Selection | None:
    """Give that one of the selected things which lies at a place and can be moved."""
    document = desk.document
    outline = document.selection.id if document.selection and document.selection.kind == "outline" else ""
    found = desk.thing_at(at, outline)
    if found is None:
        return None
    is_point = found.kind == "point"
    selection = Selection("outline", found.id, found.part) if is_point else Selection(found.kind, found.id)
    return selection if selection in document.selections and is_movable(selection) else None


TOOLS = (
    Tool("Link", "N", "Make a link between two places: click one, then the other.", "link", link),
    Tool("Pivot", "V", "Put a pin through two links: click the place, then the links.", "pivot", pivot),
    Tool("Third pin", "T", "Give a link one more pin; with three it is ternary.", "third pin", third_pin),
    Tool("Split", "S", "Split a link in two, with a new pin between.", "split", split),
    Tool("Join", "J", "Make one pin of two: it joins all that both joined.", "join", join),
    Tool("Part", "X", "Take a link off a pin; what loses its pin has a free end there.", "part", part),
    Tool(
        "Gather",
        "G",
        "Select several pins and marks with a frame; then move them together.",
        "gather",
        gathering,
        shut=False,
        drags=True,
    ),
    Tool("Corner", "W", "Watch a corner of the panel: how far back or down it goes.", "corner", corners.corner, False),
    *(Tool(*row, shut=False) for row in load_tools.ROWS),
    *(Tool(*row, shut=False) for row in measure_tools.ROWS),
)
