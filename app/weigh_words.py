"""What weighing on two supports tells, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_length
from app.quantities import MASS
from kinematics.weighing import READING

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.weighing import Weighed

__all__ = ["outside_words", "weighed_sentences"]

NOTICED = 0.005
"""Kg by which two weighings may differ without a word."""
FAR = 50.0
"""Mm outside what is drawn from which on a centre of gravity is doubted."""


def weighed_sentences(found: Weighed, units: Units) -> list[str]:
    """Say mass and centre of gravity, and how sure they are."""
    mass, along = MASS.format(found.mass, units), format_length(found.along, units)
    off = MASS.format(READING, units)
    said = [f"It weighs {mass}; its centre of gravity is {along} from A towards B."]
    if found.height is None or found.height_off is None:
        return [
            *said,
            f"A reading off by {off} shifts it by {format_length(found.along_off, units)}.",
            "How high it is isn't told by one weighing: raise B and weigh once more.",
        ]
    side = "over" if found.height >= 0.0 else "under"
    said.append(f"It is {format_length(abs(found.height), units)} {side} the line from A to B.")
    said.append(
        f"A reading off by {off} shifts it by {format_length(found.along_off, units)} along and by "
        f"{format_length(found.height_off, units)} in height; the higher B is raised, the less."
    )
    if abs(found.differs) > NOTICED:
        said.append(f"The two weighings differ by {MASS.format(abs(found.differs), units)}; their mean is taken.")
    return said


def outside_words(by: float, units: Units) -> list[str]:
    """Doubt a centre of gravity that lies far outside what is drawn; nothing for one that doesn't."""
    if by <= FAR:
        return []
    far = format_length(by, units)
    return [f"That is {far} outside what is drawn of it: look at the supports' places and at the readings again."]
