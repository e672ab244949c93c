"""Which way to push: an arrow at every free pin that helps the worst check, on the sheet. No Qt here.

Its length tells how much a mm brings, on a fixed scale: 42 pixels for each mm (or degree) per mm. The figure stands
beside it where it is asked for: at pins that are selected or under the pointer.
"""

from __future__ import annotations

from math import atan2, degrees
from typing import TYPE_CHECKING

from app.lengths import style_of
from app.shapes import Label, Layer, Shape, Symbol
from app.symbols import PUSH_MOST, PUSH_STEP, PUSH_TAIL, PUSHES

if TYPE_CHECKING:
    from collections.abc import Container, Mapping

    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Point
    from kinematics.pushing import Push, Pushes

SCALE = 42.0
"""Pixels for each mm (or degree) that a mm brings."""


def push_marks(
    found: Pushes, places: Mapping[str, Point], told: Container[str], link_id: str, look: Look, units: Units
) -> list[Shape]:
    """Give the arrows, and the figures of the pins that are told.

    places : where each pin stands now, on the link `link_id` (the fixed one).
    """
    shapes: list[Shape] = []
    for push in found.pins:
        at = places.get(push.pivot)
        if at is None:
            continue
        glyph = f"push {push_length(push.per_mm)}"
        turn = degrees(atan2(push.way[1], push.way[0]))
        key = f"push:{push.pivot}"
        shapes.append(Symbol(key, link_id, (at,), glyph, look.ink, look.paper, Layer.HANDS, turn))
        if push.pivot in told:
            clear = PUSH_TAIL + push_length(push.per_mm) + 4.0
            words = push_words(push, found.in_degrees, units)
            shapes.append(
                Label(
                    f"{key}:label", link_id, at, words, look.ink, look.paper, look.small_px, push.way, 2, clear_px=clear
                )
            )
    return shapes


def push_length(per_mm: float) -> int:
    """Length of an arrow, pixels: of the rate on the scale, but never too short or too long to be read."""
    steps = round(SCALE * per_mm / PUSH_STEP)
    return min(max(steps * PUSH_STEP, PUSHES[0]), PUSH_MOST)


def push_words(push: Push, in_degrees: bool, units: Units) -> str:
    """How much it brings: "+0.8 mm per mm", "+1.2° per mm", and in inches "+0.8 in per in", "+1.9° per 1/16 in"."""
    inches = style_of(units).units == "in"
    if not in_degrees:
        return f"+{push.per_mm:.2g} in per in" if inches else f"+{push.per_mm:.2g} mm per mm"
    return f"+{push.per_mm * 25.4 / 16:.2g}° per 1/16 in" if inches else f"+{push.per_mm:.2g}° per mm"
