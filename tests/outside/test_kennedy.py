"""Velocity ratios and instant centres.

Source: the theorem of three centres (Aronhold 1872, Kennedy 1886; from memory); the figures are derivable.
Checks A4, A5 of checks.md, at A1's open pose (crank at 40°).
"""

from __future__ import annotations

import itertools
import math

import pytest

from tests.outside import figures
from tests.outside.sketch import Reading, four_bar, read

RATIOS = {"coupler": -0.164836577, "rocker": 0.279919410}  # ω3/ω2, ω4/ω2, typed


def norton(way: str = "as given") -> Reading:
    """Shut at 25°: the book's pose is at an opening of 15°."""
    return read(four_bar(figures.NORTON, 25.0, wanted_deg=40.0), way)


def slope(reading: Reading, link: str, h_deg: float) -> float:
    """Central difference of a link's turn against the crank's, at the book's pose."""
    ahead, behind = (reading.turn_deg(reading.pose(15.0 + h), link) for h in (h_deg, -h_deg))
    return (ahead - behind) / (2 * h_deg)


@pytest.mark.parametrize("link", RATIOS)
def test_a4_velocity_ratios_by_differences(link: str) -> None:
    """A4. The error of a central difference falls with h²: halving h quarters it, ±10 %; poses between are exact."""
    reading = norton()
    errors = [slope(reading, link, h) - RATIOS[link] for h in (4.0, 2.0, 1.0, 0.5)]
    for wide, narrow in itertools.pairwise(errors):
        assert wide / narrow == pytest.approx(4.0, rel=0.1)
    h = math.radians(0.02)
    # (1e-13 rad of a pose)/h and h²·|third derivative|/6 are both below 1e-7
    assert slope(reading, link, math.degrees(h)) == pytest.approx(RATIOS[link], rel=0, abs=1e-7)


def test_a5_the_two_roads_of_the_figure_agree() -> None:
    """A5. ω4/ω2 = I24.x/(I24.x − 100) with I24 = (−38.873344658, 0): the ratio of A4 by another road."""
    assert pytest.approx(RATIOS["rocker"], rel=0, abs=1e-9) == -38.873344658 / (-38.873344658 - 100)


def test_a5_the_coupler_turns_about_its_instant_centre() -> None:
    """A5. I13 = (216.533637130, 181.693293053): there the coupler stands still, to the second order of a small step.

    A point at I13 moves by less than (turn)²·1000 mm in a step; a point 1 mm away moves by the turn itself.
    """
    reading = norton()
    here, step = reading.pose(15.0), reading.pose(15.0 + 1e-3)
    turn = math.radians(abs(reading.turn_deg(step, "coupler") - reading.turn_deg(here, "coupler")))

    def moved(centre: complex) -> float:
        # the shut point of the coupler that lies there now
        k = reading.column("coupler")
        shut = (centre - complex(here.shifts[k])) / complex(math.cos(here.turns[k]), math.sin(here.turns[k]))
        return abs(reading.place(step, "coupler", shut) - centre)

    centre = 216.533637130 + 181.693293053j
    assert moved(centre) < 0.01 * turn
    assert moved(centre + 1.0) > 0.9 * turn
