"""Pins, plates and bushings against a handbook's formulas and rated limits.

Sources: Roloff/Matek, Maschinenelemente, ch. 9 (clevis pins case 1, stub pins; from memory); SAE 841 as makers' tables
and Machinery's Handbook rate it (from memory; the conversion of its units derives); Shigley's Mechanical Engineering
Design, ch. 4, columns (from memory). Expected digits are typed; tolerances are half of the last one.
"""

from __future__ import annotations

import math

import pytest

from app.materials import find_bushing
from kinematics import strength

HALF = 5e-7


def test_c16_a_pin_in_single_and_in_double_shear() -> None:
    """C16: 1000 N on a pin of 6 mm."""
    assert strength.pin_shear(1000.0, 6.0, 1) == pytest.approx(35.367765, abs=HALF)
    assert strength.pin_shear(1000.0, 6.0, 2) == pytest.approx(17.683883, abs=HALF)


def test_c16_bearing_on_a_plate_of_4_mm() -> None:
    """C16: 1000 N on a pin of 6 mm."""
    assert strength.bearing(1000.0, 6.0, 4.0) == pytest.approx(41.666667, abs=HALF)


def test_c16_a_clevis_pin_bends_over_its_stack() -> None:
    """C16: eye of 8 mm between cheeks of 5 mm, pin of 8 mm, without washers and with 1.6 mm on either side."""
    moment = strength.double_shear_moment(1000.0, 8.0, 5.0)
    assert moment == pytest.approx(2250.0, abs=1e-9)
    assert strength.bending_stress(moment, 8.0) == pytest.approx(44.762328, abs=HALF)
    assert strength.double_shear_moment(1000.0, 8.0, 5.0, 1.6) == pytest.approx(3050.0, abs=1e-9)


def test_c16_the_clevis_moment_by_adding_up_the_pressures() -> None:
    """C16: the same moment as the even pressures of one half of the stack have about the middle."""
    inner, outer, washer, force = 8.0, 5.0, 1.6, 1000.0
    slices = 20_000
    far = inner / 2 + washer + outer
    moment = 0.0
    for k in range(slices):
        x = far * (k + 0.5) / slices
        if x < inner / 2:
            moment -= x * force / inner * far / slices
        elif x > inner / 2 + washer:
            moment += x * force / 2 / outer * far / slices
    assert moment == pytest.approx(3050.0, abs=0.5)  # slices of half a micrometre


def test_a_stub_pin_presses_as_the_handbook_has_it() -> None:
    """Roloff/Matek ch. 9, stub pin in a wall of 10 mm, loaded 6 mm before it: F/(d·s)·(1 + 6·(l + s/2)/s).

    1000/(8·10)·(1 + 6·11/10) = 95 N/mm².
    """
    assert strength.stub_bearing(1000.0, 8.0, 10.0, 6.0) == pytest.approx(95.0, abs=1e-9)


def test_a_stub_pin_bends_as_its_pressures_add_up() -> None:
    """The closed form against the moment of a straight-line pressure that balances force and moment, slice by slice."""
    inner, outer, washer, force = 6.0, 10.0, 1.0, 1000.0
    arm = washer + inner / 2
    slices = 200_000
    step = outer / slices
    even, lean = force / outer * (4 + 6 * arm / outer), -12 * force * (arm / outer + 0.5) / outer**2
    shear, moment, largest, x = force, force * arm, 0.0, 0.0
    for _ in range(slices):
        pressed = (even + lean * (x + step / 2)) * step
        moment += (shear - pressed / 2) * step
        shear -= pressed
        x += step
        largest = max(largest, moment)
    assert abs(moment) < 1e-3  # force and moment are spent at the far side
    assert abs(shear) < 1e-6
    assert strength.single_shear_moment(force, inner, outer, washer) == pytest.approx(largest, rel=1e-6)


def test_c17_limits_of_sae_841() -> None:
    """C17: 2000 psi, 1200 ft/min, 50 000 psi·ft/min in MPa, m/s and their product."""
    kind = find_bushing("SAE 841")
    assert kind is not None
    assert kind.pressure == pytest.approx(13.789515, abs=HALF)
    assert kind.speed == pytest.approx(6.096, abs=5e-4)
    assert kind.pv == pytest.approx(1.751268, abs=HALF)


def test_c17_a_slow_hinge_is_limited_by_pressure_not_by_pv() -> None:
    """C17: 600 N on 8 × 8 mm, 75° in 1.5 s."""
    pressure, speed = strength.bearing(600.0, 8.0, 8.0), strength.sliding_speed(75.0, 1.5, 8.0)
    assert pressure == pytest.approx(9.375, abs=1e-12)
    assert speed == pytest.approx(0.003490659, abs=5e-10)
    assert pressure * speed == pytest.approx(0.032725, abs=HALF)
    assert pressure / 13.789515 > 20 * (pressure * speed) / 1.751268


def test_e14_second_moment_of_a_rectangle() -> None:
    """E14: b·h³/12, 28 × 6 mm lying and standing."""
    assert strength.second_moment(28.0, 6.0) == pytest.approx(504.0, abs=1e-9)
    assert strength.second_moment(6.0, 28.0) == pytest.approx(10976.0, abs=1e-9)


def test_a_slender_plate_buckles_by_euler() -> None:
    """π²·E·I/L²: 28 × 4 mm, 300 mm, E 210 000: I = 149.333 mm⁴, 3439.009 N (worked out apart, by bc)."""
    found = strength.buckling(300.0, 28.0, 4.0, 235.0, 210_000.0)
    assert found.law == "Euler"
    assert found.stress * 28.0 * 4.0 == pytest.approx(3439.009, abs=5e-4)
    assert found.slenderness == pytest.approx(259.808, abs=5e-4)
    assert found.is_too_slender


def test_johnson_meets_euler_at_half_the_yield_strength() -> None:
    """Shigley ch. 4: both laws have Re/2, and the same slope, at λ₁ = √(2π²E/Re) = 132.81 for 235 and 210 000 MPa."""
    limit = strength.buckling(1.0, 28.0, 4.0, 235.0, 210_000.0).limit
    assert limit == pytest.approx(132.81, abs=0.005)
    radius = 4.0 / math.sqrt(12.0)
    for length, law in ((0.999999 * limit * radius, "Johnson"), (1.000001 * limit * radius, "Euler")):
        found = strength.buckling(length, 28.0, 4.0, 235.0, 210_000.0)
        assert found.law == law
        assert found.stress == pytest.approx(117.5, rel=1e-5)
    assert strength.buckling(1e-9, 28.0, 4.0, 235.0, 210_000.0).stress == pytest.approx(235.0, abs=1e-6)


def test_shear_out_and_net_section_by_their_areas() -> None:
    """A hole of 8 mm, 14 mm from the edge of a plate of 28 × 5 mm: 2·5·(14 − 4) = 100 mm² and (28 − 8)·5 = 100 mm²."""
    assert strength.tear_out(5000.0, 14.0, 8.0, 5.0) == pytest.approx(50.0, abs=1e-12)
    assert strength.net_tension(5000.0, 28.0, 8.0, 5.0) == pytest.approx(50.0, abs=1e-12)
    assert strength.net_tension(1.0, 8.0, 8.0, 5.0) == math.inf
    assert strength.tear_out(1.0, 4.0, 8.0, 5.0) == math.inf


def test_two_hinges_share_60_to_40_by_common_practice() -> None:
    """Common practice, no source; lifted by one corner a panel may hang on one hinge alone."""
    assert strength.worse_share(2, None) == 0.6
    assert strength.worse_share(2, 1.0) == 1.0
    assert strength.worse_share(1, None) == 1.0
    assert strength.worse_share(2, 0.5) == 0.5
