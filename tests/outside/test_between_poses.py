"""Gaps whose smallest value lies between poses, and contacts that sampling steps over.

Source: plane geometry, figures typed from closed forms; checks B4, B5, B6, B7 of checks.md.
"""

from __future__ import annotations

import cmath
import math
import random
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from tests.outside.oracles import turned
from tests.outside.sketch import WAYS, Line, Reading, Sketch, read, reported

if TYPE_CHECKING:
    from pathlib import Path

CERTIFIED = 0.01  # mm: what the program promises for a smallest gap
TOUCH_DEG = 0.01  # degrees: what it promises for contact


def lid(outlines: dict[str, Line], wanted_deg: float, anticlockwise: bool = True, pivot: complex = 0j) -> Sketch:
    """A panel on a single pivot."""
    return Sketch(
        links=("body", "lid"),
        panel="lid",
        pivots={"hinge": (pivot, ("body", "lid"))},
        outlines=outlines,
        wanted_deg=wanted_deg,
        anticlockwise=anticlockwise,
    )


SQUARE = Line("lid", (50 + 50j, -50 + 50j, -50 - 50j, 50 - 50j), closed=True)
WALL = Line("body", (75 - 300j, 75 + 300j))


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("anticlockwise", [True, False])
@pytest.mark.parametrize(
    ("wanted", "smallest", "at"), [(10.0, 17.077203466, 10.0), (90.0, 4.289321881, 45.0), (70.0, 4.289321881, 45.0)]
)
def test_b4_square_corner_past_a_wall(wanted: float, smallest: float, at: float, anticlockwise: bool, way: str) -> None:
    """B4. 75 − 50√2·cos(45° − t): 25 shut, 17.077203466 at 10°, 75 − 50√2 at 45°. Asked in 10° steps: 4.558397360.

    Even with 10 poses. Typed nine decimals: the smallest gap is found exactly, its opening within 0.01°.
    """
    reading = read(lid({"square": SQUARE, "wall": WALL}, wanted, anticlockwise), way, steps=10)
    assert reading.shut_gap("square", "wall") == pytest.approx(25.0, rel=0, abs=1e-9)
    assert reading.smallest("square", "wall") == pytest.approx(smallest, rel=0, abs=1e-6)
    assert reading.gap("square", "wall").at_deg == pytest.approx(at, rel=0, abs=0.01)


def test_b4_what_ten_degree_steps_read() -> None:
    """B4's trap, typed: the best of the poses 0, 10, …, 90 reads 4.558397360; so the test above tells them apart."""
    wall = shapely.LineString([(75, -300), (75, 300)])
    corners = np.array(SQUARE.points)
    best = min(
        shapely.Polygon([(z.real, z.imag) for z in turned(corners, math.radians(t))]).distance(wall)
        for t in range(0, 91, 10)
    )
    assert best == pytest.approx(4.558397360, rel=0, abs=1e-9)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("steps", [2, 10, 91])
def test_b5_pythagorean_corner(steps: int, way: str) -> None:
    """B5. Corner (−30, −40), wall x = −52: shut 22; least exactly 2 at atan(4/3) = 53.130102354°, clockwise.

    Sampled at 1° it reads 2.000129, at 5° 2.026625. Tolerance 1e-6 mm and 0.01°, whatever number of poses is reported.
    """
    corner = Line("lid", (-30 - 40j, 20 - 40j, 20 + 5j))
    wall = Line("body", (-52 - 100j, -52 + 100j))
    reading = read(lid({"corner": corner, "wall": wall}, 85.0, anticlockwise=False), way, steps=steps)
    assert reading.shut_gap("corner", "wall") == pytest.approx(22.0, rel=0, abs=1e-9)
    assert reading.smallest("corner", "wall") == pytest.approx(2.0, rel=0, abs=1e-6)
    gap = reading.gap("corner", "wall")
    assert gap.at_deg == pytest.approx(53.130102354, rel=0, abs=0.01)
    assert gap.touching_deg == ()
    assert gap.at_points is not None
    on_corner, on_wall = (
        reading.sketch.unseen(complex(*dict(zip(gap.between, gap.at_points, strict=True))[name]))
        for name in ("corner", "wall")
    )
    assert abs(on_corner - (-50)) < 0.02  # 0.01° at radius 50 is 0.009 mm along the path
    assert abs(on_wall - (-52)) < 0.02


@pytest.mark.parametrize("way", ["as given", "times 25.4", "all at once"])
@pytest.mark.parametrize(("after_deg", "smallest", "at"), [(0.0, 2.0, 53.130102354), (60.0, 2.35860, 60.0)])
def test_b5_a_want_from_an_opening_on(after_deg: float, smallest: float, at: float, way: str) -> None:
    """B5, format.md. From 60° on the least gap is 52 − 50·cos(60° − 53.130102354°) = 2.35898…, at 60° itself.

    50·cos(6.869897646°) = 49.641016151 (typed from a pocket calculator's ten digits).
    """
    expected = 2.0 if after_deg == 0.0 else 52.0 - 49.641016151
    assert smallest == pytest.approx(expected, abs=5e-4)
    corner = Line("lid", (-30 - 40j, 20 - 40j, 20 + 5j))
    wall = Line("body", (-52 - 100j, -52 + 100j))
    sketch = lid({"corner": corner, "wall": wall}, 85.0, anticlockwise=False)
    reading = read(replace(sketch, gaps=(("wall", "corner", 2.2, after_deg),)), way)
    assert reading.smallest("corner", "wall") == pytest.approx(expected, rel=0, abs=1e-6)
    gap = reading.gap("corner", "wall")
    assert gap.at_deg == pytest.approx(at, rel=0, abs=0.01)
    assert gap.ok is (after_deg == 60.0)
    assert gap.between == ("wall", "corner")  # the builder's order


# ------------------------------------------------------------------------------------------------------------
# tunnelling

PIN = cmath.rect(80.0, math.radians(10.5))
TOUCHING = (10.285140, 10.714860)  # degrees: 10.5 ∓ asin(0.3/80), typed


def pin_on(link: str, at: complex) -> Line:
    """A round pin of radius 0.3: a point with a pen."""
    return Line(link, (at, at), half_width=0.3)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("steps", [2, 91])
@pytest.mark.parametrize("anticlockwise", [True, False])
def test_b6_a_thin_edge_runs_through_a_pin(anticlockwise: bool, steps: int, way: str) -> None:
    """B6. Contact from 10.285140° to 10.714860°; at whole degrees the gap reads +0.398122840. Both ways round."""
    pin = PIN if anticlockwise else PIN.conjugate()
    sketch = lid({"edge": Line("lid", (0j, 100 + 0j)), "pin": pin_on("body", pin)}, 90.0, anticlockwise)
    reading = read(sketch, way, steps=steps)
    assert reading.smallest("edge", "pin") == 0.0
    assert_touching(reading, "edge", "pin", [TOUCHING])


def assert_touching(reading: Reading, one: str, other: str, ranges: list[tuple[float, float]]) -> None:
    found = reading.gap(one, other).touching_deg
    assert len(found) == len(ranges), found
    for (start, end), (typed_start, typed_end) in zip(found, ranges, strict=True):
        assert start == pytest.approx(typed_start, rel=0, abs=TOUCH_DEG)
        assert end == pytest.approx(typed_end, rel=0, abs=TOUCH_DEG)


def test_b6_what_whole_degrees_read() -> None:
    """B6's trap, typed: +0.398122840."""
    edge = np.array([0j, 100 + 0j])
    pin = shapely.Point(PIN.real, PIN.imag)
    best = min(
        shapely.LineString([(z.real, z.imag) for z in turned(edge, math.radians(t))]).distance(pin) - 0.3
        for t in range(91)
    )
    assert best == pytest.approx(0.398122840, rel=0, abs=1e-9)


@pytest.mark.parametrize("way", ["as given", "turned 37°", "times 25.4", "mirrored", "all at once"])
def test_b6_the_pin_on_the_panel(way: str) -> None:
    """B6. The other body moves: the pin swings through the edge, which stands still."""
    edge = Line("body", (0j, 100 * cmath.rect(1, math.radians(10.5))))
    reading = read(lid({"edge": edge, "pin": pin_on("lid", 80 + 0j)}, 90.0), way, steps=91)
    assert reading.smallest("edge", "pin") == 0.0
    assert_touching(reading, "edge", "pin", [TOUCHING])


@pytest.mark.parametrize("way", ["as given", "turned 37°", "times 25.4", "mirrored", "reordered", "all at once"])
def test_b6_both_bodies_move(way: str) -> None:
    """B6. Parallelogram with cranks of 50: the edge turns with the crank, the pin shifts with the coupler.

    In the crank's frame the pin's height over the edge is 80·sin(10.5° − t), as above, so the same angles hold.
    """
    crank = cmath.rect(50.0, math.radians(60.0))
    level = 1j * crank.imag
    sketch = Sketch(
        links=("ground", "crank", "coupler", "rocker"),
        panel="crank",
        pivots={
            "O2": (0j, ("ground", "crank")),
            "A": (crank, ("crank", "coupler")),
            "B": (100 + crank, ("coupler", "rocker")),
            "O4": (100 + 0j, ("rocker", "ground")),
        },
        outlines={"edge": Line("crank", (level, level + 150)), "pin": pin_on("coupler", crank + PIN)},
        gaps=(("edge", "pin", 1.0, 0.0),),
        wanted_deg=90.0,
    )
    reading = read(sketch, way, steps=91)
    assert reading.smallest("edge", "pin") == 0.0
    assert reading.gap("edge", "pin").ok is False
    assert_touching(reading, "edge", "pin", [TOUCHING])


@pytest.mark.parametrize("way", ["as given", "all at once"])
def test_b6_two_passes_are_two_ranges(way: str) -> None:
    """B6. Two pins on the way: two contacts, ascending, disjoint; the second at 47° with radius 0.5 at 60 mm.

    47 ∓ asin(0.5/60) = 46.522521° and 47.477479°.
    """
    second = cmath.rect(60.0, math.radians(47.0))
    both = Line("lid", (0j, 100 + 0j))
    sketch = lid(
        {"edge": both, "one": pin_on("body", PIN), "two": Line("body", (second, second), half_width=0.5)}, 90.0
    )
    reading = read(sketch, way, steps=10)
    assert_touching(reading, "edge", "one", [TOUCHING])
    assert_touching(reading, "edge", "two", [(46.522521, 47.477479)])
    there = cmath.rect(1.0, math.radians(30.0))
    bent = replace(
        sketch, outlines={"edge": Line("lid", (100 * there.conjugate(), 0j, 100 + 0j)), "pin": pin_on("body", PIN)}
    )
    assert_touching(read(bent, way, steps=10), "edge", "pin", [TOUCHING, (40.285140, 40.714860)])


# --------------------------------------------------------------------------------------------------------- certificates


def bracket(body: shapely.Geometry, points: np.ndarray, closed: bool, wanted: float) -> tuple[float, float]:
    """Bounds for the smallest gap of a lid on a pivot in the origin, by B7's certificate with arcs as path lengths.

    Intervals are halved while their bound (g_i + g_{i+1} − path)/2 leaves more than 0.005 mm below the best gap found.
    """
    reach = float(np.abs(points).max())

    def gap(t: float) -> float:
        line = [(z.real, z.imag) for z in turned(points, t)]
        return float(shapely.distance(body, shapely.Polygon(line) if closed else shapely.LineString(line)))

    ts = list(np.linspace(0.0, math.radians(wanted), 60))
    gaps = [gap(t) for t in ts]
    best, proven = min(gaps), math.inf
    stack = [(ts[k], gaps[k], ts[k + 1], gaps[k + 1]) for k in range(len(ts) - 1)]
    while stack:
        t0, g0, t1, g1 = stack.pop()
        bound = (g0 + g1 - reach * (t1 - t0)) / 2
        if bound >= best - 0.005:
            proven = min(proven, max(bound, 0.0))
            continue
        middle = (t0 + t1) / 2
        g = gap(middle)
        best = min(best, g)
        stack += [(t0, g0, middle, g), (middle, g, t1, g1)]
    return proven, best


def test_b7_the_smallest_gap_lies_in_a_bracket_of_our_own() -> None:
    """B7. Random outlines: proven from below by displacement bounds, from above by GEOS; the program's answer lies
    between.
    """
    dice = random.Random(77)
    clear = 0
    for number in range(14):
        ring = np.array(
            [cmath.rect(dice.uniform(20, 55), 2 * math.pi * k / 9 + dice.uniform(-0.3, 0.3)) for k in range(9)]
        )
        closed = number % 2 == 0
        points = ring + complex(dice.uniform(-40, 40), dice.uniform(-40, 40))
        rail = np.cumsum([complex(dice.uniform(4, 30), dice.uniform(-22, 22)) for _ in range(8)]) + complex(-70, 88)
        body = shapely.LineString([(z.real, z.imag) for z in rail])
        wanted = dice.uniform(40, 150)
        low, high = bracket(body, points, closed, wanted)
        sketch = lid({"rail": Line("body", tuple(rail)), "skin": Line("lid", tuple(points), closed)}, wanted)
        smallest = read(sketch, steps=2).smallest("rail", "skin")
        assert low - CERTIFIED <= smallest <= high + 1e-9, number
        clear += smallest > 0
    assert clear >= 5


def test_b7_the_bound_never_exceeds_the_truth() -> None:
    """B7. What is reported as smallest is never more than the true least gap of B4 and B5 (+1e-9), nor less by over
    0.01.
    """
    for sketch, truth in (
        (lid({"a": SQUARE, "b": WALL}, 70.0), 4.289321881),
        (lid({"a": Line("lid", (-30 - 40j, 20 - 40j)), "b": Line("body", (-52 - 100j, -52 + 100j))}, 85.0, False), 2.0),
    ):
        smallest = read(sketch, steps=3).smallest("a", "b")
        assert truth - CERTIFIED <= smallest <= truth + 1e-9


# --------------------------------------------------------------------------------------------------- the command line


@pytest.mark.parametrize("steps", ["2", "91"])
def test_b5_b6_by_the_command_line(steps: str, tmp_path: Path) -> None:
    """B5, B6, format.md. The corner and the pin in one file, mirrored and ×25.4; `report --json` whatever N is.

    The file's gap first, in the builder's order; then the panel–body pairs nobody asked for, without want and verdict.
    """
    sketch = lid(
        {
            "corner": Line("lid", (-30 - 40j, 20 - 40j, 20 + 5j)),
            "wall": Line("body", (-52 - 100j, -52 + 100j)),
            "edge": Line("lid", (0j, 100 + 0j)),
            "pin": pin_on("body", PIN.conjugate()),
        },
        85.0,
        anticlockwise=False,
    )
    sketch = replace(sketch, gaps=(("wall", "corner", 2.5, 0.0),), factor=25.4 + 0j, mirrored=True, offset=40 - 9j)
    status, report = reported(sketch, tmp_path, "--steps", steps)
    assert status == 1  # the want of 2.5 falls short
    assert len(report["poses"]) == int(steps)
    first, *others = report["gaps"]
    assert first["between"] == ["wall", "corner"]
    assert first["smallest"] == pytest.approx(2.0 * 25.4, rel=0, abs=1e-6)
    assert first["shut"] == pytest.approx(22.0 * 25.4, rel=0, abs=1e-9)
    assert first["at_deg"] == pytest.approx(53.130102354, rel=0, abs=0.01)
    assert (first["at_least"], first["ok"], first["touching_deg"]) == (2.5 * 25.4, False, [])
    on_wall, on_corner = (sketch.unseen(complex(*point)) for point in first["at_points"])
    assert abs(on_wall - (-52)) < 0.02
    assert abs(on_corner - (-50)) < 0.02
    assert {frozenset(gap["between"]) for gap in others} == {
        frozenset(pair) for pair in (("edge", "wall"), ("corner", "pin"), ("edge", "pin"))
    }
    assert all(gap["at_least"] is None and gap["ok"] is None for gap in others)
    (edge_pin,) = [gap for gap in others if set(gap["between"]) == {"edge", "pin"}]
    assert edge_pin["smallest"] == 0
    ((start, end),) = edge_pin["touching_deg"]
    assert start == pytest.approx(TOUCHING[0], rel=0, abs=TOUCH_DEG)
    assert end == pytest.approx(TOUCHING[1], rel=0, abs=TOUCH_DEG)
    assert [check["ok"] for check in report["checks"]].count(False) == 1
