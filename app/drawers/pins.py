"""The drawer Pins: starts that move at once, then links and pivots one by one, zones, and how sure it all is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt, Signal

from app.document import Selection
from app.drawers.drawer import WIDTH, Drawer, PartsList
from app.drawers.starts import StartsBox
from app.drawers.sure_box import SureBox
from app.drawers.zones_box import ZonesBox
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.lettering import breakable
from app.part_words import link_words, pivot_words
from app.removing import remove
from kinematics import edits
from kinematics.building import free_pin
from kinematics.project import Link, Pivot

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.board import Board
    from app.document import Document
    from app.look import Look
    from kinematics.project import Point, Project


class PinsDrawer(Drawer):
    """Starts, links, pivots."""

    search_wanted = Signal()

    def __init__(self, document: Document, board: Board, look: Callable[[], Look]) -> None:
        super().__init__(document, "Pins", "Place the pins: begin from a start, or add links and pivots one by one.")
        self._board, self._was_bare = board, False
        self._build_starts(look)
        self._build_links()
        self._build_pivots()
        self.heading("Where pins may be")
        self.zones = ZonesBox(document, board)
        self.column.addWidget(self.zones)
        self.heading("How sure")
        self.sure = SureBox(document)
        self.column.addWidget(self.sure)
        self.column.addStretch(1)
        document.changed.connect(self._show)
        document.restyled.connect(self._restyle)
        document.selected.connect(self._show_selection)
        self._show(document.project)

    def _build_starts(self, look: Callable[[], Look]) -> None:
        self.hint = self.text()
        self.choose_start = self.button(
            "Begin from another start…",
            "Show the starts: linkages that move at once. One takes the place of what is there; undo brings it back.",
            self._toggle_starts,
        )
        self.find_hinges = self.button(
            "Find hinges…",
            "Have the program look for hinges that meet every want; nothing changes until you take one.",
            self.search_wanted.emit,
        )
        self.starts = StartsBox(self.document, look)
        self.starts.hide()
        self.starts.placed.connect(self._after_start)
        self.column.addWidget(self.starts)

    def _build_links(self) -> None:
        self.heading("Links")
        self.links = PartsList(self.document, "link", "Choose one to change its name, width and kind at the right.")
        self.column.addWidget(self.links)
        self.add_link_button = push_button("Add link", "Add a link; then join it to others by pivots.", self.add_link)
        self.remove_link = push_button(
            "Remove", "Take the chosen link out (Del), with what rides on it.", lambda: self._remove("link")
        )
        self.buttons(self.add_link_button, self.remove_link)

    def _build_pivots(self) -> None:
        self.heading("Pivots")
        self.pivots = PartsList(
            self.document, "pivot", "Choose one to type its place, re-join or lock it at the right."
        )
        self.column.addWidget(self.pivots)
        self.first, self.second = ChoiceBox([]), ChoiceBox([])
        named(self.first, "First link that the new pivot joins", "One of the two links that the new pin goes through.")
        named(self.second, "Second link that the new pivot joins", "The other link; more can be joined at the right.")
        self.column.addWidget(self.first)
        self.column.addWidget(self.second)
        self.add_pivot_button = push_button(
            "Add pivot",
            "Put a pin through these two links, in the middle of the board; then drag it or type its place.",
            self.add_pivot,
        )
        self.lock = push_button(
            "Lock", "Hold the chosen pivot where it is, or free it (L on the board).", self._toggle_lock
        )
        self.remove_pivot = push_button(
            "Remove", "Take the chosen pivot out (Del); its links stay.", lambda: self._remove("pivot")
        )
        self.buttons(self.add_pivot_button, self.lock, self.remove_pivot)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self.starts.set_look(look)

    # Showing ---------------------------------------------------------------------------------------------------------

    def _restyle(self) -> None:
        """Show all once more, told in other words."""
        self._show(self.document.project)

    def _show(self, project: Project) -> None:
        if self.document.is_dragging:
            return
        bare = not project.pivots
        self.choose_start.setVisible(not bare)
        if bare != self._was_bare:
            self._was_bare = bare
            self.starts.setVisible(bare)
        self.hint.setText(breakable(hint_words(project)))
        self.links.show_parts((link.id, link_words(link, project, self.document.units)) for link in project.links)
        self.pivots.show_parts((pivot.id, pivot_words(pivot)) for pivot in project.pivots)
        options = [(link.id, link.id) for link in project.links]
        for box, at_first in ((self.first, project.fixed.id), (self.second, project.panel.id)):
            known = box.value in project.link_index
            box.set_options(options)
            if not known:
                box.choose(at_first)
        self._show_selection()

    def _show_selection(self) -> None:
        selection, project = self.document.selection, self.document.project
        kind = selection.kind if selection is not None else ""
        self.remove_link.setEnabled(kind == "link")
        for button in (self.lock, self.remove_pivot):
            button.setEnabled(kind == "pivot")
        locked = (
            selection is not None and kind == "pivot" and any(p.locked for p in project.pivots if p.id == selection.id)
        )
        self.lock.setText("Free" if locked else "Lock")

    def _toggle_starts(self) -> None:
        self.starts.setVisible(self.starts.isHidden())

    def _after_start(self) -> None:
        self._board.setFocus(Qt.FocusReason.OtherFocusReason)
        self.starts.hide()
        self._board.fit()

    # Doing -----------------------------------------------------------------------------------------------------------

    def add_link(self) -> None:
        """Add a link that hangs free yet."""
        name = edits.free_id(self.document.project, "link")
        if self.document.attempt(f"Add {name}", lambda project: edits.add_link(project, Link(name))):
            self.document.select(Selection("link", name))
            self.first.choose(name)

    def add_pivot(self) -> None:
        """Add a pivot that joins the two chosen links, in the middle of what is seen of the board."""
        project = self.document.project
        name = free_pin(project)
        pivot = (
            Pivot(id=name, at=self._middle(), joins=(self.first.value, self.second.value))
            if self.first.value != self.second.value
            else None
        )
        if pivot is None:
            self.document.refuse("Pivot: both ends are the same link. Choose two links for the new pin to join.")
            return
        if self.document.attempt(f"Add pivot {name}", lambda project: edits.add_pivot(project, pivot)):
            self.document.select(Selection("pivot", name))

    def _middle(self) -> Point:
        view = self._board.view
        covered = WIDTH if self.isVisible() and view.width() > 2 * WIDTH else 0
        x, y = view.to_mm(QPointF((covered + view.width()) / 2, view.height() / 2))
        return round(x), round(y)

    def _toggle_lock(self) -> None:
        selection = self.document.selection
        if selection is None or selection.kind != "pivot":
            return
        locked = self.document.project.pivot(selection.id).locked
        self.document.attempt(
            f"{'Free' if locked else 'Lock'} pivot {selection.id}",
            lambda project: edits.lock_pivot(project, selection.id, not locked),
        )

    def _remove(self, kind: str) -> None:
        selection = self.document.selection
        if selection is not None and selection.kind == kind:
            remove(self.document, selection)


def hint_words(project: Project) -> str:
    """Say what comes next."""
    on = {outline.on for outline in project.outlines}
    if project.pivots:
        return "Drag the pins on the board; at the right, under Wants, say how far it opens and how near it may come."
    if not {project.fixed.id, project.panel.id} <= on:
        return "A start is placed by the panel's rear edge: bring in the outlines of panel and body under Trace first."
    return "Choose a start; it moves at once, and every pin can be dragged."
