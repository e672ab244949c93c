"""Link plates against closed forms (checks E1, E2).

Source: area and length of a stadium, πr² + 2rl and 2πr + 2l; the bulge of DXF (group 42) is tan(θ/4).
"""

from __future__ import annotations

import pytest

from kinematics.contours import Eye, around


def test_e1_a_plate_of_two_pins() -> None:
    """Pins 100 apart, r = 10: area 2314.159265359, edge 262.831853072 (closed form, 1e-9: digits typed)."""
    plate = around([Eye(0j, 10.0), Eye(100 + 0j, 10.0)])
    assert plate.area == pytest.approx(2314.159265359, abs=1e-9)
    assert plate.length == pytest.approx(262.831853072, abs=1e-9)


def test_e2_its_ends_belly_out_also_when_mirrored() -> None:
    """Half circles have bulge 1; with the old sign the mirrored plate would measure 2000 − 100π = 1685.84."""
    plate = around([Eye(0j, 10.0), Eye(100 + 0j, 10.0)])
    assert sorted(plate.bulges.tolist()) == pytest.approx([0.0, 0.0, 1.0, 1.0], abs=1e-12)
    mirrored = plate.mirrored()
    assert sorted(mirrored.bulges.tolist()) == pytest.approx([0.0, 0.0, 1.0, 1.0], abs=1e-12)
    assert mirrored.area == pytest.approx(2314.159265359, abs=1e-9)
