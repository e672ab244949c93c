"""Six assemblies of one Stephenson III linkage, close together, none to be swapped for another.

Source: E. J. F. Primrose, F. Freudenstein, B. Roth, "Six-bar motion", *Arch. Rational Mech. Anal.* 24 (1967) (from
memory): a circle and a coupler curve meet in 12 points less 6 at infinity. Check A12 of checks.md: an integer example
in
which all six are real. Figures derivable.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

import kinematics
from tests.outside.oracles import PinTracker, circle_meets
from tests.outside.sketch import Sketch, read, worst_pin_error

A, B, C = 12.0, 4.0, 4.0  # crank, coupler, rocker; ground (0, 0)–(10, 0)
COUPLER_POINT = -5 - 7j  # in the coupler's frame, x from A to B, y left
D, ROD = 8 + 8j, 7.0  # the dyad's outer pin while its crank stands still, and |CD|
FOOT = 15 + 3j  # the dyad crank's ground pivot: ours, any will do

# typed: C, crank angle θ2 (degrees)
ASSEMBLIES = (
    (3.169330178 + 2.933973049j, 11.582437783),
    (2.682278795 + 3.447875091j, 20.297484122),
    (1.013439748 + 8.433561819j, 37.358278061),
    (14.643078225 + 5.793302990j, 348.869336958),
    (12.830923400 + 13.065785142j, 22.783167874),
    (5.707212053 + 14.613858437j, 35.766223703),
)


def coupler_points(crank_deg: float) -> list[tuple[complex, complex, complex]]:
    """(A, B, C) of both closings at a crank angle."""
    a = cmath.rect(A, math.radians(crank_deg))
    return [(a, b, a + COUPLER_POINT * (b - a) / B) for b in circle_meets(a, B, 10 + 0j, C)]


def assembled(number: int) -> tuple[complex, complex, complex]:
    """One assembly to all digits: the typed crank angle, polished by bisection on |CD| = 7 within ±1e-6°."""
    c, crank_deg = ASSEMBLIES[number]
    which = min((0, 1), key=lambda k: abs(coupler_points(crank_deg)[k][2] - c))

    def off(angle: float) -> float:
        return abs(coupler_points(angle)[which][2] - D) - ROD

    low, high = crank_deg - 1e-6, crank_deg + 1e-6
    assert off(low) * off(high) < 0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if off(low) * off(middle) <= 0 else (middle, high)
    return coupler_points((low + high) / 2)[which]


def stephenson(number: int, panel: str = "swing", **more: float) -> Sketch:
    a, b, c = assembled(number)
    return Sketch(
        links=("ground", "crank", "coupler", "rocker", "rod", "swing"),
        panel=panel,
        pivots={
            "O2": (0j, ("ground", "crank")),
            "A": (a, ("crank", "coupler")),
            "B": (b, ("coupler", "rocker")),
            "O4": (10 + 0j, ("rocker", "ground")),
            "C": (c, ("coupler", "rod")),
            "D": (D, ("rod", "swing")),
            "O6": (FOOT, ("swing", "ground")),
        },
        **more,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("number", range(6))
def test_a12_the_typed_assemblies_are_assemblies(number: int) -> None:
    """A12. The oracle itself: coupler point where typed (half a last digit), both circuits occur."""
    assert abs(assembled(number)[2] - ASSEMBLIES[number][0]) < 1e-8


@pytest.mark.parametrize("way", ["as given", "times 25.4", "all at once"])
@pytest.mark.parametrize("anticlockwise", [True, False])
@pytest.mark.parametrize("number", range(6))
def test_a12_each_assembly_keeps_to_itself(number: int, anticlockwise: bool, way: str) -> None:
    """A12. Sweep from each of the six; every pose is that of pins tracked in steps of at most 0.4 % of the size.

    Tolerance 1e-8 (a tracked pin's 1e-12 of the size, times the gain towards a dead point). Trap: the first two are
    0.7 mm apart; the sign of the Jacobian's determinant doesn't tell all six apart.
    """
    sketch = stephenson(number, anticlockwise=anticlockwise, wanted_deg=12.0)
    reading = read(sketch, way, steps=61)
    assert reading.analysis.mobility == 1
    assert worst_pin_error(reading) < 1e-9
    tracker = PinTracker(sketch)
    sense = 1.0 if anticlockwise else -1.0
    reached = reading.analysis.opening.reached_deg
    found = {name: reading.places(sketch.pivots[name][1][0], sketch.pin(name)) for name in tracker.names}
    for k, opening in enumerate(reading.analysis.openings):
        if opening > reached - 1e-3 and reading.analysis.opening.ends == "dead point":
            break  # no road tells a place at the dead point better than with half of its digits
        tracked = tracker.to(sense * math.radians(float(opening)))
        for name, place in zip(tracker.names, tracked, strict=True):
            assert abs(found[name][k] - place) < 1e-8, (opening, name)


def test_a12_six_different_motions() -> None:
    """A12. A fraction of a degree on, the six are still six: no two C's within 0.1 mm."""
    ends = []
    for number in range(6):
        reading = read(stephenson(number, wanted_deg=0.05), steps=3)
        assert reading.analysis.opening.reached_deg > 0.0
        ends.append(reading.places("coupler", reading.sketch.pin("C"))[-1])
    apart = np.abs(np.subtract.outer(np.array(ends), np.array(ends)))[np.triu_indices(6, 1)]
    assert float(apart.min()) > 0.1


def test_a12_a_guess_from_another_assembly_is_no_guess() -> None:
    """A12. Each assembly analysed with each other's analysis as the first guess: it keeps to its own branch, to
    1e-9.
    """
    projects = [stephenson(number, wanted_deg=6.0).project() for number in range(6)]
    cold = [kinematics.analyse(project, steps=31) for project in projects]
    for number, project in enumerate(projects):
        for other in range(6):
            warm = kinematics.analyse(project, steps=31, near=cold[other])
            np.testing.assert_allclose(warm.openings, cold[number].openings, rtol=0, atol=1e-7)
            if cold[number].opening.ends == "wanted opening":
                np.testing.assert_allclose(warm.turns, cold[number].turns, rtol=0, atol=1e-9)
