"""The sheet on the swept room: on the board while it is open, with what stands nearest to it; saved as a drawing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QFileDialog, QLabel, QListWidget, QVBoxLayout, QWidget

from app.buttons import close_only
from app.entry.form import push_button
from app.fields import named
from app.sweptroom.told import near_words, nearest_things, size_words
from app.ticks import TickBox
from kinematics.errors import HingewrightError

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


class SweptDialog(QDialog):
    """The sheet."""

    def __init__(self, document: Document, overlay: SweptOverlay, settings: Settings, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Swept room")
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
        named(
            self.things,
            "What stands around it",
            "Every outline of the fixed body, the nearest first, with its distance from the room.",
        )
        column.addWidget(self.things, 1)
        self.save_button = push_button(
            "Save as a drawing…", "Write the room's outline, full size in mm, as DXF or SVG.", self.save
        )
        column.addWidget(self.save_button)
        box = close_only()
        box.rejected.connect(self.close)
        column.addWidget(box)
        self.resize(380, 340)
        overlay.told.connect(self._show)
        document.restyled.connect(self._restyle)
        overlay.want(True)

    def _show(self, room: SweptRoom | None) -> None:
        self.things.clear()
        self.save_button.setEnabled(room is not None and bool(room.solids))
        if room is None:
            self.size_told.setText("It is worked out once the hand rests.")
            return
        units = self._document.units
        self.size_told.setText(size_words(room, units))
        self.things.addItems([near_words(near, units) for near in nearest_things(room, self._document.project)])

    def _restyle(self) -> None:
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
