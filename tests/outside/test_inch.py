"""Inches as the world writes them (check E6).

Source of 1 in = 25.4 mm exactly: the international yard and pound agreement, 1959 (from memory).
A mixed number is written with a space or a hyphen on drawings and tapes: common practice, no source.
"""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.lengths import parse_length


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        ("1 in", "mm", 25.4),
        ("3 1/16 in", "mm", 77.7875),
        ("3/16", "in", 4.7625),
        ("0.160", "in", 4.064),
        ("0,160", "in", 4.064),
        ("25.4/2", "mm", 12.7),
        ("1-1/2 in", "mm", 38.1),  # not 12.7: no difference is meant
        ("-1-1/2 in", "mm", -38.1),
        ("-3 1/16", "in", -77.7875),
    ],
)
def test_e6_lengths_in_inches(text: str, units: str, mm: float) -> None:
    """Tolerance: one unit in the last place of the typed value, which is all that a float can hold."""
    assert abs(parse_length(text, units) - mm) <= math.ulp(mm)


@given(st.floats(min_value=1e-3, max_value=1e5))
def test_e6_mm_to_inch_and_back(mm: float) -> None:
    """Within 4 units in the last place: one for each division, printing and multiplication, and one to spare."""
    inches = f"{Decimal(repr(mm / 25.4)):f}"  # all digits, without an exponent
    assert abs(parse_length(f"{inches} in", "mm") - mm) <= 4 * math.ulp(mm)
