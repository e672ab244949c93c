"""The parts that are cut, drawn beneath each other from their contours, with what is scribed on them; at one scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.fields import named
from app.lengths import format_length
from app.painter import segments_path

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from app.look import Look
    from app.making.planned import CutPlan
    from kinematics.contours import Contour

MARGIN, GAP, TALLEST = 8, 6, 120.0  # pixels
SAGITTA = 0.05
WIDTH = 240


class CutSheet(QWidget):
    """A row for each part: its file, how many, and the part itself."""

    def __init__(self) -> None:
        super().__init__()
        self._look: Look | None = None
        self._rows: list[tuple[str, QPainterPath, QPainterPath, QRectF]] = []
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        named(self, "Parts that are cut", "Each part as its file has it, all at one scale.")

    def show_cuts(self, cuts: Sequence[CutPlan], look: Look, units: Units) -> None:
        """Show other parts."""
        self._look = look
        self._rows = [(self.line_of(cut, units), *_drawn(cut)) for cut in cuts]
        self.setAccessibleDescription("\n".join(row[0] for row in self._rows))
        self.setVisible(bool(self._rows))
        self.updateGeometry()
        self.setFixedHeight(self._height(max(self.width(), WIDTH)))
        self.update()

    @staticmethod
    def line_of(cut: CutPlan, units: Units) -> str:
        """Say what stands above a part: its name, how many, its size and thickness."""
        left, low, right, high = cut.part.box()
        wide, tall = (format_length(each, units, unit=False) for each in (right - left, high - low))
        return f"{cut.name}, {cut.count} off: {wide} × {tall} × {format_length(cut.part.thickness, units)}"

    @property
    def lines(self) -> list[str]:
        """What stands above the parts."""
        return [row[0] for row in self._rows]

    def sizeHint(self) -> QSize:
        """As wide as the drawer, as high as the parts need."""
        return QSize(WIDTH, self._height(max(self.width(), WIDTH)))

    def resizeEvent(self, event: object) -> None:  # noqa: ARG002  Qt's own
        """Follow the width with the height."""
        self.setFixedHeight(self._height(self.width()))

    def _scale(self, width: int) -> float:
        """Pixels for each mm: all parts fit."""
        widest = max((box.width() for *_, box in self._rows), default=1.0)
        tallest = max((box.height() for *_, box in self._rows), default=1.0)
        return min((width - 2 * MARGIN) / max(widest, 1e-6), TALLEST / max(tallest, 1e-6))

    def told(self, words: str, width: int) -> list[str]:
        """What stands above a part in that width: a second line for its sizes where one has no room for both."""
        metrics, room = QFontMetrics(self.font()), width - 2 * MARGIN
        lines = [words] if metrics.horizontalAdvance(words) <= room else words.rsplit(": ", 1)
        return [metrics.elidedText(line, Qt.TextElideMode.ElideMiddle, room) for line in lines]

    def _height(self, width: int) -> int:
        scale, line = self._scale(width), QFontMetrics(self.font()).height()
        rows = (box.height() * scale + len(self.told(words, width)) * line + 2 * GAP for words, *_, box in self._rows)
        return round(sum(rows)) + 2 * MARGIN

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint all rows."""
        if self._look is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._look.paper))
        painter.setPen(QPen(QColor(self._look.edge), 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        scale, metrics, y = self._scale(self.width()), QFontMetrics(self.font()), float(MARGIN)
        for words, path, scribed, box in self._rows:
            painter.setPen(QColor(self._look.ink))
            for line in self.told(words, self.width()):
                painter.drawText(QPointF(MARGIN, y + metrics.ascent()), line)
                y += metrics.height()
            y += GAP
            self._paint_part(painter, (path, scribed), box, scale, y)
            y += box.height() * scale + GAP
        painter.end()

    def _paint_part(
        self, painter: QPainter, paths: tuple[QPainterPath, QPainterPath], box: QRectF, scale: float, y: float
    ) -> None:
        if self._look is None:
            return
        painter.save()
        painter.translate(MARGIN, y)
        painter.scale(scale, -scale)
        painter.translate(-box.left(), -box.bottom())
        pen = QPen(QColor(self._look.link), self._look.line)
        pen.setCosmetic(True)
        fill = QColor(self._look.link_fill)
        fill.setAlphaF(0.35)
        painter.setPen(pen)
        painter.fillPath(paths[0], fill)
        painter.drawPath(paths[0])
        scribed = QPen(QColor(self._look.path), self._look.thin)
        scribed.setCosmetic(True)
        painter.setPen(scribed)
        painter.drawPath(paths[1])
        painter.restore()


def _drawn(cut: CutPlan) -> tuple[QPainterPath, QPainterPath, QRectF]:
    """The part's path in mm, y up, holes left out, what is scribed on it, its box (whose "bottom" is its highest y)."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for contour in (cut.part.outer, *cut.part.inner):
        _add(path, contour)
    left, low, right, high = cut.part.box()
    scribed = segments_path(((a.real, a.imag), (b.real, b.imag)) for a, b in cut.part.bends)
    return path, scribed, QRectF(left, low, right - left, high - low)


def _add(path: QPainterPath, contour: Contour) -> None:
    first, *others = contour.polyline(SAGITTA).tolist()
    path.moveTo(*first)
    for x, y in others:
        path.lineTo(x, y)
    path.closeSubpath()
