"""Materials and bushings, as the tables that ship with the program have them.

`resources/materials.csv` has a row for each *material* in each range of sizes: its standard designation, what it is
used for ("plate", "pin", "sheet"), density, and the least yield strength (or 0.2 % proof stress), the least tensile
strength and the elastic modulus. A range is of the thickness or the diameter that its standard goes by, over its lower
end up to and with its upper one. What is only "sheet" has a density alone. `resources/bushings.csv` has for each kind
of *bushing* the pressure, the speed and the product of both that it is rated for.

Every row names its source, and how it is known: "from memory" where nobody had the document in hand when it was typed,
"common practice, no source" where there is none. Figures are nominal: the paper that comes with the metal goes before.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache

from resources import find

MATERIALS, BUSHINGS = "materials.csv", "bushings.csv"


@dataclass(frozen=True, slots=True)
class Material:
    """A row: density kg/m³; strengths and modulus MPa, None where the row is for weights alone; sizes mm.

    number : by which its standard counts it, or "".     uses : of "plate", "pin", "sheet".     size : "thickness" or
    "diameter", of which over < … ≤ up_to is the range.     known : how its figures are known.
    """

    name: str
    number: str
    uses: tuple[str, ...]
    kind: str
    density: float
    yield_mpa: float | None
    tensile_mpa: float | None
    modulus_mpa: float | None
    size: str
    over: float
    up_to: float
    source: str
    known: str

    def fits(self, mm: float) -> bool:
        """Tell whether a thickness or diameter lies in the row's range."""
        return self.over < mm <= self.up_to

    @property
    def origin(self) -> str:
        """Where the figures come from, in one line."""
        return f"{self.source} ({self.known})" if self.source else self.known


@dataclass(frozen=True, slots=True)
class BushingKind:
    """A row: the pressure (MPa), the sliding speed (m/s) and their product (MPa·m/s) that a kind of bushing bears.

    made : how it is made and put in, as the pins of a stack have it (`kinematics.build_parts.BUSHINGS`); "": otherwise.
    """

    name: str
    kind: str
    pressure: float
    speed: float
    pv: float
    source: str
    known: str
    made: str = ""

    @property
    def origin(self) -> str:
        """Where the figures come from, in one line."""
        return f"{self.source} ({self.known})"


@lru_cache(maxsize=1)
def materials() -> tuple[Material, ...]:
    """Every row of the table of materials, in its order."""
    return tuple(_material(row) for row in _rows(MATERIALS))


@lru_cache(maxsize=1)
def bushings() -> tuple[BushingKind, ...]:
    """Every row of the table of bushings, in its order."""
    return tuple(
        BushingKind(
            row["name"],
            row["kind"],
            float(row["p_mpa"]),
            float(row["v_m_s"]),
            float(row["pv_mpa_m_s"]),
            row["source"],
            row["known"],
            row["made"],
        )
        for row in _rows(BUSHINGS)
    )


def names_for(use: str) -> tuple[str, ...]:
    """Name the materials for a use, each once, in the table's order."""
    return tuple(dict.fromkeys(row.name for row in materials() if use in row.uses))


def find_material(name: str, mm: float) -> Material | None:
    """The row of a material for a thickness or diameter (mm); None for what isn't in the table, or not of that size."""
    return next((row for row in materials() if row.name == name and row.fits(mm)), None)


def largest_size(name: str) -> Material | None:
    """The row of a material for its largest sizes, whose strengths are its least; None for an unknown name."""
    return max((row for row in materials() if row.name == name), key=lambda row: row.up_to, default=None)


def find_bushing(name: str) -> BushingKind | None:
    """The row of a kind of bushing; None for an unknown name."""
    return next((row for row in bushings() if row.name == name), None)


def _rows(name: str) -> list[dict[str, str]]:
    with find(name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def _material(row: dict[str, str]) -> Material:
    return Material(
        name=row["name"],
        number=row["number"],
        uses=tuple(row["use"].split(";")),
        kind=row["kind"],
        density=float(row["density_kg_m3"]),
        yield_mpa=_figure(row["yield_mpa"]),
        tensile_mpa=_figure(row["tensile_mpa"]),
        modulus_mpa=_figure(row["modulus_mpa"]),
        size=row["size"],
        over=float(row["over_mm"]),
        up_to=float(row["up_to_mm"]),
        source=row["source"],
        known=row["known"],
    )


def _figure(text: str) -> float | None:
    return float(text) if text else None
