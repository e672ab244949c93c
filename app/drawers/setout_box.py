"""The set-out in the drawer Build: where holes come on the wall and on the panel's skin, left and right.

The figures are those of the drawing (`app.setout`), which has more room in a sheet of its own.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtGui import QGuiApplication

from app.document import News
from app.drawers.lift_box import LiftBox, say
from app.drawers.row_table import RowTable
from app.setout.drawing import DRILLING_CAUTION, setout_figure
from app.setout.plan_view import PlanView
from app.setout.sheet import ViewSheet
from app.setout.showing import SETOUT
from app.stack.job import stack_job
from app.stacked import web_off
from kinematics.faces import skin, wall

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board import Board
    from app.document import Document
    from app.setout.drawing import SetOutFigure
    from kinematics.analysis import Analysis
    from kinematics.faces import Face

PLAN = 190
WALL_HEADS, SKIN_HEADS = ("on the wall", "along", "square", "height"), ("on the skin", "ahead", "square", "from web")
WIDTHS = (62, 62, 62)


class SetOutTable(RowTable):
    """A row for each place: its figures; a click shows the face on the board."""

    row_height: ClassVar[int] = 22

    def __init__(self, board: Board, heads: Sequence[str], name: str, tip: str) -> None:
        super().__init__(len(heads), name, tip)
        self._board = board
        self.face: Face | None = None
        self.choose_rows(heads, WIDTHS)

    def show_rows(self, heads: Sequence[str], rows: Sequence[Sequence[str]], face: Face | None) -> None:
        """Show places.   heads : in full, for the tips.   rows : beginning with the place."""
        self.face = face
        self.setRowCount(len(rows))
        for row, told in enumerate(rows):
            tip = "\n".join(f"{head}: {words}" for head, words in zip(heads, told, strict=True))
            for column in range(self.columnCount()):
                spoken = told[column] if not column else f"{heads[column]} {told[column]}"
                self.put_words(row, column, told[column], tip, spoken)
        self.setVisible(bool(rows))
        self.fit()

    def go_to(self, row: int) -> None:
        """Show the face on the board, shut."""
        if self.face is not None and row >= 0:
            self._board.show_place((self.face.at.real, self.face.at.imag), 0.0)


class SetOutBox(LiftBox):
    """The plan, the tables, how to read them, and the way to the drawing."""

    title: ClassVar[str] = "Set-out"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.figure: SetOutFigure | None = None
        self.job = stack_job(document)
        self.job.changed.connect(self._again)
        self.why = self.text_row()
        self.plan = ViewSheet(
            "The wall seen from above",
            "What is measured along the wall and what square to the centreline, each beside its line.",
            PLAN,
        )
        self.wide(self.plan)
        self.drawing_button = self.button(
            "Set-out drawing…",
            "The wall as you see it when you drill, both hinges to scale, seen from above beneath it; and the panel's "
            "inner skin.",
            lambda: self.wanted.emit(SETOUT),
        )
        self.table = SetOutTable(
            board,
            WALL_HEADS,
            "Places on the wall",
            "Each row a place: along the wall from the centreline, square to the centreline, and how high over the "
            "level line. Bolts are numbered in the order of drilling.",
        )
        self.wide(self.table)
        self.sentences = self.text_row()
        self.skin_table = SetOutTable(
            board,
            SKIN_HEADS,
            "Places on the panel’s skin",
            "Each row a bolt: ahead of the rear edge along the skin, square to the panel's centreline, and from the "
            "outer side of the web along the flange.",
        )
        self.wide(self.skin_table)
        self.skin_sentences = self.text_row()
        self.copy_button = self.button(
            "Copy the figures", "Both tables to the clipboard, for a spreadsheet or a note.", self._copy
        )
        self.told(DRILLING_CAUTION)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Nothing: it follows from bracket, base and wall."""
        return ""

    def show_analysis(self, analysis: Analysis) -> None:
        """Set all out anew."""
        super().show_analysis(analysis)
        project = analysis.project
        self.figure = figure = setout_figure(project, None, self.units, off=self._web_off())
        plan = figure.view("plan")
        if isinstance(plan, PlanView):
            plan = replace(plan, short=True)
        say(self.why, [figure.why] if figure.why else [])
        self.plan.setVisible(plan is not None)
        self.plan.show_view(plan, self.board.look, "\n".join(figure.sentences))
        mounted = project.mounted
        self.table.show_rows(figure.heads, figure.rows, None if mounted.base is None else wall(project, mounted.base))
        face = None if mounted.bracket is None else skin(project, mounted.bracket)
        self.skin_table.show_rows(figure.skin_heads, figure.skin_rows, face)
        say(self.sentences, figure.sentences)
        say(self.skin_sentences, figure.skin_sentences)
        for button in (self.drawing_button, self.copy_button):
            button.setEnabled(bool(figure.views))

    def _web_off(self) -> float | None:
        """Where the bracket's web stands in the stack, as far as that is known."""
        if self.document.project.mounted.bracket is None:
            return None
        stack = self.job.newest()
        return None if stack is None else web_off(self.document.project, stack)

    def _again(self) -> None:
        if self.isVisible() and self.document.project.mounted.bracket is not None:
            self.show_analysis(self.document.analysis)

    def _copy(self) -> None:
        if self.figure is not None:
            QGuiApplication.clipboard().setText(self.figure.text())
            self.document.tell(News("The figures of the set-out are on the clipboard."))
