"""The table of usual gas struts, `resources/struts.csv`, and what a builder reads of a size. No Qt here.

Every row names its source. Most are common practice and say so: makers agree on diameters and strokes, while lengths
with end fittings, forces and ratios differ from make to make. So the table is there to begin with; the data of the
maker whose strut is bought go first.
"""

from __future__ import annotations

import csv
from functools import lru_cache

from kinematics.struts.results import StrutSize
from resources import find

COLUMNS = ("rod", "tube", "stroke", "extended", "least", "most", "ratio")
TABLE = "struts.csv"


@lru_cache(maxsize=1)
def usual_sizes() -> tuple[StrutSize, ...]:
    """Read the table, by rod and stroke."""
    text = find(TABLE).read_text("utf-8")
    return tuple(sorted(read_sizes(text), key=lambda size: (size.rod, size.tube, size.stroke)))


def read_sizes(text: str) -> list[StrutSize]:
    """Read sizes from CSV text; ValueError, with the line's number, for a row that no strut can be."""
    found = []
    for number, row in enumerate(csv.DictReader(text.splitlines()), 2):
        try:
            values = {name: float(row[name]) for name in COLUMNS}
        except (KeyError, TypeError, ValueError) as fault:
            raise ValueError(f"line {number} of the table of struts lacks a number") from fault
        size = StrutSize(**values)
        if not (row.get("source") or "").strip():
            raise ValueError(f"line {number} of the table of struts names no source")
        if not _is_sound(size):
            raise ValueError(f"line {number} of the table of struts is no strut that can be")
        found.append(size)
    return found


def _is_sound(size: StrutSize) -> bool:
    """A rod within its tube, pushed in longer than its stroke, and a range of forces."""
    return (
        0.0 < size.rod < size.tube
        and 0.0 < size.stroke < size.extended - size.stroke
        and 0.0 < size.least <= size.most
        and size.ratio >= 1.0
    )


def classes(sizes: tuple[StrutSize, ...]) -> dict[str, tuple[StrutSize, ...]]:
    """Sizes by rod and tube, as they are told apart in a shop: "8/18" → its strokes."""
    found: dict[str, tuple[StrutSize, ...]] = {}
    for size in sizes:
        found[class_name(size)] = (*found.get(class_name(size), ()), size)
    return found


def class_name(size: StrutSize) -> str:
    """Give a size's class: "8/18" for a rod of 8 mm in a tube of 18 mm."""
    return f"{size.rod:g}/{size.tube:g}"
