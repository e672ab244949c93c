"""Who turns fully in a four-bar.

Source: F. Grashof, *Theoretische Maschinenlehre* (1883) (from memory); the rule s + l against p + q is derivable.
Check A6 of checks.md. A crank turns fully when it can open by 180° both ways from one shut pose: 360° in all.
"""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

import kinematics
from tests.outside.sketch import Sketch, four_bar, read

Lengths = tuple[float, float, float, float]


def turns_fully(sketch: Sketch, panel: str) -> bool:
    """Whether the program opens this link by 180° either way."""
    both = (read(replace(sketch, panel=panel, wanted_deg=180.0, anticlockwise=way), steps=2) for way in (True, False))
    return all(reading.analysis.opening.largest_deg >= 180.0 - 1e-9 for reading in both)


@pytest.mark.parametrize(
    ("lengths", "crank", "rocker"),
    [
        ((40, 120, 80, 100), True, False),  # 160 < 180, the input is shortest: crank and rocker
        ((70, 70, 80, 100), False, False),  # 170 > 150: nothing turns fully
        ((120, 80, 100, 40), True, True),  # ground shortest: two cranks
        ((80, 40, 120, 100), False, False),  # coupler shortest: two rockers
    ],
    ids=["crank and rocker", "triple rocker", "two cranks", "two rockers"],
)
def test_a6_worked_cases(lengths: Lengths, crank: bool, rocker: bool) -> None:
    """A6. Both circuits, both ends of the same chain."""
    for crossed in (False, True):
        sketch = four_bar(lengths, 70.0, crossed)
        assert turns_fully(sketch, "crank") is crank
        assert turns_fully(sketch, "rocker") is rocker


def chains(count: int) -> list[Lengths]:
    """Length sets that assemble, none of them within 1 mm of the change point, from one seed."""
    dice = random.Random(1883)
    found: list[Lengths] = []
    while len(found) < count:
        lengths = (dice.uniform(20, 150), dice.uniform(20, 150), dice.uniform(20, 150), dice.uniform(20, 150))
        s, p, q, longest = sorted(lengths)
        if longest < s + p + q - 2 and abs(s + longest - p - q) > 1.0:
            found.append(lengths)
    return found


def assembled(lengths: Lengths) -> Sketch:
    """The four-bar at a crank angle at which it closes, away from the ends."""
    dice = random.Random(lengths[0])
    while True:
        try:
            return four_bar(lengths, dice.uniform(-180, 180), dice.random() < 0.5)
        except ValueError:
            continue


def expected(lengths: Lengths) -> bool:
    """Grashof's rule for the crank: s + l < p + q, and the crank or the ground is the shortest."""
    s, p, q, longest = sorted(lengths)
    return s + longest < p + q and s in (lengths[0], lengths[3])


def test_a6_counted_for_200_length_sets() -> None:
    """A6. The rule against the program's sweeps, 200 sets. Both answers occur often: neither constant would pass."""
    sets = chains(200)
    found = [turns_fully(assembled(lengths), "crank") for lengths in sets]
    assert found == [expected(lengths) for lengths in sets]
    assert 40 < sum(found) < 160


@pytest.mark.parametrize("panel", ["crank", "coupler", "rocker"])
def test_a6_a_guess_from_across_the_change_point(panel: str) -> None:
    """A6, A22. 60/120/80/100 is the change point: at 60.05 the two circuits are one, at 59.95 they are two.

    An analysis of the one as first guess for the other must not lead from circuit to circuit.
    """
    for anticlockwise, crank_deg, crossed in ((True, 40.0, False), (False, 40.0, True), (False, 200.0, False)):
        around = [
            four_bar((a, 120, 80, 100), crank_deg, crossed, panel=panel, anticlockwise=anticlockwise, wanted_deg=170.0)
            for a in (60.05, 59.95)
        ]
        fresh = [kinematics.analyse(sketch.project(), steps=21) for sketch in around]
        for number in (0, 1):
            warm = kinematics.analyse(around[number].project(), steps=21, near=fresh[1 - number])
            assert warm.opening.largest_deg == pytest.approx(fresh[number].opening.largest_deg, rel=0, abs=1e-7)
            assert float(np.abs(warm.turns - fresh[number].turns)[:-1].max(initial=0.0)) < 1e-7
