"""A lane by itself: what pyqtgraph is given, and what the pixels show."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtGui import QColor

from app.lanes import Lane, LaneFigures
from app.look import light
from app.ruler import Scale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

XS = np.linspace(0.0, 75.0, 76)
FIGURES = LaneFigures(
    "wall – lid", "✓ least 4.0 mm at 20°", XS, 4.0 + 0.01 * (XS - 20.0) ** 2, 30.0,
    holds=True, want=3.0, want_words="want 3.0 mm", least=(20.0, 4.0), least_words="4.0 mm",
)  # fmt: skip


@pytest.fixture
def lane(qtbot: QtBot) -> Lane:
    lane = Lane(light())
    qtbot.addWidget(lane)
    lane.resize(900, 60)
    with qtbot.waitExposed(lane):
        lane.show()
    lane.show_figures(FIGURES, Scale(0.0, 75.0))
    return lane


def coloured(lane: Lane, colour: str) -> list[tuple[int, int]]:
    """Give the pixels that are of a colour, or nearly: lines one pixel wide blend with the paper."""
    image, wanted = lane.view.grab().toImage(), QColor(colour)
    near = []
    for x in range(image.width()):
        for y in range(image.height()):
            c = image.pixelColor(x, y)
            if max(abs(c.red() - wanted.red()), abs(c.green() - wanted.green()), abs(c.blue() - wanted.blue())) < 24:
                near.append((x, y))
    return near


def test_the_curve_is_the_figures(lane: Lane) -> None:
    xs, ys = lane.view._curve.getData()
    assert np.array_equal(xs, FIGURES.xs)
    assert np.array_equal(ys, FIGURES.ys)
    assert lane.accessibleName() == "wall – lid: ✓ least 4.0 mm at 20°"


def test_the_smallest_is_marked_where_it_is(lane: Lane) -> None:
    spots = coloured(lane, light().ok)
    assert spots
    x = lane.view.scale_of_travel.pixel(20.0, lane.view.width())
    assert np.mean([spot[0] for spot in spots]) == pytest.approx(x, abs=2.0)  # the mark is 7 px wide


def test_a_shortfall_is_marked_in_the_other_colour(lane: Lane) -> None:
    lane.show_figures(replace(FIGURES, holds=False), None)
    assert coloured(lane, light().fault)
    assert not coloured(lane, light().ok)


def test_contact_is_a_stretch_on_the_zero_line(lane: Lane) -> None:
    lane.show_figures(replace(FIGURES, least=None, touching=((30.0, 60.0),)), None)
    spots = coloured(lane, light().fault)
    left, right = (lane.view.scale_of_travel.pixel(deg, lane.view.width()) for deg in (30.0, 60.0))
    assert min(x for x, _ in spots) == pytest.approx(left, abs=4.0)  # the pen is 5 px wide
    assert max(x for x, _ in spots) == pytest.approx(right, abs=4.0)


def test_want_and_least_can_be_missing(lane: Lane) -> None:
    lane.show_figures(replace(FIGURES, want=None, least=None), None)
    assert not lane.view._want.isVisible()
    assert not lane.view._want_text.isVisible()
    assert not lane.view._least_text.isVisible()


def test_words_stay_inside_after_a_change_of_width(lane: Lane) -> None:
    lane.resize(520, 60)
    lane.view.grab()  # pyqtgraph follows when it paints
    text = lane.view._want_text
    box = text.mapRectToDevice(text.boundingRect())
    assert box.left() >= 0
    assert box.right() <= lane.view.width() + 1
