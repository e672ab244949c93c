"""What the links are built of, as frozen values: plates, and the stack of them on each pin.

- A *plate* is cut from sheet: round its pins run *eyes*, from eye to eye *sides*, straight, or with a *belly*
  (outwards; negative: a waist). Or it has an *edge* of its own. *Cutouts* make it lighter. A link is built of one
  plate, or of a pair of them with the others between (double shear).
- A *layer* is a place along the pins, counted from the panel's middle outwards, from 1. All plates of a layer move in
  one plane.
- A *pin choice* says what kind of pin a pivot has and what it turns in.

What is said for all holds wherever a plate or a pivot says nothing of its own (None). Lengths mm, coordinates in the
side view with the panel shut. Each part checks itself when it is built; whether the links and pivots that it names are
there doesn't matter: what nobody defines means nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal, TypeVar

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put
from kinematics.strength_parts import joint_of
from kinematics.values import Point, shown

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kinematics.strength_parts import Metal, Strength

THICKNESS, PLATES, PAIR, RADIUS = 4.0, 1, 2, 14.0
"""Of plates where nobody says otherwise: mm, how many make a link, the most that can, the eyes' radius of a link that
has no width."""
STEEL = 7850.0
"""kg/m³, structural steel (EN 1991-1-1 gives 77 to 78.5 kN/m³)."""
WASHER, END_FLOAT = 1.6, 0.2
"""Mm between two plates on a pin, and the play that is left along it, where nobody says otherwise."""
PIN = 8.0
"""Diameter of pins (mm) where nobody says otherwise."""
PIN_KINDS = ("clevis pin", "shoulder bolt", "plain pin")
BUSHINGS = ("sintered", "solid bronze", "none")
FIXINGS = ("press", "bond")
FINISHES = ("reamed", "to size")

Kind = TypeVar("Kind")


@dataclass(frozen=True, slots=True)
class EyeSize:
    """How far a plate reaches round one of its pins (mm from its centre)."""

    pivot: str
    radius: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.identifier(self.pivot, "eye", "pivot")
        put(self, radius=values.positive(self.radius, f"eye at {shown(self.pivot)}", "radius"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Side:
    """How far the middle of a plate's side bellies out (mm; negative: in), between two of its pins, anticlockwise."""

    between: tuple[str, str]
    belly: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        named = values.identifiers(self.between, "side", "between")
        if len(named) != 2 or named[0] == named[1]:
            raise ProjectError("between doesn't name two pins", "side of a plate")
        put(self, between=named, belly=values.number(self.belly, "side of a plate", "belly", values.LARGEST_COORDINATE))
        keep(self)


@dataclass(frozen=True, slots=True)
class Cutout:
    """A round hole that only makes a plate lighter."""

    at: Point
    diameter: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        put(
            self,
            at=values.point(self.at, "cutout", "at"),
            diameter=values.positive(self.diameter, "cutout", "diameter"),
        )
        keep(self)


@dataclass(frozen=True, slots=True)
class Plate:
    """What one link's plates have of their own; None: as all have it.

    edge : corners (x, y, bulge) of an outline of its own, anticlockwise, that takes the place of eyes and sides.
    """

    link: str
    thickness: float | None = None
    count: int | None = None
    radius: float | None = None
    metal: Metal | None = None
    density: float | None = None
    eyes: tuple[EyeSize, ...] = ()
    sides: tuple[Side, ...] = ()
    cutouts: tuple[Cutout, ...] = ()
    edge: tuple[tuple[float, float, float], ...] = ()
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"plate of {shown(self.link)}"
        values.identifier(self.link, where, "link")
        _check_sheet(self, where)
        put(self, eyes=tuple(self.eyes), sides=tuple(self.sides), cutouts=tuple(self.cutouts))
        put(self, edge=_corners(self.edge, where))
        keep(self)


@dataclass(frozen=True, slots=True)
class Prices:
    """A builder's own prices of parts cut from sheet, each in the same money.

    per_kg : of sheet.   per_metre : of cut.   per_pierce : of each contour that is begun.   currency : its name.
    """

    per_kg: float = 0.0
    per_metre: float = 0.0
    per_pierce: float = 0.0
    currency: str = ""
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        for name in ("per_kg", "per_metre", "per_pierce"):
            put(self, **{name: values.not_negative(getattr(self, name), "prices", name)})
        if values.text(self.currency, "prices", "currency"):
            values.identifier(self.currency, "prices", "currency")
        keep(self)


@dataclass(frozen=True, slots=True)
class Plates:
    """What all plates are of, and what single ones have of their own."""

    thickness: float | None = None
    count: int | None = None
    radius: float | None = None
    metal: Metal | None = None
    density: float | None = None
    each: tuple[Plate, ...] = ()
    prices: Prices | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        _check_sheet(self, "plates")
        put(self, each=_once(self.each, "plates", "link"))
        keep(self)

    @property
    def is_said(self) -> bool:
        """Whether anything is said of what plates are: prices alone build nothing."""
        said = (self.thickness, self.count, self.radius, self.metal, self.density)
        return bool(self.each) or any(each is not None for each in said)

    def of(self, link: str, width: float = 0.0) -> Plate:
        """The plate of a link with all that it has, its own or as all have it.   width : of the link's band."""
        return self._full(next((plate for plate in self.each if plate.link == link), Plate(link)), width)

    @property
    def common(self) -> Plate:
        """What all plates have that have nothing of their own; its link's name means nothing."""
        return self._full(Plate("all"), 0.0)

    def _full(self, own: Plate, width: float) -> Plate:
        usual = {"thickness": THICKNESS, "count": PLATES, "radius": width / 2 or RADIUS, "density": STEEL}
        return _filled(own, self, usual)


@dataclass(frozen=True, slots=True)
class LayerChoice:
    """In which layers a link's plates run, as somebody set them by hand."""

    link: str
    layers: tuple[int, ...]
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"layers of {shown(self.link)}"
        values.identifier(self.link, where, "link")
        layers = tuple(values.count(each, where, "layer") for each in self.layers)
        if not layers or len(set(layers)) < len(layers):
            raise ProjectError("no layer is named, or one twice", where, "Name one for each plate of the link.")
        put(self, layers=tuple(sorted(layers)))
        keep(self)


@dataclass(frozen=True, slots=True)
class PinChoice:
    """What one pivot's pin is, and what it turns in; None: as all pins have it.

    kind : "clevis pin" with a clip, "shoulder bolt", "plain pin" with two rings.   diameter : of its shank.
    bushing : "sintered" (pressed in, never reamed), "solid bronze" (reamed once it is in), "none".   wall : of the
    bushing.   fixing : "press", or "bond": retaining compound on a slip fit.   holes : "reamed" once they are cut
    smaller, or cut "to size".   metal : what the pin is of.
    """

    pivot: str
    kind: Literal["clevis pin", "shoulder bolt", "plain pin"] | None = None
    diameter: float | None = None
    bushing: Literal["sintered", "solid bronze", "none"] | None = None
    wall: float | None = None
    fixing: Literal["press", "bond"] | None = None
    holes: Literal["reamed", "to size"] | None = None
    metal: Metal | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"pin {shown(self.pivot)}"
        values.identifier(self.pivot, where, "pivot")
        _check_pin(self, where)
        keep(self)


@dataclass(frozen=True, slots=True)
class Stack:
    """What all pins are, what lies between the plates on them, and who runs in which layer where that was set by hand.

    washer : mm between two plates.   end_float : mm of play left along each pin.   layers : none: found.
    """

    washer: float = WASHER
    end_float: float = END_FLOAT
    kind: Literal["clevis pin", "shoulder bolt", "plain pin"] | None = None
    diameter: float | None = None
    bushing: Literal["sintered", "solid bronze", "none"] | None = None
    wall: float | None = None
    fixing: Literal["press", "bond"] | None = None
    holes: Literal["reamed", "to size"] | None = None
    metal: Metal | None = None
    pins: tuple[PinChoice, ...] = ()
    layers: tuple[LayerChoice, ...] = ()
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        for name in ("washer", "end_float"):
            put(self, **{name: values.not_negative(getattr(self, name), "stack", name)})
        _check_pin(self, "stack")
        put(self, pins=_once(self.pins, "stack", "pivot"), layers=_once(self.layers, "stack", "link"))
        keep(self)

    def of(self, pivot: str, strength: Strength | None = None) -> PinChoice:
        """The choice for a pivot with all that it has: its own, or as all have it, or as the strength has it (so that
        it is typed once), or as is usual.
        """
        own = next((choice for choice in self.pins if choice.pivot == pivot), PinChoice(pivot))
        usual = {"kind": "clevis pin", "diameter": PIN, "bushing": "sintered", "fixing": "press", "holes": "reamed"}
        return _filled(own, self, usual | ({} if strength is None else _strengthened(strength, pivot)))


def _check_sheet(part: Plate | Plates, where: str) -> None:
    """Check what plates are of: thickness, count, radius, density."""
    for name in ("thickness", "radius", "density"):
        if getattr(part, name) is not None:
            put(part, **{name: values.positive(getattr(part, name), where, name)})
    if part.count is not None and values.count(part.count, where, "count") > PAIR:
        raise ProjectError(f"count is {part.count}, but a link is built of 1 plate or of 2", where)


def _check_pin(part: PinChoice | Stack, where: str) -> None:
    """Check what pins are: kind, diameter, bushing, its wall, how it is fixed, how holes are finished."""
    for name in ("diameter", "wall"):
        if getattr(part, name) is not None:
            put(part, **{name: values.positive(getattr(part, name), where, name)})
    choices = (("kind", PIN_KINDS), ("bushing", BUSHINGS), ("fixing", FIXINGS), ("holes", FINISHES))
    for name, known in choices:
        if getattr(part, name) is not None:
            values.one_of(getattr(part, name), where, name, known)


def _strengthened(strength: Strength, pivot: str) -> dict[str, object]:
    """What the strength says of a pivot's pin and bushing."""
    joint = joint_of(strength, pivot)
    found: dict[str, object] = {"diameter": joint.diameter, "metal": joint.pin_material, "wall": joint.wall}
    if strength.joint(pivot).plain:
        found["bushing"] = "none"
    elif joint.bushing is not None and joint.bushing.kind in BUSHINGS:
        found["bushing"] = joint.bushing.kind
    return found


def _filled(own: Kind, common: Any, usual: Mapping[str, object]) -> Kind:  # noqa: ANN401  plates or a stack
    """The part with what it says nothing of taken from what is common, else from what is usual."""
    names = {*usual, *(name for name in ("metal", "wall") if hasattr(own, name))}
    told = {name: getattr(common, name) for name in names}
    missing = {name: told[name] if told[name] is not None else usual.get(name) for name in names}
    return replace(own, **{name: value for name, value in missing.items() if getattr(own, name) is None})  # type: ignore[type-var]


def _once(parts: Sequence[Any], where: str, key: str) -> tuple[Any, ...]:
    """The parts as a tuple; each link or pivot may be named once."""
    names = [getattr(part, key) for part in parts]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise ProjectError(f"the {key} {shown(twice)} is named twice", where, "Name each once.")
    return tuple(parts)


def _corners(corners: object, where: str) -> tuple[tuple[float, float, float], ...]:
    """Check the corners of an edge: (x, y) or (x, y, bulge) each, at least two."""
    found = []
    for corner in values.sequence(corners, where, "edge"):
        numbers = values.sequence(corner, where, "corner of edge")
        if len(numbers) not in (2, 3):
            raise ProjectError("a corner of edge isn't [x, y] or [x, y, bulge]", where)
        x, y = values.point(numbers[:2], where, "corner of edge")
        found.append((x, y, values.number(numbers[2], where, "bulge", 1e6) if len(numbers) == 3 else 0.0))
    if len(found) == 1:
        raise ProjectError("edge has one corner only", where)
    return tuple(found)
