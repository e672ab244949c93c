"""Deepest: by hand for a door in a wall, against many looks, and rates in contact of some hundred made-up layouts."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics import analyse, edits
from kinematics.deepest import deepest, looked_at
from kinematics.project import GapWant, Link, Outline, Pivot, Project, Travel
from kinematics.slopes import deepest_of, depth_slopes, gap_of, slopes
from tests.kinematics.making import demo_layouts

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.bodies import Body
    from kinematics.deepest import Depth
    from kinematics.results import Check, Gap

DEMOS = demo_layouts()
LAYOUTS, EVERY = 100, 2  # made up; every other one of them that touches is compared
WAY = (0.6, 0.8)


def door(wanted_deg: float = 180.0) -> Project:
    """A leaf of 100 mm that opens upwards, and a ceiling 80 mm above its pin."""
    return Project(
        links=(Link("post", "fixed"), Link("door", "panel")),
        pivots=(Pivot("A", (0.0, 0.0), ("post", "door")),),
        outlines=(
            Outline("ceiling", "post", ((-300.0, 80.0), (300.0, 80.0), (300.0, 300.0), (-300.0, 300.0)), closed=True),
            Outline("leaf", "door", ((0.0, 0.0), (100.0, 0.0))),
        ),
        gaps=(GapWant(("ceiling", "leaf"), 5.0),),
        travel=Travel("anticlockwise", wanted_deg),
    )


def contact(analysis: Analysis) -> tuple[Check, Gap]:
    check = next(check for check in analysis.checks if check.kind == "gap" and check.have == 0.0)
    return check, gap_of(analysis, check)


def couple(analysis: Analysis, gap: Gap) -> tuple[Body, Body]:
    return analysis.bodies[gap.between[0]], analysis.bodies[gap.between[1]]


def is_corner(analysis: Analysis, gap: Gap, found: Depth) -> bool:
    """Whether one of the two places is a corner of its line, and not the middle of a piece that was cut off."""
    turns = analysis.sweep.closure.link_turns(analysis.sweep.at_openings(np.array([found.opening])))
    e, shifts = np.exp(1j * turns)[0], analysis.sweep.closure.shifts(turns)[0]
    return any(
        np.abs(shifts[body.column] + e[body.column] * body.tails - place).min() < 1e-6
        for body, place in zip(couple(analysis, gap), (found.first, found.second), strict=True)
    )


def test_a_door_in_its_ceiling_by_hand() -> None:
    """Straight up its tip stands 20 mm in, at y = 100 + b − a for a pin at (a, b)."""
    analysis = analyse(door(), steps=2)
    _, gap = contact(analysis)
    low, high = gap.touching_deg[0]
    touches = [(math.radians(low), math.radians(high))]
    found = deepest(analysis.sweep, couple(analysis, gap), touches, (0.0, math.pi), 30)
    assert found is not None
    assert found.opening == pytest.approx(math.pi / 2, abs=1e-6)
    assert found.gap == pytest.approx(-20.0, abs=1e-9)
    assert found.slope == pytest.approx(0.0, abs=1e-4)
    rates = depth_slopes(analysis, gap)
    assert rates is not None
    assert rates[0] == pytest.approx((1.0, -1.0), abs=0.02), "a few looks come near enough"


def test_only_what_counts_is_looked_at() -> None:
    """A want from 120° on: the tip stands 100·sin 120° − 80 in there, and from then on comes out."""
    project = edits.set_gap(door(), ("ceiling", "leaf"), 5.0, after_deg=120.0)
    analysis = analyse(project, steps=2)
    gap = next(gap for gap in analysis.gaps if gap.after_deg == 120.0)
    found = deepest_of(analysis, gap)
    assert found is not None
    assert found.gap == pytest.approx(80.0 - 100.0 * math.sin(math.radians(120.0)), abs=0.05)


def test_a_mere_touch_has_a_way_out() -> None:
    """A tip that grazes the ceiling at 90°: nothing is deep there, and beside it the bodies are nearest up and down."""
    analysis = analyse(door(), steps=2)
    graze = replace(analysis.project, pivots=(replace(analysis.project.pivots[0], at=(0.0, -20.0)),))
    leaf = replace(graze.outlines[1], points=((0.0, -20.0), (100.0, -20.0)))
    analysis = analyse(replace(graze, outlines=(graze.outlines[0], leaf)), steps=2)
    pair = (analysis.bodies["ceiling"], analysis.bodies["leaf"])
    found = deepest(analysis.sweep, pair, [(math.pi / 2, math.pi / 2)], (0.0, math.pi))
    assert found is not None
    assert abs(found.along.imag) == pytest.approx(1.0, abs=1e-3)
    assert deepest(analysis.sweep, pair, [], (0.0, math.pi)) is None


@cache
def layouts(count: int) -> tuple[Analysis, ...]:
    """The demos with all pins put aside by a few mm or by much."""
    dice, found = np.random.default_rng(4), []
    bases = {name: analyse(project, steps=2) for name, project in DEMOS.items()}
    for k in range(count):
        base = bases[list(bases)[k % len(bases)]]
        by = dice.choice([4.0, 10.0, 25.0]) * dice.normal(size=(len(base.project.pivots), 2))
        pivots = [
            replace(pin, at=(pin.at[0] + dx, pin.at[1] + dy))
            for pin, (dx, dy) in zip(base.project.pivots, by.tolist(), strict=True)
        ]
        analysis = analyse(replace(base.project, pivots=tuple(pivots)), steps=2, near=base)
        if analysis.state == "moves" and any(each.kind == "gap" and each.have == 0.0 for each in analysis.checks):
            found.append(analysis)
    return tuple(found)


def test_rates_in_contact_of_many_layouts() -> None:
    """Always told; and the depth at that opening goes by them: what is left falls with the square of the step.

    But where a piece's middle is the deepest place (some six in a hundred), and at a dead point, which goes along.
    """
    compared, middles = 0, 0
    dice = np.random.default_rng(5)
    for number, analysis in enumerate(layouts(LAYOUTS)):
        check, gap = contact(analysis)
        rates, found = depth_slopes(analysis, gap), deepest_of(analysis, gap)
        assert rates is not None, check
        assert slopes(analysis, check) is not None, check
        assert found is not None
        if number % EVERY or math.degrees(found.opening) > analysis.opening.reached_deg - 1e-3:
            continue
        if not is_corner(analysis, gap, found):
            middles += 1
            continue
        k = int(dice.integers(len(rates)))
        wide, narrow = (rate_at(analysis, gap, found, k, step) - float(rates[k] @ WAY) for step in (0.02, 0.01))
        assert abs(narrow) <= 0.3 * abs(wide) + 1e-5, (check, found, wide, narrow)
        compared += 1
    assert compared >= 12
    assert middles <= 0.3 * compared


def rate_at(analysis: Analysis, gap: Gap, found: Depth, k: int, step: float) -> float:
    """The depth's change at an opening, by a central difference of one pin's place."""
    project = analysis.project
    (x, y), depths = project.pivots[k].at, []
    for by in (step, -step):
        moved = edits.move_pivot(project, project.pivots[k].id, (x + by * WAY[0], y + by * WAY[1]))
        other = analyse(moved, steps=2, near=analysis)
        depths.append(looked_at(other.sweep, couple(other, gap), [found.opening])[0].gap)
    return (depths[0] - depths[1]) / (2.0 * step)


def test_a_few_looks_come_near_the_deepest_of_many() -> None:
    """Of made-up layouts nine in ten are within a fifth of what fifty looks find."""
    near = []
    for analysis in layouts(LAYOUTS)[::4]:
        _, gap = contact(analysis)
        found = deepest_of(analysis, gap)
        assert found is not None
        low, high = max(gap.touching_deg, key=lambda each: each[1] - each[0])
        if high - low < 0.01:
            continue
        many = looked_at(analysis.sweep, couple(analysis, gap), np.radians(np.linspace(low, high, 51)).tolist())
        near.append(found.gap <= 0.8 * min(each.gap for each in many))
    assert len(near) >= 10
    assert sum(near) >= 0.9 * len(near)
