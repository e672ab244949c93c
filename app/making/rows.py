"""The parts list: one row for each part that is cut or bought, as comma-separated values.

Columns: what it is, for which link or pivot, its standard designation or material, its size, how many are used, how
many to have spare, the file it is cut from, and of what is cut the mass, area, way of the cutter and pierces of one,
with the price by the builder's own prices. Decimals stand behind a point and lengths are in mm, whatever the window
shows, as programs read it.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.mount_bought import mount_bought
from app.parts_list import bought
from kinematics.pricing import price_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from app.making.planned import CutPlan, MakeOptions
    from kinematics.project import Project
    from kinematics.stacking import PinStack

HEAD = (
    "item",
    "for",
    "designation",
    "size",
    "count",
    "spares",
    "file",
    "mass_kg",
    "area_mm2",
    "cut_mm",
    "pierces",
    "price_each",
    "price_all",
    "currency",
)
FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a spreadsheet takes for the beginning of a formula."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row, in the order of `HEAD`; figures as they are written, "" where there is none."""

    item: str
    used_for: str
    designation: str
    size: str
    count: int
    spares: int = 0
    file: str = ""
    figures: tuple[str, ...] = ("",) * 7

    def cells(self) -> list[str]:
        """The cells, none of which a spreadsheet takes for a formula."""
        words = [self.item, self.used_for, self.designation, self.size]
        words = [f"'{each}" if each.startswith(FORMULA) else each for each in words]
        return [*words, str(self.count), str(self.spares), self.file, *self.figures]


def parts_csv(
    project: Project, cuts: Sequence[CutPlan], options: MakeOptions, pins: Mapping[str, PinStack] | None = None
) -> bytes:
    """The parts list as a file.   pins : with what lies on them, where the stack is known."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(HEAD)
    rows = [_cut_row(project, cut, options) for cut in cuts]
    rows += [
        Row(each.item, " ".join(each.used_for), each.designation, each.size, each.count, each.spares)
        for each in (*bought(project, pins=pins), *mount_bought(project, hardware()))
    ]
    writer.writerows(row.cells() for row in rows)
    return out.getvalue().encode()


def _cut_row(project: Project, cut: CutPlan, options: MakeOptions) -> Row:
    """The row of a part that is cut."""
    part, prices = cut.part, project.plating.prices
    left, low, right, high = part.box()
    metal = project.plating.of(part.link).metal
    thick = f"{part.thickness:g}" if part.taper is None else f"{part.taper[0]:.2f} to {part.taper[1]:.2f}"
    each = None if prices is None else price_of(part, prices)
    return Row(
        part.kind,
        f"{part.mark} {part.hand}".strip(),
        metal.name if metal is not None else "",
        f"{thick} mm, {right - left:.1f} × {high - low:.1f} mm",
        cut.count,
        0,
        cut.path(options.formats[0]),
        (
            f"{part.mass:.4f}",
            f"{part.area:.1f}",
            f"{part.cut_length:.1f}",
            str(part.pierces),
            "" if each is None else f"{each:.2f}",
            "" if each is None else f"{each * cut.count:.2f}",
            "" if prices is None else prices.currency,
        ),
    )
