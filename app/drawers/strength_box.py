"""Pins and plates in the drawer Lift: what they are, for all joints or for one, and how far each is from its strength.

Nothing is said of them until the builder wants it; then usual sizes stand there to begin with. Pins, bushings and
washers are typed in the drawer Build alone, and so are plates and mounts once they are said there: here a line says
what they are, with a way to go there. What is chosen above (`all joints`, or one pin) is what the fields are of: a pin
that has something of its own keeps it when the others change, until it is made as all the others again. Beneath stands
every figure, worst first; a click goes to its opening and selects its pin or link; and what the whole stack changes.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from app.built_words import built_pins, built_plates, stacked_sentences
from app.drawers.lift_box import LiftBox, say
from app.drawers.strength_table import StrengthTable
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.metals import OWN, PIN, PLATE, metal_choices, metal_of, metal_words, own_metal, rated, resized
from app.quantities import NUMBER, PRESSURE_SPEED, SHARE, SLIDING, STRESS, TIME
from app.stack.job import stack_job
from app.strength_words import STRENGTH_CAUTION, sideways_sentences, strength_gist, strength_sentences
from kinematics import loading
from kinematics.errors import HingewrightError
from kinematics.joints import is_built, joint_by_pivot
from kinematics.joints_made import choice_of
from kinematics.making_edits import choose_pins
from kinematics.plating import are_said
from kinematics.strength_parts import SHEARS, Joint, joint_of
from kinematics.strengthening import as_all, begin_strength, drop_strength, strengthen

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.strength_parts import Bushing, Metal

ALL, NONE = "", "none"
"""The scope that is all joints; the bushing that is none."""
USUAL = "usual"
INTRO = (
    "Hold the pins' forces against pins, plates and bushings: shear, bending, bearing, tear-out, buckling, each with "
    "the safety that it has. Usual sizes stand there to begin with."
)

TO_PINS, TO_PLATES = "pins and bushings", "link plates"
"""The words by which the box says where in the drawer Build somebody wants to go."""


class StrengthBox(LiftBox):
    """Pins, plates, bushings; the figures; how far the panel sways."""

    title: ClassVar[str] = "Pins and plates"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.job = stack_job(document)
        self.job.changed.connect(self._renew)
        self._own_rows: list[QWidget] = []  # there once something is said of pins and plates
        self.intro = self.told(INTRO)
        self.begin_button = self.button(
            "Reckon with pins and plates", "Begin with usual pins and plates; every size can be changed.", self._begin
        )
        self._build_wants()
        self._build_scope()
        self._build_lines()
        self._build_sizes()
        self._build_metals()
        self._build_bushing()
        self.sentences = self.text_row()
        self.table = StrengthTable(document, board)
        self.wide(self.table)
        self.stacked = self.text_row()
        self.sway = self.text_row()
        self.caution = self.told(STRENGTH_CAUTION)
        self.drop_button = self.button(
            "Remove pins and plates", "Take all that is said of them out again, and their checks.", self._drop
        )
        self._own_rows += [self.table, self.caution, self.drop_button]

    # Rows ------------------------------------------------------------------------------------------------------------

    def _build_wants(self) -> None:
        self.factor = self._kept(
            self.quantity(
                "Safety wanted",
                "Set the safety wanted",
                "How many times the load would have to grow before something yields; at least 1. 2 is common for loads "
                "that are well known (common practice, no source). Of bushings 1 is wanted, as they are rated.",
                NUMBER,
                lambda project: 2.0 if project.strength is None else project.strength.factor,
                lambda project, value: strengthen(project, factor=value),
            )
        )
        self.uneven = self._kept(
            self.optional_quantity(
                "Worse hinge takes",
                "Set the share of the worse hinge",
                "Of two hinges, how much of all loads the worse one carries, 50 to 100 %. Empty: 60 % (common "
                "practice, no source).",
                SHARE,
                lambda project: None if project.loads is None else project.loads.uneven,
                lambda project, value: loading.with_loads(project, uneven=value),
            )
        )
        self.uneven.line.setPlaceholderText("60 %")
        self.seconds = self._kept(
            self.quantity(
                "Opened in",
                "Set the time of opening",
                "How long it takes to open the panel: by it pins slide in their bushings.",
                TIME,
                lambda project: 2.0 if project.strength is None else project.strength.opens_in_s,
                lambda project, value: strengthen(project, opens_in_s=value),
            )
        )

    def _build_scope(self) -> None:
        self.scope = ChoiceBox([(ALL, "all joints")])
        named(self.scope, "Joints to type", "Whether the sizes below are of all joints, or of one pin alone.")
        self.scope.activated.connect(lambda: self.refresh(self.document.project))
        self.row("Joints", self.scope)
        self._own_rows.append(self.scope)
        self.as_all_button = push_button(
            "As all the others", "Take out what this pin's joint has of its own.", self._as_all
        )
        self._own_rows.append(self.wide(self.as_all_button))

    def _build_lines(self) -> None:
        """What is typed in the drawer Build, and ways to go there."""
        self.pins = self.told("")
        self.to_pins = self.button(
            "Pins and bushings…", "Go to the drawer Build, where they are typed.", lambda: self.wanted.emit(TO_PINS)
        )
        self.plates = self.told("")
        self.to_plates = self.button(
            "Link plates…", "Go to the drawer Build, where they are typed.", lambda: self.wanted.emit(TO_PLATES)
        )
        self._own_rows += [self.pins, self.to_pins, self.plates, self.to_plates]

    def _build_sizes(self) -> None:
        self.shear = self._kept(
            self.choice(
                "Shear",
                "Set how the pin is held",
                "Double: two outer plates hold the pin on either side of the inner one. Single: one outer plate holds "
                "it fast, the inner one turns on its free end.",
                [(each, each) for each in SHEARS],
                lambda project, value: self._edit(project, shear=value),
            )
        )
        self.outer_link = self._kept(
            self.choice(
                "Outer link",
                "Set the link outside",
                "The link whose plates are the outer ones at this pin. Usual: the only one built of a pair, else the "
                "fixed link or the panel, else the first link of the pivot.",
                [(USUAL, "usual")],
                lambda project, value: self._edit(project, outer_link=None if value == USUAL else value),
            )
        )
        self.inner = self._size("Inner plate", "Set the inner plate's thickness", "Thickness.", "inner")
        self.outer = self._size("Outer plate", "Set the outer plate's thickness", "Thickness of each one.", "outer")
        self.edge = self._kept(
            self.over_nothing(
                "Hole to edge",
                "Set the way from hole to edge",
                "From the hole's centre to the plate's edge. Empty: half of the link's width. 1.5 times the hole "
                "is the least that is usual, 2 times is better (common practice, no source).",
                lambda project: self._joint(project, "edge", None),
                lambda project, mm: self._edit(project, edge=mm),
            )
        )
        self.edge.line.setPlaceholderText("half the width")

    def _size(self, label: str, name: str, tip: str, key: str) -> Any:  # noqa: ANN401  a field of lengths
        """Add a size that metals may go by."""
        return self._kept(
            self.length(
                label,
                name,
                tip,
                lambda project: self._joint(project, key, 1.0),
                lambda project, mm: self._resize(project, key, mm),
            )
        )

    def _build_metals(self) -> None:
        self.pin_yields = self._kept(
            self.quantity(
                "Pins yield at",
                "Set the pins' yield strength",
                "Yield strength or 0.2 % proof stress, as the metal's paper has it; typing it makes the figures your "
                "own. Which metal it is you choose with the pins, in the drawer Build.",
                STRESS,
                lambda project: 1.0 if project.strength is None else self._pin_metal(project).yield_mpa,
                self._set_pin_yields,
            )
        )
        self.metal = self._kept(
            self.choice(
                "Plates of",
                "Set the plates' material",
                "From the table, by standard designation; typing strengths below makes them your own.",
                metal_choices("plate"),
                self._take_metal,
            )
        )
        self.plate_yields = self._kept(
            self.quantity(
                "Plates yield at",
                "Set the plates' yield strength",
                "Yield strength or 0.2 % proof stress, as the metal's paper has it.",
                STRESS,
                lambda project: 1.0 if project.strength is None else self._shown(project).plate_material.yield_mpa,
                lambda project, value: self._own(project, yields=_above(value)),
            )
        )
        self.modulus = self._kept(
            self.quantity(
                "Plates' modulus",
                "Set the plates' elastic modulus",
                "By it plates buckle: about 210 GPa for steel, 70 GPa for aluminium.",
                STRESS,
                lambda project: 1.0 if project.strength is None else self._shown(project).plate_material.modulus_mpa,
                lambda project, value: self._own(project, modulus=_above(value)),
            )
        )
        self.origin = self.told("")
        self._own_rows.append(self.origin)

    def _build_bushing(self) -> None:
        self._bushing_rows: list[QWidget] = []
        self.bushing_length = self._kept(
            self.length(
                "Bushing's length",
                "Set the bushing's length",
                "Along the pin, until plates are said in the drawer Build: then it follows their thickness.",
                partial(self._bushed, "length"),
                partial(self._rebush, "length"),
            )
        )
        ratings = (
            ("Bushing bears", "Set the bushing's pressure", "Its rated pressure.", "pressure_mpa", STRESS),
            ("Slides at", "Set the bushing's speed", "The speed that it is rated for.", "speed_m_s", SLIDING),
            (
                "p × v",
                "Set the bushing's p × v",
                "Pressure × speed that it is rated for.",
                "pv_mpa_m_s",
                PRESSURE_SPEED,
            ),
        )
        for label, name, tip, key, quantity in ratings:
            field = self.quantity(
                label,
                name,
                f"{tip} Typing it makes the figures your own.",
                quantity,
                partial(self._bushed, key),
                partial(self._rebush, key),
            )
            self._bushing_rows.append(self._kept(field))

    def _kept(self, widget: Any) -> Any:  # noqa: ANN401  any row's widget
        """Remember a row that is there only once something is said of pins and plates."""
        self._own_rows.append(widget)
        return widget

    # Showing ---------------------------------------------------------------------------------------------------------

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say the least safety."""
        return strength_gist(analysis, document.units)

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the newest project and its figures."""
        super().show_analysis(analysis)
        say(self.sentences, strength_sentences(analysis, self.units))
        self._show_stacked()
        say(self.sway, sideways_sentences(analysis, self.units))
        self.table.show_analysis(analysis)
        self._show_rows(analysis.project)

    def _show_stacked(self) -> None:
        """Say what the whole stack changes; while it is worked out what was said of an older one stands faint."""
        analysis = self.document.analysis
        is_told = analysis.strength is not None and not analysis.strength.untold and is_built(analysis.project)
        stack = self.job.newest() if is_told else None
        self.stacked.setEnabled(stack is not None)
        if stack is not None:
            say(self.stacked, stacked_sentences(analysis, stack, self.units))
        elif not is_told:
            say(self.stacked, [])

    def _renew(self) -> None:
        if self.isVisible():
            self._show_stacked()

    def refresh(self, project: Project) -> None:
        """Show the values of a project for the joints that are chosen."""
        if project.strength is not None:
            own = {joint.pivot for joint in project.strength.joints}
            pins = [(pin.id, f"pin {pin.id}{', of its own' if pin.id in own else ''}") for pin in project.pivots]
            self._offer(self.scope, [(ALL, "all joints"), *pins])
            self._show_choices(project)
        super().refresh(project)
        self._show_rows(project)

    def _show_choices(self, project: Project) -> None:
        joint = self._shown(project)
        self.shear.choose(joint.shear)
        if self.scope.value:
            joins = project.pivot(self.scope.value).joins
            usual = joint_by_pivot(project)[joint.pivot].outer
            self._offer(
                self.outer_link,
                [
                    (USUAL, f"usual ({usual})" if joint.outer_link is None else "usual"),
                    *((link, link) for link in joins),
                ],
            )
            self.outer_link.choose(joint.outer_link or USUAL)
        choices, name = metal_choices("plate"), joint.plate_material.name
        self._offer(self.metal, choices if any(name == each for each, _ in choices) else [*choices, (name, name)])
        self.metal.choose(name)
        pivot = self.scope.value
        self.pins.setText(built_pins(project, pivot, self.units))
        self.plates.setText(built_plates(project, pivot, self.units))
        pin = metal_words(self._pin_metal(project), choice_of(project, pivot or None).diameter or joint.diameter)
        metal = project.plating.metal or joint.plate_material
        plate = metal_words(metal, project.plating.thickness or max(joint.inner, joint.outer))
        bush = "" if joint.bushing is None or not joint.bushing.source else f" Bushing: {joint.bushing.source}."
        self.origin.setText(f"Pin: {pin} Plate: {plate}{bush}")

    @staticmethod
    def _offer(box: ChoiceBox, options: list[tuple[str, str]]) -> None:
        """Offer values anew, their words too."""
        if [box.itemText(row) for row in range(box.count())] != [words for _, words in options]:
            kept = box.value
            box.set_options([])
            box.set_options(options)
            box.choose(kept)

    def _show_rows(self, project: Project) -> None:
        """Show what there is something to type of."""
        there = project.strength is not None
        self.intro.setVisible(not there)
        self.begin_button.setVisible(not there)
        for widget in self._own_rows:
            self.set_row(widget, there)
        if project.strength is None:
            return
        scope = self.scope.value
        plated, mount = are_said(project), project.mounted
        held = plated and mount.base is not None and mount.bracket is not None  # then all plates are said
        for widget in (self.factor, self.uneven, self.seconds):
            self.set_row(widget, not scope)
        self.set_row(self.outer_link, bool(scope))
        self.as_all_button.setVisible(bool(scope) and not project.strength.joint(scope).says_nothing)
        self.plates.setVisible(plated)
        self.to_plates.setVisible(plated)
        for widget in (self.inner, self.edge):
            self.set_row(widget, not plated)
        for widget in (self.shear, self.outer):
            self.set_row(widget, not held)
        for widget in (self.metal, self.plate_yields, self.modulus):
            self.set_row(widget, project.plating.metal is None)
        bushed = self._shown(project).bushing is not None and choice_of(project, scope or None).bushing != NONE
        for widget in self._bushing_rows:
            self.set_row(widget, bushed)
        self.set_row(self.bushing_length, bushed and not plated)

    # Reading and editing ---------------------------------------------------------------------------------------------

    def _shown(self, project: Project) -> Joint:
        """The joint whose sizes are shown: one pin's, or what all have."""
        if project.strength is None:
            raise HingewrightError("nothing is said of pins and plates yet")
        return joint_of(project.strength, self.scope.value)

    def _joint(self, project: Project, key: str, absent: Any) -> Any:  # noqa: ANN401  any field of a joint
        return absent if project.strength is None else getattr(self._shown(project), key)

    def _edit(self, project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of a joint
        return strengthen(project, self.scope.value or None, **fields)

    def _resize(self, project: Project, key: str, mm: float) -> Project:
        """Another thickness, and the metal's figures for it."""
        project = self._edit(project, **{key: mm})
        joint = self._shown(project)
        new = resized(joint.plate_material, max(joint.inner, joint.outer))
        return project if new == joint.plate_material else self._edit(project, plate_material=new)

    def _take_metal(self, project: Project, name: str) -> Project:
        joint = self._shown(project)
        metal = metal_of(name, max(joint.inner, joint.outer))
        return project if metal is None else self._edit(project, plate_material=metal)

    def _own(self, project: Project, **figures: float) -> Project:
        return self._edit(project, plate_material=own_metal(self._shown(project).plate_material, **figures))

    def _pin_metal(self, project: Project) -> Metal:
        return choice_of(project, self.scope.value or None).metal or self._shown(project).pin_material

    def _set_pin_yields(self, project: Project, value: float) -> Project:
        """Own figures, where the metal is said."""
        metal, pivot = own_metal(self._pin_metal(project), yields=_above(value)), self.scope.value
        if project.stacking.metal is None and all(pin.metal is None for pin in project.stacking.pins):
            return self._edit(project, pin_material=metal)
        return choose_pins(project, pivot or None, metal=metal)

    def _bushed(self, key: str, project: Project) -> float:
        bushing: Bushing | None = self._joint(project, "bushing", None)
        return 1.0 if bushing is None else float(getattr(bushing, key))

    def _rebush(self, key: str, project: Project, value: float) -> Project:
        bushing = self._shown(project).bushing
        if bushing is None:
            return project
        own: dict[str, Any] = {} if key == "length" else {"name": OWN, "source": ""}
        own[key] = value
        return self._edit(project, bushing=replace(bushing, **own))

    # Doing -----------------------------------------------------------------------------------------------------------

    def _begin(self) -> None:
        pin, plate = metal_of(PIN, 8.0), metal_of(PLATE, 8.0)
        if pin is not None and plate is not None:
            self.document.attempt(
                "Reckon with pins and plates", lambda project: rated(begin_strength(project, pin, plate))
            )
            self.factor.line.setFocus()  # the button that had the keys is gone

    def _drop(self) -> None:
        self.scope.choose(ALL)
        self.document.attempt("Remove pins and plates", drop_strength)
        self.begin_button.setFocus()

    def _as_all(self) -> None:
        pivot = self.scope.value
        self.document.attempt(f"Pin {pivot} as all the others", lambda project: as_all(project, pivot))


def _above(value: float) -> float:
    """A value that must be more than nothing."""
    if not value > 0.0:
        raise HingewrightError("it must be more than 0", remedy="Type a larger value.")
    return value
