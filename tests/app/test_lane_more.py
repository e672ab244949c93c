"""A lane of loads as it is laid out and painted: signs where they belong, words off curves and off each other."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage, QPainter

from app.lane_figures import Band, Edge, LaneFigures, Level, More, Sign, Upright
from app.lane_more import sharp, thin
from app.lanes import LOWEST, TALL, Lane
from app.lift_lanes import lift_lanes
from app.look import dark, light
from app.ruler import Scale
from tests.loaded import dead_ended, heavy, lifted, rubbing

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.labels import Box
    from kinematics import Analysis

XS = np.linspace(0.0, 75.0, 76)
YS = 50.0 - XS
MORE = More(
    bottom=-40.0,
    levels=(Level(60.0, "want at most 60 N"), Level(55.0, "shut", (0.0, 9.0))),
    uprights=(Upright(20.0, "no rise before 20°"),),
    signs=(Sign(0.0, 50.0, "largest", "50 N"), Sign(50.0, 0.0, "unstable", "balances")),
    shaded="rises by itself",
)
FIGURES = LaneFigures("push", "50 N", XS, YS, 80.0, more=MORE)


@pytest.fixture
def lane(qtbot: QtBot) -> Lane:
    lane = Lane(light())
    qtbot.addWidget(lane)
    lane.resize(1280, 90)
    with qtbot.waitExposed(lane):
        lane.show()
    lane.show_figures(FIGURES, Scale(0.0, 75.0))
    return lane


def near(lane: Lane, colour: str, x: float, y: float, within: int = 9) -> int:
    """How many pixels of about a colour there are about a place of the lane."""
    image, wanted = lane.view.grab().toImage(), QColor(colour)
    spots = [(round(x) + dx, round(y) + dy) for dx in range(-within, within + 1) for dy in range(-within, within + 1)]
    colours = [image.pixelColor(*spot) for spot in spots if image.rect().contains(*spot)]
    return sum(
        max(abs(c.red() - wanted.red()), abs(c.green() - wanted.green()), abs(c.blue() - wanted.blue())) < 30
        for c in colours
    )


def test_a_value_below_nothing_has_its_place_and_the_zero_line_runs_through(lane: Lane) -> None:
    view = lane.view
    heights = [view.spot(0.0, value)[1] for value in (80.0, 0.0, -40.0)]
    assert heights[0] == pytest.approx(0.0)
    assert heights[1] == pytest.approx(view.height() * 80.0 / (120.0 * 1.06))
    assert heights[2] < view.height()
    assert near(lane, light().edge, 300.0, heights[1], 1) == 3  # one row of it


def test_the_largest_is_a_diamond_of_its_colour_and_a_shortfall_of_another(lane: Lane) -> None:
    x, y = lane.view.spot(0.0, 50.0)
    assert near(lane, light().ok, x, y, 4) > 8
    short = replace(MORE, signs=(replace(MORE.signs[0], kind="short"),))
    lane.show_figures(replace(FIGURES, more=short), None)
    assert near(lane, light().fault, x, y, 4) > 8
    assert not near(lane, light().ok, x, y, 4)


def test_each_kind_of_sign_is_another_shape(lane: Lane) -> None:
    """Told by shape: in the same ink the four cover other pixels; a balance that stays is broad below."""
    x, y = lane.view.spot(30.0, 0.0)
    seen: dict[str, frozenset[tuple[int, int]]] = {}
    for kind in ("stable", "unstable", "tip-over", "point"):
        bare = replace(FIGURES, ys=np.full_like(XS, 70.0), more=More(bottom=-40.0, signs=(Sign(30.0, 0.0, kind),)))
        lane.show_figures(bare, None)
        image = lane.view.grab().toImage()
        seen[kind] = frozenset(
            (dx, dy)
            for dx in range(-9, 10)
            for dy in range(-12, 13)
            if image.pixelColor(round(x) + dx, round(y) + dy).lightness() < 90
        )
    assert all(seen.values())
    assert len(set(seen.values())) == 4
    for kind, is_broad_below in (("stable", True), ("unstable", False)):
        broadest = max(seen[kind], key=lambda spot: abs(spot[0]))[1]
        heights = [dy for _, dy in seen[kind]]
        assert (broadest > sum(heights) / len(heights)) == is_broad_below


def test_what_rises_by_itself_is_hatched_and_named(lane: Lane) -> None:
    assert "rises by itself" in [words.text for words in lane.view.words]
    x, y = lane.view.spot(70.0, -8.0)
    assert near(lane, light().hatch, x, y) > 10
    x, y = lane.view.spot(25.0, 12.0)
    assert near(lane, light().hatch, x, y, 5) == 0


def test_the_wanted_place_is_a_dashed_line_across_the_lane(lane: Lane) -> None:
    lane.show_figures(replace(FIGURES, ys=np.full_like(XS, 70.0), more=More(-40.0, uprights=MORE.uprights)), None)
    image, x = lane.view.grab().toImage(), int(lane.view.spot(20.0, 0.0)[0])
    inked = [image.pixelColor(x, y).lightness() < 90 for y in range(image.height())]
    changes = sum(one != other for one, other in pairwise(inked))
    assert changes >= 8  # drawn and left out in turn, all the way down
    assert any(inked[:10])
    assert any(inked[-10:])


def test_where_the_curve_ends_two_strokes_and_words_stand(lane: Lane) -> None:
    more = replace(MORE, edges=(Edge(60.0, -10.0, "ends here"),), signs=())
    lane.show_figures(replace(FIGURES, xs=XS[:61], ys=YS[:61], more=more), None)
    assert "ends here" in [words.text for words in lane.view.words]
    x, y = lane.view.spot(60.0, -10.0)
    assert near(lane, light().ink, x + 2.0, y, 6) > 12


def test_a_figure_that_leaves_the_lane_below_is_shown_to_go_on(lane: Lane) -> None:
    lane.show_figures(replace(FIGURES, ys=YS * 3.0), None)
    assert lane.view.below == [(pytest.approx(63.33, abs=0.01), 75.0)]
    x = lane.view.scale_of_travel.pixel(63.33, lane.view.width())
    assert near(lane, light().faint, x, lane.view.height() - 5.0, 4) > 8


def test_a_band_is_filled_and_its_edges_are_named(lane: Lane) -> None:
    band = Band(XS, YS - 12.0, YS + 12.0, ("up", "down"))
    lane.show_figures(replace(FIGURES, more=replace(MORE, bands=(band,))), None)
    assert {"up", "down"} <= {words.text for words in lane.view.words}
    x, y = lane.view.spot(33.0, 17.0 + 6.0)
    assert near(lane, light().grid_major, x, y, 2) > 8


def test_the_figure_is_read_where_the_pose_stands(lane: Lane) -> None:
    read: Callable[[float], tuple[float | None, str]] = lambda deg: (50.0 - deg, f"{50.0 - deg:.0f} N")  # noqa: E731
    lane.show_figures(replace(FIGURES, more=replace(MORE, read=read)), None)
    lane.set_place(35.0)
    assert lane._reading.text() == "15 N"
    assert near(lane, light().selection, *lane.view.spot(35.0, 15.0), 3) > 10
    assert near(lane, light().selection, *lane.view.spot(38.0, 12.0), 3) == 0
    lane.show_figures(FIGURES, None)
    assert lane._reading.text() == ""


def test_a_lane_with_more_to_show_is_higher(lane: Lane) -> None:
    lane.show_figures(replace(FIGURES, more=replace(MORE, tall=True)), None)
    assert lane.view.minimumHeight() == TALL
    lane.show_figures(FIGURES, None)
    assert lane.view.minimumHeight() == LOWEST


def meet(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


@pytest.mark.parametrize("made", [lifted, heavy, rubbing, dead_ended])
@pytest.mark.parametrize("height", [TALL, 100])
def test_no_words_lie_on_each_other_nor_leave_the_lane(lane: Lane, made: Callable[[], Analysis], height: int) -> None:
    lane.resize(1280, height)
    for units in ("mm", "in"):
        for figures in lift_lanes(made(), units):
            lane.show_figures(figures, Scale(0.0, made().opening.reached_deg))
            words = lane.view.words
            assert words
            for k, each in enumerate(words):
                assert each.box.top >= 0.0, each
                assert each.box.right <= lane.view.width(), each
                assert not [other for other in words[k + 1 :] if meet(each.box, other.box)], each


def test_the_other_sheet_has_its_own_ink(lane: Lane) -> None:
    lane.view.set_look(dark())
    assert near(lane, dark().ok, *lane.view.spot(0.0, 50.0), 4) > 8


@pytest.mark.parametrize("ratio", [1.0, 2.0])
def test_a_level_line_fills_one_row_of_the_screens_pixels(ratio: float) -> None:
    image = QImage(20, 20, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(thin(painter, "black"))
    y = sharp(painter, 4.3)
    painter.drawLine(QPointF(0.0, y), QPointF(20.0, y))
    painter.end()
    rows = [row for row in range(20) if image.pixelColor(5, row) != QColor("white")]
    assert rows == [int(4.3 * ratio)]
    assert image.pixelColor(5, rows[0]) == QColor("black")
