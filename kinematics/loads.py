"""The loads of a project, as frozen values: weights, what helps to lift, what holds open and shut, what is wanted.

Masses kg, forces N, temperatures °C; coordinates mm in the side view with the panel shut. Each part checks itself when
it is built and raises a `ProjectError`; whether the links that it names are there is the business of
`kinematics.project`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.fittings import Cushion, Latch, Prop, Stop
    from kinematics.parts import Device, Handle, Mass, Zone

WARMEST, COLDEST = 200.0, -100.0
STEEPEST = 45.0
STRONGEST_WIND = 60.0
LIMITS = ("shut_at_most", "at_most", "rests_until_deg", "latch_at_most", "rear_edge_rise_at_most", "side_step_at_most")
"""Wants of lifting that are figures, none of them below nothing."""


@dataclass(frozen=True, slots=True)
class PinFriction:
    """How the pins rub: their radius (mm), and the coefficient of friction."""

    pin_radius: float
    coefficient: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        for name in ("pin_radius", "coefficient"):
            put(self, **{name: values.not_negative(getattr(self, name), "pin_friction", name)})
        keep(self)


@dataclass(frozen=True, slots=True)
class WorstCase:
    """What may go against a panel that is to stay open.

    temperature : °C (None: as the loads have it).   slope_deg : of the ground, either way, 0 to 45.
    one_dead : whether one gas strut, any, may have failed.   wind : m/s, of a gust from either side, 0 to 60.
    """

    temperature: float | None = None
    slope_deg: float = 0.0
    one_dead: bool = False
    wind: float = 0.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = "worst case"
        if self.temperature is not None:
            put(self, temperature=_warmth(self.temperature, where))
        put(self, slope_deg=values.not_negative(self.slope_deg, where, "slope_deg"))
        if self.slope_deg > STEEPEST:
            raise ProjectError(f"slope_deg is {self.slope_deg:g}, but may be {STEEPEST:g} at most", where)
        values.flag(self.one_dead, where, "one_dead")
        put(self, wind=values.not_negative(self.wind, where, "wind"))
        if self.wind > STRONGEST_WIND:
            raise ProjectError(f"wind is {self.wind:g} m/s, but may be {STRONGEST_WIND:g} at most", where)
        keep(self)


def _warmth(value: object, where: str) -> float:
    """Check that the value is a temperature (°C) at which struts are used."""
    found = values.number(value, where, "temperature")
    if not COLDEST <= found <= WARMEST:
        what = f"temperature is {found:g} °C, but must be from {COLDEST:g} to {WARMEST:g}"
        raise ProjectError(what, where)
    return found


@dataclass(frozen=True, slots=True)
class LiftWants:
    """What is wanted of lifting; None (False) wants nothing.

    shut_at_most, at_most : N, the push at the handle when shut, and anywhere.   rests_until_deg : deg, before which the
    panel doesn't rise by itself.   stays_open : whether it stays at full opening without a hand.   stays_open_in : the
    worst case in which it does so too.   latch_at_most : N, what the latch may have to hold.   rear_edge_rise_at_most,
    side_step_at_most : mm, by which play may let the rear edge rise, and the striker leave its way near the latch.
    """

    shut_at_most: float | None = None
    at_most: float | None = None
    rests_until_deg: float | None = None
    stays_open: bool = False
    stays_open_in: WorstCase | None = None
    latch_at_most: float | None = None
    rear_edge_rise_at_most: float | None = None
    side_step_at_most: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        for name in LIMITS:
            if getattr(self, name) is not None:
                put(self, **{name: values.not_negative(getattr(self, name), "wants of lifting", name)})
        values.flag(self.stays_open, "wants of lifting", "stays_open")
        keep(self)


@dataclass(frozen=True, slots=True)
class Loads:
    """What the panel weighs and what helps to lift it; `hinges` share the load evenly.

    temperature : °C, at which the gas struts work (None: 20).   pin_friction : None where it isn't asked for.
    wants : of lifting.   across, spacing : mm, the panel's width across the body, and the way from hinge to hinge; None
    where nobody told.   uneven : the largest share of the load that one hinge takes, 0.5 to 1 (None: the usual one).
    prop_rod, stop, latch, cushions : what holds the panel open, and what it meets shut (`kinematics.fittings`).
    strut_zones : where ends of struts may be that are looked for (`kinematics.struts`).
    """

    masses: tuple[Mass, ...] = ()
    handle: Handle | None = None
    hinges: int = 2
    devices: tuple[Device, ...] = ()
    temperature: float | None = None
    pin_friction: PinFriction | None = None
    wants: LiftWants | None = None
    across: float | None = None
    spacing: float | None = None
    uneven: float | None = None
    prop_rod: Prop | None = None
    stop: Stop | None = None
    latch: Latch | None = None
    cushions: tuple[Cushion, ...] = ()
    strut_zones: tuple[Zone, ...] = ()
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        put(
            self,
            masses=tuple(self.masses),
            devices=tuple(self.devices),
            cushions=tuple(self.cushions),
            strut_zones=tuple(self.strut_zones),
            hinges=values.count(self.hinges, "loads", "hinges"),
        )
        if self.temperature is not None:
            put(self, temperature=_warmth(self.temperature, "loads"))
        for name in ("across", "spacing"):
            if getattr(self, name) is not None:
                put(self, **{name: values.positive(getattr(self, name), "loads", name)})
        if self.uneven is not None:
            put(self, uneven=_share(self.uneven))
        keep(self)


def _share(value: object) -> float:
    """Check that the value is a share of the load that the worse of two hinges can take."""
    found = values.number(value, "loads", "uneven")
    if not 0.5 <= found <= 1.0:
        raise ProjectError(f"uneven is {found:g}, but must be from 0.5 to 1", "loads")
    return found
