"""What a measure measures, and what it reads, in a few words; lengths in the builder's units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_angle, format_length

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.measures import Anchor, Measure
    from kinematics.measuring import Reading


def anchor_words(anchor: Anchor) -> str:
    """Name what a measure takes hold of."""
    if anchor.point is not None:
        return f"point {anchor.point + 1} of {anchor.name}"
    if anchor.at is not None:
        return f"a point of {anchor.name}"
    return anchor.name if anchor.kind in ("outline", "link") else f"{anchor.kind} {anchor.name}"


def measure_words(measure: Measure) -> str:
    """Say what is measured: "distance from pivot A to point 3 of hatch skin"."""
    names = [anchor_words(anchor) for anchor in measure.of]
    if measure.kind == "distance":
        return f"distance from {names[0]} to {names[1]}"
    if measure.kind == "angle":
        return f"angle at {names[1]} between {names[0]} and {names[2]}"
    if measure.kind == "path":
        return f"path of {names[0]} through the travel"
    return f"clearance of {names[0]} and {names[1]}"


def reading_words(measure: Measure, reading: Reading, units: Units) -> str:
    """Say a figure as it stands on the board: "128.0 mm", "54.3°", "path 412.3 mm, 120.0 mm to here", "touch"."""
    if reading.value is None:
        return NOTHING
    if measure.kind == "angle":
        return format_angle(reading.value, units)
    length = format_length(reading.value, units)
    if measure.kind == "path":
        return f"path {length}, {format_length(reading.so_far, units)} to here"
    if measure.kind == "clearance":
        return "touch" if reading.value <= 0.0 else f"clear {length}"
    return length
