"""Things that are commonly in a panel's way, and what is told of them. No Qt here.

The list is for ticking off, so that nothing is thought of only when it touches; the words are ours, and what stands in
it is common practice, no source. Others can be added by name.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.lengths import format_length
from kinematics import edits, wanting

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.project import Outline, Point, Project

THINGS = (
    "wiper drive",
    "air cleaner",
    "engine",
    "battery",
    "fuel filler",
    "hoses",
    "wiring",
    "light",
    "bulkhead stiffener",
    "cross member",
    "latch",
    "seat",
    "knee",
    "elbow",
    "head",
)


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing: ticked where it is to be kept clear of, placed where its outline is drawn; how it stands, in short and
    at length.
    """

    name: str
    ticked: bool
    placed: bool
    words: str
    size: str


def things(project: Project, units: Units) -> tuple[Thing, ...]:
    """Give the common things, then those that this project names besides."""
    names = dict.fromkeys((*THINGS, *project.keep_clear))
    drawn = {outline.id: outline for outline in project.outlines}
    links = project.link_index
    return tuple(
        _thing(name, name in project.keep_clear, drawn.get(name), units) for name in names if name not in links
    )


def _thing(name: str, ticked: bool, outline: Outline | None, units: Units) -> Thing:
    if outline is None:
        return Thing(name, ticked, False, "to be drawn" if ticked else "", "")
    return Thing(name, ticked, True, "placed", _size(outline, units))


def _size(outline: Outline, units: Units) -> str:
    """The size of a thing's box and where it rides: "120 × 80 mm on body"."""
    (left, low), (right, high) = bounds(outline)
    wide = format_length(right - left, units, unit=False)
    return f"{wide} × {format_length(high - low, units)} on {outline.on}"


def bounds(outline: Outline) -> tuple[Point, Point]:
    """Give the lower left and the upper right corner of the upright box around an outline, shut."""
    xs, ys = zip(*outline.points, strict=True)
    return (min(xs), min(ys)), (max(xs), max(ys))


def untick(project: Project, name: str) -> Project:
    """Keep clear of a thing no more: its outline goes too, and every want that names it."""
    if wanting.is_placed(project, name):
        project = edits.remove_outline(project, name)
    return wanting.tick_thing(project, name, ticked=False)
