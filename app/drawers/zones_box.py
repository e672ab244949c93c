"""Where pins may be: zones drawn on the board by clicks or as a box, and the links kept clear of what is fixed.

A zone is drawn with the same hand as an outline, on the link whose pins it is for: on the wall for the fixed link, on
the panel for the panel. What is drawn badly, so that it bounds no region, is told and not taken.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.document import Selection
from app.drawers.drawer import PartsList
from app.entry.form import ChoiceBox, push_button
from app.fields import length_field, named
from app.part_words import zone_words
from app.removing import remove
from kinematics import wanting, zoning

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.project import Point, Project

CORNERS_HINT = (
    "Click the corners of the zone, around it (arrow keys and Enter), now {way}; B: {after}. Double-click or Enter "
    "twice ends it, Esc drops it. Shift: every 15°. Ctrl: no snapping."
)
NOTHING_TO_WATCH = (
    "Nothing new to watch: every link with a width is watched against each outline of {} already, or there are none. "
    "Give links a width, and bring in what is fixed under Trace."
)


class ZonesBox(QWidget):
    """The zones in a list, what draws one, and one button that watches all links."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__()
        self._document, self._board = document, board
        self._clear = document.preferences.clearance
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self._faint("Draw where a bracket, a wall or the panel has room: each pin of that link must stand in a zone.")
        self.zones = PartsList(
            document, "zone", "Choose one to type its corners, or whose pins it is for, at the right."
        )
        column.addWidget(self.zones)
        self.target = ChoiceBox([])
        named(self.target, "Zone for the pins of", "The link whose pins the next zone is for.")
        column.addWidget(self.target)
        self._build_buttons()
        self._build_clearance()
        document.changed.connect(self._show)
        document.selected.connect(self._show_selection)
        document.restyled.connect(self._restyle)
        self._show(document.project)

    def _faint(self, words: str) -> None:
        told = QLabel(words)
        told.setObjectName("faint")
        told.setWordWrap(True)
        self._column.addWidget(told)

    def _row(self, *widgets: QWidget) -> None:
        row = QHBoxLayout()
        row.setSpacing(6)
        for widget in widgets:
            row.addWidget(widget)
        row.addStretch(1)
        self._column.addLayout(row)

    def _build_buttons(self) -> None:
        self.draw_button = push_button(
            "Draw zone", "Click its corners on the board, one after another around it.", self.draw
        )
        self.box_button = push_button(
            "Draw box", "Drag an upright zone on the board, from corner to corner.", self.draw_box
        )
        self.remove_button = push_button("Remove", "Take the chosen zone out (Del); the pins stay.", self._remove)
        self.remove_button.setAccessibleName("Remove zone")
        self._row(self.draw_button, self.box_button, self.remove_button)

    def _build_clearance(self) -> None:
        self._faint("The links themselves must clear what is fixed, too:")
        self.clearance = length_field(
            "Clearance of links",
            "How far every link with a width is to stay off what is fixed, over the whole travel.",
            lambda: self._document.units,
            self._take_clearance,
        )
        self.watch_button = push_button(
            "Watch all links",
            "Want this clearance between every link that has a width and each outline of the fixed link. Pairs that "
            "are watched already keep what is wanted of them. One step, to be undone at once.",
            self.watch_links,
        )
        self._row(self.clearance, self.watch_button)

    # Showing ---------------------------------------------------------------------------------------------------------

    def _restyle(self) -> None:
        """Show all once more, told in other words."""
        self._show(self._document.project)

    def _show(self, project: Project) -> None:
        if self._document.is_dragging:
            return
        self.zones.show_parts(
            (name, zone_words(zone)) for name, zone in zip(project.zone_names, project.zones, strict=True)
        )
        known = self.target.value in project.link_index
        self.target.set_options((link.id, f"for the pins of {link.id}") for link in project.links)
        if not known:
            self.target.choose(project.fixed.id)
        self.clearance.set_value(self._clear)
        self._show_selection()

    def _show_selection(self) -> None:
        selection = self._document.selection
        self.remove_button.setEnabled(selection is not None and selection.kind == "zone")
        if selection is not None and selection.kind == "link":
            self.target.choose(selection.id)

    def _take_clearance(self, mm: float) -> None:
        self._clear = max(mm, 0.0)

    # Doing -----------------------------------------------------------------------------------------------------------

    def draw(self) -> None:
        """Let the builder click the corners of a zone."""
        on = self.target.value
        self._board.start_drawing_outline(on, lambda points, _: self._add(on, points), CORNERS_HINT)

    def draw_box(self) -> None:
        """Let the builder drag a zone."""
        on = self.target.value
        self._board.start_drawing_box(on, lambda corners: self._add(on, corners))

    def _add(self, on: str, points: tuple[Point, ...]) -> None:
        if not points:
            return
        if self._document.attempt(f"Draw zone on {on}", lambda project: zoning.add_zone(project, on, points)):
            self._document.select(Selection("zone", self._document.project.zone_names[-1]))

    def _remove(self) -> None:
        selection = self._document.selection
        if selection is not None and selection.kind == "zone":
            remove(self._document, Selection("zone", selection.id))

    def watch_links(self) -> None:
        """Want the clearance of every link with a width from all that is fixed: one step."""
        project = self._document.project
        if wanting.watch_links(project, self._clear) is project:
            self._document.refuse(NOTHING_TO_WATCH.format(project.fixed.id))
            return
        self._document.attempt("Watch all links", lambda project: wanting.watch_links(project, self._clear))
