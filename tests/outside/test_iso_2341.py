"""Clevis pins of ISO 2341 (DIN EN 22341, once DIN 1444), from an open fastener data set that agrees with memory."""

from __future__ import annotations

import pytest

from app.hardware import hardware
from kinematics.fits import deviation, fit

ROWS = {
    6.0: (10.0, 2.0, 1.6, 3.2),
    8.0: (14.0, 3.0, 2.0, 3.5),
    10.0: (18.0, 4.0, 3.2, 4.5),
    12.0: (20.0, 4.0, 3.2, 5.5),
}
"""Diameter: head, its height, split-pin hole, from its middle to the end at least."""


@pytest.mark.parametrize("diameter", ROWS)
def test_f4_clevis_pins(diameter: float) -> None:
    """F4."""
    row = hardware().pin("clevis pin", diameter)
    assert row is not None
    assert (row.head, row.height, row.hole_least, row.end) == ROWS[diameter]
    assert row.zone == "h11"


def test_f4_h11_at_8_is_loose_beside_g6() -> None:
    """F4: h11 at 8 is 0/−90 µm; in 8 H7 it has up to 0.105 mm of play, where g6 has 0.029."""
    tables = hardware()
    row = deviation(tables.deviations, 8.0, "h11")
    assert row is not None
    assert (row.lower_um, row.upper_um) == (-90, 0)
    hole, pin = tables.limits(8.0, "H7"), tables.limits(8.0, "h11")
    assert hole is not None
    assert pin is not None
    assert fit(hole, pin).most == pytest.approx(0.105, abs=1e-12)
