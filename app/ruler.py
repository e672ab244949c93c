"""The ruler of the travel strip: the opening from shut to the end, what is marked on it in words, and the pose as a
pointer.

It works with plain numbers along x: degrees of opening, or mm along the branch for a panel that slides. What the
marks say is given to it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10
from typing import TYPE_CHECKING, TypeAlias

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.lengths import format_number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from app.look import Look

HEIGHT = 46
BESIDE = 4  # pixels between a mark's line and its words
INSET = 14  # pixels left free at both ends of the scale, on the ruler and on the lanes


@dataclass(frozen=True, slots=True)
class Scale:
    """From a place along the travel to pixels: `first` and `last` stand INSET pixels inside the width."""

    first: float = 0.0
    last: float = 1.0

    def pixel(self, place: float, width: float) -> float:
        """Pixel from the left edge."""
        return INSET + (place - self.first) / (self.last - self.first) * (width - 2 * INSET)

    def place(self, pixel: float, width: float) -> float:
        """Place along the travel under a pixel, clamped to the scale."""
        share = (pixel - INSET) / max(width - 2 * INSET, 1.0)
        return self.first + min(max(share, 0.0), 1.0) * (self.last - self.first)

    def edges(self, width: float) -> tuple[float, float]:
        """Places at the very left and right edge of a lane of this width."""
        per_pixel = (self.last - self.first) / max(width - 2 * INSET, 1.0)
        return self.first - INSET * per_pixel, self.last + INSET * per_pixel


@dataclass(frozen=True, slots=True)
class RulerMark:
    """A place along the travel with its words; `strong` ones end or forbid something, `minor` ones take what room the
    others leave.
    """

    place: float
    words: str
    strong: bool = False
    minor: bool = False


def tick_step(span: float, most: int = 12) -> float:
    """Step 1, 2 or 5 × a power of ten that gives at most `most` ticks on a span."""
    rough = max(span, 1e-9) / most
    power = 10.0 ** floor(log10(rough))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= rough * (1 - 1e-9))


class Ruler(QWidget):
    """Paints scale, marks and pointer; a press or drag anywhere on it asks for the place under the pointer."""

    asked = Signal(float)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.scale = Scale()
        self.reached: tuple[float, float] = (0.0, 0.0)
        self.marks: tuple[RulerMark, ...] = ()
        self.place = 0.0
        self.reading = ""
        self.unit = "°"
        self.units: Units = "mm"  # say point or comma
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(HEIGHT)
        self.setCursor(Qt.CursorShape.SizeHorCursor)

    def sizeHint(self) -> QSize:
        """A fixed height, any width."""
        return QSize(400, HEIGHT)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self._look = look
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Ask for the place that was pressed."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._ask(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Ask for the place that the pointer is dragged to."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._ask(event)

    def _ask(self, event: QMouseEvent) -> None:
        self.asked.emit(self.scale.place(event.position().x(), self.width()))

    # Painting --------------------------------------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint from below to above: scale, marks, pointer."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_scale(painter)
        self._paint_marks(painter)
        self._paint_pointer(painter)
        painter.end()

    def _x(self, place: float) -> float:
        return self.scale.pixel(place, self.width())

    def _paint_scale(self, painter: QPainter) -> None:
        base = HEIGHT - 14.0
        painter.setPen(QPen(QColor(self._look.edge), 1, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(self._x(self.scale.first), base), QPointF(self._x(self.scale.last), base))
        painter.setPen(QPen(QColor(self._look.ink), 1.6))
        painter.drawLine(QPointF(self._x(self.reached[0]), base), QPointF(self._x(self.reached[1]), base))
        font = self.font()
        font.setPixelSize(10)
        painter.setFont(font)
        step = tick_step(self.scale.last - self.scale.first, max(2, self.width() // 70))
        for number in range(round(self.scale.first / step), int(self.scale.last / step + 1e-9) + 1):
            x = self._x(number * step)
            painter.setPen(QPen(QColor(self._look.ink), 1))
            painter.drawLine(QPointF(x, base), QPointF(x, base + 4))
            if not self.unit:
                continue  # a place along a branch has no number that means something to a builder
            painter.setPen(QColor(self._look.faint))
            text = format_number(number * step, self.units) + self.unit
            painter.drawText(
                QRectF(x - 40, base + 3, 80, 11), Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, text
            )

    def _paint_marks(self, painter: QPainter) -> None:
        """Each mark's words stand right of its line, or left where the right is taken or ends."""
        font = self.font()
        font.setPixelSize(11)
        painter.setFont(font)
        metrics = QFontMetricsF(font)
        marks = sorted(self.marks, key=lambda mark: (mark.minor, mark.place))
        wide = [(self._x(mark.place), metrics.horizontalAdvance(mark.words)) for mark in marks]
        spans = place_all(wide, self.width(), sum(mark.minor for mark in marks))
        pens = [QPen(QColor(self._look.fault if mark.strong else self._look.ink), 1) for mark in marks]
        for mark, pen, (x, _) in zip(marks, pens, wide, strict=True):
            painter.setPen(pen)
            painter.drawLine(QPointF(x, 18 if mark.minor else 4), QPointF(x, HEIGHT - 14))
        for mark, pen, span in zip(marks, pens, spans, strict=True):
            if span is not None:  # no line of another mark runs through the words
                painter.fillRect(QRectF(span[0] - 2, 3, span[1] - span[0] + 4, 13), QColor(self._look.paper))
                painter.setPen(pen)
                painter.drawText(QPointF(span[0], 13), mark.words)

    def _paint_pointer(self, painter: QPainter) -> None:
        x, base = self._x(self.place), HEIGHT - 14.0
        chosen = QColor(self._look.selection)
        painter.setPen(QPen(chosen, 1))
        painter.setBrush(chosen)
        painter.drawPolygon(QPolygonF([QPointF(x, base), QPointF(x - 6, base - 9), QPointF(x + 6, base - 9)]))
        font = self.font()
        font.setPixelSize(11)
        font.setBold(True)
        painter.setFont(font)
        width = QFontMetricsF(font).horizontalAdvance(self.reading)
        left = x + 9 if x + 9 + width < self.width() else x - 9 - width
        painter.fillRect(QRectF(left - 2, base - 12, width + 4, 11), QColor(self._look.paper))
        painter.drawText(QPointF(left, base - 2), self.reading)


Span: TypeAlias = tuple[float, float] | None
"""Pixels from, to; None where words find no room."""


def place_all(marks: Sequence[tuple[float, float]], width: float, minor: int = 0) -> list[Span]:
    """Find where the words of marks go, each (x of its line, length of its words), from left to right.

    They are placed from the left and from the right; better is where more of them stand beside their own lines, and
    then where all stand in the order of the lines. The last `minor` of them take what room is left.
    """
    count = len(marks) - minor
    ways = [_placed(marks[:count], width, order) for order in (range(count), range(count - 1, -1, -1))]
    spans = max(ways, key=lambda spans: _well_placed(marks[:count], spans))
    taken = [span for span in spans if span is not None]
    for x, length in marks[count:]:
        span = place_words(x, length, width, taken)
        spans.append(span)
        taken += [] if span is None else [span]
    return spans


def _placed(marks: Sequence[tuple[float, float]], width: float, order: range) -> list[Span]:
    """Place the words of marks one after another in an order."""
    taken: list[tuple[float, float]] = []
    spans: list[Span] = [None] * len(marks)
    for k in order:
        spans[k] = span = place_words(*marks[k], width, taken)
        taken += [] if span is None else [span]
    return spans


def _well_placed(marks: Sequence[tuple[float, float]], spans: list[Span]) -> tuple[int, bool]:
    """How many words stand beside their own lines, and whether all stand in order."""
    placed = [(x, length, span[0]) for (x, length), span in zip(marks, spans, strict=True) if span is not None]
    starts = [start for _, _, start in placed]
    return sum(start in (x + BESIDE, x - BESIDE - length) for x, length, start in placed), starts == sorted(starts)


def place_words(x: float, length: float, width: float, taken: list[tuple[float, float]]) -> tuple[float, float] | None:
    """Find where words of this length go beside a line at x: right, else left, else left of the words that are in the
    way there, else nowhere; pixels from, to.
    """
    before = sorted((start - 8 - length for start, _ in taken if start < x), reverse=True)
    for left in (x + BESIDE, x - BESIDE - length, *before):
        span = (left, left + length)
        if left >= 0 and span[1] <= width and all(span[1] + 6 < a or span[0] > b + 6 for a, b in taken):
            return span
    return None
