"""The tools that measure: pick one, two or three things, and the measure stays on the board. No widgets here."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from app.board.guiding import Guide
from app.board.picking import picked
from app.dimensions import dimension_shapes
from app.document import Selection
from kinematics import edits
from kinematics.measures import NEEDS, Measure, free_measure_id
from kinematics.project import anchored

if TYPE_CHECKING:
    from collections.abc import Generator

    from app.board.gestures import Desk, Event
    from app.board.picking import Pick
    from app.document import Document
    from app.shapes import Shape
    from kinematics.measures import Anchor

PLACE = "a pin, a mark, a point, or any place on a link"
SENTENCES = {
    "distance": (f"Distance: click where it begins: {PLACE}.", "Distance: click where it ends."),
    "angle": (
        f"Angle: click a place on its first side: {PLACE}.",
        "Angle: click its corner.",
        "Angle: click a place on its other side.",
    ),
    "path": ("Path: click a pin, a mark or a place on a link; the length of its path through the travel is shown.",),
    "clearance": (
        "Clearance: click the first thing: an outline, a link, a pin or a mark.",
        "Clearance: click the other thing.",
    ),
}


def measure(kind: str, desk: Desk) -> Generator[None, Event, None]:
    """Take a measure and leave it on the board: one step."""
    document = desk.document
    anchors: list[Anchor] = []
    guide = Guide(desk, leads=kind != "clearance")  # a thing that is picked whole has no place to be led to
    while len(anchors) < NEEDS[kind]:

        def show(found: Pick) -> list[Shape]:
            anchor = _anchor(kind, found)
            return [] if anchor is None else _preview(desk, kind, [*anchors, anchor])

        found, _ = yield from picked(desk, f"{SENTENCES[kind][len(anchors)]} Esc leaves.", guide, show)
        anchor = _anchor(kind, found)
        if anchor is None:
            document.refuse("There is nothing there to measure to. Click an outline, a link, a pin or a mark.")
        elif anchor.key in [each.key for each in anchors]:
            document.refuse("That is the same again. Click something else to measure to.")
        else:
            anchors.append(anchor)
    leave(document, kind, tuple(anchors))


def leave(document: Document, kind: str, anchors: tuple[Anchor, ...]) -> None:
    """Leave a measure on the board, and select it."""
    name = free_measure_id(document.project.measures, kind)
    if document.attempt(
        f"Measure {name}",
        lambda project: edits.add_measure(project, Measure(name, kind, anchors)),  # type: ignore[arg-type]
    ):
        document.select(Selection("measure", name))


def _anchor(kind: str, found: Pick) -> Anchor | None:
    """What a pick means to a measure: for a clearance the whole thing, else the place; None on bare paper."""
    return found.thing if kind == "clearance" else found.anchor


def _preview(desk: Desk, kind: str, anchors: list[Anchor]) -> list[Shape]:
    """The measure as it would be, once there is enough picked."""
    if len(anchors) < NEEDS[kind]:
        return []
    from kinematics.measuring import Readings

    document, project = desk.document, desk.document.analysis.project
    there = anchored(project.links, project.pivots, project.outlines, project.marks)
    if not all(map(there, anchors)) or len({each.key for each in anchors}) < len(anchors):
        return []  # a part that has gone meanwhile, or the same twice
    made = Measure("sketch", kind, tuple(anchors))  # type: ignore[arg-type]
    return dimension_shapes(Readings(document.analysis), document.pose, made, desk.look, document.units)


ROWS = (
    ("Distance", "D", "Measure the distance of two places; it stays on the board and follows them.", "distance",
     partial(measure, "distance")),
    ("Angle", "A", "Measure the angle at the second of three places.", "angle", partial(measure, "angle")),
    ("Path", "Y", "Measure how long the path of a pin, a mark or a place is through the travel.", "path",
     partial(measure, "path")),
    ("Clearance", "C", "Measure how near any two things are to each other at the pose shown.", "clearance",
     partial(measure, "clearance")),
)  # fmt: skip
