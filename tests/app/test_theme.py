"""The window's colours: contrast on both sheets, and no colour left unnamed in the style sheet."""

from __future__ import annotations

import re

import pytest
from PySide6.QtGui import QColor, QPalette

from app.look import Look, dark, light
from app.theme import blend, palette, style_sheet


def contrast(one: str, other: str) -> float:
    """Contrast ratio of WCAG 2.2 (2023), relative luminance of sRGB."""

    def luminance(colour: str) -> float:
        c = QColor(colour)
        linear = [
            v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in (c.redF(), c.greenF(), c.blueF())
        ]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_itself() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-9)  # by definition of the formula


@pytest.mark.parametrize("look", [light(), dark()], ids=["light", "dark"])
def test_words_stand_out_from_the_paper(look: Look) -> None:
    """Success criterion 1.4.3 of WCAG 2.2: 4.5 to 1 for words."""
    sheet = style_sheet(look)
    for name in ("#faint", "#fault", "#heading"):
        found = re.search(rf"{name} {{[^}}]*color: (#[0-9a-f]{{6}})", sheet)
        assert found is not None
        assert contrast(found[1], look.paper) >= 4.5, name


@pytest.mark.parametrize("look", [light(), dark()], ids=["light", "dark"])
def test_every_name_in_the_style_sheet_is_a_colour(look: Look) -> None:
    assert "@" not in style_sheet(look)


def test_the_palette_takes_the_sheets_colours() -> None:
    made = palette(dark())
    assert made.color(QPalette.ColorRole.Window).name() == dark().paper
    assert made.color(QPalette.ColorRole.Text).name() == dark().ink


def test_blend_mixes_by_share() -> None:
    assert blend("#ffffff", "#000000", 0.5) == "#808080"
    assert blend("#102030", "#ffffff", 1.0) == "#102030"
    assert blend("#102030", "#f0e0d0", 0.0) == "#f0e0d0"
