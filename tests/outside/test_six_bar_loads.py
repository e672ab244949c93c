"""A six-bar under load, by fifteen equations of equilibrium written here: C18 of checks.md (and C2 for the hand).

Five moving links, three equations each; fourteen components of seven pins and the hand. Nothing is shared with the
program: no loops, no multipliers, no virtual work. All derivable.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from tests.outside import figures
from tests.outside.loaded import pull, tell, weight, with_loads

PINS = {  # pin → the two links on it; the force is on the second
    "P1": ("ground", "crank"),
    "P2": ("ground", "rocker"),
    "P3": ("crank", "coupler"),
    "P4": ("rocker", "coupler"),
    "P5": ("coupler", "arm"),
    "P6": ("rocker", "panel"),
    "P7": ("arm", "panel"),
}
G0, H0 = 250 + 140j, 400 + 120j
# crank → panel's turn (deg), G, hand up (N), pin → force on its second link (N); P1's on the crank is P3's.
TYPED = {
    0: (
        0.0,
        G0,
        -514.285714286,
        {
            "P3": -894.409938 - 2683.229814j,
            "P4": -1677.018634 + 1826.086957j,
            "P6": 2571.428571 + 1571.428571j,
            "P7": -2571.428571 - 857.142857j,
        },
    ),
    20: (
        -6.501781034,
        222.754331618 + 141.055236153j,
        60.780903,
        {
            "P3": 4.856542 - 177.751475j,
            "P4": -145.051845 + 93.358102j,
            "P6": 140.195303 + 223.612470j,
            "P7": -140.195303 - 84.393373j,
        },
    ),
    40: (
        -17.485584396,
        193.599499536 + 118.220836722j,
        105.000785,
        {
            "P3": -16.863447 + 42.668227j,
            "P4": 45.222815 - 20.523187j,
            "P6": -28.359368 + 72.854175j,
            "P7": 28.359368 + 22.145040j,
        },
    ),
}
# The hand typed to 5e-7 N moves the pins by up to fivefold; they are typed to 5e-7 themselves.
N_TYPED = 5e-6


def solve(places: dict[str, complex], at: complex, grip: complex, way: complex) -> tuple[float, dict[str, complex]]:
    """The hand's push along `way` and the force of every pin on its second link, under 200 N at `at`."""
    links = ("crank", "rocker", "coupler", "arm", "panel")
    matrix, right = np.zeros((15, 15)), np.zeros(15)

    def add(link: str, column: int, place: complex, way: complex, sign: float) -> None:
        row = 3 * links.index(link)
        matrix[row : row + 3, column] += sign * np.array([way.real, way.imag, (place.conjugate() * way).imag])

    for k, (pin, (first, second)) in enumerate(PINS.items()):
        for part, unit in enumerate((1 + 0j, 1j)):
            add(second, 2 * k + part, places[pin], unit, 1.0)
            if first != "ground":
                add(first, 2 * k + part, places[pin], unit, -1.0)
    add("panel", 14, grip, way, 1.0)
    right[12:] = [0.0, 200.0, 200.0 * at.real]
    found = np.linalg.solve(matrix, right)
    return float(found[14]), {pin: complex(found[2 * k], found[2 * k + 1]) for k, pin in enumerate(PINS)}


def test_c18_the_fifteen_equations_give_the_typed_forces() -> None:
    """C18. When shut, from typed places alone: the oracle itself is right."""
    sketch = figures.six_bar()
    hand, pins = solve({pin: sketch.pin(pin) for pin in PINS}, G0, H0, 1j)
    assert hand == pytest.approx(-3600.0 / 7.0, rel=1e-12)
    for pin, force in TYPED[0][3].items():
        assert abs(pins[pin] - force) < 1e-6
    assert abs(pins["P2"]) == pytest.approx(3513.272107, abs=1e-6)
    assert abs(pins["P1"]) == pytest.approx(2828.372566, abs=1e-6)


@pytest.mark.parametrize("crank", TYPED)
def test_c18_seven_pins_under_an_upright_hand(crank: int) -> None:
    """C18. Every component on the link named; the hand along its own path then has nothing left to do.

    Trap: action for reaction, which passes every check of magnitudes.
    """
    turn, g, hand, typed = TYPED[crank]
    sketch = figures.six_bar(anticlockwise=False, wanted_deg=max(-turn, 1.0))
    grip = g + cmath.exp(1j * math.radians(turn)) * (H0 - G0)
    load = weight("panel", 200.0, G0)
    project = with_loads(sketch, load, pull("hand", "ground", "panel", H0, grip, hand * 1j), handle=("panel", H0))
    told = tell(project)
    pose = 0 if crank == 0 else 1
    assert abs(told.loads.effort[pose]) < N_TYPED
    for pin, force in typed.items():
        assert abs(told.on(PINS[pin][1], pin, pose) - force) < N_TYPED, pin
        assert abs(told.on(PINS[pin][0], pin, pose) + force) < N_TYPED, pin
    assert abs(told.on("crank", "P1", pose) - typed["P3"]) < N_TYPED
    assert abs(told.on("rocker", "P2", pose) - (1j * (200.0 - hand) - typed["P3"])) < N_TYPED


def test_c18_every_pose_with_the_hand_along_its_path() -> None:
    """C18, C2. The sweep's poses, the hand along its path by fine differences; effort and pins within 1e-6."""
    sketch = figures.six_bar(anticlockwise=False, wanted_deg=15.0)
    told = tell(with_loads(sketch, weight("panel", 200.0, G0), handle=("panel", H0), hinges=2), steps=16)
    at, grip = told.places("panel", G0), told.places("panel", H0)
    for pose, opening in enumerate(told.analysis.openings.tolist()):
        near = [told.analysis.pose(min(max(opening + step, 0.0), 15.0)) for step in (-1e-4, 1e-4)]
        column = told.analysis.links.index("panel")
        ends = [complex(*each.place(column, (H0.real, H0.imag))) for each in near]
        way = (ends[1] - ends[0]) / abs(ends[1] - ends[0])
        places = {pin: told.places(links[1], sketch.pin(pin))[pose] for pin, links in PINS.items()}
        push, pins = solve(places, at[pose], grip[pose], way)
        assert told.loads.effort[pose] == pytest.approx(push, rel=1e-5, abs=1e-4)
        for pin, force in pins.items():
            assert told.pin(pin, pose) == pytest.approx(abs(force) / 2.0, rel=1e-5, abs=1e-4), pin
