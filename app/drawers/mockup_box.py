"""The mock-up in the drawer Build: templates to cut in card, and how far the pins of each link are apart."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox, say
from app.lengths import format_length

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Project

TEMPLATES = "templates"
"""The word by which the box says that the templates are wanted."""


class MockupBox(LiftBox):
    """Leads to the templates; beneath stand the distances, which card or a first plate is drilled by."""

    title: ClassVar[str] = "Mock-up in card"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.told("Try the hinge in card before money is spent.")
        self.templates = self.button(
            "Mock-up templates…",
            "Every link and the pins of wall and panel at true size, to print, cut in card and bolt up (Ctrl+Shift+P).",
            lambda: self.wanted.emit(TEMPLATES),
        )
        self.told("Between the pins, centre to centre:")
        self.listed = self.text_row()

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Say how many links the templates are of."""
        count = sum(len(analysis.project.pivots_on(link.id)) > 1 for link in analysis.project.links)
        return "" if not count else "1 link" if count == 1 else f"{count} links"

    @classmethod
    def unfolds(cls, analysis: Analysis) -> bool:  # noqa: ARG003  as all boxes have it
        """It comes first in the shop."""
        return True

    def show_analysis(self, analysis: Analysis) -> None:
        """List the distances."""
        super().show_analysis(analysis)
        say(self.listed, pin_distances(analysis.project, self.units) or ["No link has two pins yet."])


def pin_distances(project: Project, units: Units) -> list[str]:
    """Say how far the pins of each link are apart, a line a pair."""
    lines = []
    for link in project.links:
        pins = project.pivots_on(link.id)
        for place, one in enumerate(pins):
            for other in pins[place + 1 :]:
                lines.append(f"{link.id}: {one.id} – {other.id}  {format_length(dist(one.at, other.at), units)}")
    return lines
