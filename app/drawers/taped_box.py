"""Measured points: a table as shops measure, that becomes an outline. Part of the drawer Trace.

Stations along a datum with offsets, or tapes from two known places (a third checks them). What is typed is read at
once, drawn on the board, and told by row; only when every row is sound is an outline made of it, one step.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.board import marking
from app.document import Selection
from app.drawers.measured_table import MeasuredTable
from app.entry.form import ChoiceBox, push_button
from app.fields import Field, angle_field, length_field, named
from app.taped import PLACES, Table, from_readings, from_stations
from app.ticks import TickBox
from kinematics import edits
from kinematics.project import Outline
from kinematics.taping import Datum

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent, QShowEvent

    from app.board import Board
    from app.document import Document
    from kinematics.project import Project

WAYS = {
    "running": "stations from the tape's start, offsets",
    "chain": "stations each from the one before, offsets",
    "two": "tapes from two places A and B",
    "three": "tapes from three places, which check",
}
HEADS = {"running": ("station", "offset"), "chain": ("station", "offset"), "two": PLACES[:2], "three": PLACES}
SIDES = {"left": "points lie left of the line", "right": "points lie right of the line"}
MOST_LINES = 3


class TapedBox(QWidget):
    """The table and what it is measured from."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__()
        self._document, self._board = document, board
        self._typed = {"x": 0.0, "y": 0.0, "along": 0.0, "Ax": 0.0, "Ay": 0.0, "Bx": 1000.0, "By": 0.0}
        self._typed |= {"Cx": 1000.0, "Cy": 500.0}
        self.table_told = Table((), 0.0)
        self._soon = QTimer(self)  # once the cell's editor is closed
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self._read)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._build_way()
        self._build_table()
        self._build_making()
        document.changed.connect(self._show)
        document.restyled.connect(self._read)
        self._show(document.project)
        self._turn_to_way()

    # Building --------------------------------------------------------------------------------------------------------

    def _build_way(self) -> None:
        self.way = ChoiceBox(WAYS.items())
        named(self.way, "How it was measured", "Along a line with offsets square to it, or by tapes from known places.")
        self.way.activated.connect(self._turn_to_way)
        self._column.addWidget(self.way)
        self._grid_box = QWidget()
        grid = QGridLayout(self._grid_box)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        self.fields: dict[str, Field[float]] = {}
        self._rows: dict[str, list[QWidget]] = {}
        self._add_row(
            grid, "datum", "line from x, y", ("x", "x where the line begins"), ("y", "y where the line begins")
        )
        self._add_angle(grid)
        for name in PLACES:
            self._add_row(grid, name, f"{name}: x, y", (f"{name}x", f"x of {name}"), (f"{name}y", f"y of {name}"))
        self._column.addWidget(self._grid_box)
        self.side = ChoiceBox(SIDES.items())
        named(
            self.side,
            "Side of the line",
            "As seen along the line, or from A to B; left of a line that goes right is above.",
        )
        self.side.activated.connect(self._read)
        self._column.addWidget(self.side)

    def _add_row(self, grid: QGridLayout, row: str, words: str, *cells: tuple[str, str]) -> None:
        place = grid.rowCount()
        self._rows[row] = [QLabel(words)]
        grid.addWidget(self._rows[row][0], place, 0)
        for column, (key, name) in enumerate(cells, 1):
            field = length_field(
                name, f"{name}, with the panel shut.", lambda: self._document.units, partial(self._take, key)
            )
            self.fields[key] = field
            self._rows[row].append(field)
            grid.addWidget(field, place, column)

    def _add_angle(self, grid: QGridLayout) -> None:
        place = grid.rowCount()
        field = angle_field(
            "Direction of the line", "0 goes right, 90 up.", lambda: self._document.units, partial(self._take, "along")
        )
        self.fields["along"] = field
        self._rows["along"] = [QLabel("its direction"), field]
        for column, widget in enumerate(self._rows["along"]):
            grid.addWidget(widget, place, column)

    def _build_table(self) -> None:
        self.table = MeasuredTable()
        self.table.itemChanged.connect(lambda _: self._soon.start())
        self.table.currentCellChanged.connect(lambda *_: self._show_words())
        self._column.addWidget(self.table)
        self.told = QLabel()
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setWordWrap(True)
        self._column.addWidget(self.told)

    def _build_making(self) -> None:
        self.rides_on = ChoiceBox([])
        named(self.rides_on, "Measured outline rides on", "The link that the outline moves with.")
        self.closed = TickBox("closed")
        named(self.closed, "Measured outline is closed", "The last point leads back to the first: a solid.")
        row = QHBoxLayout()
        row.addWidget(self.rides_on, 1)
        row.addWidget(self.closed)
        self._column.addLayout(row)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(push_button("Make outline", "Make an outline of the rows, in their order.", self.make))
        row.addWidget(push_button("Empty table", "Begin the table anew; outlines made of it stay.", self.table.empty))
        row.addStretch(1)
        self._column.addLayout(row)

    # Showing ---------------------------------------------------------------------------------------------------------

    def _show(self, project: Project) -> None:
        if self._document.is_dragging:
            return
        known = self.rides_on.value in project.link_index
        self.rides_on.set_options((link.id, f"on {link.id}") for link in project.links)
        if not known:
            self.rides_on.choose(project.panel.id)
        for key, field in self.fields.items():
            field.set_value(self._typed[key])

    def _turn_to_way(self) -> None:
        by_tapes = self.way.value in ("two", "three")
        for row, widgets in self._rows.items():
            wanted = row in PLACES[: len(HEADS[self.way.value])] if by_tapes else row in ("datum", "along")
            for widget in widgets:
                widget.setVisible(wanted)
        self.table.set_heads(HEADS[self.way.value])
        self._read()

    def _take(self, key: str, value: float) -> None:
        self._typed[key] = value
        self._read()

    def _read(self) -> None:
        """Read the table anew, tell by row, and draw it on the board."""
        typed, units, rows = self._typed, self._document.units, self.table.rows()
        side = "right" if self.side.value == "right" else "left"
        if self.way.value in ("two", "three"):
            known = {name: (typed[f"{name}x"], typed[f"{name}y"]) for name in HEADS[self.way.value]}
            self.table_told = from_readings(rows, known, units, side)  # type: ignore[arg-type]
        else:
            datum = Datum((typed["x"], typed["y"]), typed["along"], side)  # type: ignore[arg-type]
            self.table_told = from_stations(rows, datum, units, tail_to_tail=self.way.value == "chain")
        self.table.tell(self.table_told)
        self._show_words()
        self._draw()

    def _show_words(self) -> None:
        """Say what is to be said of the chosen row, and of those that are at fault or in doubt."""
        rows, chosen = self.table_told.rows, self.table.currentRow()
        bad = [place for place, row in enumerate(rows) if row.fault or row.doubt]
        spoken = [chosen] if 0 <= chosen < len(rows) and rows[chosen].words else []
        places = list(dict.fromkeys([*spoken, *bad]))
        lines = [sentence(place, rows[place].words) for place in places[:MOST_LINES]]
        if len(places) > MOST_LINES:
            lines.append(f"{len(places) - MOST_LINES} more rows are to be looked at.")
        self.told.setText("\n".join(lines))
        self.told.setVisible(bool(lines))

    def _draw(self) -> None:
        points = self.table_told.points if self.isVisible() else ()
        scene, project = self._board.scene, self._document.project
        link = self.rides_on.value if self.rides_on.value in project.link_index else project.panel.id
        shapes = marking.sketch_shapes(points, link, scene.look, spots=points)
        if shapes or scene.has("measured points"):
            scene.show_shapes("measured points", shapes)
            if len(points) > 1 and not project.outlines and not project.pivots:
                self._board.look_at(points)
            self._board.arrange()

    def showEvent(self, event: QShowEvent) -> None:
        """Draw what is typed."""
        super().showEvent(event)
        self._draw()

    def hideEvent(self, event: QHideEvent) -> None:
        """Take the drawing away with the table."""
        super().hideEvent(event)
        self._draw()

    # Making ----------------------------------------------------------------------------------------------------------

    def make(self) -> None:
        """Make an outline of the rows."""
        self._read()
        told, document = self.table_told, self._document
        if told.first_fault:
            document.refuse(f"{told.first_fault.rstrip('.')}. Mend it, or empty the row; nothing was made.")
            return
        least = 3 if self.closed.isChecked() else 2
        if len(told.points) < least:
            document.refuse(f"The table gives {len(told.points)} points, and an outline takes {least}. Type more rows.")
            return
        name, on = edits.free_id(document.project, f"{self.rides_on.value} measured"), self.rides_on.value
        outline = Outline(name, on, told.points, self.closed.isChecked(), uncertain=round(told.uncertain, 1))
        if document.attempt(f"Measure {name}", lambda project: edits.add_outline(project, outline)):
            document.select(Selection("outline", name))
            self._board.fit()


def sentence(place: int, words: str) -> str:
    """Say something of a row, as a sentence."""
    return f"Row {place + 1}: {words}{'' if words.endswith(('.', '?')) else '.'}"
