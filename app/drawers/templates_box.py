"""The templates for the drill in the drawer Build: what they are of, what is missing, and the way to them."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox, say
from app.files.templates import missing_words
from app.hardware import hardware
from app.template_words import BEFORE_DRILLING, HAND_WORDS, spot_words
from kinematics.marking_out import skin_marks, wall_marks
from kinematics.wall_parts import HANDS

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis

DRILL_TEMPLATES = "drill templates"
"""The word by which the box says that the templates are wanted."""


class TemplatesBox(LiftBox):
    """Leads to the templates; beneath stands where the middle of each base comes, and what is missing."""

    title: ClassVar[str] = "Templates for the drill"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.told("Where wall and panel are drilled, left and right, to print at true size and lay on.")
        self.templates = self.button(
            "Templates for the drill…",
            "Look at each sheet, choose the paper, make up for a printer that misses, print or save as PDF.",
            lambda: self.wanted.emit(DRILL_TEMPLATES),
        )
        self.places = self.text_row()
        self.missing = self.text_row()
        self.told(BEFORE_DRILLING)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Say of which faces there are templates."""
        mounted = analysis.project.mounted
        faces = [name for name, part in (("wall", mounted.base), ("panel", mounted.bracket)) if part is not None]
        return " and ".join(faces)

    def show_analysis(self, analysis: Analysis) -> None:
        """Say where the bases come, and what is missing."""
        super().show_analysis(analysis)
        project = analysis.project
        walls = [wall_marks(project, hardware(), hand) for hand in HANDS]
        say(
            self.places, [spot_words(HAND_WORDS[each.out.hand], each, self.units) for each in walls if each is not None]
        )
        say(self.missing, missing_words(project, walls[0], skin_marks(project, hardware(), HANDS[0])))
