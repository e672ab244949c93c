"""What every box of the drawer Lift is made of: rows of exact entry (`app.entry.form`) that know board and document.

A box has a `title`, the heading of its section, and says by `gist` in a few words what is in it, for the time that
the section is folded. The drawer brings a box up to date (`show_analysis`) when it is unfolded and whenever there is
another analysis, never during a drag; a box needs no signals for that. Rows that are added by `row`, `length`, `angle`,
… follow by themselves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from app.entry.form import Form
from app.lettering import breakable

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis


class LiftBox(Form):
    """One section's body. Subclasses name their title, add their rows when they are made, and say what is in them."""

    title: ClassVar[str] = ""
    unfolds: ClassVar[bool] = False
    """Whether the section stands unfolded when the drawer is first opened."""
    wanted = Signal(str)
    """Something that the window shows is wanted, by a word that it knows."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document)
        self.board = board
        self._column.setContentsMargins(0, 0, 0, 6)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  subclasses need them
        """Say in a few words what is in it, "" for nothing. The box may not be made yet."""
        return ""

    def show_analysis(self, analysis: Analysis) -> None:
        """Bring the box up to date with an analysis; the rows show its project."""
        self.refresh(analysis.project)

    # More rows -------------------------------------------------------------------------------------------------------

    def text_row(self) -> QLabel:
        """Add a paragraph that can be copied; `say` fills it."""
        label = QLabel()
        label.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
        label.setWordWrap(True)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.wide(label)
        return label

    def beside(self, *widgets: QWidget) -> QWidget:
        """Add widgets beside each other."""
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for widget in widgets:
            row.addWidget(widget)
        row.addStretch(1)
        return self.wide(box)


def say(label: QLabel, sentences: Iterable[str]) -> None:
    """Show sentences, a line each, and nothing where there are none."""
    label.setText(breakable("\n".join(sentences)))
    label.setVisible(bool(label.text()))
