"""Buttons: the row beneath a dialog, in words of our own and without pictures, which would be the desktop's; one that
bears the name of a part, however long that is; and dialogs in which Enter presses none by surprise.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QPushButton, QStyleOptionButton, QWidget

from app.fields import named

Standard = QDialogButtonBox.StandardButton


def go_on_or_cancel(words: str, tip: str) -> tuple[QDialogButtonBox, QPushButton]:
    """Make a row that goes on, with words for it, or leaves all as it is. Gives the row and the button that goes on."""
    box = QDialogButtonBox(Standard.Ok | Standard.Cancel)
    go_on = box.button(Standard.Ok)
    go_on.setText(words)
    named(go_on, words, tip)
    named(box.button(Standard.Cancel), "Cancel", "Leave the project as it is.")
    without_pictures(box)
    return box, go_on


def close_only() -> QDialogButtonBox:
    """Make a row that only closes the dialog."""
    box = QDialogButtonBox(Standard.Close)
    named(box.button(Standard.Close), "Close", "Put this away (Esc).")
    without_pictures(box)
    return box


def without_pictures(box: QDialogButtonBox) -> None:
    """Take away the pictures that some desktops put on the buttons of dialogs, each in a style of its own."""
    for button in box.buttons():
        button.setIcon(QIcon())


class StayingDialog(QDialog):
    """A dialog that Enter doesn't close: it takes over what is typed in a field, and presses a button that has the keys
    and no other.
    """

    def showEvent(self, event: QShowEvent) -> None:
        """Have no button that Enter would press from elsewhere."""
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(False)
        super().showEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button that has the keys."""
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)
            return
        focus: QWidget | None = self.focusWidget()
        if isinstance(focus, QPushButton):
            focus.click()


class ElidedButton(QPushButton):
    """A button whose words may be longer than there is room: then they end in "…"."""

    EDGES = 22  # pixels left and right of the words, as the style sheet has them

    def minimumSizeHint(self) -> QSize:
        """Give a size that shows where the words begin."""
        return QSize(min(self.sizeHint().width(), 60), super().minimumSizeHint().height())

    def initStyleOption(self, option: QStyleOptionButton) -> None:
        """Have as much of the words painted as there is room for."""
        super().initStyleOption(option)
        option.text = self.shown()

    def shown(self) -> str:
        """Give the words as they are painted."""
        return self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, self.width() - self.EDGES, int(Qt.TextFlag.TextShowMnemonic)
        )
