"""What stands beneath the checks: facts on room and shut gaps, and the caution on pinch places. None of it is a check.

Pinch places are looked for again when a drag ends; meanwhile the caution says so, as none would be true for long.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.lettering import breakable, in_lines
from app.room_words import fact_sentences
from app.words import CAUTION, pinch_caution, pinch_count
from kinematics.pinching import pinches

if TYPE_CHECKING:
    from app.document import Document

MEANWHILE = f"{CAUTION} Pinch places are looked for again when you let go."
MEANWHILE_SHORT = f"{CAUTION} pinch places: when you let go"  # one line, beside the checks, whatever the window's width
TIP = (
    "Where a gap opens so far that a finger fits, and closes below 25 mm (EN ISO 13854). It fails no check; the board "
    "marks the places (View, Mark pinch places), and they are told beneath the checks."
)


class Facts(QWidget):
    """Facts and a caution in words; nothing is seen where there are none. `count` stands above the checks, in short."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.told, self.caution, self.count = QLabel(), QLabel(), QLabel()
        self.count.setObjectName("faint")
        for label in (self.caution, self.count):
            label.setToolTip(in_lines(TIP))
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 2, 8, 6)
        column.setSpacing(6)
        for label in (self.told, self.caution):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
            column.addWidget(label)
        document.followed.connect(lambda _: self._show())
        document.restyled.connect(self._show)
        self._show()

    def _show(self) -> None:
        document = self._document
        facts = fact_sentences(document.analysis, document.units)
        put(self.told, "\n".join(f"• {fact}" for fact in facts))
        if not document.is_dragging:
            found = pinches(document.analysis)
            caught = pinch_caution(found, document.units)
            put(self.caution, f"{CAUTION} {caught}" if caught else "")
            put(self.count, pinch_count(len(found)))
        elif self.caution.text():
            put(self.caution, MEANWHILE)
            put(self.count, MEANWHILE_SHORT)


def put(label: QLabel, text: str) -> None:
    """Show a text in a label, and no label for none."""
    if breakable(text) != label.text():
        label.setText(breakable(text))
    if label.isHidden() != (not text):
        label.setVisible(bool(text))
