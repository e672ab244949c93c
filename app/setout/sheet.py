"""A widget that shows a view of the set-out on the sheet's paper, at the largest scale at which it fits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.fields import named
from app.setout.put import draw_view

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent

    from app.look import Look
    from app.setout.views import View


class ViewSheet(QWidget):
    """The sheet.   height : pixels that it takes; 0: as high as there is room."""

    def __init__(self, name: str, tip: str, height: int = 0) -> None:
        super().__init__()
        self._view: View | None = None
        self._look: Look | None = None
        policy = QSizePolicy.Policy.Fixed if height else QSizePolicy.Policy.Expanding
        self.setSizePolicy(QSizePolicy.Policy.Ignored, policy)
        if height:
            self.setFixedHeight(height)
        named(self, name, tip)

    @property
    def view(self) -> View | None:
        """What is shown."""
        return self._view

    def show_view(self, view: View | None, look: Look, words: str = "") -> None:
        """Show a view, or nothing.   words : what it shows, for screen readers."""
        self._view, self._look = view, look
        self.setAccessibleDescription(words or ("" if view is None else view.title))
        self.update()

    def sizeHint(self) -> QSize:
        """Wide enough for both hinges with their figures."""
        return QSize(300, 200)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw it."""
        if self._look is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._look.paper))
        if self._view is not None:
            draw_view(painter, self._view, (self.width(), self.height()), self._look)
        painter.setBrush(QColor(0, 0, 0, 0))
        painter.setPen(QPen(QColor(self._look.edge), 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()
