"""The ruler's arithmetic: places and pixels, round ticks, words that don't lie on each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QFontMetricsF

from app.look import light
from app.ruler import HEIGHT, INSET, Ruler, RulerMark, Scale, place_all, place_words, tick_step

if TYPE_CHECKING:
    from PySide6.QtGui import QImage
    from pytestqt.qtbot import QtBot


def test_scale_and_pixels_agree_both_ways() -> None:
    scale = Scale(0.0, 75.0)
    assert scale.pixel(0.0, 900) == INSET
    assert scale.pixel(75.0, 900) == 900 - INSET
    assert scale.place(scale.pixel(31.25, 900), 900) == pytest.approx(31.25, abs=1e-9)  # float rounding
    assert scale.place(-50, 900) == 0.0
    assert scale.place(2000, 900) == 75.0


@pytest.mark.parametrize(("span", "step"), [(75.0, 10.0), (100.0, 10.0), (12.0, 1.0), (180.0, 20.0), (0.5, 0.05)])
def test_ticks_are_round(span: float, step: float) -> None:
    assert tick_step(span) == pytest.approx(step, rel=1e-12)  # powers of ten


def test_words_never_lie_on_each_other_nor_outside() -> None:
    taken = [(100.0, 160.0)]
    assert place_words(90.0, 40.0, 400.0, taken) == (46.0, 86.0)
    assert place_words(380.0, 40.0, 400.0, taken) == (336.0, 376.0)
    assert place_words(30.0, 40.0, 60.0, taken) is None


def test_words_with_no_room_beside_their_line_stand_left_of_those_in_the_way() -> None:
    """A dead point 2° before the wanted opening at the right edge: both must be read, as one ends the other."""
    dead = place_words(850.0, 90.0, 900.0, [])
    assert dead == (756.0, 846.0)
    wanted = place_words(886.0, 70.0, 900.0, [dead])
    assert wanted == (678.0, 748.0)


@pytest.fixture
def ruler(qtbot: QtBot) -> Ruler:
    ruler = Ruler(light())
    qtbot.addWidget(ruler)
    ruler.resize(900, HEIGHT)
    ruler.scale, ruler.reached = Scale(0.0, 75.0), (0.0, 60.0)
    with qtbot.waitExposed(ruler):
        ruler.show()
    return ruler


def coloured(image: QImage, colour: str) -> list[tuple[int, int]]:
    wanted = QColor(colour)
    return [
        (x, y)
        for x in range(image.width())
        for y in range(image.height())
        if abs(image.pixelColor(x, y).red() - wanted.red()) < 24
        and abs(image.pixelColor(x, y).green() - wanted.green()) < 24
        and abs(image.pixelColor(x, y).blue() - wanted.blue()) < 24
    ]


@pytest.mark.parametrize("place", [0.0, 31.25, 75.0])
def test_the_pointer_stands_at_the_pose_and_its_reading_stays_inside(ruler: Ruler, place: float) -> None:
    ruler.place, ruler.reading = place, f"{place:g}°"
    spots = coloured(ruler.grab().toImage(), light().selection)
    tip = max(spots, key=lambda spot: spot[1])
    assert tip[0] == pytest.approx(ruler.scale.pixel(place, 900), abs=2.0)
    assert min(x for x, _ in spots) >= 0
    read = QFontMetricsF(ruler.font()).horizontalAdvance(ruler.reading)
    assert max(x for x, _ in spots) - min(x for x, _ in spots) >= 0.6 * read  # the words are there too


def test_a_mark_that_ends_the_travel_is_in_the_colour_of_faults(ruler: Ruler) -> None:
    ruler.marks = (RulerMark(0.0, "shut"), RulerMark(60.0, "dead point 60°", strong=True))
    spots = coloured(ruler.grab().toImage(), light().fault)
    line = round(ruler.scale.pixel(60.0, 900))
    assert min(x for x, _ in spots) >= line - 1
    assert max(x for x, _ in spots) > line + 40  # its words, right of it


def test_minor_marks_leave_the_words_of_others_alone(ruler: Ruler) -> None:
    """A balance 1° before the dead point: its stroke is there, shorter, and the dead point keeps its words."""
    strong = RulerMark(60.0, "dead point 60°", strong=True)
    ruler.marks = (strong,)
    alone = coloured(ruler.grab().toImage(), light().fault)
    ruler.marks = (RulerMark(59.0, "balances 59°", minor=True), strong)
    image = ruler.grab().toImage()
    assert coloured(image, light().fault) == alone
    x = round(ruler.scale.pixel(59.0, 900))
    heights = [y for at, y in coloured(image, light().ink) if abs(at - x) <= 1]
    assert heights
    assert min(heights) >= 17


def test_a_drag_on_the_ruler_asks_for_the_places_under_the_pointer(ruler: Ruler, qtbot: QtBot) -> None:
    asked: list[float] = []
    ruler.asked.connect(asked.append)
    for x in (100, 400):
        qtbot.mousePress(ruler, Qt.MouseButton.LeftButton, pos=QPoint(x, 20))
        qtbot.mouseMove(ruler, QPoint(x + 50, 20))
        qtbot.mouseRelease(ruler, Qt.MouseButton.LeftButton, pos=QPoint(x + 50, 20))
    assert asked == pytest.approx([ruler.scale.place(x, 900) for x in (100, 150, 400, 450)], abs=1e-9)
    qtbot.mousePress(ruler, Qt.MouseButton.RightButton, pos=QPoint(700, 20))
    assert len(asked) == 4


def test_words_stand_beside_their_own_lines_where_they_can() -> None:
    """Two marks near the right end: the last one's words to its left, those of the one before to the left of that."""
    assert place_all([(14.0, 24.0), (700.0, 50.0), (780.0, 64.0)], 800.0) == [
        (18.0, 42.0),
        (646.0, 696.0),
        (712.0, 776.0),
    ]
    assert place_all([(14.0, 24.0), (60.0, 50.0)], 800.0) == [(18.0, 42.0), (64.0, 114.0)]
    assert place_all([], 800.0) == []


def test_crowded_words_keep_the_order_of_their_lines() -> None:
    spans = place_all([(14.0, 24.0), (700.0, 50.0), (750.0, 64.0), (780.0, 50.0)], 800.0)
    starts = [span[0] for span in spans if span is not None]
    assert len(starts) == 4
    assert starts == sorted(starts)
