"""What weights and helpers come to: the sentences of lifting; and what is missing for them, each with what mends it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from app.drawers.handle_box import put_in_front
from app.drawers.lift_box import LiftBox, say
from app.drawers.weights_box import add_weight
from app.entry.form import push_button
from app.lengths import format_force
from app.load_words import NO_HANDLE, lift_sentences
from kinematics import loading

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.project import Project


@dataclass(frozen=True, slots=True)
class Missing:
    """What is missing. sentence : what, and what to do.   button, tip : what does it.   act : does it."""

    sentence: str
    button: str
    tip: str
    act: Callable[[Document], object]


class EffortBox(LiftBox):
    """How hard it lifts, where it balances, what the pins carry."""

    title: ClassVar[str] = "What it comes to"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._missing: Missing | None = None
        self.missing = self.text_row()
        self.mend = push_button("Add weight", "Do what is missing.", self._mend)
        self._mend_row = self.beside(self.mend)
        self.figures = self.text_row()

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say the largest push, or what is missing for it."""
        lacks = missing(analysis.project)
        largest = None if analysis.loads is None else analysis.loads.largest
        if largest is None:
            return "" if lacks is None else "something is missing"
        if largest.force <= 0.0:
            return "rises by itself all the way"
        return f"largest push {format_force(largest.force, document.units)}"

    @classmethod
    def unfolds(cls, analysis: Analysis) -> bool:
        """Tell whether something is missing."""
        return missing(analysis.project) is not None

    def show_analysis(self, analysis: Analysis) -> None:
        """Tell the newest figures."""
        super().show_analysis(analysis)
        lacks = self._missing = missing(analysis.project)
        say(self.missing, [] if lacks is None else [lacks.sentence])
        self._mend_row.setVisible(lacks is not None)
        if lacks is not None:
            self.mend.setText(lacks.button)
            self.mend.setAccessibleName(lacks.button)
            self.mend.setToolTip(lacks.tip)
        told = lift_sentences(analysis, self.units)
        say(self.figures, [each for each in told if each != NO_HANDLE])  # that is said above

    def _mend(self) -> None:
        if self._missing is not None:
            self._missing.act(self.document)


def missing(project: Project) -> Missing | None:
    """What is missing first before a push can be told; None where nothing is."""
    loads, panel = project.loads, project.panel.id
    if loads is None or not loads.masses:
        return Missing(
            "No weight is entered, so there is nothing to lift. Add the panel's, and type or weigh how heavy it is.",
            "Add the panel's weight",
            "Add a weight in the middle of the panel's outline; type at the right what it weighs.",
            add_weight,
        )
    if loads.handle is None:
        return Missing(
            "No handle is set, so no push can be told. Say where the hand takes hold: here at once, or by a click "
            "under Handle.",
            "Handle at the front edge",
            "Put the handle at the panel's foremost point.",
            put_in_front,
        )
    if loads.handle.on == project.fixed.id:
        return Missing(
            f"The handle is on {project.fixed.id}, which stands still: nothing is lifted by it. Let it ride on the "
            "panel.",
            "Put it on the panel",
            "Let the handle ride on the panel, where it is while that is shut.",
            lambda document: document.attempt(
                "Put handle on the panel", lambda it: loading.put_handle(it, panel, loading.handle_of(it).at)
            ),
        )
    return None
