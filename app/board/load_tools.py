"""The tools that put loads on the sheet: a mass, the handle, a strut or a spring between two links. No widgets here.

A place on a link's band or outline belongs to that link; a click on bare paper, or on a pin, which several links share,
is followed by a click on the link that is meant. The first end of a strut or spring on bare paper is on the fixed link:
the body is seldom drawn where its bracket will be.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from app.board import marking
from app.board.gestures import placement_of
from app.board.guiding import Guide
from app.board.picking import picked, picked_body
from app.document import Selection
from kinematics import loading
from kinematics.parts import Attachment, Mass

if TYPE_CHECKING:
    from collections.abc import Callable, Generator

    from app.board.gestures import Desk, Event
    from app.board.picking import Pick
    from app.document import Document
    from app.shapes import Shape
    from kinematics.project import Point

Act: TypeAlias = "Callable[[Desk], Generator[None, Event, None]]"
LEAVE = " Esc leaves."
TYPE_MASS = "Type at the right how heavy it is."
NAMES = {"gas strut": "strut", "tension spring": "spring"}


def mass(desk: Desk) -> Generator[None, Event, None]:
    """Put a mass on a link, of 0 kg until its mass is typed."""
    on, at = yield from _put(desk, "Mass: click where its centre of gravity is.", "the mass")
    if desk.document.attempt(f"Add mass on {on}", lambda project: loading.add_mass(project, Mass(on, 0.0, at))):
        desk.document.select(Selection("mass", loading.mass_names(desk.document.project)[-1]))
        desk.document.refuse(TYPE_MASS)


def handle(desk: Desk) -> Generator[None, Event, None]:
    """Say where the hand lifts."""
    on, at = yield from _put(desk, "Handle: click where the hand lifts.", "the handle")
    if desk.document.attempt("Put handle", lambda project: loading.put_handle(project, on, at)):
        desk.document.select(Selection("handle", loading.HANDLE))


def device(kind: str, desk: Desk) -> Generator[None, Event, None]:
    """Put a device of a kind between two links."""
    name, document = NAMES[kind], desk.document
    word, fixed = name.capitalize(), document.project.fixed.id
    first = yield from picked_end(
        desk, f"{word}: click its first end, on paper for the body.", f"the {name}'s first end", fixed
    )
    here = placement_of(document, first.on).carry(first.at)

    def show(second: Pick) -> list[Shape]:
        return marking.sketch_shapes((here, second.at), fixed, desk.look)

    words = f"{word}: click its other end."
    place, _ = yield from picked(desk, words + LEAVE, Guide(desk, about=here), show)
    second = yield from attached(desk, place, f"the {name}'s other end", "")
    put_device(document, kind, first, second)


def put_device(document: Document, kind: str, first: Attachment, second: Attachment) -> None:
    """Put a device of a kind between two ends, with figures that fit there: one step; and select it."""
    short, long = span(document, first, second)
    id_ = loading.free_device_id(document.project, NAMES[kind])
    made = loading.usual_device(id_, kind, first, second, short, long)
    if document.attempt(f"Add {id_}", lambda project: loading.add_device(project, made)):
        document.select(Selection("device", id_))


def span(document: Document, first: Attachment, second: Attachment) -> tuple[float, float]:
    """Give how near and how far two ends come over the travel, mm."""
    paths = [document.analysis.path(end.on, end.at) for end in (first, second)]
    lengths = np.hypot(*(paths[1] - paths[0]).T)
    return float(lengths.min()), float(lengths.max())


def _put(desk: Desk, sentence: str, what: str) -> Generator[None, Event, tuple[str, Point]]:
    """Wait for a place on a link; gives the link and the shut point."""
    place, _ = yield from picked(desk, sentence + LEAVE, Guide(desk))
    found = yield from attached(desk, place, what, "")
    return found.on, found.at


def picked_end(desk: Desk, sentence: str, what: str, on_paper: str) -> Generator[None, Event, Attachment]:
    """Wait for a place where something is pinned; `on_paper` is the link that bare paper stands for."""
    place, _ = yield from picked(desk, sentence + LEAVE, Guide(desk))
    return (yield from attached(desk, place, what, on_paper))


def attached(desk: Desk, place: Pick, what: str, on_paper: str) -> Generator[None, Event, Attachment]:
    """The link and the shut point of a picked place; the link is asked for where the place doesn't say it.

    on_paper : the link that bare paper stands for; "": it is asked for.
    """
    spot = place.spot
    on = spot.link or ("" if spot.pivot else on_paper)
    if not on:
        desk.draw(marking.picked_shapes(place.at, desk.document.project.fixed.id, desk.look))
        on = yield from picked_body(desk, f"Now click the link that {what} is on: its band, its bar or an outline.")
    return Attachment(on, spot.at if spot.link == on else _tidy(placement_of(desk.document, on).back(place.at)))


def _tidy(point: Point) -> Point:
    """Drop the dust of turning a place back."""
    return round(point[0], 9), round(point[1], 9)


ROWS: tuple[tuple[str, str, str, str, Act], ...] = (
    ("Mass", "M", "Put a mass on a link: click its centre of gravity.", "mass", mass),
    ("Handle", "K", "Say where the hand lifts: click the place on the panel.", "handle", handle),
    ("Strut", "U", "Put a gas strut between two links: click one end, then the other.", "strut",
     partial(device, "gas strut")),
    ("Spring", "I", "Put a spring between two links: click one end, then the other; its kind is changed at the right.",
     "spring", partial(device, "tension spring")),
)  # fmt: skip
