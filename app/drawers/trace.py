"""The drawer Trace: bring the side view in. Outlines from a drawing, from measured points, or drawn on the board; what
each rides on; marks.
"""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from app.board.course import WAYS
from app.buttons import go_on_or_cancel
from app.document import Selection
from app.drawers.drawer import Drawer, PartsList
from app.drawers.incoming import Incoming, from_file, from_text, next_link, with_outlines
from app.drawers.keep_clear import KeepClearBox
from app.drawers.photo_box import PhotoBox
from app.drawers.taped_box import TapedBox
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.lettering import breakable
from kinematics import edits, truing
from kinematics.errors import HingewrightError
from kinematics.project import Mark, Outline

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from app.board import Board
    from app.document import Document
    from app.look import Look
    from kinematics.project import Point, Project


class TraceDrawer(Drawer):
    """Outlines and marks."""

    start_wanted = Signal()
    file_wanted = Signal()  # ask for a file and bring outlines in from it
    photo_wanted = Signal()  # ask for a photo to lay beneath

    def __init__(self, document: Document, board: Board, look: Callable[[], Look]) -> None:
        super().__init__(
            document,
            "Trace",
            "Bring in the side view, with the panel shut: the panel's outline, and those of whatever it must clear.",
        )
        self._board, self._look = board, look
        self._next = ""  # the link that the hint asks an outline of
        self._build_photos()
        self._build_ways_in()
        self._build_keep_clear()
        self._build_outlines()
        self._build_marks()
        self.column.addStretch(1)
        document.changed.connect(self._show)
        document.selected.connect(self._show_selection)
        self._show(document.project)
        self._show_selection(document.selection)

    def _build_photos(self) -> None:
        self.hint = self.text()
        self.next = push_button(
            "Next: choose a start ▸",
            "Go on to the drawer Pins and place a single pivot, a four-bar or a six-bar.",
            self.start_wanted.emit,
        )
        self.buttons(self.next)
        self.photo_button = self.button(
            "Photo beneath…",
            "Lay a photo beneath the board to trace over: scaled by two points, or made true by a sheet's corners.",
            lambda: self.photos.setVisible(self.photos.isHidden()),
        )
        self.photos = PhotoBox(self.document, self._board, self.photo_wanted.emit)
        self.photos.setVisible(bool(self.document.project.photos))
        self.column.addWidget(self.photos)

    def show_photos(self) -> PhotoBox:
        """Unfold the photos."""
        self.photos.show()
        return self.photos

    def _build_ways_in(self) -> None:
        self.heading("New outlines")
        self.buttons(
            push_button(
                "From a file…",
                "Read a drawing (DXF, SVG) or measured points (CSV), and choose which of its lines go on which link "
                "(Ctrl+I).",
                self.file_wanted.emit,
            ),
            push_button("Paste points…", "Type or paste measured points, x and y on each line.", self.ask_points),
        )
        self.measured_button = self.button(
            "Measured points…",
            "A table as shops measure: stations and offsets, or tapes from two or more places; misread ones are found.",
            lambda: self.measured.setVisible(self.measured.isHidden()),
        )
        self.measured = TapedBox(self.document, self._board)
        self.measured.hide()
        self.column.addWidget(self.measured)
        self.target = ChoiceBox([])
        named(self.target, "Draw on link", "The link that the next outline drawn on the board rides on.")
        self.draw = push_button(
            "Draw on the board",
            "Click point after point on the board; double-click or Enter ends the outline. Over a photo that is to "
            "scale, it begins with how far it may be off by that photo.",
            self.draw_outline,
        )
        self.buttons(self.draw)
        self.column.addWidget(self.target)
        self.way = ChoiceBox((way, f"with {words}") for way, words in WAYS.items())
        named(
            self.way, "Draw with", "How the next pieces of the line run; while you draw, B on the board goes on to the "
            "next of these."
        )  # fmt: skip
        self.way.activated.connect(self._choose_way)
        self.way.choose(self._board.way)
        self._board.way_turned.connect(self.way.choose)
        self.column.addWidget(self.way)

    def _build_keep_clear(self) -> None:
        self.clear_button = self.button(
            "Keep clear of…",
            "Tick off what is commonly in the way (an engine, a wiper drive, a knee) and draw each as a box (Ctrl+K).",
            lambda: self.keep_clear.setVisible(self.keep_clear.isHidden()),
        )
        self.keep_clear = KeepClearBox(self.document, self._board)
        self.keep_clear.hide()
        self.column.addWidget(self.keep_clear)

    def show_keep_clear(self) -> None:
        """Unfold the list of things in the way."""
        self.keep_clear.show()
        next(iter(self.keep_clear.ticks.values())).setFocus(Qt.FocusReason.OtherFocusReason)

    def _build_outlines(self) -> None:
        self.heading("Outlines")
        self.outlines = PartsList(
            self.document,
            "outline",
            "Choose one to change it at the right: what it rides on, its points, its thickness.",
        )
        self.column.addWidget(self.outlines)
        self.rides_on = ChoiceBox([])
        named(self.rides_on, "Chosen outline rides on", "The link that the chosen outline moves with.")
        self.rides_on.activated.connect(self._ride)
        self.column.addWidget(self.rides_on)
        self._outline_row = (
            push_button(
                "Close outline", "Make the chosen outline a solid, or an open line again.", self._toggle_closed
            ),
            push_button(
                "Delete outline",
                "Take the chosen outline out (Del), and every gap want that names it.",
                self._delete_outline,
            ),
        )
        self.buttons(*self._outline_row)

    def _build_marks(self) -> None:
        self.heading("Marks")
        self.told("Points whose paths are drawn, such as the rear corner; how far each may move can be wanted.")
        self.marks = PartsList(self.document, "mark", "Choose one to change its place and limits at the right.")
        self.column.addWidget(self.marks)
        self.buttons(
            push_button(
                "Add mark",
                "Put a mark on the chosen outline's point, or on the panel; then move it or type its place.",
                self.add_mark,
            )
        )

    # Showing ---------------------------------------------------------------------------------------------------------

    def _show(self, project: Project) -> None:
        if self.document.is_dragging:
            return
        self.outlines.show_parts((outline.id, outline_words(outline)) for outline in project.outlines)
        self.marks.show_parts((mark.id, f"on {mark.on}") for mark in project.marks)
        known = self.target.value in project.link_index
        self.target.set_options((link.id, f"on {link.id}") for link in project.links)
        if not known or next_link(project) != self._next:  # goes on to the body once the panel has its outline
            self._next = next_link(project)
            self.target.choose(self._next)
        self.rides_on.set_options((link.id, f"rides on {link.id}") for link in project.links)
        self.hint.setText(breakable(hint_words(project)))
        self.hint.setVisible(bool(self.hint.text()))
        self.next.setVisible(bool(project.outlines) and not project.pivots)
        self._show_selection(self.document.selection)

    def _show_selection(self, selection: Selection | None) -> None:
        chosen = self._chosen()
        for button in self._outline_row:
            button.setEnabled(chosen is not None)
        self.rides_on.setEnabled(chosen is not None)
        if chosen is not None:
            self.rides_on.choose(chosen.on)
        self._outline_row[0].setText("Open outline" if chosen is not None and chosen.closed else "Close outline")
        if selection is not None and selection.kind == "link":
            self.target.choose(selection.id)

    def _chosen(self) -> Outline | None:
        selection = self.document.selection
        if selection is None or selection.kind != "outline":
            return None
        return next((outline for outline in self.document.project.outlines if outline.id == selection.id), None)

    # Outlines in -----------------------------------------------------------------------------------------------------

    def bring_in(self, path: Path) -> bool:
        """Bring outlines in from a file; False when nothing was. A file that can't be read is told, the project is
        untouched.
        """
        try:
            incoming = from_file(path, self.document.project.display_units)
        except HingewrightError as error:
            self.document.refuse(str(error))
            return False
        return self._choose_from(incoming)

    def ask_points(self) -> None:
        """Ask for pasted points and bring outlines in from them."""
        dialog = PasteDialog(self.document.project.display_units, self)
        if dialog.exec() == QDialog.DialogCode.Accepted and dialog.incoming is not None:
            self._choose_from(dialog.incoming)

    def _choose_from(self, incoming: Incoming) -> bool:
        from app.drawers.chooser import OutlineChooser

        chooser = OutlineChooser(self.document.project, incoming, self._look(), self, self.document.units)
        if chooser.exec() != QDialog.DialogCode.Accepted:
            return False
        chosen = chooser.chosen
        label = f"Bring in {len(chosen)} outline{'s' if len(chosen) != 1 else ''}"
        done = self.document.attempt(label, lambda project: with_outlines(project, chosen))
        if done:
            self._board.fit()
        return done

    def draw_outline(self) -> None:
        """Let the builder draw an outline on the chosen link."""
        link_id = self.target.value or self.document.project.panel.id

        def done(points: tuple[Point, ...], closed: bool) -> None:
            if not points:
                return
            name = edits.free_id(self.document.project, f"{link_id} outline")
            off = self._off_by(link_id, points)
            outline = Outline(id=name, on=link_id, points=points, closed=closed, uncertain=off)
            if self.document.attempt(f"Draw {name}", lambda project: edits.add_outline(project, outline)):
                self.document.select(Selection("outline", name))

        self._board.start_drawing_outline(link_id, done)

    def _choose_way(self) -> None:
        self._board.set_way(next(way for way in WAYS if way == self.way.value))
        if self._board.is_drawing:  # go on where the line ended
            self._board.setFocus(Qt.FocusReason.OtherFocusReason)

    def _off_by(self, link_id: str, points: tuple[Point, ...]) -> float:
        """How far a drawn line may be off by the photo that it was traced over, mm, up to a tenth; 0 without one."""
        document, pixel = self.document, 1.0 / self._board.view.camera.scale
        shut = not document.pose.turns.any()  # else the links don't stand where the photo shows them
        found = [
            truing.traced_within(each.place, points, pixel)
            for each in document.project.photos
            if not each.hidden and (shut or each.on == link_id)
        ]
        return ceil(max((off for off in found if off is not None), default=0.0) * 10) / 10

    # Changing --------------------------------------------------------------------------------------------------------

    def _ride(self) -> None:
        chosen, link_id = self._chosen(), self.rides_on.value
        if chosen is not None and not self.document.attempt(
            f"Set what {chosen.id} rides on", lambda project: edits.ride_outline(project, chosen.id, link_id)
        ):
            self.rides_on.choose(chosen.on)

    def _toggle_closed(self) -> None:
        chosen = self._chosen()
        if chosen is not None:
            word = "Open" if chosen.closed else "Close"
            self.document.attempt(
                f"{word} {chosen.id}", lambda project: edits.close_outline(project, chosen.id, not chosen.closed)
            )

    def _delete_outline(self) -> None:
        chosen = self._chosen()
        if chosen is not None:
            self.document.attempt(
                f"Delete outline {chosen.id}", lambda project: edits.remove_outline(project, chosen.id)
            )

    def add_mark(self) -> None:
        """Add a mark on the chosen outline's chosen point, else on the first of the panel's first outline."""
        project = self.document.project
        selection, chosen = self.document.selection, self._chosen()
        outline = chosen or next((each for each in project.outlines if each.on == project.panel.id), None)
        part = selection.part if chosen is not None and selection is not None else None
        on, at = (outline.on, outline.points[part or 0]) if outline is not None else (project.panel.id, (0.0, 0.0))
        mark = Mark(id=edits.free_id(project, "mark"), on=on, at=at)
        if self.document.attempt(f"Add {mark.id}", lambda project: edits.add_mark(project, mark)):
            self.document.select(Selection("mark", mark.id))


def hint_words(project: Project) -> str:
    """Say what comes next; "" once there are pins."""
    on = {outline.on for outline in project.outlines}
    panel, fixed = project.panel.id, project.fixed.id
    if project.pivots:
        return ""
    if panel not in on:
        return "First the outline of the panel: from a drawing, as points, or drawn on the board, over a photo beneath."
    if fixed not in on:
        return f"Now what the panel must clear, on {fixed}; or go on without it."
    return "Panel and body are there."


def outline_words(outline: Outline) -> str:
    """Say what an outline is, in a few words."""
    return f"on {outline.on}, {len(outline.points)} points{', closed' if outline.closed else ''}"


class PasteDialog(QDialog):
    """Takes typed or pasted points; what can't be read is told beneath the text, with its line."""

    def __init__(self, units: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Paste points")
        self.setObjectName("paste points")  # by which the help knows it
        self.resize(420, 380)
        self._units = units
        self.incoming: Incoming | None = None
        column = QVBoxLayout(self)
        how = QLabel(
            "One point a line, x and y: 12.5; 30 or 12.5, 30 or 12,5 30. A blank line starts the next outline; a "
            "line of words names it. "
            f"Numbers without a unit are in {'mm' if units == 'mm' else 'inches'}."
        )
        how.setWordWrap(True)
        column.addWidget(how)
        self.text = QPlainTextEdit()
        named(self.text, "Points", "One point a line, x and y; x to the right, y up, with the panel shut.")
        self.text.setTabChangesFocus(True)
        self.text.setPlaceholderText("hatch skin\n-28; 267\n-28; 312\n600; 297\n1190; 262")
        column.addWidget(self.text, 1)
        self.said = QLabel()
        self.said.setObjectName("fault")
        self.said.setWordWrap(True)
        column.addWidget(self.said)
        buttons, self.ok = go_on_or_cancel("Go on", "Read the points, then choose on which link they go.")
        buttons.accepted.connect(self._read)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)

    def _read(self) -> None:
        try:
            self.incoming = from_text(self.text.toPlainText(), self._units)
        except HingewrightError as error:
            self.said.setText(f"✗ {error}")
            return
        self.accept()
