"""The drawer Lift: what the project's file says of weights and helpers, and what they come to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.drawers.drawer import Drawer
from app.lengths import format_length, format_number
from app.lettering import breakable
from app.load_words import lift_sentences
from app.words import caution_sentences
from kinematics.pinching import pinches

if TYPE_CHECKING:
    from app.document import Document
    from app.lengths import Units
    from kinematics.project import Point, Project


class LiftDrawer(Drawer):
    """Lists masses, handle and devices, and shows the analysis's figures of them."""

    def __init__(self, document: Document) -> None:
        super().__init__(
            document,
            "Lift",
            "What the file says of weights, handle, struts and springs, and what they come to. They can't be entered "
            "in the window yet.",
        )
        self.listed = self.text()
        self.figures_heading = self.heading("What they come to")
        self.figures = self.text()
        self.heading("Keep in mind")
        self.cautions = self.text()
        self.column.addStretch(1)
        document.analysed.connect(lambda _: self._show())
        document.restyled.connect(self._show)
        self._show()

    def showEvent(self, event: object) -> None:
        """Bring the list up to date when the drawer opens."""
        self._show()
        super().showEvent(event)  # type: ignore[arg-type]  # Qt gives a QShowEvent

    def _show(self) -> None:
        if self.document.is_dragging:
            return
        project = self.document.project
        self.listed.setText(breakable("\n".join(loads_told(project, self.document.units))))
        said = lift_sentences(self.document.analysis, self.document.units)
        self.figures.setText(breakable("\n".join(said)))
        self.figures.setVisible(bool(said))
        self.figures_heading.setVisible(bool(said))
        cautions = caution_sentences(project, pinches(self.document.analysis), self.document.units)
        self.cautions.setText(breakable("\n\n".join(cautions)))


def loads_told(project: Project, units: Units) -> list[str]:
    """Say what a file has of loads, a line each."""
    loads = project.loads
    if loads is None:
        return ["The file names no weights, handle, struts or springs."]
    lines = [
        f"{format_number(mass.mass, units)} kg on {mass.on}, centre of gravity at {_at(mass.at, units)}"
        for mass in loads.masses
    ]
    if loads.handle is not None:
        lines.append(f"handle on {loads.handle.on} at {_at(loads.handle.at, units)}")
    lines += [
        f"{device.count} × {device.kind} {device.id}, from {device.from_end.on} to {device.to_end.on}"
        for device in loads.devices
    ]
    return [*lines, f"shared by {loads.hinges} hinge{'s' if loads.hinges != 1 else ''}"]


def _at(point: Point, units: Units) -> str:
    x, y = (format_length(value, units) for value in point)
    return f"x {x}, y {y}"
