"""A page of paper as it will be printed, seen whole; PgUp and PgDn turn pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.fields import named
from app.files.drafting import Draft

if TYPE_CHECKING:
    from app.files.drafting import Page

EDGE = 10  # pixels around the page
FAINT = 0.4
"""How solid an old page stands."""
KEYS = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_PageUp: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}


class PagePreview(QWidget):
    """Shows one page; `turned(step)` asks for the next (1) or the one before (−1)."""

    turned = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self._page: Page | None = None
        self._image: QImage | None = None
        self._faint = False
        self.setMinimumSize(340, 340)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        named(self, "Page", "The page as it will be printed. PgDn and PgUp, arrow keys or the wheel turn pages.")

    def show_page(self, page: Page | None, told: str) -> None:
        """Show a page, or none; `told` is what a screen reader says of it."""
        self._page, self._image = page, None
        self.setAccessibleDescription(told)
        self.update()

    def set_faint(self, *, faint: bool) -> None:
        """Show the page in a low voice, as it is an old one."""
        if faint != self._faint:
            self._faint = faint
            self.update()

    def sizeHint(self) -> QSize:
        """Room for a page on its side as well as upright."""
        return QSize(520, 520)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew in another size."""
        self._image = None
        super().resizeEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn pages."""
        step = KEYS.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        else:
            self.turned.emit(step)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Turn pages."""
        self.turned.emit(-1 if event.angleDelta().y() > 0 else 1)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Put the page in the middle."""
        painter = QPainter(self)
        if self._page is not None:
            if self._image is None:
                self._image = self._drawn(self._page)
            ratio = self._image.devicePixelRatio()
            wide, tall = self._image.width() / ratio, self._image.height() / ratio
            place = QRectF((self.width() - wide) / 2, (self.height() - tall) / 2, wide, tall)
            painter.setOpacity(FAINT if self._faint else 1.0)
            painter.drawImage(place, self._image)
            painter.setOpacity(1.0)
            painter.setPen(QPen(QColor("#808080"), 1.0))
            painter.drawRect(place)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().color(self.palette().ColorRole.Highlight), 1.0))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    def _drawn(self, page: Page) -> QImage:
        (wide, tall), draw = page
        ratio = self.devicePixelRatioF()
        per_mm = min((self.width() - 2 * EDGE) / wide, (self.height() - 2 * EDGE) / tall) * ratio
        image = QImage(QSize(round(wide * per_mm), round(tall * per_mm)), QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(1.0)
        image.fill(QColor("white"))
        painter = QPainter(image)
        try:
            draw(Draft(painter, per_mm))
        finally:
            painter.end()
        image.setDevicePixelRatio(ratio)
        return image
