"""The painter's pieces: pens at every screen, symbols and words where they belong."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage, QPainter

from app import painter as put
from app.labels import Box
from app.look import light
from app.shapes import Label, Layer, Pen, Symbol

pytestmark = pytest.mark.usefixtures("qapp")
LOOK = light()


def canvas() -> tuple[QImage, QPainter]:
    """A white sheet of 80 × 60 with the origin in its middle."""
    image = QImage(80, 60, QImage.Format.Format_RGB32)
    image.fill(QColor("#ffffff"))
    painter = QPainter(image)
    painter.translate(40, 30)
    return image, painter


def test_a_pen_keeps_its_weight_and_dashes_on_a_screen_of_scale_2() -> None:
    pen = Pen("#102030", 3.0, (6.0, 4.0))
    for ratio in (1.0, 2.0):
        made = put.line_pen(pen, ratio=ratio)
        assert made.isCosmetic()
        assert made.widthF() == 3.0 * ratio
        assert [each * made.widthF() for each in made.dashPattern()] == pytest.approx([6.0 * ratio, 4.0 * ratio])


def test_a_thin_pen_stays_one_pixel_of_the_screen_and_only_its_dashes_grow() -> None:
    made = put.line_pen(Pen("#102030", 1.0, (5.0, 3.0)), ratio=2.0)
    assert made.widthF() == 1.0
    assert made.dashPattern() == [10.0, 6.0]


def test_a_pen_without_weight_draws_nothing() -> None:
    assert put.line_pen(Pen("#102030", 0.0)).style() == Qt.PenStyle.NoPen
    assert put.face_brush("").style() == Qt.BrushStyle.NoBrush
    assert put.face_brush("#102030", 0.5).color().alphaF() == pytest.approx(0.5, abs=0.01)


def test_a_pin_is_a_ring_of_ink_around_paper() -> None:
    image, painter = canvas()
    put.draw_symbol(painter, Symbol("k", "l", ((0.0, 0.0),), "pin", "#000000", "#00ff00", Layer.PINS))
    painter.end()
    assert image.pixelColor(40, 30) == QColor("#00ff00")
    assert image.pixelColor(45, 30).lightness() < 120
    assert image.pixelColor(52, 30) == QColor("#ffffff")


@pytest.mark.parametrize(
    ("turn", "dark", "bare"), [(0.0, (-7, 0), (7, 0)), (180.0, (7, 0), (-7, 0)), (90.0, (0, 7), (0, -7))]
)
def test_an_arrow_looks_where_it_is_turned(turn: float, dark: tuple[int, int], bare: tuple[int, int]) -> None:
    """Its tip is at the point; at 90° it looks up, so its head lies below."""
    image, painter = canvas()
    put.draw_symbol(painter, Symbol("k", "l", ((0.0, 0.0),), "arrow", "#000000", "#ffffff", Layer.GAPS, turn))
    painter.end()
    assert image.pixelColor(40 + dark[0], 30 + dark[1]).lightness() < 100
    assert image.pixelColor(40 + bare[0], 30 + bare[1]) == QColor("#ffffff")


def test_words_stand_in_their_box_and_far_ones_are_tied_to_their_point() -> None:
    label = Label("k", "l", (0.0, 0.0), "mm", "#000000", "#ffffff", 12.0)
    for left, tied in ((4.0, False), (20.0, True)):
        image, painter = canvas()
        put.draw_label(painter, label, LOOK, Box(left, -8.0, left + 20.0, 8.0), (0.0, 0.0))
        painter.end()
        ink = [x for x in range(80) if min(image.pixelColor(x, y).lightness() for y in range(60)) < 128]
        assert any(x > 40 + left for x in ink)
        assert any(40 < x < 40 + left for x in ink) is tied


def test_a_framed_label_takes_more_room_and_has_its_frame() -> None:
    plain = Label("k", "l", (0.0, 0.0), "3.1 mm", "#000000", "#ffffff", 12.0)
    framed = Label("k", "l", (0.0, 0.0), "3.1 mm", "#000000", "#ffffff", 12.0, framed=True)
    assert put.label_size(framed, LOOK) > put.label_size(plain, LOOK)
    image, painter = canvas()
    put.draw_label(painter, framed, LOOK, Box(-30.0, -10.0, 30.0, 10.0), (0.0, 0.0))
    painter.end()
    assert image.pixelColor(10, 30).lightness() < 160  # its left side
    assert image.pixelColor(40, 20).lightness() < 160  # its top
