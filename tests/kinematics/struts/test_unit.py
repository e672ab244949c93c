"""Whole units of a search: what they bring holds by the analysis, lies in the zones, differs, and is the same again."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.project import LiftWants, Outline, WorstCase
from kinematics.struts import unit
from kinematics.struts.fitting import with_struts
from kinematics.struts.regions import Region
from tests.kinematics.struts.making import ARM, BODY, PANEL, hatch, settings

if TYPE_CHECKING:
    from kinematics.project import Point
    from kinematics.struts.results import StrutUnit

SETTINGS = settings(BODY, PANEL)


@cache
def first() -> StrutUnit:
    return unit.run(hatch(), SETTINGS, 0)


def test_the_first_unit_finds_struts_that_hold_by_the_analysis() -> None:
    assert first().placements
    assert first().tried > 1_000
    for found in first().placements[:2]:
        analysis = kinematics.analyse(with_struts(hatch(), found), 11)
        assert found.ok
        assert all(check.ok for check in analysis.checks)
        assert analysis.opening.ends == "wanted opening"
        assert analysis.loads is not None
        assert analysis.loads.lengths.min() >= found.size.extended - found.size.stroke + SETTINGS.reserve - 1e-6
        assert analysis.loads.lengths.max() <= found.size.extended - SETTINGS.reserve + 1e-6


def test_ends_lie_in_their_zones_on_whole_millimetres() -> None:
    for found in first().placements:
        for zone, at in ((BODY, found.from_at), (PANEL, found.to_at)):
            assert all(value == round(value) for value in at)
            assert Region(np.array([complex(*point) for point in zone.points])).has(np.array([complex(*at)])).all()


def test_they_differ() -> None:
    """By both ends or one, more than a little."""

    def away(a: Point, b: Point) -> float:
        return abs(complex(*a) - complex(*b))

    for one, other in combinations(first().placements, 2):
        assert max(away(one.from_at, other.from_at), away(one.to_at, other.to_at)) > 40.0


def test_the_same_unit_brings_the_same_again() -> None:
    unit.prepared.cache_clear()
    assert unit.run(hatch(), SETTINGS, 0) == first()


def test_another_seed_brings_others() -> None:
    other = unit.run(hatch(), replace(SETTINGS, seed=2), 0)
    assert [each.from_at for each in other.placements] != [each.from_at for each in first().placements]


def test_units_take_pairs_and_strokes_in_turn() -> None:
    given = settings(BODY, PANEL, ARM)
    found = unit.run(hatch(), given, 2)
    assert all((each.from_on, each.to_on) == ("hatch", "lift link") for each in found.placements)
    short = unit.run(hatch(), SETTINGS, 2)
    assert all(each.size.stroke <= 100.0 for each in short.placements)


def test_what_no_strut_can_do_gives_the_nearest_and_what_stands_in_the_way() -> None:
    """Never to rise by itself, yet to stay open: the two can't be had."""
    wants = LiftWants(at_most=80.0, rests_until_deg=75.0, stays_open_in=WorstCase(-10.0, 5.0, True))
    found = unit.run(hatch(wants), SETTINGS, 0)
    assert found.placements
    assert not any(each.ok for each in found.placements)
    assert all(each.short and each.margin < 0.0 for each in found.placements)
    assert {name for name, _ in found.in_the_way} <= {"largest", "rests", "worst"}


def test_what_is_in_the_way_of_what_is_drawn_is_left_out() -> None:
    """A bulkhead between the two zones."""
    wall = Outline("wall", "bulkhead", ((-200.0, 203.0), (900.0, 203.0)))
    panel = replace(PANEL, points=((60.0, 260.0), (520.0, 250.0), (520.0, 210.0), (60.0, 210.0)))
    project = replace(hatch(), outlines=(*hatch().outlines, wall))
    found = unit.run(project, settings(BODY, panel), 0)
    assert found.placements == ()
    assert found.looked == found.unclear > 0


def test_no_size_that_fits_is_told() -> None:
    tiny = tuple(each for each in SETTINGS.sizes if each.stroke <= 60.0)
    found = unit.run(hatch(), replace(SETTINGS, sizes=tiny), 0)
    assert found.fitting < found.drawn / 50


@pytest.mark.parametrize("grid", [0.0, 25.4 / 16])
def test_other_grids(grid: float) -> None:
    found = unit.run(hatch(), replace(SETTINGS, grid=grid), 0)
    assert found.placements
    for each in found.placements:
        if grid:
            steps = np.array(each.from_at) / grid
            assert steps == pytest.approx(np.round(steps), abs=1e-5)
