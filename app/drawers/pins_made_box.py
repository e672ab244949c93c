"""Pins and bushings in the drawer Build: what they are, for all pins or for one, and what follows for the shop.

What is chosen above (`all pins`, or one) is what the fields are of: a pin that has something of its own keeps it when
the others change, until it is made as all the others again. Beneath stand what is wrong, the sizes with their limits,
how holes are finished and bushings fixed, and which standards say so.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox, say
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.hardware_words import (
    HARDWARE_CAUTION,
    fault_sentences,
    finishing_sentences,
    joint_sentences,
    making_gist,
    origin_sentences,
    summary_sentences,
)
from app.making_faults import made
from app.metals import bushing_choices, fitted, grade_bushings, metal_choices, metal_of, rated, resized
from app.words import FAILS
from kinematics.build_parts import BUSHINGS, FINISHES, FIXINGS, PIN_KINDS
from kinematics.joints_made import choice_of
from kinematics.making_edits import as_all_pins, choose_pins
from kinematics.strength_parts import joint_of

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.build_parts import PinChoice
    from kinematics.project import Project

ALL, AS_ALL, UNSAID = "", "", ""
"""The scope that is all pins; the choice to be as they are; no metal said."""
WORDS = {
    "clevis pin": "clevis pin, head and split pin",
    "shoulder bolt": "shoulder bolt and nut",
    "plain pin": "plain pin, two rings",
    "sintered": "sintered bronze",
    "press": "pressed in",
    "bond": "retaining compound",
    "reamed": "cut under size, reamed",
    "to size": "cut to size, not reamed",
}
CAUTION = "!"
SIGNS = ((True, FAILS), (False, CAUTION))
"""Before a fault, and before a caution."""
TIPS = {
    "kind": "What goes through the plates, and what keeps it there.",
    "bushing": "Sintered bronze carries its oil and is never reamed; solid bronze is reamed once it sits, and wants "
    "grease. None: the pin turns in the plate itself.",
    "fixing": "Pressed in, which closes the bore a little; or slipped in with retaining compound, which closes nothing "
    "but wants clean metal and time to cure.",
    "holes": "Cut 0.3 to 0.5 mm under size and reamed (common practice, no source); or cut so that the pin goes in as "
    "it is: looser, and nothing for a press fit.",
}
CHOICES = (
    ("kind", "Pins", "Set the kind of pin", PIN_KINDS),
    ("bushing", "Turn in", "Set the bushing", BUSHINGS),
    ("fixing", "Fixed by", "Set how bushings are fixed", FIXINGS),
    ("holes", "Holes", "Set how holes are finished", FINISHES),
)
"""Key, label, name, what may be chosen."""


class PinsMadeBox(LiftBox):
    """Choices, faults, sizes, the work."""

    title: ClassVar[str] = "Pins and bushings"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._build_scope()
        self.choices: dict[str, ChoiceBox] = {}
        for key, label, name, _ in CHOICES:
            self.choices[key] = self.choice(label, name, TIPS[key], [], partial(self._take, key))
            if key == "bushing":
                self._build_grade()
        self._build_sizes()
        self.metal = self.choice(
            "Pins of",
            "Set what pins are of",
            "From the table of materials. With the plates' metal it tells where stainless steel would gall.",
            [],
            self._take_metal,
        )
        self.as_all_button = push_button("As all the others", "Take out what this pin has of its own.", self._as_all)
        self.wide(self.as_all_button)
        self.sizes = self.text_row()
        self.faults = self.text_row()
        self.heading("In the shop")
        self.work = self.text_row()
        self.caution = self.told(HARDWARE_CAUTION)
        self.heading("Where the sizes come from")
        self.origin = self.told("")
        self.refresh(document.project)

    # Rows ------------------------------------------------------------------------------------------------------------

    def _build_scope(self) -> None:
        self.scope = ChoiceBox([(ALL, "all pins")])
        named(self.scope, "Pins to choose for", "Whether the choices below are for all pins, or for one alone.")
        self.scope.activated.connect(lambda: self.show_analysis(self.document.analysis))
        self.row("For", self.scope)

    def _build_grade(self) -> None:
        self.grade = self.choice(
            "Bushings of",
            "Set what bushings are of",
            "What they bear is rated by it. It counts once the drawer Lift reckons with pins and plates.",
            [],
            lambda project, name: grade_bushings(project, self.scope.value, name),
        )

    def _build_sizes(self) -> None:
        self.diameter = self.length(
            "Diameter",
            "Set the pins' diameter",
            "Of the shank; strength in the drawer Lift is reckoned with it. Tables have 4, 5, 6, 8, 10, 12, 14, 16, "
            "20 mm and 1/4, 5/16, 3/8, 1/2 in.",
            lambda project: self._shown(project).diameter or 0.0,
            self._resize,
        )
        self.wall = self.over_nothing(
            "Bushing's wall",
            "Set the bushings' wall",
            "The bushing whose wall is nearest to it is taken. Empty: the thinnest, which leaves the plate most.",
            lambda project: self._shown(project).wall,
            lambda project, mm: fitted(self._edit(project, wall=mm)),
        )
        self.wall.line.setPlaceholderText("thinnest")
        self.washer = self.length(
            "Washers",
            "Set the washers' thickness",
            "Between two plates on a pin, and below head and clip; of all pins. 0 takes them as none.",
            lambda project: project.stacking.washer,
            lambda project, mm: choose_pins(project, washer=mm),
        )

    # Showing ---------------------------------------------------------------------------------------------------------

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say what pins there are, and how many faults."""
        joints, faults = made(analysis.project)
        return making_gist(joints, sum(fault.grave for fault in faults), document.units)

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the newest project and what follows of it."""
        super().show_analysis(analysis)
        joints, faults = made(analysis.project)
        pivot = self.scope.value
        shown = [joint for joint in joints.values() if pivot in (ALL, joint.pivot)]
        told = [fault for fault in faults if pivot == ALL or pivot in fault.pivots]
        signs = [(fault_sentences([f for f in told if f.grave is grave], self.units), sign) for grave, sign in SIGNS]
        say(self.faults, [f"{sign} {words}" for sentences, sign in signs for words in sentences])
        sizes = joint_sentences if pivot != ALL else None
        say(self.sizes, sizes(shown[0], self.units) if sizes and shown else summary_sentences(shown, self.units))
        say(self.work, finishing_sentences(shown))
        say(self.origin, origin_sentences(shown))

    def refresh(self, project: Project) -> None:
        """Show the values of a project for the pins that are chosen."""
        pins = {pin.pivot for pin in project.stacking.pins}
        each = [(pin.id, f"pin {pin.id}{', of its own' if pin.id in pins else ''}") for pin in project.pivots]
        self.scope.set_options([(ALL, "all pins"), *each])
        super().refresh(project)
        self._show_choices(project)

    def _show_choices(self, project: Project) -> None:
        own = {pin.pivot for pin in project.stacking.pins}
        pivot, common = self.scope.value, choice_of(project)
        self.as_all_button.setVisible(pivot != ALL)
        self.as_all_button.setEnabled(pivot in own)
        has = next((pin for pin in project.stacking.pins if pin.pivot == pivot), None)
        for key, _, _, options in CHOICES:
            offered = [(each, WORDS.get(each, each)) for each in options]
            usual = getattr(common, key)
            if pivot != ALL:
                offered.insert(0, (AS_ALL, f"as all ({usual})"))
            value = usual if pivot == ALL else (getattr(has, key) if has is not None else None) or AS_ALL
            self.choices[key].set_options(offered)
            self.choices[key].choose(value)
        bushed = self._shown(project).bushing != "none"
        self.choices["fixing"].setEnabled(bushed)
        self.wall.setEnabled(bushed)
        self._show_grade(project, bushed)
        self.washer.setEnabled(pivot == ALL)
        self._show_metal(project)

    def _show_grade(self, project: Project, bushed: bool) -> None:
        strength, kind = project.strength, self._shown(project).bushing or ""
        had = None if strength is None else joint_of(strength, self.scope.value).bushing
        name = UNSAID if had is None or had.kind not in (None, kind) else had.name
        offered = bushing_choices(kind) if bushed and strength is not None else []
        if all(name != each for each, _ in offered):
            offered.insert(0, (name, name or "not said"))
        self.grade.set_options(offered)
        self.grade.choose(name)
        self.grade.setEnabled(bushed and strength is not None)

    def _show_metal(self, project: Project) -> None:
        metal = self._shown(project).metal
        offered = [(UNSAID, "not said"), *metal_choices("pin")]
        if metal is not None and all(metal.name != name for name, _ in offered):
            offered.append((metal.name, metal.name))
        self.metal.set_options(offered)
        self.metal.choose(UNSAID if metal is None else metal.name)

    def _shown(self, project: Project) -> PinChoice:
        """The choice that the fields are of."""
        return choice_of(project, self.scope.value or None)

    # Doing -----------------------------------------------------------------------------------------------------------

    def _edit(self, project: Project, **fields: object) -> Project:
        return choose_pins(project, self.scope.value or None, **fields)

    def _take(self, key: str, project: Project, value: str) -> Project:
        project = self._edit(project, **{key: value or None})
        return rated(project, self.scope.value) if key == "bushing" else project

    def _resize(self, project: Project, mm: float) -> Project:
        """Another diameter, and the metal's figures for it."""
        project = self._edit(project, diameter=mm)
        metal = self._shown(project).metal
        new = None if metal is None else resized(metal, mm)
        return fitted(project if new == metal else self._edit(project, metal=new))

    def _take_metal(self, project: Project, name: str) -> Project:
        return self._edit(project, metal=metal_of(name, self._shown(project).diameter or 1.0) if name else None)

    def _as_all(self) -> None:
        pivot = self.scope.value
        self.document.attempt(f"Pin {pivot} as all the others", lambda project: as_all_pins(project, pivot))
        self.scope.setFocus()  # the button has nothing to do any more
