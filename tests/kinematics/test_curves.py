"""Arcs, smooth curves and rounded corners: they go where they must, and no chord stands off too far."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from kinematics.curves import SAGITTA, arc, chords_of, fillet, smooth
from kinematics.errors import OutlineError

TURNS = st.floats(-math.pi, math.pi)
SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def on_circle(radius: float, angle: float) -> tuple[float, float]:
    return 30.0 + radius * math.cos(angle), -20.0 + radius * math.sin(angle)


# -------------------------------------------------------------------------------------------------------------- arcs
@given(st.floats(1.0, 2000.0), TURNS, st.floats(0.2, 6.0), st.floats(0.05, 0.95), st.booleans())
def test_an_arc_stays_on_its_circle_and_turns_one_way(
    radius: float, start: float, turn: float, share: float, clockwise: bool
) -> None:
    turn = -turn if clockwise else turn
    picked = [on_circle(radius, start + turn * part) for part in (0.0, share, 1.0)]
    chain = arc(*picked)
    z = np.array([complex(x - 30.0, y + 20.0) for x, y in chain])
    assert chain[0] == picked[0]
    assert chain[-1] == picked[2]
    assert picked[1] in chain
    assert np.abs(z) == pytest.approx(radius, rel=1e-6)
    steps = np.angle(z[1:] / z[:-1])
    assert (np.sign(steps) == np.sign(turn)).all()
    assert steps.sum() == pytest.approx(turn, abs=1e-6)
    assert (radius * (1.0 - np.cos(steps / 2.0))).max() <= max(
        SAGITTA, radius * (1.0 - math.cos(math.radians(0.25)))
    ) * 1.001


def test_three_points_in_line_give_the_straight_line() -> None:
    assert arc((0.0, 0.0), (5.0, 5.0), (9.0, 9.0)) == ((0.0, 0.0), (5.0, 5.0), (9.0, 9.0))


def test_an_arc_through_two_equal_points_is_refused() -> None:
    with pytest.raises(OutlineError, match="three different points"):
        arc((0.0, 0.0), (5.0, 5.0), (0.0, 0.0))


def test_a_quarter_of_100_mm_has_as_many_chords_as_the_sagitta_asks() -> None:
    # s = r·(1 − cos(θ/2)): θ = 2·acos(1 − 0.02/100) = 2.2919°, and 90°/2.2919° = 39.27
    assert chords_of(100.0, math.pi / 2.0) == 40


# ----------------------------------------------------------------------------------------------------- smooth curves
@settings(max_examples=30)
@given(st.lists(st.tuples(st.integers(-300, 300), st.integers(-300, 300)), min_size=3, max_size=9), st.booleans())
def test_a_smooth_curve_goes_through_all_points_within_its_chords(points: list[tuple[int, int]], closed: bool) -> None:
    picked = [(float(x), float(y)) for x, y in points]
    assume(all(math.dist(a, b) > 5.0 for a, b in zip(picked, [*picked[1:], picked[0]], strict=True)))
    chain = smooth(picked, closed)
    assert [point for point in chain if point in picked] == picked
    knots = np.array([*picked, picked[0]] if closed else picked)
    t = np.concatenate([[0.0], np.cumsum(np.sqrt(np.linalg.norm(np.diff(knots, axis=0), axis=1)))])
    curve = CubicSpline(t, knots, bc_type="periodic" if closed else "natural")
    fine = curve(np.linspace(0.0, t[-1], 1500)) @ np.array([1.0, 1j])
    z = np.array([complex(*point) for point in ([*chain, chain[0]] if closed else chain)])
    a, way = z[:-1], np.diff(z)
    share = np.clip(((fine[:, None] - a) * way.conj()).real / np.abs(way) ** 2, 0.0, 1.0)
    off = np.abs(fine[:, None] - a - share * way).min(axis=1)
    assert off.max() <= SAGITTA * 1.01


def test_a_smooth_curve_needs_three_points() -> None:
    with pytest.raises(OutlineError, match="three different points"):
        smooth([(0.0, 0.0), (0.0, 0.0), (5.0, 5.0)])


def test_points_of_a_circle_give_nearly_the_circle() -> None:
    picked = [on_circle(200.0, math.tau * k / 12) for k in range(12)]
    radii = [math.dist(point, (30.0, -20.0)) for point in smooth(picked, closed=True)]
    assert max(radii) == pytest.approx(200.0, abs=0.2)
    assert min(radii) == pytest.approx(200.0, abs=0.2)


# --------------------------------------------------------------------------------------------------- rounded corners
def test_a_square_with_one_corner_rounded_loses_what_the_arc_cuts_off() -> None:
    chain = fillet(SQUARE, 2, 20.0, closed=True)
    x, y = np.array(chain).T
    area = 0.5 * float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())
    # chords lie inside the arc: at most 2/3·sagitta·length of it is missing
    assert area == pytest.approx(10_000.0 - (4.0 - math.pi) / 4.0 * 400.0, abs=SAGITTA * 31.4)
    assert (100.0, 80.0) in [pytest.approx(point) for point in chain]
    assert chain[:2] == SQUARE[:2]
    assert chain[-1] == SQUARE[3]


@given(st.floats(0.3, 2.8), st.floats(1.0, 30.0), st.booleans())
def test_a_fillet_touches_both_sides(turn: float, radius: float, left: bool) -> None:
    way = turn if left else -turn
    end = (200.0 + 200.0 * math.cos(way), 200.0 * math.sin(way))
    line = ((0.0, 0.0), (200.0, 0.0), end)
    if radius * math.tan(turn / 2.0) > 200.0:
        with pytest.raises(OutlineError, match="largest that fits"):
            fillet(line, 1, radius)
        return
    chain = fillet(line, 1, radius)
    directions = np.angle(np.diff([complex(*point) for point in chain]))
    assert directions[0] == pytest.approx(0.0, abs=1e-9)
    assert math.remainder(directions[-1] - way, math.tau) == pytest.approx(0.0, abs=1e-6)
    centre = complex(200.0 - radius * math.tan(turn / 2.0), math.copysign(radius, way))
    for point in chain[1:-1]:
        assert abs(complex(*point) - centre) == pytest.approx(radius, rel=1e-6)


@pytest.mark.parametrize(
    ("line", "place", "radius", "words"),
    [
        (SQUARE[:3], 0, 5.0, "an end of the line"),
        (SQUARE[:3], 1, 0.0, "0.001 mm or more"),
        (SQUARE[:3], 1, 101.0, "The largest that fits is 100 mm"),
        (((0.0, 0.0), (5.0, 0.0), (9.0, 0.0)), 1, 1.0, "no corner"),
        (((0.0, 0.0), (5.0, 0.0), (5.0, 0.0)), 1, 1.0, "coincide"),
    ],
)
def test_what_is_no_corner_is_told(
    line: tuple[tuple[float, float], ...], place: int, radius: float, words: str
) -> None:
    with pytest.raises(OutlineError, match=words):
        fillet(line, place, radius)


def test_the_largest_fillet_of_a_square_is_a_circle() -> None:
    chain: tuple[tuple[float, float], ...] = SQUARE
    for corner in SQUARE:
        chain = fillet(chain, chain.index(corner), 50.0 - 1e-9, closed=True)
    assert all(math.dist(point, (50.0, 50.0)) == pytest.approx(50.0, abs=1e-6) for point in chain)
