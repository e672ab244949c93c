"""Outlines on their way in: the curves of a drawing or of measured points, and what the builder chooses of them. No
widget here.

A curve becomes an outline once it is said on which link it goes; curves on no link are left out. Where the source
doesn't say its unit, `unit` is None and nothing is chosen for the builder: sizes in each unit are offered to judge
by.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.lengths import format_length
from kinematics import edits
from kinematics.errors import OutlineError
from kinematics.project import Outline

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from app.files.outline_import import Curve, Drawing
    from app.lengths import Units
    from kinematics.project import Project

UNITS = ("mm", "cm", "m", "in", "ft")
TEXT_KINDS = (".csv", ".txt", ".tsv", ".xyz", ".dat")
FILTER = "Outlines (*.dxf *.svg *.csv *.txt);;Drawings (*.dxf *.svg);;Points (*.csv *.txt);;All files (*)"


@dataclass(frozen=True, slots=True)
class Incoming:
    """What has been read: its name, its unit (None: not known), its curves in mm (in drawing units while the unit isn't
    known).
    """

    name: str
    unit: str | None
    curves: tuple[Curve, ...]
    remarks: tuple[str, ...]
    read_in: Callable[[str], Incoming]

    def size(self, unit: str) -> tuple[float, float]:
        """Width and height over all curves, mm, if the source were in `unit`."""
        from app.files.outline_import import MM_PER_UNIT

        factor = MM_PER_UNIT[unit] / (MM_PER_UNIT[self.unit] if self.unit else 1.0)
        xs = [x for curve in self.curves for x, _ in curve.points]
        ys = [y for curve in self.curves for _, y in curve.points]
        return (max(xs) - min(xs)) * factor, (max(ys) - min(ys)) * factor


def next_link(project: Project) -> str:
    """Give the link that the next outline is most likely of: the panel, and once it has one the fixed link."""
    on = {outline.on for outline in project.outlines}
    panel, fixed = project.panel.id, project.fixed.id
    return fixed if panel in on and fixed not in on else panel


def from_file(path: Path, units: str) -> Incoming:
    """Read a DXF or SVG drawing, or points whose bare numbers are in `units`. Raises FileError or OutlineError."""
    from app.files.outline_import import read_dxf, read_points_file, read_svg

    try:
        if path.suffix.lower() in TEXT_KINDS:
            return Incoming(path.name, units, read_points_file(path, units), (), lambda unit: from_file(path, unit))
        return _of_drawing(path.name, (read_svg if path.suffix.lower() == ".svg" else read_dxf)(path))
    except OutlineError as fault:  # speaks of lines or of the drawing; several files may have been dropped
        raise OutlineError(fault.what, ", ".join(filter(None, (path.name, fault.where))), fault.remedy) from fault


def from_text(text: str, units: str) -> Incoming:
    """Read pasted points. Raises OutlineError."""
    from app.files.outline_import import read_points

    return Incoming("pasted points", units, read_points(text, units), (), lambda unit: from_text(text, unit))


def _of_drawing(name: str, drawing: Drawing) -> Incoming:
    from app.files.outline_import import scaled

    return Incoming(
        name, drawing.units, drawing.curves, drawing.remarks, lambda unit: _of_drawing(name, scaled(drawing, unit))
    )


def unit_words(incoming: Incoming, unit: str, display: Units) -> str:
    """Offer a unit with the size that the whole drawing has in it: "in  (1219.2 mm × 533.4 mm)"."""
    width, height = (format_length(mm, display) for mm in incoming.size(unit))
    return f"{unit}   ({width} × {height})"


def with_outlines(project: Project, chosen: list[tuple[Curve, str, str]]) -> Project:
    """Add curves as outlines: (curve, name, link). Names that are taken get a number. Raises ProjectError for a bad
    name.
    """
    for curve, name, link_id in chosen:
        outline = Outline(
            id=edits.free_id(project, name or "outline"), on=link_id, points=curve.points, closed=curve.closed
        )
        project = edits.add_outline(project, outline)
    return project
