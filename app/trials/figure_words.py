"""The key figures of a layout in words, a column each: for the table of trials and for proposals. No Qt here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_angle, format_force, format_length
from app.lettering import short_name
from app.words import doubt_words

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.lengths import Units
    from kinematics.figures import KeyFigures

PICTURE, NAME, OPENS, CLEARANCE, BACK, TRANSMISSION, ROOM, EFFORT, PIN, HOLD, CHECKS, NOTE = range(12)
LEAST_BACK = 0.05  # mm: a corner that goes back less is said never to


def figure_words(figures: KeyFigures, column: int, units: Units) -> str:
    """Say a key figure: "75°", "10.6 mm", "never", "—" where there is none."""
    say = WORDS.get(column)
    return NOTHING if say is None else say(figures, units)


def _opens(figures: KeyFigures, units: Units) -> str:
    return f"{format_angle(figures.opens_deg, units)}{'' if figures.opens else ' ✗'}"


def _clearance(figures: KeyFigures, units: Units) -> str:
    """Say the clearance; where traces may be off, that it is the low end."""
    if figures.clearance == 0.0:
        return "may touch (low end)" if figures.of_drawn else "touches"
    low = " (low end)" if figures.uncertain > 0.0 else ""
    return f"{format_length(figures.clearance, units)}{low}"


def clearance_tip(figures: KeyFigures, units: Units) -> str:
    """Say of which pair the clearance is, and what it is as drawn."""
    one, other = figures.of or ("", "")
    if figures.uncertain <= 0.0:
        return f"Between {one} and {other}."
    drawn = f"{format_length(figures.of_drawn, units)}{doubt_words(figures.of_drawn, figures.uncertain, units)}"
    return f"Between {one} and {other}: {drawn}; the low end takes the traces at their worst."


def _back(figures: KeyFigures, units: Units) -> str:
    return "never" if figures.back is not None and figures.back < LEAST_BACK else format_length(figures.back, units)


def _room(figures: KeyFigures, units: Units) -> str:
    if figures.room is None:
        return NOTHING
    return f"{format_length(figures.room[0], units, unit=False)} × {format_length(figures.room[1], units)}"


def _effort(figures: KeyFigures, units: Units) -> str:
    """Say the largest push; a panel that rises all the way needs none."""
    if figures.effort is not None and figures.effort <= 0.0:
        return "rises by itself"
    return format_force(figures.effort, units)


def _pin(figures: KeyFigures, units: Units) -> str:
    if figures.pin is None:
        return NOTHING
    return f"{format_force(figures.pin, units)} ({short_name(figures.pin_id)})"


def _hold(figures: KeyFigures, units: Units) -> str:
    """Say what is left before it comes down when all goes against it, or what must hold it."""
    if figures.hold is None:
        return NOTHING
    if figures.hold > 0.0:
        return f"{format_force(figures.hold, units)} short ✗"
    return f"{format_force(-figures.hold, units)} to spare"


def _checks(figures: KeyFigures, _: Units) -> str:
    return f"{figures.short} of {figures.checks} short" if figures.short else f"all {figures.checks} hold"


WORDS: dict[int, Callable[[KeyFigures, Units], str]] = {
    OPENS: _opens,
    CLEARANCE: _clearance,
    BACK: _back,
    TRANSMISSION: lambda figures, units: format_angle(figures.transmission_deg, units),
    ROOM: _room,
    EFFORT: _effort,
    PIN: _pin,
    HOLD: _hold,
    CHECKS: _checks,
}
