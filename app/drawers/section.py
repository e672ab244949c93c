"""A section of a drawer that folds: a heading that is pressed, a few words of what is in it, and beneath them its body.

The words stand beside the heading so that a folded section says the gist ("Weights   18 kg"). The body is made when it
is first unfolded: a drawer of many sections costs nothing while nobody looks into them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from app.fields import named

if TYPE_CHECKING:
    from collections.abc import Callable


class Section(QWidget):
    """A heading to press, and the body that it folds and unfolds."""

    unfolded = Signal(bool)

    def __init__(self, title: str, make: Callable[[], QWidget]) -> None:
        super().__init__()
        self.title, self._make = title, make
        self.body: QWidget | None = None
        self.head = QToolButton()
        self.head.setObjectName("section")
        self.head.setText(title)
        self.head.setCheckable(True)
        self.head.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.head.setArrowType(Qt.ArrowType.RightArrow)
        named(self.head, title, f"Fold or unfold {title[0].lower()}{title[1:]}.")
        self.head.clicked.connect(lambda: self.unfold(self.head.isChecked()))
        self.gist = Elided()
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.head)
        row.addWidget(self.gist, 1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._column.addLayout(row)

    @property
    def is_unfolded(self) -> bool:
        """Whether the body is to be seen."""
        return self.body is not None and not self.body.isHidden()

    def tell(self, words: str) -> None:
        """Say beside the heading what is in it, "" for nothing."""
        self.gist.setText(words)
        self.head.setAccessibleDescription(f"{words}. {self.head.toolTip()}" if words else self.head.toolTip())

    def made(self) -> QWidget:
        """Give the body, made now if it hasn't been."""
        if self.body is None:
            self.body = self._make()
            self.body.hide()
            self._column.addWidget(self.body)
        return self.body

    def unfold(self, unfold: bool = True) -> None:
        """Show the body, or fold it away."""
        self.head.setChecked(unfold)
        self.head.setArrowType(Qt.ArrowType.DownArrow if unfold else Qt.ArrowType.RightArrow)
        if unfold == self.is_unfolded:
            return
        if unfold:
            self.made()
        if self.body is not None:
            self.body.setVisible(unfold)
        self.unfolded.emit(unfold)


class Elided(QLabel):
    """Words in a low voice, at the right, that end in "…" where there is no room for all of them."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("faint")
        self.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def minimumSizeHint(self) -> QSize:
        """Need no width."""
        return QSize(0, super().minimumSizeHint().height())

    def shown(self) -> str:
        """Give the words as they are painted, in the room there is."""
        return QFontMetrics(self.font()).elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint as many words as there is room for."""
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(self.rect(), int(self.alignment().value), self.shown())
        painter.end()
        self.setToolTip(self.text() if self.shown() != self.text() else "")
