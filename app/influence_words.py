"""What moving a pin does to the worst check, said plainly: "1 mm up gives 0.6 mm more, 1 mm to the left 0.3 mm more".

Each direction is told the way that helps; the other way takes as much. In inches the step is a sixteenth.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from app.check_figures import AT_MOST
from app.lengths import exact_length, format_angle, format_force, format_length, style_of
from app.strength_words import safety_words
from app.words import check_name

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.influence import Influence

__all__ = ["influence_sentence"]

GAINS = {
    "zone": "brings the pin {} further in",
    **dict.fromkeys(AT_MOST, "takes {} off it"),
    **dict.fromkeys(("limit", "roof", "shut gap"), "gives {} more room"),
}
ANGLE_GAINS = {
    "opening": "lets it open {} further",
    "transmission": "gives {} more",
    "rests": "lets it rest {} further",
    "stop": "gives it {} more",
}
"""What is won where the figure is a length, and where it is an angle, by kinds of checks."""
WAYS = (("up", "down"), ("to the right", "to the left"))  # for y and x, positive and negative
HARDLY = 0.005  # mm (degrees) per mm; less than that is said to be nothing
STEPS = {"mm": 1.0, "in": 25.4 / 16}  # mm of a step, by units


def influence_sentence(found: Influence | None, units: Units) -> str:
    """Say what a pin does to the worst check."""
    if found is None:
        return "How far the worst check moves with this pin can't be told just here."
    name = check_name(found.check, units)
    step = STEPS[style_of(units).units]
    x, y = found.per_mm
    if hypot(x, y) < HARDLY:
        return f"Moving this pin a little changes nothing about the worst check, {name}."
    moves = []
    for rate, ways in zip((y, x), WAYS, strict=True):
        if abs(rate) >= HARDLY:
            way = ways[0] if rate > 0.0 else ways[1]
            moves.append((way, _gain(found, abs(rate) * step, units)))
    told = exact_length(step, units)
    first, *others = (f"{told} {way} {gain}" for way, gain in moves)
    rest = f"; {others[0]}" if others else f"; {'sideways' if abs(x) < HARDLY else 'up or down'} changes nothing"
    return f"Worst check, {name}: {first}{rest}. The other way takes as much."


def _gain(found: Influence, amount: float, units: Units) -> str:
    """What is won by a step in the helpful direction."""
    if found.by_depth:
        return f"makes the contact {_length(amount, units)} less deep"
    if found.in_contact:
        return f"makes the contact {format_angle(amount, units, fine=amount < 0.1)} shorter"
    kind = found.check.kind
    if kind in GAINS:
        return GAINS[kind].format(_length(amount, units))
    if kind in ANGLE_GAINS:
        return ANGLE_GAINS[kind].format(format_angle(amount, units, fine=amount < 0.1))
    if kind == "strength":
        return f"gives it {safety_words(amount, units, fine=amount < 0.1)} more safety"
    push = f"makes it {format_force(amount, units)} lighter"
    return push if kind == "push" else f"gives {_length(amount, units)} more"


def _length(mm: float, units: Units) -> str:
    """A short length; with all its digits where rounding would make nothing of it."""
    short = format_length(mm, units)
    return format_length(mm, units, fine=True) if short == format_length(0.0, units) else short
