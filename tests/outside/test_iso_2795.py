"""Sintered bushings of ISO 2795: outside r6 to s7, housing H7, fitting pin m5 to m6, bore F7 to G7 as delivered and H7
once fitted, up to 50 mm. The sizes themselves are from memory.
"""

from __future__ import annotations

import pytest

from app.hardware import hardware
from kinematics.fits import closed, fit, fit_um

DEVIATIONS = hardware().deviations


def test_f2_fits_of_the_standard() -> None:
    """F2: every sintered bushing of the table keeps to them."""
    rows = [row for row in hardware().bushings if row.kind == "sintered"]
    assert rows
    for row in rows:
        assert row.outside_zone in ("r6", "s6", "s7")
        assert row.housing_zone == "H7"
        assert row.pin_zone in ("m5", "m6")
        assert row.bore_zone in ("F7", "G7")
        assert row.fitted_zone == "H7"


def test_f2_a_bushing_of_8_by_12_is_pressed() -> None:
    """F2: 12 r6 (+23/+34) in 12 H7 (0/+18): 5 to 34 µm of interference; r6 from memory."""
    assert fit_um(DEVIATIONS, 12.0, "H7", "r6") == (-34, -5)


def test_f2_pressing_closes_the_bore_so_that_one_reamed_before_is_tight() -> None:
    """F2, common practice: closes by 0.5 to 1 of the interference. 8 H7 (0/+15) pressed with 5 to 34 µm comes to
    7.966 … 8.0125, in which a pin of 8 g6 (−14/−5) may stick by 29 µm.
    """
    tables = hardware()
    bore, pin = tables.limits(8.0, "H7"), tables.limits(8.0, "g6")
    outside, housing = tables.limits(12.0, "r6"), tables.limits(12.0, "H7")
    assert bore is not None
    assert pin is not None
    assert outside is not None
    assert housing is not None
    once_in = closed(bore, fit(housing, outside), tables.rule("closing_least"), tables.rule("closing_most"))
    assert (once_in.least, once_in.most) == pytest.approx((7.966, 8.0125), abs=1e-9)
    assert fit(once_in, pin).least == pytest.approx(-0.029, abs=1e-9)


def test_a_slip_fit_closes_nothing() -> None:
    """Clearance isn't interference: with 20 µm of clearance a bore stays as it is."""
    tables = hardware()
    bore = tables.limits(8.0, "G7")
    outside = tables.limits(12.0, "h6")
    housing = tables.limits(12.0, "F7")
    assert bore is not None
    assert outside is not None
    assert housing is not None
    assert closed(bore, fit(housing, outside), 0.5, 1.0) == bore
