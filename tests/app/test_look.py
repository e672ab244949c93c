"""The look: every colour can be read on its paper. Contrast as W3C WCAG 2.2 (2023) defines it."""

from __future__ import annotations

import re
from dataclasses import fields

import pytest

from app.look import Look, dark, light

LOOKS = pytest.mark.parametrize("look", [light(), dark()], ids=lambda look: look.name)
ROLES = [each.name for each in fields(Look) if each.type == "str" and each.name != "name"]


def luminance(colour: str) -> float:
    """Relative luminance: WCAG 2.2, "Terms and definitions"."""
    found = 0.0
    for place, weight in ((1, 0.2126), (3, 0.7152), (5, 0.0722)):
        share = int(colour[place : place + 2], 16) / 255
        found += weight * (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
    return found


def contrast(one: str, other: str) -> float:
    """WCAG 2.2: (L1 + 0.05) / (L2 + 0.05)."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_measure_itself() -> None:
    """Black on white is 21:1 by definition; #767676 is the lightest grey at 4.5:1 on white (WCAG 2.2 understanding
    1.4.3).
    """
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-9)
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


@LOOKS
def test_colours_are_written_in_full(look: Look) -> None:
    assert len(ROLES) == 18
    assert all(re.fullmatch("#[0-9a-f]{6}", getattr(look, role)) for role in ROLES)


@LOOKS
@pytest.mark.parametrize("role", ["ink", "faint", "path", "gap", "short", "ok", "fault", "selection"])
def test_words_can_be_read(look: Look, role: str) -> None:
    """Success criterion 1.4.3: 4.5:1."""
    assert contrast(getattr(look, role), look.paper) >= 4.5


@LOOKS
@pytest.mark.parametrize("role", ["edge", "fixed", "hatch", "panel", "link"])
def test_lines_can_be_seen(look: Look, role: str) -> None:
    """Success criterion 1.4.11: 3:1."""
    assert contrast(getattr(look, role), look.paper) >= 3.0


@LOOKS
def test_the_squares_and_the_ghosts_stay_behind(look: Look) -> None:
    assert 1.0 < contrast(look.grid, look.paper) < contrast(look.grid_major, look.paper) < 1.6
    assert contrast(look.grid_major, look.paper) < contrast(look.ghost, look.paper) < 3.0
