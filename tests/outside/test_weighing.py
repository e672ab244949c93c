"""Weighing on supports, and masses of what is drawn, against handbooks, a standard, and exact areas.

Aircraft: FAA-H-8083-1, *Aircraft Weight and Balance Handbook*, the example of a nose-wheel aeroplane with the datum
ahead of the main wheels: W = 2 006 lb, nose wheel F = 340 lb, main wheels at D = 128 in, nose wheel L = 78 in ahead of
them: CG = D − F·L/W = 114.8 in (from memory).
Road vehicles: ISO 10392:2011, *Determination of centre of gravity*: the height over the wheels' axles is
l·(m_v,θ − m_v)/(m·tan θ) for the axle loads before and after the other axle is raised (from memory); figures below are
ours, worked out with a body of known centre, so they hold to their last digit.
"""

from __future__ import annotations

import pytest

from kinematics.parts import Outline
from kinematics.weighing import Reading, band_of, place_of, solid_of, weighed


def test_faa_nose_wheel_aeroplane() -> None:
    """Tolerance: half of the last printed digit. Pounds and inches: shares and lengths know no unit.

    Trap: the share of A where that of B belongs puts the centre 51.6 in nearer the nose wheel.
    """
    found = weighed(78.0, Reading(2006.0 - 340.0, 340.0))
    assert 128.0 - found.along == pytest.approx(114.8, abs=0.05)
    assert found.mass == pytest.approx(2006.0, abs=1e-9)


@pytest.mark.parametrize(("tilt", "front"), [(10.0, 676.927390), (-10.0, 643.072610), (15.0, 685.723122)])
def test_iso_10392_height(tilt: float, front: float) -> None:
    """1 200 kg, 2 500 mm between the axles, front axle 660 kg level (1 375 mm ahead of the rear one), centre 200 mm
    over the line of the axles. With the rear axle raised (A the front one, B the raised rear one) the front reads
    660 + 1200·200·tan θ/2500 kg. Tolerance: the readings' six decimals, through 2500/(1200·tan 10°) = 11.8.

    Trap: sin θ for tan θ gives 197 at 10°; the other sign puts the centre under the line.
    """
    found = weighed(2500.0, Reading(660.0, 540.0), Reading(front, 1200.0 - front, tilt))
    assert found.along == pytest.approx(1125.0, abs=1e-9)
    assert found.height == pytest.approx(200.0, abs=1e-5)
    assert place_of((0.0, 300.0), (2500.0, 300.0), found.along, 200.0) == pytest.approx((1125.0, 500.0), abs=1e-9)


def test_capsule_band() -> None:
    """Checks E1: pins 100 apart, r = 10: area 2314.159265359 mm² [derivable]; tolerance half the last digit.

    Trap: a hull without its round ends has 2000.
    """
    area, at = band_of([(0.0, 0.0), (100.0, 0.0)], 20.0)
    assert area == pytest.approx(2314.159265359, abs=5e-10)
    assert at == pytest.approx((50.0, 0.0), abs=1e-9)


def test_triangle_band() -> None:
    """Steiner's formula: area of hull + perimeter·r + π·r² = 6 + 12·1 + π for the 3-4-5 triangle with r = 1:
    21.141592654 [derivable].
    """
    area, _ = band_of([(0.0, 0.0), (4.0, 0.0), (0.0, 3.0)], 2.0)
    assert area == pytest.approx(21.141592654, abs=5e-10)


def test_centroid_of_an_l() -> None:
    """Checks E14: an L of 100×20 + 20×80 has its centroid at (32.2222222, 32.2222222) [derivable]."""
    corners = ((0.0, 0.0), (100.0, 0.0), (100.0, 20.0), (20.0, 20.0), (20.0, 100.0), (0.0, 100.0))
    area, at = solid_of(Outline("L", "panel", corners, closed=True))
    assert area == pytest.approx(3600.0, abs=1e-9)
    assert at == pytest.approx((32.2222222, 32.2222222), abs=5e-8)
    assert solid_of(Outline("L", "panel", corners[::-1], closed=True))[1] == pytest.approx(at, abs=1e-9)
