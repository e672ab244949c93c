"""What a hand and the pins carry, read off an analysis: the largest over the travel, and all of it at one pose.

Terms. A figure is *told* where it is a number within the bound (`LoadFigures.bound`); beyond it, where links come into
line, it is none to build on. A *stretch* is a run of reported poses at which it is told. Between reported poses figures
are read along straight lines: at 181 poses that misses the exact ones by less than what is shown, but for the last pose
before a dead point, beyond which nothing is told.

Pin forces are of one hinge, N, in the fixed link's frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats


@dataclass(frozen=True, slots=True)
class PinPeak:
    """The largest force (N) on a pin of one hinge, and the reported opening (deg) at which it carries that."""

    pivot: str
    force: float
    deg: float


@dataclass(frozen=True, slots=True)
class Carried:
    """What is carried at one opening; None, or a missing key, where it isn't told.

    push, raising, letting_down : N, as in `LoadFigures`.   pins : by id, N.   forces : by (pivot, link), N, what the
    pin puts on the link.
    """

    push: float | None
    raising: float | None
    letting_down: float | None
    pins: Mapping[str, float]
    forces: Mapping[tuple[str, str], complex]


NOTHING = Carried(None, None, None, {}, {})


def told(values: Floats, bound: float) -> Floats:
    """The values that are told, NaN for the rest."""
    with np.errstate(invalid="ignore"):
        return np.where(np.abs(values) <= bound, values, np.nan)


def stretches(values: Floats) -> list[tuple[int, int]]:
    """From where and up to before where (n,) values are numbers, one pair a stretch."""
    known = np.concatenate([[False], np.isfinite(values), [False]]).astype(np.int8)
    return [(first, after) for first, after in np.flatnonzero(np.diff(known)).reshape(-1, 2).tolist()]


def pin_peaks(analysis: Analysis) -> tuple[PinPeak | None, ...]:
    """For every pivot of the project the most that it carries over the travel; None where none is told."""
    figures, pivots = analysis.loads, analysis.project.pivots
    if figures is None or not figures.pins.size:
        return (None,) * len(pivots)
    sizes = told(figures.pins, figures.bound)
    known = np.where(np.isfinite(sizes), sizes, -1.0)
    rows = known.argmax(axis=0).tolist()
    return tuple(
        PinPeak(pivot.id, float(known[row, k]), float(analysis.openings[row])) if known[row, k] >= 0.0 else None
        for k, (pivot, row) in enumerate(zip(pivots, rows, strict=True))
    )


def largest_pin(analysis: Analysis) -> PinPeak | None:
    """The pin of one hinge that carries most; None where none is told."""
    return max((peak for peak in pin_peaks(analysis) if peak is not None), key=lambda peak: peak.force, default=None)


def carried_at(analysis: Analysis, deg: float) -> Carried:
    """What is carried at an opening (deg)."""
    figures = analysis.loads
    if figures is None or len(analysis.openings) != len(figures.effort) or not math.isfinite(deg):
        return NOTHING
    low, high, share = _between(analysis.openings, deg)
    bound = figures.bound
    up, down = (
        None if each is None else _read(each, low, high, share, bound)
        for each in (figures.raising, figures.letting_down)
    )
    pins = {
        pivot.id: force
        for k, pivot in enumerate(analysis.project.pivots)
        if (force := _read(figures.pins[:, k], low, high, share, bound)) is not None
    }
    both = figures.forces[low] if share == 0.0 else figures.forces[high]
    if 0.0 < share < 1.0:
        both = figures.forces[low] * (1.0 - share) + figures.forces[high] * share
    forces = {
        member: complex(force)
        for member, force in zip(figures.members, both.tolist(), strict=True)
        if member[0] in pins
    }
    return Carried(_read(figures.effort, low, high, share, bound), up, down, pins, forces)


def _between(openings: Floats, deg: float) -> tuple[int, int, float]:
    """The reported poses about an opening, and how far on the way from one to the other it lies."""
    last = len(openings) - 1
    high = min(max(int(np.searchsorted(openings, deg)), min(1, last)), last)
    low = max(high - 1, 0)
    way = float(openings[high] - openings[low])
    return low, high, min(max((deg - float(openings[low])) / way, 0.0), 1.0) if way > 0.0 else 0.0


def _read(values: Floats, low: int, high: int, share: float, bound: float) -> float | None:
    """A figure between two poses; None where it isn't told at one that counts."""
    if share in (0.0, 1.0):
        value = float(values[high if share else low])
    else:
        value = (1.0 - share) * float(values[low]) + share * float(values[high])
        bound = bound if max(abs(float(values[low])), abs(float(values[high]))) <= bound else -math.inf
    return value if math.isfinite(value) and abs(value) <= bound else None
