"""Linkages that draw a line: Chebyshev's and Hoeken's nearly, Peaucellier's exactly; and Watt's curve.

Sources: proportions as in encyclopedias and kinematics texts; Watt's curve after E. H. Lockwood, *A Book of Curves*
(1967).
All figures derivable, recomputed. Checks A13, A14, A15, A16 of checks.md. Lengths in mm as typed, and times 25.4.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from tests.outside.sketch import WAYS, Reading, Sketch, four_bar, read, worst_pin_error

LARGEST_ERROR = 0.009753733086  # A13, A14: the same, as the two are cognates
SOLVED = 1e-9  # mm: residual of a pose; these lines follow it at most one to one


def point_at(reading: Reading, link: str, shut: complex, opening: float) -> complex:
    return reading.place(reading.pose(opening), link, shut)


def highest(reading: Reading, link: str, shut: complex, low: float, high: float) -> complex:
    """The highest place of a point between two openings, found between the poses too."""
    best = minimize_scalar(
        lambda deg: -point_at(reading, link, shut, deg).imag,
        bounds=(low, high),
        method="bounded",
        options={"xatol": 1e-9},
    )
    return point_at(reading, link, shut, float(best.x))


def chebyshev(anticlockwise: bool) -> Sketch:
    """A13. Ground 4 (±2), cranks 5 crossed, coupler 2; shut in the middle of its travel, the coupler level."""
    return Sketch(
        links=("ground", "left", "right", "coupler"),
        panel="coupler",
        pivots={
            "L": (-2 + 0j, ("ground", "left")),
            "R": (2 + 0j, ("ground", "right")),
            "A": (1 + 4j, ("left", "coupler")),
            "B": (-1 + 4j, ("right", "coupler")),
        },
        anticlockwise=anticlockwise,
        wanted_deg=90.0,
    )


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("anticlockwise", [True, False])
def test_a13_chebyshev(anticlockwise: bool, way: str) -> None:
    """A13. The coupler's middle: y = 4 exactly at x = 0 and ∓2; the largest error above, at x = ∓1.19242394; never
    below.

    The place of the largest error is found only to √(1e-12): 1e-5 mm.
    """
    reading = read(chebyshev(anticlockwise), way)
    sense = -1 if anticlockwise else 1
    path = reading.places("coupler", 4j)
    assert abs(path[0] - 4j) < SOLVED
    assert abs(path[-1] - complex(2 * sense, 4)) < SOLVED
    assert float(path.imag.min()) > 4 - SOLVED
    top = highest(reading, "coupler", 4j, 1.0, 89.0)
    assert top.imag - 4 == pytest.approx(LARGEST_ERROR, rel=0, abs=SOLVED)
    assert top.real == pytest.approx(1.19242394 * sense, rel=0, abs=1e-5)
    assert float((np.diff(path.real) * sense).min()) > 0


def hoeken(anticlockwise: bool, wanted_deg: float) -> Sketch:
    """A14. Crank 1, ground 2, coupler and rocker 2.5; shut with the crank at 90°."""
    return four_bar((1, 2.5, 2.5, 2), 90.0, anticlockwise=anticlockwise, wanted_deg=wanted_deg)


@pytest.mark.parametrize("way", WAYS)
def test_a14_hoeken_draws_a_line(way: str) -> None:
    """A14. P, at twice the coupler beyond A: from (4, 4) to (0, 4) while the crank goes from 90° to 270°."""
    sketch = hoeken(anticlockwise=True, wanted_deg=180.0)
    p = 2 * sketch.pin("B") - sketch.pin("A")
    reading = read(sketch, way)
    path = reading.places("coupler", p)
    assert abs(path[0] - (4 + 4j)) < SOLVED
    assert abs(path[-1] - 4j) < 2 * SOLVED  # P is twice as far from A as B is
    tops = [highest(reading, "coupler", p, low, high).imag - 4 for low, high in ((1, 90), (90, 179))]
    for top in tops:
        assert top == pytest.approx(LARGEST_ERROR, rel=0, abs=2 * SOLVED)
    assert float(path.imag.min()) > 4 - 2 * SOLVED


@pytest.mark.parametrize("way", ["as given", "all at once"])
def test_a14_hoeken_returns_above(way: str) -> None:
    """A14. The other way, 90° to θ2 = 0: P at height 2√6 = 4.898979486. Trap: opening the wrong way gives (·, 4)
    instead.
    """
    sketch = hoeken(anticlockwise=False, wanted_deg=90.0)
    p = 2 * sketch.pin("B") - sketch.pin("A")
    reading = read(sketch, way)
    assert abs(point_at(reading, "coupler", p, 90.0) - complex(2.0, 4.898979486)) < 1e-9 + 2 * SOLVED


def watt_gradient(z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Watt's sextic for a = 2, b = 3, c = 1.5 at points z, and the size of its gradient by hand."""
    x, y, s = z.real, z.imag, np.abs(z) ** 2
    k = s - 2.0**2 - 3.0**2 + 1.5**2
    value = s * k**2 + 16 * y**2 * (s - 9)
    slope = k**2 + 2 * s * k + 16 * y**2  # d/ds at fixed y
    return value, np.hypot(2 * x * slope, 2 * y * slope + 32 * y * (s - 9))


@pytest.mark.parametrize("way", ["as given", "turned 37°", "all at once"])
@pytest.mark.parametrize("panel", ["crank", "coupler", "rocker"])
@pytest.mark.parametrize("crossed", [False, True], ids=["open", "crossed"])
def test_a15_watts_curve(crossed: bool, panel: str, way: str) -> None:
    """A15. Circles of radius 3 about (±2, 0), bar 3, its middle on the sextic at every pose, both branches.

    Tolerance: 1e-9 mm across the curve. At the node the curve has no gradient; there the value itself is below 1e-9.
    """
    sketch = four_bar((3, 3, 3, 4), 62.0, crossed, panel=panel, wanted_deg=160.0)
    reading = read(sketch, way)
    middle = (sketch.pin("A") + sketch.pin("B")) / 2
    path = reading.places("coupler", middle) - 2.0
    assert float(np.ptp(path.real)) + float(np.ptp(path.imag)) > 1.0
    value, gradient = watt_gradient(path)
    assert float((np.abs(value) / (gradient + 1.0)).max()) < SOLVED


def peaucellier(crank_deg: float, anticlockwise: bool, wanted_deg: float) -> Sketch:
    """A16. Long arms 5, rhombus 3, crank 1.5 about (1.5, 0): 8 links; O and three pins join three links each."""
    inner = 1.5 + cmath.rect(1.5, math.radians(crank_deg))
    r, direction = abs(inner), inner / abs(inner)
    outer = 16.0 / r * direction  # |O–inner|·|O–outer| = 25 − 9: shut coordinates only, checked by the lengths below
    middle = (inner + outer) / 2
    half = math.sqrt(9.0 - abs(outer - middle) ** 2)
    up, down = middle + 1j * direction * half, middle - 1j * direction * half
    for side in (up, down):
        assert abs(abs(side) - 5.0) < 1e-12
    return Sketch(
        links=("ground", "crank", "arm up", "arm down", "in up", "in down", "out up", "out down"),
        panel="crank",
        pivots={
            "O": (0j, ("ground", "arm up", "arm down")),
            "C": (1.5 + 0j, ("ground", "crank")),
            "inner": (inner, ("crank", "in up", "in down")),
            "up": (up, ("arm up", "in up", "out up")),
            "down": (down, ("arm down", "in down", "out down")),
            "outer": (outer, ("out up", "out down")),
        },
        anticlockwise=anticlockwise,
        wanted_deg=wanted_deg,
    )


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("anticlockwise", [True, False])
def test_a16_peaucellier_is_exactly_straight(anticlockwise: bool, way: str) -> None:
    """A16. x = 16/3 for every pose of the crank from −60° to 60°, y = ∓3.079201436 at the ends; mobility 1 by j =
    10.
    """
    start = -60.0 if anticlockwise else 60.0
    sketch = peaucellier(start, anticlockwise, 120.0)
    reading = read(sketch, way)
    assert reading.analysis.mobility == 1
    assert reading.analysis.opening.reached_deg == pytest.approx(120.0, rel=0, abs=1e-9)
    path = reading.places("out up", sketch.pin("outer"))
    assert float(np.abs(path.real - 5.333333333333).max()) < SOLVED
    end = 3.079201436 * (1 if anticlockwise else -1)
    assert path[0].imag == pytest.approx(-end, rel=0, abs=1e-9)
    assert path[-1].imag == pytest.approx(end, rel=0, abs=2e-9)
    assert worst_pin_error(reading) < SOLVED
