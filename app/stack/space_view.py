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
from app.stack.job import stack_job
from app.stack.space import View, faces, prisms
from app.stack.view import FAINT
from app.ticks import TickBox
from app.working_row import WorkingRow

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent, QMouseEvent, QPaintEvent

    from app.document import Document
    from app.look import Look
    from app.stack.space import Face
    from kinematics.analysis import Analysis
    from kinematics.stacking import StackMade

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
        self._job = stack_job(document)
        self._shown: tuple[Analysis, StackMade] | None = None
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

    def renew(self) -> None:
        """Show the newest hinge; while it isn't worked out, the last one, faint."""
        stack = self._job.newest()
        if stack is not None:
            self._shown = (self._document.analysis, stack)
        self.update()

    def faces(self) -> list[Face]:
        """What is seen: of an older layout, at the same opening."""
        if self._shown is None:
            return []
        analysis, stack = self._shown
        pose = self._document.pose if self.is_newest else analysis.pose(self._document.pose.deg)
        return faces(prisms(analysis, stack, pose), self.view)

    @property
    def is_newest(self) -> bool:
        """Whether what is shown is of the layout on the board."""
        return self._shown is not None and self._shown[0] is self._document.analysis

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw all faces, far ones first."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._look.paper))
        seen = self.faces()
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
            if not self.is_newest:
                veil = QColor(self._look.paper)
                veil.setAlphaF(1.0 - FAINT)
                painter.fillRect(self.rect(), veil)
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
        self._job = stack_job(document)
        self.working = WorkingRow(self._job)
        self.apart = TickBox("Layers drawn apart")
        named(self.apart, "Layers drawn apart", f"Draw the pins {APART:g} times as long, to see between the plates.")
        self.apart.toggled.connect(self._stretch)
        box = close_only()
        box.rejected.connect(self.close)
        column = QVBoxLayout(self)
        column.addWidget(what)
        column.addWidget(self.view, 1)
        column.addWidget(self.working)
        column.addWidget(self.apart)
        column.addWidget(box)
        undo_from(self, document)
        self.resize(720, 620)
        self._told_by = (document.analysed, document.posed, self._job.changed)
        for signal in self._told_by:
            signal.connect(self._renew)
        self._renew()

    def _stretch(self, apart: bool) -> None:
        view = self.view.view
        self.view.set_view(View(view.yaw_deg, view.tilt_deg, APART if apart else 1.0))

    def _renew(self, *_: object) -> None:
        self.view.renew()
        self.working.renew()

    def done(self, result: int) -> None:
        """Stop following."""
        for signal in self._told_by:
            signal.disconnect(self._renew)
        super().done(result)
