"""The drawer Build: what can be taken to the shop from this version, and what can't yet."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

from app.drawers.drawer import Drawer
from app.lengths import format_length
from app.lettering import breakable

if TYPE_CHECKING:
    from app.document import Document
    from app.lengths import Units
    from kinematics.project import Project


class BuildDrawer(Drawer):
    """Lists the distances between the pins of each link: what a card model or a first plate is drilled by."""

    def __init__(self, document: Document) -> None:
        super().__init__(
            document,
            "Build",
            "Plates, stack, brackets, templates and cut files are not made in this version. "
            "For a card model, these are the distances between the pins of each link, from centre to centre.",
        )
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
