"""Found is not yet good: a linkage made of two dyads has all five poses, perhaps not one after the other.

Sources: E. Filemon, Mech. Mach. Theory 7 (1972), and K. J. Waldron, J. Eng. Ind. 99 (1977), on order and branch defects
(both from memory). Check D6 of checks.md: each four-bar that the dyads of five poses make is swept by the program, from
the first pose on; it is good when the panel comes through the other four one by one, on that branch, no dead point
between. The other road: pins followed in small steps (oracles.py), which shares nothing with the sweep.
"""

from __future__ import annotations

import cmath
import math
from itertools import combinations

import numpy as np
import pytest

from kinematics.dyads import Poses, five_poses
from tests.outside import figures
from tests.outside.oracles import PinTracker, StuckError, circle_meets
from tests.outside.sketch import Sketch, read

NEAR = 1e-6  # mm: residuals of 1e-9, through dyads whose far ones are some hundred times as long as the panel moves

Rows = list[tuple[complex, float]]
Pair = tuple[complex, complex]

OPEN, CROSSED = 0, 1

# A1's coupler, by crank angles (degrees) and circuits; how many four-bars its dyads make, and how many of them are
# good, as told by tracked pins. On its open circuit it turns one way from 69° to 293° of the crank and back beyond.
CASES = {
    "one after the other": ((80, 120, 160, 200, 250), (OPEN,) * 5, 1, 1),
    "four dyads": ((140, 170, 200, 230, 275), (OPEN,) * 5, 6, 5),
    "four others": ((80, 95, 110, 275, 290), (OPEN,) * 5, 6, 4),
    "taken apart between": ((100, 160, 220, 120, 200), (CROSSED,) * 3 + (OPEN,) * 2, 1, 0),
    "past a dead point": ((80, 140, 200, 340, 320), (OPEN,) * 5, 6, 0),
    "out of order": ((80, 160, 120, 200, 250), (OPEN,) * 5, 1, 0),
}


def coupler_poses(cranks: tuple[int, ...], circuits: tuple[int, ...]) -> Rows:
    """Place of A and direction of AB at crank angles, by circles."""
    a, b, c, d = figures.NORTON
    rows = []
    for deg, circuit in zip(cranks, circuits, strict=True):
        pin = cmath.rect(a, math.radians(deg))
        end = circle_meets(pin, b, complex(d), c)[circuit]
        rows.append((pin, cmath.phase(end - pin)))
    return rows


def sketch_of(rows: Rows, one: Pair, other: Pair) -> Sketch:
    """The four-bar of two dyads, shut in the first pose, the moving body as its panel."""
    z, turn = rows[0]
    return Sketch(
        links=("ground", "first", "second", "panel"),
        panel="panel",
        pivots={
            "F1": (one[1], ("ground", "first")),
            "M1": (z + cmath.exp(1j * turn) * one[0], ("first", "panel")),
            "F2": (other[1], ("ground", "second")),
            "M2": (z + cmath.exp(1j * turn) * other[0], ("second", "panel")),
        },
        wanted_deg=math.degrees(max(t for _, t in rows) - turn),
    )


def by_the_program(sketch: Sketch, rows: Rows, moving: tuple[complex, complex], way: str) -> bool:
    """Whether the sweep brings the panel through the poses in order."""
    reading, last = read(sketch, way, steps=2), 0.0
    for z, turn in rows[1:]:
        opening = math.degrees(turn - rows[0][1])
        if not last < opening <= reading.analysis.opening.reached_deg + 1e-9:
            return False
        pose, last = reading.pose(opening), opening
        for pin, m in zip(("M1", "M2"), moving, strict=True):
            if abs(reading.place(pose, "panel", sketch.pin(pin)) - (z + cmath.exp(1j * turn) * m)) > NEAR:
                return False
    return True


def by_small_steps(sketch: Sketch, rows: Rows, moving: tuple[complex, complex]) -> bool:
    """The same by tracked pins."""
    tracker, last = PinTracker(sketch, stride=0.02), 0.0
    for z, turn in rows[1:]:
        if turn - rows[0][1] <= last:
            return False
        last = turn - rows[0][1]
        try:
            tracker.to(last)
        except StuckError:
            return False
        places = dict(zip(tracker.names, tracker.x[::2] + 1j * tracker.x[1::2] + tracker.base, strict=True))
        for pin, m in zip(("M1", "M2"), moving, strict=True):
            if abs(places[pin] - (z + cmath.exp(1j * turn) * m)) > NEAR:
                return False
    return True


def dyads_of(rows: Rows) -> tuple[Pair, ...]:
    """All dyads of five poses, by the program."""
    return five_poses(Poses(np.array([z for z, _ in rows]), np.array([turn for _, turn in rows]))).pairs()


def own(dyad: Pair) -> bool:
    """Whether a dyad is A1's crank or its rocker."""
    return min(abs(dyad[0]) + abs(dyad[1]), abs(dyad[0] - 120) + abs(dyad[1] - 100)) < NEAR


@pytest.mark.parametrize("way", ["as given", "all at once"])
@pytest.mark.parametrize("case", CASES)
def test_d6_the_sweep_tells_which_four_bars_are_good(case: str, way: str) -> None:
    """D6. As many as typed, the same as tracked pins tell, and A1 itself wherever its own poses come one by one.

    Trap: every one of them stands in all five poses, to 1e-9 mm, if it is put there by hand.
    """
    cranks, circuits, made, good = CASES[case]
    rows = coupler_poses(cranks, circuits)
    verdicts = []
    for one, other in combinations(dyads_of(rows), 2):
        sketch, moving = sketch_of(rows, one, other), (one[0], other[0])
        verdicts.append(by_the_program(sketch, rows, moving, way))
        if way == "as given":
            assert verdicts[-1] == by_small_steps(sketch, rows, moving), (one, other)
        if own(one) and own(other):
            assert verdicts[-1] == (good > 0)
    assert (len(verdicts), sum(verdicts)) == (made, good)


def test_d6_what_must_be_taken_apart_ends_at_a_dead_point_before() -> None:
    """D6. On its crossed circuit A1's coupler turns to −18.195° at most, and the fourth pose is at +21.96°.

    Crank and rocker are parallel there: the coupler closes a triangle with the ground, 100, and c − a = 40, so it lies
    at −asin(40·sin(acos 0.35)/120) = −18.194872339°; the first pose, by circles, at −60.104202293°. Half the last digit
    of both.
    """
    rows = coupler_poses(*CASES["taken apart between"][:2])
    sketch = sketch_of(rows, (0j, 0j), (120 + 0j, 100 + 0j))
    analysis = read(sketch).analysis
    assert analysis.opening.ends == "dead point"
    assert analysis.opening.reached_deg == pytest.approx(41.909329955, rel=0, abs=1e-9)
