"""The smallest value of something along the branch, between poses too.

First a look at close samples, cheap ones; then parabolas through exact values about the lowest, each on a narrower
stretch, so the place settles with the square of the error and the value with its fourth power.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Floats, Ints

ROUNDS = 5
"""Parabolas through which a minimum is sought."""
TIE = 1e-9
"""Samples within this of the lowest count as equal; the first of them is taken."""
CHANCES = 3
"""So many hollows among the samples are looked at, while they could hold the lowest place."""


def lowest(
    samples: Floats, values: Floats, exact: Callable[[Floats], Floats], rounds: int = ROUNDS
) -> tuple[float, float]:
    """Place and value of the minimum over [samples[0], samples[-1]].

    samples, values : (n,) places in order and (nearly exact) values there.   exact : places → values, called little.
    rounds : how many parabolas.
    """
    if len(samples) == 1:
        return float(samples[0]), float(exact(samples)[0])
    hollows, depths = _hollows(samples, values)
    best = (float(samples[0]), np.inf)
    for k in np.argsort(depths, kind="stable")[:CHANCES].tolist():
        if depths[k] >= best[1] - TIE:
            break
        found = _settled(samples, int(hollows[k]), exact, rounds)
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


def _settled(samples: Floats, k: int, exact: Callable[[Floats], Floats], rounds: int) -> tuple[float, float]:
    """Place and value of the minimum about sample k."""
    low, high, middle = float(samples[0]), float(samples[-1]), float(samples[k])
    width = float(max(samples[min(k + 1, len(samples) - 1)] - middle, middle - samples[max(k - 1, 0)]))
    best, value = middle, np.inf
    for _ in range(rounds):
        places = np.clip(middle + width * np.array([-1.0, -0.5, 0.0, 0.5, 1.0]), low, high)
        found = exact(places)
        m = int(np.flatnonzero(found <= found.min() + 1e-15 * max(1.0, abs(found.min())))[0])
        if found[m] < value:
            best, value = float(places[m]), float(found[m])
        middle = _vertex(places, found, m, best)
        if middle in (low, high) and width < 1e-2 * (high - low):
            break  # the lowest place is an end, and a closer look finds it there again
        width *= 0.12
    last = float(exact(np.array([middle]))[0])
    return (middle, last) if last <= value else (best, value)


def _vertex(places: Floats, values: Floats, m: int, otherwise: float) -> float:
    """Lowest point of the parabola through the sample m and its neighbours; `otherwise` at an end or on a straight."""
    if m in (0, len(places) - 1):
        return otherwise
    left, right = places[m] - places[m - 1], places[m + 1] - places[m]
    if left <= 0.0 or right <= 0.0:
        return otherwise
    fall, rise = (values[m] - values[m - 1]) / left, (values[m + 1] - values[m]) / right
    bend = (rise - fall) / (0.5 * (left + right))
    if not bend > 0.0:
        return otherwise
    slope = (fall * right + rise * left) / (left + right)
    return float(np.clip(places[m] - slope / bend, places[m - 1], places[m + 1]))
