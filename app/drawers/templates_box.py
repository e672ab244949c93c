"""The templates for the drill in the drawer Build: what they are of, what is missing, and the way to them."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox, say
from app.files.templates import lacking
from app.template_words import BEFORE_DRILLING

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis

DRILL_TEMPLATES = "drill templates"
"""The word by which the box says that the templates are wanted."""


class TemplatesBox(LiftBox):
    """Leads to the templates; beneath stands what is missing."""

    title: ClassVar[str] = "Templates for the drill"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.told("Where wall and panel are drilled, left and right, to print at true size and lay on.")
        self.templates = self.button(
            "Templates for the drill…",
            "Look at each sheet, choose the paper, make up for a printer that misses, print or save as PDF.",
            lambda: self.wanted.emit(DRILL_TEMPLATES),
        )
        self.missing = self.text_row()
        self.told(BEFORE_DRILLING)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Say of which faces there are templates."""
        mounted = analysis.project.mounted
        faces = [name for name, part in (("wall", mounted.base), ("panel", mounted.bracket)) if part is not None]
        return " and ".join(faces)

    def show_analysis(self, analysis: Analysis) -> None:
        """Say what is missing."""
        super().show_analysis(analysis)
        say(self.missing, lacking(analysis.project))
