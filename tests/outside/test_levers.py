"""One panel on one pin, and what levers say of it.

Sources: law of the lever, and a strut's arm as the derivative of its length: derivable. Checks C1, C11, C12, C13, C14,
C15 of checks.md. Ideal gas at constant volume (C12): any physics text. The balanced lamp (C15): G. Carwardine, British
patent 404615, 1934 (from memory).
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from kinematics.project import Attachment, Device, PinFriction
from tests.outside.loaded import strut, tell, weight, with_loads, xy
from tests.outside.sketch import Sketch

LID = Sketch(("body", "lid"), "lid", {"P": (0j, ("body", "lid"))}, wanted_deg=60.0)
KG20 = 196.133  # N, 20 kg


def at_angle(deg: float, radius: float) -> complex:
    return cmath.rect(radius, math.radians(deg))


def test_c1_a_weight_on_one_pin() -> None:
    """C1. 20 kg at 0.5 m, hand at 1 m: 98.0665 N level, times cos φ above it; two hinges share the pin's rest.

    1e-12: closed form. Traps: kilograms for newtons; the hand's path taken for upright.
    """
    project = with_loads(LID, weight("lid", KG20, 500 + 0j), handle=("lid", 1000 + 0j), hinges=2)
    told = tell(project, steps=3)
    assert told.loads.effort[0] == pytest.approx(98.0665, rel=1e-12)
    assert told.loads.effort[2] == pytest.approx(49.03325, rel=1e-12)  # cos 60° = ½
    assert told.pin("P") == pytest.approx(49.03325, rel=1e-12)  # half of 98.0665
    assert told.on("lid", "P").imag == pytest.approx(49.03325, rel=1e-12)  # the pin carries the lid


@pytest.mark.parametrize(("way", "typed"), [(1.0, 98.12465440950), (-1.0, 98.00827653631)])
def test_c11_the_force_on_a_pin_passes_beside_its_centre(way: float, typed: float) -> None:
    """C11. r = 4, μ = 0.15: 0.593361812 mm beside the centre. Lever 500 : 1000 with 196.133 N, all forces upright, so
    hand·(1000 ± 0.593361812) = 196.133·(500 ± 0.593361812).

    1e-9: digits typed. Trap: μ·r = 0.6 for r·sin(atan μ), which gives 98.12531 and 98.00763.
    """
    rub = PinFriction(4.0, 0.15)
    project = with_loads(LID, weight("lid", KG20, 500 + 0j), handle=("lid", 1000 + 0j), pin_friction=rub)
    told = tell(project).loads
    found = told.raising if way > 0 else told.letting_down
    assert found is not None
    assert found[0] == pytest.approx(typed, rel=1e-9)
    assert told.letting_down is not None
    assert told.raising is not None
    assert (told.letting_down <= told.effort).all()
    assert (told.effort <= told.raising).all()


GAS = {"extended": 600.0, "stroke": 250.0, "force": 400.0, "ratio": 1.3}


@pytest.mark.parametrize(("celsius", "typed"), [(-10.0, 0.897663), (30.0, 1.034112), (80.0, 1.204673), (20.0, 1.0)])
def test_c12_gas_goes_by_kelvin(celsius: float, typed: float) -> None:
    """C12. Sealed gas, force as the absolute temperature: 3.4112 % per 10 °C from 20 °C.

    5e-7: half the last typed digit. Trap: the ratio of degrees Celsius (10 °C would halve the force).
    """
    push = strut("body", -400j, "lid", 250 + 0j, **GAS)
    warm = tell(with_loads(LID, push, handle=("lid", 1000 + 0j), temperature=celsius)).loads
    usual = tell(with_loads(LID, push, handle=("lid", 1000 + 0j))).loads
    assert warm.effort[0] / usual.effort[0] == pytest.approx(typed, abs=5e-7)
    assert warm.pushes[0, 0] / usual.pushes[0, 0] == pytest.approx(typed, abs=5e-7)


def test_c13_the_makers_straight_line_is_near_the_gas_law() -> None:
    """C13. Ratio 1.3, half the stroke: the straight line gives 1.15 of the force drawn out, gas that keeps its
    temperature 1.130435; so the line is at most 1.8 % off. The project's law is the line (format.md).
    """
    half = strut("body", 0j, "lid", 475 + 0j, **GAS)  # 600 − 125
    found = tell(with_loads(LID, half, handle=("lid", 1000 + 0j))).loads.pushes[0, 0] / 400.0
    assert found == pytest.approx(1.15, rel=1e-12)
    assert 1.0 < found / 1.130435 < 1.018


ARMS = {20.0: (374.956282, 136.824008), 60.0: (522.015325, 248.850569), 100.0: (688.908160, 214.427948)}


def test_c14_a_strut_is_a_lever() -> None:
    """C14. Anchors 600 and 250 from the pin, 20°, 60° and 100° between them: length and arm typed.

    5e-7 mm: half the last typed digit. Trap: the arm's sign.
    """
    lid = Sketch(LID.links, "lid", LID.pivots, wanted_deg=80.0)
    even = {"extended": 1000.0, "stroke": 900.0, "force": 400.0, "ratio": 1.0}
    push = strut("body", at_angle(-20.0, 600.0), "lid", 250 + 0j, **even)
    told = tell(with_loads(lid, push, handle=("lid", 1000 + 0j)), steps=3).loads
    for pose, (length, arm) in enumerate(ARMS.values()):
        assert told.lengths[pose, 0] == pytest.approx(length, abs=5e-7)
        assert told.effort[pose] * 1000.0 / -400.0 == pytest.approx(arm, abs=5e-7)


def test_c14_crossover_where_the_three_pins_are_in_line() -> None:
    """C14, G4. Before it the strut holds the lid shut, beyond it opens it; exactly in line it does nothing.

    1e-7°: solved, and the reported figure.
    """
    even = {"extended": 1000.0, "stroke": 900.0, "force": 400.0, "ratio": 1.0}
    push = strut("body", at_angle(23.7, 600.0), "lid", 250 + 0j, **even)
    told = tell(with_loads(LID, push, handle=("lid", 1000 + 0j))).loads
    (balance,) = told.balances
    assert balance.deg == pytest.approx(23.7, abs=1e-7)
    assert not balance.stable
    assert told.effort[0] > 0.0 > told.effort[-1]
    assert told.tip_overs == ()  # nothing has weight


def test_c15_a_spring_without_free_length_balances_everywhere() -> None:
    """C15. k = mgr/(ab) = 0.7060788 N/mm with m = 12, r = 450, a = 250 straight above the pin, b = 300 along the arm.

    1e-9 of the weight: rounding. Trap: a free length that sneaks in; a balance mark out of rounding.
    """
    arm = Sketch(("body", "lid"), "lid", {"P": (0j, ("body", "lid"))}, wanted_deg=175.0)
    start = at_angle(-87.0, 1.0)  # from nearly hanging to nearly upright
    spring = Device(
        "spring",
        "tension spring",
        1,
        Attachment("body", (0.0, 250.0)),
        Attachment("lid", xy(300.0 * start)),
        rate=0.7060788,
    )
    project = with_loads(arm, weight("lid", 12 * 9.80665, 450.0 * start), spring, handle=("lid", 600.0 * start))
    told = tell(project, steps=36).loads
    assert np.abs(told.effort).max() < 1e-9 * 12 * 9.80665
    assert told.balances == ()
    lighter = with_loads(arm, weight("lid", 11 * 9.80665, 450.0 * start), spring, handle=("lid", 600.0 * start))
    assert np.abs(tell(lighter, steps=36).loads.effort).max() > 1.0
