"""A widget that shows the section through a pin at the largest scale at which it fits, with its words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from app.files.pictures import draw_shapes
from app.stack.section import camera_on, section_shapes

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent

    from app.lengths import Units
    from app.look import Look
    from app.shapes import Shape
    from kinematics.project import Project
    from kinematics.stacking import PinStack, StackMade


FAINT = 0.35
"""How solid a picture is that isn't of the layout on the board."""


class SectionView(QWidget):
    """The section, on the sheet's paper."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.look = look
        self._shown: tuple[Project, StackMade, PinStack, Units] | None = None
        self.is_faint = False
        self.setMinimumSize(560, 260)

    def sizeHint(self) -> QSize:
        """Wide enough for a pin with its figures."""
        return QSize(720, 420)

    def show_pin(self, project: Project, stack: StackMade, pin: PinStack, units: Units) -> None:
        """Show a pin."""
        self._shown = (project, stack, pin, units)
        self.update()

    def set_faint(self, faint: bool) -> None:
        """Draw it in a low voice, as it is of an older layout."""
        if faint != self.is_faint:
            self.is_faint = faint
            self.update()

    def show_nothing(self) -> None:
        """Show the empty sheet."""
        self._shown = None
        self.update()

    def shapes(self) -> list[Shape]:
        """What is drawn at the size that there is."""
        if self._shown is None:
            return []
        project, stack, pin, units = self._shown
        camera = camera_on(project, pin, (self.width(), self.height()))
        return section_shapes(project, stack, pin, (self.look, units), camera.scale)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self.look.paper))
        if self._shown is not None:
            camera = camera_on(self._shown[0], self._shown[2], (self.width(), self.height()))
            painter.setOpacity(FAINT if self.is_faint else 1.0)
            draw_shapes(painter, self.shapes(), {}, camera, self.look)
        painter.end()
