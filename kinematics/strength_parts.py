"""What pins and plates are made of, as parts of a project: each checks itself when it is built.

A *joint* is a pin with the plates on it. In *double* shear two *outer* plates hold the pin on either side of an *inner*
one; in *single* shear one outer plate holds it fast and the inner one turns on its free end. Between the plates stand
washers. What is said for all joints holds wherever a joint says nothing of its own. A *bushing*, where there is one,
sits in the inner plate. Strengths are MPa (N/mm²), lengths mm. Metals and bushings stand here with their figures, so
that a project means the same wherever it is opened.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Literal

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

SHEARS = ("double", "single")
FITS = 1e-9
USUAL_FACTOR = 2.0
"""Safety against yielding that is wanted where nobody says otherwise (common practice, no source)."""
USUAL_TIME = 2.0
"""Seconds in which a hand opens the panel where nobody says otherwise (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Metal:
    """What a pin or plate is made of: yield strength or 0.2 % proof, tensile strength (None: not known), modulus."""

    name: str
    yield_mpa: float
    modulus_mpa: float
    tensile_mpa: float | None = None
    source: str = ""
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"material {shown(self.name)}"
        values.identifier(self.name, where, "name")
        values.text(self.source, where, "source")
        for key in ("yield_mpa", "modulus_mpa"):
            put(self, **{key: values.positive(getattr(self, key), where, key)})
        if self.tensile_mpa is not None:
            put(self, tensile_mpa=values.positive(self.tensile_mpa, where, "tensile_mpa"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Bushing:
    """A bushing: length and outside diameter (mm), and what its kind bears: MPa, m/s, and MPa·m/s of both together.

    kind : how it is made and put in, as a stack's pins have it (`build_parts.BUSHINGS`); None: not said.   stock :
    lengths that it is made in; none: not known.
    """

    name: str
    length: float
    outside: float
    pressure_mpa: float
    speed_m_s: float
    pv_mpa_m_s: float
    source: str = ""
    kind: str | None = None
    stock: tuple[float, ...] = ()
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"bushing {shown(self.name)}"
        values.identifier(self.name, where, "name")
        values.text(self.source, where, "source")
        if self.kind is not None:
            values.text(self.kind, where, "kind")
        stock = values.sequence(self.stock, where, "stock")
        put(self, stock=tuple(values.positive(each, where, "stock") for each in stock))
        for key in ("length", "outside", "pressure_mpa", "speed_m_s", "pv_mpa_m_s"):
            put(self, **{key: values.positive(getattr(self, key), where, key)})
        keep(self)

    def in_plate(self, thickness: float) -> float:
        """How long it is in a plate: the longest that isn't longer than the plate is thick, else the shortest that is
        made; where that isn't known its own length, and no longer than the plate.
        """
        if not self.stock:
            return min(self.length, thickness)
        fitting = [each for each in self.stock if each <= thickness + FITS]
        return max(fitting) if fitting else min(self.stock)


@dataclass(frozen=True, slots=True)
class JointStrength:
    """What one pivot's joint has of its own; None: as all joints have it.

    outer_link : the link whose plates are the outer ones (None: the fixed link or the panel, where it is on the pin,
    else the first link that the pivot joins).   plain : no bushing here, though the others have one.
    """

    pivot: str
    diameter: float | None = None
    shear: Literal["double", "single"] | None = None
    inner: float | None = None
    outer: float | None = None
    washer: float | None = None
    edge: float | None = None
    outer_link: str | None = None
    pin_material: Metal | None = None
    plate_material: Metal | None = None
    bushing: Bushing | None = None
    plain: bool = False
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"joint {shown(self.pivot)}"
        values.identifier(self.pivot, where, "pivot")
        _check_sizes(self, where)
        if self.shear is not None:
            values.one_of(self.shear, where, "shear", SHEARS)
        if self.outer_link is not None:
            values.identifier(self.outer_link, where, "outer_link")
        values.flag(self.plain, where, "plain")
        if self.plain and self.bushing is not None:
            raise ProjectError("it is plain and has a bushing", where, "Take one of the two out.")
        keep(self)

    @property
    def says_nothing(self) -> bool:
        """Whether the joint is as all the others."""
        return self == JointStrength(self.pivot)


@dataclass(frozen=True, slots=True)
class Strength:
    """What all pins and plates are, and how far they are to be from yielding.

    factor : safety against yielding that is wanted, at least 1.   diameter : of the pins.   inner, outer : thickness of
    an inner plate, and of each outer one.   washer : between two plates.   edge : from a hole's centre to the plate's
    edge (None: half the link's width).   opens_in_s : seconds in which the panel is opened.   joints : what single ones
    have of their own; one whose pivot isn't there means nothing.
    """

    diameter: float
    inner: float
    outer: float
    pin_material: Metal
    plate_material: Metal
    shear: Literal["double", "single"] = "double"
    washer: float = 0.0
    edge: float | None = None
    bushing: Bushing | None = None
    factor: float = USUAL_FACTOR
    opens_in_s: float = USUAL_TIME
    joints: tuple[JointStrength, ...] = ()
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = "strength"
        _check_sizes(self, where)
        values.one_of(self.shear, where, "shear", SHEARS)
        put(
            self,
            factor=values.positive(self.factor, where, "factor"),
            opens_in_s=values.positive(self.opens_in_s, where, "opens_in_s"),
            joints=tuple(self.joints),
        )
        if self.factor < 1.0:
            what = f"factor is {self.factor:g}, but less than 1 wants what yields"
            raise ProjectError(what, where, "Give 1 or more.")
        named = [joint.pivot for joint in self.joints]
        twice = next((name for place, name in enumerate(named) if name in named[:place]), None)
        if twice is not None:
            raise ProjectError(f"joints names the pivot {shown(twice)} twice", where, "Give each joint once.")
        keep(self)

    def joint(self, pivot: str) -> JointStrength:
        """What a pivot's joint has of its own."""
        return next((joint for joint in self.joints if joint.pivot == pivot), None) or JointStrength(pivot)


def _check_sizes(part: Strength | JointStrength, where: str) -> None:
    """Sizes that are given are sizes; washers may be none."""
    for key in ("diameter", "inner", "outer", "edge"):
        needed = isinstance(part, Strength) and key != "edge"
        if needed or getattr(part, key) is not None:
            put(part, **{key: values.positive(getattr(part, key), where, key)})
    if part.washer is not None:
        put(part, washer=values.not_negative(part.washer, where, "washer"))


@dataclass(frozen=True, slots=True)
class Joint:
    """A joint as it is built: what it has of its own, and for the rest what all have. `outer_link` may be None.

    bushing : with its ratings; None: none, or one that isn't rated.   housing : the hole in an inner plate for the
    bushing; None where the pin turns in the plate itself.   pressed : mm of the pin on which inner plate or bushing
    presses.
    """

    pivot: str
    diameter: float
    shear: str
    inner: float
    outer: float
    washer: float
    edge: float | None
    outer_link: str | None
    pin_material: Metal
    plate_material: Metal
    bushing: Bushing | None
    housing: float | None
    pressed: float

    @property
    def wall(self) -> float | None:
        """Of the bushing, mm; None where there is none, or none that can be."""
        wall = 0.0 if self.housing is None else 0.5 * (self.housing - self.diameter)
        return wall if wall > 0.0 else None


def joint_of(strength: Strength, pivot: str = "") -> Joint:
    """Put a pivot's joint together; of no pivot, what all joints have."""
    own = strength.joint(pivot) if pivot else JointStrength("all")
    bushing = None if own.plain else own.bushing or strength.bushing
    inner = own.inner or strength.inner
    return Joint(
        pivot,
        own.diameter or strength.diameter,
        own.shear or strength.shear,
        inner,
        own.outer or strength.outer,
        strength.washer if own.washer is None else own.washer,
        own.edge or strength.edge,
        own.outer_link,
        own.pin_material or strength.pin_material,
        own.plate_material or strength.plate_material,
        bushing,
        None if bushing is None else bushing.outside,
        inner if bushing is None else bushing.length,
    )


# --------------------------------------------------------------------------------------------- following what is named
def pivot_renamed(strength: Strength | None, id: str, new_id: str) -> Strength | None:
    """The same after a pivot got another name."""
    if strength is None or all(joint.pivot != id for joint in strength.joints):
        return strength
    joints = (replace(joint, pivot=new_id) if joint.pivot == id else joint for joint in strength.joints)
    return replace(strength, joints=tuple(joints))


def link_renamed(strength: Strength | None, id: str, new_id: str) -> Strength | None:
    """The same after a link got another name."""
    if strength is None or all(joint.outer_link != id for joint in strength.joints):
        return strength
    joints = (replace(joint, outer_link=new_id) if joint.outer_link == id else joint for joint in strength.joints)
    return replace(strength, joints=tuple(joints))


def among(strength: Strength | None, pivots: Iterable[str], links: Iterable[str]) -> Strength | None:
    """The same where there are these pivots and links: joints of others go, and links outside that are gone."""
    if strength is None or not strength.joints:
        return strength
    there, on = set(pivots), set(links)
    joints = tuple(
        joint if joint.outer_link is None or joint.outer_link in on else replace(joint, outer_link=None)
        for joint in strength.joints
        if joint.pivot in there
    )
    return strength if joints == strength.joints else replace(strength, joints=joints)
