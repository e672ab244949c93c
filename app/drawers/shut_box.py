"""The panel shut: its latch, the seal and bump stops it meets, what they come to, and what is wanted of them."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar

from app.board.load_places import pick_place
from app.drawers.lift_box import LiftBox, paragraph, say
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.lengths import format_force
from app.quantities import FORCE, Quantity
from app.shut_words import shut_cautions, shut_remarks, shut_sentences
from app.words import CAUTION, FAILS, HOLDS, check_have
from kinematics import loading, shutting_edits
from kinematics.fittings import CUSHIONS, INWARDS
from kinematics.wanting import set_sureness

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QFormLayout, QLabel, QWidget

    from app.board import Board
    from app.document import Document
    from app.fields import Field
    from kinematics.analysis import Analysis
    from kinematics.fittings import Cushion
    from kinematics.project import Point, Project

PER_METRE = Quantity(
    "a push per length",
    "such as 60, 60 N/m or 4 lbf/ft",
    {
        "n/m": FORCE.units["n"],
        **dict.fromkeys(("lbf/ft", "lb/ft"), FORCE.units["lbf"] * 10000 / 3048),
        "n/mm": FORCE.units["kn"],
    },
    "N/m",
    "lbf/ft",
)
STRIKER = "Striker: click where it is on the shut panel."
CUSHION = "Click where the shut panel meets {}."
SEAL_ROWS, STOP_ROWS = ("per_metre", "length"), ("force", "count")


class ShutBox(LiftBox):
    """Latch, figures, seals and bump stops, wants."""

    title: ClassVar[str] = "Shut: latch and seal"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._build_latch()
        self.figures = self.text_row()
        self.caution = self.text_row()
        self.fields: dict[str, Field[float] | Field[int]] = {}
        self._build_cushions()
        self.comes_to: dict[tuple[str, str], QLabel] = {}
        self._build_wants()

    # ---------------------------------------------------------------------------------------------------- the latch
    def _build_latch(self) -> None:
        self.click_button = push_button(
            "Click the striker", "Click on the board where the striker is while the panel is shut.", self.click_striker
        )
        self.front_button = push_button("At the front", "Put the striker at the panel's foremost point.", self._front)
        self.front_button.setAccessibleName("Striker at the front")
        self.beside(self.click_button, self.front_button)
        self.at = tuple(self._coordinate(name, axis) for axis, name in enumerate("xy"))
        self.way = self.angle(
            "Way in",
            "Turn the latch's way",
            "The way by which the striker goes into its catch, from the x axis, anticlockwise: 270° is straight down.",
            _way,
            shutting_edits.turn_latch,
        )
        self.along_button = push_button(
            "Along its path", "Turn the way to that in which the striker comes in, just before shut.", self._along
        )
        self.remove_button = push_button("Remove latch", "Say no longer where the latch is.", self._remove_latch)
        self.beside(self.along_button, self.remove_button)
        self.play = self.length(
            "Play of the pins",
            "Set the pins' play",
            "How much wider the holes are than their pins: it lets the rear edge rise. The same figure makes the low "
            "ends of the clearances.",
            lambda project: 0.0 if project.sureness is None else project.sureness.play,
            lambda project, mm: set_sureness(project, play=mm),
        )

    def _coordinate(self, name: str, axis: int) -> Field[float | None]:
        def read(project: Project) -> float | None:
            latch = shutting_edits.latch_of(project)
            return None if latch is None else latch.at[axis]

        where = ("right of", "above")[axis]
        field = self.optional_length(
            f"Striker {name}",
            "Move striker",
            f"How far {where} the origin the striker is while the panel is shut. Empty: no latch.",
            read,
            lambda project, value: _put(project, value, axis),
        )
        field.line.setAccessibleName(f"{name} of the striker")
        field.line.setPlaceholderText("not set")
        return field

    def click_striker(self) -> None:
        """Let the builder click where the striker is."""
        self._click(STRIKER, "Move striker", shutting_edits.put_latch)

    def _click(self, sentence: str, label: str, edit: Callable[[Project, Point], Project]) -> None:
        panel = self.document.project.panel.id

        def done(at: Point) -> None:
            place = round(at[0], 1), round(at[1], 1)
            self.document.attempt(label, lambda project: edit(project, place))

        self.board.start_gesture(partial(pick_place, sentence=sentence, link=panel, on_done=done))

    def _front(self) -> None:
        at = shutting_edits.first_striker(self.document.project)
        self.document.attempt("Move striker", lambda project: shutting_edits.put_latch(project, at))

    def _along(self) -> None:
        loads = self.document.analysis.loads
        entry = None if loads is None or loads.shut is None else loads.shut.entry
        if entry is not None:
            deg = round(entry.path_deg, 1)
            self.document.attempt("Turn the latch's way", lambda project: shutting_edits.turn_latch(project, deg))

    def _remove_latch(self) -> None:
        self.document.attempt("Remove latch", shutting_edits.remove_latch)

    # --------------------------------------------------------------------------------------------------- the cushions
    def _build_cushions(self) -> None:
        self.heading("Seal and bump stops")
        self.kind = ChoiceBox((kind, kind) for kind in CUSHIONS)
        named(self.kind, "Kind of the next cushion", "What is added next: a seal all round, or a pair of bump stops.")
        self.add_button = push_button("Add", "Add one with usual figures (common practice, no source).", self.add)
        self.add_button.setAccessibleName("Add seal or bump stop")
        self.beside(self.kind, self.add_button)
        self.chosen = ChoiceBox(())
        named(self.chosen, "Seal or bump stop", "The one whose figures stand below.")
        self.chosen.activated.connect(lambda _: self.show_analysis(self.document.analysis))
        self.row("Of", self.chosen)
        self._force("per_metre", "Push", "What each metre of it pushes with when it is squeezed so far.", PER_METRE)
        self._long("length", "Length", "Of the whole seal; all round is twice the panel's length and width together.")
        self._force("force", "Push, each", "What each stop pushes with when the panel is shut.", FORCE)
        self.fields["count"] = self.count(
            "How many", "Set how many stops", "So many of them, across the whole panel.",
            lambda project: _count(self._cushion(project)),
            lambda project, count: self._change(project, count=count),
        )  # fmt: skip
        self._long("squeeze", "Squeezed by", "How far it is squeezed when shut; its push falls evenly over that way.")
        for axis, name in enumerate("xy"):
            self.fields[name] = self.length(
                name, "Move seal or bump stop",
                "Where it pushes in the side view, shut; of a seal all round, in its middle.",
                partial(self._read_at, axis), partial(self._put_at, axis),
            )  # fmt: skip
        self.fields["way_deg"] = self.angle(
            "Way of its push", "Turn seal or bump stop", "From the x axis, anticlockwise: 90° is straight up.",
            lambda project: self._read(project, "way_deg"), lambda project, deg: self._change(project, way_deg=deg),
        )  # fmt: skip
        self._cushion_rows: QFormLayout | None = self._rows
        self.place_button = push_button("Click its place", "Click on the board where it pushes.", self._click_cushion)
        self.take_out_button = push_button("Remove it", "Take the chosen seal or bump stop out.", self._take_out)
        self._cushion_buttons: QWidget = self.beside(self.place_button, self.take_out_button)

    def _force(self, key: str, label: str, tip: str, quantity: Quantity) -> None:
        self.fields[key] = self.quantity(
            label, f"Set {label.lower()} of seal or bump stop", tip, quantity,
            lambda project: self._read(project, key), lambda project, value: self._change(project, **{key: value}),
        )  # fmt: skip

    def _long(self, key: str, label: str, tip: str) -> None:
        self.fields[key] = self.length(
            label, f"Set {label.lower()} of seal or bump stop", tip,
            lambda project: self._read(project, key), lambda project, value: self._change(project, **{key: value}),
        )  # fmt: skip

    def _cushion(self, project: Project) -> Cushion | None:
        return next((each for each in shutting_edits.cushions_of(project) if each.id == self.chosen.value), None)

    def _read(self, project: Project, key: str) -> float:
        cushion = self._cushion(project)
        return 0.0 if cushion is None else float(getattr(cushion, key) or 0.0)

    def _change(self, project: Project, **fields: float) -> Project:
        return shutting_edits.change_cushion(project, self.chosen.value, **fields)

    def _read_at(self, axis: int, project: Project) -> float:
        cushion = self._cushion(project)
        return 0.0 if cushion is None else cushion.at[axis]

    def _put_at(self, axis: int, project: Project, value: float) -> Project:
        x, y = shutting_edits.cushion_named(project, self.chosen.value).at
        at = (value, y) if axis == 0 else (x, value)
        return shutting_edits.change_cushion(project, self.chosen.value, at=at)

    def add(self) -> None:
        """Add a seal or a pair of stops, and show its figures."""
        kind = self.kind.value
        if self.document.attempt(f"Add {kind}", lambda project: shutting_edits.add_cushion(project, kind)):
            self._offer(self.document.project)
            self.chosen.choose(shutting_edits.last_added(self.document.project))
            self.show_analysis(self.document.analysis)

    def _click_cushion(self) -> None:
        id_ = self.chosen.value
        self._click(
            CUSHION.format(id_),
            "Move seal or bump stop",
            lambda project, at: shutting_edits.change_cushion(project, id_, at=at),
        )

    def _take_out(self) -> None:
        id_ = self.chosen.value
        self.document.attempt(f"Remove {id_}", lambda project: shutting_edits.remove_cushion(project, id_))

    def _offer(self, project: Project) -> None:
        self.chosen.set_options((each.id, each.id) for each in shutting_edits.cushions_of(project))

    # ------------------------------------------------------------------------------------------------------ the wants
    def _build_wants(self) -> None:
        self.heading("Wanted")
        self.latch_want = self.optional_quantity(
            "Latch at most",
            "Want what the latch holds",
            "The most that the latch may have to hold along its way, with hot struts.",
            FORCE,
            lambda project: loading.lift_wants_of(project).latch_at_most,
            lambda project, newtons: loading.want_lifting(project, latch_at_most=newtons),
        )
        self._come_to("push", "latch")
        self.rise_want = self._wanted_length(
            "Rise at most",
            "Want how far the rear edge rises",
            "How far play may let the rear edge rise above where it is drawn.",
            "rear_edge_rise_at_most",
        )
        self._come_to("rear edge", "")
        self.step_want = self._wanted_length(
            "Side step at most",
            "Want the striker's side step",
            "How far beside the latch's way the striker may go over its last 30 mm. Without a want, 3 mm are warned "
            "of (common practice, no source).",
            "side_step_at_most",
        )
        self._come_to("striker", "")
        self._want_rows: QFormLayout | None = self._rows

    def _wanted_length(self, label: str, name: str, tip: str, key: str) -> Field[float | None]:
        field = self.optional_length(
            label, name, tip,
            lambda project: getattr(loading.lift_wants_of(project), key),
            lambda project, mm: loading.want_lifting(project, **{key: mm}),
        )  # fmt: skip
        field.line.setPlaceholderText("no want")
        return field

    def _come_to(self, kind: str, side: str) -> None:
        label = self.comes_to[kind, side] = paragraph()
        self.row("", label)

    # -------------------------------------------------------------------------------------------------------- showing
    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say what the latch holds."""
        if shutting_edits.latch_of(analysis.project) is None:
            return "no latch"
        told = None if analysis.loads is None else analysis.loads.shut
        if told is None or told.latch is None:
            return "not told"
        return f"latch holds {format_force(max(told.latch, 0.0), document.units)}"

    def show_analysis(self, analysis: Analysis) -> None:
        """Tell the newest figures."""
        project = analysis.project
        self._offer(project)
        super().show_analysis(analysis)
        has_latch = shutting_edits.latch_of(project) is not None
        for widget in (self.way, self.along_button, self.remove_button):
            widget.setEnabled(has_latch)
        self._show_rows(self._cushion(project))
        remarks = [f"{CAUTION} {remark}" for remark in shut_remarks(analysis, self.units)]
        say(self.figures, [*shut_sentences(analysis, self.units), *remarks])
        say(self.caution, [f"{CAUTION} {caution}" for caution in shut_cautions(project)])
        checks = {(check.kind, check.side): check for check in analysis.checks}
        for key, label in self.comes_to.items():
            check = checks.get(key)
            told = "" if check is None else "not told" if check.have is None else check_have(check, self.units)
            say(label, [] if check is None else [f"{HOLDS if check.ok else FAILS} {told}"])
            if self._want_rows is not None:
                self._want_rows.setRowVisible(label, check is not None)

    def _show_rows(self, cushion: Cushion | None) -> None:
        """Show the rows that the chosen seal or stop has."""
        rows, hidden = self._cushion_rows, SEAL_ROWS if cushion is not None and cushion.kind != "seal" else STOP_ROWS
        if rows is None:
            return
        rows.setRowVisible(self.chosen, cushion is not None)
        for key, field in self.fields.items():
            rows.setRowVisible(field, cushion is not None and key not in hidden)
        self._cushion_buttons.setVisible(cushion is not None)


def _way(project: Project) -> float:
    latch = shutting_edits.latch_of(project)
    return INWARDS if latch is None else latch.way_deg


def _count(cushion: Cushion | None) -> int:
    return 1 if cushion is None else cushion.count


def _put(project: Project, value: float | None, axis: int) -> Project:
    """The striker with a coordinate typed; emptied, no latch."""
    if value is None:
        return shutting_edits.remove_latch(project)
    latch = shutting_edits.latch_of(project)
    x, y = shutting_edits.first_striker(project) if latch is None else latch.at
    return shutting_edits.put_latch(project, (value, y) if axis == 0 else (x, value))
