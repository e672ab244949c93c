"""The smallest value of something along the branch, between poses too.

First a look at close samples, cheap ones; then parabolas through exact values about the lowest, each on a narrower
stretch, so the place settles with the square of the error and the value with its fourth power.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Floats

ROUNDS = 5
TIE = 1e-9
"""Samples within this of the lowest count as equal; the first of them is taken."""


def lowest(
    samples: Floats, values: Floats, exact: Callable[[Floats], Floats], rounds: int = ROUNDS
) -> tuple[float, float]:
    """Place and value of the minimum over [samples[0], samples[-1]].

    samples, values : (n,) places in order and (nearly exact) values there.   exact : places → values, called little.
    rounds : how many parabolas.
    """
    k = int(np.flatnonzero(values <= values.min() + TIE)[0])
    best = float(samples[k])
    if len(samples) == 1:
        return best, float(exact(samples)[0])
    low, high = float(samples[0]), float(samples[-1])
    width = float(max(samples[min(k + 1, len(samples) - 1)] - best, best - samples[max(k - 1, 0)]))
    value = np.inf
    for _ in range(rounds):
        places = np.clip(best + width * np.array([-1.0, -0.5, 0.0, 0.5, 1.0]), low, high)
        found = exact(places)
        m = int(np.flatnonzero(found <= found.min() + 1e-15 * max(1.0, abs(found.min())))[0])
        if found[m] < value:
            best, value = float(places[m]), float(found[m])
        best = _vertex(places, found, m, best)
        if best in (low, high) and width < 1e-2 * (high - low):
            break  # the lowest place is an end, and a closer look finds it there again
        width *= 0.12
    last = float(exact(np.array([best]))[0])
    return (best, last) if last <= value else (float(places[m]), value)


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
