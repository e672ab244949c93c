"""Pins and plates in the drawer Lift: what they are, for all joints or for one, and how far each is from its strength.

Nothing is said of them until the builder wants it; then usual sizes stand there to begin with. What is chosen above
(`all joints`, or one pin) is what the fields are of: a pin that has something of its own keeps it when the others
change, until it is made as all the others again. Beneath stands every figure, worst first; a click goes to its opening
and selects its pin or link.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from app.drawers.lift_box import LiftBox, say
from app.drawers.strength_table import StrengthTable
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.metals import (
    NONE,
    OWN,
    PIN,
    PLATE,
    bushing_choices,
    bushing_of,
    metal_choices,
    metal_of,
    metal_words,
    own_metal,
    resized,
)
from app.quantities import NUMBER, PRESSURE_SPEED, SHARE, SLIDING, STRESS, TIME
from app.strength_words import STRENGTH_CAUTION, sideways_sentences, strength_gist, strength_sentences
from kinematics import loading
from kinematics.errors import HingewrightError
from kinematics.joints import joint_by_pivot
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

ALL = ""
"""The scope that is all joints."""
USUAL = "usual"
INTRO = (
    "Hold the pins' forces against pins, plates and bushings: shear, bending, bearing, tear-out, buckling, each with "
    "the safety that it has. Usual sizes stand there to begin with."
)

AS_PLATED = (
    "The links' own plates are those of the drawer Build: their thickness, metal, edge distance and number are taken "
    "from there. What stands here of plates is of the brackets at fixed link and panel."
)


class StrengthBox(LiftBox):
    """Pins, plates, bushings; the figures; how far the panel sways."""

    title: ClassVar[str] = "Pins and plates"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._own_rows: list[QWidget] = []  # there once something is said of pins and plates
        self.intro = self.told(INTRO)
        self.begin_button = self.button(
            "Reckon with pins and plates", "Begin with usual pins and plates; every size can be changed.", self._begin
        )
        self._build_wants()
        self._build_scope()
        self.plated = self.told(AS_PLATED)
        self._build_sizes()
        self._build_metals()
        self._build_bushing()
        self.sentences = self.text_row()
        self.table = StrengthTable(document, board)
        self.wide(self.table)
        self.sway = self.text_row()
        self.caution = self.told(STRENGTH_CAUTION)
        self.drop_button = self.button(
            "No more of pins and plates", "Take all that is said of them out again, and their checks.", self._drop
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

    def _build_sizes(self) -> None:
        self.diameter = self._size("Pin diameter", "Set the pin's diameter", "Of the pin.", "diameter")
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
                "The link whose plates are the outer ones at this pin. Usual: the fixed link or the panel, else the "
                "first link of the pivot.",
                [(USUAL, "usual")],
                lambda project, value: self._edit(project, outer_link=None if value == USUAL else value),
            )
        )
        self.inner = self._size("Inner plate", "Set the inner plate's thickness", "Thickness.", "inner")
        self.outer = self._size("Outer plate", "Set the outer plate's thickness", "Thickness of each one.", "outer")
        self.washer = self._kept(
            self.length(
                "Washers",
                "Set the washers' thickness",
                "Between two plates, on each side: they hold the plates apart and let the pin bend more.",
                lambda project: self._joint(project, "washer", 0.0),
                lambda project, mm: self._edit(project, washer=mm),
            )
        )
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
        self.metals: dict[str, tuple[ChoiceBox, Any]] = {}
        for key, words in (("pin_material", "pin"), ("plate_material", "plate")):
            choice = self._kept(
                self.choice(
                    f"{words.capitalize()}s of",
                    f"Set the {words}s' material",
                    "From the table, by standard designation; typing strengths below makes them your own.",
                    metal_choices(words),
                    partial(self._take_metal, key),
                )
            )
            field = self._kept(
                self.quantity(
                    "Yields at",
                    f"Set the {words}s' yield strength",
                    "Yield strength or 0.2 % proof stress, as the metal's paper has it.",
                    STRESS,
                    partial(self._yields, key),
                    partial(self._set_yields, key),
                )
            )
            self.metals[key] = choice, field
            choice.setObjectName(key)
        self.modulus = self._kept(
            self.quantity(
                "Plates' modulus",
                "Set the plates' elastic modulus",
                "By it plates buckle: about 210 GPa for steel, 70 GPa for aluminium.",
                STRESS,
                lambda project: 1.0 if project.strength is None else self._shown(project).plate_material.modulus_mpa,
                lambda project, value: self._own(project, "plate_material", modulus=_above(value)),
            )
        )
        self.origin = self.told("")
        self._own_rows.append(self.origin)

    def _build_bushing(self) -> None:
        self.bushing = self._kept(
            self.choice(
                "Bushing",
                "Set the bushing",
                "What the pin turns in, in the inner plate; none: in the plate itself.",
                bushing_choices(),
                self._take_bushing,
            )
        )
        self._bushing_rows: list[QWidget] = []
        sizes = (
            ("Its length", "Set the bushing's length", "Along the pin.", "length"),
            ("Its outside", "Set the bushing's outside diameter", "The hole in the plate is as wide.", "outside"),
        )
        for label, name, tip, key in sizes:
            field = self.length(label, name, tip, partial(self._bushed, key), partial(self._rebush, key))
            setattr(self, f"bushing_{key}", field)
            self._bushing_rows.append(self._kept(field))
        ratings = (
            ("Bears", "Set the bushing's pressure", "The pressure that it is rated for.", "pressure_mpa", STRESS),
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
        say(self.sway, sideways_sentences(analysis, self.units))
        self.table.show_analysis(analysis)
        self._show_rows(analysis.project)

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
        for key, use in (("pin_material", "pin"), ("plate_material", "plate")):
            metal = getattr(joint, key)
            choices = metal_choices(use)
            self._offer(
                self.metals[key][0],
                choices if any(metal.name == n for n, _ in choices) else [*choices, (metal.name, metal.name)],
            )
            self.metals[key][0].choose(metal.name)
        kind = NONE if joint.bushing is None else joint.bushing.name
        choices = bushing_choices()
        self._offer(self.bushing, choices if any(kind == n for n, _ in choices) else [*choices, (kind, kind)])
        self.bushing.choose(kind)
        pin = metal_words(joint.pin_material, joint.diameter)
        plate = metal_words(joint.plate_material, max(joint.inner, joint.outer))
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
        self.plated.setVisible(False)
        if project.strength is None:
            return
        scope = self.scope.value
        self.plated.setVisible(are_said(project))
        for widget in (self.factor, self.uneven, self.seconds):
            self.set_row(widget, not scope)
        self.set_row(self.outer_link, bool(scope))
        self.as_all_button.setVisible(bool(scope) and not project.strength.joint(scope).says_nothing)
        for widget in self._bushing_rows:
            self.set_row(widget, self._shown(project).bushing is not None)

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
        """Another size, and the metal's figures for it."""
        project = self._edit(project, **{key: mm})
        joint = self._shown(project)
        metal = "pin_material" if key == "diameter" else "plate_material"
        size = joint.diameter if key == "diameter" else max(joint.inner, joint.outer)
        old = getattr(joint, metal)
        new = resized(old, size)
        return project if new == old else self._edit(project, **{metal: new})

    def _take_metal(self, key: str, project: Project, name: str) -> Project:
        joint = self._shown(project)
        metal = metal_of(name, joint.diameter if key == "pin_material" else max(joint.inner, joint.outer))
        return project if metal is None else self._edit(project, **{key: metal})

    def _own(self, project: Project, key: str, **figures: float) -> Project:
        metal: Metal = getattr(self._shown(project), key)
        return self._edit(project, **{key: own_metal(metal, **figures)})

    def _yields(self, key: str, project: Project) -> float:
        return 1.0 if project.strength is None else float(getattr(self._shown(project), key).yield_mpa)

    def _set_yields(self, key: str, project: Project, value: float) -> Project:
        return self._own(project, key, yields=_above(value))

    def _bushed(self, key: str, project: Project) -> float:
        bushing: Bushing | None = self._joint(project, "bushing", None)
        return 1.0 if bushing is None else float(getattr(bushing, key))

    def _take_bushing(self, project: Project, name: str) -> Project:
        joint = self._shown(project)
        if name == NONE:
            return self._edit(project, bushing=None, **({"plain": True} if self.scope.value else {}))
        old = joint.bushing
        length = joint.inner if old is None else old.length
        outside = joint.diameter * 1.5 if old is None else old.outside
        new = bushing_of(name, length, outside)
        return (
            project
            if new is None
            else self._edit(project, bushing=new, **({"plain": False} if self.scope.value else {}))
        )

    def _rebush(self, key: str, project: Project, value: float) -> Project:
        bushing = self._shown(project).bushing
        if bushing is None:
            return project
        own: dict[str, Any] = {} if key in ("length", "outside") else {"name": OWN, "source": ""}
        own[key] = value
        return self._edit(project, bushing=replace(bushing, **own))

    # Doing -----------------------------------------------------------------------------------------------------------

    def _begin(self) -> None:
        pin, plate = metal_of(PIN, 8.0), metal_of(PLATE, 8.0)
        if pin is not None and plate is not None:
            self.document.attempt("Reckon with pins and plates", lambda project: begin_strength(project, pin, plate))
            self.factor.line.setFocus()  # the button that had the keys is gone

    def _drop(self) -> None:
        self.scope.choose(ALL)
        self.document.attempt("No more of pins and plates", drop_strength)
        self.begin_button.setFocus()

    def _as_all(self) -> None:
        pivot = self.scope.value
        self.document.attempt(f"Pin {pivot} as all the others", lambda project: as_all(project, pivot))


def _above(value: float) -> float:
    """A value that must be more than nothing."""
    if not value > 0.0:
        raise HingewrightError("it must be more than 0", remedy="Type a larger value.")
    return value
