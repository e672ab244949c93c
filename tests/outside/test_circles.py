"""Two circles meet in two points: the oracle for every four-bar, whichever link drives.

Source: elementary geometry; check A3 of checks.md. The circuit is the side of the line A–O4 on which B lies, not "the
higher y".
"""

from __future__ import annotations

import cmath
import math
import random
from dataclasses import replace

import numpy as np
import pytest

from tests.outside.oracles import closing, side
from tests.outside.sketch import Reading, Sketch, four_bar, read, worst_pin_error


def random_four_bars(count: int) -> list[Sketch]:
    """Four-bars of any kind (Grashof or not), both circuits, any crank angle: what assembles, from one seed."""
    dice = random.Random(1909)
    found: list[Sketch] = []
    while len(found) < count:
        lengths = tuple(dice.uniform(25.0, 160.0) for _ in range(4))
        try:
            sketch = four_bar(lengths, dice.uniform(-180.0, 180.0), dice.random() < 0.5)  # type: ignore[arg-type]
        except ValueError:  # the circles don't meet
            continue
        found.append(replace(sketch, anticlockwise=dice.random() < 0.5, wanted_deg=dice.uniform(20.0, 170.0)))
    return found


def drawn(sketch: Sketch, panel: str, turn: float) -> tuple[dict[str, complex], float]:
    """Pins by circles when the panel has turned, and the sine of the angle in which the circles cut (their
    conditioning).
    """
    o2, a, b, o4 = (sketch.pin(name) for name in ("O2", "A", "B", "O4"))
    turned = cmath.exp(1j * turn)
    if panel == "crank":
        a_now = o2 + (a - o2) * turned
        b_now = closing(a_now, abs(b - a), o4, abs(b - o4), (b, a, o4))
        cut = side(b_now, a_now, o4) / (abs(b_now - a_now) * abs(b_now - o4))
    elif panel == "rocker":
        b_now = o4 + (b - o4) * turned
        a_now = closing(o2, abs(a - o2), b_now, abs(b - a), (a, o2, b))
        cut = side(a_now, o2, b_now) / (abs(a_now - o2) * abs(a_now - b_now))
    else:  # the coupler keeps its direction, so A also lies on the circle about O4 shifted back by A–B
        arm = (b - a) * turned
        a_now = closing(o2, abs(a - o2), o4 - arm, abs(b - o4), (a, o2, o4 - (b - a)))
        b_now = a_now + arm
        cut = side(a_now, o2, o4 - arm) / (abs(a - o2) * abs(b - o4))
    return {"A": a_now, "B": b_now}, abs(cut)


def worst_against_circles(reading: Reading, panel: str) -> float:
    """Largest distance from the circles' pins, each weighed by the sine of the angle in which the circles cut."""
    worst = 0.0
    turns = np.radians(reading.turns_deg(panel))
    claims = {("A", "crank"), ("A", "coupler"), ("B", "coupler"), ("B", "rocker")}
    found = {(pin, link): reading.places(link, reading.sketch.pin(pin)) for pin, link in claims}
    for k, turn in enumerate(turns):
        try:
            pins, cut = drawn(reading.sketch, panel, float(turn))
        except ZeroDivisionError:
            continue
        if cut < 1e-5:  # at a dead point the circles touch: neither road tells a place there better than √eps
            continue
        for pin, link in claims:
            worst = max(worst, abs(found[pin, link][k] - pins[pin]) * min(1.0, cut))
    return worst


@pytest.mark.parametrize("panel", ["crank", "rocker", "coupler"])
def test_a3_every_pose_of_random_four_bars(panel: str) -> None:
    """A3. 1e-9 mm at every reported pose; where the circles cut in a flat angle the same residual is a longer way (÷
    its sine).
    """
    for number, sketch in enumerate(random_four_bars(14)):
        reading = read(replace(sketch, panel=panel), steps=61)
        assert len(reading.analysis.openings) in (1, 61)
        assert worst_against_circles(reading, panel) < 1e-9, (number, sketch)
        assert worst_pin_error(reading) < 1e-9, (number, sketch)


@pytest.mark.parametrize("way", ["turned 37°", "times 25.4", "mirrored", "reordered", "all at once"])
def test_a3_lying_any_way(way: str) -> None:
    """A3, A22. The same, laid another way; the sketch's frame has 25.4 times as fine a residual then."""
    for number, sketch in enumerate(random_four_bars(4)):
        assert worst_against_circles(read(sketch, way, steps=61), "crank") < 1e-9, (number, sketch)


@pytest.mark.parametrize("panel", ["crank", "rocker", "coupler"])
def test_a3_sweeps_end_only_where_the_circles_part(panel: str) -> None:
    """A8. A sweep that ends early ends where the circles touch: just before they meet, 1e-5 rad beyond they don't."""
    ended = 0
    for number, sketch in enumerate(random_four_bars(14)):
        reading = read(replace(sketch, panel=panel, wanted_deg=180.0), steps=11)
        told = reading.analysis.opening
        if told.ends != "dead point" or told.reached_deg >= 180.0 - 1e-3:
            continue
        ended += 1
        way = 1 if sketch.anticlockwise else -1
        _, cut = drawn(reading.sketch, panel, way * (math.radians(told.reached_deg) - 1e-5))
        assert 0 < cut < 0.1, (number, sketch)
        _, cut = drawn(reading.sketch, panel, way * (math.radians(told.reached_deg) + 1e-5))
        assert cut < 1e-7, (number, sketch)  # closing() lets circles that part touch: no area left
    assert ended >= 4
