"""The whole set in the drawer Build: leads to its sheets, as they will be printed."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox
from app.set_showing import SHEETS

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document


class SetBox(LiftBox):
    """A button."""

    title: ClassVar[str] = "Build sheet"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.told(
            "The work in its order, step by step, with numbers, drawings, cautions and boxes to tick; an index page "
            "and templates. All of it is written with the cut files."
        )
        self.sheets = self.button(
            "Look at the sheets…",
            "Every sheet of the set as it will be printed; they follow the layout.",
            lambda: self.wanted.emit(SHEETS),
        )
