"""What can be measured on a finished hinge, row by row: as a builder measures it, as drawn, and as it came out.

Heights of fixed pins are told from the level line, places of the panel's pins from its rear corner, as nobody measures
from the drawing's own zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.made_words import FACES, reading_name
from kinematics.made_edits import set_distance, set_found, set_on_pin, set_sheet
from kinematics.made_shapes import face_of, readings
from kinematics.plating import sheet_of
from kinematics.rear_edge import rear_point, side_ahead

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.made_parts import HandMade
    from kinematics.made_shapes import Reading
    from kinematics.project import Project

ON_PINS = "\n"
"""The scope that is no link (no id holds such a sign): what is on the pins."""


@dataclass(frozen=True, slots=True)
class MadeRow:
    """A row: what is measured, mm as drawn and as it came out (None: nobody measured), and the edit that takes it.

    tip : how to measure it.
    """

    name: str
    tip: str
    drawn: float
    made: float | None
    take: Callable[[Project, float | None], Project]


def rows_of(project: Project, hand: str, scope: str) -> list[MadeRow]:
    """Give the rows of a link, or of what is on the pins."""
    made = project.made.of(hand)
    if scope == ON_PINS:
        return _pin_rows(project, hand, made)
    found = [_row(project, hand, each) for each in readings(project, made) if each.link == scope]
    return [row for row in found if row is not None] + _sheet_row(project, hand, made, scope)


def _row(project: Project, hand: str, reading: Reading) -> MadeRow | None:
    """The row of a reading; None of one that is told another way."""
    if reading.kind == "distance":
        return _distance(hand, reading)
    kind = project.link(reading.link).kind
    sideways = "x" if kind == "fixed" else "y"
    if reading.kind == sideways and face_of(project, reading.link) is not None:
        return None  # square off the face says it
    zero, sign, name = _from(project, reading, kind)
    pivot = reading.pins[0]

    def take(now: Project, mm: float | None) -> Project:
        value = None if mm is None else zero + sign * mm
        return set_found(now, hand, reading.link, pivot, reading.kind, value)

    made = None if reading.made is None else sign * (reading.made - zero)
    return MadeRow(name, TIPS[reading.kind], sign * (reading.drawn - zero), made, take)


TIPS = {
    "distance": "Over the outer edges of two pins in their holes, less half the diameter of each.",
    "x": "Along the level, with a square from the mark that is named.",
    "y": "With a level or laser line, and a square.",
    "off": "Square off the face, to the middle of the pin.",
}


def _distance(hand: str, reading: Reading) -> MadeRow:
    pins = (reading.pins[0], reading.pins[1])
    return MadeRow(
        reading_name(reading),
        TIPS["distance"],
        reading.drawn,
        reading.made,
        lambda now, mm: set_distance(now, hand, reading.link, pins, mm),
    )


def _from(project: Project, reading: Reading, kind: str) -> tuple[float, float, str]:
    """From where a reading is told (mm), which way (±1), and its name."""
    pivot = reading.pins[0]
    if reading.kind == "off":
        return 0.0, 1.0, reading_name(reading, FACES[kind])
    if reading.kind == "y" and kind == "fixed":
        return project.walled.level, 1.0, f"{pivot} over level"
    rear = rear_point(project) if kind == "panel" else None
    if reading.kind == "x" and rear is not None:
        return rear[0][0], -1.0 if side_ahead(project) < 0 else 1.0, f"{pivot} from rear"
    return 0.0, 1.0, f"{pivot} {reading.kind}"


def _sheet_row(project: Project, hand: str, made: HandMade, link: str) -> list[MadeRow]:
    thick = next((each.thickness for each in made.sheets if each.link == link), None)
    drawn = sheet_of(project, link)[0]
    tip = "With a caliper or micrometer, clear of burrs and paint."
    return [MadeRow("Thickness", tip, drawn, thick, lambda now, mm: set_sheet(now, hand, link, mm))]


def _pin_rows(project: Project, hand: str, made: HandMade) -> list[MadeRow]:
    """Washers more, and play, of each pin."""
    on_pins, found = {each.pivot: each for each in made.on_pins}, []
    play = 0.0 if project.sureness is None else project.sureness.play
    for pin in project.pivots:
        own = on_pins.get(pin.id)
        more = None if own is None or own.more == 0.0 else own.more
        found.append(
            MadeRow(
                f"{pin.id} thicker by",
                "By how much what lies on this pin is thicker than drawn, washers and shims together: a length, no "
                "number of washers. Negative: thinner.",
                0.0,
                more,
                lambda now, mm, pivot=pin.id: set_on_pin(now, hand, pivot, more=mm),  # type: ignore[misc]
            )
        )
        found.append(
            MadeRow(
                f"{pin.id} play",
                "The hole's diameter less the pin's, or how far the link can be shaken on it.",
                play,
                None if own is None else own.play,
                lambda now, mm, pivot=pin.id: set_on_pin(now, hand, pivot, play=mm),  # type: ignore[misc]
            )
        )
    return found
