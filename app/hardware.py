"""The tables of standard hardware that ship with the program, read once and handed on as plain values.

`resources/hardware/*.csv` has a table a subject; each row names its standard and how its figures are known. Where a
table has a column `units`, the lengths of its row are in those; all else is in mm. Several lengths stand as `6;8;12`.
"""

from __future__ import annotations

import csv
from dataclasses import fields
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeVar

from kinematics.fits import Deviation
from kinematics.hardware import (
    BushingSize,
    ClearanceHole,
    GeneralTolerance,
    Hardware,
    PinSize,
    Practice,
    RingSize,
    TapDrill,
    WasherSize,
)
from resources import find

if TYPE_CHECKING:
    from collections.abc import Callable

INCH = 25.4
Row = TypeVar("Row")


@lru_cache(maxsize=1)
def hardware() -> Hardware:
    """All tables, read when they are first asked for."""
    return Hardware(
        deviations=_table("deviations", Deviation),
        bushings=_table("bushing_sizes", BushingSize),
        pins=_table("pins", PinSize),
        rings=_table("rings", RingSize),
        washers=_table("washers", WasherSize),
        clearances=_table("clearance", ClearanceHole),
        drills=_table("tap_drills", TapDrill),
        general=_table("general_tolerances", GeneralTolerance),
        practice=_table("practice", Practice),
    )


def _table(name: str, kind: type[Row]) -> tuple[Row, ...]:
    """The rows of a table, each made what its field is declared to be."""
    types = {field.name: str(field.type) for field in fields(kind)}  # type: ignore[arg-type]  # all are dataclasses
    with find(f"hardware/{name}.csv").open(encoding="utf-8", newline="") as lines:
        return tuple(kind(**_values(row, types)) for row in csv.DictReader(lines))


def _values(row: dict[str, str], types: dict[str, str]) -> dict[str, Any]:
    scale = INCH if row.get("units") == "in" else 1.0
    return {name: _value(text, types[name], scale) for name, text in row.items()}


def _value(text: str, kind: str, scale: float) -> object:
    if text == "" and kind.endswith("| None"):
        return None
    as_read: dict[str, Callable[[str], object]] = {
        "str": str,
        "int": int,
        "float": lambda number: float(number) * scale,
        "tuple[float, ...]": lambda listed: tuple(float(each) * scale for each in listed.split(";") if each),
    }
    return as_read[kind.removesuffix(" | None")](text)
