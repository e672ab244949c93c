"""The oracles themselves, held to typed figures, before anything is held to them. No line here touches the program.

Source of the figures: checks.md A1, A3, A8, A12, A21 (derivable; recomputed by successive circle intersections).
"""

from __future__ import annotations

import cmath
import math

import pytest

from tests.outside import figures
from tests.outside.oracles import PinTracker, StuckError, Twin, circle_meets
from tests.outside.sketch import four_bar


def test_circles_give_both_meets_of_a3() -> None:
    """A3. Tolerance: half of the last typed digit."""
    left, right = circle_meets(cmath.rect(40.0, math.radians(40.0)), 120.0, 100.0, 80.0)
    assert abs(left - (143.189988210 + 67.339623688j)) < 1e-9
    assert abs(right - (88.859288258 - 79.220480571j)) < 1e-9


@pytest.mark.parametrize("row", figures.SIX_BAR, ids=lambda row: f"crank {row.crank_deg:+}")
def test_tracked_pins_give_the_table_of_a21(row: figures.SixBarRow) -> None:
    """A21. Driven by the crank; tolerance: half of the last typed digit."""
    tracker = PinTracker(figures.six_bar("crank"))
    pins = dict(zip(tracker.names, tracker.to(math.radians(row.crank_deg)), strict=True))
    turn = (pins["P7"] - pins["P6"]) / ((120 + 130j) - (130 + 70j))
    assert math.degrees(cmath.phase(turn)) == pytest.approx(row.panel_deg, rel=0, abs=1e-9)
    assert abs(pins["P6"] + turn * (figures.G - (130 + 70j)) - row.g) < 2e-9
    assert tracker.determined().all()


@pytest.mark.parametrize("row", figures.SIX_BAR, ids=lambda row: f"crank {row.crank_deg:+}")
def test_the_engine_gives_the_table_of_a21(row: figures.SixBarRow) -> None:
    """A20, A21. MuJoCo's constraint rows, two connects, five hinges, rank 4; small steps keep the branch."""
    pytest.importorskip("mujoco", reason="the physics engine is a test-only oracle")
    twin = Twin(figures.six_bar("crank"))
    for k in range(41):
        assert twin.drive(math.radians(row.crank_deg) * k / 40) < 1e-9
    assert math.degrees(twin.turn("panel")) == pytest.approx(row.panel_deg, rel=0, abs=1e-9)
    assert abs(twin.place("panel", figures.G) - row.g) < 2e-9
    assert twin.mobility() == 1


def test_the_tracker_stops_at_a_dead_point() -> None:
    """A8. The rocker drives; past θ4 = 54.90036780 there is nothing, and the tracker must say so, not hop."""
    sketch = four_bar((40, 120, 80, 100), 40.0, panel="rocker")
    to_dead_point = math.radians(57.324880112 - 54.90036780)
    tracker = PinTracker(sketch)
    tracker.to(-to_dead_point + 1e-5)
    with pytest.raises(StuckError):
        tracker.to(-to_dead_point - 1e-5)
