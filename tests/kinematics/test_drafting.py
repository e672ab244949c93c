"""Lines made from lines, each against a property that it must have, measured another way."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.curves import SAGITTA
from kinematics.drafting import facing_edge, join, mirror, offset, pieces, simplify, trim
from kinematics.errors import OutlineError

if TYPE_CHECKING:
    from kinematics.values import Point

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
BENT = ((0.0, 0.0), (100.0, 0.0), (180.0, 60.0))
DUMBBELL = (
    *((0.0, 0.0), (60.0, 0.0), (60.0, 26.0), (100.0, 26.0), (100.0, 0.0), (160.0, 0.0)),
    *((160.0, 60.0), (100.0, 60.0), (100.0, 34.0), (60.0, 34.0), (60.0, 60.0), (0.0, 60.0)),
)
COORDINATE = st.integers(-200, 200).map(float)
CHAINS = st.lists(st.tuples(COORDINATE, COORDINATE), min_size=2, max_size=12, unique=True)


def distances(points: tuple[Point, ...], line: tuple[Point, ...]) -> list[float]:
    """Distance of each point from a chain, by plain vectors."""
    z = np.array([complex(*point) for point in line])
    a, way = z[:-1], np.diff(z)
    way = np.where(np.abs(way) == 0.0, 1e-300, way)
    p = np.array([complex(*point) for point in points])[:, None]
    share = np.clip(((p - a) * way.conj()).real / np.abs(way) ** 2, 0.0, 1.0)
    return list(np.abs(p - a - share * way).min(axis=1))


def length(points: tuple[Point, ...]) -> float:
    return sum(math.dist(a, b) for a, b in itertools.pairwise(points))


# ------------------------------------------------------------------------------------------------------------ offset
@pytest.mark.parametrize("distance", [-12.0, -3.0, 4.0, 15.0])
def test_an_offset_line_stays_at_its_distance(distance: float) -> None:
    line = offset(BENT, distance)
    assert distances(line, BENT) == pytest.approx([abs(distance)] * len(line), abs=SAGITTA)
    assert math.copysign(1.0, line[0][1]) == math.copysign(1.0, distance)
    assert line[0][0] == pytest.approx(0.0)
    assert math.dist(line[-1], BENT[-1]) == pytest.approx(abs(distance))


def test_a_square_grown_is_steiners_area() -> None:
    # A + P·d + π·d² (Steiner): 10 000 + 400·10 + π·100; chords lie inside the arcs
    x, y = np.array(offset(SQUARE, 10.0, closed=True)).T
    area = 0.5 * float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())
    assert area == pytest.approx(10_000.0 + 4_000.0 + 100.0 * math.pi, abs=SAGITTA * 63.0)


def test_a_clockwise_outline_grows_outwards_too_and_stays_clockwise() -> None:
    x, y = np.array(offset(SQUARE[::-1], 10.0, closed=True)).T
    assert x.min() == pytest.approx(-10.0)
    assert (x * np.roll(y, -1) - y * np.roll(x, -1)).sum() < 0.0


@pytest.mark.parametrize(
    ("points", "distance", "closed", "words"),
    [
        (SQUARE, -50.0, True, "nothing is left"),
        (((0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0)), 5.0, True, "crosses itself"),
        (DUMBBELL, -5.0, True, "pieces"),
    ],
)
def test_an_offset_that_cannot_be_is_told(points: tuple[Point, ...], distance: float, closed: bool, words: str) -> None:
    with pytest.raises(OutlineError, match=words):
        offset(points, distance, closed)


@pytest.mark.parametrize(("side", "sign"), [((50.0, 30.0), 1.0), ((50.0, -30.0), -1.0), ((250.0, 0.0), -1.0)])
def test_an_edge_faces_the_line_at_its_gap_on_the_side_picked(side: Point, sign: float) -> None:
    edge = facing_edge(BENT, 4.0, side)
    assert distances(edge, BENT) == pytest.approx([4.0] * len(edge), abs=SAGITTA)
    assert edge[0] == pytest.approx((0.0, sign * 4.0))


def test_a_place_on_the_line_names_no_side() -> None:
    with pytest.raises(OutlineError, match="beside the line"):
        facing_edge(BENT, 4.0, (30.0, 0.0))


# ------------------------------------------------------------------------------------------------------------ mirror
@given(CHAINS, st.tuples(COORDINATE, COORDINATE))
def test_mirrored_twice_is_as_it_was_and_the_mirror_line_halves(chain: list[Point], way: Point) -> None:
    a, b = (3.0, -7.0), (way[0] + 3.5, way[1] - 7.5)
    there = mirror(chain, a, b)
    back = mirror(there, a, b)
    assert back == tuple(pytest.approx(point, abs=1e-9) for point in chain)
    for one, two in zip(chain, there, strict=True):
        for end in (a, b):  # every point of the mirror line is as far from either
            assert math.dist(one, end) == pytest.approx(math.dist(two, end), abs=1e-9)


def test_a_mirror_needs_two_points() -> None:
    with pytest.raises(OutlineError, match="two different points"):
        mirror(BENT, (1.0, 1.0), (1.0, 1.0))


# -------------------------------------------------------------------------------------------------------- trim, join
@given(CHAINS, CHAINS)
def test_pieces_put_together_are_the_line(chain: list[Point], cutter: list[Point]) -> None:
    parts = pieces(chain, [cutter])
    assert sum(map(length, parts)) == pytest.approx(length(tuple(chain)), rel=1e-9, abs=1e-6)
    assert parts[0][0] == chain[0]
    assert parts[-1][-1] == chain[-1]
    for one, two in itertools.pairwise(parts):
        assert math.dist(one[-1], two[0]) < 1e-6
        assert distances((one[-1],), tuple(cutter))[0] < 1e-6


def test_a_closed_line_is_cut_into_as_many_pieces_as_it_has_crossings() -> None:
    parts = pieces(SQUARE, [((50.0, -10.0), (50.0, 110.0)), ((-10.0, 50.0), (60.0, 50.0))], closed=True)
    assert len(parts) == 3
    assert sum(map(length, parts)) == pytest.approx(400.0)


def test_one_crossing_opens_a_closed_line_there() -> None:
    (part,) = pieces(SQUARE, [((50.0, -10.0), (50.0, 10.0))], closed=True)
    assert part[0] == pytest.approx((50.0, 0.0))
    assert part[-1] == pytest.approx((50.0, 0.0))
    assert length(part) == pytest.approx(400.0)


def test_trim_keeps_the_piece_that_was_picked() -> None:
    cutter = ((60.0, -20.0), (60.0, 20.0))
    assert trim(BENT, [cutter], (10.0, 5.0)) == ((0.0, 0.0), (60.0, 0.0))
    assert trim(BENT, [cutter], (170.0, 5.0)) == ((60.0, 0.0), (100.0, 0.0), (180.0, 60.0))


def test_a_line_that_nothing_crosses_is_told() -> None:
    with pytest.raises(OutlineError, match="nothing crosses this line"):
        trim(BENT, [((0.0, 50.0), (50.0, 50.0))], (0.0, 0.0))


@pytest.mark.parametrize("turn_a", [False, True])
@pytest.mark.parametrize("turn_b", [False, True])
def test_lines_are_joined_by_their_nearest_ends(turn_a: bool, turn_b: bool) -> None:
    a, b = ((0.0, 0.0), (10.0, 0.0)), ((12.0, 1.0), (30.0, 0.0))
    whole = join(a[::-1] if turn_a else a, b[::-1] if turn_b else b)
    assert whole in (a + b, (a + b)[::-1])


def test_an_end_in_common_is_there_once() -> None:
    assert join(((0.0, 0.0), (10.0, 0.0)), ((10.0, 0.0), (10.0, 5.0))) == ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0))


# ---------------------------------------------------------------------------------------------------------- simplify
@given(CHAINS, st.floats(0.1, 30.0), st.booleans())
def test_a_simplified_line_stays_within_its_tolerance(chain: list[Point], tolerance: float, closed: bool) -> None:
    if closed and len(chain) < 3:
        chain.append((500.0, 500.0))
    slim = simplify(chain, tolerance, closed)
    assert set(slim) <= set(chain)
    line = (*slim, slim[0]) if closed else slim
    assert max(distances(tuple(chain), line)) <= tolerance + 1e-9
    if not closed:
        assert (slim[0], slim[-1]) == (chain[0], chain[-1])


def test_without_a_tolerance_nothing_goes() -> None:
    assert simplify(BENT, 0.0) == BENT
