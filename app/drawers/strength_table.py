"""The table of all that may fail, worst first: what, how safe it is, what is wanted, and what one hinge alone has left.

A click, or Enter on a row, goes to the opening at which it is worst, and selects its pin or link.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.document import Selection
from app.drawers.row_table import RowTable
from app.strength_words import HEAD, MEANINGS, strength_rows
from app.words import FAILS, HOLDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.results import Utilised

HEADS = ("what", "safety", "wants", "on one")
WIDTHS = (56, 44, 52)


class StrengthTable(RowTable):
    """Every figure in a row."""

    seen: ClassVar[int | None] = 7

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(
            len(HEADS),
            "Strength, worst first",
            "Click a row, or press Enter on it, to go to the opening at which it is worst, and to its pin. "
            "“On one”: what is left when one hinge carries all.",
        )
        self._document, self._board = document, board
        self.figures: Sequence[Utilised] = ()
        self.choose_rows(HEADS, WIDTHS)

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the newest figures; the row that is chosen stays chosen by its place."""
        told = analysis.strength
        self.figures = () if told is None else told.figures
        rows = strength_rows(analysis, self._document.units)
        self.setRowCount(len(rows))
        for place, (row, figure) in enumerate(zip(rows, self.figures, strict=True)):
            what, how, has, wants, one, force, stress, at = row
            ok = figure.have is not None and figure.ratio >= 1.0 - 1e-9
            sign = HOLDS if ok else FAILS
            tip = f"{what}, {how}: {stress}, with {force} at {at}.\n{MEANINGS[figure.mode]}"
            tip += f"\n{figure.note[0].upper()}{figure.note[1:]}." if figure.note else ""
            spoken = f"{what}, {how}, {'holds' if ok else 'falls short'}"
            self.put_words(place, 0, f"{sign} {what}\n    {how}", tip, spoken)
            for column, (name, words) in enumerate(zip(HEAD[2:5], (has, wants, one), strict=True), 1):
                self.put_words(place, column, words.replace("over ", ">\u2009"), tip, f"{name} {words}")
        self.fit()

    def go_to(self, row: int) -> None:
        """Show the opening, the pin or link, and its place."""
        if not 0 <= row < len(self.figures):
            return
        figure = self.figures[row]
        if figure.deg is not None:
            self._document.set_opening(figure.deg)
        self._document.select(Selection("pivot", figure.pivot) if figure.pivot else Selection("link", figure.link))
        self._board.show_place(figure.place, figure.deg)
