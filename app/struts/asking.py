"""What a search for struts asks: the wants, where the ends may be, how many struts and of which sizes.

The wants are read off the project; the zones are drawn on the board and kept with the project, as one step each; the
rest belongs to the sheet.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from app.entry.form import ChoiceBox, push_button
from app.fields import Field, length_field, named
from app.proposals.asking import Told, subheading
from app.proposals.words import fault_words
from app.struts.question import GRIDS
from app.struts.table import classes, usual_sizes
from app.struts.words import step_words, zone_words
from app.ticks import TickBox
from kinematics.errors import HingewrightError
from kinematics.struts.results import StrutSettings
from kinematics.struts.zoned import draw_strut_zone, drawn_zones, drop_strut_zones, strut_zones

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board import Board
    from app.document import Document
    from kinematics.project import Point, Project

LINES, FEWEST = 5, 2  # of what is asked are seen at once
MOST_COUNT = 8
MOST_RESERVE = 100.0
STEPS = (50.0, 10.0)
RESERVES = {"mm": 5.0, "in": 25.4 * 3 / 16}
FIRST_CLASSES = ("6/15", "8/18", "10/22")
DRAW_HINT = (
    "Click the corners of the zone for struts, around it (arrow keys and Enter), now {way}; B: {after}. Double-click "
    "or Enter twice ends it, Esc drops it. Shift: every 15°. Ctrl: no snapping."
)


class StrutAsking(QWidget):
    """What is asked and how. `changed` tells that something else is ticked or typed."""

    changed = Signal()

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__()
        self._document, self._board = document, board
        self._count, self._reserve = first_count(document.project), RESERVES[document.project.display_units]
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(subheading("What is asked"))
        self.asked = QPlainTextEdit()
        self.asked.setReadOnly(True)
        self.asked.setTabChangesFocus(True)
        high = self.fontMetrics().height()
        self.asked.setMinimumHeight(FEWEST * high + 18)
        self.asked.setMaximumHeight(LINES * high + 18)
        named(self.asked, "What is asked", "The wants of lifting that struts must meet. Set them in the drawer Lift.")
        column.addWidget(self.asked)
        self.usual = Told("faint")
        column.addWidget(self.usual)
        column.addWidget(subheading("Where the ends may be"))
        self._add_zones(column)
        column.addWidget(subheading("Struts"))
        column.addLayout(self._sizes())
        column.addLayout(self._fields())
        self.hinder = Told("fault")
        column.addWidget(self.hinder)

    # Layout ----------------------------------------------------------------------------------------------------------

    def _add_zones(self, column: QVBoxLayout) -> None:
        self.where = Told()
        column.addWidget(self.where)
        row = QHBoxLayout()
        self.target = ChoiceBox([])
        named(self.target, "Zone for ends on", "The link on which the next zone is drawn.")
        self.draw_button = push_button(
            "Draw zone", "Click its corners on the board: an end of the strut may be anywhere in it.", self.draw
        )
        self.box_button = push_button("Draw box", "Drag an upright zone on the board.", self.draw_box)
        self.usual_button = push_button(
            "Usual places", "Take the zones that were drawn out; one step, to be undone.", self.drop
        )
        row.addWidget(self.target, 1)
        for button in (self.draw_button, self.box_button, self.usual_button):
            row.addWidget(button)
        column.addLayout(row)

    def _sizes(self) -> QHBoxLayout:
        row = QHBoxLayout()
        self.sizes: dict[str, TickBox] = {}
        for name, sizes in classes(usual_sizes()).items():
            box = self.sizes[name] = TickBox(name)
            box.setChecked(name in FIRST_CLASSES)
            strokes = f"{sizes[0].stroke:g} to {sizes[-1].stroke:g}"
            tip = (
                f"Rod and tube {name} mm: strokes of {strokes} mm, {sizes[0].least:g} to {sizes[0].most:g} N. "
                "Usual sizes, common practice, no source."
            )
            named(box, f"Sizes {name}", tip)
            box.toggled.connect(lambda _: self.changed.emit())
            row.addWidget(box)
        row.addStretch(1)
        return row

    def _fields(self) -> QHBoxLayout:
        row = QHBoxLayout()
        tip = "How many struts, alike and side by side, for the whole panel."
        self.count_field = Field("Number of struts", tip, _read_count, str, self._take_count)
        tip = "How much of the stroke is to be left at either end of the travel."
        self.reserve_field = length_field(
            "Stroke left at the ends", tip, lambda: self._document.units, self._take_reserve
        )
        self.steps = ChoiceBox([(str(step), step_words(step)) for step in STEPS])
        named(
            self.steps,
            "Forces",
            "In which steps forces come: 50 N as shops stock them, 10 N where struts are made to order.",
        )
        self.steps.activated.connect(lambda _: self.changed.emit())
        fields = (("Number", self.count_field, 1), ("Stroke left", self.reserve_field, 1), ("Forces", self.steps, 1))
        for words, field, share in fields:
            label = QLabel(words)
            label.setBuddy(field.line if isinstance(field, Field) else field)
            row.addWidget(label)
            row.addWidget(field, share)
        return row

    # What is asked ---------------------------------------------------------------------------------------------------

    @property
    def settings(self) -> StrutSettings:
        """How to search, as it is ticked and typed now."""
        ticked = [name for name, box in self.sizes.items() if box.isChecked()]
        all_of = classes(usual_sizes())
        project = self._document.project
        return StrutSettings(
            sizes=tuple(size for name in ticked for size in all_of[name]),
            zones=strut_zones(project),
            count=self._count,
            force_step=float(self.steps.value or STEPS[0]),
            reserve=self._reserve,
            grid=GRIDS[project.display_units],
        )

    @property
    def is_hindered(self) -> bool:
        """Whether it is known already that nothing can be found."""
        return bool(self.hinder.text())

    def tell(self, asked: Sequence[str], usual: str, faults: Sequence[object]) -> None:
        """Say what is asked, and what hinders."""
        words = "\n".join(asked)
        if self.asked.toPlainText() != words:
            self.asked.setPlainText(words)
        self.usual.tell(usual)
        self.hinder.tell("\n".join(f"✗ {fault_words(fault)}" for fault in faults))
        project = self._document.project
        drawn = {zone.on for zone in drawn_zones(project)}
        told = ", ".join(zone_words(zone.on, zone.on in drawn) for zone in strut_zones(project))
        self.where.tell(f"Dashed on the board: {told}." if told else "")
        known = self.target.value in project.link_index
        self.target.set_options((link.id, f"on {link.id}") for link in project.links)
        if not known:
            self.target.choose(project.fixed.id)
        self.usual_button.setEnabled(bool(drawn))
        self.count_field.set_value(self._count)
        self.reserve_field.set_value(self._reserve)

    def lock(self, locked: bool) -> None:
        """Let nothing be changed while it is searched."""
        for widget in (*self.sizes.values(), self.count_field, self.reserve_field, self.steps):
            widget.setEnabled(not locked)

    # Doing -----------------------------------------------------------------------------------------------------------

    def draw(self) -> None:
        """Let the builder click the corners of a zone."""
        on = self.target.value
        self._board.start_drawing_outline(on, lambda points, _: self._add(on, points), DRAW_HINT)

    def draw_box(self) -> None:
        """Let the builder drag a zone."""
        on = self.target.value
        self._board.start_drawing_box(on, partial(self._add, on))

    def _add(self, on: str, points: tuple[Point, ...]) -> None:
        if points:
            self._document.attempt(
                f"Draw zone for struts on {on}", lambda project: draw_strut_zone(project, on, points)
            )

    def drop(self) -> None:
        """Let the usual places hold again."""
        self._document.attempt("Usual places for struts", drop_strut_zones)

    def _take_count(self, count: int) -> None:
        self._count = count
        self.changed.emit()

    def _take_reserve(self, reserve: float) -> None:
        if not 0.0 <= reserve <= MOST_RESERVE:
            raise HingewrightError("what is left of the stroke is from 0 to 100 mm")
        self._reserve = reserve
        self.changed.emit()


def first_count(project: Project) -> int:
    """As many struts as there are; two where there are none."""
    loads = project.loads
    counts = [] if loads is None else [each.count for each in loads.devices if each.kind == "gas strut"]
    return min(counts[0], MOST_COUNT) if counts else StrutSettings(()).count


def _read_count(text: str) -> int:
    digits = text.strip()
    if not (digits.isascii() and digits.isdigit()) or not 1 <= int(digits) <= MOST_COUNT:
        raise HingewrightError(f"the number of struts is a whole number from 1 to {MOST_COUNT}")
    return int(digits)
