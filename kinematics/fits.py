"""Limits and fits: how large a hole and a shaft may be, and what is between them.

A *zone* such as H7 or f7 says by how much a size may deviate: the letter where it lies (capitals holes, small letters
shafts), the figure how wide it is. The deviations stand in tables by *range* of sizes, over … up to and with …: 10 lies
in the range below 18's, not in it. They are tabled and never worked out by a formula, as the standard rounds them by
its own rules. Sizes mm, deviations µm (whole numbers). Source: ISO 286-2.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


@dataclass(frozen=True, slots=True)
class Deviation:
    """A row: by how much (µm) sizes over … up to (mm) may deviate in a zone."""

    zone: str
    over: float
    up_to: float
    lower_um: int
    upper_um: int
    source: str = ""
    known: str = ""


@dataclass(frozen=True, slots=True)
class Limits:
    """The least and the most that a size may be (mm)."""

    least: float
    most: float

    @property
    def middle(self) -> float:
        """Half way between."""
        return 0.5 * (self.least + self.most)


@dataclass(frozen=True, slots=True)
class Fit:
    """What is between hole and shaft, on the diameter: the least and the most clearance, mm; negative: interference."""

    least: float
    most: float

    @property
    def is_clearance(self) -> bool:
        """Whether the shaft is free in the hole however both turn out."""
        return self.least >= 0.0

    @property
    def is_interference(self) -> bool:
        """Whether the shaft is never loose in the hole; at the limit it may be a line to line fit."""
        return self.most <= 0.0

    @property
    def interference(self) -> tuple[float, float]:
        """By how much the shaft is larger than the hole, least and most (mm)."""
        return -self.most, -self.least


def deviation(rows: Iterable[Deviation], size: float, zone: str) -> Deviation | None:
    """The row of a zone for a size (mm); None where the tables don't reach."""
    return next((row for row in rows if row.zone == zone and row.over < size <= row.up_to), None)


def limits(rows: Iterable[Deviation], size: float, zone: str) -> Limits | None:
    """The limits of a size (mm) in a zone; None where the tables don't reach."""
    row = deviation(rows, size, zone)
    return None if row is None else Limits(size + 1e-3 * row.lower_um, size + 1e-3 * row.upper_um)


def fit(hole: Limits, shaft: Limits) -> Fit:
    """What is between a hole and a shaft."""
    return Fit(hole.least - shaft.most, hole.most - shaft.least)


def closed(bore: Limits, pressed: Fit, least: float, most: float) -> Limits:
    """A bushing's bore once it is pressed in: it closes by a share, least to most, of its interference.

    Common practice, no source: half to all of it, more in thin walls.
    """
    low, high = (max(0.0, each) for each in pressed.interference)
    return Limits(bore.least - most * high, bore.most - least * low)


def fit_um(rows: Iterable[Deviation], size: float, hole: str, shaft: str) -> tuple[int, int] | None:
    """The least and the most clearance (µm, negative: interference) of two zones at a size; None beyond the tables."""
    rows = tuple(rows)
    outside, inside = deviation(rows, size, hole), deviation(rows, size, shaft)
    if outside is None or inside is None:
        return None
    return outside.lower_um - inside.upper_um, outside.upper_um - inside.lower_um
