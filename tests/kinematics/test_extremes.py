"""The lowest place of functions whose lowest place is known: smooth, kinked, at ends, on plateaus, in twin hollows."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.extremes import lowest

if TYPE_CHECKING:
    from collections.abc import Callable

    Function = Callable[[np.ndarray], np.ndarray]


def sought(
    function: Function, low: float = 0.0, high: float = 2.0, samples: int = 25, off: float = 0.0
) -> tuple[float, float]:
    """The place and value found; the quick values may be off by so much."""
    places = np.linspace(low, high, samples)

    def close(at: np.ndarray) -> np.ndarray:
        return np.asarray(function(at) + off * np.sin(40.0 * at))

    return lowest(places, close(places), close, function)


@pytest.mark.parametrize("at", [0.0431, 0.5, 0.77777, 1.2345678, 1.9])
def test_a_smooth_hollow(at: float) -> None:
    place, value = sought(lambda x: 3.0 + (x - at) ** 2 + 0.4 * (x - at) ** 3)
    assert place == pytest.approx(at, rel=0, abs=1e-6)
    assert value == pytest.approx(3.0, rel=0, abs=1e-12)


@pytest.mark.parametrize("at", [0.3141, 1.0, 1.5926])
def test_a_pointed_hollow_is_found_roughly(at: float) -> None:
    """Parabolas are made for smooth hollows, which all of ours are; a pointed one is found to a fifth of a sample."""
    place, value = sought(lambda x: np.maximum(2.0 * (at - x), 0.7 * (x - at)) - 5.0)
    assert place == pytest.approx(at, rel=0, abs=0.2 / 12)
    assert value == pytest.approx(-5.0, rel=0, abs=0.4 / 12)


def test_quick_values_that_are_a_little_off_cost_nothing() -> None:
    place, value = sought(lambda x: np.cos(2.0 * x), off=1e-6)
    assert place == pytest.approx(0.5 * math.pi, rel=0, abs=1e-5)
    assert value == pytest.approx(-1.0, rel=0, abs=1e-10)


@pytest.mark.parametrize(("slope", "end"), [(1.0, 0.0), (-1.0, 2.0), (1e-6, 0.0), (-1e-6, 2.0)])
def test_an_end(slope: float, end: float) -> None:
    place, value = sought(lambda x: slope * x)
    assert place == end
    assert value == slope * end


def test_a_hollow_close_to_an_end() -> None:
    place, value = sought(lambda x: (x - 0.004) ** 2)
    assert place == pytest.approx(0.004, rel=0, abs=1e-7)
    assert value < 1e-13


def test_a_plateau_gives_its_beginning() -> None:
    place, value = sought(lambda x: np.maximum(np.abs(x - 1.0) - 0.3, 0.0))
    assert value == 0.0
    assert 0.7 - 1e-9 <= place <= 0.7 + 2.0 / 24  # the first sample upon it, or before
    assert sought(np.zeros_like)[0] == 0.0


def test_of_equal_hollows_the_first() -> None:
    place, value = sought(lambda x: np.cos(4.0 * math.pi * x))  # lowest at 0.25, 0.75, 1.25, 1.75
    assert place == pytest.approx(0.25, rel=0, abs=1e-6)
    assert value == pytest.approx(-1.0, rel=0, abs=1e-12)


@pytest.mark.parametrize("deeper", [0.0005, 0.005])
def test_the_deeper_hollow_wins_though_its_samples_lie_higher(deeper: float) -> None:
    """A narrow hollow between two samples, beside a wide one that has a sample at its bottom."""
    wide, narrow = 0.5, 1.5 + 1.0 / 24  # samples stand 1/12 apart

    def function(x: np.ndarray) -> np.ndarray:
        return np.minimum(0.2 * (x - wide) ** 2, 4.0 * (x - narrow) ** 2 - deeper)

    place, value = sought(function)
    assert place == pytest.approx(narrow, rel=0, abs=1e-6)
    assert value == pytest.approx(-deeper, rel=0, abs=1e-12)


def test_one_sample_and_two() -> None:
    assert lowest(np.array([0.7]), np.array([9.0]), np.square, np.square) == (0.7, pytest.approx(0.49))
    place, value = sought(lambda x: (x - 0.9) ** 2, samples=2)
    assert place == pytest.approx(0.9, rel=0, abs=1e-6)
    assert value < 1e-12


def test_exact_values_are_asked_little() -> None:
    asked: list[int] = []

    def exact(x: np.ndarray) -> np.ndarray:
        asked.append(len(x))
        return np.cos(x)

    places = np.linspace(0.0, 6.0, 200)
    assert lowest(places, np.cos(places), np.cos, exact)[0] == pytest.approx(math.pi, rel=0, abs=1e-6)
    assert sum(asked) <= 15
