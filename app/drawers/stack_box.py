"""Layers and stack in the drawer Build: who runs in which layer, found or set by hand, and what is wrong with it.

The faults go to the opening at which they are seen when one is chosen. From here the sections through the pins are
opened, and the look at the hinge in space.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from app.built_words import short_sentences
from app.document import Selection
from app.drawers.layer_table import LayerTable
from app.drawers.lift_box import LiftBox, say
from app.entry.form import push_button
from app.fields import named
from app.stack.job import stack_job
from app.stack.showing import IN_SPACE, SECTIONS
from app.stack_words import STACK_CAUTION, fault_words, stack_gist, stack_sentences
from app.words import FAILS
from app.working_row import WorkingRow
from kinematics.build_parts import END_FLOAT
from kinematics.errors import HingewrightError
from kinematics.stack_edits import is_by_hand, move_plate, run_as_found, run_by_hand, set_stack

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.stacking import StackFault, StackMade

CAUTION = "!"
FOUND, BY_HAND = "found", "by hand"
OF_PINS = ("shank", "end", "pins", "no length", "tight")
"""Faults that name a pin first."""
LINES = 3
"""Lines of words a fault has at most in the narrow drawer."""


class StackBox(LiftBox):
    """The table, its faults, the end float, and the ways to look at it."""

    title: ClassVar[str] = "Layers and stack"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.faults_shown: tuple[StackFault, ...] = ()
        self.job = stack_job(document)
        self.job.changed.connect(self._renew)
        self.way = self.choice(
            "Layers",
            "Set who runs where",
            "Found: the fewest layers in which all links pass each other, and of those the way that bends the pins "
            "least. By hand: as the table stands, whatever changes.",
            [(FOUND, "found"), (BY_HAND, "set by hand")],
            self._taken,
        )
        self.table = LayerTable(document)
        self.table.wanted.connect(self._move)
        self.wide(self.table)
        self.inwards = push_button("Inwards", "Take the chosen plate one layer in (Ctrl+Left).", lambda: self._step(-1))
        self.outwards = push_button("Outwards", "Take it one layer out (Ctrl+Right).", lambda: self._step(1))
        self.beside(self.inwards, self.outwards)
        self.working = WorkingRow(self.job)
        self.wide(self.working)
        self.sentences = self.text_row()
        self.faults = QListWidget()
        self.faults.setWordWrap(True)
        self.faults.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.faults.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        named(self.faults, "What is wrong with the stack", "Choose one to go to the opening at which it is seen.")
        self.faults.itemClicked.connect(self._go_to)
        self.faults.itemActivated.connect(self._go_to)
        self.wide(self.faults)
        self.faults.hide()
        self._build_float()
        self.sections = self.button(
            "Sections through the pins…",
            "Every pin to scale with plates, bushings, washers, tubes and shims; its grip, length, groove or hole.",
            lambda: self.wanted.emit(SECTIONS),
        )
        self.in_space = self.button(
            "The stacked hinge…",
            "The hinge in space, layer upon layer, at the pose shown; drag to turn it.",
            lambda: self.wanted.emit(IN_SPACE),
        )
        self.told(STACK_CAUTION)

    def _build_float(self) -> None:
        self.end_float = self.length(
            "End float",
            "Set the end float",
            f"The play that is left along each pin, so that it turns: 0.1 to 0.3 mm is usual, {END_FLOAT:g} mm to "
            "begin with (common practice, no source).",
            lambda project: project.stacking.end_float,
            lambda project, value: set_stack(project, end_float=value),
        )

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Say whether layers are found or set; nothing is worked out for it."""
        return stack_gist(analysis.project) if analysis.project.pivots else ""

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the layers and what is wrong; what isn't worked out yet, in a low voice."""
        super().show_analysis(analysis)
        self.way.choose(BY_HAND if is_by_hand(analysis.project) else FOUND)
        stack = self.job.newest()
        if stack is not None:
            self._show_stack(stack)
        else:
            self._show_old(analysis.project)
        for text in (self.sentences, self.faults):
            text.setEnabled(stack is not None)
        self.working.renew()

    def _renew(self) -> None:
        if self.isVisible():
            self.show_analysis(self.document.analysis)

    def _show_stack(self, stack: StackMade) -> None:
        self.table.show_stack(stack)
        self._allow(bool(stack.layers))
        short = short_sentences(self.document.analysis, stack, self.units)
        say(self.sentences, [*stack_sentences(stack, self.units), *short])
        self._show_faults(stack.faults)

    def _show_old(self, project: Project) -> None:
        """Layers that were set by hand are known at once; all else stays as it last was, faint."""
        hand = _by_hand(project)
        if hand and set(hand) == set(self.table.links):
            self.table.show_layers(hand, set(hand))
        else:
            self.table.show_faint(True)
        self._allow(bool(self.table.links))

    def _allow(self, there: bool) -> None:
        self.table.setVisible(there)
        for control in (self.way, self.inwards, self.outwards, self.sections, self.in_space):
            control.setEnabled(there)

    def _show_faults(self, faults: tuple[StackFault, ...]) -> None:
        self.faults_shown = faults
        self.faults.clear()
        for fault in faults:
            words = f"{FAILS if fault.breaks else CAUTION} {fault_words(fault, self.units)}"
            item = QListWidgetItem(words)
            item.setToolTip(words)
            self.faults.addItem(item)
        self.faults.setVisible(bool(faults))
        line = self.fontMetrics().height()
        self.faults.setFixedHeight(min(len(faults), 3) * (LINES + 1) * line + 6)

    # Edits -----------------------------------------------------------------------------------------------------------

    def _layers(self) -> Mapping[str, tuple[int, ...]]:
        """Where all plates run now. Raises HingewrightError while that isn't known."""
        stack: StackMade | None = self.job.newest()
        if stack is not None:
            return stack.layers
        hand = _by_hand(self.document.project)
        if set(hand) != set(self.table.links):
            raise HingewrightError("the layers of this layout aren't worked out yet", remedy="Wait until they are.")
        return hand

    def _taken(self, project: Project, way: str) -> Project:
        return run_as_found(project) if way == FOUND else run_by_hand(project, self._layers())

    def _move(self, link: str, layer: int, to: int) -> None:
        self.document.attempt(
            f"Move {link} to layer {max(to, 1)}", lambda project: move_plate(project, self._layers(), link, layer, to)
        )

    def _step(self, by: int) -> None:
        row = self.table.currentRow()
        if row >= 0:
            self.table.step(row, max(self.table.currentColumn(), 1), by)
        else:
            self.document.refuse("No plate is chosen. Click one in the table first.")

    def _go_to(self, item: QListWidgetItem) -> None:
        """Show the opening at which a fault is seen, and select whom it is about."""
        fault = self.faults_shown[self.faults.row(item)]
        if fault.deg is not None:
            self.document.set_opening(fault.deg)
        kind = "pivot" if fault.what in OF_PINS else "link"
        known = self.document.project.links if kind == "link" else self.document.project.pivots
        if any(part.id == fault.name for part in known):
            self.document.select(Selection(kind, fault.name))


def _by_hand(project: Project) -> dict[str, tuple[int, ...]]:
    return {choice.link: choice.layers for choice in project.stacking.layers}
