"""What holds the panel open, as plain values for `report --json`, in keys of our own (DEVELOPERS.md)."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from kinematics.results import HoldingFigures, PropFigures, Push, RestFigures, Seat, StopFigures, Worst

__all__ = ["brings_dict", "holding_dict"]


def holding_dict(told: HoldingFigures, pivots: list[str]) -> dict[str, Any]:
    """Give `prop`, `stop`, `rest` and `gust`, each only where there is one."""
    found: dict[str, Any] = {}
    if told.prop is not None:
        found["prop"] = _prop(told.prop, pivots)
    if told.stop is not None:
        found["stop"] = _stop(told.stop)
    if told.rest is not None:
        found["rest"] = _rest(told.rest)
    if told.gust is not None:
        gust = told.gust
        found["gust"] = {
            "speed": _number(gust.speed),
            "pressure": _number(gust.pressure),
            "chord": _number(gust.chord),
            "area": _number(gust.area),
            "force": _number(gust.force),
        }
    return found


def brings_dict(worst: Worst) -> dict[str, Any]:
    """Give what brings a worst case."""
    return {
        "temperature": _number(worst.temperature),
        "slope_deg": _number(worst.slope_deg),
        "dead": worst.dead or None,
        "wind": _number(worst.wind),
    }


def _prop(prop: PropFigures, pivots: list[str]) -> dict[str, Any]:
    pins = None if prop.pins is None else {id: _number(force) for id, force in zip(pivots, prop.pins, strict=True)}
    return {
        "at_deg": _number(prop.at_deg),
        "length": _number(prop.length),
        "force": _number(prop.force),
        "most": _worst(prop.most),
        "least": _worst(prop.least),
        "seat": None if prop.seat is None else _seat(prop.seat),
        "stows": _number(prop.stows),
        "leaves_deg": [[_number(low), _number(high)] for low, high in prop.leaves_deg],
        "away": _number(prop.away),
        "pins": pins,
    }


def _seat(seat: Seat) -> dict[str, Any]:
    return {
        "outline": seat.outline,
        "away": _number(seat.away),
        "off_deg": _number(seat.off_deg),
        "friction_deg": _number(seat.friction_deg),
        "slides": seat.slides or None,
    }


def _stop(stop: StopFigures) -> dict[str, Any]:
    return {
        "at_deg": _number(stop.at_deg),
        "pivot": stop.pivot or None,
        "why": stop.why or None,
        "turned_deg": _number(stop.turned_deg),
        "ratio": _number(stop.ratio),
        "force": _number(stop.force),
        "worst": _worst(stop.worst),
    }


def _rest(rest: RestFigures) -> dict[str, Any]:
    return {
        "at_deg": _number(rest.at_deg),
        "on_stop": rest.on_stop,
        "back_to_deg": _number(rest.back_to_deg),
        "pull": _push(rest.pull),
        "rubbing": _number(rest.rubbing),
        "withstands": _number(rest.withstands),
    }


def _push(push: Push | None) -> dict[str, Any] | None:
    return None if push is None else {"force": _number(push.force), "at_deg": _number(push.deg)}


def _worst(worst: Worst | None) -> dict[str, Any] | None:
    return None if worst is None else {"force": _number(worst.force), **brings_dict(worst)}


def _number(value: float | None) -> float | None:
    """A plain float; None for what is missing or no number. Minus nothing becomes nothing."""
    return None if value is None or not math.isfinite(value) else float(value) + 0.0
