"""Contours of plates: what they measure, that their sides touch their eyes, that a mirror keeps them round."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from kinematics.contours import Contour, Eye, around, circle
from kinematics.errors import HingewrightError

THREE = [Eye(0j, 12.0), Eye(100 + 20j, 9.0), Eye(40 + 90j, 14.0)]


def as_polygon(contour: Contour, sagitta: float = 1e-4) -> shapely.Polygon:
    return shapely.Polygon(contour.polyline(sagitta))


def test_a_bent_belt_measures_what_its_polygon_does() -> None:
    contour = around(THREE, (-8.0, -4.0, 3.0))
    polygon = as_polygon(contour)
    assert polygon.is_valid
    # Chords that miss arcs by 1e-4 mm at most leave less than that times the length out.
    assert abs(contour.area - polygon.area) < 1e-4 * contour.length
    assert abs(contour.length - polygon.length) < 1e-3
    assert abs(contour.centre - complex(*polygon.centroid.coords[0])) < 1e-3


@given(
    st.floats(3.0, 30.0),
    st.floats(3.0, 30.0),
    st.floats(80.0, 400.0),
    st.floats(-1.0, 1.0),
    st.floats(-1.0, 1.0),
    st.floats(0.0, 6.0),
)
def test_each_side_touches_its_eyes_and_its_middle_lies_by_the_belly_outside(
    one: float, other: float, far: float, left: float, right: float, turn: float
) -> None:
    eyes = [Eye(3 - 4j, one), Eye(3 - 4j + far * complex(math.cos(turn), math.sin(turn)), other)]
    bellies = (0.4 * min(one, other) * left, 0.4 * min(one, other) * right)
    contour = around(eyes, bellies)
    for piece in contour.pieces():
        if piece.bulge == 0.0 or any(abs(piece.centre - eye.at) < 1e-6 for eye in eyes):
            continue
        for eye in eyes:  # touching: the circles' middles are as far apart as their radii, added or taken off
            apart = abs(piece.centre - eye.at)
            assert min(abs(apart - piece.radius - eye.radius), abs(apart - piece.radius + eye.radius)) < 1e-6
    straight = around(eyes)
    assert (contour.area > straight.area) is (sum(bellies) > 0.0) or abs(sum(bellies)) < 1e-2


def test_a_mirror_keeps_area_and_length_and_turns_the_centre_over() -> None:
    contour = around(THREE, (-8.0, -4.0, 3.0))
    mirrored = contour.mirrored()
    assert (mirrored.area, mirrored.length) == pytest.approx((contour.area, contour.length), rel=1e-12)
    assert abs(mirrored.centre + contour.centre.conjugate()) < 1e-9
    across = shapely.affinity.scale(as_polygon(contour), xfact=-1.0, yfact=1.0, origin=(0.0, 0.0))
    assert as_polygon(mirrored).symmetric_difference(across).area < 1e-2


def test_turned_and_shifted_it_is_the_same_plate() -> None:
    contour = around(THREE, (-8.0, -4.0, 3.0))
    moved = contour.moved(0.7, 5 - 3j)
    assert moved.area == pytest.approx(contour.area, rel=1e-12)
    assert abs(moved.centre - (contour.centre * np.exp(0.7j) + 5 - 3j)) < 1e-9


def test_one_eye_is_a_disc() -> None:
    disc = circle(2 + 1j, 5.0)
    assert disc.area == pytest.approx(25.0 * math.pi, rel=1e-12)
    assert abs(disc.centre - (2 + 1j)) < 1e-12
    assert len(disc.polyline(0.01)) > 20


def test_an_eye_within_the_other_and_a_side_bent_too_far_are_told() -> None:
    with pytest.raises(HingewrightError, match="lies within another"):
        around([Eye(0j, 20.0), Eye(5 + 0j, 4.0)])
    with pytest.raises(HingewrightError, match="bent so far"):
        around([Eye(0j, 10.0), Eye(100 + 0j, 10.0)], (-60.0, 0.0))


def test_an_eye_of_no_size_is_told_far_from_the_origin_too() -> None:
    """1e5 mm away nothing of a radius of 1e-38 is left beside the eye's place."""
    for at in (0j, 63086.03 + 89428.07j):
        with pytest.raises(HingewrightError, match="next to no size"):
            around([Eye(at, 6e-39), Eye(-at - 5.0, 6e-39)])


def test_a_waist_as_deep_as_an_eye_is_wide_is_no_odd_case() -> None:
    eyes = [Eye(0j, 14.0), Eye(224.0 + 0j, 14.0)]
    for belly in (-14.0, -14.0 - 1e-9, -13.9999, -14.0001):
        contour = around(eyes, [belly, 0.0])
        lowest = [piece for piece in contour.pieces() if piece.bulge < 0.0]
        (waist,) = lowest
        assert abs(waist.centre.real - 112.0) < 1e-3
        assert abs(waist.centre.imag + waist.radius - (-14.0 - belly)) < 1e-6  # its middle, on the pins' line
        assert abs(waist.radius - (112.0**2 - 14.0**2) / 28.0) < 0.1  # (R + r)² = R² + h²


def test_however_small_a_round_encloses_something() -> None:
    for radius in (1e-4, 1e-2, 5.0):
        ring = circle(3.0 + 4.0j, radius).polyline(0.01)
        assert len(ring) >= 4
        assert shapely.Polygon(ring).area > 1.9 * radius**2  # of the square within it: 2 r²


def test_a_round_of_a_thousand_kilometres_is_cut_into_thousands_of_chords_and_not_billions() -> None:
    places = circle(0j, 1e9).polyline(0.003)
    assert 1000 < len(places) < 10_000
    assert len(circle(0j, 1000.0).polyline(0.003)) == pytest.approx(np.pi / np.sqrt(2 * 3e-6), rel=0.01)
