"""Every picture of the help draws, light and dark, at scale 2, and shows what it is about."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from app.help.pictures import LEAST_WIDTH, MOST_WIDTH, names, picture
from app.lengths import LengthStyle
from app.look import dark, light
from tests.app.pictures import differ, share_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.look import Look

WIDTH = 400


@pytest.mark.parametrize("look", [light(), dark()], ids=lambda look: look.name)
@pytest.mark.parametrize("name", names())
def test_every_picture_draws(name: str, look: Look, qtbot: QtBot) -> None:
    image = picture(name, look, "mm", WIDTH)
    assert (image.width(), image.devicePixelRatio()) == (WIDTH, 1.0)
    assert image.height() > 60
    assert share_of(image, look.paper, within=2) > 0.3  # a sheet
    ink = share_of(image, look.ink, within=40) + share_of(image, look.panel, within=40)
    assert ink > 0.002, "nothing is drawn on it"


@pytest.mark.parametrize("name", ["single-pivot", "checks-short", "strip-touching"])
def test_what_falls_short_is_seen(name: str, qtbot: QtBot) -> None:
    assert share_of(picture(name, light(), "mm", WIDTH), light().short, within=60) > 0.0


def test_on_two_arms_nothing_falls_short(qtbot: QtBot) -> None:
    for name in ("four-bar", "checks-held"):
        assert share_of(picture(name, light(), "mm", WIDTH), light().short, within=30) == 0.0


def test_fine_screens_get_twice_the_pixels(qtbot: QtBot) -> None:
    for name in ("four-bar", "strip", "checks-held", "signs"):
        plain, fine = picture(name, light(), "mm", WIDTH), picture(name, light(), "mm", WIDTH, 2.0)
        assert fine.devicePixelRatio() == 2.0
        assert (fine.width(), fine.height()) == (2 * plain.width(), 2 * plain.height())
        smooth = Qt.TransformationMode.SmoothTransformation
        again = fine.scaled(plain.size(), mode=smooth)
        again.setDevicePixelRatio(1.0)
        assert differ(plain, again) < 0.05, "not the same picture"


def test_the_builders_units_stand_in_the_pictures(qtbot: QtBot) -> None:
    for name in ("four-bar", "strip", "checks-held", "arms"):
        assert differ(picture(name, light(), "mm", WIDTH), picture(name, light(), LengthStyle("in"), WIDTH)) > 0.0


def test_a_picture_is_drawn_once(qtbot: QtBot) -> None:
    assert picture("signs", light(), "mm", WIDTH).cacheKey() == picture("signs", light(), "mm", WIDTH).cacheKey()


def test_widths_are_kept_within_reason(qtbot: QtBot) -> None:
    assert picture("outlines", light(), "mm", 3).width() == LEAST_WIDTH
    assert picture("outlines", light(), "mm", 100_000).width() == MOST_WIDTH


def test_an_unknown_picture_is_a_fault_of_the_page() -> None:
    with pytest.raises(KeyError):
        picture("no such thing", light(), "mm", WIDTH)
