"""Pinch places on the sheet: a caution sign with a few words where a finger is caught. No Qt here.

A dot stands where the gap is narrowest, in the fixed link's frame, whatever the pose; the sign stands beside it, where
it hides no pin. They fail no check.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.shapes import Label, Layer, Shape, Symbol
from app.words import pinch_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from app.look import Look
    from kinematics.pinching import Pinch

ROOM = 150.0
"""mm that must be longer on the sheet than the words, or the sign stands alone: from afar they would only crowd it."""


def pinch_marks(pinches: Sequence[Pinch], link_id: str, look: Look, units: Units) -> list[Shape]:
    """Give the sign and the words of every place; link_id : the fixed link."""
    found: list[Shape] = []
    for place, pinch in enumerate(pinches):
        key = f"pinch:{place}"
        found.append(Symbol(key, link_id, (pinch.place,), "dot", look.path, look.paper, Layer.GAPS))
        found.append(
            Label(
                f"{key}:label", link_id, pinch.place, f"pinch, {pinch_words(pinch, units)}", look.path, look.paper,
                look.small_px, rank=7, leader=True, clear_px=9.0, span=ROOM, glyph="caution",
            )
        )  # fmt: skip
    return found
