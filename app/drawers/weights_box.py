"""The weights: a list; new ones, typed, weighed, or worked out from what is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.document import Selection
from app.drawers.drawer import PartsList
from app.drawers.lift_box import LiftBox
from app.entry.form import push_button
from app.entry.made_of_rows import first_plates
from app.quantities import MASS
from app.removing import remove
from kinematics import loading
from kinematics.beginnings import first_mass

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Project


NO_PLATES = (
    "No link's plates are to be added: every link that has a width has their weight already. Give other links a width "
    "under Pins."
)


class WeightsBox(LiftBox):
    """Masses on the links; the chosen one is typed at the right."""

    title: ClassVar[str] = "Weights"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.masses = PartsList(
            document, "mass", "Choose one to type its mass, place and what it is made of, at the right."
        )
        self.wide(self.masses)
        self.add_button = push_button(
            "Add weight",
            "Add a weight in the middle of the panel; then type what it weighs, drag it to its place, or let it follow "
            "what is drawn.",
            self.add,
        )
        self.remove_button = push_button("Remove", "Take the chosen weight out (Del).", self._remove)
        self.remove_button.setAccessibleName("Remove weight")
        self.beside(self.add_button, self.remove_button)
        self.plates_button = self.button(
            "Add the links' plates",
            "Add the weight of every link that has a width, by its band; then change thickness and material at the "
            "right. Each follows its pins.",
            self.add_plates,
        )
        document.selected.connect(self._show_selection)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say how heavy all is together."""
        loads = analysis.project.loads
        if loads is None or not loads.masses:
            return "none yet"
        return MASS.format(sum(mass.mass for mass in loads.masses), document.units)

    def show_analysis(self, analysis: Analysis) -> None:
        """List the newest weights."""
        super().show_analysis(analysis)
        project = analysis.project
        self.masses.show_parts((name, mass_words(project, name, self.units)) for name in loading.mass_names(project))
        self._show_selection()

    def _show_selection(self) -> None:
        selection = self.document.selection
        self.remove_button.setEnabled(selection is not None and selection.kind == "mass")

    def add(self) -> None:
        """Add a weight in the middle of the panel, and select it."""
        add_weight(self.document)

    def add_plates(self) -> None:
        """Add the weights of the links' plates: one step."""
        document = self.document
        if loading.add_plates(document.project, first_plates(document.project)) is document.project:
            document.refuse(NO_PLATES)
            return
        document.attempt("Add the links' plates", lambda project: loading.add_plates(project, first_plates(project)))

    def _remove(self) -> None:
        selection = self.document.selection
        if selection is not None and selection.kind == "mass":
            remove(self.document, selection)


def add_weight(document: Document) -> None:
    """Add a weight in the middle of the panel, and select it: one step."""
    mass = first_mass(document.project)
    if document.attempt("Add weight", lambda project: loading.add_mass(project, mass)):
        document.select(Selection("mass", loading.mass_names(document.project)[-1]))


def mass_words(project: Project, name: str, units: Units) -> str:
    """Say how heavy a mass is, and what it follows: "18 kg", "6.2 kg, by hatch skin"."""
    mass = loading.mass_named(project, name)
    said = MASS.format(mass.mass, units)
    if mass.made_of is None:
        return said
    return f"{said}, by {mass.made_of.outline or 'its plates'}"
