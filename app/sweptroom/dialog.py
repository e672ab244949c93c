"""The sheet on the swept room: on the board while it is open, with what stands nearest to it; saved as a drawing.

A thing that stands around it can be watched from here: one step wants a least distance of it against all that moves.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.dialog_places import undo_from
from app.entry.form import push_button
from app.fields import length_field, named
from app.sweptroom.told import nearest_things, size_words, thing_words, watched_words
from app.ticks import TickBox
from kinematics import wanting
from kinematics.errors import HingewrightError
from kinematics.swept import SAGITTA

if TYPE_CHECKING:
    from app.document import Document
    from app.settings import Settings
    from app.sweptroom.overlay import SweptOverlay
    from kinematics.swept import SweptRoom

FILTER = "Drawings (*.dxf *.svg)"
WHAT = (
    "The space that panel and links take through the whole travel. What stands outside it is never touched; "
    "it follows the pins."
)


class SweptDialog(StayingDialog):
    """The sheet."""

    def __init__(self, document: Document, overlay: SweptOverlay, settings: Settings, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Swept room")
        self.setObjectName("swept room")  # by which the help knows it
        self.setAccessibleName("Swept room")
        self._document, self._overlay, self._settings = document, overlay, settings
        column = QVBoxLayout(self)
        what = QLabel(WHAT)
        what.setWordWrap(True)
        column.addWidget(what)
        self.panel_alone = TickBox("Of the panel alone")
        named(
            self.panel_alone, "Of the panel alone", "Leave the links out: the room that the panel needs above a body."
        )
        self.panel_alone.toggled.connect(lambda alone: overlay.want(True, alone))
        column.addWidget(self.panel_alone)
        self.size_told = QLabel()
        self.size_told.setWordWrap(True)
        column.addWidget(self.size_told)
        self.things = QListWidget()
        self.things.setWordWrap(True)
        self.things.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.things.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.things.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        named(
            self.things,
            "What stands around it",
            "Every outline of the fixed body, the nearest first, with its distance from the room; ✓, ✗ or ⚠ "
            "where gaps are wanted of it. Choose one to watch it.",
        )
        self.things.itemSelectionChanged.connect(self._choose)
        column.addWidget(self.things, 1)
        column.addLayout(self._watch_row())
        self.watch_told = QLabel()
        self.watch_told.setWordWrap(True)
        self.watch_told.setTextFormat(Qt.TextFormat.PlainText)
        self.watch_told.hide()
        column.addWidget(self.watch_told)
        self.save_button = push_button(
            "Save as a drawing…", "Write the room's outline, full size in mm, as DXF or SVG.", self.save
        )
        column.addWidget(self.save_button)
        box = close_only()
        box.rejected.connect(self.close)
        column.addWidget(box)
        undo_from(self, document)
        self.resize(420, 420)
        overlay.told.connect(self._show)
        document.restyled.connect(self._restyle)
        overlay.want(True)

    def _watch_row(self) -> QHBoxLayout:
        """The least distance to want of the chosen thing, and the button that wants it."""
        document = self._document
        self._least, self._chosen = document.preferences.clearance, ""
        self.least = length_field(
            "Least distance", "The gap to want of the chosen thing.", lambda: document.units, self._take_least
        )
        self.least.set_value(self._least)
        self.watch_button = push_button(
            "Watch it",
            "Want this least distance between the chosen thing and all that moves past it: the panel's outlines, and "
            "the links (not with the panel alone). What is wanted already and asks for as much stays. One step.",
            self.watch,
        )
        row = QHBoxLayout()
        label = QLabel("Least distance")
        label.setBuddy(self.least)
        label.setContentsMargins(0, 4, 0, 0)
        row.addWidget(label, 0, Qt.AlignmentFlag.AlignTop)  # beneath the line there is room for what it refuses
        row.addWidget(self.least, 1)
        row.addWidget(self.watch_button, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _take_least(self, mm: float) -> None:
        if mm < 0.0:
            raise HingewrightError("a distance may not be negative")
        self._least = mm

    def _choose(self) -> None:
        chosen = self.things.selectedItems()
        if chosen:
            self._chosen = str(chosen[0].data(Qt.ItemDataRole.UserRole))
        self.watch_button.setEnabled(bool(chosen))

    def watch(self) -> None:
        """Want the least distance of the chosen thing: one step, told in words."""
        document, before, thing = self._document, self._document.project, self._chosen
        alone = self.panel_alone.isChecked()
        if not document.attempt(
            f"Watch {thing}", lambda project: wanting.watch_all_round(project, thing, self._least, alone)
        ):
            return
        self.watch_told.setText(watched_words(before, document.project, thing, self._least, document.units))
        self.watch_told.show()

    def _show(self, room: SweptRoom | None) -> None:
        chosen = self._chosen
        self.things.clear()
        self.watch_button.setEnabled(False)
        self.save_button.setEnabled(room is not None and bool(room.solids))
        if room is None:
            self.size_told.setText("It is worked out once the hand rests.")
            return
        units = self._document.units
        self.size_told.setText(size_words(room, units))
        gaps, wider = self._document.analysis.gaps, room.rim + SAGITTA
        for near in nearest_things(room, self._document.project):
            item = QListWidgetItem(thing_words(near, gaps, units, wider))
            item.setData(Qt.ItemDataRole.UserRole, near.outline)
            self.things.addItem(item)
            if near.outline == chosen:
                self.things.setCurrentItem(item)
        self._choose()

    def _restyle(self) -> None:
        self.least.set_value(self._least)
        self._show(self._overlay.room)

    def save(self) -> None:
        """Ask for a name and write the drawing."""
        from app.files.outline_export import save_rings

        room = self._overlay.room
        if room is None:
            return
        suggested = self._settings.folder() / "swept room.dxf"
        name, _ = QFileDialog.getSaveFileName(self, "Save the swept room", str(suggested), FILTER)
        if not name:
            return
        path = Path(name) if Path(name).suffix else Path(name).with_suffix(".dxf")
        try:
            save_rings(room.rings, path, "SWEPT ROOM")
        except HingewrightError as fault:
            self._document.noticed.emit(str(fault))
        else:
            self._settings.set_folder(path.parent)

    def done(self, result: int) -> None:
        """Take the room off the board with the sheet."""
        self._overlay.told.disconnect(self._show)
        self._document.restyled.disconnect(self._restyle)
        self._overlay.want(False)
        super().done(result)
