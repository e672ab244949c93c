"""How the hinge came out, as frozen values: what a builder read off the finished parts with caliper, tape and square.

Left and right hinge are read by themselves, as each hand may have come out differently. Of each:

- *distances* between two holes of a link: over the outer edges of two pins less half their diameters;
- where pins of the fixed link and of the panel were *found at*: x and y in the side view, and how far *off* the wall
  or the skin that they are held at;
- *sheets*: how thick a link's plate really is;
- what is *on pins*: washers more (or less) than drawn, and the play that a pin has in its holes;
- by how much adjusters were *turned* since.

What nobody measured (None, or not named at all) is as drawn. Whether the links and pivots are there doesn't matter:
what nobody defines means nothing. Lengths mm. Each part checks itself when it is built.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put
from kinematics.values import LARGEST_COORDINATE, shown

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping

HANDS = ("left", "right")
TURNABLE = ("fore_aft", "height", "front_height", "side", "up_down", "off_wall", "top_off_wall", "rest")
"""The adjusters, by the keys that `kinematics.adjusting` gives them."""


@dataclass(frozen=True, slots=True)
class MadeDistance:
    """The distance of two holes of a link, between their centres."""

    link: str
    between: tuple[str, str]
    distance: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"distance on {shown(self.link)}"
        values.identifier(self.link, where, "link")
        named = values.identifiers(self.between, where, "between")
        if len(named) != 2 or named[0] == named[1]:
            raise ProjectError("between doesn't name two pins", where)
        long = values.positive(self.distance, where, "distance")
        put(self, between=named, distance=values.number(long, where, "distance", LARGEST_COORDINATE))
        keep(self)


@dataclass(frozen=True, slots=True)
class FoundAt:
    """Where a pin was found on the fixed link or the panel.

    x, y : in the side view.   off : square off the face that the link is held at (wall, or the panel's inner skin).
    """

    link: str
    pivot: str
    x: float | None = None
    y: float | None = None
    off: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"pin {shown(self.pivot)} on {shown(self.link)}"
        values.identifier(self.link, where, "link")
        values.identifier(self.pivot, where, "pivot")
        for name in ("x", "y", "off"):
            value = getattr(self, name)
            if value is not None:
                put(self, **{name: values.number(value, where, name, LARGEST_COORDINATE)})
        keep(self)


@dataclass(frozen=True, slots=True)
class MadeSheet:
    """How thick a link's plate really is."""

    link: str
    thickness: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"plate of {shown(self.link)}"
        values.identifier(self.link, where, "link")
        put(self, thickness=values.positive(self.thickness, where, "thickness"))
        keep(self)


@dataclass(frozen=True, slots=True)
class OnPin:
    """What is on a pin otherwise than drawn.   more : of washers and shims, negative: less.   play : in its holes."""

    pivot: str
    more: float = 0.0
    play: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"pin {shown(self.pivot)}"
        values.identifier(self.pivot, where, "pivot")
        put(self, more=values.number(self.more, where, "more", LARGEST_COORDINATE))
        if self.play is not None:
            put(self, play=values.not_negative(self.play, where, "play"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Turned:
    """By how much (mm) an adjuster stands off where it is drawn."""

    adjuster: str
    by: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.one_of(self.adjuster, "turned", "adjuster", TURNABLE)
        put(self, by=values.number(self.by, f"adjuster {self.adjuster}", "by", LARGEST_COORDINATE))
        keep(self)


@dataclass(frozen=True, slots=True)
class HandMade:
    """How one hinge came out."""

    hand: Literal["left", "right"]
    distances: tuple[MadeDistance, ...] = ()
    found_at: tuple[FoundAt, ...] = ()
    sheets: tuple[MadeSheet, ...] = ()
    on_pins: tuple[OnPin, ...] = ()
    turned: tuple[Turned, ...] = ()
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.one_of(self.hand, "as_made", "hand", HANDS)
        where = f"the {self.hand} hinge as made"
        _once(self, "distances", where, lambda each: (each.link, frozenset(each.between)))
        _once(self, "found_at", where, lambda each: (each.link, each.pivot))
        _once(self, "sheets", where, lambda each: each.link)
        _once(self, "on_pins", where, lambda each: each.pivot)
        _once(self, "turned", where, lambda each: each.adjuster)
        keep(self)

    @property
    def is_said(self) -> bool:
        """Whether anything is said of it."""
        return any((self.distances, self.found_at, self.sheets, self.on_pins, self.turned))


@dataclass(frozen=True, slots=True)
class AsMade:
    """Both hinges, as far as anything was read off them.   shown : whether they are drawn beside what was drawn."""

    hands: tuple[HandMade, ...] = ()
    shown: bool = False
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        _once(self, "hands", "as_made", lambda each: each.hand)
        values.flag(self.shown, "as_made", "shown")
        keep(self)

    def of(self, hand: str) -> HandMade:
        """What is said of one hinge; nothing where it was never read off."""
        return next((each for each in self.hands if each.hand == hand), HandMade(hand))  # type: ignore[arg-type]


def _once(part: AsMade | HandMade, name: str, where: str, key: Callable[[Any], object]) -> None:
    """Make a list a tuple; each thing may be said once."""
    found = tuple(getattr(part, name))
    keys = [key(each) for each in found]
    if len(set(keys)) < len(keys):
        raise ProjectError(f"{name} says the same thing twice", where, "Take one of the two out.")
    if type(getattr(part, name)) is not tuple:
        put(part, **{name: found})


# ------------------------------------------------------------------------------------------------- following names
def made_renamed(as_made: Any, kind: str, old: str, new: str) -> Any:  # noqa: ANN401  as a project holds it
    """What was read off, after a "link" or "pivot" got a new name; the same object where nothing names it."""
    if not isinstance(as_made, AsMade):
        return as_made

    def name(each: str) -> str:
        return new if each == old else each

    link, pivot = (name, str) if kind == "link" else (str, name)

    def anew(made: HandMade) -> HandMade:
        return replace(
            made,
            distances=tuple(
                replace(each, link=link(each.link), between=(pivot(each.between[0]), pivot(each.between[1])))
                for each in made.distances
            ),
            found_at=tuple(replace(each, link=link(each.link), pivot=pivot(each.pivot)) for each in made.found_at),
            sheets=tuple(replace(each, link=link(each.link)) for each in made.sheets),
            on_pins=tuple(replace(each, pivot=pivot(each.pivot)) for each in made.on_pins),
        )

    return _same(as_made, tuple(map(anew, as_made.hands)))


def made_among(as_made: Any, links: Collection[str], pivots: Collection[str]) -> Any:  # noqa: ANN401  as a project holds it
    """What was read off, without what is of other links and pivots than these."""
    if not isinstance(as_made, AsMade):
        return as_made

    def left(made: HandMade) -> HandMade:
        return replace(
            made,
            distances=tuple(each for each in made.distances if each.link in links and set(each.between) <= set(pivots)),
            found_at=tuple(each for each in made.found_at if each.link in links and each.pivot in pivots),
            sheets=tuple(each for each in made.sheets if each.link in links),
            on_pins=tuple(each for each in made.on_pins if each.pivot in pivots),
        )

    return _same(as_made, tuple(map(left, as_made.hands)))


def _same(as_made: AsMade, hands: tuple[HandMade, ...]) -> AsMade:
    return as_made if hands == as_made.hands else replace(as_made, hands=hands)
