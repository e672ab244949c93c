"""Clearance holes: ISO 273 and ASME B18.2.8 (Machinery's Handbook 31, p. 1741; close fits from shop charts)."""

from __future__ import annotations

import pytest

from app.hardware import hardware

METRIC = {"M5": (5.3, 5.5, 5.8), "M6": (6.4, 6.6, 7.0), "M8": (8.4, 9.0, 10.0), "M10": (10.5, 11.0, 12.0)}
"""Thread: fine, medium, coarse."""
INCH = {"1/4": (6.746875, 7.14375), "5/16": (8.334375, 8.73125), "3/8": (9.921875, 10.31875)}
"""Thread: close, normal in mm: 17/64 and 9/32, 21/64 and 11/32, 25/64 and 13/32 of 25.4."""


@pytest.mark.parametrize("thread", METRIC)
def test_f8_iso_273(thread: str) -> None:
    """F8."""
    row = hardware().clearance(thread)
    assert row is not None
    assert (row.fine, row.medium, row.coarse) == METRIC[thread]


@pytest.mark.parametrize("thread", INCH)
def test_f8_asme_b18_2_8(thread: str) -> None:
    """F8."""
    row = hardware().clearance(thread)
    assert row is not None
    assert (row.fine, row.medium) == pytest.approx(INCH[thread], abs=1e-9)
