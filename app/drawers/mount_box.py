"""Bracket and base in the drawer Build: how the hinge is held at panel and wall, and the stop between two links.

Nothing is said of them until the builder wants it; then usual sizes stand there to begin with. Beneath the sizes stands
what they come to, what is wrong, and the parts as they are cut.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from app.drawers.cut_sheet import CutSheet
from app.drawers.lift_box import LiftBox, say
from app.hardware import hardware
from app.making.mounts import faults_of
from app.making.planned import CutPlan
from app.mount_words import (
    BENDING_CAUTION,
    WELDING_CAUTION,
    base_sentences,
    bracket_sentences,
    fault_sentences,
    stop_sentences,
)
from app.words import FAILS
from kinematics.faces import place_on, skin, wall
from kinematics.mount_cuts import base_parts, bracket_parts
from kinematics.mount_edits import KINDS, begin_mount, drop_mount, set_mount
from kinematics.mount_parts import BENT, STOP_KINDS, WELD_SIDES
from kinematics.mounting import base_made, bracket_made
from kinematics.stop_made import stop_block, stop_made
from kinematics.threads import threads

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board import Board
    from app.document import Document
    from app.entry.form import ChoiceBox
    from kinematics.analysis import Analysis
    from kinematics.cutting import Part
    from kinematics.faces import Face
    from kinematics.mounting import MountFault
    from kinematics.project import Project

Row = tuple[str, str, str, str]
"""Kind of row, field, label, tip; the label of the step follows from the label."""


class MountBox(LiftBox):
    """What bracket, base and stop part have in common: begin, rows, figures, parts, drop."""

    which: ClassVar[str] = ""
    noun: ClassVar[str] = ""
    begins: ClassVar[str] = ""
    intro: ClassVar[str] = ""
    caution: ClassVar[str] = ""
    rows: ClassVar[tuple[Row, ...]] = ()
    choices: ClassVar[dict[str, tuple[tuple[str, str], ...]]] = {}

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.introduction = self.told(self.intro)
        self.begin_button = self.button(
            self.begins, "Begin with usual sizes; every one of them can be changed.", self._begin
        )
        self.body = LiftBox(document, board)
        self.fields: dict[str, Any] = {}
        for row in self.rows:
            self.fields[row[1]] = self._add(*row)
        self.wide(self.body)
        self.show_button = self.body.button(
            f"Show where the {self.noun.removesuffix(' as a part')} is",
            "Go to its opening and mark its place on the board.",
            self._show_place,
        )
        self.faults, self.figures = self.body.text_row(), self.body.text_row()
        self.sheet = CutSheet()
        self.body.wide(self.sheet)
        self.body.told(self.caution)
        self.drop_button = self.body.button(
            f"Remove the {self.noun}", "Take all that is said of it out again.", self._drop
        )

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Say whether there is one, and whether it can be made as it is laid out."""
        part = getattr(analysis.project.mounted, cls.which)
        if part is None:
            return ""
        faults = cls.faults_in(analysis.project, part)
        return f"{FAILS} has faults" if any(not each.is_caution for each in faults) else "laid out"

    @classmethod
    def faults_in(cls, project: Project, part: Any) -> Sequence[MountFault]:  # noqa: ARG003, ANN401  one of the mount's
        """Give what is wrong with it, as far as that is quickly told."""
        return ()

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the sizes, what they come to, and the parts."""
        super().show_analysis(analysis)
        said = getattr(analysis.project.mounted, self.which) is not None
        self.introduction.setVisible(not said)
        self.begin_button.setVisible(not said)
        self.body.setVisible(said)
        if not said:
            return
        self.body.refresh(analysis.project)
        faults, figures, parts = self.made(analysis)
        say(self.faults, faults)
        say(self.figures, figures)
        cuts = [CutPlan(part, part.mark, part.count) for part in parts]
        self.sheet.show_cuts(cuts, self.board.look, self.units)

    def made(self, analysis: Analysis) -> tuple[list[str], list[str], list[Part]]:
        """Give what is wrong, what it comes to, and its parts."""
        raise NotImplementedError

    def place(self, analysis: Analysis) -> tuple[complex, float] | None:
        """Give where it is on the sheet, and the opening (deg) at which it is there; None where it is nowhere."""
        raise NotImplementedError

    # Inside ----------------------------------------------------------------------------------------------------------

    def _show_place(self) -> None:
        found = self.place(self.document.analysis)
        if found is not None:
            at, deg = found
            self.board.show_place((at.real, at.imag), deg)

    def _part(self, project: Project) -> Any:  # noqa: ANN401  one of the mount's parts
        return getattr(project.mounted, self.which) or KINDS[self.which]()

    def _add(self, kind: str, key: str, label: str, tip: str) -> Any:  # noqa: ANN401  a field or a choice
        """Add a row of a kind for a field of the part."""
        name = f"Set the {self.which.replace('_', ' ')}’s {label.lower()}"

        def read(project: Project) -> Any:  # noqa: ANN401  whatever the field holds
            return getattr(self._part(project), key)

        def edit(project: Project, value: object) -> Project:
            return set_mount(project, self.which, **{key: value})

        if kind == "choice":
            return self._choose(label, name, tip, key, edit)
        if kind == "place":
            return self._add_place("xy".index(key), label, name, tip)
        makers: dict[str, Any] = {
            "length": self.body.length,
            "optional": self.body.over_nothing,
            "angle": self.body.angle,
            "free angle": self.body.optional_angle,
            "count": self.body.count,
        }
        field = makers[kind](label, name, tip, read, edit)
        if kind in ("optional", "free angle"):
            field.line.setPlaceholderText("by rule" if kind == "optional" else "as drawn")
        return field

    def _add_place(self, axis: int, label: str, name: str, tip: str) -> Any:  # noqa: ANN401  a field
        """Add where the foot is along its face, by x or by y."""

        def read(project: Project) -> float | None:
            at = self._part(project).at
            return None if at is None else float(at[axis])

        def edit(project: Project, value: float | None) -> Project:
            face = None if value is None else self.face(project)
            at = None if value is None or face is None else place_on(face, axis, value)
            return set_mount(project, self.which, at=at)

        field = self.body.optional_length(label, name, tip, read, edit)
        field.line.setPlaceholderText("as drawn")
        return field

    def face(self, project: Project) -> Face | None:
        """Give the face that it lies on; None without pins, and for what lies on none."""
        raise NotImplementedError

    def _choose(self, label: str, name: str, tip: str, key: str, edit: Any) -> ChoiceBox:  # noqa: ANN401  an edit
        options = self.choices.get(key) or tuple((each, each) for each in threads(hardware()))

        def take(project: Project, value: str) -> Project:
            made: Project = edit(project, int(value) if value.isdigit() else value)
            return made

        box = self.body.choice(label, name, tip, options, take)

        def show(project: Project) -> None:
            value = str(getattr(self._part(project), key))
            if all(value != each for each, _ in options):
                box.set_options([(value, f"{value} (in no table)"), *options])
            box.choose(value)

        self.body.on_refresh(show)
        return box

    def _begin(self) -> None:
        self.document.attempt(self.begins, lambda project: begin_mount(project, self.which))
        first = next(iter(self.fields.values()))
        getattr(first, "line", first).setFocus()  # the button that had the keys is gone

    def _drop(self) -> None:
        self.document.attempt(self.drop_button.text(), lambda project: drop_mount(project, self.which))
        self.begin_button.setFocus()


class BracketBox(MountBox):
    """The panel's side."""

    title: ClassVar[str] = "Bracket at the panel"
    which: ClassVar[str] = "bracket"
    noun: ClassVar[str] = "bracket"
    begins: ClassVar[str] = "Lay out a bracket"
    intro: ClassVar[str] = (
        "A plate round the panel's pins, bent to lie on the inner skin, with a doubler, slots and shims to set it."
    )
    caution: ClassVar[str] = BENDING_CAUTION
    choices: ClassVar[dict[str, tuple[tuple[str, str], ...]]] = {"bent": tuple((side, side) for side in BENT)}
    rows: ClassVar[tuple[Row, ...]] = (
        ("place", "x", "Foot at x", "Where the foot’s middle is on the inner skin. Empty: under the pins."),
        ("free angle", "skin_deg", "Skin’s way", "How the inner skin runs at the bracket, from the x axis."),
        ("angle", "lean_deg", "Skin’s lean", "How far the skin leans off square to the links, across the panel."),
        ("length", "thickness", "Sheet", "Thickness, as measured."),
        ("optional", "inside_radius", "Inside radius", "Of the bend. Empty: the least that is usual for this sheet."),
        ("optional", "foot", "Foot", "Length along the skin. Empty: as the pins and bolts ask."),
        ("optional", "flange", "Flange", "Width, outside. Empty: as the bolts ask."),
        ("choice", "bent", "Bent", "To which side of its web the flange goes: to the centreline, or away."),
        ("length", "doubler", "Doubler", "Thickness of the plate that spreads the load in the skin; 0: none."),
        ("length", "doubler_margin", "Its margin", "How far the doubler reaches beyond the slots."),
        ("choice", "bolt", "Bolts", "Their thread, of the tables."),
        ("count", "rows", "Rows", "Rows of bolts, one behind the other from the bend."),
        ("length", "row_pitch", "Row to row", "Between two rows."),
        ("count", "columns", "In a row", "Bolts along the skin."),
        ("length", "pitch", "Bolt to bolt", "Between two bolts of a row."),
        ("length", "clearance", "Eye to skin", "The least way wanted from an eye to the inner skin."),
        ("length", "fore_aft", "Slot, fore and aft", "How far the bracket's slots let the panel go either way."),
        ("length", "fore_aft_at", "… stands at", "Where it stands as drawn: forwards of the middle, back negative."),
        ("length", "side", "Slot, to the side", "How far the doubler's slots let the panel go either way."),
        ("length", "side_at", "… stands at", "Where it stands as drawn: outwards of the middle, inwards negative."),
        ("length", "shims", "Shims", "What lies between bracket and doubler as drawn."),
        ("length", "shims_most", "… at most", "How much can lie there."),
    )

    @classmethod
    def faults_in(cls, project: Project, part: Any) -> Sequence[MountFault]:  # noqa: ANN401  as all mounts have it
        """Give what is wrong with it."""
        made = bracket_made(project, part, hardware())
        return () if made is None else made.faults

    def made(self, analysis: Analysis) -> tuple[list[str], list[str], list[Part]]:
        """Give what is wrong, what it comes to, and its parts."""
        project = analysis.project
        made = bracket_made(project, self._part(project), hardware())
        if made is None:
            return ["The panel has no pins yet."], [], []
        told = bracket_sentences(made, self.units)
        return fault_sentences(made.faults, self.units), told, bracket_parts(project, made)

    def place(self, analysis: Analysis) -> tuple[complex, float] | None:
        """Give the foot's middle on the skin, shut."""
        face = self.face(analysis.project)
        return None if face is None else (face.at, 0.0)

    def face(self, project: Project) -> Face | None:
        """Give the inner skin."""
        return skin(project, self._part(project))


class BaseBox(MountBox):
    """The wall's side."""

    title: ClassVar[str] = "Base at the wall"
    which: ClassVar[str] = "base"
    noun: ClassVar[str] = "base"
    begins: ClassVar[str] = "Lay out a base"
    intro: ClassVar[str] = (
        "Webs round the fixed pins, welded with tabs into a base plate, bolted to a backing plate with tapped holes."
    )
    caution: ClassVar[str] = WELDING_CAUTION
    choices: ClassVar[dict[str, tuple[tuple[str, str], ...]]] = {
        "weld_side": tuple(zip(WELD_SIDES, ("both sides", "left side", "right side"), strict=True)),
        "webs": (("1", "one"), ("2", "two, the links between")),
        "gussets": (("0", "none"), ("1", "1 each side"), ("2", "2 each side"), ("3", "3 each side")),
    }
    rows: ClassVar[tuple[Row, ...]] = (
        ("place", "y", "Foot at y", "Where the foot’s middle is on the wall. Empty: behind the pins."),
        ("free angle", "wall_deg", "Wall’s way", "How the wall runs at the base, from the x axis: 90° is upright."),
        ("length", "plate", "Base plate", "Thickness."),
        ("optional", "height", "Height", "Along the wall in the side view. Empty: as the pins ask."),
        ("length", "width", "Width", "Across the body."),
        ("choice", "webs", "Webs", "One, or two with the links between them."),
        ("length", "web", "Web", "Thickness."),
        ("length", "apart", "Between webs", "Free between two webs: the links' layers with their washers."),
        ("length", "backing", "Backing plate", "Thickness of the plate with tapped holes behind the wall; 0: none."),
        ("choice", "bolt", "Bolts", "Their thread, of the tables: tap drill and clearance hole follow."),
        (
            "optional",
            "edge",
            "Bolt to edge",
            "From a bolt's middle. Empty: two diameters (common practice, no source).",
        ),
        ("length", "pitch", "Bolt to bolt", "Between two bolts round the plate, at most."),
        ("count", "tabs", "Tabs", "How many a web has."),
        ("length", "tab", "Tab", "Length of each."),
        ("choice", "weld_side", "Weld on", "On both sides of each web, or on one."),
        ("optional", "weld", "Throat", "Of the fillets. Empty: 0.7 of the thinner sheet, in half mm."),
        ("choice", "gussets", "Gussets", "How many stand on either side."),
        ("length", "gusset", "Gusset", "Length of its legs."),
        ("length", "up_down", "Slot, up and down", "How far the base plate's slots let the hinge go either way."),
        ("length", "up_down_at", "… stands at", "Where it stands as drawn: up from the middle, down negative."),
        ("length", "shims", "Shims", "What lies behind the base plate as drawn."),
        ("length", "shims_most", "… at most", "How much can lie there."),
    )

    @classmethod
    def faults_in(cls, project: Project, part: Any) -> Sequence[MountFault]:  # noqa: ANN401  as all mounts have it
        """Give what is wrong with it."""
        made = base_made(project, part, hardware())
        return () if made is None else made.faults

    def made(self, analysis: Analysis) -> tuple[list[str], list[str], list[Part]]:
        """Give what is wrong, what it comes to, and its parts."""
        project = analysis.project
        made = base_made(project, self._part(project), hardware())
        if made is None:
            return ["The body has no pins yet."], [], []
        told = base_sentences(made, self.units)
        return fault_sentences(made.faults, self.units), told, base_parts(project, made)

    def place(self, analysis: Analysis) -> tuple[complex, float] | None:
        """Give the foot's middle on the wall."""
        face = self.face(analysis.project)
        return None if face is None else (face.at, 0.0)

    def face(self, project: Project) -> Face | None:
        """Give the wall."""
        return wall(project, self._part(project))


class StopPartBox(MountBox):
    """The stop between two links."""

    title: ClassVar[str] = "Stop as a part"
    which: ClassVar[str] = "stop_part"
    noun: ClassVar[str] = "stop as a part"
    begins: ClassVar[str] = "Make the stop of parts"
    intro: ClassVar[str] = (
        "A pin or a screw on one link's plate, a block with a face on the other: they meet at the stop."
    )
    caution: ClassVar[str] = (
        "A panel that is thrown open brings its stop far more than it bears at rest. Don't put fingers between links."
    )
    choices: ClassVar[dict[str, tuple[tuple[str, str], ...]]] = {
        "on": (("first", "the stop's first link"), ("second", "its second link")),
        "kind": tuple((each, "a pin" if each == "pin" else "a screw that can be set") for each in STOP_KINDS),
    }
    rows: ClassVar[tuple[Row, ...]] = (
        ("choice", "kind", "Meets by", "A pin through the plate, or a screw in a tapped block."),
        ("choice", "on", "It is on", "Which of the two links carries it; the other one gets the block."),
        ("length", "diameter", "Diameter", "Of the pin or screw."),
        ("length", "set_by", "Set by", "How far a screw can be set either way."),
        ("length", "face", "Face", "Length of the block's face along the arm."),
    )

    def show_analysis(self, analysis: Analysis) -> None:
        """Call the two links by their names, once there is a stop."""
        loads = analysis.project.loads
        between = ("", "") if loads is None or loads.stop is None else loads.stop.between
        for row, ((_, words), link) in enumerate(zip(self.choices["on"], between, strict=True)):
            self.fields["on"].setItemText(row, link or words)
        super().show_analysis(analysis)

    def made(self, analysis: Analysis) -> tuple[list[str], list[str], list[Part]]:
        """Give what it comes to; what stops nothing is told where the stop itself is."""
        made = stop_made(analysis, self._part(analysis.project))
        if made is None:
            return ["There is no stop that stops: say in the drawer Lift where it is, or see there why."], [], []
        faults = fault_sentences(faults_of(analysis.project, made), self.units)
        return faults, stop_sentences(made, self.units), [stop_block(analysis, made)]

    def place(self, analysis: Analysis) -> tuple[complex, float] | None:
        """Give where pin and block meet, at the stop's opening."""
        loads = analysis.project.loads
        made = stop_made(analysis, self._part(analysis.project))
        if made is None or loads is None or loads.stop is None:
            return None
        deg, column = loads.stop.at_deg, analysis.links.index(made.carries)
        return complex(*analysis.pose(deg).place(column, (made.at.real, made.at.imag))), deg
