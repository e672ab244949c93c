"""Measures: what a builder measures and leaves on the board; each takes hold of things, so it lives as they move.

An *anchor* is a thing or a place on one: a pivot, a mark, an outline or one of its points, a link or a point of it.
A place gives a point; an outline or a link as a whole gives a line, from which only a clearance can be taken.

`renamed`, `shifted` and `surviving` let measures follow what they name; each gives back the very same tuple where
nothing changes. Whether what is named is there at all is the business of `kinematics.project`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from operator import is_
from typing import TYPE_CHECKING, Any, Literal

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from kinematics.values import Point

NEEDS = {"distance": 2, "angle": 3, "path": 1, "clearance": 2}
"""Kinds of measures, and the number of anchors that each takes."""
NAMES = ("pivot", "mark", "outline", "link")


@dataclass(frozen=True, slots=True)
class Anchor:
    """What a measure takes hold of; exactly one of `pivot`, `mark`, `outline` and `link` is named.

    point : number (from 0) of the outline's point; None is the whole outline.
    at : a point of the link (mm, shut); None is the whole link.
    """

    pivot: str | None = None
    mark: str | None = None
    outline: str | None = None
    link: str | None = None
    point: int | None = None
    at: Point | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        named = [key for key in NAMES if getattr(self, key) is not None]
        if len(named) != 1:
            what = f"it names {len(named)} things, where one is expected"
            raise ProjectError(what, "anchor of a measure", f"Name one of {', '.join(NAMES)}.")
        values.identifier(self.name, "anchor of a measure", named[0])
        if self.point is not None:
            put(self, point=_place(self.point, self.outline))
        if self.at is not None:
            if self.link is None:
                raise ProjectError("at goes with a link only", "anchor of a measure")
            put(self, at=values.point(self.at, "anchor of a measure", "at"))
        keep(self)

    @property
    def kind(self) -> str:
        """The kind of thing: "pivot", "mark", "outline" or "link"."""
        return next(key for key in NAMES if getattr(self, key) is not None)

    @property
    def name(self) -> str:
        """The id of the thing."""
        return str(getattr(self, self.kind))

    @property
    def is_place(self) -> bool:
        """Whether it is a single point."""
        return self.kind in ("pivot", "mark") or self.point is not None or self.at is not None

    @property
    def key(self) -> tuple[str, str, int | None, Point | None]:
        """What tells two anchors apart."""
        return self.kind, self.name, self.point, self.at


def _place(value: object, outline: str | None) -> int:
    """Check that the number of a point is a whole number of 0 or more, and goes with an outline."""
    if outline is None:
        raise ProjectError("point goes with an outline only", "anchor of a measure")
    found = values.not_negative(value, "anchor of a measure", "point")
    if found != int(found):
        raise ProjectError(f"point is {found:g}, but must be a whole number", "anchor of a measure")
    return int(found)


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure. kind : "distance" of two places, "angle" at the second of three places, "path" of one place
    through the travel, "clearance" of two things or places at the pose shown.     of : its anchors.
    """

    id: str
    kind: Literal["distance", "angle", "path", "clearance"]
    of: tuple[Anchor, ...]
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"measure {shown(self.id)}"
        values.identifier(self.id, where)
        values.one_of(self.kind, where, "kind", tuple(NEEDS))
        put(self, of=tuple(self.of))
        needed = NEEDS[self.kind]
        if len(self.of) != needed:
            raise ProjectError(f"of names {len(self.of)}, where {needed} are expected for a {self.kind}", where)
        if len({anchor.key for anchor in self.of}) < needed:
            raise ProjectError("of names the same twice", where, "Measure between different things.")
        if self.kind != "clearance":
            for anchor in self.of:
                if not anchor.is_place:
                    what = f"the {anchor.kind} {shown(anchor.name)} is no single point, as a {self.kind} needs"
                    raise ProjectError(what, where, "Name one of its points, or measure the clearance.")
        keep(self)


Measures = tuple[Measure, ...]


def renamed(measures: Measures, kind: str, id: str, new_id: str) -> Measures:
    """The measures once a thing has another name."""
    return _mapped(measures, lambda anchor: _with_name(anchor, kind, id, new_id))


def _with_name(anchor: Anchor, kind: str, id: str, new_id: str) -> Anchor:
    names: dict[str, Any] = {kind: new_id}
    return replace(anchor, **names) if (anchor.kind, anchor.name) == (kind, id) else anchor


def shifted(measures: Measures, outline: str, place: int, by: int) -> Measures:
    """The measures once an outline has one point more (`by` +1) or fewer (−1) before its point number `place`."""

    def follow(anchor: Anchor) -> Anchor:
        if anchor.outline != outline or anchor.point is None or anchor.point < place:
            return anchor
        return replace(anchor, point=anchor.point + by)

    return _mapped(measures, follow)


def surviving(measures: Measures, there: Callable[[Anchor], bool]) -> Measures:
    """The measures all of whose anchors are still `there`."""
    kept = tuple(measure for measure in measures if all(map(there, measure.of)))
    return measures if len(kept) == len(measures) else kept


def _mapped(measures: Measures, change: Callable[[Anchor], Anchor]) -> Measures:
    changed = tuple(_changed(measure, change) for measure in measures)
    return measures if all(map(is_, changed, measures)) else changed


def _changed(measure: Measure, change: Callable[[Anchor], Anchor]) -> Measure:
    of = tuple(map(change, measure.of))
    return measure if all(map(is_, of, measure.of)) else replace(measure, of=of)


def free_measure_id(measures: Measures, kind: str) -> str:
    """Give the first name "distance 1", "distance 2", … that no measure has."""
    names = {measure.id for measure in measures}
    return next(name for number in range(1, len(names) + 2) if (name := f"{kind} {number}") not in names)
