"""One lane of the travel strip: a figure over the opening, its want as a line with its number, the smallest value
marked.

A lane draws what it is given (`LaneFigures`) with pyqtgraph. While a pivot is dragged only the curve's data change;
ranges stand still, pens are one pixel wide (both for speed: the curve and its marks then cost about 0.2 ms).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.ruler import Scale

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from app.look import Look

LABEL_WIDTH = 210
LOWEST, HIGHEST = 44, 130


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
        self._top = 1.0
        self._box = pg.ViewBox(enableMouse=False, enableMenu=False, defaultPadding=0.0)
        self._box.disableAutoRange()
        self.setCentralItem(self._box)
        self.setMinimumHeight(LOWEST)
        self._figures: LaneFigures | None = None
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self._zero = pg.InfiniteLine(0.0, angle=0)
        self._want = pg.InfiniteLine(0.0, angle=0)
        self._curve = pg.PlotCurveItem(antialias=True)
        self._touch = pg.PlotCurveItem(connect="pairs")
        self._least = pg.ScatterPlotItem(size=7, symbol="d")
        self._pointer = pg.InfiniteLine(0.0, angle=90)
        self._want_text = pg.TextItem(anchor=(1, 1))
        self._least_text = pg.TextItem(anchor=(0, 1))
        for item in (
            self._zero,
            self._want,
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
            self._least.setBrush(self._fault_colour if figures.holds is False else self._ok_colour)
        flat = [place for stretch in figures.touching for place in stretch]
        self._touch.setData(np.array(flat, dtype=np.float64), np.zeros(len(flat)))
        self._place_words(figures)

    def _place_words(self, figures: LaneFigures) -> None:
        """The want's words stand at the right end of its line, the smallest's beside its mark."""
        first, last = self.scale_of_travel.edges(self.width())
        high = self._top * 0.62
        if figures.want is not None:
            self._want_text.setAnchor((1, 1) if figures.want < high else (1, 0))
            self._want_text.setText(figures.want_words)
            self._want_text.setPos(last, min(figures.want, self._top))
        self._want_text.setVisible(figures.want is not None)
        if figures.least is not None:
            place, value = figures.least
            left_half = place < (first + last) / 2
            self._least_text.setAnchor((0 if left_half else 1, 1 if value < high else 0))
            self._least_text.setText(figures.least_words)
            self._least_text.setPos(place, min(value, self._top))

    def set_range(self, scale: Scale, top: float) -> None:
        """Fix what the lane shows: the travel along x, 0 to `top` along y."""
        self.scale_of_travel, self._top = scale, top
        first, last = scale.edges(self.width())
        self._box.setRange(xRange=(first, last), yRange=(-0.06 * top, top), padding=0, disableAutoRange=True)

    def set_place(self, place: float) -> None:
        """Move the pose's line."""
        self._pointer.setPos(place)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the scale's ends at the same pixels as on the ruler."""
        super().resizeEvent(event)
        if hasattr(self, "_pointer"):
            self.set_range(self.scale_of_travel, self._top)
            if self._figures is not None:
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


class Lane(QFrame):
    """A lane with its label: what it is, and its figures in words."""

    asked = Signal(float)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setMaximumHeight(HIGHEST)
        self.figures: LaneFigures | None = None
        self._title, self._told = QLabel(), QLabel()
        self._title.setObjectName("lane_title")
        self._told.setObjectName("faint")
        for label in (self._title, self._told):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        words = QWidget()
        words.setFixedWidth(LABEL_WIDTH)
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
        self._title.setText(figures.title)
        self._told.setText(figures.told)
        self.setAccessibleName(f"{figures.title}: {figures.told}")
        self.setToolTip(f"{figures.title}\n{figures.told}\nDrag anywhere in the lane to swing the panel.")
        self.view.show_figures(figures)
