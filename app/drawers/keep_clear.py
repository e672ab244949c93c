"""Keep clear of…: things commonly in the way to tick off, each then drawn as a box by hand or by its corner and size.

A drawn thing is a solid outline on the fixed link (or the link that is chosen), watched against the panel and the links
that have a width. What is ticked but not drawn is kept in the project and remarked beneath the checks, so that it isn't
forgotten.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.document import Selection
from app.entry.form import ChoiceBox, push_button
from app.fields import Field, length_field, named
from app.things import bounds, things, untick
from app.ticks import TickBox
from kinematics import wanting
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from PySide6.QtWidgets import QPushButton

    from app.board import Board
    from app.document import Document
    from app.things import Thing
    from kinematics.project import Point, Project

CORNER = (("left", "x of the lower left corner"), ("low", "y of the lower left corner"))
SIZE = (("wide", "Width"), ("high", "Height"))
AT_FIRST = {"left": 0.0, "low": 0.0, "wide": 100.0, "high": 100.0}


class KeepClearBox(QWidget):
    """The list of things, and the fields for one of them."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__()
        self._document, self._board = document, board
        self._typed = dict(AT_FIRST)
        self._shown: tuple[Thing, ...] = ()
        self.ticks: dict[str, TickBox] = {}
        self.draws: dict[str, QPushButton] = {}
        self._told: dict[str, QLabel] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._build_head()
        self._rows = QWidget()
        self._column.addWidget(self._rows)
        self._build_other()
        self._build_typed()
        document.changed.connect(self._show)
        document.restyled.connect(self._restyle)
        self._show(document.project)

    # Building --------------------------------------------------------------------------------------------------------

    def _build_head(self) -> None:
        told = QLabel(
            "Tick what is in the way, then draw each: drag a box on the board, or type its corner and size. Panel and "
            "links are held off it by the clearance that Preferences say."
        )
        told.setObjectName("faint")
        told.setWordWrap(True)
        self._column.addWidget(told)
        self.rides_on = ChoiceBox([])
        named(self.rides_on, "Things ride on", "The link that the next thing drawn moves with; mostly the fixed link.")
        self._column.addWidget(self.rides_on)

    def _build_other(self) -> None:
        tip = "Name anything else that is in the way; Enter ticks it."
        self.other = Field("Another thing", tip, str.strip, lambda _: "", self._tick_other)  # empty again once taken
        self.other.line.setPlaceholderText("another thing…")
        self._column.addWidget(self.other)

    def _build_typed(self) -> None:
        self.which = ChoiceBox([])
        named(self.which, "Thing to type", "The thing whose corner and size are typed below.")
        self.which.activated.connect(self._take_over)
        self._column.addWidget(self.which)
        box = QWidget()
        grid = QGridLayout(box)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        self.fields: dict[str, Field[float]] = {}
        for row, (words, keys) in enumerate((("corner x, y", CORNER), ("size", SIZE))):
            grid.addWidget(QLabel(words), row, 0)
            for column, (key, name) in enumerate(keys, 1):
                self.fields[key] = self._typed_field(key, name)
                grid.addWidget(self.fields[key], row, column)
        self._column.addWidget(box)
        self.place_button = push_button(
            "Place it", "Put the chosen thing there as a box, or move the one that is there.", self._place_typed
        )
        self._column.addWidget(self.place_button)

    def _typed_field(self, key: str, name: str) -> Field[float]:
        return length_field(
            name,
            f"{name} of the thing, with the panel shut.",
            lambda: self._document.units,
            lambda mm: self._typed.update({key: mm}),
        )

    # Showing ---------------------------------------------------------------------------------------------------------

    def _restyle(self) -> None:
        """Show all once more, told in other words."""
        self._show(self._document.project)

    def _show(self, project: Project) -> None:
        if self._document.is_dragging:
            return
        found = things(project, self._document.units)
        if [thing.name for thing in found] != [thing.name for thing in self._shown]:
            self._make_rows(found)
        self._shown = found
        for thing in found:
            self.ticks[thing.name].setChecked(thing.ticked or thing.placed)
            self._told[thing.name].setText(thing.words)
            self._told[thing.name].setToolTip(thing.size)
            self.draws[thing.name].setText("Redraw" if thing.placed else "Draw")
        known = self.rides_on.value in project.link_index
        self.rides_on.set_options((link.id, f"on {link.id}") for link in project.links)
        if not known:
            self.rides_on.choose(project.fixed.id)
        ticked = [thing.name for thing in found if thing.ticked or thing.placed]
        self.which.set_options((name, name) for name in ticked)
        self.place_button.setEnabled(bool(ticked))
        self._show_typed()

    def _show_typed(self) -> None:
        for key, field in self.fields.items():
            field.set_value(self._typed[key])

    def _make_rows(self, found: tuple[Thing, ...]) -> None:
        """Make the rows anew, as there are other things."""
        self.ticks, self.draws, self._told = {}, {}, {}
        rows = QWidget()
        grid = QGridLayout(rows)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(1)
        for row, thing in enumerate(found):
            for column, widget in enumerate(self._row(thing.name)):
                grid.addWidget(widget, row, column)
        grid.setColumnStretch(1, 1)
        self._column.replaceWidget(self._rows, rows)
        self._rows.hide()
        self._rows.deleteLater()
        self._rows = rows

    def _row(self, name: str) -> tuple[TickBox, QLabel, QPushButton]:
        """A thing's box to tick, how it stands, and the button that draws it."""
        tick = self.ticks[name] = TickBox(name)
        named(tick, f"Keep clear of {name}", f"Tick it if a {name} is in the way; unticked, its box goes too.")
        tick.clicked.connect(lambda: self._tick(name, ticked=tick.isChecked()))
        told = self._told[name] = QLabel()
        told.setObjectName("faint")
        told.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        draw = self.draws[name] = push_button(
            "Draw", "Drag its box on the board, from corner to corner.", partial(self.draw, name)
        )
        draw.setAccessibleName(f"Draw {name}")
        return tick, told, draw

    # Doing -----------------------------------------------------------------------------------------------------------

    def _tick(self, name: str, *, ticked: bool) -> None:
        if ticked:
            self._document.attempt(f"Keep clear of {name}", lambda project: wanting.tick_thing(project, name))
            self.which.choose(name)
        else:
            self._document.attempt(f"Keep clear of {name} no more", lambda project: untick(project, name))
        self._show(self._document.project)

    def _tick_other(self, name: str) -> None:
        if name:
            self._document.apply(f"Keep clear of {name}", wanting.tick_thing(self._document.project, name))
            self.which.choose(name)

    def draw(self, name: str) -> None:
        """Let the builder drag a thing's box on the board."""
        on = self._link_of(name)
        self._board.start_drawing_box(on, lambda corners: self._place(name, corners, on) if corners else None)

    def _place_typed(self) -> None:
        name = self.which.value
        left, low, wide, high = (self._typed[key] for key in ("left", "low", "wide", "high"))
        try:
            corners = wanting.box((left, low), (left + wide, low + high))
        except HingewrightError as error:
            self._document.refuse(str(error))
            return
        self._place(name, corners, self._link_of(name))

    def _place(self, name: str, corners: tuple[Point, ...], on: str) -> None:
        least = self._document.preferences.clearance
        label = f"Place {name}"
        if self._document.attempt(label, lambda project: wanting.place_thing(project, name, corners, on, least)):
            self._document.select(Selection("outline", name))
            self.which.choose(name)
            self._take_over()

    def _link_of(self, name: str) -> str:
        """The link that a thing rides on: its own where it is drawn, else the one that is chosen."""
        project = self._document.project
        drawn = next((outline.on for outline in project.outlines if outline.id == name), "")
        return drawn or self.rides_on.value or project.fixed.id

    def _take_over(self) -> None:
        """Show corner and size of the chosen thing, if it is drawn."""
        name = self.which.value
        outline = next((each for each in self._document.project.outlines if each.id == name), None)
        if outline is not None:
            (left, low), (right, top) = bounds(outline)
            self._typed = {"left": left, "low": low, "wide": right - left, "high": top - low}
        self._show_typed()
