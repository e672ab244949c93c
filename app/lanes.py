"""One lane of the travel strip: a figure over the opening, its want as a line with its number, the smallest value
marked.

A lane draws what it is given (`LaneFigures`). While a pivot is dragged only the curve changes and ranges stand still;
pens are one pixel of the screen wide, for speed: wider ones cost many times as much. Where
the figure leaves the lane at the top, a dotted line with an arrow at its ends says that it goes on above. Words keep
off the curve (`app.beside`).
"""

from __future__ import annotations

from dataclasses import dataclass
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

from app.beside import Course, along, around, least_crossed
from app.labels import Box
from app.lane_figures import stretches_above
from app.lane_more import DASHES, DOTS, EDGE_PX, FAR, Laid, paint_under, sharp, thin
from app.lettering import in_lines
from app.painter import polygon
from app.ruler import Scale

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from app.lane_figures import LaneFigures
    from app.look import Look

LABEL_WIDTH = 228
LOWEST, HIGHEST = 40, 130
TALL = 62  # the least height of a lane that has more to show
BELOW_ZERO = 0.06  # how much of `top` is seen below the zero line
TEXT_MARGIN = 4.0  # what is left free around the letters of a text
ARROW = QPolygonF([QPointF(0.0, -3.5), QPointF(-3.5, 3.5), QPointF(3.5, 3.5)])
DIAMOND = QPolygonF([QPointF(0.0, -3.5), QPointF(-2.8, 0.0), QPointF(0.0, 3.5), QPointF(2.8, 0.0)])

Values = TypeVar("Values", float, "NDArray[np.float64]")


@dataclass(frozen=True, slots=True, eq=False)
class Beside:
    """The figure of what might be instead, at places; low : the value that the lane reaches down to meanwhile."""

    xs: NDArray[np.float64]
    ys: NDArray[np.float64]
    low: float = 0.0


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
        self._look, self._place = look, 0.0
        self._bottom, self._top = 0.0, 1.0
        self._figures: LaneFigures | None = None
        self._curve = QPolygonF()
        self._beside: Beside | None = None
        self.curve_beside = QPolygonF()
        self._band: QPolygonF | None = None
        self.more: Laid | None = None
        self.below: list[tuple[float, float]] = []  # the same as `above`, at the lower edge
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

    def show_beside(self, beside: Beside | None) -> None:
        """Draw the same figure of something else in dashes beside; None: no longer."""
        if beside is not self._beside:
            self._beside = beside
            self._lay_out()

    def set_range(self, scale: Scale, top: float, bottom: float = 0.0) -> None:
        """Fix what the lane shows: the travel along x, `bottom` (0 or less) to `top` along y."""
        self.scale_of_travel, self._top, self._bottom = scale, top, bottom
        self._lay_out()

    def set_place(self, place: float) -> None:
        """Move the pose's line."""
        if place != self._place:
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
        bottom = self._bottom if self._beside is None else min(self._bottom, self._beside.low)
        return (self._top - values) / ((1.0 + BELOW_ZERO) * (self._top - bottom) / max(self.height(), 1))

    def spot(self, place: float, value: float) -> tuple[float, float]:
        """Give the pixel of a value at a place of the travel; what lies outside the lane stands at its edge."""
        return self._pixels_x(place), self._pixels_y(min(max(value, self._bottom), self._top))

    def _lay_out(self) -> None:
        """Find the pixels of the curve, and places for the words."""
        figures = self._figures
        if figures is not None:
            curve = np.stack([self._pixels_x(figures.xs), self._pixels_y(figures.ys)], axis=1)
            self._curve = polygon(np.clip(curve, -FAR, FAR))
            self._band = self._doubted(figures) if figures.doubt > 0.0 else None
            self.beneath = [] if figures.lows is None else self._lowered(figures, figures.lows)
            self.above = stretches_above(figures.xs, figures.ys, self._top)
            more = figures.more
            self.below = [] if more is None else stretches_above(figures.xs, -figures.ys, -self._bottom)
            self.more = None if more is None else Laid(figures, more, self._pixels_x, self._pixels_y, self.spot)
            self.words = self._placed(figures, curve)
        self.curve_beside = QPolygonF()
        if self._beside is not None:
            spots = np.stack([self._pixels_x(self._beside.xs), self._pixels_y(self._beside.ys)], axis=1)
            self.curve_beside = polygon(np.clip(spots, -FAR, FAR))
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
        course = (Course(curve),)
        sheet = Box(TEXT_MARGIN, 0.0, self.width() - TEXT_MARGIN, float(self.height()))
        levels, found = [self._pixels_y(0.0)], []
        if figures.want is not None:
            level = self._pixels_y(min(figures.want, self._top))
            size = words_size(figures.want_words, self._font)
            box, clear = least_crossed(along(level, size, sheet.right), course, (), (), sheet)
            levels.append(level)
            found.append(Words(figures.want_words, box, clear))
        if figures.least is not None:
            size = words_size(figures.least_words, self._font)
            taken = [words.box for words in found]
            box, clear = least_crossed(around(self.spot(*figures.least), size), course, levels, taken, sheet)
            found.append(Words(figures.least_words, box, clear))
        if self.more is not None:
            inside = Box(TEXT_MARGIN, 0.0, self.width() - TEXT_MARGIN, float(self.height()))
            found += [Words(*each) for each in self.more.words(self._measure, inside, levels)]
        return found

    def _measure(self, words: str) -> tuple[float, float]:
        return words_size(words, self._font)

    # Painting --------------------------------------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint from below to above: lines, curve, pointer, mark, words."""
        painter, look, figures = QPainter(self), self._look, self._figures
        painter.fillRect(self.rect(), QColor(look.paper))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._level(painter, 0.0, thin(painter, look.edge))
        if self._bottom < 0.0:  # the zero line is no ground that parts this lane from the next
            painter.setPen(thin(painter, look.grid_major))
            foot = sharp(painter, self.height() - 0.5)
            painter.drawLine(QPointF(0.0, foot), QPointF(self.width(), foot))
        if figures is not None:
            self._paint_curve(painter, figures)
        if self._beside is not None:
            painter.setPen(thin(painter, look.selection, DASHES))
            painter.drawPolyline(self.curve_beside)
        self._upright(painter, self._place)
        if figures is not None:
            if self.more is not None:
                self.more.paint_over(painter, look, self._read_spot(figures))
            self._paint_least(painter, figures)
            self._paint_words(painter)
        painter.end()

    def _paint_curve(self, painter: QPainter, figures: LaneFigures) -> None:
        """Paint bands, wants, what touches, and the curve."""
        look = self._look
        if self._band is not None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(look.grid_major))
            painter.drawPolygon(self._band)
            painter.setBrush(Qt.BrushStyle.NoBrush)
        if self.beneath:
            self._paint_beneath(painter)
        if self.more is not None:
            self.more.paint_beneath(painter, look, self.width(), self.height())
        if figures.want is not None:
            self._level(painter, figures.want, thin(painter, look.ink, DASHES))
        self._paint_above(painter)
        painter.setPen(QPen(QColor(look.fault), 5))
        base = self._pixels_y(0.0)
        for first, last in figures.touching:
            painter.drawLine(QPointF(self._pixels_x(first), base), QPointF(self._pixels_x(last), base))
        painter.setPen(thin(painter, look.ink))
        painter.drawPolyline(self._curve)
        if self.more is not None:
            self.more.paint_curves(painter)

    def _read_spot(self, figures: LaneFigures) -> tuple[float, float] | None:
        """Where the figure is read at the pose; None where there is none."""
        read = None if figures.more is None or figures.more.read is None else figures.more.read(self._place)[0]
        return None if read is None else self.spot(self._place, read)

    def _paint_beneath(self, painter: QPainter) -> None:
        """Paint what lies between the curve and its low end in a paler tone, the low end as a line of dots."""
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._look.grid_major))
        for band, _ in self.beneath:
            painter.drawPolygon(band)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(thin(painter, self._look.faint, DOTS))
        for _, low in self.beneath:
            painter.drawPolyline(low)

    def _level(self, painter: QPainter, value: float, pen: QPen) -> None:
        painter.setPen(pen)
        y = sharp(painter, self._pixels_y(value))
        painter.drawLine(QPointF(0.0, y), QPointF(self.width(), y))

    def _upright(self, painter: QPainter, place: float) -> None:
        painter.setPen(thin(painter, self._look.selection))
        x = sharp(painter, self._pixels_x(place))
        painter.drawLine(QPointF(x, 0.0), QPointF(x, self.height()))

    def _paint_above(self, painter: QPainter) -> None:
        """Say where the figure goes on above the lane: dots along the edge, an arrow where it leaves and returns."""
        painter.setPen(thin(painter, self._look.faint, DOTS))
        for first, last in self.above:
            painter.drawLine(QPointF(self._pixels_x(first), EDGE_PX), QPointF(self._pixels_x(last), EDGE_PX))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._look.faint))
        for place in self.arrows:
            painter.drawPolygon(ARROW.translated(self._pixels_x(place), EDGE_PX))
        if self.below:
            ends = [(self._pixels_x(first), self._pixels_x(last)) for first, last in self.below]
            paint_under(painter, self._look, ends, self.height())

    def _paint_least(self, painter: QPainter, figures: LaneFigures) -> None:
        if figures.least is None:
            return
        # a contact is none the better for not being asked for
        fault = figures.holds is False or figures.least[1] <= 0.0
        painter.setPen(thin(painter, self._look.paper))
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
        self._place = 0.0
        self._title, self._told, self._reading = ElidedLabel(), ElidedLabel(), QLabel()
        self._title.setObjectName("lane_title")
        self._told.setObjectName("faint")
        self._reading.setObjectName("lane_reading")
        words = QWidget()
        words.setFixedWidth(label_width)
        column = QVBoxLayout(words)
        column.setContentsMargins(12, 4, 8, 4)
        column.setSpacing(0)
        head = QHBoxLayout()
        head.setSpacing(6)
        head.addWidget(self._title, 1)
        head.addWidget(self._reading)
        column.addLayout(head)
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
            self.view.set_range(scale, figures.top, 0.0 if figures.more is None else figures.more.bottom)
        self.figures = figures
        self.view.setMinimumHeight(TALL if figures.more is not None and figures.more.tall else LOWEST)
        self._title.show_words(figures.title)
        self._told.show_words(figures.head or figures.told)
        self.setAccessibleName(f"{figures.title}: {figures.told}")
        told = f"{figures.title}\n{figures.told}\nDrag anywhere in the lane to swing the panel."
        if figures.more is None:
            self.setToolTip(told)
        elif scale is not None:  # a long tip is dear to break into lines, and nobody reads it during a drag
            self.setToolTip(in_lines(told))
        self.view.show_figures(figures)
        self.set_place(self._place)

    def set_place(self, place: float) -> None:
        """Move the pose's line, and read there what is read at a pose."""
        self._place = place
        self.view.set_place(place)
        more = None if self.figures is None else self.figures.more
        words = "" if more is None or more.read is None else more.read(place)[1]
        if words != self._reading.text():
            self._reading.setText(words)
