"""The hinge in space on a sheet of its own: turned by dragging or the arrow keys, at the pose that the board shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.dialog_places import undo_from
from app.fields import named
from app.painter import line_path
from app.stack.space import View, faces, prisms
from app.stacked import stacked
from app.ticks import TickBox

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent, QMouseEvent, QPaintEvent

    from app.document import Document
    from app.look import Look
    from app.stack.space import Face

DEG_PER_PX, STEP_DEG = 0.5, 5.0
APART = 4.0
"""Drawn apart, the pins are so many times as long."""
MARGIN = 24.0
KEYS = {
    Qt.Key.Key_Left: (-STEP_DEG, 0.0),
    Qt.Key.Key_Right: (STEP_DEG, 0.0),
    Qt.Key.Key_Up: (0.0, -STEP_DEG),
    Qt.Key.Key_Down: (0.0, STEP_DEG),
}
WHAT = "Drag, or press the arrow keys, to turn it. Swing the hinge on the travel strip: it follows."


class SpaceView(QWidget):
    """The picture."""

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.view = View()
        self._from: QPointF | None = None
        self.setMinimumSize(360, 280)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        named(self, "Hinge in space", WHAT)

    def sizeHint(self) -> QSize:
        """Large enough to see the layers."""
        return QSize(680, 520)

    def set_view(self, view: View) -> None:
        """Look from elsewhere."""
        self.view = view
        self.update()

    def faces(self) -> list[Face]:
        """What is seen."""
        document = self._document
        stack = stacked(document.analysis)
        return faces(prisms(document.analysis, stack, document.pose), self.view)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw all faces, far ones first."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._look.paper))
        seen = [] if self._document.is_dragging else self.faces()
        if seen:
            points = np.concatenate([face.points for face in seen])
            low, high = points.min(axis=0), points.max(axis=0)
            room = np.array([self.width(), self.height()]) - 2.0 * MARGIN
            scale = float((np.maximum(room, 20.0) / np.maximum(high - low, 1.0)).min())
            middle = 0.5 * (low + high)
            half = np.array([0.5 * self.width(), 0.5 * self.height()])
            for face in seen:
                spots = (face.points - middle) * (scale, -scale) + half
                self._draw(painter, face, spots.tolist())
        painter.end()

    def _draw(self, painter: QPainter, face: Face, spots: list[list[float]]) -> None:
        look = self._look
        kinds = {
            "plate": look.link_fill,
            "bushing": look.path,
            "shim": look.hatch,
            "head": look.hatch,
            "pin": look.hatch,
        }
        whole = QColor(kinds.get(face.kind, look.ghost))
        shaded = [round(channel * face.light) for channel in (whole.red(), whole.green(), whole.blue())]
        colour = QColor(*shaded)
        painter.setBrush(colour)
        is_wall = face.light < 1.0
        painter.setPen(QPen(colour if is_wall else QColor(look.ink), 0.6 if is_wall else 1.0))
        painter.drawPath(line_path([(x, y) for x, y in spots], closed=True))

    # Turning ---------------------------------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold."""
        self._from = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Turn with the hand."""
        if self._from is not None:
            by = event.position() - self._from
            self._from = event.position()
            self.set_view(self.view.turned(DEG_PER_PX * by.x(), -DEG_PER_PX * by.y()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: ARG002
        """Let go."""
        self._from = None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn by keys."""
        by = KEYS.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.set_view(self.view.turned(*by))


class SpaceDialog(StayingDialog):
    """The sheet; it follows the project and the pose."""

    def __init__(self, document: Document, look: Look, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("The stacked hinge")
        self.setObjectName("stacked hinge")  # by which the help knows it
        self.setAccessibleName("The stacked hinge")
        self._document = document
        self.view = SpaceView(document, look)
        what = QLabel(WHAT)
        what.setWordWrap(True)
        self.apart = TickBox("Layers drawn apart")
        named(self.apart, "Layers drawn apart", f"Draw the pins {APART:g} times as long, to see between the plates.")
        self.apart.toggled.connect(self._stretch)
        box = close_only()
        box.rejected.connect(self.close)
        column = QVBoxLayout(self)
        column.addWidget(what)
        column.addWidget(self.view, 1)
        column.addWidget(self.apart)
        column.addWidget(box)
        undo_from(self, document)
        self.resize(720, 620)
        document.analysed.connect(self._renew)
        document.posed.connect(self._renew)

    def _stretch(self, apart: bool) -> None:
        view = self.view.view
        self.view.set_view(View(view.yaw_deg, view.tilt_deg, APART if apart else 1.0))

    def _renew(self, *_: object) -> None:
        self.view.update()

    def done(self, result: int) -> None:
        """Stop following."""
        self._document.analysed.disconnect(self._renew)
        self._document.posed.disconnect(self._renew)
        super().done(result)
