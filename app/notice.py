"""The notice: one sentence across the top of the board that says what went wrong or what to do; never a box that blocks
the work.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton, QWidget

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

READING_MS = 5000  # a sentence stays at least so long


class Notice(QFrame):
    """Shows the last sentence until it is dismissed, another comes, or the work goes on once it was read."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._left = 0
        self._since = QElapsedTimer()
        self.setAccessibleName("Notice")
        self._label = QLabel()
        self._label.setWordWrap(True)
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._button = QToolButton()
        self._button.setText("Dismiss")
        self._button.setAccessibleName("Dismiss the notice")
        self._button.setToolTip("Put this notice away. It changes nothing in the project.")
        self._button.clicked.connect(self.hide)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 8, 8, 8)
        row.addWidget(self._label, 1)
        row.addWidget(self._button, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    @property
    def sentence(self) -> str:
        """What is shown now; "" when the bar is away."""
        return self._label.text() if not self.isHidden() else ""

    def show_sentence(self, sentence: str) -> None:
        """Show a sentence, or put the bar away with ""."""
        self._label.setText(sentence)
        self._label.setAccessibleName(sentence)
        self.setVisible(bool(sentence))
        if sentence:
            self._since.start()
            self.raise_()
            self.fit()

    def pass_on(self) -> None:
        """Go away as the work goes on, once there was time to read."""
        if not self.isHidden() and self._since.hasExpired(READING_MS):
            self.hide()

    def fit(self, left: int | None = None) -> None:
        """Take the parent's width from pixel `left` on (None: as before) and the height that the sentence needs."""
        self._left = self._left if left is None else left
        parent = self.parentWidget()
        if parent is not None and not self.isHidden():
            width = parent.width() - self._left
            self.setGeometry(self._left, 0, width, self.heightForWidth(width))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc puts the notice away."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
        else:
            super().keyPressEvent(event)
