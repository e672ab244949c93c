"""Hart's inversor: three points in line whose distances keep their product.

Source: H. Hart, "On certain conversions of motion", *Messenger of Mathematics* 4 (1875) (from memory); derivable.
Check A17 of checks.md. Peaucellier's inversor (A16) stands in test_straight_lines.py.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from tests.outside.oracles import circle_meets
from tests.outside.sketch import Sketch, read, worst_pin_error


def hart(turn_deg: float, anticlockwise: bool, wanted_deg: float) -> Sketch:
    """A17. Short bars AB = CD = 3, long ones AD = BC = 6, crossing; O on AB, P on AD, Q on CB, each 0.4 from A, A, C.

    O stands on the ground; a crank leads P, and is the panel.
    """
    a = 0j
    b = 3 * cmath.rect(1.0, math.radians(100.0))
    d = 6 * cmath.rect(1.0, math.radians(100.0 - turn_deg))
    # C closes it: 6 from B, 3 from D. One meet makes the parallelogram, the other the crossed bars.
    c = max(circle_meets(b, 6, d, 3), key=lambda z: abs(z - (b + d - a)))
    o, p, q = a + 0.4 * (b - a), a + 0.4 * (d - a), c + 0.4 * (b - c)
    return Sketch(
        links=("ground", "short AB", "long BC", "short CD", "long DA", "crank"),
        panel="crank",
        pivots={
            "O": (o, ("ground", "short AB")),
            "A": (a, ("short AB", "long DA")),
            "B": (b, ("short AB", "long BC")),
            "C": (c, ("long BC", "short CD")),
            "D": (d, ("short CD", "long DA")),
            "P": (p, ("long DA", "crank")),
            "foot": (p + 1.1 - 0.7j, ("crank", "ground")),
        },
        marks={"Q": ("long BC", q)},
        anticlockwise=anticlockwise,
        wanted_deg=wanted_deg,
    )


@pytest.mark.parametrize("way", ["as given", "turned 37°", "times 25.4", "mirrored", "reordered", "all at once"])
@pytest.mark.parametrize("anticlockwise", [True, False])
def test_a17_hart(anticlockwise: bool, way: str) -> None:
    """A17. O, P, Q in line and OP·OQ = 6.48 at every pose. Trap: on the parallelogram's branch the product isn't kept.

    Tolerances: 1e-9 mm across the line (÷ OP, which stays above 0.5, × OQ), and 1e-9·(OP + OQ) for the product.
    """
    sketch = hart(70.0, anticlockwise, 40.0)
    q_shut = sketch.marks["Q"][1]
    reading = read(sketch, way)
    assert reading.analysis.mobility == 1
    o = sketch.pin("O")
    to_p = reading.places("crank", sketch.pin("P")) - o
    to_q = reading.places("long BC", q_shut) - o
    assert len(to_p) == 181
    assert float(np.abs(to_p).min()) > 0.5
    assert float(np.abs((to_p.conj() * to_q).imag).max()) < 1e-8
    assert float(np.abs((to_p.conj() * to_q).real - 6.48).max()) < 1e-8
    assert float(np.ptp(np.abs(to_p))) > 0.1  # it does move
    assert worst_pin_error(reading) < 1e-9


def test_a17_the_mark_follows_its_point() -> None:
    """A17. The path of the mark Q that is shown is the path of that point of the bar."""
    sketch = hart(70.0, anticlockwise=True, wanted_deg=40.0)
    reading = read(sketch, "all at once")
    shown = reading.analysis.mark_paths["Q"]
    seen = np.array([reading.sketch.unseen(complex(x, y)) for x, y in shown])
    assert seen.shape == (181,)
    assert float(np.abs(seen - reading.places("long BC", sketch.marks["Q"][1])).max()) < 1e-9
