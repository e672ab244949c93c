"""Units: the same always, whoever runs them; what they bring is what the analysis says, and keeps what must be kept.

They are made small here (seeds, candidates), which changes how much is found and nothing else.
"""

from __future__ import annotations

import pickle
import subprocess
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from kinematics.analysis import analyse
from kinematics.families import family
from kinematics.figures import key_figures
from kinematics.project import Pivot, Zone
from kinematics.proposals import unit
from kinematics.proposals.chains import FOUR_BAR, SINGLE_PIVOT, SIX_BARS
from kinematics.proposals.results import KINDS, Settings, UnitResult
from tests.kinematics.proposals.making import bare, demo

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem

SMALL: dict[str, dict[str, object]] = {
    "kinematics.proposals.unit": {"LESS": unit.Effort(200, 4, 1), "FULL": unit.Effort(200, 4, 1), "COPIES": 2},
    "kinematics.proposals.seeding": {"COURSES": 400},
    "kinematics.proposals.fields": {"CELLS": 40_000},
}


def make_small(patch: pytest.MonkeyPatch) -> None:
    for module, sizes in SMALL.items():
        for name, size in sizes.items():
            patch.setattr(f"{module}.{name}", size)


@pytest.fixture(autouse=True)
def _small(monkeypatch: pytest.MonkeyPatch) -> None:
    make_small(monkeypatch)


@pytest.fixture(scope="module")
def bench() -> Project:
    return bare(demo("potting bench"))


@pytest.fixture(scope="module")
def brought(bench: Project) -> dict[int, UnitResult]:
    """One unit of each kind, done once."""
    with pytest.MonkeyPatch.context() as patch:
        make_small(patch)
        return {number: unit.run(bench, Settings(), number) for number in (0, 1, 2)}


def test_what_a_unit_brings_is_what_the_analysis_says(brought: dict[int, UnitResult]) -> None:
    for number, result in brought.items():
        assert result.unit == number
        assert result.tried > 0
        assert result.proposals
        for each in result.proposals:
            analysis = analyse(each.project, steps=2)
            short = tuple(check for check in analysis.checks if not check.ok)
            assert each.ok == (not short)
            assert each.short == short
            assert each.short_by == max((-check.margin for check in short), default=0.0)
            assert each.worst == analysis.checks[0]
            assert each.figures == key_figures(analysis)
            assert each.family == family(each.project)
            assert (each.unit, each.kind) == (number, result.kind)


def test_each_kind_comes_and_some_layouts_hold(brought: dict[int, UnitResult]) -> None:
    assert [result.kind for result in brought.values()] == list(KINDS)
    assert not any(each.ok for each in brought[0].proposals)  # a lid close to a splashback: no single pivot clears it
    assert any(each.ok for each in brought[1].proposals)


def test_the_same_unit_brings_the_same_after_others_and_anew(bench: Project, brought: dict[int, UnitResult]) -> None:
    unit.prepared.cache_clear()
    assert unit.run(bench, Settings(), 0) == brought[0]
    assert unit.run(bench, Settings(), 1) == brought[1]


def test_another_process_brings_the_same(bench: Project, brought: dict[int, UnitResult], tmp_path: Path) -> None:
    asked, told = tmp_path / "asked", tmp_path / "told"
    asked.write_bytes(pickle.dumps((SMALL, (bench, Settings(), 1))))
    program = f"""
import importlib, pickle
from pathlib import Path
from kinematics.proposals import unit
small, asked = pickle.loads(Path({str(asked)!r}).read_bytes())
for module, sizes in small.items():
    importlib.import_module(module).__dict__.update(sizes)
Path({str(told)!r}).write_bytes(pickle.dumps(unit.run(*asked)))
"""
    subprocess.run([sys.executable, "-c", program], check=True, timeout=120)
    assert pickle.loads(told.read_bytes()) == brought[1]


def test_another_seed_makes_another_lot(bench: Project, brought: dict[int, UnitResult]) -> None:
    def places(result: UnitResult) -> set[tuple[float, float]]:
        return {pin.at for each in result.proposals for pin in each.project.pivots}

    other_seed = unit.run(bench, Settings(seed=2), 1)
    assert places(other_seed).isdisjoint(places(brought[1]))


@pytest.mark.parametrize(
    "kinds", [("single pivot",), ("four-bar",), ("six-bar",), ("four-bar", "six-bar"), KINDS], ids=str
)
def test_chains_are_of_the_kinds_asked_and_all_have_their_turn(kinds: tuple[str, ...]) -> None:
    chains = [unit.chain_of(Settings(kinds=kinds), number) for number in range(30)]
    assert {chain.kind for chain in chains} == set(kinds)
    if "six-bar" in kinds:
        assert set(SIX_BARS) <= set(chains)
        counts = [chains.count(chain) for chain in SIX_BARS]
        assert max(counts) - min(counts) <= 1
    if len(kinds) > 1 and "single pivot" in kinds:
        assert chains[0] is SINGLE_PIVOT
        assert chains.count(SINGLE_PIVOT) == 1
    if "four-bar" in kinds:
        assert FOUR_BAR in chains[:2]


def test_every_third_unit_from_the_thirteenth_on_looks_outside_the_cavity(
    bench: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[bool] = []

    def no_seeds(problem: Problem, chain: Chain, *_: object) -> tuple[np.ndarray, np.ndarray]:
        asked.append(problem.cavity is not None)
        none = np.zeros((len(chain.pins), 0), complex)
        return none, none

    monkeypatch.setattr(unit, "seeds", no_seeds)
    for number in range(18):
        result = unit.run(bench, Settings(), number)
        assert (result.proposals, result.tried) == ((), 0)
    assert [number for number, inside in enumerate(asked) if not inside] == [14, 17]


def test_locked_pins_stay_in_every_proposal(bench: Project, brought: dict[int, UnitResult]) -> None:
    body, lid = bench.fixed.id, bench.panel.id
    good = next(each.project for each in brought[1].proposals if each.ok)
    foot, knee = good.pivots_on(body)[0], good.pivots_on(lid)[0]
    pins = (replace(foot, id="foot", locked=True), replace(knee, id="knee", locked=True))
    project = replace(bench, links=good.links, pivots=pins)
    found = unit.run(project, Settings(kinds=("four-bar",)), 0).proposals
    assert found
    for each in found:
        for pin in pins:
            there = each.project.pivot(pin.id)
            assert (there.at, there.locked) == (pin.at, True)
            assert {body, lid} & set(pin.joins) <= set(there.joins)


def test_a_locked_pin_between_two_links_stays_between_two_links(bench: Project, brought: dict[int, UnitResult]) -> None:
    ends = {bench.fixed.id, bench.panel.id}
    good = next(
        each.project for number in sorted(brought) for each in brought[number].proposals if each.kind == "six-bar"
    )
    elbow = next(pivot for pivot in good.pivots if not ends & set(pivot.joins))
    project = replace(bench, links=good.links, pivots=(replace(elbow, id="elbow", locked=True),))
    found = unit.run(project, Settings(kinds=("six-bar",)), 0).proposals
    assert found
    for each in found:
        there = each.project.pivot("elbow")
        assert (there.at, there.locked) == (elbow.at, True)
        assert not ends & set(there.joins)
    assert unit.run(project, Settings(kinds=("four-bar",)), 0).proposals == ()  # a four-bar has no such pin


def test_more_locked_pins_than_a_chain_has_bring_nothing(bench: Project) -> None:
    links = (*bench.links, replace(bench.links[0], id="arm", kind="link"))
    pins = tuple(Pivot(f"p{k}", (40.0 * k, -50.0), (bench.fixed.id, "arm"), locked=True) for k in range(3))
    result = unit.run(replace(bench, links=links, pivots=pins), Settings(kinds=("four-bar",)), 0)
    assert (result.kind, result.proposals, result.tried) == ("four-bar", (), 0)


def test_pins_of_what_holds_stand_in_their_zones(bench: Project, brought: dict[int, UnitResult]) -> None:
    good = next(each.project for each in brought[1].proposals if each.ok)
    zones = []
    for link in (bench.fixed.id, bench.panel.id):
        low = np.min([pin.at for pin in good.pivots_on(link)], axis=0) - 15.0
        high = np.max([pin.at for pin in good.pivots_on(link)], axis=0) + 15.0
        zones.append(Zone(link, ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))))
    project = replace(bench, zones=tuple(zones))
    holding = [each for each in unit.run(project, Settings(kinds=("four-bar",)), 0).proposals if each.ok]
    assert holding
    for each in holding:
        assert each.project.zones == project.zones
        for zone in zones:
            region = shapely.Polygon(zone.points)
            assert all(region.covers(shapely.Point(pin.at)) for pin in each.project.pivots_on(zone.on))


def test_where_no_seed_gets_through_a_unit_brings_nothing(bench: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    stuck = np.repeat(np.array([[0j], [100j], [50j], [150j]]), 5, axis=1)
    free = np.full(stuck.shape, complex(np.nan, np.nan))
    monkeypatch.setattr(unit, "seeds", lambda *_: (stuck, free))
    result = unit.run(bench, Settings(kinds=("four-bar",)), 0)
    assert result.proposals == ()
    assert result.tried >= 5
