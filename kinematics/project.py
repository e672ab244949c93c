"""The project: everything a builder has drawn and wants, as frozen values.

Coordinates are mm in the side view with the panel shut, x to the right, y up. Masses kg, forces N, spring rates N/mm, angles degrees.
A *link* is a rigid body: one of them is the *fixed link* (the body of the vehicle), one is the *panel*. A *pivot* is a pin that joins links.
An *outline* is a line or a solid that rides on a link; two outlines, or the band of a link with a width, may be watched by a *gap want*.
A *mark* is a point whose path is shown; a *limit* is a want on how far a mark moves. *Zones* say where pivots may be, *loads* what the panel weighs.

Every part checks itself when it is built and raises a `ProjectError`; the project checks that the parts fit together. So whoever holds a `Project`
holds a sound one. Half-drawn ones are sound: links may hang free, and there may be no pivots yet. `unknown` carries keys of a file that this version
doesn't know; they mean nothing here. Parts are compared by value; `kinematics.edits` makes new projects from old ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, TypeVar

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.values import Kept, Point, shown

__all__ = [
    "Attachment", "Device", "GapWant", "Handle", "Kept", "Limit", "Link", "Loads", "Mark", "Mass", "Outline", "Pivot", "Point", "Project", "ProjectError",
    "Travel", "Zone",
]  # fmt: skip

KINDS = ("fixed", "panel", "link")
TURNS = ("anticlockwise", "clockwise")
UNITS = ("mm", "in")
DEVICES = ("gas strut", "tension spring")
LIMIT_SIDES = ("dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most")


def _unknown() -> Any:  # noqa: ANN401  what dataclasses.field gives is no type of its own
    """Declare the field of keys that this version doesn't know; not hashed, as JSON values have no hash."""
    return field(default_factory=Kept, hash=False)


def _put(part: object, **values_by_name: object) -> None:
    """Set fields of a frozen part while it is being built."""
    for name, value in values_by_name.items():
        object.__setattr__(part, name, value)


def _keep(part: Any) -> None:  # noqa: ANN401  any part below
    if type(part.unknown) is not Kept:
        _put(part, unknown=Kept(part.unknown))


@dataclass(frozen=True, slots=True)
class Link:
    """A rigid body. A `width` (mm) makes it a band: the convex hull of its pins with `width`/2 around it."""

    id: str
    kind: Literal["fixed", "panel", "link"] = "link"
    width: float = 0.0
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"link {shown(self.id)}"
        values.identifier(self.id, where)
        values.one_of(self.kind, where, "kind", KINDS)
        _put(self, width=values.not_negative(self.width, where, "width"))
        _keep(self)


@dataclass(frozen=True, slots=True)
class Pivot:
    """A pin at a place (mm, shut) that joins two links or more; a locked one isn't moved by proposals and mends."""

    id: str
    at: Point
    joins: tuple[str, ...]
    locked: bool = False
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"pivot {shown(self.id)}"
        values.identifier(self.id, where)
        _put(self, at=values.point(self.at, where, "at"), joins=values.identifiers(self.joins, where, "joins"))
        if len(set(self.joins)) < len(self.joins):
            twice = next(link for link in self.joins if self.joins.count(link) > 1)
            raise ProjectError(f"joins names the link {shown(twice)} twice", where, "A pivot joins each link once.")
        if len(self.joins) < 2:
            raise ProjectError(f"joins names {len(self.joins)} links, but a pivot joins two or more", where)
        values.flag(self.locked, where, "locked")
        _keep(self)


@dataclass(frozen=True, slots=True)
class Outline:
    """A line, or closed a solid, on a link; points (mm, shut). `half_width`: radius of a pen along it. `station`: the section it was taken at, "" all.

    uncertain : mm, how far the traced line may be off.
    """

    id: str
    on: str
    points: tuple[Point, ...]
    closed: bool = False
    half_width: float = 0.0
    station: str = ""
    uncertain: float = 0.0
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"outline {shown(self.id)}"
        values.identifier(self.id, where)
        values.identifier(self.on, where, "on")
        values.flag(self.closed, where, "closed")
        _put(
            self,
            points=values.points(self.points, where, "points", least=3 if self.closed else 2),
            half_width=values.not_negative(self.half_width, where, "half_width"),
            uncertain=values.not_negative(self.uncertain, where, "uncertain"),
        )
        values.text(self.station, where, "station")
        _keep(self)


@dataclass(frozen=True, slots=True)
class Mark:
    """A point on a link whose path is shown."""

    id: str
    on: str
    at: Point
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"mark {shown(self.id)}"
        values.identifier(self.id, where)
        values.identifier(self.on, where, "on")
        _put(self, at=values.point(self.at, where, "at"))
        _keep(self)


@dataclass(frozen=True, slots=True)
class Limit:
    """A want on how far a mark moves from its shut place (mm), from the opening `after_deg` on; a side that is None wants nothing."""

    mark: str
    dx_at_least: float | None = None
    dx_at_most: float | None = None
    dy_at_least: float | None = None
    dy_at_most: float | None = None
    after_deg: float = 0.0
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"limit on the mark {shown(self.mark)}"
        values.identifier(self.mark, where, "mark")
        for side in LIMIT_SIDES:
            if getattr(self, side) is not None:
                _put(self, **{side: values.number(getattr(self, side), where, side)})
        _put(self, after_deg=values.not_negative(self.after_deg, where, "after_deg"))
        _keep(self)


@dataclass(frozen=True, slots=True)
class Travel:
    """Which way the panel turns to open, and how far it is wanted to (0 < degrees ≤ 180)."""

    opens: Literal["anticlockwise", "clockwise"]
    wanted_deg: float
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        values.one_of(self.opens, "travel", "opens", TURNS)
        _put(self, wanted_deg=values.positive(self.wanted_deg, "travel", "wanted_deg"))
        if self.wanted_deg > 180:
            raise ProjectError(f"wanted_deg is {self.wanted_deg:g}, but a panel opens by 180 degrees at most", "travel")
        _keep(self)

    @property
    def sign(self) -> int:
        """+1 where the panel's turn grows with the opening (anticlockwise), −1 where it falls."""
        return 1 if self.opens == "anticlockwise" else -1


@dataclass(frozen=True, slots=True)
class GapWant:
    """A watched pair, outlines or links by id, and the least gap wanted (mm) from the opening `after_deg` on."""

    between: tuple[str, str]
    at_least: float = 0.0
    after_deg: float = 0.0
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        named = values.identifiers(self.between, "gap", "between")
        if len(named) != 2:
            raise ProjectError(f"between names {len(named)} outlines or links, where two are expected", "gap")
        where = f"gap between {shown(named[0])} and {shown(named[1])}"
        _put(
            self,
            between=named,
            at_least=values.not_negative(self.at_least, where, "at_least"),
            after_deg=values.not_negative(self.after_deg, where, "after_deg"),
        )
        _keep(self)

    def pairs(self, one: str, other: str) -> bool:
        """Tell whether it watches these two, in either order."""
        return self.between in ((one, other), (other, one))


@dataclass(frozen=True, slots=True)
class Zone:
    """A closed region (mm, shut) on a link: every pivot of that link must lie in one of its link's zones."""

    on: str
    points: tuple[Point, ...]
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"zone on {shown(self.on)}"
        values.identifier(self.on, where, "on")
        _put(self, points=values.points(self.points, where, "points", least=3))
        _keep(self)


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass (kg) on a link, at its centre of gravity (mm, shut); for the whole panel with all its hinges."""

    on: str
    mass: float
    at: Point
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"mass on {shown(self.on)}"
        values.identifier(self.on, where, "on")
        _put(self, mass=values.not_negative(self.mass, where, "mass"), at=values.point(self.at, where, "at"))
        _keep(self)


@dataclass(frozen=True, slots=True)
class Handle:
    """Where the hand lifts: a point on a link (mm, shut)."""

    on: str
    at: Point
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        values.identifier(self.on, "handle", "on")
        _put(self, at=values.point(self.at, "handle", "at"))
        _keep(self)


@dataclass(frozen=True, slots=True)
class Attachment:
    """Where one end of a device is pinned: a point on a link (mm, shut)."""

    on: str
    at: Point
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        values.identifier(self.on, "end of a device", "on")
        _put(self, at=values.point(self.at, "end of a device", "at"))
        _keep(self)


@dataclass(frozen=True, slots=True)
class Device:
    """A gas strut (extended, stroke mm, force N at 20 °C each, ratio) or a tension spring (free mm, initial N, rate N/mm), `count` of them.

    A strut's four figures are never None, nor a spring's three (absent: 0); the figures of the other kind are None unless a file carries them.
    """

    id: str
    kind: Literal["gas strut", "tension spring"]
    count: int
    from_end: Attachment
    to_end: Attachment
    extended: float | None = None
    stroke: float | None = None
    force: float | None = None
    ratio: float | None = None
    free: float | None = None
    initial: float | None = None
    rate: float | None = None
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        where = f"device {shown(self.id)}"
        values.identifier(self.id, where)
        values.one_of(self.kind, where, "kind", DEVICES)
        _put(self, count=values.count(self.count, where, "count"))
        for key in ("extended", "stroke", "force", "ratio"):
            if self.kind == "gas strut" or getattr(self, key) is not None:
                _put(self, **{key: values.positive(getattr(self, key), where, key)})
        for key in ("free", "initial", "rate"):
            if self.kind == "tension spring" or getattr(self, key) is not None:
                _put(self, **{key: values.not_negative(getattr(self, key) or 0.0, where, key)})
        _keep(self)


@dataclass(frozen=True, slots=True)
class Loads:
    """What the panel weighs and what helps to lift it; `hinges` share the load evenly."""

    masses: tuple[Mass, ...] = ()
    handle: Handle | None = None
    hinges: int = 2
    devices: tuple[Device, ...] = ()
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        _put(self, masses=tuple(self.masses), devices=tuple(self.devices), hinges=values.count(self.hinges, "loads", "hinges"))
        _keep(self)


Named = TypeVar("Named", Link, Pivot, Outline, Mark)


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """One hinge: what is drawn, what is wanted. Built by keyword; `links` and `travel` have no default.

    pin_spacing : mm, the least distance wanted between two pins of a link that has a width.
    pictures, trials, plates, stack, mount, wall : JSON values as a file carries them, for parts of the program to come; nobody changes them in place.
    """

    title: str = ""
    notes: str = ""
    display_units: Literal["mm", "in"] = "mm"
    links: tuple[Link, ...]
    pivots: tuple[Pivot, ...] = ()
    outlines: tuple[Outline, ...] = ()
    marks: tuple[Mark, ...] = ()
    limits: tuple[Limit, ...] = ()
    travel: Travel
    gaps: tuple[GapWant, ...] = ()
    zones: tuple[Zone, ...] = ()
    loads: Loads | None = None
    pin_spacing: float = 30.0
    pictures: tuple[Any, ...] = field(default=(), hash=False)
    trials: tuple[Any, ...] = field(default=(), hash=False)
    plates: Any = field(default=None, hash=False)
    stack: Any = field(default=None, hash=False)
    mount: Any = field(default=None, hash=False)
    wall: Any = field(default=None, hash=False)
    version: int = 1
    unknown: Mapping[str, Any] = _unknown()

    def __post_init__(self) -> None:
        for name in ("links", "pivots", "outlines", "marks", "limits", "gaps", "zones", "pictures", "trials"):
            if type(getattr(self, name)) is not tuple:
                _put(self, **{name: tuple(getattr(self, name))})
        values.text(self.title, "", "title")
        values.text(self.notes, "", "notes")
        values.one_of(self.display_units, "", "display_units", UNITS)
        _put(self, pin_spacing=values.not_negative(self.pin_spacing, "", "pin_spacing"))
        _keep(self)
        _check_ids(self)
        _check_references(self)
        _check_gaps(self)

    def link(self, id: str) -> Link:  # noqa: A002  "id" is the word of the file
        """Find a link by its id; ProjectError when there is none."""
        return _find(self.links, id, "link")

    def pivot(self, id: str) -> Pivot:  # noqa: A002
        """Find a pivot by its id; ProjectError when there is none."""
        return _find(self.pivots, id, "pivot")

    def outline(self, id: str) -> Outline:  # noqa: A002
        """Find an outline by its id; ProjectError when there is none."""
        return _find(self.outlines, id, "outline")

    def mark(self, id: str) -> Mark:  # noqa: A002
        """Find a mark by its id; ProjectError when there is none."""
        return _find(self.marks, id, "mark")

    @property
    def fixed(self) -> Link:
        """The fixed link."""
        return next(link for link in self.links if link.kind == "fixed")

    @property
    def panel(self) -> Link:
        """The link that opens."""
        return next(link for link in self.links if link.kind == "panel")

    @property
    def link_index(self) -> dict[str, int]:
        """Place of each link in `links`, by id."""
        return {link.id: place for place, link in enumerate(self.links)}

    def pivots_on(self, link_id: str) -> tuple[Pivot, ...]:
        """Give the pivots of a link, in the project's order."""
        return tuple(pivot for pivot in self.pivots if link_id in pivot.joins)

    def rides_on(self, name: str) -> str:
        """Give the id of the link that a gap's partner (an outline, or a link itself) moves with; ProjectError when nobody defines it."""
        for outline in self.outlines:
            if outline.id == name:
                return outline.on
        return _find(self.links, name, "outline or link").id


def _find(parts: Iterable[Named], wanted: str, kind: str) -> Named:
    for part in parts:
        if part.id == wanted:
            return part
    raise ProjectError(f"there is no {kind} {shown(wanted)}")


def entry(list_name: str, place: int, part_id: object = None) -> str:
    """Say where an entry stands, as `pivots, entry 3 "A"`; `place` counts from 0."""
    name = "" if part_id is None else f" {shown(part_id)}"
    return f"{list_name}, entry {place + 1}{name}"


def _check_ids(project: Project) -> None:
    """Ids occur once in their list; one link is fixed, one is the panel; no outline is named like a link."""
    devices = project.loads.devices if project.loads else ()
    named: tuple[tuple[str, tuple[Any, ...]], ...] = (
        ("links", project.links), ("pivots", project.pivots), ("outlines", project.outlines), ("marks", project.marks), ("devices", devices),
    )  # fmt: skip
    for list_name, parts in named:
        seen: set[str] = set()
        for place, part in enumerate(parts):
            if part.id in seen:
                raise ProjectError("this id occurs twice", entry(list_name, place, part.id), "Give each its own name.")
            seen.add(part.id)
    for kind in ("fixed", "panel"):
        found = [link.id for link in project.links if link.kind == kind]
        if len(found) != 1:
            names = f": {', '.join(shown(each) for each in found)}" if found else ""
            raise ProjectError(f'{len(found)} links are of kind "{kind}"{names}', "links", "Exactly one must be.")
    links = project.link_index
    for place, outline in enumerate(project.outlines):
        if outline.id in links:
            raise ProjectError("a link has this id too", entry("outlines", place, outline.id), "Give the outline another name.")


def _check_references(project: Project) -> None:
    """Whatever names a link or a mark names one that is defined."""
    links = project.link_index
    for where, key, name in _named_links(project):
        if name not in links:
            raise ProjectError(f"{key} names the link {shown(name)}, which nobody defines", where, "Define it under links, or correct the name.")
    marks = {mark.id for mark in project.marks}
    for place, limit in enumerate(project.limits):
        if limit.mark not in marks:
            raise ProjectError(f"mark names {shown(limit.mark)}, which nobody defines", entry("limits", place), "Define it under marks, or correct the name.")


def _named_links(project: Project) -> Iterable[tuple[str, str, str]]:
    """Give every place that names a link: where, key, name."""
    for place, pivot in enumerate(project.pivots):
        for name in pivot.joins:
            yield entry("pivots", place, pivot.id), "joins", name
    for place, outline in enumerate(project.outlines):
        yield entry("outlines", place, outline.id), "on", outline.on
    for place, mark in enumerate(project.marks):
        yield entry("marks", place, mark.id), "on", mark.on
    for place, zone in enumerate(project.zones):
        yield entry("zones", place), "on", zone.on
    loads = project.loads
    if loads is None:
        return
    for place, mass in enumerate(loads.masses):
        yield entry("loads, masses", place), "on", mass.on
    if loads.handle is not None:
        yield "loads, handle", "on", loads.handle.on
    for place, device in enumerate(loads.devices):
        where = entry("loads, devices", place, device.id)
        yield where, "on of from", device.from_end.on
        yield where, "on of to", device.to_end.on


def _check_gaps(project: Project) -> None:
    """A gap's two partners are defined and ride on different links."""
    rides = {link.id: link.id for link in project.links} | {outline.id: outline.on for outline in project.outlines}
    for place, gap in enumerate(project.gaps):
        where = entry("gaps", place)
        for name in gap.between:
            if name not in rides:
                raise ProjectError(f"between names {shown(name)}, which is no outline and no link", where, "Define it, or correct the name.")
        one, other = gap.between
        if rides[one] == rides[other]:
            raise ProjectError(
                f"{shown(one)} and {shown(other)} ride on one link, {shown(rides[one])}, so the gap between them never changes", where, "Watch a pair on different links."
            )
