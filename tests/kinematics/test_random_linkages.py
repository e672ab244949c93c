"""Random linkages: never an exception, never NaN, every pin closed, no branch jumped.

A share of what `python -m tests.kinematics.random_linkages` runs (10 000); the seeds are the same every time.
"""

from __future__ import annotations

from collections import Counter

import pytest

import kinematics
from tests.kinematics.random_linkages import KINDS, faults, jumps, kind_of, linkage
from tests.thorough import cases

SHARE = range(cases(180, 260))
MENDED = (42, 277, 345, 664, 822, 1107, 1288, 1656, 2015, 2064, 2635, 3452, 4250)  # each went wrong once
TRACKED = [seed for seed in range(3000) if kind_of(seed) in ("plain", "twins", "dressed")][:24]


@pytest.mark.parametrize("part", range(4))
def test_whatever_is_drawn_gives_a_sound_analysis(part: int) -> None:
    """No exception, no NaN, residual ≤ 1e-9 mm at every reported pose and between, openings even and rising from 0."""
    ends: Counter[str] = Counter()
    for seed in SHARE[part::4]:
        sketch = linkage(seed)
        analysis = kinematics.analyse(sketch.project(), steps=31)
        assert faults(sketch, analysis) == [], (seed, kind_of(seed))
        ends[analysis.opening.ends] += 1
    assert min(ends[end] for end in ("wanted opening", "dead point", "locked", "loose")) > 0  # a fair mixture


@pytest.mark.parametrize("seed", MENDED)
def test_what_went_wrong_once_stays_right(seed: int) -> None:
    """Arms whose lengths differ by 1e-9 mm and more, pins a hair apart, all pins in one line: residuals were above
    1e-9.
    """
    sketch = linkage(seed)
    assert faults(sketch, kinematics.analyse(sketch.project(), steps=61)) == []


def test_the_share_holds_every_kind() -> None:
    assert {kind_of(seed) for seed in SHARE} == set(KINDS)


@pytest.mark.parametrize("seed", TRACKED)
def test_no_branch_is_jumped(seed: int) -> None:
    """Pins tracked in steps of at most 0.4 % of the size, by other equations, arrive where the program's poses are."""
    sketch = linkage(seed)
    assert jumps(sketch, kinematics.analyse(sketch.project(), steps=31)) is None


def test_the_tracker_would_see_a_jump() -> None:
    """Shown the other closing of a four-bar as if it were the sweep, it objects."""
    from dataclasses import replace

    from tests.outside.sketch import four_bar, read

    good = read(four_bar((40, 120, 80, 100), 25.0, wanted_deg=60.0))
    assert jumps(good.sketch, good.analysis) is None
    other = read(four_bar((40, 120, 80, 100), 25.0, crossed=True, wanted_deg=60.0))
    shown = replace(other.sketch, pivots={**other.sketch.pivots, "B": good.sketch.pivots["B"]})
    told = jumps(shown, other.analysis)
    assert told is not None
    assert told.startswith("jump")
