"""Wind pressure against tables, and the angle of friction.

- Basic velocity pressures of the four German wind zones, v_b 22.5, 25.0, 27.5 and 30.0 m/s → q_b 0.32, 0.39, 0.47 and
  0.56 kN/m²: DIN EN 1991-1-4/NA:2010, table NA.A.1 (from memory). Tolerance: half of the last printed digit.
- q = 0.613·V² N/m² (V in m/s), ASCE 7, equation for velocity pressure in SI units (from memory), with air of 1.226
  kg/m³: 2 % less than with Eurocode's 1.25.
- Angle of friction for μ = 0.2: 11.31° (any table of tangents).
"""

from __future__ import annotations

import pytest

from kinematics.gust import pressure
from kinematics.propping import FRICTION_DEG


@pytest.mark.parametrize(("speed", "printed"), [(22.5, 0.32), (25.0, 0.39), (27.5, 0.47), (30.0, 0.56)])
def test_zones(speed: float, printed: float) -> None:
    assert pressure(speed) / 1000.0 == pytest.approx(printed, abs=0.005)


def test_another_standard_agrees_to_two_percent() -> None:
    assert pressure(40.0) == pytest.approx(0.613 * 40.0**2, rel=0.021)


def test_angle_of_friction() -> None:
    assert pytest.approx(11.31, abs=0.005) == FRICTION_DEG
