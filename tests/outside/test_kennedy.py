"""Velocity ratios and instant centres.

Source: the theorem of three centres (Aronhold 1872, Kennedy 1886; from memory); the figures are derivable.
Checks A4, A5 of checks.md, at A1's open pose (crank at 40°). Their table prints the ordinate of I13 as 181.693293053;
its
own abscissa times tan 40° is 181.693295053, which is typed here.
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
    """A5. I13 = (216.533637130, 181.693295053): there the coupler stands still, to the second order of a small step.

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

    centre = 216.533637130 + 181.693295053j
    assert moved(centre) < 0.01 * turn
    assert moved(centre + 1.0) > 0.9 * turn


@pytest.mark.parametrize("way", ["as given", "turned 37°", "times 25.4", "mirrored", "shifted", "all at once"])
def test_a4_velocity_ratios_of_the_program(way: str) -> None:
    """A4. The program's own rates at the book's pose, to the typed nine decimals: by rad of opening, which is the
    crank's.
    """
    reading = norton(way)
    rates = reading.analysis.rates(reading.pose(15.0))
    for link, ratio in {**RATIOS, "crank": 1.0, "ground": 0.0}.items():
        # anticlockwise in the sketch; mirrored, both the crank and the others change their sense
        found = float(rates.turns[0, reading.column(link)]) * reading.sketch.turned_over
        opening = 1.0 if reading.sketch.opens == "anticlockwise" else -1.0
        assert found * opening * reading.sketch.turned_over == pytest.approx(ratio, rel=0, abs=1e-8), link


CENTRES = {("crank", "ground"): 0j, ("crank", "coupler"): None, ("coupler", "ground"): 216.533637130 + 181.693295053j,
           ("crank", "rocker"): -38.873344658 + 0j, ("rocker", "ground"): 100 + 0j}  # fmt: skip


@pytest.mark.parametrize("way", ["as given", "turned 37°", "times 25.4", "mirrored", "shifted", "all at once"])
@pytest.mark.parametrize("pair", [pair for pair, centre in CENTRES.items() if centre is not None], ids="–".join)
def test_a5_instant_centres_of_the_program(pair: tuple[str, str], way: str) -> None:
    """A5. I13 and I24 as typed (nine decimals), the pins where they are; either order."""
    reading = norton(way)
    typed = CENTRES[pair]
    assert typed is not None
    for one, other in (pair, pair[::-1]):
        centre = reading.analysis.instant_centre(reading.pose(15.0), one, other)
        assert centre is not None
        assert abs(reading.sketch.unseen(complex(*centre)) - typed) < 1e-7


@pytest.mark.parametrize("opening", [0.0, 21.7, 65.9])
def test_a5_three_centres_in_line_for_all_triples_of_a_six_bar(opening: float) -> None:
    """A5. Of any three links the three centres lie in line: |cross product| ≤ 1e-9 × the product of two sides."""
    reading = read(figures.launch_hatch())
    pose = reading.pose(opening)
    centres = {}
    for one, other in itertools.combinations(reading.sketch.links, 2):
        centre = reading.analysis.instant_centre(pose, one, other)
        assert centre is not None  # none of them is at infinity here
        centres[frozenset((one, other))] = complex(*centre)
    assert len(centres) == 15  # 6·5/2
    for triple in itertools.combinations(reading.sketch.links, 3):
        a, b, c = (centres[frozenset(pair)] for pair in itertools.combinations(triple, 2))
        sides = [b - a, c - a, c - b]
        longest = sorted(abs(side) for side in sides)[1:]
        assert abs((sides[0].conjugate() * sides[1]).imag) <= 1e-9 * longest[0] * longest[1], triple


def test_a5_a_centre_at_infinity_is_said_so() -> None:
    """A5's trap: the coupler of a parallelogram shifts without turning; there is no centre, and no 1e17."""
    top = complex(25.0, 43.30127018922193)
    sketch = four_bar((50, 100, 50, 100), 60.0, wanted_deg=40.0)
    assert abs(sketch.pin("B") - (100 + top)) < 1e-12
    reading = read(sketch)
    for opening in (0.0, 20.0):
        assert reading.analysis.instant_centre(reading.pose(opening), "coupler", "ground") is None
