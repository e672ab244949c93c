"""Four-bars as the textbook works them out: position, transmission angle, dead points.

Source: R. L. Norton, *Design of Machinery*, ch. 4 (Example 4-1 and § 4.10), § 3.3 (from memory); digits derivable,
recomputed.
Checks A1, A7, A8 of checks.md. The book measures angles from +x, anticlockwise, at the left end of each link.
"""

from __future__ import annotations

import cmath
import math

import pytest

from tests.outside import figures
from tests.outside.sketch import WAYS, Reading, Sketch, four_bar, read

# A1's seven typed decimals; a driven panel may carry 5e-8° of its own opening to the other links, at most fourfold.
A1_DEG = 1e-6
ENDS = {"crank": ("O2", "A"), "coupler": ("A", "B"), "rocker": ("O4", "B")}


def shut_angle(sketch: Sketch, link: str) -> float:
    """Angle of a link when shut, degrees, as the book measures it."""
    start, end = ENDS[link]
    return math.degrees(cmath.phase(sketch.pin(end) - sketch.pin(start)))


def angle_error(reading: Reading, opening: float, link: str, expected_deg: float) -> float:
    """Degrees between a link's angle at an opening and the typed one; whole turns don't count (−98.005 is 261.995)."""
    pose = reading.pose(opening)
    found = cmath.rect(1, math.radians(shut_angle(reading.sketch, link) + reading.turn_deg(pose, link)))
    return abs(math.degrees(cmath.phase(found / cmath.rect(1, math.radians(expected_deg)))))


@pytest.mark.parametrize("shut_crank_deg", [30.0, 52.0])
@pytest.mark.parametrize("panel", ["crank", "coupler", "rocker"])
@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_a1_both_circuits_driven_by_any_link(circuit: str, panel: str, shut_crank_deg: float) -> None:
    """A1. Shut with the crank at 30° or 52°; opened until the panel has the book's angle; all three angles are the
    book's.

    Traps: atan for atan2; circuits exchanged; the panel's turn taken for the crank's; the sense of opening.
    """
    typed = figures.NORTON_ANGLES[circuit]
    sketch = four_bar(figures.NORTON, shut_crank_deg, circuit == "crossed", panel=panel)
    to_open = math.remainder(typed[panel] - shut_angle(sketch, panel), 360.0)
    sketch = four_bar(
        figures.NORTON,
        shut_crank_deg,
        circuit == "crossed",
        panel=panel,
        anticlockwise=to_open > 0,
        wanted_deg=abs(to_open) + 0.3,
    )
    reading = read(sketch)
    assert reading.analysis.opening.ends == "wanted opening"
    for link, angle in typed.items():
        assert angle_error(reading, abs(to_open), link, angle) < A1_DEG, link


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_a1_lying_any_way(circuit: str, way: str) -> None:
    """A1, A3. Shut at 75°, opened clockwise by 35°: angles of the book, B where the circles meet (1e-9 mm residual, ×
    its gain of 2).
    """
    sketch = four_bar(figures.NORTON, 75.0, circuit == "crossed", anticlockwise=False, wanted_deg=60.0)
    reading = read(sketch, way)
    for link, angle in figures.NORTON_ANGLES[circuit].items():
        assert angle_error(reading, 35.0, link, angle) < A1_DEG, link
    pose = reading.pose(35.0)
    for link in ("coupler", "rocker"):
        assert abs(reading.place(pose, link, sketch.pin("B")) - figures.NORTON_B[circuit]) < 2e-9


@pytest.mark.parametrize("crossed", [False, True], ids=["open", "crossed"])
def test_a1_circuits_past_180_degrees(crossed: bool) -> None:
    """A1's trap: the circuits must not be exchanged where the crank passes 180°.

    Expected by the cosine rule in the triangle A–O4–B, with the crank at 200°: no arc tangent, no root of a quadratic.
    """
    sketch = four_bar(figures.NORTON, 160.0, crossed, wanted_deg=60.0)
    reading = read(sketch)
    span = math.sqrt(40**2 + 100**2 + 2 * 40 * 100 * math.cos(math.radians(20.0)))
    down = math.degrees(math.asin(40 * math.sin(math.radians(20.0)) / span))  # how far A–O4 points up, seen from O4
    at_o4 = math.degrees(math.acos((span**2 + 80**2 - 120**2) / (2 * span * 80)))
    rocker = 180.0 + down + at_o4 if crossed else 180.0 + down - at_o4
    assert angle_error(reading, 40.0, "rocker", rocker) < 1e-9


@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_a7_extremes_of_the_transmission_angle(circuit: str) -> None:
    """A7. cos μ = (b² + c² − (d ∓ a)²)/(2bc): 26.38432975° at θ2 = 0 and 86.41667830° at 180; between them μ rises.

    Source: Norton § 4.10; Alt 1932 (from memory). Tolerance: the typed eight decimals. Trap: a minimum that was only
    sampled is too large.
    """
    sketch = four_bar(figures.NORTON, 20.0, circuit == "crossed", anticlockwise=False, wanted_deg=60.0)
    reading = read(sketch)  # passes θ2 = 0 at 20°
    transmission = reading.analysis.transmission
    assert transmission is not None
    assert transmission.smallest_deg == pytest.approx(26.38432975, rel=0, abs=1e-8)
    assert transmission.at_deg == pytest.approx(
        20.0, rel=0, abs=1e-3
    )  # a smooth lowest place: √(1e-12 rad) is what is told


DEAD_POINTS = {  # A8: panel, sense → (lengths, crank when shut, opening to the dead point, crank angle there)
    "rocker, clockwise": (figures.NORTON, "rocker", False, 57.324880112 - 54.90036780, 24.14684800),
    "rocker, anticlockwise": (figures.NORTON, "rocker", True, 128.68218745 - 57.324880112, 231.31781255),
    "crank of 70/70/80/100, anticlockwise": ((70, 70, 80, 100), "crank", True, 82.87834946, 122.87834946),
    "crank of 70/70/80/100, clockwise": ((70, 70, 80, 100), "crank", False, 162.87834946, -122.87834946),
}


@pytest.mark.parametrize("way", ["as given", "all at once"])
@pytest.mark.parametrize("case", DEAD_POINTS)
def test_a8_dead_points(case: str, way: str) -> None:
    """A8. The sweep ends at the dead point within 1e-6° and names it; the crank stands where the links are in line.

    The crank's tolerance: near the dead point it turns with the square root of what is left, √(2·1e-6°) ≈ 0.01°.
    Trap: a step control on the residual alone stops 0.1° short or hops to the other branch.
    """
    lengths, panel, anticlockwise, opening, crank_deg = DEAD_POINTS[case]
    sketch = four_bar(lengths, 40.0, panel=panel, anticlockwise=anticlockwise, wanted_deg=175.0)
    reading = read(sketch, way)
    told = reading.analysis.opening
    assert told.ends == "dead point"
    assert told.reached_deg == pytest.approx(opening, rel=0, abs=1e-6)
    assert told.largest_deg == pytest.approx(opening, rel=0, abs=1e-6)
    assert reading.analysis.dead_point_deg == pytest.approx(opening, rel=0, abs=1e-6)
    assert float(reading.analysis.openings[-1]) == pytest.approx(opening, rel=0, abs=1e-6)
    assert angle_error(reading, told.reached_deg, "crank", crank_deg) < 0.02
    assert all(not check.ok for check in reading.analysis.checks if check.kind == "opening")


def test_a8_the_two_dead_points_are_the_swing() -> None:
    """A8. Swing of the rocker 73.78181965°, time ratio 1.355573330 from the crank's two places there."""
    there = [
        read(four_bar(figures.NORTON, 100.0, panel="rocker", anticlockwise=way, wanted_deg=120.0))
        for way in (False, True)
    ]
    swing = sum(reading.analysis.opening.largest_deg for reading in there)
    assert swing == pytest.approx(73.78181965, rel=0, abs=2e-6)
    cranks = [100.0 + reading.turn_deg(reading.pose(180.0), "crank") for reading in there]
    forward = (cranks[1] - cranks[0]) % 360.0
    assert forward / (360.0 - forward) == pytest.approx(1.355573330, rel=0, abs=1e-3)  # ± 0.02° of the crank each


@pytest.mark.parametrize("wanted_deg", [82.8, 82.878])
def test_a8_short_of_the_dead_point_nothing_has_hopped(wanted_deg: float) -> None:
    """A8. A wanted opening just short of the dead point is reached, on the same side, and the dead point is still
    told.
    """
    reading = read(four_bar((70, 70, 80, 100), 40.0, wanted_deg=wanted_deg))
    told = reading.analysis.opening
    assert (told.ends, told.reached_deg) == ("wanted opening", wanted_deg)
    assert told.largest_deg == pytest.approx(82.87834946, rel=0, abs=1e-6)
    a, b = (reading.places("coupler", reading.sketch.pin(pin)) for pin in "AB")
    sides = ((100.0 - a).conj() * (b - a)).imag
    assert (sides > 0).all()
