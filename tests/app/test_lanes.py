"""A lane by itself: what it lays out, and what the pixels show."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtGui import QColor

from app.lane_figures import LaneFigures, stretches_above
from app.lanes import Lane
from app.look import light
from app.ruler import Scale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.labels import Box

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
    xs, ys = np.array([(spot.x(), spot.y()) for spot in lane.view._curve]).T
    within = FIGURES.ys < 30.0
    spots = [lane.view.spot(x, y) for x, y in zip(XS[within], FIGURES.ys[within], strict=True)]
    assert np.stack([xs, ys], axis=1)[within] == pytest.approx(np.array(spots))
    assert len(xs) == len(XS)
    assert (ys[~within] < 0.0).all()
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


def test_a_contact_that_nobody_asked_about_is_marked_as_one(lane: Lane) -> None:
    touching = replace(FIGURES, holds=None, want=None, least=(20.0, 0.0), touching=((20.0, 40.0),))
    lane.show_figures(touching, None)
    assert not coloured(lane, light().ok)


def test_want_and_least_can_be_missing(lane: Lane) -> None:
    lane.show_figures(replace(FIGURES, want=None, least=None), None)
    assert not lane.view.words
    assert not coloured(lane, light().ok)


def test_words_stay_inside_after_a_change_of_width(lane: Lane) -> None:
    lane.resize(520, 60)
    want, least = lane.view.words
    assert (want.text, least.text) == ("want 3.0 mm", "4.0 mm")
    for box in (want.box, least.box):
        assert box.left >= 0
        assert box.right <= lane.view.width()


def curve_px(lane: Lane) -> list[tuple[float, float]]:
    """The curve in the lane's pixels, told closely."""
    spots = np.array([(spot.x(), spot.y()) for spot in lane.view._curve])
    xs = np.linspace(spots[0, 0], spots[-1, 0], 4000)
    return list(zip(xs.tolist(), np.interp(xs, *spots.T).tolist(), strict=True))


def meet(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


@pytest.mark.parametrize("height", [44, 60, 82, 130])
@pytest.mark.parametrize("bottom", [0.0, 3.0, 20.0, 40.0, 60.0, 75.0])
def test_the_curve_runs_through_no_words(lane: Lane, height: int, bottom: float) -> None:
    """A valley as narrow as those of real hinges, its bottom anywhere; at 900 px it rises 1 px in 10 beside it."""
    lane.resize(900, height)
    ys = 4.0 + np.abs(XS - bottom) * 0.3
    lane.show_figures(replace(FIGURES, ys=ys, least=(bottom, 4.0)), Scale(0.0, 75.0))
    spots = curve_px(lane)
    want, least = lane.view.words
    for words in (want, least):
        assert not [spot for spot in spots if words.box.holds(spot)], words
    assert not meet(want.box, least.box)


def test_the_smallest_s_words_stand_beside_their_mark(lane: Lane) -> None:
    box = lane.view.words[1].box
    x, y = lane.view.spot(20.0, 4.0)
    assert abs(min(box.left - x, x - box.right, key=abs)) < 8.0
    assert min(abs(box.bottom - y), abs(box.top - y)) < 24.0


def test_stretches_above_begin_and_end_between_the_points() -> None:
    xs, ys = np.array([0.0, 10.0, 20.0, 30.0, 40.0]), np.array([8.0, 12.0, 8.0, 16.0, 16.0])
    assert stretches_above(xs, ys, 10.0) == [(5.0, 15.0), (22.5, 40.0)]
    assert stretches_above(xs, ys, 20.0) == []
    assert stretches_above(xs, ys, 0.0) == [(0.0, 40.0)]
    assert stretches_above(xs[:1], ys[:1], 0.0) == []


def test_a_figure_that_leaves_the_lane_is_shown_to_go_on_above(lane: Lane) -> None:
    """4 + 0.01 (x − 20)² passes 30 at 70.99°: an arrow stands there, dots run from it to the end."""
    assert lane.view.arrows == pytest.approx([70.99], abs=0.02)
    assert lane.view.above == [pytest.approx((70.99, 75.0), abs=0.02)]
    assert [x for x, y in coloured(lane, light().faint) if y < 9]  # the arrow, at the upper edge
    lane.show_figures(replace(FIGURES, ys=np.full_like(XS, 12.0)), None)
    assert not lane.view.arrows
    lane.show_figures(replace(FIGURES, ys=np.full_like(XS, 99.0)), None)
    assert lane.view.arrows == [0.0, 75.0]


def test_words_too_long_for_the_label_end_in_dots_and_stand_in_the_tip(lane: Lane) -> None:
    long = "a windscreen with a name that goes on and on – lid"
    lane.show_figures(replace(FIGURES, title=long), None)
    shown = lane._title.text()
    assert shown.endswith("…")
    assert lane._title.fontMetrics().horizontalAdvance(shown) <= lane._title.width()
    assert long in lane.toolTip()
    assert lane._told.text() == FIGURES.told  # which has room


def test_a_short_head_stands_beside_the_lane_and_the_whole_in_the_tip(lane: Lane) -> None:
    """As long as such a head gets: inches with fractions, a doubt above one inch, an opening beyond 100°."""
    whole, head = "✗ least 10.6 mm ± 3.0 mm (trace) at 3.2°", '✗ 27 63/64" ± 1 13/64" at 101.9°'
    lane.show_figures(replace(FIGURES, told=whole, head=head), None)
    assert lane._told.text() == head
    assert whole in lane.toolTip()
    assert whole in lane.accessibleName()


def test_the_longest_words_of_the_starts_have_room(lane: Lane) -> None:
    """The transmission angle names its link; of the links that starts make, "coupling rod" is the longest."""
    told = "least 24.8° at 55.1° (coupling rod)"
    lane.show_figures(replace(FIGURES, told=told), None)
    assert lane._told.text() == told


def test_a_doubt_is_a_band_about_the_curve(lane: Lane) -> None:
    band = light().grid_major
    before = coloured(lane, band)
    lane.show_figures(replace(FIGURES, doubt=1.0), None)
    inside = [spot for spot in coloured(lane, band) if spot not in before]
    assert len(inside) > 200
    curve = {round(x): y for x, y in curve_px(lane)}
    heights = [abs(y - curve[x]) for x, y in inside if x in curve]
    assert heights
    assert max(heights) <= abs(lane.view.spot(0.0, 1.0)[1] - lane.view.spot(0.0, 0.0)[1]) + 1.5
