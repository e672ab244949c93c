"""The drawer Build: what can be taken to the shop from this version, and what can't yet."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from app.drawers.drawer import Drawer
from app.lengths import format_length
from app.lettering import breakable

if TYPE_CHECKING:
    from app.document import Document
    from app.lengths import Units
    from kinematics.project import Project


class BuildDrawer(Drawer):
    """Leads to the mock-up templates, and lists the distances between the pins of each link: what card or a first plate
    is drilled by.
    """

    templates_wanted = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(
            document,
            "Build",
            "Try the hinge in card before money is spent. Plates, stack, brackets and cut files are not made in this "
            "version.",
        )
        self.button(
            "Mock-up templates…",
            "Every link and the pins of wall and panel at true size, to print, cut in card and bolt up (Ctrl+Shift+P).",
            self.templates_wanted.emit,
        )
        self.heading("Between the pins, centre to centre")
        self.listed = self.text()
        self.column.addStretch(1)
        document.analysed.connect(lambda _: self._show())
        document.restyled.connect(self._show)
        self._show()

    def _show(self) -> None:
        self.listed.setText(
            breakable("\n".join(pin_distances(self.document.project, self.document.units)))
            or "No link has two pins yet."
        )


def pin_distances(project: Project, units: Units) -> list[str]:
    """Say how far the pins of each link are apart, a line a pair."""
    lines = []
    for link in project.links:
        pins = project.pivots_on(link.id)
        for place, one in enumerate(pins):
            for other in pins[place + 1 :]:
                lines.append(f"{link.id}: {one.id} – {other.id}  {format_length(dist(one.at, other.at), units)}")
    return lines
