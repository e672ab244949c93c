"""Compensation values of bends against the table of DIN 6935, supplement 1 (from memory, to its 0.1 mm).

It gives v, by which the sum of both outer legs is lengthened: the negative of our deduction. Its k is that of the
formula k = 0.65 + 0.5 · log10(r/s), here halved, as ours counts from the inner face in whole thicknesses.
"""

from __future__ import annotations

import pytest

from kinematics import sheet_metal

TABLE = [  # thickness s, inner radius r, v at 90°
    (1.0, 1.0, -1.9),
    (1.0, 1.6, -2.1),
    (1.5, 1.6, -2.9),
    (1.0, 2.5, -2.4),
    (1.5, 2.5, -3.2),
    (2.0, 2.5, -4.0),
    (2.5, 2.5, -4.8),
]


@pytest.mark.parametrize(("thickness", "radius", "value"), TABLE)
def test_a_right_angle_takes_as_much_as_the_table_says(thickness: float, radius: float, value: float) -> None:
    k = sheet_metal.k_factor(radius, thickness)
    assert -sheet_metal.deduction(90.0, radius, thickness, k) == pytest.approx(value, abs=0.05)
