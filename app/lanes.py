"""One lane of the travel strip: a figure over the opening, its want as a line with its number, the smallest value
marked.

A lane draws what it is given (`LaneFigures`) with pyqtgraph. While a pivot is dragged only the curve's data change;
ranges stand still, pens are one pixel wide (both for speed: the curve and its marks then cost about 0.2 ms). Where
the figure leaves the lane at the top, a dotted line with an arrow at its ends says that it goes on above. Words keep
off the curve (`app.beside`).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.beside import along, around, least_crossed
from app.labels import Box
from app.ruler import Scale

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from app.look import Look

LABEL_WIDTH = 228
LOWEST, HIGHEST = 44, 130
BELOW_ZERO = 0.06  # how much of `top` is seen below the zero line
EDGE_PX = 5.0  # how far from the upper edge a figure is shown to go on above it
TEXT_MARGIN = 4.0  # what Qt leaves free around the letters of a text


Values = TypeVar("Values", float, "NDArray[np.float64]")


@dataclass(frozen=True, slots=True)
class LaneFigures:
    """What a lane shows. `top` is the value at its upper edge (0 is at the lower one).

    holds : True, False, or None where nothing is wanted.     want : the wanted least value, or None.     least :
    (place, value) of the smallest, or None.
    touching : stretches of the travel in which the two touch.
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


class LaneView(pg.GraphicsView):  # type: ignore[misc]  # pyqtgraph carries no types
    """The drawing part of a lane; pressing or dragging anywhere in it asks for the place under the pointer."""

    asked = Signal(float)

    def __init__(self, look: Look) -> None:
        super().__init__(background=look.paper)
        self.scale_of_travel = Scale()
        self._top, self._is_above, self._touching = 1.0, False, False
        self._box = pg.ViewBox(enableMouse=False, enableMenu=False, defaultPadding=0.0)
        self._box.disableAutoRange()
        self.setCentralItem(self._box)
        self.setMinimumHeight(LOWEST)
        self._figures: LaneFigures | None = None
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self._zero = pg.InfiniteLine(0.0, angle=0)
        self._want = pg.InfiniteLine(0.0, angle=0)
        self._curve = pg.PlotCurveItem(antialias=True)
        self._touch = pg.PlotCurveItem(connect="pairs")
        self._least = pg.ScatterPlotItem(size=7, symbol="d")
        self._pointer = pg.InfiniteLine(0.0, angle=90)
        self._above = pg.PlotCurveItem(connect="pairs")
        self._arrows = pg.ScatterPlotItem(size=7, symbol="t1")
        self._want_text = pg.TextItem(anchor=(0, 0))
        self._least_text = pg.TextItem(anchor=(0, 0))
        for item in (
            self._zero,
            self._want,
            self._above,
            self._arrows,
            self._touch,
            self._curve,
            self._pointer,
            self._least,
            self._want_text,
            self._least_text,
        ):
            self._box.addItem(item, ignoreBounds=True)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self.setBackground(look.paper)
        self._zero.setPen(pg.mkPen(look.edge, width=1))
        self._want.setPen(pg.mkPen(look.ink, width=1, style=Qt.PenStyle.DashLine))
        self._curve.setPen(pg.mkPen(look.ink, width=1))
        self._touch.setPen(pg.mkPen(look.fault, width=5, cosmetic=True))
        self._pointer.setPen(pg.mkPen(look.selection, width=1))
        self._least.setPen(pg.mkPen(look.paper, width=1))
        self._above.setPen(pg.mkPen(look.faint, width=1, style=Qt.PenStyle.DotLine))
        self._arrows.setPen(None)
        self._arrows.setBrush(QColor(look.faint))
        self._paper = pg.mkBrush(look.paper)
        self._ok_colour, self._fault_colour, self._ink = QColor(look.ok), QColor(look.fault), QColor(look.ink)
        for text in (self._want_text, self._least_text):
            text.setColor(self._ink)
            font = self.font()
            font.setPixelSize(10)
            text.setFont(font)

    def show_figures(self, figures: LaneFigures) -> None:
        """Draw these figures in the range that was set."""
        self._figures = figures
        self._curve.setData(figures.xs, figures.ys)
        self._want.setVisible(figures.want is not None)
        if figures.want is not None:
            self._want.setPos(figures.want)
        least = figures.least
        self._least.setVisible(least is not None)
        self._least_text.setVisible(least is not None)
        if least is not None:
            self._least.setData([least[0]], [min(max(least[1], 0.0), self._top)])
            fault = figures.holds is False or least[1] <= 0.0  # a contact is none the better for not being asked for
            self._least.setBrush(self._fault_colour if fault else self._ok_colour)
        flat = [place for stretch in figures.touching for place in stretch]
        if flat or self._touching:
            self._touch.setData(np.array(flat, dtype=np.float64), np.zeros(len(flat)))
            self._touching = bool(flat)
        self._show_above(figures)
        self._place_words(figures)

    def _place_words(self, figures: LaneFigures) -> None:
        """The want's words stand on its line, at the right if there is room, the smallest's beside its mark."""
        sheet = Box(TEXT_MARGIN, -2.0, self.width() - TEXT_MARGIN, self.height() + 2.0)
        curve = np.stack([self._pixels_x(figures.xs), self._pixels_y(figures.ys)], axis=1)
        levels, taken = [float(self._pixels_y(0.0))], []
        self._want_text.setVisible(figures.want is not None)
        if figures.want is not None:
            level = float(self._pixels_y(min(figures.want, self._top)))
            size = self._set_words(self._want_text, figures.want_words)
            box, clear = least_crossed(along(level, size, sheet.right), curve, (), (), sheet)
            self._put(self._want_text, box, clear)
            levels.append(level)
            taken.append(box)
        if figures.least is not None:
            place, value = figures.least
            spot = float(self._pixels_x(place)), float(self._pixels_y(min(max(value, 0.0), self._top)))
            size = self._set_words(self._least_text, figures.least_words)
            box, clear = least_crossed(around(spot, size), curve, levels, taken, sheet)
            self._put(self._least_text, box, clear)

    @staticmethod
    def _set_words(text: Any, words: str) -> tuple[float, float]:  # noqa: ANN401  pyqtgraph carries no types
        """Give the words to a text; gives the room that its letters take, pixels."""
        if text.toPlainText() != words:  # laying out a text costs more than all else that a frame changes here
            text.setText(words)
        around_it = text.boundingRect()
        return around_it.width() - 2 * TEXT_MARGIN, around_it.height() - 2 * TEXT_MARGIN

    def _put(self, text: Any, box: Box, clear: bool) -> None:  # noqa: ANN401  pyqtgraph carries no types
        """Put a text's letters into a box; where something runs through it, paper goes beneath the letters."""
        per_x, per_y = self._per_pixel()
        first, _ = self.scale_of_travel.edges(self.width())
        text.fill = pg.mkBrush(None) if clear else self._paper
        text.setPos(first + (box.left - TEXT_MARGIN) * per_x, self._top - (box.top - TEXT_MARGIN) * per_y)

    def _per_pixel(self) -> tuple[float, float]:
        """Give what a pixel is along the travel and up the lane."""
        first, last = self.scale_of_travel.edges(self.width())
        return (last - first) / max(self.width(), 1), (1.0 + BELOW_ZERO) * self._top / max(self.height(), 1)

    def _pixels_x(self, places: Values) -> Values:
        return (places - self.scale_of_travel.edges(self.width())[0]) / self._per_pixel()[0]

    def _pixels_y(self, values: Values) -> Values:
        return (self._top - values) / self._per_pixel()[1]

    def _show_above(self, figures: LaneFigures) -> None:
        """Say where the figure goes on above the lane: dots along the edge, an arrow where it leaves and returns."""
        stretches = stretches_above(figures.xs, figures.ys, self._top)
        if not stretches and not self._is_above:
            return
        self._is_above = bool(stretches)
        edge = self._top - EDGE_PX * self._per_pixel()[1]
        flat = [place for stretch in stretches for place in stretch]
        self._above.setData(np.array(flat, dtype=np.float64), np.full(len(flat), edge))
        ends = {float(figures.xs[0]), float(figures.xs[-1])} if len(figures.xs) else set()
        turns = [place for place in flat if place not in ends] or flat
        self._arrows.setData(turns, [edge] * len(turns))

    def set_range(self, scale: Scale, top: float) -> None:
        """Fix what the lane shows: the travel along x, 0 to `top` along y."""
        self.scale_of_travel, self._top = scale, top
        first, last = scale.edges(self.width())
        self._box.setRange(xRange=(first, last), yRange=(-BELOW_ZERO * top, top), padding=0, disableAutoRange=True)

    def set_place(self, place: float) -> None:
        """Move the pose's line."""
        self._pointer.setPos(place)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the scale's ends at the same pixels as on the ruler."""
        super().resizeEvent(event)
        if hasattr(self, "_pointer"):
            self.set_range(self.scale_of_travel, self._top)
            if self._figures is not None:
                self._show_above(self._figures)
                self._place_words(self._figures)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Ask for the place that was pressed."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._ask(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Ask for the place that the pointer is dragged to."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._ask(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Nothing to end: every place was taken over while it was asked for."""
        event.accept()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the list of lanes, which scrolls."""
        event.ignore()

    def viewportEvent(self, event: QEvent) -> bool:
        """Let the wheel through to the list of lanes."""
        if event.type() == QEvent.Type.Wheel:
            event.ignore()
            return False
        return bool(super().viewportEvent(event))

    def _ask(self, event: QMouseEvent) -> None:
        self.asked.emit(self.scale_of_travel.place(event.position().x(), self.width()))
        event.accept()


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
        self._told.show_words(figures.told)
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
