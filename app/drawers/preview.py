"""The picture of a drawing that is brought in: all its lines, to fit. A click picks one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.fields import named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from app.files.outline_import import Curve
    from app.look import Look
    from kinematics.project import Project

MARGIN, REACH = 18, 8.0  # pixels


class Preview(QWidget):
    """Draws curves; `picked(number, more)` tells which one was clicked, `more` with Ctrl or Shift."""

    picked = Signal(int, bool)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._curves: tuple[Curve, ...] = ()
        self._points: list[NDArray[np.float64]] = []
        self._pixels: list[NDArray[np.float64]] = []
        self._shapes: list[QPolygonF] = []
        self._on: Sequence[str] = ()
        self._kinds: dict[str, str] = {}
        self._layers: set[str] | None = None
        self._picked: set[int] = set()
        self.setMinimumSize(360, 300)
        named(
            self,
            "Picture of the drawing",
            "Click a line to pick it, with Ctrl or Shift several. Heavy: on the panel; thin: on another link; dashed: "
            "left out.",
        )

    def show_curves(self, curves: tuple[Curve, ...], on: Sequence[str], project: Project) -> None:
        """Show other curves."""
        self._curves, self._on = curves, on
        self._kinds = {link.id: link.kind for link in project.links}
        self._points = [np.array((*c.points, c.points[0]) if c.closed else c.points, dtype=np.float64) for c in curves]
        self._picked = set()
        self._refit()

    def show_layers(self, layers: set[str]) -> None:
        """Show only the lines of these layers."""
        self._layers = layers
        self.update()

    def show_picked(self, places: Sequence[int]) -> None:
        """Mark lines as picked."""
        self._picked = set(places)
        self.update()

    def show_on(self, on: Sequence[str]) -> None:
        """Show which lines go on which link."""
        self._on = on
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit again."""
        super().resizeEvent(event)
        self._refit()

    def _refit(self) -> None:
        """Bring all points to pixels, once per size."""
        if not self._points:
            self._shapes = []
            return
        every = np.concatenate(self._points)
        low, high = every.min(axis=0), every.max(axis=0)
        room = np.array([self.width() - 2 * MARGIN, self.height() - 2 * MARGIN], dtype=np.float64)
        scale = float(np.min(np.maximum(room, 1.0) / np.maximum(high - low, 1e-9)))
        middle = (low + high) / 2
        centre = np.array([self.width() / 2, self.height() / 2])
        self._pixels = [(points - middle) * np.array([scale, -scale]) + centre for points in self._points]
        self._shapes = [QPolygonF([QPointF(x, y) for x, y in pixels]) for pixels in self._pixels]
        self.update()

    def _seen(self, place: int) -> bool:
        return self._layers is None or self._curves[place].layer in self._layers

    def pixels_of(self, place: int) -> NDArray[np.float64]:
        """Where the points of a line stand, pixels (n, 2)."""
        return self._pixels[place]

    def line_at(self, x: float, y: float) -> int | None:
        """Find the number of the nearest line within reach of a pixel."""
        best, found = REACH, None
        for place, pixels in enumerate(self._pixels if self._shapes else ()):
            if self._seen(place) and (away := _distance(pixels, x, y)) < best:
                best, found = away, place
        return found

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick the line under the pointer."""
        found = self.line_at(event.position().x(), event.position().y())
        if found is not None:
            more = bool(event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier))
            self.picked.emit(found, more)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint every line: thin when left out, heavy on the panel, marked when picked."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._look.paper))
        painter.setPen(QPen(QColor(self._look.edge), 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        for place, shape in enumerate(self._shapes):
            if self._seen(place):
                painter.setPen(self._pen(place))
                painter.drawPolyline(shape)
        painter.end()

    def _pen(self, place: int) -> QPen:
        on = self._on[place] if place < len(self._on) else ""
        if place in self._picked:
            return QPen(QColor(self._look.selection), 3)
        if not on:
            return QPen(QColor(self._look.faint), 1, Qt.PenStyle.DashLine)
        return QPen(
            QColor(self._look.panel if self._kinds.get(on) == "panel" else self._look.fixed),
            2.6 if self._kinds.get(on) == "panel" else 1.4,
        )


def _distance(pixels: NDArray[np.float64], x: float, y: float) -> float:
    """Distance of a spot from a polyline, pixels."""
    spot = np.array([x, y])
    a, b = pixels[:-1], pixels[1:]
    along = b - a
    length = np.maximum((along**2).sum(axis=1), 1e-12)
    share = np.clip(((spot - a) * along).sum(axis=1) / length, 0.0, 1.0)
    return float(np.sqrt((((a + share[:, None] * along) - spot) ** 2).sum(axis=1).min()))
