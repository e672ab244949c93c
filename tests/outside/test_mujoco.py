"""A physics engine as the oracle for positions and mobility.

Source: MuJoCo's own constraint rows (`efc_pos`, `efc_J`), an independent closure equation in other unknowns; no time
step.
Checks A20, A21, A10 of checks.md. Where the engine is missing, test_circles.py and test_six_bar.py cover the same
ground.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest

from tests.outside import figures
from tests.outside.oracles import Twin
from tests.outside.sketch import Reading, Sketch, four_bar, read

pytest.importorskip("mujoco", reason="the physics engine is a test-only oracle")

ANGLE = 1e-9  # rad: 1e-9 mm of residual on the shortest link (above 20 mm), × a gain of up to 20
PLACE = 1e-7  # mm: the same at 100 mm


def follow(reading: Reading, every: int = 1) -> float:
    """Drive the twin through the reported poses; the largest difference of any link's turn, rad."""
    twin = Twin(reading.sketch)
    sign = 1.0 if reading.sketch.opens == "anticlockwise" else -1.0
    worst = 0.0
    for k in range(0, len(reading.analysis.openings), every):
        left = twin.drive(sign * math.radians(float(reading.analysis.openings[k])))
        assert left < 1e-10
        for link in twin.order:
            found = float(reading.analysis.turns[k, reading.column(link)])
            worst = max(worst, abs(found - twin.turn(link)))
    return worst


@pytest.mark.parametrize("crossed", [False, True], ids=["open", "crossed"])
def test_a20_360_poses_of_a1(crossed: bool) -> None:
    """A20. A whole turn of the crank, half of it each way from 40°: continuous turns of all links within 1e-9 rad."""
    for anticlockwise in (True, False):
        reading = read(four_bar(figures.NORTON, 40.0, crossed, anticlockwise=anticlockwise, wanted_deg=180.0))
        assert len(reading.analysis.openings) == 181
        assert follow(reading) < ANGLE


@pytest.mark.parametrize("panel", ["panel", "crank", "rocker", "arm"])
@pytest.mark.parametrize("anticlockwise", [True, False])
def test_a21_six_bar_driven_by_any_link(panel: str, anticlockwise: bool) -> None:
    """A21. Two connects, five hinges; as far as it goes, but not to the last degree before a dead point."""
    sketch = figures.six_bar(panel, anticlockwise=anticlockwise, wanted_deg=40.0)
    told = read(sketch, steps=2).analysis.opening
    if told.ends == "dead point":
        sketch = replace(sketch, wanted_deg=told.reached_deg - min(1.0, told.reached_deg / 4))
    reading = read(sketch, steps=121)
    assert reading.analysis.opening.ends == "wanted opening"
    assert reading.analysis.opening.reached_deg > 0.5
    assert follow(reading) < ANGLE


def test_a21_typed_table_by_the_engine_and_the_program_at_once() -> None:
    """A21. G of the program, of the engine and of the table, at each row."""
    for row in figures.SIX_BAR:
        sketch = figures.six_bar(anticlockwise=row.panel_deg > 0, wanted_deg=abs(row.panel_deg))
        reading = read(sketch, steps=31)
        twin = Twin(sketch)
        for opening in reading.analysis.openings:
            twin.drive(math.copysign(math.radians(float(opening)), row.panel_deg))
        assert abs(twin.place("panel", figures.G) - row.g) < 1e-8
        assert abs(reading.place(reading.pose(abs(row.panel_deg)), "panel", figures.G) - row.g) < 1e-8


def test_a20_the_launch_hatch() -> None:
    """A20. The demo's hinge through its whole travel; the panel's corner within 1e-7 mm."""
    reading = read(figures.launch_hatch())
    assert follow(reading) < ANGLE
    twin = Twin(reading.sketch)
    corner = 1190 + 262j
    for opening in reading.analysis.openings:
        twin.drive(math.radians(float(opening)))
    assert abs(twin.place("hatch", corner) - reading.places("hatch", corner)[-1]) < PLACE * 12


def eight_bar(panel: str, anticlockwise: bool) -> Sketch:
    """A21's chain with a dyad more, which hangs on a pin that so joins three links: eight links, ten pins by count."""
    base = figures.six_bar(panel, anticlockwise=anticlockwise, wanted_deg=6.0)
    return replace(
        base,
        links=(*base.links, "stay", "tail"),
        pivots={
            **base.pivots,
            "P7": (120 + 130j, ("arm", "panel", "stay")),
            "P8": (55 + 175j, ("stay", "tail")),
            "P9": (-35 + 85j, ("tail", "ground")),
        },
    )


@pytest.mark.parametrize(
    ("panel", "anticlockwise"), [("panel", False), ("panel", True), ("tail", True), ("stay", False)]
)
def test_a20_an_eight_bar_with_a_pin_of_three_links(panel: str, anticlockwise: bool) -> None:
    """A20. Three connects, seven hinges; mobility 1 by rank."""
    reading = read(eight_bar(panel, anticlockwise), steps=121)
    assert reading.analysis.opening.reached_deg > 1.0
    assert reading.analysis.mobility == Twin(reading.sketch).mobility() == 1
    every = 1
    if reading.analysis.opening.ends == "dead point":
        reading = read(replace(reading.sketch, wanted_deg=0.9 * reading.analysis.opening.reached_deg), steps=121)
    assert follow(reading, every) < ANGLE


def parallel_arms(lengths: tuple[float, ...]) -> Sketch:
    """Arms side by side at 65° on one coupler, each of its own length."""
    up = cmath.rect(1.0, math.radians(65.0))
    feet = (0j, 95 + 4j, 41 - 17j)
    pivots = {}
    for k, (foot, length) in enumerate(zip(feet, lengths, strict=False)):
        pivots[f"F{k}"] = (foot, ("ground", f"arm {k}"))
        pivots[f"T{k}"] = (foot + length * up, (f"arm {k}", "coupler"))
    arms = tuple(f"arm {k}" for k in range(len(lengths)))
    return Sketch(("ground", *arms, "coupler"), "arm 0", pivots, wanted_deg=30.0)


MOBILITIES = {  # layout → mobility, typed
    "four-bar": (four_bar(figures.NORTON, 40.0), 1),
    "six-bar": (figures.six_bar(), 1),
    "launch hatch": (figures.launch_hatch(), 1),
    "two parallel arms": (parallel_arms((50, 50)), 1),
    "three equal parallel arms": (parallel_arms((50, 50, 50)), 1),
    "chain of three": (
        Sketch(
            ("ground", "one", "two", "three"),
            "one",
            {"A": (0j, ("ground", "one")), "B": (50 + 9j, ("one", "two")), "C": (80 - 20j, ("two", "three"))},
        ),
        3,
    ),
}


@pytest.mark.parametrize("layout", MOBILITIES)
def test_a10_mobility_is_the_rank_at_a_moved_pose(layout: str) -> None:
    """A10, A20. The engine's nullity at a pose that has moved, the program's mobility, and the typed number."""
    sketch, typed = MOBILITIES[layout]
    twin = Twin(sketch)
    for k in range(8):
        twin.drive(math.radians(0.2 * k))
    assert twin.mobility() == typed
    assert read(sketch, steps=2).analysis.mobility == typed


def test_a10_at_shut_alone_the_rank_lies() -> None:
    """A10. Arms of 50, 50, 49: at shut the engine finds rank for one motion, yet it can't move; the program says
    locked.
    """
    sketch = parallel_arms((50, 50, 49))
    twin = Twin(sketch)
    assert twin.mobility() == 1
    assert twin.drive(0.3) > 1e-3  # the connects can't be closed there
    analysis = read(sketch, steps=2).analysis
    assert (analysis.mobility, analysis.state) == (0, "locked")


def test_a20_no_pose_is_far_from_its_neighbour() -> None:
    """A20. Between the reported poses too: at 200 random openings of the hatch the twin agrees."""
    reading = read(figures.launch_hatch(), steps=19)
    twin = Twin(reading.sketch)
    openings = np.sort(np.random.default_rng(20).uniform(0.0, 75.0, 200))
    for opening in openings:
        twin.drive(math.radians(float(opening)))
        pose = reading.pose(float(opening))
        for link in twin.order:
            assert abs(float(pose.turns[reading.column(link)]) - twin.turn(link)) < ANGLE
