"""Fittings of a panel, as frozen values: what holds it open, and what it meets when it is shut.

- A *prop* is a rod that hangs on one link and is set into its seat on another once the panel is open so far.
- A *stop* is a pair of faces on two links that meet at an opening, so far from the pivot that joins them.
- A *latch* holds the panel shut; its striker rides on the panel and goes into the catch.
- A *cushion* is squeezed by the shut panel and pushes back: a seal along the edge, or a bump stop.

Coordinates are mm in the side view with the panel shut. Each part checks itself when it is built and raises a
`ProjectError`; whether the links that it names are there is the business of `kinematics.project`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import Attachment, keep, kept_keys, put
from kinematics.values import Point, shown

if TYPE_CHECKING:
    from collections.abc import Mapping

CUSHIONS = ("seal", "bump stop")
INWARDS, UPWARDS = 270.0, 90.0
"""Ways in degrees from the x axis, anticlockwise: straight down into a catch, straight up against a panel."""


@dataclass(frozen=True, slots=True)
class Prop:
    """A rod that hangs by its `from_end` and is set into the seat at its `to_end` when the panel is open by `at_deg`.

    Its length is the distance of the two at that opening.
    """

    from_end: Attachment
    to_end: Attachment
    at_deg: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        put(self, at_deg=_opening(self.at_deg, "prop"))
        if self.from_end.on == self.to_end.on:
            raise ProjectError(f"both ends are on {shown(self.to_end.on)}", "prop", "A prop stands between two links.")
        keep(self)


@dataclass(frozen=True, slots=True)
class Stop:
    """Two links whose faces meet at an opening (deg), `arm` mm from the pivot that joins the two."""

    between: tuple[str, str]
    at_deg: float
    arm: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        named = values.identifiers(self.between, "stop", "between")
        if len(named) != 2 or named[0] == named[1]:
            raise ProjectError("between doesn't name two links", "stop", "Name two that a pivot joins.")
        put(self, between=named, at_deg=_opening(self.at_deg, "stop"), arm=values.positive(self.arm, "stop", "arm"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Latch:
    """Where the striker is (mm, shut), on the link that it rides on, and the way (deg) by which it goes in."""

    on: str
    at: Point
    way_deg: float = INWARDS
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.identifier(self.on, "latch", "on")
        put(self, at=values.point(self.at, "latch", "at"), way_deg=values.number(self.way_deg, "latch", "way_deg"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Cushion:
    """A seal or bump stop that pushes a link (N) along a way (deg) at a place (mm, shut) while the panel is shut.

    squeeze : mm by which it is squeezed when shut; its push falls evenly to nothing over that way.
    A bump stop has `force` (N when shut, each) and `count`; a seal `per_metre` (N/m when shut) and `length` (mm).
    """

    id: str
    kind: Literal["seal", "bump stop"]
    on: str
    at: Point
    squeeze: float
    way_deg: float = UPWARDS
    force: float | None = None
    count: int = 1
    per_metre: float | None = None
    length: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"cushion {shown(self.id)}"
        values.identifier(self.id, where)
        values.one_of(self.kind, where, "kind", CUSHIONS)
        values.identifier(self.on, where, "on")
        put(
            self,
            at=values.point(self.at, where, "at"),
            squeeze=values.positive(self.squeeze, where, "squeeze"),
            way_deg=values.number(self.way_deg, where, "way_deg"),
            count=values.count(self.count, where, "count"),
        )
        needed = ("per_metre", "length") if self.kind == "seal" else ("force",)
        for key in ("force", "per_metre", "length"):
            if key in needed and getattr(self, key) is None:
                raise ProjectError(f"{key} is missing", where)
            if getattr(self, key) is not None:
                put(self, **{key: values.not_negative(getattr(self, key), where, key)})
        keep(self)

    @property
    def pushes(self) -> float:
        """N, all of it together when shut."""
        if self.kind == "seal":
            return (self.per_metre or 0.0) * (self.length or 0.0) / 1000.0
        return (self.force or 0.0) * self.count


def _opening(value: object, where: str) -> float:
    """Check that the value is an opening (deg) a panel may have."""
    found = values.positive(value, where, "at_deg")
    if found > 180.0:
        raise ProjectError(f"at_deg is {found:g}, but a panel opens by 180 degrees at most", where)
    return found
