"""What the report tells of hinges as built, in keys of our own and as text.

Figures that stand in both are pairs: as drawn, as built. Adjusters and the hole to drill anew come with what follows.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from app import words
from app.as_made import both_built, is_measured, left_and_right, on_pins, spans_of
from app.made_words import (
    ALL_WELL,
    MADE_CAUTION,
    apart_sentences,
    built_sentences,
    float_words,
    gap_sentences,
    put_back_sentences,
    redrill_sentences,
)
from kinematics.built_beside import broken, off_course, paired_checks, paired_gaps
from kinematics.carrying import pin_peaks
from kinematics.putting_back import needs_nothing, put_back, redrill

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.built_beside import Apart, Beside
    from kinematics.putting_back import PutBack, Redrilled

__all__ = ["advice", "made_lines", "made_told"]


@lru_cache(maxsize=2)
def advice(analysis: Analysis, hand: str) -> tuple[PutBack | None, Redrilled | None]:
    """What brings one hinge back, searched to the end: a second or two."""
    now, spans = both_built(analysis)[hand == "right"], spans_of(analysis.project)
    return put_back(analysis, now, spans), redrill(analysis, now, spans)


def made_told(analysis: Analysis) -> dict[str, Any]:
    """The key "as_made" of the report, where anything was measured."""
    if not is_measured(analysis.project):
        return {}
    measured = [now for now in both_built(analysis) if now.made.is_said]
    hands = [_hand(analysis, now) for now in measured]
    return {"as_made": {"hands": hands, "apart": _apart(left_and_right(analysis))}}


def _hand(drawn: Analysis, now: Beside) -> dict[str, Any]:
    """One hinge."""
    if now.built is None or now.analysis is None:
        return {"hand": now.hand, "fault": now.fault}
    built, units = now.analysis, drawn.project.display_units
    adjusters, hole = advice(drawn, now.hand)
    return {
        "hand": now.hand,
        "fault": None,
        "misfits": [
            {
                "link": each.reading.link,
                "pins": list(each.reading.pins),
                "kind": each.reading.kind,
                "read": _number(each.reading.made),
                "fits": _number(each.fits),
            }
            for each in now.built.misfits
        ],
        "reached_deg": _pair(drawn.opening.reached_deg, built.opening.reached_deg),
        "pivots": {pin.id: list(pin.at) for pin in now.built.project.pivots},
        "gaps": _gaps(drawn, built),
        "checks": [
            {
                "name": words.check_name(was, units),
                "want": words.check_want(was, units),
                "drawn": words.check_have(was, units),
                "built": None if new is None else words.check_have(new, units),
                "ok": [bool(was.ok), None if new is None else bool(new.ok)],
            }
            for was, new in paired_checks(drawn, built)
        ],
        "effort": _pair(_largest(drawn), _largest(built)),
        "pins": _pins(drawn, now),
        "adjusters": _put_back(drawn, adjusters),
        "redrill": _redrill(drawn, hole),
    }


def _gaps(drawn: Analysis, built: Analysis) -> list[dict[str, Any]]:
    return [
        {
            "between": list(was.between),
            "shut": _pair(was.shut, now.shut),
            "smallest": _pair(was.smallest, now.smallest),
            "at_deg": _pair(was.at_deg, now.at_deg),
        }
        for was, now in paired_gaps(drawn, built)
    ]


def _pins(drawn: Analysis, now: Beside) -> list[dict[str, Any]]:
    """What each pin carries at most, and what lies on it, where sheets or washers were measured: a stack is dear."""
    assert now.analysis is not None
    laid = {pin.pivot: pin for pin in on_pins(drawn, now.made)}
    found = []
    for pin, was, new in zip(drawn.project.pivots, pin_peaks(drawn), pin_peaks(now.analysis), strict=True):
        force = _pair(None if was is None else was.force, None if new is None else new.force)
        told: dict[str, Any] = {"pivot": pin.id, "force": force}
        own = laid.get(pin.id)
        if own is not None:
            told |= {"grip": _pair(*own.grip), "end_float": _pair(*own.end_float), "play": _number(own.play)}
        found.append(told)
    return found


def _put_back(drawn: Analysis, found: PutBack | None) -> dict[str, Any] | None:
    if found is None or found.after.analysis is None:
        return None
    after = found.after.analysis
    return {"turn": found.by, "meets": found.meets, "gaps": _gaps(drawn, after), "short": _short(drawn, after)}


def _redrill(drawn: Analysis, found: Redrilled | None) -> dict[str, Any] | None:
    if found is None:
        return None
    link, pivot = found.hole
    return {
        "link": link,
        "pivot": pivot,
        "by": [_number(found.by.real), _number(found.by.imag)],
        "distances": [{"to": to, "now": _number(now), "then": _number(then)} for to, now, then in found.distances],
        "gaps": _gaps(drawn, found.after),
        "short": _short(drawn, found.after),
    }


def _short(drawn: Analysis, after: Analysis) -> list[str]:
    """The checks that hold as drawn and don't then."""
    return [words.check_name(check, drawn.project.display_units) for check in broken(drawn, after)]


def _apart(told: Apart | None) -> dict[str, Any] | None:
    if told is None:
        return None
    return {
        "rear": [_number(told.rear.real), _number(told.rear.imag)],
        "front": [_number(told.front.real), _number(told.front.imag)],
        "turn_deg": _number(told.turn_deg),
        "worst": _number(told.worst),
        "at_deg": _number(told.at_deg),
        "askew": _number(told.askew),
        "twisted": _number(told.twisted),
    }


def _largest(analysis: Analysis) -> float | None:
    loads = analysis.loads
    return None if loads is None or loads.largest is None else loads.largest.force


def _pair(drawn: float | None, built: float | None) -> list[float | None]:
    return [_number(drawn), _number(built)]


def _number(value: float | None) -> float | None:
    """A plain float; None for what is missing or no number."""
    return None if value is None or not math.isfinite(value) else float(value) + 0.0


# ---------------------------------------------------------------------------------------------------------------- text
def made_lines(analysis: Analysis, units: Units) -> list[str]:
    """The report's lines of both hinges as built; none where nothing was measured."""
    if not is_measured(analysis.project):
        return []
    said: list[str] = []
    for now in both_built(analysis):
        if now.made.is_said:
            said += [f"{now.hand.capitalize()} hinge:", *_lines(analysis, now, units)]
    return [*said, *apart_sentences(left_and_right(analysis), units), MADE_CAUTION]


def _lines(drawn: Analysis, now: Beside, units: Units) -> list[str]:
    said = built_sentences(drawn, now, units)
    if now.analysis is None:
        return said
    said += gap_sentences(drawn, now.analysis, units)
    said += [float_words(pin, units) for pin in on_pins(drawn, now.made) if pin.is_changed]
    if needs_nothing(drawn, now):
        return [*said, ALL_WELL]
    adjusters, hole = advice(drawn, now.hand)
    if adjusters is not None:
        said += put_back_sentences(drawn, now, adjusters, units)
    return [*said, *(redrill_sentences(drawn, now, hole, units) if off_course(drawn, now.analysis) else [])]
