"""The window's colours: contrast on both sheets, and no colour left unnamed in the style sheet."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage, QPalette
from PySide6.QtWidgets import QMenu, QSlider, QWidget

from app.look import Look, dark, light
from app.theme import blend, palette, style_sheet

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


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
def test_a_slider_s_rail_and_handle_are_seen_on_the_paper(look: Look, qtbot: QtBot) -> None:
    """Success criterion 1.4.11 of WCAG 2.2: 3 to 1 for what a control is known by."""
    whole = QWidget()
    qtbot.addWidget(whole)
    whole.setPalette(palette(look))
    whole.setStyleSheet(style_sheet(look))
    slider = QSlider(Qt.Orientation.Horizontal, whole)
    slider.setRange(0, 100)
    slider.setValue(50)
    slider.resize(200, 30)
    image: QImage = slider.grab().toImage()
    for x in (20, 100, 180):  # before the handle, the handle, after it
        column = [QColor(image.pixel(x, y)).name() for y in range(image.height())]
        assert max(contrast(each, look.paper) for each in column) >= 3.0, x


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


@pytest.mark.parametrize("look", [light(), dark()], ids=["light", "dark"])
def test_a_chosen_line_of_a_menu_can_be_read(window: Window, qtbot: QtBot, look: Look) -> None:
    """By pixels: the words of the line that the keys stand on, against its ground; WCAG 2.2, 1.4.3."""
    window.set_sheet(look.name)
    menu = window.menus.recent.parentWidget()
    assert isinstance(menu, QMenu)
    action = menu.actions()[0]
    menu.resize(menu.sizeHint())
    menu.setActiveAction(action)  # not popped up: offscreen, Qt warns of what it can't do with pop-ups
    image = menu.grab(menu.actionGeometry(action)).toImage()
    assert best_contrast(image) >= 4.5


def best_contrast(image: QImage) -> float:
    """Contrast between the commonest colour of a picture, its ground, and the colour that differs most from it."""
    colours = Counter(
        image.pixelColor(x, y).name() for x in range(2, image.width() - 2) for y in range(2, image.height() - 2)
    )
    ground = colours.most_common(1)[0][0]
    assert ground != QColor(light().paper).name(), "nothing is chosen"
    assert ground != QColor(dark().paper).name(), "nothing is chosen"
    return max(contrast(ground, colour) for colour in colours)
