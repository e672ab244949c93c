"""The hinge as built against plain distances: pins as unknown places, solved by MINPACK through scipy, sharing no code.

The six bars of the demo have five moving pins, ten unknown coordinates. The lengths that were read give nine equations
(a plate of three holes three, of two holes one), the front edge that lies at its height the tenth. The panel's front
edge goes with its two pins as any rigid triangle does. Tolerance: both solve to rounding, 1e-9 of some 1000 mm.

Statement of the method: a linkage is what its constant lengths leave it, A. B. Kempe, 1876 (from memory).
"""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.optimize import fsolve

from kinematics.as_built import built_of
from kinematics.made_parts import FoundAt, HandMade, MadeDistance
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from numpy.typing import NDArray

# As it is drawn, typed here: pins, and which of them each plate has.
DRAWN = {
    "O1": (141.0, 257.0),
    "O2": (32.0, 179.0),
    "X": (125.0, 213.0),
    "B": (77.0, 94.0),
    "Q": (258.0, 227.0),
    "P1": (25.0, 255.0),
    "P2": (116.0, 290.0),
}
PLATES = {
    "arm": ("O1", "X", "P1"),
    "cross link": ("X", "B", "Q"),
    "short link": ("O2", "B"),
    "lift link": ("Q", "P2"),
    "hatch": ("P1", "P2"),
}
FRONT = (1190.0, 262.0)
MOVING = ("X", "B", "Q", "P1", "P2")


def front_height(at: dict[str, NDArray[np.float64]]) -> float:
    """How high the front edge stands: it lies along and across the line of the panel's two pins as it is drawn."""
    one, other, front = (np.array(place) for place in (DRAWN["P1"], DRAWN["P2"], FRONT))
    way = (other - one) / math.dist(DRAWN["P1"], DRAWN["P2"])
    middle, arm = 0.5 * (one + other), front - 0.5 * (one + other)
    along, across = float(arm @ way), float(way[0] * arm[1] - way[1] * arm[0])
    assert float(np.abs(middle + along * way + across * np.array([-way[1], way[0]]) - front).max()) < 1e-9
    now = (at["P2"] - at["P1"]) / np.hypot(*(at["P2"] - at["P1"]))
    return float((0.5 * (at["P1"] + at["P2"]) + along * now + across * np.array([-now[1], now[0]]))[1])


@pytest.mark.parametrize("seed", range(4))
def test_pins_stand_where_plain_distances_put_them(seed: int) -> None:
    dice = np.random.default_rng(seed)
    read = {
        (plate, pair): math.dist(*(DRAWN[pin] for pin in pair)) + float(dice.uniform(-0.8, 0.8))
        for plate, pins in PLATES.items()
        for pair in combinations(pins, 2)
    }
    found = {pin: np.array(DRAWN[pin]) + dice.uniform(-1.0, 1.0, 2) for pin in ("O1", "O2")}

    def lacks(flat: NDArray[np.float64]) -> list[float]:
        at = {**found, **dict(zip(MOVING, flat.reshape(-1, 2), strict=True))}
        long = [float(np.hypot(*(at[a] - at[b]))) - mm for (_, (a, b)), mm in read.items()]
        return [*long, front_height(at) - FRONT[1]]

    start = np.array([DRAWN[pin] for pin in MOVING]).ravel()
    solved, _, ended, _ = fsolve(lacks, start, xtol=1e-13, full_output=True)
    assert ended == 1 or max(map(abs, lacks(solved))) < 1e-9
    made = HandMade(
        "left",
        tuple(MadeDistance(plate, pair, mm) for (plate, pair), mm in read.items()),
        tuple(FoundAt("bulkhead", pin, float(x), float(y)) for pin, (x, y) in found.items()),
    )
    built = built_of(demo_six_bar, made)
    assert built.rests
    stand = np.array([built.project.pivot(pin).at for pin in MOVING]).ravel()
    np.testing.assert_allclose(stand, solved, atol=1e-7)
    assert float(np.abs(stand - start).max()) > 0.3  # it is another hinge
