"""Metals and bushings of the tables as parts of a project, and the other way round; what is offered to choose from."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.materials import bushings, find_bushing, find_material, largest_size, materials, names_for
from kinematics.strength_parts import Bushing, Metal

if TYPE_CHECKING:
    from app.materials import Material

OWN = "own figures"
NONE = "none"
PIN, PLATE = "C45+C", "S235JR"
"""What is begun with."""


def metal_of(name: str, mm: float) -> Metal | None:
    """A metal of the table for a thickness or diameter; beyond its range, as its largest sizes are; None: not there."""
    row = find_material(name, mm) or largest_size(name)
    return None if row is None else _metal(row)


def _metal(row: Material) -> Metal | None:
    if row.yield_mpa is None or row.modulus_mpa is None:
        return None
    return Metal(row.name, row.yield_mpa, row.modulus_mpa, row.tensile_mpa, row.origin)


def resized(metal: Metal, mm: float) -> Metal:
    """The same metal at another size, where its figures are the table's; own figures stay as they are."""
    if not is_of_table(metal):
        return metal
    return metal_of(metal.name, mm) or metal


def is_of_table(metal: Metal) -> bool:
    """Whether a metal has the figures of one of the table's rows."""
    return any(row.name == metal.name and _metal(row) == replace(metal, unknown={}) for row in materials())


def own_metal(metal: Metal, *, yields: float | None = None, modulus: float | None = None) -> Metal:
    """The metal with own figures, which the table's source says nothing of."""
    return Metal(OWN, metal.yield_mpa if yields is None else yields, metal.modulus_mpa if modulus is None else modulus)


def metal_choices(use: str) -> list[tuple[str, str]]:
    """What may be chosen for "pin" or "plate": (name, words)."""
    return [(name, name) for name in names_for(use)]


def metal_words(metal: Metal, mm: float) -> str:
    """Where a metal's figures come from, and that it isn't made in this size."""
    if not is_of_table(metal):
        return metal.source or "Own figures."
    beyond = find_material(metal.name, mm) is None
    return f"{metal.source}.{' Its figures are for other sizes.' if beyond else ''}"


def bushing_choices() -> list[tuple[str, str]]:
    """What may be chosen of bushings: (name, words)."""
    return [(NONE, "none"), *((row.name, row.name) for row in bushings())]


def bushing_of(name: str, length: float, outside: float) -> Bushing | None:
    """A bushing of the table's kind, of these sizes; None where there is no such kind."""
    row = find_bushing(name)
    if row is None:
        return None
    return Bushing(row.name, length, outside, row.pressure, row.speed, row.pv, row.origin)
