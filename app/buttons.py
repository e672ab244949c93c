"""The row of buttons beneath a dialog: words of our own, and no pictures, which would be the desktop's."""

from __future__ import annotations

from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QDialogButtonBox, QPushButton

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
