"""A six-bar with seven pins whose every number is ugly, and the invariants that every linkage keeps.

Source: a Watt chain of our own, its figures by successive circles (derivable), agreed by MuJoCo and by tracked pins
(test_oracles.py). Checks A21 and A22 of checks.md; A21 also through the command line.
"""

from __future__ import annotations

import cmath
import math
import random
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from tests.outside import figures
from tests.outside.sketch import WAYS, Line, Sketch, read, reported, worst_pin_error
from tests.thorough import cases

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.analysis import Analysis

TYPED = 1e-8  # mm, degrees: checks.md's own tolerance for A21 (nine decimals, and the opening typed with nine)


def driven(row: figures.SixBarRow) -> Sketch:
    """Shut as drawn, opening the way this row's panel turns."""
    return figures.six_bar(anticlockwise=row.panel_deg > 0, wanted_deg=abs(row.panel_deg) + 0.25)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("row", figures.SIX_BAR, ids=lambda row: f"crank {row.crank_deg:+}")
def test_a21_driven_by_the_panel(row: figures.SixBarRow, way: str) -> None:
    """A21. At the panel's typed turn the crank reads ±20 or ±40 within 1e-7°, and G is where typed."""
    reading = read(driven(row), way)
    pose = reading.pose(abs(row.panel_deg))
    assert reading.turn_deg(pose, "panel") == pytest.approx(row.panel_deg, rel=0, abs=1e-9)
    assert reading.turn_deg(pose, "crank") == pytest.approx(row.crank_deg, rel=0, abs=1e-7)
    assert abs(reading.place(pose, "panel", figures.G) - row.g) < TYPED
    assert worst_pin_error(reading) < 1e-9


@pytest.mark.parametrize("way", ["as given", "all at once"])
@pytest.mark.parametrize("row", figures.SIX_BAR, ids=lambda row: f"crank {row.crank_deg:+}")
def test_a21_driven_by_the_crank(row: figures.SixBarRow, way: str) -> None:
    """A21. The same with the crank as the link that opens: the panel's turn is what is read."""
    sketch = figures.six_bar("crank", anticlockwise=row.crank_deg > 0, wanted_deg=abs(row.crank_deg))
    reading = read(sketch, way)
    pose = reading.pose(abs(row.crank_deg))
    assert reading.turn_deg(pose, "panel") == pytest.approx(row.panel_deg, rel=0, abs=TYPED)
    assert abs(reading.place(pose, "panel", figures.G) - row.g) < TYPED


@pytest.mark.parametrize("way", ["as given", "all at once"])
def test_a21_every_pin_at_20(way: str) -> None:
    """A21. P4 to P7 with the crank at +20, each as claimed by both of its links."""
    reading = read(driven(figures.SIX_BAR[2]), way)
    pose = reading.pose(6.501781034)
    for pin, place in figures.SIX_BAR_AT_20.items():
        for link in reading.sketch.pivots[pin][1]:
            assert abs(reading.place(pose, link, reading.sketch.pin(pin)) - place) < TYPED, (pin, link)


@pytest.mark.parametrize("row", [figures.SIX_BAR[0], figures.SIX_BAR[3]], ids=["crank -40", "crank +40"])
def test_a21_by_the_command_line(row: figures.SixBarRow, tmp_path: Path) -> None:
    """A21. `report --json` of a file that the program never wrote: [dx, dy, turn_deg] of the last pose lays G where
    typed.
    """
    status, report = reported(replace(driven(row), wanted_deg=abs(row.panel_deg)), tmp_path, "--steps", "19")
    assert status == 0
    assert (report["mobility"], len(report["poses"])) == (1, 19)
    shut, last = report["poses"][0], report["poses"][-1]
    assert shut["links"]["panel"] == [0.0, 0.0, 0.0]
    assert all(pose["links"]["ground"] == [0, 0, 0] for pose in report["poses"])
    dx, dy, turn_deg = last["links"]["panel"]
    assert turn_deg == pytest.approx(row.panel_deg, rel=0, abs=1e-8)
    turned = complex(math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))) * figures.G
    assert abs(turned + complex(dx, dy) - row.g) < TYPED
    assert last["links"]["crank"][2] == pytest.approx(row.crank_deg, rel=0, abs=1e-7)


# ------------------------------------------------------------------------------------------------------ A22, invariants

WATCHED = {
    "body": Line("ground", (-60 + 20j, -20 + 95j, 30 + 150j, 60 + 190j), half_width=1.5),
    "nose": Line("panel", (118 + 150j, 180 + 171j, 250 + 140j, 210 + 120j), closed=True),
    "fin": Line("crank", (-8 + 15j, -25 + 40j, 2 + 66j)),
}


def watched(**more: object) -> Sketch:
    """The six-bar with outlines on three links, and two wants."""
    return figures.six_bar(
        outlines=WATCHED,
        gaps=(("body", "nose", 10.0, 0.0), ("nose", "fin", 3.0, 1.0)),
        marks={"G": ("panel", figures.G)},
        anticlockwise=False,
        wanted_deg=17.0,
        **more,
    )


@pytest.mark.parametrize("way", [way for way in WAYS if way != "as given"])
def test_a22_lying_another_way_changes_nothing(way: str) -> None:
    """A22. Gaps, angles, dead points, paths: equal to 1e-9 relative; gaps within the certified 0.01 mm where not
    exact.
    """
    plain, laid = read(watched()), read(watched(), way)
    a, b = plain.analysis, laid.analysis
    assert (a.mobility, a.state, a.opening.ends) == (b.mobility, b.state, b.opening.ends)
    assert a.opening.largest_deg == pytest.approx(b.opening.largest_deg, rel=1e-9)
    np.testing.assert_allclose(a.openings, b.openings, rtol=0, atol=1e-9)
    for link in plain.sketch.links:
        np.testing.assert_allclose(plain.turns_deg(link), laid.turns_deg(link), rtol=0, atol=1e-8)
        np.testing.assert_allclose(plain.places(link, figures.G), laid.places(link, figures.G), rtol=0, atol=1e-8)
    for pair in (("body", "nose"), ("nose", "fin")):
        assert plain.smallest(*pair) == pytest.approx(laid.smallest(*pair), rel=0, abs=0.01)
        assert plain.shut_gap(*pair) == pytest.approx(laid.shut_gap(*pair), rel=1e-9)
        assert plain.gap(*pair).ok == laid.gap(*pair).ok
    assert sum(check.ok for check in a.checks) == sum(check.ok for check in b.checks)


@pytest.mark.parametrize("fixed", ["crank", "coupler", "panel"])
def test_a22_another_fixed_link_keeps_the_relative_turns(fixed: str) -> None:
    """A22, inversion. With another link held, the same poses are passed: relative turns of any two links are the
    same.
    """
    plain = read(figures.six_bar("crank", anticlockwise=True, wanted_deg=40.0))
    others = tuple(link for link in figures.six_bar().links if link != fixed)
    panel = "ground" if fixed == "crank" else "crank"
    # the panel's turn against the link now held, at the pose that is compared
    pose = plain.pose(31.0)
    relative = plain.turn_deg(pose, panel) - plain.turn_deg(pose, fixed)
    held = replace(
        figures.six_bar(), links=(fixed, *others), panel=panel, anticlockwise=relative > 0, wanted_deg=abs(relative)
    )
    inverted = read(held)
    there = inverted.pose(abs(relative))
    for link in figures.six_bar().links:
        expected = plain.turn_deg(pose, link) - plain.turn_deg(pose, fixed)
        assert inverted.turn_deg(there, link) == pytest.approx(expected, rel=0, abs=1e-8), link


@pytest.mark.parametrize("layout", ["six-bar", "launch hatch"])
def test_a22_forth_and_back(layout: str) -> None:
    """A22. Drawn at the end of its sweep and swept back, every pin returns to its shut place within 1e-9 mm × 10
    (gain).
    """
    sketch = figures.launch_hatch() if layout == "launch hatch" else watched()
    forth = read(sketch)
    reached = forth.analysis.opening.reached_deg
    assert reached == pytest.approx(sketch.wanted_deg, rel=0, abs=1e-9)
    end = forth.pose(reached)
    drawn = {name: (forth.place(end, joins[0], at), joins) for name, (at, joins) in sketch.pivots.items()}
    again = replace(sketch, pivots=drawn, outlines={}, marks={}, gaps=(), anticlockwise=not sketch.anticlockwise)
    back = read(again)
    home = back.pose(reached)
    for name, (at, joins) in drawn.items():
        for link in joins:
            assert abs(back.place(home, link, at) - sketch.pin(name)) < 1e-8, (name, link)


def same(warm: Analysis, cold: Analysis) -> None:
    """Two analyses agree to 1e-9, as is promised (shifts: by 1e-9 rad at 500 mm; gaps: both are certified to 0.01)."""
    assert (warm.opening.ends, warm.state, warm.mobility) == (cold.opening.ends, cold.state, cold.mobility)
    assert warm.opening.largest_deg == pytest.approx(cold.opening.largest_deg, rel=0, abs=1e-7)
    np.testing.assert_allclose(warm.openings, cold.openings, rtol=0, atol=1e-7)
    if cold.opening.ends == "wanted opening":  # at a dead point both have half of their digits
        np.testing.assert_allclose(warm.turns, cold.turns, rtol=0, atol=1e-9)
        np.testing.assert_allclose(warm.shifts, cold.shifts, rtol=0, atol=1e-9 * 500)
    for one, other in zip(warm.gaps, cold.gaps, strict=True):
        assert one.smallest == pytest.approx(other.smallest, rel=0, abs=1e-9)
        assert len(one.touching_deg) == len(other.touching_deg)


@pytest.mark.parametrize("step", [1.0, 7.0, 40.0])
@pytest.mark.parametrize("pivot", ["X", "P1", "Q"])
def test_a22_a_drag_ends_where_a_fresh_analysis_does(pivot: str, step: float) -> None:
    """A22. A pivot of the hatch wanders, each analysis is the guess of the next; it never drifts from a fresh one.

    Steps of 40 mm throw the guess onto other branches; those of 7 mm and more take it to layouts that lock, stop
    early or come back: wherever it went, what counts is where it is.
    """
    dice = random.Random(pivot)
    sketch = figures.launch_hatch()
    at, warm, ends = sketch.pin(pivot), None, set()
    for _ in range(cases(7, 14)):
        moved = replace(sketch, pivots={**sketch.pivots, pivot: (at, sketch.pivots[pivot][1])}).project()
        warm = kinematics.analyse(moved, near=warm)
        same(warm, kinematics.analyse(moved))
        ends.add(warm.opening.ends)
        at += step * cmath.rect(1.0, dice.uniform(-math.pi, math.pi))
    assert ends


def test_a22_a_guess_changes_nothing() -> None:
    """A22. With `near` an earlier analysis, the results are the same within 1e-9, also when the guess is far off."""
    sketch = watched()
    first = kinematics.analyse(sketch.project())
    moved = replace(sketch, pivots={**sketch.pivots, "P4": (97 + 33j, ("rocker", "coupler"))}).project()
    cold = kinematics.analyse(moved)
    for guess in (first, kinematics.analyse(figures.launch_hatch().project()), cold):
        warm = kinematics.analyse(moved, near=guess)
        np.testing.assert_allclose(warm.openings, cold.openings, rtol=0, atol=1e-9)
        np.testing.assert_allclose(warm.turns, cold.turns, rtol=0, atol=1e-9)
        np.testing.assert_allclose(warm.shifts, cold.shifts, rtol=0, atol=1e-9 * 300)
        for one, other in zip(warm.gaps, cold.gaps, strict=True):
            assert one.smallest == pytest.approx(other.smallest, rel=0, abs=1e-9)
