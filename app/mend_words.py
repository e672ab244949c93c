"""The words of putting right: what moves by how much, which wants hold then, or which of them fight."""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from app.lengths import format_angle, format_force, format_length
from app.limit_words import reads_zero
from app.strength_words import safety_words
from app.words import ANGLES, LIFT_KINDS, check_name, check_want

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.mending import Fight, Mended

LOOKING = "Put right: looking for the least moves of the free pins with which all wants hold."
HOLD_ALREADY = "All wants hold already: there is nothing to put right."
LOCKED = "Nothing can be put right, as every pin is locked. Unlock one, in exact entry or in the pin's menu."
STILL = (
    "Nothing can be put right yet: pins are moved by how the panel opens, and it doesn't open, or more than one motion "
    "is possible. What the remarks under the checks say comes first."
)
BY_STRUTS = "Change struts, springs or the handle, or drag pins and watch the check."
BY_METAL = "Change pins, plates or bushings in the drawer Lift, or drag pins and watch the check."
BY_ENDS = "Drag an end of the strut or spring, or take another, and watch the check."
GAP_KINDS = ("gap", "shut gap")
FURTHER = "Find hinges, in the menu View, looks further afield."
MOST_PINS, MOST_WANTS = 4, 3  # how many are told by name


def refusal(mended: Mended, units: Units) -> str:
    """Say why nothing was put right."""
    if mended.why == "locked":
        return LOCKED
    if mended.why == "still":
        return STILL
    lifts = [check_name(fight.check, units) for fight in mended.fighting if fight.check.kind in LIFT_KINDS]
    if lifts:
        return f"Put right moves pins for clearances and travel, not for lifting: {listed(lifts)}. {BY_STRUTS}"
    weak = [check_name(fight.check, units) for fight in mended.fighting if fight.check.kind == "strength"]
    if weak and len(weak) == len(mended.fighting):
        return f"Put right moves pins, and near their places none makes this strong enough: {listed(weak)}. {BY_METAL}"
    project = mended.project
    struts = [
        check_name(fight.check, units)
        for fight in mended.fighting
        if fight.check.kind in GAP_KINDS and any(project.is_device(name) for name in fight.check.subject)
    ]
    if struts:
        return f"Put right moves pins, not struts and springs: {listed(struts)}. {BY_ENDS}"
    drawn = [fight for fight in mended.fighting if fight.as_drawn]
    return fight_sentence(drawn, units) if drawn else f"{fight_sentence(mended.fighting, units)} {FURTHER}"


def moves_sentence(mended: Mended, before: Analysis, units: Units) -> str:
    """Say what would move by how much, and which wants would hold then that fall short now."""
    moves = sorted(((hypot(*by), pin) for pin, by in mended.moved.items()), reverse=True)
    told = [f"{pin} by {_short(far, units)}" for far, pin in moves[:MOST_PINS]]
    rest = moves[MOST_PINS:]
    if rest:
        others = "the other" if len(rest) == 1 else f"{len(rest)} others"
        told.append(f"{others} by {_short(rest[0][0], units)} or less")
    short = [check_name(check, units) for check in before.checks if not check.ok]
    named = short if len(short) <= MOST_WANTS + 1 else [*short[:MOST_WANTS], f"{len(short) - MOST_WANTS} more"]
    return f"Put right moves {listed(told)}. Then all wants hold, these too: {'; '.join(named)}."


def _short(mm: float, units: Units) -> str:
    """A short length; with all its digits where rounding would make nothing of it."""
    return format_length(mm, units, fine=reads_zero(mm, units))


def fight_sentence(fighting: Iterable[Fight], units: Units) -> str:
    """Say which wants can't be met together, and by how much they would have to give."""
    fighting = tuple(fighting)
    gives = [fight for fight in fighting if fight.by > 0.0]
    others = [fight for fight in fighting if fight.by <= 0.0]
    if not fighting:
        return "No moves of the free pins were found with which all wants hold. Change a pin by hand, and try again."
    if len(fighting) == 1:
        only = fighting[0]
        if only.as_drawn:
            return f"No pin can give what {_want(only, units)} asks: as drawn it is {_amount(only, units)} too much."
        by = f" It would have to give {_amount(only, units)}." if only.by > 0.0 else ""
        return f"The free pins near their places can't give what {_want(only, units)} asks.{by}"
    names = "; ".join(_want(fight, units) for fight in (*gives, *others))
    if not gives:
        return f"These wants fight each other near the present pins: {names}."
    amounts = "; ".join(f"{_amount(fight, units)} of {_want(fight, units)}" for fight in gives)
    return f"These wants fight each other near the present pins: {names}. What must be given at least: {amounts}."


def _want(fight: Fight, units: Units) -> str:
    """A want by its name and figure: "windscreen – hatch skin (6.0 mm)"."""
    name = check_name(fight.check, units)
    return name if fight.check.kind == "opening" else f"{name} ({check_want(fight.check, units)})"


def _amount(fight: Fight, units: Units) -> str:
    if fight.check.kind == "push":
        return format_force(fight.by, units)
    if fight.check.kind == "strength":
        return safety_words(fight.by, units)
    is_angle = fight.check.kind in ANGLES
    return format_angle(fight.by, units) if is_angle else format_length(fight.by, units)


def listed(words: list[str]) -> str:
    """Words one after another: "A, B and C"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
