"""Weighing on two supports: places and readings typed, or places clicked; what they tell, and one button that takes it.

What is typed here is of the scales, not of the project: it stays as long as the window does, and only what is taken
over becomes a step.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.board.load_places import pick_place
from app.document import Selection
from app.drawers.lift_box import LiftBox, optional_field, say
from app.entry.form import ChoiceBox, push_button
from app.fields import HOW_LENGTHS, Field, named
from app.lengths import exact_length, format_angle, parse_angle, parse_length
from app.quantities import MASS
from app.weigh_shapes import GROUP, weigh_shapes
from app.weigh_words import outside_words, weighed_sentences
from kinematics import loading, weighing
from kinematics.errors import HingewrightError
from kinematics.parts import Mass
from kinematics.weighing import Reading, Weighed

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from app.shapes import Shape
    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project

HOW = (
    "Take the panel off and lay it on two supports, each on a scale and free to shift sideways (a round bar does). "
    "Read both scales less what the supports weigh, with the supports level; then raise B and read them again."
)
CAUTION = (
    "Weigh with a helper: the panel must not slide or tip off its supports, and nobody reaches beneath it. Never weigh "
    "it on its hinges with struts fitted."
)
NEW = "a new weight"


@dataclass(frozen=True, slots=True)
class Scales:
    """What was typed. a, b : x, y of the supports (mm, shut), each None until known.   readings : kg, level at A and B,
    tilted at A and B.   raised : mm by which B stands higher in the second weighing.
    """

    a: tuple[float | None, float | None] = (None, None)
    b: tuple[float | None, float | None] = (None, None)
    readings: tuple[float | None, float | None, float | None, float | None] = (None, None, None, None)
    raised: float | None = None

    def place(self, support: str) -> Point | None:
        """Where a support is, once both of its coordinates are known."""
        x, y = getattr(self, support)
        return None if x is None or y is None else (x, y)

    @property
    def apart(self) -> float | None:
        """Mm from A to B."""
        a, b = self.place("a"), self.place("b")
        return None if a is None or b is None else math.dist(a, b)

    def weighed(self) -> Weighed | None:
        """What all of it tells; None while something of the first weighing is missing. ProjectError as `weighed`."""
        level_a, level_b, tilted_a, tilted_b = self.readings
        if self.apart is None or level_a is None or level_b is None:
            return None
        if tilted_a is None or tilted_b is None or self.raised is None:
            return weighing.weighed(self.apart, Reading(level_a, level_b))
        tilt = weighing.tilt_of(self.raised, self.apart)
        return weighing.weighed(self.apart, Reading(level_a, level_b), Reading(tilted_a, tilted_b, tilt))


class WeighBox(LiftBox):
    """The supports, four readings, how far B is raised, and what that tells."""

    title: ClassVar[str] = "Weigh it on two supports"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.scales = Scales()
        self._is_seen = False  # else nothing of it is drawn on the board
        self.told(HOW)
        self.told(CAUTION)
        self.link = ChoiceBox([])
        named(self.link, "Weighed link", "What lies on the scales: mostly the panel.")
        self.link.activated.connect(self._tell)
        self.row("What", self.link)
        self.places: dict[str, Field[float | None]] = {}
        self.readings: list[Field[float | None]] = []
        self.clicks = {key: self._click_button(key) for key in ("a", "b")}
        self.wide(self._build_places())
        self.wide(self._build_readings())
        self._build_tilt()
        self.found = self.text_row()
        self.into = ChoiceBox([])
        named(self.into, "Weighed mass goes into", "The weight that gets what was weighed; or a new one.")
        self.take_button = push_button(
            "Take it over", "Give this mass and place to the weight at the left: one step.", self.take
        )
        self.into.activated.connect(self._tell)
        self.beside(self.into, self.take_button)

    # Building --------------------------------------------------------------------------------------------------------

    def _build_places(self) -> QWidget:
        whole, grid = _grid(("", "x", "y", ""))
        for row, key in enumerate(("a", "b"), 1):
            grid.addWidget(QLabel(f"Support {key.upper()}"), row, 0)
            for axis, name in enumerate("xy"):
                field = self._length(
                    f"{name} of support {key.upper()}",
                    "Where the panel touches it, on the sheet with the panel shut.",
                    partial(self._put_axis, key, axis),
                )
                self.places[f"{key}{name}"] = field
                grid.addWidget(field, row, 1 + axis)
            grid.addWidget(self.clicks[key], row, 3)
        return whole

    def _build_readings(self) -> QWidget:
        whole, grid = _grid(("", "at A", "at B"))
        for row, words in enumerate(("level", "B raised"), 1):
            grid.addWidget(QLabel(words), row, 0)
            for column, support in enumerate("AB"):
                number = 2 * (row - 1) + column
                field = optional_field(
                    f"Reading at {support}, {words}",
                    f"What the scale under {support} reads, less the support. Type it {MASS.example}.",
                    lambda text: MASS.parse(text, self.units),
                    lambda kg: MASS.exact(kg, self.units),
                    partial(self._put_reading, number),
                )
                self.readings.append(field)
                grid.addWidget(field, row, 1 + column)
        return whole

    def _build_tilt(self) -> None:
        self.raised = self._length(
            "B raised by", "How much higher support B stands in the second weighing.", self._put_raised
        )
        self.row("B raised by", self.raised)
        self.tilt = optional_field(
            "Tilt of the supports",
            "Instead: by how many degrees the line of the supports rises from A to B.",
            parse_angle,
            lambda deg: format_angle(deg, self.units, fine=True),
            self._put_tilt,
        )
        self.row("or tilted by", self.tilt)

    def _length(self, name: str, tip: str, put: Any) -> Field[float | None]:  # noqa: ANN401  a callable of a length
        return optional_field(
            name,
            f"{tip}\n{HOW_LENGTHS}",
            lambda text: parse_length(text, self.units),
            lambda mm: exact_length(mm, self.units),
            put,
        )

    def _click_button(self, key: str) -> QWidget:
        button = push_button("Click", f"Click on the board where support {key.upper()} is.", partial(self._click, key))
        button.setAccessibleName(f"Click support {key.upper()}")
        return button

    # Typed -----------------------------------------------------------------------------------------------------------

    def _put_axis(self, key: str, axis: int, mm: float | None) -> None:
        old = getattr(self.scales, key)
        self._take_in(**{key: (mm, old[1]) if axis == 0 else (old[0], mm)})

    def _put_reading(self, number: int, kg: float | None) -> None:
        readings = list(self.scales.readings)
        readings[number] = kg
        self._take_in(readings=tuple(readings))

    def _put_raised(self, mm: float | None) -> None:
        if mm is not None and self.scales.apart is not None:
            weighing.tilt_of(mm, self.scales.apart)  # says what can't be
        self._take_in(raised=mm)

    def _put_tilt(self, deg: float | None) -> None:
        apart = self.scales.apart
        if deg is not None and apart is None:
            raise HingewrightError("the supports have no places yet", remedy="Type or click these first.")
        self._take_in(raised=None if deg is None or apart is None else apart * math.sin(math.radians(deg)))

    def _take_in(self, **fields: Any) -> None:  # noqa: ANN401  any field of the scales
        self.scales = replace(self.scales, **fields)
        self._tell()

    def _click(self, key: str, _checked: bool = False) -> None:
        link, words = self.link.value, f"Support {key.upper()}: click where the panel lies on it."
        self.board.start_gesture(lambda desk: pick_place(desk, words, link, partial(self._clicked, key)))
        self.board.setFocus()

    def _clicked(self, key: str, at: Point) -> None:
        self._take_in(**{key: (round(at[0], 3), round(at[1], 3))})

    # Showing ---------------------------------------------------------------------------------------------------------

    def show_analysis(self, analysis: Analysis) -> None:
        """Offer the newest links and weights."""
        super().show_analysis(analysis)
        self._is_seen = True
        links, known = analysis.project.links, self.link.value in analysis.project.link_index
        self.link.set_options((link.id, link.id) for link in links)
        if not known:
            self.link.choose(analysis.project.panel.id)
        self._tell()

    def _tell(self) -> None:
        """Show what was typed, and what it tells."""
        project, scales = self.document.project, self.scales
        for key, field in self.places.items():
            field.set_value(getattr(scales, key[0])["xy".index(key[1])])
        for field, kg in zip(self.readings, scales.readings, strict=True):
            field.set_value(kg)
        self.raised.set_value(scales.raised)
        self.tilt.set_value(self._tilt())
        names = _on_link(project, self.link.value)
        fresh = self.into.count() < 2  # there was no weight yet to choose
        self.into.set_options([*((name, name) for name in names), ("", NEW)])
        if fresh and names:
            self.into.choose(names[0])
        say(self.found, self._words(project))
        self.take_button.setEnabled(self._known() is not None)
        self._draw()

    def _draw(self) -> None:
        """Show on the board what is known of it, as long as the box is to be seen."""
        board, link = self.board, self.link.value
        shapes: list[Shape] = []
        if self._is_seen and link in self.document.project.link_index:
            found, supports = self._known(), {key.upper(): self.scales.place(key) for key in ("a", "b")}
            centre = None if found is None else self._place(found, self.into.value)
            words = "" if found is None else f"weighed {MASS.format(found.mass, self.units)}"
            shapes = weigh_shapes(link, supports, centre, words, board.scene.look)
        if shapes or board.scene.has(GROUP):
            board.scene.show_shapes(GROUP, shapes)
            board.arrange()

    def put_away(self) -> None:
        """Take it off the board."""
        self._is_seen = False
        self._draw()

    def _tilt(self) -> float | None:
        raised, apart = self.scales.raised, self.scales.apart
        if raised is None or apart is None or not abs(raised) < apart:
            return None
        return weighing.tilt_of(raised, apart)

    def _known(self) -> Weighed | None:
        try:
            return self.scales.weighed()
        except HingewrightError:
            return None

    def _words(self, project: Project) -> list[str]:
        try:
            found = self.scales.weighed()
        except HingewrightError as fault:
            return [f"✗ {fault}"]
        if found is None:
            return ["Place both supports, and type what both scales read."]
        at = self._place(found, "")
        outside = 0.0 if at is None else weighing.outside_by(project, self.link.value, at)
        return [*weighed_sentences(found, self.units), *outside_words(outside, self.units)]

    def _place(self, found: Weighed, name: str) -> Point | None:
        """Where the centre of gravity is; a height that isn't known stays that of the weight it goes into, else 0."""
        a, b = self.scales.place("a"), self.scales.place("b")
        if a is None or b is None:
            return None
        height = found.height
        if height is None:
            old = loading.mass_named(self.document.project, name).at if name else None
            height = 0.0 if old is None else weighing.height_over(a, b, old)
        return weighing.place_of(a, b, found.along, height)

    # Taking over -----------------------------------------------------------------------------------------------------

    def take(self) -> None:
        """Give what was weighed to the chosen weight, or to a new one: one step; and select it."""
        found, name, link = self._known(), self.into.value, self.link.value
        at = None if found is None else self._place(found, name)
        if found is None or at is None:
            return
        mass, document = found.mass, self.document
        done = document.attempt(
            "Take weighed mass over",
            lambda project: (
                loading.change_mass(project, name, mass=mass, at=at)
                if name
                else loading.add_mass(project, Mass(link, mass, at))
            ),
        )
        if done:
            document.select(Selection("mass", name or loading.mass_names(document.project)[-1]))


def _grid(heads: tuple[str, ...]) -> tuple[QWidget, QGridLayout]:
    """A small table of fields with a heading over each column."""
    whole = QWidget()
    grid = QGridLayout(whole)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(6)
    grid.setVerticalSpacing(2)
    for column, words in enumerate(heads):
        label = QLabel(words)
        label.setObjectName("faint")
        grid.addWidget(label, 0, column)
    return whole, grid


def _on_link(project: Project, link: str) -> list[str]:
    """Names of the weights on a link."""
    masses = () if project.loads is None else project.loads.masses
    return [name for name, mass in zip(loading.mass_names(project), masses, strict=True) if mass.on == link]
