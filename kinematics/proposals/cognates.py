"""Cognates: other pins that lead the panel in the very same way.

In the chain of Stephenson III the panel hangs by one pin on the coupler of a four-bar, and by a link on the body. What
it feels of the four-bar is the path of that pin alone. By the theorem of Roberts and Chebyshev two more four-bars draw
the same path (`kinematics.dyads.cognates`), so each such hinge has two others with the same motion of the panel: where
the one has no room for its pins, another may. In the other chains the panel feels more than one point of a four-bar.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from kinematics import dyads
from kinematics.proposals.chains import FIXED, PANEL, SHARED_A, SHARED_B, STEPHENSON_FOURTH

if TYPE_CHECKING:
    from kinematics.arrays import Complexes

BASE, OTHER, NEAR, FAR, POINT = 0, 1, 2, 3, 4
"""The chain's pins: where the four-bar stands on the body, the coupler's ends above them, and the panel's pin on it."""
FOUR_BAR_PINS = (BASE, OTHER, NEAR, FAR)
SHORTEST = 1e-6
"""mm: a coupler whose pins are nearer to one another has no cognates."""

assert STEPHENSON_FOURTH.pins[POINT] == (SHARED_B, PANEL)
assert STEPHENSON_FOURTH.pins[NEAR] == (SHARED_A, SHARED_B)
assert FIXED in STEPHENSON_FOURTH.pins[BASE]


def others(pins: Complexes) -> Complexes:
    """(7, 2n) the two cognates of each candidate (7, n) of the chain, the first of all, then the second of all."""
    short = np.abs(pins[FAR] - pins[NEAR]) < SHORTEST
    far = np.where(short, pins[NEAR] + SHORTEST, pins[FAR])
    given = dyads.FourBars(pins[BASE], pins[NEAR], far, pins[OTHER], pins[POINT])
    found = []
    for bars in dyads.cognates(given)[1:]:
        led = pins.copy()
        led[BASE], led[NEAR], led[FAR], led[OTHER] = bars.base, bars.near, bars.far, bars.other
        found.append(led)
    return np.concatenate(found, axis=1)
