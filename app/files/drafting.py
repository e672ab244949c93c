"""A painter in mm: lines, circles and words on a sheet of paper at true size, y down from its upper left corner.

The same drawing goes to a PDF, a printer or a picture of the page: only `per_mm`, the device's dots to a mm, differs.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeAlias

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QTextOption, QTransform

from app.painter import NO_BRUSH, line_path

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kinematics.values import Point

THIN, LINE, HEAVY = 0.13, 0.25, 0.5
"""Line widths, mm: those of ISO 128-2:2020 for technical drawings."""
SMALL, WORDS, TITLE = 2.5, 3.0, 5.0
"""Heights of letters, mm."""

FINE = 40.0
"""Dots to a mm by which words are measured, whatever they are drawn on."""


class Draft:
    """Draws on one sheet. `ink`: the colour of what is drawn next."""

    def __init__(self, painter: QPainter, per_mm: float) -> None:
        self._painter = painter
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(per_mm, per_mm)
        painter.setBrush(NO_BRUSH)
        self.ink = "#000000"

    def line(self, a: Point, b: Point, weight: float = LINE, dash: tuple[float, ...] = ()) -> None:
        """Draw a line; dashes (drawn, left out, …) in mm."""
        self._pen(weight, dash)
        self._painter.drawLine(QPointF(*a), QPointF(*b))

    def polyline(
        self, points: Iterable[Point], closed: bool = False, weight: float = LINE, dash: tuple[float, ...] = ()
    ) -> None:
        """Draw lines from point to point."""
        self._pen(weight, dash)
        self._painter.drawPath(line_path(points, closed))

    def box(self, left: float, top: float, wide: float, tall: float, weight: float = LINE) -> None:
        """Draw a rectangle."""
        self._pen(weight)
        self._painter.drawRect(QRectF(left, top, wide, tall))

    def fill(self, left: float, top: float, wide: float, tall: float, colour: str) -> None:
        """Fill a rectangle."""
        self._painter.fillRect(QRectF(left, top, wide, tall), QColor(colour))

    def circle(self, middle: Point, radius: float, weight: float = LINE) -> None:
        """Draw a circle."""
        self._pen(weight)
        self._painter.drawEllipse(QPointF(*middle), radius, radius)

    def oval(self, middle: Point, one: Point, other: Point, weight: float = LINE) -> None:
        """Draw a circle as it is seen aslant: `one` and `other` (x, y) are where its right and its top go."""
        self._pen(weight)
        round_path = QPainterPath()
        round_path.addEllipse(QPointF(0.0, 0.0), 1.0, 1.0)
        seen = QTransform(one[0], one[1], other[0], other[1], middle[0], middle[1])
        self._painter.drawPath(seen.map(round_path))

    def words(
        self, at: Point, text: str, height: float = WORDS, *, bold: bool = False, align: float = 0.0, turn: float = 0.0
    ) -> float:
        """Write one line with its base at `at`; give its length.

        turn : degrees clockwise.     align : 0 it begins there, 1 it ends there, 0.5 its middle is there.
        """
        font = _font(height * FINE, bold)
        long = QFontMetricsF(font).horizontalAdvance(text)
        painter = self._painter
        painter.save()
        painter.setFont(font)
        painter.setPen(QColor(self.ink))
        painter.translate(QPointF(*at))
        painter.rotate(turn)
        painter.scale(1 / FINE, 1 / FINE)
        painter.drawText(QPointF(-align * long, 0.0), text)
        painter.restore()
        return long / FINE

    def paragraph(self, at: Point, wide: float, text: str, height: float = WORDS, *, bold: bool = False) -> float:
        """Write words, wrapped at a width, with their top at `at`; give the height that they take."""
        painter, needed = self._painter, self.tall(text, wide, height, bold=bold) * FINE
        painter.save()
        painter.setFont(_font(height * FINE, bold))
        painter.setPen(QColor(self.ink))
        painter.translate(QPointF(*at))
        painter.scale(1 / FINE, 1 / FINE)
        option = QTextOption(Qt.AlignmentFlag.AlignLeft)
        option.setWrapMode(QTextOption.WrapMode.WordWrap)
        painter.drawText(QRectF(0.0, 0.0, wide * FINE, needed + 1.0), text, option)
        painter.restore()
        return needed / FINE

    def tall(self, text: str, wide: float, height: float = WORDS, *, bold: bool = False) -> float:
        """The height that words take, wrapped at a width."""
        flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        place = QRectF(0.0, 0.0, wide * FINE, 1e6)
        return QFontMetricsF(_font(height * FINE, bold)).boundingRect(place, int(flags), text).height() / FINE

    def shortened(self, text: str, wide: float, height: float = WORDS, *, bold: bool = False) -> str:
        """A line cut to a width, with dots where it was cut."""
        metrics = QFontMetricsF(_font(height * FINE, bold))
        return metrics.elidedText(text, Qt.TextElideMode.ElideRight, wide * FINE)

    @contextmanager
    def pixels(self, place: tuple[float, float, float, float], mm_per_px: float) -> Iterator[QPainter]:
        """Hand out the painter to draw in pixels of the board within a rectangle (left, top, width, height; mm)."""
        self._painter.save()
        self._painter.setClipRect(QRectF(*place))
        self._painter.translate(QPointF(place[0], place[1]))
        self._painter.scale(mm_per_px, mm_per_px)
        yield self._painter
        self._painter.restore()

    @contextmanager
    def clipped(self, left: float, top: float, wide: float, tall: float) -> Iterator[None]:
        """Draw only within a rectangle."""
        self._painter.save()
        self._painter.setClipRect(QRectF(left, top, wide, tall))
        yield
        self._painter.restore()

    def _pen(self, weight: float, dash: tuple[float, ...] = ()) -> None:
        pen = QPen(QColor(self.ink), weight)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        if dash:
            pen.setDashPattern([length / weight for length in dash])
        self._painter.setPen(pen)


Page: TypeAlias = tuple[tuple[float, float], Callable[[Draft], None]]
"""A sheet: its size (mm), and what draws on it."""


def wrapped(text: str, wide: float, height: float = WORDS) -> list[str]:
    """Words broken into lines that fit a width, mm; a word that is longer has a line of its own."""
    metrics = QFontMetricsF(_font(height * FINE, bold=False))
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and metrics.horizontalAdvance(longer) <= wide * FINE:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _font(height: float, bold: bool) -> QFont:
    """The font whose capitals are `height` dots high."""
    font = QFont()
    font.setStyleHint(QFont.StyleHint.SansSerif)
    # A capital's height is some 0.72 of the font's.
    font.setPixelSize(max(round(height / 0.72), 1))
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return font
