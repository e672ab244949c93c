"""Edits of what was read off the finished hinges: one reading typed or taken out, adjusters turned, a hand copied.

Pure functions from one project to the next, as in `kinematics.edits`: an edit that changes nothing gives back the
project itself, and what can't be is a `ProjectError`. A reading taken out (None) is as drawn again. Lengths mm.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, MadeSheet, OnPin, Turned

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.project import Project


def set_distance(project: Project, hand: str, link: str, between: tuple[str, str], mm: float | None) -> Project:
    """Say how far apart two holes of a link came out."""
    made = project.made.of(hand)
    pair = frozenset(between)
    old = next((each for each in made.distances if (each.link, frozenset(each.between)) == (link, pair)), None)
    named = old or MadeDistance(link, between, 1.0)
    new = None if mm is None else replace(named, distance=mm)
    return _put(project, replace(made, distances=_swapped(made.distances, old, new)))


def set_found(project: Project, hand: str, link: str, pivot: str, kind: str, mm: float | None) -> Project:
    """Say where a pin of the fixed link or the panel was found.   kind : "x", "y" or "off"."""
    made = project.made.of(hand)
    old = next((each for each in made.found_at if (each.link, each.pivot) == (link, pivot)), None)
    told: dict[str, Any] = {kind: mm}
    new: FoundAt | None = replace(old or FoundAt(link, pivot), **told)
    if new is not None and (new.x, new.y, new.off) == (None, None, None):
        new = None
    return _put(project, replace(made, found_at=_swapped(made.found_at, old, new)))


def set_sheet(project: Project, hand: str, link: str, mm: float | None) -> Project:
    """Say how thick a link's plate is."""
    made = project.made.of(hand)
    old = next((each for each in made.sheets if each.link == link), None)
    named = old or MadeSheet(link, 1.0)
    new = None if mm is None else replace(named, thickness=mm)
    return _put(project, replace(made, sheets=_swapped(made.sheets, old, new)))


def set_on_pin(project: Project, hand: str, pivot: str, **said: float | None) -> Project:
    """Say what is on a pin: `more` (mm of washers, None: as drawn) and `play` (None: as drawn)."""
    made = project.made.of(hand)
    old = next((each for each in made.on_pins if each.pivot == pivot), None)
    told: dict[str, Any] = said if said.get("more", 0.0) is not None else {**said, "more": 0.0}
    new: OnPin | None = replace(old or OnPin(pivot), **told)
    if new is not None and new.more == 0.0 and new.play is None:
        new = None
    return _put(project, replace(made, on_pins=_swapped(made.on_pins, old, new)))


def turn_adjusters(project: Project, hand: str, by: Mapping[str, float]) -> Project:
    """Turn adjusters on by so much (mm, by key) from where they stand."""
    made = project.made.of(hand)
    turned = {each.adjuster: each for each in made.turned}
    for key, mm in by.items():
        old = turned.get(key, Turned(key, 0.0))
        turned[key] = replace(old, by=round(old.by + mm, 6))
    return _put(project, replace(made, turned=tuple(each for each in turned.values() if each.by != 0.0)))


def copy_hand(project: Project, hand: str, to: str) -> Project:
    """Say of the other hinge what is said of one."""
    return _put(project, replace(project.made.of(hand), hand=to))  # type: ignore[arg-type]


def forget_hand(project: Project, hand: str) -> Project:
    """Take all that was read off one hinge out again: it is as drawn."""
    return _put(project, HandMade(hand))  # type: ignore[arg-type]


def show_built(project: Project, shown: bool) -> Project:
    """Draw the hinges as built beside what is drawn, or don't."""
    return _replaced(project, replace(_sound(project), shown=shown))


def _swapped(parts: tuple[Any, ...], old: object, new: object) -> tuple[Any, ...]:
    """The parts with one in another's place; without it where there is no new one, and behind them where no old one."""
    if old is None:
        return parts if new is None else (*parts, new)
    return tuple(new if each is old else each for each in parts if each is not old or new is not None)


def _put(project: Project, made: HandMade) -> Project:
    """The project with what is said of one hinge."""
    as_made = _sound(project)
    others = [each for each in as_made.hands if each.hand != made.hand]
    mine = [made] if made.is_said or made.unknown else []
    return _replaced(project, replace(as_made, hands=tuple(sorted((*others, *mine), key=lambda each: each.hand))))


def _sound(project: Project) -> AsMade:
    """What is said so far; what a file carries in its place is never written over."""
    if project.as_made is not None and not isinstance(project.as_made, AsMade):
        what = "what the file says of how the hinges came out isn't sound, and is kept as it is"
        raise ProjectError(what, "as_made", "Correct it in the file, or take it out there.")
    return project.made


def _replaced(project: Project, as_made: AsMade) -> Project:
    if as_made == project.made:
        return project
    return replace(project, as_made=None if as_made == AsMade() else as_made)
