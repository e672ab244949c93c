"""What a lane of the travel strip shows, as plain numbers and words. No Qt here.

`LaneFigures` is one figure over the opening with its want and its smallest value. What a lane of loads has besides
stands in `More`: a figure that goes below nothing, several wants, a band, signs along the curve, where the curve ends
and why, a figure that is read at the pose.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Floats


@dataclass(frozen=True, slots=True)
class Level:
    """A wanted value as a dashed line, over a stretch of the travel or (None) all of it, with its words."""

    value: float
    words: str
    stretch: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Upright:
    """A wanted place as a dashed line across the lane, with its words."""

    place: float
    words: str


@dataclass(frozen=True, slots=True)
class Sign:
    """A place on the lane that matters.

    kind : "largest", "short" (the same, a want falls short), "stable", "unstable" or "tip-over": each another sign.
    words : beside it, "" for none.   go : what the lane's menu says to go there, "" for nothing.
    """

    place: float
    value: float
    kind: str
    words: str = ""
    go: str = ""


@dataclass(frozen=True, slots=True)
class Band:
    """What lies between two values at places (n,) of the travel; `high` and `low` are named at its edges."""

    xs: Floats
    low: Floats
    high: Floats
    names: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True)
class Edge:
    """Where the curve ends short of the travel's end, or begins again, and why."""

    place: float
    value: float
    words: str = ""


@dataclass(frozen=True, slots=True)
class More:
    """What a lane of loads shows besides its curve.

    bottom : the value at the lower edge, 0 or less.   pieces : (xs, ys) of the same curve beyond a gap.   others : thin
    curves that it stands out from.   shaded : stretches in which the curve lies below nothing, hatched, with the words
    for it.   instead : words that stand in a lane without a curve.   read : what is read at a place: the value, None
    where none is told, and its words.   tall : whether it needs more height than others.
    """

    bottom: float = 0.0
    levels: tuple[Level, ...] = ()
    uprights: tuple[Upright, ...] = ()
    signs: tuple[Sign, ...] = ()
    bands: tuple[Band, ...] = ()
    edges: tuple[Edge, ...] = ()
    pieces: tuple[tuple[Floats, Floats], ...] = ()
    others: tuple[tuple[Floats, Floats], ...] = ()
    shaded: str = ""
    instead: str = ""
    read: Callable[[float], tuple[float | None, str]] | None = None
    tall: bool = False


@dataclass(frozen=True, slots=True)
class LaneFigures:
    """What a lane shows. `top` is the value at its upper edge (0 is at the lower one).

    holds : True, False, or None where nothing is wanted.     want : the wanted least value, or None.     least :
    (place, value) of the smallest, or None.
    touching : stretches of the travel in which the two touch.
    doubt : how far the values may be off either way, drawn as a band.
    told : the figures in words; head : the same as short as they stand beside the lane, where that is another.
    lows : at each place the low end with holes and pins off, drawn as a paler band beneath the curve; NaN: untold.
    """

    title: str
    told: str
    xs: Floats
    ys: Floats
    top: float
    holds: bool | None = None
    want: float | None = None
    want_words: str = ""
    least: tuple[float, float] | None = None
    least_words: str = ""
    touching: tuple[tuple[float, float], ...] = field(default=())
    doubt: float = 0.0
    head: str = ""
    lows: Floats | None = None
    more: More | None = None


def stretches_above(xs: Floats, ys: Floats, top: float) -> list[tuple[float, float]]:
    """Give the stretches of a figure over which it lies above `top`, from and to, between its points too."""
    found: list[tuple[float, float]] = []
    over = ys > top
    for place in np.flatnonzero(over[1:] | over[:-1]).tolist():
        (x0, x1), (y0, y1) = xs[place : place + 2].tolist(), ys[place : place + 2].tolist()
        cut = x0 + (x1 - x0) * (top - y0) / (y1 - y0) if over[place] != over[place + 1] else x0
        start, end = (x0 if over[place] else cut), (x1 if over[place + 1] else cut)
        if found and found[-1][1] >= start:
            found[-1] = found[-1][0], end
        else:
            found.append((start, end))
    return found
