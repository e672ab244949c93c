"""What weights and helpers come to: the sentences of lifting, and what the file names until there are any."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox, say
from app.lengths import format_force, format_length, format_number
from app.load_words import lift_sentences

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project


class EffortBox(LiftBox):
    """How hard it lifts, where it balances, what the pins carry."""

    title: ClassVar[str] = "What it comes to"
    unfolds: ClassVar[bool] = True

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.figures = self.text_row()
        self.heading("In the file")
        self.listed = self.text_row()

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say the largest push."""
        largest = None if analysis.loads is None else analysis.loads.largest
        return "" if largest is None else f"largest push {format_force(largest.force, document.units)}"

    def show_analysis(self, analysis: Analysis) -> None:
        """Tell the newest figures."""
        super().show_analysis(analysis)
        say(self.figures, lift_sentences(analysis, self.units))
        say(self.listed, loads_told(analysis.project, self.units))


def loads_told(project: Project, units: Units) -> list[str]:
    """Say what a file has of loads, a line each."""
    loads = project.loads
    if loads is None:
        return ["The file names no weights, handle, struts or springs."]
    lines = [
        f"{format_number(mass.mass, units)} kg on {mass.on}, centre of gravity at {_at(mass.at, units)}"
        for mass in loads.masses
    ]
    if loads.handle is not None:
        lines.append(f"handle on {loads.handle.on} at {_at(loads.handle.at, units)}")
    lines += [
        f"{device.count} × {device.kind} {device.id}, from {device.from_end.on} to {device.to_end.on}"
        for device in loads.devices
    ]
    return [*lines, f"shared by {loads.hinges} hinge{'s' if loads.hinges != 1 else ''}"]


def _at(point: Point, units: Units) -> str:
    x, y = (format_length(value, units) for value in point)
    return f"x {x}, y {y}"
