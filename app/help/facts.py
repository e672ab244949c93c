"""The figures that the pages of the help name: of the examples from `analyse`, of standards with their source beside.

A page writes `{{four.back}}`; `fact("four.back", units)` gives "1.0 mm" or the like. None of them is typed.
"""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

from app.help.scenes import REAR, analysed
from app.lengths import format_angle, format_length
from app.preferences import Preferences
from app.room_words import TIGHT_MM
from app.words import check_sentence, touching_words
from kinematics.pinching import LEAST_GAPS

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.lengths import Units
    from kinematics.results import Check, Gap


def fact(name: str, units: Units) -> str:
    """Give a figure in words. Raises KeyError for one that there isn't."""
    return FACTS[name](units)


def _gap(name: str) -> Gap:
    return analysed(name).gaps[0]


def _least(name: str) -> Callable[[Units], str]:
    return lambda units: format_length(_gap(name).smallest, units)


def _least_at(name: str) -> Callable[[Units], str]:
    return lambda units: format_angle(_gap(name).at_deg, units)


def _want(name: str) -> Callable[[Units], str]:
    return lambda units: format_length(_gap(name).at_least, units)


def _shut(name: str) -> Callable[[Units], str]:
    return lambda units: format_length(_gap(name).shut, units)


def _back(name: str) -> Callable[[Units], str]:
    """How far the rear corner goes back, at most."""
    return lambda units: format_length(-float(analysed(name).mark_paths[REAR][:, 0].min()), units)


def _dip(name: str) -> Callable[[Units], str]:
    """How far the rear corner goes down, at most."""
    return lambda units: format_length(-float(analysed(name).mark_paths[REAR][:, 1].min()), units)


def _reached(name: str) -> Callable[[Units], str]:
    return lambda units: format_angle(analysed(name).opening.reached_deg, units)


def _wanted(name: str) -> Callable[[Units], str]:
    return lambda units: format_angle(analysed(name).opening.wanted_deg, units)


def _transmission(name: str) -> Callable[[Units], str]:
    def say(units: Units) -> str:
        told = analysed(name).transmission
        return format_angle(None if told is None else told.smallest_deg, units)

    return say


def _rise(name: str, mark: str) -> Callable[[Units], str]:
    """How far a mark rises from shut to the end."""

    def say(units: Units) -> str:
        height = analysed(name).mark_paths[mark][:, 1]
        return format_length(float(height[-1] - height[0]), units)

    return say


def _moved(name: str, other: str, pivot: str) -> Callable[[Units], str]:
    """How far a pivot of one project stands from the same one of another."""

    def say(units: Units) -> str:
        one, two = (analysed(each).project.pivot(pivot).at for each in (name, other))
        return format_length(dist(one, two), units)

    return say


def _sentence(name: str, which: int) -> Callable[[Units], str]:
    """One of the checks, as the window says it."""

    def say(units: Units) -> str:
        check: Check = analysed(name).checks[which]
        return check_sentence(check, units)

    return say


def _length(mm: float) -> Callable[[Units], str]:
    return lambda units: format_length(mm, units)


FACTS: dict[str, Callable[[Units], str]] = {
    "wall.gap": _shut("single"),
    "wall.want": _want("single"),
    "wanted": _wanted("single"),
    "single.touches": lambda units: touching_words(_gap("single"), units),
    "single.back": _back("single"),
    "single.sentence": _sentence("single", 0),
    "ahead.least": _least("ahead"),
    "ahead.least-at": _least_at("ahead"),
    "ahead.down": _dip("ahead"),
    "four.least": _least("four"),
    "four.least-at": _least_at("four"),
    "four.back": _back("four"),
    "four.down": _dip("four"),
    "four.transmission": _transmission("four"),
    "scissor.least": _least("scissor"),
    "scissor.back": _back("scissor"),
    "scissor.reached": _reached("scissor"),
    "stalling.reached": _reached("stalling"),
    "stalling.wanted": _wanted("stalling"),
    "parted.moved": _moved("stalling", "parted", "O2"),
    "parted.reached": _reached("parted"),
    "weight.rise": _rise("weighed", "centre of gravity"),
    "shut.usual": _length(Preferences().shut_gap),
    "shut.tight": _length(TIGHT_MM),
    "finger": _length(LEAST_GAPS["finger"]),
    "hand": _length(LEAST_GAPS["hand"]),
    "arm": _length(LEAST_GAPS["arm"]),
    "head": _length(LEAST_GAPS["head"]),
}
