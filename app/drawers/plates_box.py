"""Link plates in the drawer Build: what they are of, how far they reach about their pins, their sides and cutouts.

What is chosen above (`all links`, or one) is what the fields are of; the one that is selected on the board is chosen
here, and the other way round. What a plate has of its own stays when the others change, until it is made as all the
others again.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from PySide6.QtWidgets import QFileDialog

from app.document import Selection
from app.drawers.lift_box import LiftBox, say
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.making_faults import wide_enough
from app.materials import find_material, largest_size
from app.metals import PLATE, metal_choices, metal_of, metal_words, resized
from app.plate_words import PLATES_CAUTION, PLATES_INTRO, plate_faults, plate_figures, plated_links, plates_gist
from kinematics import plate_edits as edits
from kinematics.build_parts import PAIR
from kinematics.errors import HingewrightError
from kinematics.plate_edits import ALL
from kinematics.plate_fitting import take_drawing
from kinematics.plate_grips import grips
from kinematics.plating import are_said

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.build_parts import Cutout, Plate
    from kinematics.project import Project

WAIST, BOW = "waist", "bow"
EVERY = ""
"""The choice of all eyes."""
COUNTS = (("1", "one plate"), (str(PAIR), "a pair, the others between"))
UNSAID = ""


class PlatesBox(LiftBox):
    """Sheet, eyes, sides, cutouts, an edge of its own; what it comes to."""

    title: ClassVar[str] = "Link plates"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.intro = self.told(PLATES_INTRO)
        self.begin_button = self.button(
            "Build the links of plates", "Begin with usual plates; all of it can be changed.", self._begin
        )
        self._plated: list[QWidget] = []  # rows that are there once plates are
        self._single: list[QWidget] = []  # … and one link is chosen
        self._build_scope()
        self._build_sheet()
        self._build_eyes()
        self._build_sides()
        self._build_cutouts()
        self._build_edge()
        self.faults, self.figures = self.text_row(), self.text_row()
        self.caution = self.told(PLATES_CAUTION)
        self.drop_button = self.button(
            "Remove the plates", "Take all that is said of plates out again: links are bands as before.", self._drop
        )
        self._plated += [self.caution, self.drop_button]
        document.selected.connect(self._see_selection)

    # Rows ------------------------------------------------------------------------------------------------------------

    def _build_scope(self) -> None:
        self.scope = ChoiceBox([(ALL, "all links")])
        named(self.scope, "Plates to type", "Whether what stands below is of all links' plates, or of one link's.")
        self.scope.activated.connect(self._scope_chosen)
        self.row("Plates of", self.scope)
        self.as_all_button = push_button(
            "As all the others", "Take out all that this link's plate has of its own.", self._as_all
        )
        self.wide(self.as_all_button)
        self._plated.append(self.scope)

    def _build_sheet(self) -> None:
        self.metal = self.choice(
            "Material",
            "Set the plates' material",
            "From the table, by standard designation: strength and weight follow it.",
            metal_choices("plate"),
            self._take_metal,
        )
        self.origin = self.told("")
        self.thickness = self.length(
            "Thickness",
            "Set the plates' thickness",
            "As measured, with a caliper, free of paint and burr.",
            lambda project: self._shown(project).thickness or 0.0,
            self._thicken,
        )
        self.count_choice = self.choice(
            "Made of",
            "Set how many plates make a link",
            "One plate, or a pair that holds the others between: the pins are then in double shear.",
            COUNTS,
            lambda project, value: edits.set_sheet(project, self.scope.value, count=int(value)),
        )
        self._plated += [self.metal, self.origin, self.thickness, self.count_choice]

    def _build_eyes(self) -> None:
        self.eye = ChoiceBox([(EVERY, "all its pins")])
        named(self.eye, "Pin to type", "Round which pin the edge distance is.")
        self.eye.activated.connect(lambda: self.refresh(self.document.project))
        self.row("Round", self.eye)
        self.radius = self.over_nothing(
            "Edge distance",
            "Set the plates' edge distance",
            "From a pin's centre to the plate's edge. Empty: half of the link's width. 1.5 times the hole is the least "
            "that is usual, 2 times is better (common practice, no source).",
            self._edge_distance,
            self._set_edge_distance,
        )
        self.radius.line.setPlaceholderText("half the width")
        self._plated.append(self.radius)
        self._single.append(self.eye)

    def _build_sides(self) -> None:
        self.side = ChoiceBox([(WAIST, "all of them")])
        named(self.side, "Side to bend", "A side from one pin to the next, anticlockwise; all of them; or the whole.")
        self.side.activated.connect(self._side_chosen)
        self.row("Side", self.side)
        self.belly = self.length(
            "Belly",
            "Bend the plate's side",
            "How far the middle of the side lies outside a straight one; negative: inside, a waist. Of the whole: how "
            "far the plate bows.",
            self._belly,
            self._set_belly,
        )
        self._single += [self.side, self.belly]

    def _build_cutouts(self) -> None:
        self.cutout = ChoiceBox([])
        named(self.cutout, "Cutout to type", "A hole that only makes the plate lighter.")
        self.cutout.activated.connect(lambda: self._take_grip("cutout", self._place))
        self.row("Cutout", self.cutout)
        self.hole = self.length(
            "Diameter",
            "Set the cutout's diameter",
            "Of the hole.",
            lambda project: 1.0 if (found := self._cutout(project)) is None else found.diameter,
            lambda project, mm: edits.change_cutout(project, self.scope.value, self._place, diameter=mm),
        )
        self.hole_x, self.hole_y = (
            self.length(
                label,
                f"Set the cutout's place {label}",
                "In the side view, panel shut. On the board it can be dragged.",
                lambda project, axis=axis: 0.0 if (found := self._cutout(project)) is None else found.at[axis],  # type: ignore[misc]
                partial(self._move_cutout, axis),
            )
            for axis, label in enumerate(("x", "y"))
        )
        self.add_button = push_button("Add cutout", "Add a round hole, beside those that are there.", self._add_cutout)
        self.remove_button = push_button("Remove cutout", "Take the chosen cutout out.", self._remove_cutout)
        self.cutout_buttons = self.beside(self.add_button, self.remove_button)
        self._single.append(self.cutout_buttons)

    def _build_edge(self) -> None:
        self.outline = ChoiceBox([])
        named(self.outline, "Outline to take", "A closed outline that is drawn on this link (drawer Trace).")
        self.row("Own edge", self.outline)
        self.file_button = push_button(
            "Edge from DXF…",
            "Let the plate have the edge and the cutouts of a drawing, laid onto its pins.",
            self._ask_file,
        )
        self.take_button = push_button("Take this outline", "Let the plate have this outline as its edge.", self._take)
        self.round_button = push_button("Round its pins again", "Take the plate's own edge out.", self._round)
        self.edge_buttons = self.beside(self.file_button, self.round_button)
        self.wide(self.take_button)
        self.edge_said = self.told("")

    # Showing ---------------------------------------------------------------------------------------------------------

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say how many links, and what they weigh."""
        return plates_gist(analysis.project, document.units) if are_said(analysis.project) else ""

    def _see_selection(self) -> None:
        if self.isVisible():
            self.show_analysis(self.document.analysis)

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the newest project and what its plates come to."""
        self._follow_selection(analysis.project)
        super().show_analysis(analysis)
        project = analysis.project
        is_plated = are_said(project)
        say(self.faults, plate_faults(project, self.scope.value, self.units) if is_plated else [])
        say(self.figures, plate_figures(project, self.scope.value, self.units) if is_plated else [])

    def refresh(self, project: Project) -> None:
        """Show the values of a project for the link that is chosen."""
        self._offer_scope(project)
        if are_said(project):
            self._offer_parts(project)
        super().refresh(project)
        self._show_rows(project)

    def _offer_scope(self, project: Project) -> None:
        own = {plate.link for plate in project.plating.each}
        links = [(name, f"{name}{', of its own' if name in own else ''}") for name in plated_links(project)]
        _offer(self.scope, [(ALL, "all links"), *links])

    def _offer_parts(self, project: Project) -> None:
        plate, link = self._shown(project), self.scope.value
        self.count_choice.choose(str(plate.count or 1))
        self._show_metal(plate)
        if link == ALL:
            return
        _offer(self.eye, [(EVERY, "all its pins"), *((pin.id, f"pin {pin.id}") for pin in project.pivots_on(link))])
        sides = edits.sides_of(project, link)
        whole = [(BOW, "the whole, a bow")] if len(sides) == 2 else []
        each = [(str(place), f"from {one} to {other}") for place, (one, other) in enumerate(sides)]
        _offer(self.side, [(WAIST, "all of them"), *whole, *each])
        _offer(self.cutout, [(str(k), f"cutout {k + 1}") for k in range(len(plate.cutouts))])
        drawn = [each.id for each in project.outlines if each.on == link and each.closed]
        _offer(self.outline, [(name, name) for name in drawn])
        count = len(plate.edge)
        self.edge_said.setText(
            f"It has an edge of its own, of {count} corners; it goes with its first two pins." if count else ""
        )

    def _show_metal(self, plate: Plate) -> None:
        choices = metal_choices("plate")
        if plate.metal is None:
            choices = [(UNSAID, "not said, weighs as steel"), *choices]
        elif all(plate.metal.name != name for name, _ in choices):
            choices = [*choices, (plate.metal.name, plate.metal.name)]
        _offer(self.metal, choices)
        self.metal.choose(UNSAID if plate.metal is None else plate.metal.name)
        self.origin.setText("" if plate.metal is None else metal_words(plate.metal, plate.thickness or 1.0))

    def _show_rows(self, project: Project) -> None:
        """Show what there is something to type of."""
        there = are_said(project)
        link = self.scope.value if there else ALL
        plate = self._shown(project) if there else None
        self.intro.setVisible(not there)
        self.begin_button.setVisible(not there)
        for widget in self._plated:
            self.set_row(widget, there)
        self.origin.setVisible(there and bool(self.origin.text()))
        for widget in self._single:
            self.set_row(widget, link != ALL)
        is_own = plate is not None and link != ALL and bool(plate.edge)
        has_hole = plate is not None and link != ALL and bool(plate.cutouts)
        self.as_all_button.setVisible(link != ALL)  # always, so that no row moves away while one types
        self.as_all_button.setEnabled(any(each.link == link for each in project.plating.each))
        for widget in (self.side, self.belly):
            self.set_row(widget, link != ALL and not is_own and bool(edits.sides_of(project, link)))
        for widget in (self.cutout, self.hole, self.hole_x, self.hole_y):
            self.set_row(widget, has_hole)
        self.remove_button.setVisible(has_hole)
        is_drawn = link != ALL and any(each.on == link and each.closed for each in project.outlines)
        self.set_row(self.outline, is_drawn)
        self.take_button.setVisible(is_drawn)
        self.round_button.setVisible(is_own)
        self.edge_buttons.setVisible(link != ALL)
        self.edge_said.setVisible(is_own)

    # Reading and editing ---------------------------------------------------------------------------------------------

    def _shown(self, project: Project) -> Plate:
        """The plate whose values are shown: one link's, or what all have."""
        if self.scope.value == ALL:
            return project.plating.common
        return edits.full_plate(project, self.scope.value)

    def _sheet(self, project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of a plate
        return edits.set_sheet(project, self.scope.value, **fields)

    def _take_metal(self, project: Project, name: str) -> Project:
        mm = self._shown(project).thickness or 1.0
        metal, row = metal_of(name, mm), find_material(name, mm) or largest_size(name)
        if metal is None or row is None:
            return project
        project = self._sheet(project, metal=metal, density=row.density)
        return edits.with_metal_of_all(project, partial(metal_of, name)) if self.scope.value == ALL else project

    def _thicken(self, project: Project, mm: float) -> Project:
        """Another thickness, and the metal's figures for it; a link's metal is that of all where it can be."""
        metal = self._shown(project).metal
        new = None if metal is None else resized(metal, mm)
        project = self._sheet(project, thickness=mm)
        return project if new == metal else self._sheet(project, metal=new)

    def _edge_distance(self, project: Project) -> float | None:
        link, plates = self.scope.value, project.plating
        if link == ALL:
            return plates.radius
        plate = edits.own_plate(project, link)
        if self.eye.value != EVERY:
            own = {eye.pivot: eye.radius for eye in plate.eyes}
            return own.get(self.eye.value)
        return plate.radius

    def _set_edge_distance(self, project: Project, mm: float | None) -> Project:
        if self.scope.value != ALL and self.eye.value != EVERY:
            return edits.set_eye(project, self.scope.value, self.eye.value, mm)
        return self._sheet(project, radius=mm)

    def _belly(self, project: Project) -> float:
        link = self.scope.value
        sides = [] if link == ALL else edits.sides_of(project, link)
        if not sides:
            return 0.0
        bellies = [edits.belly_of(project, link, side) for side in sides]
        if self.side.value == WAIST:
            return sum(bellies) / len(bellies)
        return (bellies[0] - bellies[1]) / 2.0 if self.side.value == BOW else bellies[int(self.side.value or 0)]

    def _set_belly(self, project: Project, mm: float) -> Project:
        link = self.scope.value
        sides = edits.sides_of(project, link)
        if self.side.value == WAIST:
            return edits.set_waist(project, link, -mm)
        if self.side.value == BOW:
            return edits.set_bow(project, link, sides[0], mm)
        return edits.set_belly(project, link, sides[int(self.side.value or 0)], mm)

    @property
    def _place(self) -> int:
        return int(self.cutout.value or 0)

    def _cutout(self, project: Project) -> Cutout | None:
        cutouts = () if self.scope.value == ALL else edits.own_plate(project, self.scope.value).cutouts
        return cutouts[self._place] if self._place < len(cutouts) else None

    def _move_cutout(self, axis: int, project: Project, mm: float) -> Project:
        found = self._cutout(project)
        if found is None:
            raise HingewrightError("there is no cutout")
        at = (mm, found.at[1]) if axis == 0 else (found.at[0], mm)
        return edits.change_cutout(project, self.scope.value, self._place, at=at)

    # Doing -----------------------------------------------------------------------------------------------------------

    def _follow_selection(self, project: Project) -> None:
        """Choose the link that is selected on the board, and the side or cutout whose grip is."""
        chosen = self.document.selection
        if chosen is None or chosen.kind != "link" or chosen.id not in plated_links(project):
            return
        self._offer_scope(project)
        self.scope.choose(chosen.id)
        self._offer_parts(project)
        found = grips(project, chosen.id)
        grip = found[chosen.part] if chosen.part is not None and chosen.part < len(found) else None
        if grip is not None and grip.kind == "cutout":
            self.cutout.choose(str(grip.place))
        elif grip is not None:
            self.side.choose(BOW if grip.kind == "bow" else str(grip.place))

    def _side_chosen(self) -> None:
        """Select the chosen side's grip on the board."""
        side = self.side.value
        self._take_grip("bow" if side == BOW else "side", 0 if side in (BOW, WAIST) else int(side), part=side != WAIST)

    def _take_grip(self, kind: str, place: int, *, part: bool = True) -> None:
        """Select a grip on the board, or the link alone."""
        link = self.scope.value
        found = [(grip.kind, grip.place) for grip in grips(self.document.project, link)]
        number = found.index((kind, place)) if part and (kind, place) in found else None
        self.document.select(Selection("link", link, number))
        self.refresh(self.document.project)

    def _scope_chosen(self) -> None:
        """Select the chosen link on the board, so that its grips are there."""
        link = self.scope.value
        self.document.select(Selection("link", link) if link != ALL else None)
        self.show_analysis(self.document.analysis)

    def _begin(self) -> None:
        strength = self.document.project.strength
        metal = metal_of(PLATE, 4.0) if strength is None else strength.plate_material
        row = None if metal is None else largest_size(metal.name)
        density = None if row is None else row.density
        self.document.attempt("Build links of plates", lambda p: wide_enough(edits.begin_plates(p, metal, density)))
        self.thickness.line.setFocus()  # the button that had the keys is gone

    def _drop(self) -> None:
        self.scope.choose(ALL)
        self.document.attempt("Remove the plates", edits.drop_plates)
        self.begin_button.setFocus()

    def _as_all(self) -> None:
        link = self.scope.value
        self.document.attempt(f"Plate of {link} as all the others", lambda project: edits.as_all(project, link))
        self.scope.setFocus()  # the button has nothing to do any more

    def _add_cutout(self) -> None:
        link = self.scope.value
        where = edits.first_cutout(self.document.project, link)
        if self.document.attempt(f"Add cutout to {link}", lambda project: edits.add_cutout(project, link, *where)):
            self.cutout.choose(str(len(edits.own_plate(self.document.project, link).cutouts) - 1))
            self.refresh(self.document.project)

    def _remove_cutout(self) -> None:
        link, place = self.scope.value, self._place
        label = f"Remove cutout {place + 1} of {link}"
        self.document.attempt(label, lambda project: edits.remove_cutout(project, link, place))

    def _take(self) -> None:
        link, outline = self.scope.value, self.outline.value
        label = f"Edge of {link} from {outline}"
        self.document.attempt(label, lambda project: edits.edge_from_outline(project, link, outline))

    def _ask_file(self) -> None:
        """Ask for a drawing of the plate."""
        name, _ = QFileDialog.getOpenFileName(self, "Edge of a plate", "", "Drawings (*.dxf);;All files (*)")
        if name:
            self.take_file(Path(name))

    def take_file(self, path: Path) -> None:
        """Take edge and cutouts from a drawing: one step. What is wrong with it is said."""
        from app.files.edge_import import read_contours  # it brings what reads drawings along

        link = self.scope.value
        try:
            contours = read_contours(path)
        except HingewrightError as fault:
            self.document.refuse(str(fault))
            return
        label = f"Edge of {link} from {path.name}"
        self.document.attempt(label, lambda project: take_drawing(project, link, contours))

    def _round(self) -> None:
        link = self.scope.value
        self.document.attempt(f"Plate of {link} round its pins", lambda project: edits.set_edge(project, link, []))


def _offer(box: ChoiceBox, options: list[tuple[str, str]]) -> None:
    """Offer values anew, their words too."""
    if [box.itemText(row) for row in range(box.count())] != [words for _, words in options]:
        kept = box.value
        box.set_options([])
        box.set_options(options)
        box.choose(kept)
