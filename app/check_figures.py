"""What is wanted of a check and what it has, as figures: each kind of check says its own in its own way.

The sentences about them are `app.words`; lengths, angles and forces are said in the builder's units by `app.lengths`.
Where rounding would hide a shortfall ("wants 6.0 mm, has 6.0 mm"), finer digits are given.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from app.holding_words import stop_figure, stop_want
from app.lengths import NOTHING, format_angle, format_force, format_length, style_of
from app.limit_words import limit_want, shift_words
from app.strength_words import safety_figure, safety_words
from kinematics.zoning import EDGE

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.lengths import Units
    from kinematics.results import Check, Gap

AT_MOST = ("rear edge", "striker")
"""Kinds of checks whose figures are lengths of at most so much."""

ANGLES = ("opening", "transmission", "rests", "stop")
"""Kinds of checks whose figures are degrees."""


def figures(check: Check, units: Units) -> tuple[str, str]:
    """Want and have, with as many digits as it takes to tell them apart where the check falls short."""
    say = _speaker(check, units)
    want, have = say(check.want, fine=False, wanted=True), say(check.have, fine=False, wanted=False)
    if check.ok or check.have is None or not _looks_even(check, units):
        return want, have
    return say(check.want, fine=True, wanted=True), say(check.have, fine=True, wanted=False)


def gap_figures(gap: Gap, units: Units) -> tuple[str, str]:
    """A watched gap's smallest value and what is wanted, told apart where it falls short: "9.962 mm", "10 mm"."""
    have, want = (format_length(mm, units) for mm in (gap.smallest, gap.at_least))
    if gap.ok is False and have == want:
        return format_length(gap.smallest, units, fine=True), format_length(gap.at_least, units, fine=True)
    return have, want


def _looks_even(check: Check, units: Units) -> bool:
    """Whether want and have read the same when rounded."""
    if check.kind in ANGLES:
        return format_angle(check.want) == format_angle(check.have)
    if check.kind == "strength":
        return safety_words(check.want, units) == safety_words(check.have, units)
    if check.kind == "push":
        return format_force(check.want, units) == format_force(check.have or 0.0, units)
    if check.kind == "zone":
        return format_length(0.0, units) == format_length(abs(check.have or 0.0), units)
    missed = check.most if check.most is not None and (check.have or 0.0) > check.most else check.want
    return format_length(missed, units) == format_length(check.have, units)


def _speaker(check: Check, units: Units) -> Callable[..., str]:
    """The way in which a check's figures are said."""

    def angle(value: float | None, *, fine: bool, wanted: bool) -> str:  # noqa: ARG001  said alike
        return format_angle(value, units, fine=fine)

    def shift(value: float | None, *, fine: bool, wanted: bool) -> str:
        return limit_want(check, units, fine=fine) if wanted else shift_words(value, check, units, fine=fine)

    def gap(value: float | None, *, fine: bool, wanted: bool) -> str:
        touches = not wanted and value is not None and value <= 0.0 and check.kind in ("gap", "shut gap")
        return "touches" if touches else format_length(value, units, fine=fine)

    def shut(value: float | None, *, fine: bool, wanted: bool) -> str:
        return _shut_want(check, units, fine) if wanted else gap(value, fine=fine, wanted=wanted)

    def over(value: float | None, *, fine: bool, wanted: bool) -> str:
        return f"{'at least ' if wanted else ''}{format_length(value, units, fine=fine)}"

    def under(value: float | None, *, fine: bool, wanted: bool) -> str:
        return f"{'at most ' if wanted else ''}{format_length(value, units, fine=fine)}"

    roof, zone = partial(_roof_figure, units=units), partial(_zone_figure, check.subject, units=units)
    ways: dict[str, Callable[..., str]] = {
        "opening": angle,
        "transmission": angle,
        "limit": shift,
        "shut gap": shut,
        "roof": roof,
        "front edge": over,
        **dict.fromkeys(AT_MOST, under),
        "zone": zone,
        "strength": partial(safety_figure, units=units),
        "push": partial(_push_figure, check, units=units),
        "stop": partial(_stop_figure, check, units=units),
        "rests": partial(_rest_figure, check, units=units),
    }
    return ways.get(check.kind, gap)


def _push_figure(check: Check, value: float | None, *, units: Units, fine: bool, wanted: bool) -> str:
    """A push at the handle: "at most 80 N", "56 N"; of a panel that is to stay open "no push", "12 N short of it"."""
    if value is None:
        return NOTHING
    stays = check.side in ("open", "worst")
    if wanted:
        return "no push" if stays else f"at most {format_force(value, units)}"
    push = format_force(value, units, fine=fine)
    if stays:
        prop = {"prop": "its prop", "pinned prop": "its prop, pinned at both ends"}.get(check.needs)
        short = f"{push} short of it" if prop is None else f"needs {prop}; {push} short without it"
        return short if value > 0.0 else f"{format_force(-value, units)} to spare"
    return push


def _stop_figure(check: Check, value: float | None, *, units: Units, fine: bool, wanted: bool) -> str:
    """Where a stop must lie, and where it does."""
    return NOTHING if value is None else stop_want(check, units) if wanted else stop_figure(check, units, fine=fine)


def _rest_figure(check: Check, value: float | None, *, units: Units, fine: bool, wanted: bool) -> str:
    """Until where it rests: "before 20°", "rises from 12° on", "rests to 75°"."""
    if value is None:
        return NOTHING
    angle = format_angle(value, units, fine=fine)
    if wanted:
        return f"before {angle}"
    return f"rests to {angle}" if check.ok else f"rises from {angle} on"


def _roof_figure(value: float | None, *, units: Units, fine: bool, wanted: bool) -> str:
    """How far what comes nearest the roof is from it: "12.0 mm left", "3.0 mm through it"."""
    if wanted or value is None:
        return "nothing through it" if wanted else NOTHING
    return f"{format_length(abs(value), units, fine=fine)} {'left' if value >= 0.0 else 'through it'}"


def _zone_figure(subject: Sequence[str], value: float | None, *, units: Units, fine: bool, wanted: bool) -> str:
    """How the pin that stands worst stands in its zone: "C 3.1 mm outside", "C nearest to its edge, 4.2 mm inside"."""
    if wanted or value is None:
        return "all inside" if wanted else NOTHING
    far = format_length(abs(value), units, fine=fine)
    outside = value < -EDGE
    return f"{subject[1]} {far} outside" if outside else f"{subject[1]} nearest to its edge, {far} inside"


def _shut_want(check: Check, units: Units, fine: bool) -> str:
    """What is wanted of a shut gap: "at least 3.2 mm", "3.2 to 6.4 mm", "at most 6.4 mm", "a gap"."""
    if check.most is None:
        return f"at least {format_length(check.want, units, fine=fine)}" if check.want > 0.0 else "a gap"
    most = format_length(check.most, units, fine=fine)
    if check.want <= 0.0:
        return f"at most {most}"
    return f"{format_length(check.want, units, unit=style_of(units).units == 'in', fine=fine)} to {most}"
