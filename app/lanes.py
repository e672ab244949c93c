"""One lane of the travel strip: a figure over the opening, its want as a line with its number, the smallest value
marked.

A lane draws what it is given (`LaneFigures`). While a pivot is dragged only the curve changes and ranges stand still;
the curve's pen is one pixel wide, for speed: wider ones cost many times as much. Where
the figure leaves the lane at the top, a dotted line with an arrow at its ends says that it goes on above. Words keep
off the curve (`app.beside`).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import floor
from typing import TYPE_CHECKING, TypeVar

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
)
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.beside import along, around, least_crossed
from app.labels import Box
from app.painter import polygon
from app.ruler import Scale

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from app.look import Look

LABEL_WIDTH = 228
LOWEST, HIGHEST = 44, 130
BELOW_ZERO = 0.06  # how much of `top` is seen below the zero line
EDGE_PX = 5.0  # how far from the upper edge a figure is shown to go on above it
TEXT_MARGIN = 4.0  # what is left free around the letters of a text
FAR = 1e5  # pixels beyond which nobody sees how a curve goes on
ARROW = QPolygonF([QPointF(0.0, -3.5), QPointF(-3.5, 3.5), QPointF(3.5, 3.5)])
DIAMOND = QPolygonF([QPointF(0.0, -3.5), QPointF(-2.8, 0.0), QPointF(0.0, 3.5), QPointF(2.8, 0.0)])

Values = TypeVar("Values", float, "NDArray[np.float64]")


@dataclass(frozen=True, slots=True)
class LaneFigures:
    """What a lane shows. `top` is the value at its upper edge (0 is at the lower one).

    holds : True, False, or None where nothing is wanted.     want : the wanted least value, or None.     least :
    (place, value) of the smallest, or None.
    touching : stretches of the travel in which the two touch.
    doubt : how far the values may be off either way, drawn as a band.
    told : the figures in words; head : the same as short as they stand beside the lane, where that is another.
    lows : at each place the low end with holes and pins off, drawn as a paler band beneath the curve; NaN: untold.
    """

    title: str
    told: str
    xs: NDArray[np.float64]
    ys: NDArray[np.float64]
    top: float
    holds: bool | None = None
    want: float | None = None
    want_words: str = ""
    least: tuple[float, float] | None = None
    least_words: str = ""
    touching: tuple[tuple[float, float], ...] = field(default=())
    doubt: float = 0.0
    head: str = ""
    lows: NDArray[np.float64] | None = None


@dataclass(frozen=True, slots=True)
class Words:
    """Words in the lane; `clear` where nothing runs through them."""

    text: str
    box: Box
    clear: bool


class LaneView(QWidget):
    """The drawing part of a lane; pressing or dragging anywhere in it asks for the place under the pointer."""

    asked = Signal(float)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.scale_of_travel = Scale()
        self._look, self._top, self._place = look, 1.0, 0.0
        self._figures: LaneFigures | None = None
        self._curve = QPolygonF()
        self._band: QPolygonF | None = None
        self.beneath: list[tuple[QPolygonF, QPolygonF]] = []  # between the curve and its low end; that end
        self.above: list[tuple[float, float]] = []  # stretches of the travel over which the figure leaves the lane
        self.words: list[Words] = []
        self._font = self.font()
        self._font.setPixelSize(10)
        self.setMinimumHeight(LOWEST)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def sizeHint(self) -> QSize:
        """Ask for all the room there is."""
        return QSize(400, 2 * HIGHEST)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self._look = look
        self.update()

    def show_figures(self, figures: LaneFigures) -> None:
        """Draw these figures in the range that was set."""
        self._figures = figures
        self._lay_out()

    def set_range(self, scale: Scale, top: float) -> None:
        """Fix what the lane shows: the travel along x, 0 to `top` along y."""
        self.scale_of_travel, self._top = scale, top
        self._lay_out()

    def set_place(self, place: float) -> None:
        """Move the pose's line."""
        self._place = place
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the scale's ends at the same pixels as on the ruler."""
        super().resizeEvent(event)
        self._lay_out()

    # Places ----------------------------------------------------------------------------------------------------------

    @property
    def arrows(self) -> list[float]:
        """Give the places at which the figure leaves the lane and returns; its ends where it never does."""
        flat = [place for stretch in self.above for place in stretch]
        ends = set(self._figures.xs[[0, -1]].tolist()) if self._figures is not None and flat else set()
        return [place for place in flat if place not in ends] or flat

    def _pixels_x(self, places: Values) -> Values:
        first, last = self.scale_of_travel.edges(self.width())
        return (places - first) / ((last - first) / max(self.width(), 1))

    def _pixels_y(self, values: Values) -> Values:
        return (self._top - values) / ((1.0 + BELOW_ZERO) * self._top / max(self.height(), 1))

    def spot(self, place: float, value: float) -> tuple[float, float]:
        """Give the pixel of a value at a place of the travel; what lies outside the lane stands at its edge."""
        return self._pixels_x(place), self._pixels_y(min(max(value, 0.0), self._top))

    def _lay_out(self) -> None:
        """Find the pixels of the curve, and places for the words."""
        figures = self._figures
        if figures is not None:
            curve = np.stack([self._pixels_x(figures.xs), self._pixels_y(figures.ys)], axis=1)
            self._curve = polygon(np.clip(curve, -FAR, FAR))
            self._band = self._doubted(figures) if figures.doubt > 0.0 else None
            self.beneath = [] if figures.lows is None else self._lowered(figures, figures.lows)
            self.above = stretches_above(figures.xs, figures.ys, self._top)
            self.words = self._placed(figures, curve)
        self.update()

    def _doubted(self, figures: LaneFigures) -> QPolygonF:
        """Give the band in which the curve may lie."""
        xs = self._pixels_x(figures.xs)
        low, high = (self._pixels_y(np.maximum(figures.ys + off, 0.0)) for off in (-figures.doubt, figures.doubt))
        around = np.concatenate([np.stack([xs, low], axis=1), np.stack([xs, high], axis=1)[::-1]])
        return polygon(np.clip(around, -FAR, FAR))

    def _lowered(self, figures: LaneFigures, lows: NDArray[np.float64]) -> list[tuple[QPolygonF, QPolygonF]]:
        """Give the bands between the curve and its low end, one for each stretch in which that is told."""
        told = np.concatenate([[False], np.isfinite(lows), [False]]).astype(np.int8)
        found = []
        for first, after in np.flatnonzero(np.diff(told)).reshape(-1, 2).tolist():
            xs = self._pixels_x(figures.xs[first:after])
            sides = [self._pixels_y(values[first:after]) for values in (figures.ys, lows)]
            upper, lower = (np.stack([xs, side], axis=1) for side in sides)
            around = np.clip(np.concatenate([upper, lower[::-1]]), -FAR, FAR)
            found.append((polygon(around), polygon(np.clip(lower, -FAR, FAR))))
        return found

    def _placed(self, figures: LaneFigures, curve: NDArray[np.float64]) -> list[Words]:
        """The want's words stand on its line, at the right if there is room, the smallest's beside its mark."""
        sheet = Box(TEXT_MARGIN, -2.0, self.width() - TEXT_MARGIN, self.height() + 2.0)
        levels, found = [self._pixels_y(0.0)], []
        if figures.want is not None:
            level = self._pixels_y(min(figures.want, self._top))
            size = words_size(figures.want_words, self._font)
            box, clear = least_crossed(along(level, size, sheet.right), curve, (), (), sheet)
            levels.append(level)
            found.append(Words(figures.want_words, box, clear))
        if figures.least is not None:
            size = words_size(figures.least_words, self._font)
            taken = [words.box for words in found]
            box, clear = least_crossed(around(self.spot(*figures.least), size), curve, levels, taken, sheet)
            found.append(Words(figures.least_words, box, clear))
        return found

    # Painting --------------------------------------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint from below to above: lines, curve, pointer, mark, words."""
        painter, look, figures = QPainter(self), self._look, self._figures
        painter.fillRect(self.rect(), QColor(look.paper))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._level(painter, 0.0, QPen(QColor(look.edge), 1))
        if figures is not None:
            if self._band is not None:
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(QColor(look.grid_major))
                painter.drawPolygon(self._band)
                painter.setBrush(Qt.BrushStyle.NoBrush)
            if self.beneath:
                self._paint_beneath(painter)
            if figures.want is not None:
                self._level(painter, figures.want, QPen(QColor(look.ink), 1, Qt.PenStyle.DashLine))
            self._paint_above(painter)
            painter.setPen(QPen(QColor(look.fault), 5))
            base = self._pixels_y(0.0)
            for first, last in figures.touching:
                painter.drawLine(QPointF(self._pixels_x(first), base), QPointF(self._pixels_x(last), base))
            painter.setPen(QPen(QColor(look.ink), 1))
            painter.drawPolyline(self._curve)
        self._upright(painter, self._place)
        if figures is not None:
            self._paint_least(painter, figures)
            self._paint_words(painter)
        painter.end()

    def _paint_beneath(self, painter: QPainter) -> None:
        """Paint what lies between the curve and its low end in a paler tone, the low end as a line of dots."""
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._look.grid_major))
        for band, _ in self.beneath:
            painter.drawPolygon(band)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(self._look.faint), 1, Qt.PenStyle.DotLine))
        for _, low in self.beneath:
            painter.drawPolyline(low)

    def _level(self, painter: QPainter, value: float, pen: QPen) -> None:
        painter.setPen(pen)
        y = floor(self._pixels_y(value)) + 0.5  # on one row of pixels
        painter.drawLine(QPointF(0.0, y), QPointF(self.width(), y))

    def _upright(self, painter: QPainter, place: float) -> None:
        painter.setPen(QPen(QColor(self._look.selection), 1))
        x = floor(self._pixels_x(place)) + 0.5
        painter.drawLine(QPointF(x, 0.0), QPointF(x, self.height()))

    def _paint_above(self, painter: QPainter) -> None:
        """Say where the figure goes on above the lane: dots along the edge, an arrow where it leaves and returns."""
        painter.setPen(QPen(QColor(self._look.faint), 1, Qt.PenStyle.DotLine))
        for first, last in self.above:
            painter.drawLine(QPointF(self._pixels_x(first), EDGE_PX), QPointF(self._pixels_x(last), EDGE_PX))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._look.faint))
        for place in self.arrows:
            painter.drawPolygon(ARROW.translated(self._pixels_x(place), EDGE_PX))

    def _paint_least(self, painter: QPainter, figures: LaneFigures) -> None:
        if figures.least is None:
            return
        # a contact is none the better for not being asked for
        fault = figures.holds is False or figures.least[1] <= 0.0
        painter.setPen(QPen(QColor(self._look.paper), 1))
        painter.setBrush(QColor(self._look.fault if fault else self._look.ok))
        painter.drawPolygon(DIAMOND.translated(*self.spot(*figures.least)))

    def _paint_words(self, painter: QPainter) -> None:
        """Where something runs through words, paper goes beneath the letters."""
        painter.setFont(self._font)
        painter.setPen(QColor(self._look.ink))
        base = QFontMetricsF(self._font).ascent() - 1.0
        for words in self.words:
            box = words.box
            place = QRectF(box.left, box.top, box.right - box.left, box.bottom - box.top)
            if not words.clear:
                painter.fillRect(
                    place.adjusted(-TEXT_MARGIN, -TEXT_MARGIN, TEXT_MARGIN, TEXT_MARGIN), QColor(self._look.paper)
                )
            painter.drawText(place.topLeft() + QPointF(0.0, base), words.text)

    # The pointer -----------------------------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Ask for the place that was pressed."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._ask(event)
        else:
            event.ignore()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Ask for the place that the pointer is dragged to."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._ask(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Nothing to end: every place was taken over while it was asked for."""
        event.accept()

    def _ask(self, event: QMouseEvent) -> None:
        self.asked.emit(self.scale_of_travel.place(event.position().x(), self.width()))
        event.accept()


def words_size(words: str, font: QFont) -> tuple[float, float]:
    """Give the width and height of a line of letters, pixels."""
    metrics = QFontMetricsF(font)
    return metrics.horizontalAdvance(words), metrics.height()


class ElidedLabel(QLabel):
    """A line of words that ends in "…" where the room does; the whole of it stands in its owner's tool tip."""

    def __init__(self) -> None:
        super().__init__()
        self._words = ""
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def show_words(self, words: str) -> None:
        """Show a line of words, as much of it as there is room for."""
        self._words = words
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as much as there is room for now."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        self.setText(self.fontMetrics().elidedText(self._words, Qt.TextElideMode.ElideRight, self.width()))


class Lane(QFrame):
    """A lane with its label: what it is, and its figures in words."""

    asked = Signal(float)

    def __init__(self, look: Look, label_width: int = LABEL_WIDTH) -> None:
        super().__init__()
        self.setMaximumHeight(HIGHEST)
        self.figures: LaneFigures | None = None
        self._title, self._told = ElidedLabel(), ElidedLabel()
        self._title.setObjectName("lane_title")
        self._told.setObjectName("faint")
        words = QWidget()
        words.setFixedWidth(label_width)
        column = QVBoxLayout(words)
        column.setContentsMargins(12, 4, 8, 4)
        column.setSpacing(0)
        column.addWidget(self._title)
        column.addWidget(self._told)
        column.addStretch(1)
        self.view = LaneView(look)
        self.view.asked.connect(self.asked)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(words)
        row.addWidget(self.view, 1)

    def show_figures(self, figures: LaneFigures, scale: Scale | None) -> None:
        """Show figures; with a scale the ranges are set anew, with None they stand still (during a drag)."""
        if scale is not None:
            self.view.set_range(scale, figures.top)
        self.figures = figures
        self._title.show_words(figures.title)
        self._told.show_words(figures.head or figures.told)
        self.setAccessibleName(f"{figures.title}: {figures.told}")
        self.setToolTip(f"{figures.title}\n{figures.told}\nDrag anywhere in the lane to swing the panel.")
        self.view.show_figures(figures)


def stretches_above(xs: NDArray[np.float64], ys: NDArray[np.float64], top: float) -> list[tuple[float, float]]:
    """Give the stretches of a figure over which it lies above `top`, from and to, between its points too."""
    found: list[tuple[float, float]] = []
    over = ys > top
    for place in np.flatnonzero(over[1:] | over[:-1]).tolist():
        (x0, x1), (y0, y1) = xs[place : place + 2].tolist(), ys[place : place + 2].tolist()
        cut = x0 + (x1 - x0) * (top - y0) / (y1 - y0) if over[place] != over[place + 1] else x0
        start, end = (x0 if over[place] else cut), (x1 if over[place + 1] else cut)
        if found and found[-1][1] >= start:
            found[-1] = found[-1][0], end
        else:
            found.append((start, end))
    return found
