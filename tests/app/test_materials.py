"""The tables of materials and bushings: every row whole, and rows typed again from their standards."""

from __future__ import annotations

import itertools

import pytest

from app.materials import (
    BushingKind,
    Material,
    bushings,
    find_bushing,
    find_material,
    largest_size,
    materials,
    names_for,
)

KNOWN = ("from memory", "common practice, no source")


@pytest.mark.parametrize("row", materials(), ids=lambda row: f"{row.name} {row.up_to:g}")
def test_a_material_is_whole(row: Material) -> None:
    assert set(row.uses) <= {"plate", "pin", "sheet"}
    assert row.uses
    assert 0.0 <= row.over < row.up_to
    assert row.size in ("thickness", "diameter")
    assert 400.0 < row.density < 9000.0
    assert row.known in KNOWN
    assert row.source or row.known == KNOWN[1]
    assert row.origin.endswith(row.known) or row.origin.endswith(f"{row.known})")
    if row.uses == ("sheet",):
        assert row.yield_mpa is row.tensile_mpa is row.modulus_mpa is None
    else:
        assert row.yield_mpa is not None
        assert row.tensile_mpa is not None
        assert row.modulus_mpa is not None
        assert row.yield_mpa < row.tensile_mpa < 1500.0
        assert 60_000.0 < row.modulus_mpa < 220_000.0


def test_ranges_of_a_material_adjoin() -> None:
    for name in {row.name for row in materials()}:
        rows = [row for row in materials() if row.name == name]
        assert all(below.up_to == above.over for below, above in itertools.pairwise(rows)), name


@pytest.mark.parametrize(
    ("name", "mm", "yields", "tensile"),
    [
        # EN 10025-2: 16 mm belongs to the range below it. From memory.
        ("S235JR", 16.0, 235.0, 360.0),
        ("S235JR", 16.01, 225.0, 360.0),
        ("S355J2", 4.0, 355.0, 470.0),
        # EN 10277, cold drawn: 10 and 16 mm belong to the ranges below them. From memory.
        ("11SMn30+C", 10.0, 440.0, 510.0),
        ("11SMn30+C", 12.0, 410.0, 490.0),
        ("11SMn30+C", 16.0, 410.0, 490.0),
        ("11SMn30+C", 20.0, 375.0, 460.0),
        # ISO 898-1, from memory.
        ("property class 8.8", 16.0, 640.0, 800.0),
        ("property class 8.8", 20.0, 660.0, 830.0),
        ("EN AW-6082 T6", 6.0, 260.0, 310.0),
        ("EN AW-6082 T6", 8.0, 255.0, 300.0),
    ],
)
def test_strengths_by_size(name: str, mm: float, yields: float, tensile: float) -> None:
    row = find_material(name, mm)
    assert row is not None
    assert (row.yield_mpa, row.tensile_mpa) == (yields, tensile)


def test_what_is_not_in_the_table() -> None:
    assert find_material("S235JR", 41.0) is None
    assert find_material("S235JR", 0.0) is None
    assert find_material("unobtainium", 4.0) is None
    largest = largest_size("S235JR")
    assert largest is not None
    assert largest.yield_mpa == 225.0
    assert largest_size("unobtainium") is None
    assert find_bushing("unobtainium") is None


def test_uses_name_each_material_once() -> None:
    for use in ("plate", "pin", "sheet"):
        names = names_for(use)
        assert len(set(names)) == len(names) > 5
    assert "float glass" in names_for("sheet")
    assert "float glass" not in names_for("plate")
    assert "42CrMo4+QT" not in names_for("plate")


@pytest.mark.parametrize("row", bushings(), ids=lambda row: row.name)
def test_a_bushing_is_whole(row: BushingKind) -> None:
    assert row.pressure > 0.0
    assert row.speed > 0.0
    assert 0.0 < row.pv < row.pressure * row.speed
    assert row.known in KNOWN
    assert row.source
