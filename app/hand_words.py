"""What the hand is told: what it snapped to, in a few words.

Lengths are said in the builder's units; the tools' own sentences stand with the tools (`app.board.tools`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.device_words import load_name
from app.lengths import format_angle, format_length

if TYPE_CHECKING:
    from app.board.hits import Hit
    from app.board.snapping import Hold, Snap, Target
    from app.lengths import Units
    from kinematics.project import Point


def target_words(target: Target) -> str:
    """Name a place to land on: "pivot A", "mark rear corner", "point 3 of hatch skin", "drawn point 2"."""
    if target.kind == "point":
        return f"point {(target.part or 0) + 1} of {target.id}"
    return f"{target.kind} {target.id}"


def hold_words(hold: Hold, units: Units) -> str:
    """Say what holds the hand: "on pivot A", "level with B", "as long as arm, 128.0 mm", "on a line of the
    10 mm squares".
    """
    if hold.kind == "kept line":
        return f"keeps {hold.way}"
    if hold.kind == "kept length" and hold.ring is not None:
        return f"keeps the length of {hold.ring.link}, {format_length(hold.ring.radius, units)}"
    if hold.kind == "length" and hold.ring is not None:
        return f"as long as {hold.ring.link}, {format_length(hold.ring.radius, units)}"
    if hold.kind == "grid" or hold.target is None:
        part = "corner" if all(abs(x - hold.grid * round(x / hold.grid)) < 1e-6 for x in hold.place) else "line"
        return f"on a {part} of the {format_length(hold.grid, units, fine=True)} squares"
    if hold.kind == "on":
        return f"on {target_words(hold.target)}"
    return f"{hold.kind} with {hold.target.id}"


def snap_words(snap: Snap, units: Units) -> str:
    """Say what the hand snapped to, all of it."""
    return ", ".join(hold_words(hold, units) for hold in snap.holds)


def stretch_words(length: float, turn_deg: float, units: Units) -> str:
    """Say how long a stretch is that is being drawn, and its angle from level, anticlockwise: "128.0 mm, 37.5°"."""
    return f"{format_length(length, units)}, {format_angle(turn_deg, units)}"


def box_words(wide: float, high: float, units: Units) -> str:
    """Say the size of a box that is being drawn: "120.0 mm wide, 40.0 mm high"."""
    return f"{format_length(wide, units)} wide, {format_length(high, units)} high"


def cross_words(at: Point, found: Hit | None, led: Snap | None, units: Units) -> str:
    """Say where the cross stands, what lies there, and what it is drawn to: "Cross at 12.0 mm, 40.0 mm: pivot A.
    Enter clicks."
    """
    x, y = (format_length(each, units) for each in at)
    drawn = f"; {snap_words(led, units)}" if found is None and led is not None and led.holds else ""
    return f"Cross at {x}, {y}: {hit_words(found)}{drawn}. Enter clicks."


def hit_words(found: Hit | None) -> str:
    """Name what lies at a place: "pivot A", "point 3 of hatch skin", "paper"."""
    if found is None:
        return "paper"
    if found.kind in ("mass", "handle", "end"):
        return load_name(found.kind, found.id, found.part)
    if found.kind == "foot":
        return f"foot of the {found.id}"
    if found.kind == "plate grip":
        return f"grip {(found.part or 0) + 1} of the plate of {found.id}"
    return f"point {(found.part or 0) + 1} of {found.id}" if found.kind == "point" else f"{found.kind} {found.id}"
