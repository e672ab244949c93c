"""Mobility: what really moves, against the count of pins.

Source: the count M = 3(n − 1) − 2j (Chebyshev, Grübler, Kutzbach; any text), and where it lies: derivable examples.
Checks A9, A10, A11 of checks.md. A pin that joins three links counts as two.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from tests.outside import figures
from tests.outside.sketch import WAYS, Sketch, four_bar, read, worst_pin_error


def crank_row(third_foot: complex, panel: str, **more: float) -> Sketch:
    """Two cranks of 50 at 75°, parallel; a third one beside them whose top is on the coupler, its foot where told."""
    top = cmath.rect(50.0, math.radians(75.0))
    return Sketch(
        links=("ground", "first", "second", "third", "coupler"),
        panel=panel,
        pivots={
            "O1": (0j, ("ground", "first")),
            "O2": (100 + 0j, ("ground", "second")),
            "O3": (third_foot, ("ground", "third")),
            "A": (top, ("first", "coupler")),
            "B": (100 + top, ("second", "coupler")),
            "C": (63 + 17j + top, ("third", "coupler")),
        },
        **more,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("way", WAYS)
def test_a10_three_equal_parallel_cranks_move(way: str) -> None:
    """A10. n = 5, j = 6: the count says 0, rank 3 of 4 at every pose says 1. Trap: "locked" by the count."""
    sketch = crank_row(63 + 17j, "first", wanted_deg=85.0)
    reading = read(sketch, way)
    assert reading.analysis.mobility == 1
    assert reading.analysis.state == "moves"
    assert reading.analysis.opening.reached_deg == pytest.approx(85.0, rel=0, abs=1e-9)
    assert worst_pin_error(reading) < 1e-9
    assert float(np.abs(reading.turns_deg("coupler")).max()) < 1e-9
    for crank in ("second", "third"):
        assert float(np.abs(reading.turns_deg(crank) - reading.turns_deg("first")).max()) < 1e-9


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("foot", [63 + 17j + cmath.rect(1.0, math.radians(75.0)), 63 + 17j - 0.4j, 64 + 17j])
def test_a10_a_third_crank_of_another_length_locks(foot: complex, way: str) -> None:
    """A10. The foot 1 mm up along the crank (its length 49): the cranks are parallel, so at shut alone the rank lies.

    Nothing can move: no opening, one pose, in words. The other feet lock it too, in plain sight of the rank.
    """
    reading = read(crank_row(foot, "first", wanted_deg=60.0), way)
    assert reading.analysis.mobility == 0
    assert reading.analysis.state == "locked"
    told = reading.analysis.opening
    assert (told.ends, told.reached_deg, len(reading.analysis.openings)) == ("locked", 0.0, 1)
    assert reading.analysis.remarks
    assert any(check.kind == "opening" and not check.ok for check in reading.analysis.checks)


def test_a10_counts_of_common_chains() -> None:
    """A10. Four-bar 1; six links with seven pins 1; the same as the count, and as it should be."""
    assert read(four_bar(figures.NORTON, 40.0, wanted_deg=30.0), steps=2).analysis.mobility == 1
    assert read(figures.six_bar(wanted_deg=5.0), steps=2).analysis.mobility == 1
    assert read(figures.launch_hatch(), steps=2).analysis.mobility == 1


def three_on_a_pin(panel: str, **more: float) -> Sketch:
    """A1's four-bar; a dyad hangs on its pin A, which so joins three links: n = 6, j = 4 + 1 + 1 + 1 = 7."""
    base = four_bar(figures.NORTON, 40.0)
    return Sketch(
        links=("ground", "crank", "coupler", "rocker", "rod", "swing"),
        panel=panel,
        pivots={
            **base.pivots,
            "A": (base.pin("A"), ("crank", "coupler", "rod")),
            "C": (-20 + 90j, ("rod", "swing")),
            "O5": (-90 + 15j, ("swing", "ground")),
        },
        **more,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("way", WAYS)
def test_a10_three_links_on_a_pin_count_twice(way: str) -> None:
    """A10. Counted once, A would leave mobility 3: "loose". It is 1, and all three links keep the pin."""
    reading = read(three_on_a_pin("swing", wanted_deg=20.0), way)
    assert reading.analysis.mobility == 1
    assert reading.analysis.state == "moves"
    assert reading.analysis.opening.reached_deg == pytest.approx(20.0, rel=0, abs=1e-9)
    assert worst_pin_error(reading) < 1e-9


@pytest.mark.parametrize("way", WAYS)
def test_a10_three_legs_to_one_pin_are_a_truss(way: str) -> None:
    """A10. Three links from the ground to one pin: n = 4, j = 3 + 2 = 5, M = −1. Counted once, the pin would give 1."""
    sketch = Sketch(
        links=("ground", "one", "two", "three"),
        panel="two",
        pivots={
            "O1": (0j, ("ground", "one")),
            "O2": (90 + 5j, ("ground", "two")),
            "O3": (40 - 30j, ("ground", "three")),
            "P": (35 + 80j, ("one", "two", "three")),
        },
    )
    reading = read(sketch, way)
    assert reading.analysis.state == "locked"
    assert reading.analysis.mobility == 0
    assert reading.analysis.opening.ends == "locked"


@pytest.mark.parametrize("way", WAYS)
def test_a10_a_five_bar_is_loose(way: str) -> None:
    """A10. n = 5, j = 5: M = 2. The panel's turn doesn't determine where it is, and the program says so."""
    sketch = Sketch(
        links=("ground", "one", "two", "three", "four"),
        panel="two",
        pivots={
            "O1": (0j, ("ground", "one")),
            "A": (20 + 70j, ("one", "two")),
            "B": (95 + 90j, ("two", "three")),
            "C": (150 + 60j, ("three", "four")),
            "O2": (130 - 10j, ("four", "ground")),
        },
    )
    reading = read(sketch, way)
    assert reading.analysis.mobility == 2
    assert reading.analysis.state == "loose"
    told = reading.analysis.opening
    assert (told.ends, told.reached_deg, len(reading.analysis.openings)) == ("loose", 0.0, 1)
    assert reading.analysis.remarks


@pytest.mark.parametrize("way", WAYS)
def test_a10_what_hangs_free_does_not_stop_the_rest(way: str) -> None:
    """A10. A rod that hangs on A by one pin adds a freedom that the opening doesn't need: the sweep is the four-bar's.

    The rod keeps its shut turn relative to the link on which it hangs, and a remark names it.
    """
    base = four_bar(figures.NORTON, 25.0)
    sketch = Sketch(
        links=("ground", "crank", "coupler", "rocker", "spare rod"),
        panel="rocker",
        pivots={**base.pivots, "S": (base.pin("B") + 12 - 5j, ("rocker", "spare rod"))},
        wanted_deg=2.5,
        anticlockwise=True,
    )
    reading = read(sketch, way)
    assert reading.analysis.opening.reached_deg == pytest.approx(2.5, rel=0, abs=1e-9)
    assert any("spare rod" in remark for remark in reading.analysis.remarks)
    assert float(np.abs(reading.turns_deg("spare rod") - reading.turns_deg("rocker")).max()) < 1e-12
    assert worst_pin_error(reading) < 1e-9


def parallelogram(panel: str, crank_deg: float, **more: float) -> Sketch:
    """A9: 50/100/50/100, the coupler parallel to the ground."""
    top = cmath.rect(50.0, math.radians(crank_deg))
    return Sketch(
        links=("ground", "crank", "coupler", "rocker"),
        panel=panel,
        pivots={
            "O2": (0j, ("ground", "crank")),
            "A": (top, ("crank", "coupler")),
            "B": (100 + top, ("coupler", "rocker")),
            "O4": (100 + 0j, ("rocker", "ground")),
        },
        **more,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("anticlockwise", "flat_at"), [(True, 120.0), (False, 60.0)])
def test_a9_the_parallelogram_never_turns_over(anticlockwise: bool, flat_at: float, way: str) -> None:
    """A9. The crank opens from 60°; where all is flat the other closing begins. Stop there, or keep to the
    parallelogram.

    The coupler turns by exactly 0 (1e-9°), except within 1° of the flat pose, where a residual of 1e-9 mm leaves
    √(2e-9/50) rad = 4e-4°; the other closing is off by tens of degrees.
    """
    sketch = parallelogram("crank", 60.0, anticlockwise=anticlockwise, wanted_deg=150.0)
    reading = read(sketch, way)
    reached = reading.analysis.opening.reached_deg
    assert reached == pytest.approx(150.0, rel=0, abs=1e-9) or reached == pytest.approx(flat_at, rel=0, abs=1e-6)
    turned = np.abs(reading.turns_deg("coupler"))
    near = np.abs(reading.analysis.openings - flat_at) < 1.0
    assert float(turned[~near].max()) < 1e-9
    assert float(turned[near].max(initial=0.0)) < 1e-3
    assert worst_pin_error(reading) < 1e-9


@pytest.mark.parametrize("way", ["as given", "all at once"])
def test_a9_a_panel_that_slides_is_told_and_moves_on_a_circle(way: str) -> None:
    """A9. The coupler as the panel turns by 0: no opening, a remark; along its branch every point keeps r = 50."""
    sketch = parallelogram("coupler", 70.0)
    reading = read(sketch, way)
    assert reading.analysis.state == "slides"
    assert reading.analysis.mobility == 1
    assert (reading.analysis.opening.reached_deg, len(reading.analysis.openings)) == (0.0, 1)
    assert reading.analysis.remarks
    point, centre = 31 + 88j, 31 + 88j - cmath.rect(50.0, math.radians(70.0))
    places = []
    for arc in np.linspace(-0.4, 0.4, 9):
        pose = reading.analysis.along(float(arc))
        places.append(reading.place(pose, "coupler", point))
        assert abs(reading.turn_deg(pose, "coupler")) < 1e-9
        assert abs(abs(places[-1] - centre) - 50.0) < 1e-9
    assert abs(places[4] - point) < 1e-9  # along(0) is shut
    assert abs(places[0] - places[-1]) > 5.0  # and it does move, both ways
    assert abs(places[0] - point) > 2.0
    assert abs(places[-1] - point) > 2.0
