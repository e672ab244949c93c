"""The way to the sheet that looks for struts, with what to mind before one fits them."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox
from app.struts.words import CAUTION

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document

WANTED = "struts"
"""What the box asks the window for."""


class FinderBox(LiftBox):
    """Opens the sheet."""

    title: ClassVar[str] = "Find struts"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.told(
            "Have the program look for gas struts that meet every want of lifting: where their ends go, which usual "
            "size, how strong. Nothing changes until you take one."
        )
        self.find_button = self.button(
            "Find struts…", "Open the sheet that looks for struts beside the board.", lambda: self.wanted.emit(WANTED)
        )
        self.told(CAUTION)
