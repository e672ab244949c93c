"""Where pins may sit so that a body passes through two, three, four, five given poses.

Sources: L. Burmester, Lehrbuch der Kinematik, 1888; J. M. McCarthy, G. S. Soh, Geometric Design of Linkages (both from
memory); derivable. Checks D1 to D5 of checks.md. The counts of D5 were proved there by exact elimination over the
rationals; no figure here comes from the program.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.dyads import (
    Dyads,
    Poses,
    bisector,
    corner_angles,
    five_poses,
    fixed_points,
    four_poses,
    moving_points,
    pole,
    pole_triangle,
)
from tests.outside import figures
from tests.outside.oracles import circle_meets

if TYPE_CHECKING:
    from collections.abc import Sequence

CLOSED_FORM = 1e-12  # few roundings of numbers below 10
TYPED = 1e-9  # nine decimals typed: half a unit of the last one, in x and in y
EIGHT = 1e-8  # the same of eight decimals


@dataclass(frozen=True)
class Way:
    """How a problem lies: the base and the body scaled, turned and mirrored alike, the poses listed in some order."""

    factor: complex = 1.0 + 0j
    mirrored: bool = False
    order: tuple[int, ...] = ()

    def seen(self, z: complex) -> complex:
        return self.factor * (z.conjugate() if self.mirrored else z)

    def unseen(self, z: complex) -> complex:
        back = z / self.factor
        return back.conjugate() if self.mirrored else back

    def poses(self, rows: Sequence[tuple[complex, float]]) -> Poses:
        """From (place, turn in rad) of each pose."""
        listed = [rows[k] for k in self.order] if self.order else list(rows)
        sense = -1.0 if self.mirrored else 1.0
        return Poses(np.array([self.seen(z) for z, _ in listed]), np.array([sense * turn for _, turn in listed]))


WAYS = {
    "as given": Way(),
    "turned 37°": Way(cmath.rect(1.0, math.radians(37.0))),
    "times 25.4": Way(25.4 + 0j),
    "mirrored": Way(mirrored=True),
    "reordered": Way(order=(3, 1, 4, 0, 2)),
    "all at once": Way(cmath.rect(25.4, math.radians(37.0)), mirrored=True, order=(2, 4, 0, 3, 1)),
}


def in_degrees(*rows: tuple[float, float, float]) -> Poses:
    return Poses(np.array([complex(x, y) for x, y, _ in rows]), np.radians([turn for *_, turn in rows]))


# ------------------------------------------------------------------------------------------------------------ two poses
@pytest.mark.parametrize(("turn_deg", "at"), [(90.0, 5 + 5j), (-90.0, 5 - 5j)])
def test_d1_the_pole_of_two_poses(turn_deg: float, at: complex) -> None:
    """D1. (0, 0, 0°) → (10, 0, 90°) turns about (5, 5); clockwise about (5, −5). Trap: the sign of the turn."""
    found, there = pole(in_degrees((0, 0, 0), (10, 0, turn_deg)))
    assert there
    assert abs(complex(found) - at) < CLOSED_FORM


def test_d1_a_body_that_is_only_shifted_has_no_pole() -> None:
    found, there = pole(in_degrees((0, 0, 30), (10, 0, 30)))
    assert not there
    assert complex(found) == 0


def test_d1_fixed_points_lie_on_the_perpendicular_bisector() -> None:
    """D1. The point (2, 1) goes from (2, 1) to (9, 2): through (5.5, 1.5), across (7, 1); the pole lies on it."""
    middle, along = bisector(in_degrees((0, 0, 0), (10, 0, 90)), 2 + 1j)
    assert abs(complex(middle) - (5.5 + 1.5j)) < CLOSED_FORM
    assert abs(complex(along) - (-0.141421356237 + 0.989949493661j)) < 1e-12  # twelve decimals typed
    for step in (-3.0, 0.0, 11.0):
        f = complex(middle + step * along)
        assert abs(f - (2 + 1j)) == pytest.approx(abs(f - (9 + 2j)), rel=0, abs=CLOSED_FORM)


# ---------------------------------------------------------------------------------------------------------- three poses
THREE = ((0, 0, 0), (4, 2, 90), (5, 7, 180))


def test_d2_a_circle_through_three_places() -> None:
    """D2. (1, 0), (4, 3), (4, 7) lie about (−1, 5) at √29; and the body sees (−1, 5) turn about its own (1, 0)."""
    there = fixed_points(in_degrees(*THREE), 1 + 0j)
    assert there.found
    assert not there.slider
    assert abs(complex(there.middle) - (-1 + 5j)) < CLOSED_FORM
    assert float(there.radius) == pytest.approx(5.385164807, rel=0, abs=5e-10)  # half the last digit
    back = moving_points(in_degrees(*THREE), -1 + 5j)
    assert back.found
    assert abs(complex(back.middle) - (1 + 0j)) < CLOSED_FORM
    assert float(back.radius) == pytest.approx(5.385164807, rel=0, abs=5e-10)


@pytest.mark.parametrize("turned", [1.0 + 0j, cmath.rect(1.0, math.radians(37.0)), cmath.rect(0.1, 3.0)])
def test_d2_three_places_in_a_line_make_a_slider(turned: complex) -> None:
    """D2. (1, 0), (4, 3), (7, 6). Trap: rounding makes a circle of them, with a radius of some 1e9 and more."""
    z = np.array([0, 4 + 2j, 8 + 6j]) * turned
    there = fixed_points(Poses(z, np.radians([0.0, 90.0, 180.0])), turned)
    assert there.slider
    assert not there.found
    assert (complex(there.middle), float(there.radius)) == (0, 0)


def test_d3_the_pole_triangle_knows_half_the_turns() -> None:
    """D3. Poles (1, 3), (2, 5), (2.5, 3.5); angles 45°, 45°, 90°. Trap: the whole turn, or the other sense (135°)."""
    poles, there = pole_triangle(in_degrees(*THREE))
    assert there.all()
    assert np.abs(poles - np.array([1 + 3j, 2 + 5j, 2.5 + 3.5j])).max() < CLOSED_FORM
    assert (
        np.abs(np.degrees(corner_angles(poles)) - [45.0, 45.0, 90.0]).max() < 1e-11
    )  # degrees: 57 times the roundings


def test_d3_the_same_poses_in_the_other_sense() -> None:
    """D3 mirrored: turns of −90°, −90°, −180°, so 135°, 135°, 90° anticlockwise from line to line."""
    poles, _ = pole_triangle(in_degrees(*((x, -y, -turn) for x, y, turn in THREE)))
    assert np.abs(np.degrees(corner_angles(poles)) - [135.0, 135.0, 90.0]).max() < 1e-11


# ----------------------------------------------------------------------------------------------------------- four poses
def tangents(*rows: tuple[float, float, float]) -> tuple[tuple[complex, float], ...]:
    """Poses with their turns as t = tan(θ/2), as D5 types them."""
    return tuple((complex(x, y), 2.0 * math.atan(t)) for x, y, t in rows)


FOUR_REAL = tangents((0, 0, 0), (0, 1, 1), (-2, -2, 1 / 2), (-7, 2, 3 / 4), (8, -6, -1 / 3))
TWO_REAL = tangents((0, 0, 0), (2, -9, 1 / 5), (-8, -3, 1 / 4), (-1, 2, 1 / 3), (0, -4, 1))
NONE_REAL = tangents((0, 0, 0), (8, 8, 1 / 2), (-6, 2, 1 / 4), (2, -5, -1 / 3), (-4, 0, 1 / 3))


def carried(rows: Sequence[tuple[complex, float]], m: complex) -> list[complex]:
    """Where a point of the body is at the poses: the test's own line."""
    return [z + cmath.exp(1j * turn) * m for z, turn in rows]


@pytest.mark.parametrize("rows", [FOUR_REAL, TWO_REAL, NONE_REAL], ids=["first", "second", "third"])
@pytest.mark.parametrize("four", [(0, 1, 2, 3), (4, 2, 0, 1)], ids=["first four", "others"])
def test_d4_every_pair_keeps_its_length(rows: tuple[tuple[complex, float], ...], four: tuple[int, ...]) -> None:
    """D4. |w_i − f| equal over the four poses to 1e-9, all along both curves."""
    chosen = [rows[k] for k in four]
    pairs = four_poses(Way().poses(chosen), np.linspace(-math.pi, math.pi, 361)).pairs()
    assert len(pairs) > 90  # the link of the third can turn by 46° from the first pose to the second, no more
    for m, f in pairs:
        far = [abs(w - f) for w in carried(chosen, m)]
        assert max(far) - min(far) <= 1e-9 * max(1.0, max(far) / 1000.0), (m, f)  # eps of links beyond 1e3


@pytest.mark.parametrize("rows", [FOUR_REAL, TWO_REAL, NONE_REAL], ids=["first", "second", "third"])
def test_d4_both_curves_are_cubics_and_the_poles_lie_on_the_fixed_points(
    rows: tuple[tuple[complex, float], ...],
) -> None:
    """D4. One cubic through all fixed points that are returned, and through the six poles; one for the moving points.

    Its ten coefficients are fitted to half of the points (within ten times the shifts). Values relative to the terms'
    sizes; 1e-8 is what a fit of condition 1e6 leaves of 1e-15 a point. A straight line through the same points is off
    by 0.01 and more.
    """
    four = rows[:4]
    found = four_poses(Way().poses(four), np.linspace(-math.pi, math.pi, 721))
    poles = []
    for i in range(4):
        for j in range(i):
            (zi, ti), (zj, tj) = four[i], four[j]
            ei, ej = cmath.exp(1j * ti), cmath.exp(1j * tj)
            poles.append(zi + ei * (zj - zi) / (ei - ej))  # z_i + e_i·m with z_i + e_i·m = z_j + e_j·m
    for points, others in ((found.fixed, np.array(poles)), (found.moving, np.zeros(0, dtype=complex))):
        within = points[found.found & (np.abs(points) < 100.0)] / 10.0
        assert len(within) > 300
        cubic = np.linalg.svd(terms(within[::2]))[2][-1]
        for on in (within[1::2], others / 10.0):
            miss = np.abs(terms(on) @ cubic) / np.abs(terms(on) * cubic).sum(axis=1)
            assert miss.max(initial=0.0) < 1e-8
        assert np.linalg.svd(terms(within), compute_uv=False)[-2] > 1e-4  # no lower curve through them


def terms(z: np.ndarray) -> np.ndarray:
    """The ten terms of a cubic at points."""
    x, y = z.real, z.imag
    return np.stack([x**i * y**j for i in range(4) for j in range(4 - i)], axis=1)


def norton_poses(*crank_deg: float) -> tuple[list[tuple[complex, float]], list[complex]]:
    """Poses of A1's coupler (frame at A, x towards B), and where B is; by circles."""
    a, b, c, d = figures.NORTON
    rows, ends = [], []
    for deg in crank_deg:
        pin = cmath.rect(a, math.radians(deg))
        end = circle_meets(pin, b, complex(d), c)[0]
        rows.append((pin, cmath.phase(end - pin)))
        ends.append(end)
    return rows, ends


def test_d4_both_links_of_a_four_bar_lie_on_the_curves() -> None:
    """D4 on A1 at 10°, 60°, 130°, 200°: asked for their own turns from the first pose, crank and rocker come back."""
    rows, ends = norton_poses(10.0, 60.0, 130.0, 200.0)
    rocker = cmath.phase((ends[1] - 100) / (ends[0] - 100))
    for crank, own in ((math.radians(50.0), (0j, 0j)), (rocker, (120 + 0j, 100 + 0j))):
        pairs = four_poses(Way().poses(rows), crank).pairs()
        assert len(pairs) <= 2
        assert min(abs(m - own[0]) + abs(f - own[1]) for m, f in pairs) < 1e-9  # lengths of 100, condition some 100


# ----------------------------------------------------------------------------------------------------------- five poses
FOUND = {
    "four": (
        FOUR_REAL,
        (
            (-3.750604846 - 4.461572224j, 0.357064355 - 3.613675302j),
            (-6.755081084 - 1.486459255j, -2.869392204 - 4.074647793j),
            (20.508954077 + 1.134129891j, -18.150339129 - 18.249009481j),
            (-12.909776483 + 2.421033266j, -6.188484953 - 3.663411489j),
        ),
    ),
    "two": (
        TWO_REAL,
        (
            (-3.734694232 - 0.872798631j, -5.021580938 - 6.714715282j),
            (3.946627878 + 6.877710285j, -1.496596206 + 3.460667978j),
        ),
    ),
    "none": (NONE_REAL, ()),
}


def matched(dyads: Dyads, expected: Sequence[tuple[complex, complex]], way: Way, within: float) -> None:
    """Just the expected pairs are found, each once."""
    found = [(way.unseen(m), way.unseen(f)) for m, f in dyads.pairs()]
    assert len(found) == len(expected)
    for m, f in expected:
        assert sum(abs(m - n) < within and abs(f - g) < within for n, g in found) == 1, (m, f)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", FOUND)
def test_d5_all_dyads_of_five_poses(name: str, way: str) -> None:
    """D5. Four, two, none, as typed. Trap: many starts found three of the four, the one at 20.5 missing."""
    rows, expected = FOUND[name]
    matched(five_poses(WAYS[way].poses(rows)), expected, WAYS[way], TYPED)


@pytest.mark.parametrize("way", WAYS)
def test_d5_a_four_bar_comes_back_from_five_of_its_poses(way: str) -> None:
    """D5, round trip. A1 at 10°, 60°, 130°, 200°, 300°: both its own dyads, and two more, one of them far out."""
    rows, _ = norton_poses(10.0, 60.0, 130.0, 200.0, 300.0)
    expected = (
        (0j, 0j),
        (120 + 0j, 100 + 0j),
        (169.71557566 - 111.99364437j, 208.38033085 + 28.13723342j),
        (554.39669777 + 585.91403032j, 111.73321676 - 147.20478048j),
    )
    matched(five_poses(WAYS[way].poses(rows)), expected, WAYS[way], EIGHT)


def test_d5_many_problems_at_once_give_what_each_gives_alone() -> None:
    """D5. The three lists of poses side by side: 4, 2 and 0 real ones, the same points."""
    all_rows = [rows for rows, _ in FOUND.values()]
    together = five_poses(
        Poses(
            np.array([[z for z, _ in rows] for rows in all_rows]), np.array([[t for _, t in rows] for rows in all_rows])
        )
    )
    assert together.found.sum(axis=1).tolist() == [4, 2, 0]
    for k, (_, expected) in enumerate(FOUND.values()):
        one = Dyads(together.moving[k], together.fixed[k], together.found[k])
        matched(one, expected, Way(), TYPED)
