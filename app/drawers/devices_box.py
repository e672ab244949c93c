"""Struts and springs: a list, and new ones of each kind, which begin where they fit a common panel."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.document import Selection
from app.drawers.drawer import PartsList
from app.drawers.lift_box import LiftBox
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.part_words import part_words
from app.removing import remove
from kinematics import loading
from kinematics.beginnings import first_device
from kinematics.parts import DEVICES

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis

CAUTION = (
    "Gas struts are under pressure and springs under load: worn, cold or let go they drop the panel or throw it. "
    "Support the panel while you fit them or take them out, and never open, drill or heat a strut."
)


class DevicesBox(LiftBox):
    """What helps to lift; the chosen one is typed at the right, and its ends are dragged on the board."""

    title: ClassVar[str] = "Struts and springs"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.devices = PartsList(
            document, "device", "Choose one to type its figures and the places of its ends, at the right."
        )
        self.wide(self.devices)
        self.kind = ChoiceBox((kind, kind) for kind in DEVICES)
        named(self.kind, "Kind of the next helper", "What is added next; its kind can be changed afterwards.")
        self.add_button = push_button(
            "Add",
            "Add a pair of them at usual places, with figures that fit there; then drag the ends on the board.",
            self.add,
        )
        self.add_button.setAccessibleName("Add strut or spring")
        self.remove_button = push_button("Remove", "Take the chosen one out (Del).", self._remove)
        self.remove_button.setAccessibleName("Remove strut or spring")
        self.beside(self.kind, self.add_button, self.remove_button)
        self.told(CAUTION)
        document.selected.connect(self._show_selection)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  the same in all units
        """Say how many there are."""
        loads = analysis.project.loads
        count = 0 if loads is None else sum(device.count for device in loads.devices)
        return str(count) if count else "none"

    def show_analysis(self, analysis: Analysis) -> None:
        """List the newest ones."""
        super().show_analysis(analysis)
        loads = analysis.project.loads
        self.devices.show_parts(
            (device.id, part_words(analysis.project, "device", device.id, self.units))
            for device in (() if loads is None else loads.devices)
        )
        self._show_selection()

    def _show_selection(self) -> None:
        selection = self.document.selection
        self.remove_button.setEnabled(selection is not None and selection.kind == "device")

    def add(self) -> None:
        """Add a pair of the chosen kind where it fits, and select it."""
        self.document.commit()
        device = first_device(self.document.analysis, self.kind.value)
        if self.document.attempt(f"Add {device.id}", lambda project: loading.add_device(project, device)):
            self.document.select(Selection("device", device.id))

    def _remove(self) -> None:
        selection = self.document.selection
        if selection is not None and selection.kind == "device":
            remove(self.document, selection)
