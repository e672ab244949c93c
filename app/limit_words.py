"""The words of limits: which way a mark goes, and how far it may.

A builder says back and ahead, not left and right: back is away from the panel's front, on whichever side of the sheet
that is. Where nobody can tell (an upright panel, none drawn), left and right must do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_length

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.results import Check

__all__ = ["LimitWay", "limit_want", "limit_ways", "reads_zero", "shift_words", "towards"]

TOWARDS = {"dx": ("to the right", "to the left"), "dy": ("up", "down")}
"""Where a mark goes, by axis, for positive and negative shifts; x runs to the right, y up."""
ALONG = {1: ("ahead", "back"), -1: ("back", "ahead")}
"""The same sideways, where it is known on which side the panel's front is: `Check.ahead`."""


def limit_want(check: Check, units: Units, *, fine: bool) -> str:
    """What a limit asks for: "at most 2.0 mm to the left", "at least 5.0 mm up", "nothing to the left"."""
    forward, back = towards(check)
    if check.side.endswith("at_least"):
        forward, back = back, forward  # the side that is limited comes first
    limited = check.want if check.side.endswith("at_most") else -check.want
    if limited == 0.0:
        return f"nothing {forward}"
    word = "at most" if limited > 0.0 else "at least"
    fine = fine or reads_zero(limited, units)
    return f"{word} {format_length(abs(limited), units, fine=fine)} {forward if limited > 0.0 else back}"


def towards(check: Check) -> tuple[str, str]:
    """Where a limit's mark goes, for positive and for negative shifts, in the builder's words."""
    axis = check.side[:2]
    return ALONG.get(check.ahead, TOWARDS["dx"]) if axis == "dx" else TOWARDS[axis]


@dataclass(frozen=True, slots=True)
class LimitWay:
    """A way in which a mark may go too far: its name, the side of a limit that bounds it, and the bound's sign."""

    name: str
    side: str
    sign: float


def limit_ways(ahead: int) -> tuple[LimitWay, ...]:
    """The four ways, first the one that hurts most: back (or left), ahead (or right), down, up.

    ahead : side of the sheet on which the panel's front is, +1 right, −1 left, 0 neither.
    """
    right, left = ALONG.get(ahead, TOWARDS["dx"])
    sideways = (LimitWay(left, "dx_at_least", -1.0), LimitWay(right, "dx_at_most", 1.0))
    up, down = TOWARDS["dy"]
    back_first = sideways[::-1] if right == "back" else sideways
    return (*back_first, LimitWay(down, "dy_at_least", -1.0), LimitWay(up, "dy_at_most", 1.0))


def reads_zero(mm: float, units: Units) -> bool:
    """Tell whether a length reads as nothing once it is rounded."""
    return format_length(mm, units) == format_length(0.0, units)


def shift_words(value: float | None, check: Check, units: Units, *, fine: bool) -> str:
    """How far a mark goes, and which way: "3.3 mm back"; what reads as nothing has no side."""
    if value is None:
        return NOTHING
    positive, negative = towards(check)
    size = format_length(abs(value), units, fine=fine)
    if size == format_length(0.0, units, fine=fine):
        return size
    return f"{size} {positive if value > 0.0 else negative}"
