"""The parts of a project, as frozen values: each checks itself when it is built and raises a `ProjectError`.

Coordinates are mm in the side view with the panel shut, x to the right, y up. Masses kg, forces N, spring rates N/mm,
angles degrees. Whether the parts fit together (who names whom) is the business of `kinematics.project`.

*Hidden* and *locked* are for the hand and the eye alone: a hidden part isn't drawn, a locked one isn't moved by the
mouse. Both count in the mechanism like all others.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.values import Kept, Point, shown

if TYPE_CHECKING:
    from collections.abc import Mapping

KINDS = ("fixed", "panel", "link")
TURNS = ("anticlockwise", "clockwise")
DEVICES = ("gas strut", "tension spring", "compression spring", "torsion spring")
SPRINGS = ("tension spring", "compression spring")
LIMIT_SIDES = ("dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most")


def kept_keys() -> Any:  # noqa: ANN401  what `field` gives has no type of its own
    """Declare the field of keys that this version doesn't know; not hashed, as JSON values have no hash."""
    return field(default_factory=Kept, hash=False)


def put(part: object, **values_by_name: object) -> None:
    """Set fields of a frozen part while it is being built."""
    for name, value in values_by_name.items():
        object.__setattr__(part, name, value)


def keep(part: Any) -> None:  # noqa: ANN401  any part below
    """Make the keys that this version doesn't know read-only."""
    if type(part.unknown) is not Kept:
        put(part, unknown=Kept(part.unknown))


@dataclass(frozen=True, slots=True)
class Link:
    """A rigid body. A `width` (mm) makes it a band: the convex hull of its pins with `width`/2 around it."""

    id: str
    kind: Literal["fixed", "panel", "link"] = "link"
    width: float = 0.0
    hidden: bool = False
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"link {shown(self.id)}"
        values.identifier(self.id, where)
        values.one_of(self.kind, where, "kind", KINDS)
        put(self, width=values.not_negative(self.width, where, "width"))
        values.flag(self.hidden, where, "hidden")
        keep(self)


@dataclass(frozen=True, slots=True)
class Pivot:
    """A pin at a place (mm, shut) that joins two links or more; a locked one isn't moved by proposals and mends."""

    id: str
    at: Point
    joins: tuple[str, ...]
    locked: bool = False
    hidden: bool = False
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"pivot {shown(self.id)}"
        values.identifier(self.id, where)
        put(self, at=values.point(self.at, where, "at"), joins=values.identifiers(self.joins, where, "joins"))
        if len(set(self.joins)) < len(self.joins):
            counted = Counter(self.joins)
            twice = next(link for link in self.joins if counted[link] > 1)
            raise ProjectError(f"joins names the link {shown(twice)} twice", where, "A pivot joins each link once.")
        if len(self.joins) < 2:
            raise ProjectError(f"joins names {len(self.joins)} links, but a pivot joins two or more", where)
        values.flag(self.locked, where, "locked")
        values.flag(self.hidden, where, "hidden")
        keep(self)


@dataclass(frozen=True, slots=True)
class Outline:
    """A line, or a solid where it is closed, that rides on a link.

    points : mm, shut.     half_width : mm, the radius of a round pen along the line.
    station : the section across the body where it was taken; "" is at all of them.
    uncertain : mm, how far the traced line may be off.
    """

    id: str
    on: str
    points: tuple[Point, ...]
    closed: bool = False
    half_width: float = 0.0
    station: str = ""
    uncertain: float = 0.0
    locked: bool = False
    hidden: bool = False
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"outline {shown(self.id)}"
        values.identifier(self.id, where)
        values.identifier(self.on, where, "on")
        values.flag(self.closed, where, "closed")
        put(
            self,
            points=values.points(self.points, where, "points", least=3 if self.closed else 2),
            half_width=values.not_negative(self.half_width, where, "half_width"),
            uncertain=values.not_negative(self.uncertain, where, "uncertain"),
        )
        values.text(self.station, where, "station")
        values.flag(self.locked, where, "locked")
        values.flag(self.hidden, where, "hidden")
        keep(self)


@dataclass(frozen=True, slots=True)
class Mark:
    """A point on a link whose path is shown."""

    id: str
    on: str
    at: Point
    locked: bool = False
    hidden: bool = False
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"mark {shown(self.id)}"
        values.identifier(self.id, where)
        values.identifier(self.on, where, "on")
        put(self, at=values.point(self.at, where, "at"))
        values.flag(self.locked, where, "locked")
        values.flag(self.hidden, where, "hidden")
        keep(self)


@dataclass(frozen=True, slots=True)
class Limit:
    """A want on how far a mark moves from its shut place (mm), from the opening `after_deg` on.

    A side that is None wants nothing.
    """

    mark: str
    dx_at_least: float | None = None
    dx_at_most: float | None = None
    dy_at_least: float | None = None
    dy_at_most: float | None = None
    after_deg: float = 0.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"limit on the mark {shown(self.mark)}"
        values.identifier(self.mark, where, "mark")
        for side in LIMIT_SIDES:
            if getattr(self, side) is not None:
                put(self, **{side: values.number(getattr(self, side), where, side)})
        put(self, after_deg=values.not_negative(self.after_deg, where, "after_deg"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Travel:
    """Which way the panel turns to open, and how far it is wanted to (0 < degrees ≤ 180)."""

    opens: Literal["anticlockwise", "clockwise"]
    wanted_deg: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.one_of(self.opens, "travel", "opens", TURNS)
        put(self, wanted_deg=values.positive(self.wanted_deg, "travel", "wanted_deg"))
        if self.wanted_deg > 180:
            raise ProjectError(f"wanted_deg is {self.wanted_deg:g}, but a panel opens by 180 degrees at most", "travel")
        keep(self)

    @property
    def sign(self) -> int:
        """+1 where the panel's turn grows with the opening (anticlockwise), −1 where it falls."""
        return 1 if self.opens == "anticlockwise" else -1


@dataclass(frozen=True, slots=True)
class ShutWant:
    """The shut gap wanted of a pair (mm): what is seen between the two while the panel is shut, seal and paint in it.

    A side that is None wants nothing, but one of them is there. Touching never meets it, whatever the sides: whoever
    wants the two to touch while shut, on a seal, wants no shut gap of them.
    """

    at_least: float | None = None
    at_most: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = "shut gap"
        if self.at_least is None and self.at_most is None:
            raise ProjectError("shut has neither at_least nor at_most", where, "Give one of them, or leave it out.")
        if self.at_least is not None:
            put(self, at_least=values.not_negative(self.at_least, where, "at_least"))
        if self.at_most is not None:
            put(self, at_most=values.positive(self.at_most, where, "at_most"))
        if self.at_least is not None and self.at_most is not None and self.at_least > self.at_most:
            what = f"at_least is {self.at_least:g} and at_most {self.at_most:g}, which no gap can meet"
            raise ProjectError(what, where, "Let the first be the smaller one.")
        keep(self)


@dataclass(frozen=True, slots=True)
class GapWant:
    """A watched pair, outlines or links by id, and what is wanted of the gap between them.

    at_least : mm, in travel, from the opening `after_deg` on.     shut : of the shut gap; None wants nothing of it.
    """

    between: tuple[str, str]
    at_least: float = 0.0
    after_deg: float = 0.0
    shut: ShutWant | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        named = values.identifiers(self.between, "gap", "between")
        if len(named) != 2:
            raise ProjectError(f"between names {len(named)} outlines or links, where two are expected", "gap")
        where = f"gap between {shown(named[0])} and {shown(named[1])}"
        put(
            self,
            between=named,
            at_least=values.not_negative(self.at_least, where, "at_least"),
            after_deg=values.not_negative(self.after_deg, where, "after_deg"),
        )
        keep(self)

    def pairs(self, one: str, other: str) -> bool:
        """Tell whether it watches these two, in either order."""
        return self.between in ((one, other), (other, one))


@dataclass(frozen=True, slots=True)
class Zone:
    """A closed region (mm, shut) on a link: every pivot of that link must lie in one of its link's zones."""

    on: str
    points: tuple[Point, ...]
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"zone on {shown(self.on)}"
        values.identifier(self.on, where, "on")
        put(self, points=values.points(self.points, where, "points", least=3))
        keep(self)


@dataclass(frozen=True, slots=True)
class Sureness:
    """How far the build may be off: each hole by `holes` (mm, either way), each pin by its `play` (mm, diametral)."""

    holes: float = 0.0
    play: float = 0.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        for name in ("holes", "play"):
            put(self, **{name: values.not_negative(getattr(self, name), "sureness", name)})
        keep(self)


@dataclass(frozen=True, slots=True)
class MadeOf:
    """What a mass is made of, so that it follows what is drawn (`kinematics.weighing`).

    outline : the line of its sheet, or the edge of a solid; None: the band of the link that the mass is on.
    across : mm, of an outline, across the body.   thickness : mm of sheet or plate; None: solid within the outline.
    density : kg/m³.   material : what it is called, for people.   count : so many of them, in all hinges.
    extra : what comes on top as a share of it: folded edges, ribs, paint (0.15: 15 % more).
    """

    density: float
    thickness: float | None = None
    outline: str | None = None
    across: float | None = None
    material: str = ""
    count: int = 1
    extra: float = 0.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = "made_of"
        put(self, density=values.positive(self.density, where, "density"))
        if self.thickness is not None or self.outline is None:
            put(self, thickness=values.positive(self.thickness, where, "thickness"))
        if self.outline is not None:
            values.identifier(self.outline, where, "outline")
            put(self, across=values.positive(self.across, where, "across"))
        elif self.across is not None:
            put(self, across=values.positive(self.across, where, "across"))
        values.text(self.material, where, "material")
        put(self, count=values.count(self.count, where, "count"))
        put(self, extra=values.not_negative(self.extra, where, "extra"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass (kg) on a link, at its centre of gravity (mm, shut); for the whole panel with all its hinges.

    made_of : where it follows what is drawn; `mass` and `at` are then what that came to last.
    """

    on: str
    mass: float
    at: Point
    made_of: MadeOf | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"mass on {shown(self.on)}"
        values.identifier(self.on, where, "on")
        put(self, mass=values.not_negative(self.mass, where, "mass"), at=values.point(self.at, where, "at"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Handle:
    """Where the hand lifts: a point on a link (mm, shut)."""

    on: str
    at: Point
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.identifier(self.on, "handle", "on")
        put(self, at=values.point(self.at, "handle", "at"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Attachment:
    """Where one end of a device is pinned: a point on a link (mm, shut)."""

    on: str
    at: Point
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.identifier(self.on, "end of a device", "on")
        put(self, at=values.point(self.at, "end of a device", "at"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Device:
    """Something that helps to lift, pinned to two links; `count` of them for the whole panel.

    A gas strut has `extended` and `stroke` (mm), `force` (N at 20 °C, each) and `ratio`; they are never None there. Its
    `friction` (N, each; None: none) works against its motion, both ways.
    A tension or compression spring has `free` (mm), `initial` (N) and `rate` (N/mm); never None there (absent: 0).
    A torsion spring turns the link of its `to_end` by `moment` (N·mm when shut, anticlockwise positive, not 0) against
    that of its `from_end`, less by `moment_rate` (N·mm per degree; absent: 0) as it unwinds; never None there.
    The figures of the other kinds are None, unless a file carries them.
    tube, rod : mm, diameters of a gas strut; coil : mm, outside diameter of a spring (None: `kinematics.spanning`).
    """

    id: str
    kind: Literal["gas strut", "tension spring", "compression spring", "torsion spring"]
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
    friction: float | None = None
    moment: float | None = None
    moment_rate: float | None = None
    tube: float | None = None
    rod: float | None = None
    coil: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"device {shown(self.id)}"
        values.identifier(self.id, where)
        values.one_of(self.kind, where, "kind", DEVICES)
        put(self, count=values.count(self.count, where, "count"))
        for key in ("extended", "stroke", "force", "ratio"):
            if self.kind == "gas strut" or getattr(self, key) is not None:
                put(self, **{key: values.positive(getattr(self, key), where, key)})
        for key in ("free", "initial", "rate"):
            if self.kind in SPRINGS or getattr(self, key) is not None:
                put(self, **{key: values.not_negative(getattr(self, key) or 0.0, where, key)})
        if self.friction is not None:
            put(self, friction=values.not_negative(self.friction, where, "friction"))
        for key in ("tube", "rod", "coil"):
            if getattr(self, key) is not None:
                put(self, **{key: values.positive(getattr(self, key), where, key)})
        if self.tube is not None and self.rod is not None and self.rod >= self.tube:
            what = f"rod is {self.rod:g} and tube {self.tube:g}, but the rod slides in the tube"
            raise ProjectError(what, where, "Let the rod be the thinner one.")
        self._check_torsion(where)
        keep(self)

    def _check_torsion(self, where: str) -> None:
        torsion = self.kind == "torsion spring"
        if torsion and not self.moment:
            raise ProjectError("moment is missing or 0", where, "Say how hard it turns when shut, in N·mm.")
        if self.moment is not None:
            put(self, moment=values.number(self.moment, where, "moment"))
        if torsion or self.moment_rate is not None:
            put(self, moment_rate=values.not_negative(self.moment_rate or 0.0, where, "moment_rate"))
