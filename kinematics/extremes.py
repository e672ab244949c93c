"""The smallest value of something along the branch, between poses too.

First a look at close samples; then parabolas about the lowest, on poses that are nearly exact and quick to have, each
on a narrower stretch; at last two on exact poses, so the place settles with the square of the error and the value with
its fourth power.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Floats, Ints

ROUNDS = 2
"""Parabolas through nearly exact values."""
LAST = (1e-3, 3e-5)
"""Half widths (rad of arc) of the looks at exact values: the first wider than what the nearly exact ones may be off."""
TIE = 1e-9
"""Samples within this of the lowest count as equal; the first of them is taken."""
EVEN = {count: np.linspace(-1.0, 1.0, count) for count in (3, 5)}
"""Places of the samples of a look, in half widths."""
CHANCES = 3
"""So many hollows among the samples are looked at, while they could hold the lowest place."""


def lowest(
    samples: Floats, values: Floats, close: Callable[[Floats], Floats], exact: Callable[[Floats], Floats]
) -> tuple[float, float]:
    """Place and value of the minimum over [samples[0], samples[-1]].

    samples, values : (n,) places in order and (nearly exact) values there.   close, exact : places → values, the first
    nearly exact and quick, the second exact and called little.
    """
    if len(samples) == 1:
        return float(samples[0]), float(exact(samples)[0])
    hollows, depths = _hollows(samples, values)
    best = (float(samples[0]), np.inf)
    for k in np.argsort(np.round(depths / TIE), kind="stable")[:CHANCES].tolist():
        if depths[k] >= best[1] - TIE:
            break
        found = _settled(samples, int(hollows[k]), close, exact)
        best = found if found[1] < best[1] - TIE else best
    return best


def _hollows(samples: Floats, values: Floats) -> tuple[Ints, Floats]:
    """Samples no higher than their neighbours, and how deep parabolas through them and these may go."""
    padded = np.concatenate([[np.inf], values, [np.inf]])
    at = np.flatnonzero((values < padded[:-2] - TIE) & (values <= padded[2:] + TIE) | (values <= values.min() + TIE))
    left, right = np.maximum(at - 1, 0), np.minimum(at + 1, len(values) - 1)
    inside = (samples[left] < samples[at]) & (samples[at] < samples[right])
    before = np.where(inside, samples[at] - samples[left], 1.0)
    after = np.where(inside, samples[right] - samples[at], 1.0)
    fall, rise = (values[at] - values[left]) / before, (values[right] - values[at]) / after
    bend, slope = (rise - fall) / (0.5 * (before + after)), (fall * after + rise * before) / (before + after)
    dip = np.where(inside & (bend > 0.0), 0.5 * slope**2 / np.where(bend > 0.0, bend, 1.0), 0.0)
    return at, values[at] - dip


def _settled(
    samples: Floats, k: int, close: Callable[[Floats], Floats], exact: Callable[[Floats], Floats]
) -> tuple[float, float]:
    """Place and value of the minimum about sample k."""
    low, high, middle = float(samples[0]), float(samples[-1]), float(samples[k])
    width = float(max(samples[min(k + 1, len(samples) - 1)] - middle, middle - samples[max(k - 1, 0)]))
    for _ in range(ROUNDS):
        middle, value = _look(middle, width, 5, low, high, close)
        if middle in (low, high) and width < 1e-2 * (high - low):
            break  # the lowest place is an end, and a closer look finds it there again
        width *= 0.12
    for width in LAST:
        middle, value = _look(middle, width, 3, low, high, exact)
        if middle in (low, high):
            break
    return middle, value


def _look(
    middle: float, width: float, count: int, low: float, high: float, values: Callable[[Floats], Floats]
) -> tuple[float, float]:
    """Lowest place and its value, by the parabola through the least of even samples and its neighbours."""
    places = np.minimum(np.maximum(middle + width * EVEN[count], low), high)
    found = values(places)
    m = int(np.flatnonzero(found <= found.min() + 1e-15 * max(1.0, abs(found.min())))[0])
    place, value = float(places[m]), float(found[m])
    if m in (0, count - 1):
        return place, value
    left, right = places[m] - places[m - 1], places[m + 1] - places[m]
    if left <= 0.0 or right <= 0.0:
        return place, value
    fall, rise = (found[m] - found[m - 1]) / left, (found[m + 1] - found[m]) / right
    bend, slope = (rise - fall) / (0.5 * (left + right)), (fall * right + rise * left) / (left + right)
    if not bend > 0.0:
        return place, value
    shift = float(min(max(-slope / bend, -left), right))
    return place + shift, value + shift * float(slope + 0.5 * bend * shift)
