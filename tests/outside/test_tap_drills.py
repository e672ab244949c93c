"""Tap drills of ASME B1.1 threads, and metric ones by D − P.

Trap: F is a *tap* drill for 5/16-18 and a *clearance* drill for 1/4: a name alone says nothing.
"""

from __future__ import annotations

import pytest

from app.hardware import hardware

INCH = {"1/4-20": ("#7", 5.1054), "5/16-18": ("F", 6.5278), "3/8-16": ("5/16", 7.9375)}
"""Thread: drill's name, and in mm: 0.2010, 0.2570 and 0.3125 in."""
METRIC = {"M5": (4.2, 77.0), "M6": (5.0, 77.0), "M8": (6.8, 73.9)}
"""Thread: drill, and how much of the thread's height is cut (%)."""


@pytest.mark.parametrize("thread", INCH)
def test_f9_inch(thread: str) -> None:
    """F9."""
    row = hardware().drill(thread)
    assert row is not None
    assert (row.name, row.drill) == (INCH[thread][0], pytest.approx(INCH[thread][1], abs=1e-9))


@pytest.mark.parametrize("thread", METRIC)
def test_f9_metric(thread: str) -> None:
    """F9: half of the last printed digit."""
    row = hardware().drill(thread)
    assert row is not None
    assert row.drill == METRIC[thread][0]
    assert 100.0 * row.depth == pytest.approx(METRIC[thread][1], abs=0.05)


def test_f9_height_of_inch_threads() -> None:
    """F9: (D − drill)·n/1.299: 75.4 and 76.9 %."""
    for thread, height in (("1/4-20", 75.4), ("5/16-18", 76.9)):
        row = hardware().drill(thread)
        assert row is not None
        assert 100.0 * row.depth == pytest.approx(height, abs=0.05)


def test_f9_the_drill_f_taps_one_thread_and_clears_another() -> None:
    """F9 and F8: F (0.257 in) taps 5/16-18; 1/4 passes through it, close (17/64 is the larger)."""
    tapped, cleared = hardware().drill("5/16-18"), hardware().clearance("1/4")
    assert tapped is not None
    assert cleared is not None
    assert cleared.diameter < tapped.drill < cleared.fine
    assert tapped.drill < tapped.diameter
