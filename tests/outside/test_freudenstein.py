"""Freudenstein's equation, and its sign.

Source: F. Freudenstein, "Approximate synthesis of four-bar linkages", Trans. ASME 77 (1955) (from memory); the
relation is derivable.
Check A2 of checks.md: K1 cos θ4 − K2 cos θ2 + K3 = cos(θ2 − θ4), K1 = d/a, K2 = d/c, K3 = (a² − b² + c² + d²)/(2ac).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.outside import figures
from tests.outside.sketch import four_bar, read

K1, K2, K3 = 2.5, 1.25, 0.5625  # A1's, typed


def freudenstein(crank_deg: np.ndarray, rocker_deg: np.ndarray, sign: float = -1.0) -> np.ndarray:
    """What is left of the equation; `sign` +1 is the wrong form that half of the texts print."""
    t2, t4 = np.radians(crank_deg), np.radians(rocker_deg)
    return np.asarray(K1 * np.cos(t4) + sign * K2 * np.cos(t2) + K3 - np.cos(t2 - t4))


@pytest.mark.parametrize("anticlockwise", [True, False])
@pytest.mark.parametrize("crossed", [False, True], ids=["open", "crossed"])
@pytest.mark.parametrize("way", ["as given", "all at once"])
def test_a2_holds_at_every_pose(crossed: bool, anticlockwise: bool, way: str) -> None:
    """A2. Tolerance 1e-11: a residual of 1e-9 mm on a 40 mm crank (2.5e-11 rad) is all that may be left.

    The wrong sign, with its own plausible roots, is off by more than 0.1 at most poses: the check can fail.
    """
    sketch = four_bar(figures.NORTON, 25.0, crossed, anticlockwise=anticlockwise, wanted_deg=180.0)
    reading = read(sketch, way)
    b = sketch.pin("B")
    crank = 25.0 + reading.turns_deg("crank")
    rocker = math.degrees(math.atan2(b.imag, b.real - 100.0)) + reading.turns_deg("rocker")
    assert len(crank) == 181
    assert float(np.abs(freudenstein(crank, rocker)).max()) < 1e-11
    assert float(np.median(np.abs(freudenstein(crank, rocker, sign=1.0)))) > 0.1


def test_a2_the_wrong_form_has_roots_of_its_own() -> None:
    """A2's trap, so that nobody repairs the test above with it: "+K2" is solved by 124.943312° and −165.623396° at θ2
    = 40°.
    """
    for wrong in (124.943312, -165.623396):
        assert abs(float(freudenstein(np.array(40.0), np.array(wrong), sign=1.0))) < 5e-8
    for right in (57.3248801, -98.0049641):
        assert abs(float(freudenstein(np.array(40.0), np.array(right)))) < 5e-9
