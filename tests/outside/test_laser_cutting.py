"""Rules of cutters and proportions of eyes: common practice, and one code's floor (EN 1993-1-8, table 3.3)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.hardware import hardware
from kinematics.build_parts import Plates, Stack
from kinematics.edits import replace as with_fields
from kinematics.joints_made import cut_under, joints_made
from kinematics.made_faults import MakingFault, making_faults
from tests.specimens import demo_six_bar


def faults(kind: str, thickness: float = 4.0, radius: float = 30.0, **stack: object) -> list[MakingFault]:
    """The faults of a kind on the six-bar, all plates alike."""
    plates = Plates(thickness=thickness, radius=radius)
    project = with_fields(demo_six_bar, plates=plates, stack=replace(Stack(), **stack))  # type: ignore[arg-type]
    tables = hardware()
    return [each for each in making_faults(project, joints_made(project, tables), tables, {}) if each.kind == kind]


def test_f10_rules_of_cutters() -> None:
    """F10, several shops' rules: hole ≥ t, some shops 0.7·t; edge ≥ 1.5·t; hole to hole ≥ 2·t; thin sheet ±0.1 mm."""
    keys = ("hole_per_thickness", "hole_per_thickness_some", "edge_per_thickness", "between_per_thickness", "cut_off")
    assert [hardware().rule(key) for key in keys] == [1.0, 0.7, 1.5, 2.0, 0.1]


@pytest.mark.parametrize("diameter", [8.0, 11.0, 18.0, 18.5, 30.0])
def test_f10_pivot_holes_are_cut_under_size_by_common_practice(diameter: float) -> None:
    """F10, common practice, no source: 0.3 to 0.5 mm under."""
    assert 0.3 - 1e-9 <= diameter - cut_under(diameter, hardware()) <= 0.5 + 1e-9


def test_f10_a_hole_smaller_than_the_sheet_is_thick() -> None:
    """F10: a hole of 7.7 mm (8, to be reamed): in 7 mm all cut it, in 9 mm some (0.86 t), in 12 mm none (0.64 t)."""
    assert faults("cutter", 7.0, bushing="none") == []
    some, none = (faults("cutter", thickness, bushing="none") for thickness in (9.0, 12.0))
    assert [each.grave for each in some] == [False] * len(some) != []
    assert [each.grave for each in none] == [True] * len(none) != []
    assert some[0].have == pytest.approx(7.7)
    assert some[0].want == pytest.approx(9.0)


def test_f12_proportions_of_eyes() -> None:
    """F12: 1.5 d, 2 d preferred (common practice); floors 1.2 d0 (EN 1993-1-8), about 1.25 d (AISC J3.4)."""
    keys = ("edge_least", "edge_preferred", "edge_floor", "end_floor_us")
    assert [hardware().rule(key) for key in keys] == [1.5, 2.0, 1.2, 1.25]


@pytest.mark.parametrize(
    ("radius", "told"), [(9.5, [True]), (9.6, [False]), (11.9, [False]), (12.0, []), (16.0, [])], ids=str
)
def test_f12_a_hole_of_8_in_eyes_of_many_sizes(radius: float, told: list[bool]) -> None:
    """F12: 1.2·8 = 9.6 is the floor, 1.5·8 = 12 is usual."""
    found = faults("too narrow", 4.0, radius, bushing="none")
    assert sorted({each.grave for each in found}) == told
