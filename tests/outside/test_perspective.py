"""Perspective from four corners: projective geometry's own figures.

The matrix [[2, 0.3, 10], [0.1, 1.5, 20], [0.001, 0.002, 1]] takes a rectangle of 200 × 100 to four pixels whose places
are fractions; points within it, too. All are worked out by hand with fractions, so they hold to the last digit.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from kinematics.perspective import plane

RECTANGLE = [(0, 0), (200, 0), (200, 100), (0, 100)]
PIXELS = [
    (Fraction(10), Fraction(20)),
    (Fraction(410, 1) / Fraction(12, 10), Fraction(40, 1) / Fraction(12, 10)),
    (Fraction(440, 1) / Fraction(14, 10), Fraction(190, 1) / Fraction(14, 10)),
    (Fraction(40, 1) / Fraction(12, 10), Fraction(170, 1) / Fraction(12, 10)),
]
WITHIN = {(100, 50): (225 / 1.2, 105 / 1.2), (50, 25): (117.5 / 1.1, 62.5 / 1.1), (150, 80): (334 / 1.31, 155 / 1.31)}


@pytest.mark.parametrize("at", WITHIN)
def test_points_within_the_rectangle_are_rectified(at: tuple[int, int]) -> None:
    corners = [(float(x), float(y)) for x, y in PIXELS]
    assert corners[1] == pytest.approx((341.666667, 33.333333), abs=5e-7)
    assert corners[2] == pytest.approx((314.285714, 135.714286), abs=5e-7)
    assert corners[3] == pytest.approx((33.333333, 141.666667), abs=5e-7)
    (found,) = plane(corners, RECTANGLE).mm([WITHIN[at]])
    assert np.abs(found - at).max() < 1e-9
