"""Distance fields against GEOS: distance and side at random points, within what the interpolation may miss."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.project import Outline
from kinematics.proposals.fields import FINEST, distances, field_of

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats

L_SHAPE = ((0.0, 0.0), (120.0, 0.0), (120.0, 40.0), (50.0, 40.0), (50.0, 90.0), (0.0, 90.0))
STEP_LINE = ((0.0, 0.0), (100.0, 0.0), (100.0, -60.0), (190.0, -40.0))
SPIRAL = ((0, 0), (200, 0), (200, 200), (40, 200), (40, 60), (140, 60), (140, 130), (90, 130))
WAY = np.sqrt(0.5)
"""Cells from anywhere in a cell to its corners, weighed as interpolation weighs them, at most (in its middle)."""
SINGLE = 1e-4
"""mm: single precision of figures of some hundred mm, 2e-5, and what lies between its roundings."""


def closed(*points: tuple[float, float]) -> Outline:
    return Outline("solid", "body", points, closed=True)


def line(*points: tuple[float, float]) -> Outline:
    return Outline("line", "body", points)


def lots(outline: Outline, count: int, pad: float, seed: int = 5) -> Complexes:
    """Points by lot around an outline."""
    random = np.random.default_rng(seed)
    z = np.array([complex(*point) for point in outline.points])
    return np.asarray(
        random.uniform(z.real.min() - pad, z.real.max() + pad, count)
        + 1j * random.uniform(z.imag.min() - pad, z.imag.max() + pad, count)
    )


def box(outline: Outline, pad: float) -> tuple[complex, complex]:
    z = np.array([complex(*point) for point in outline.points])
    corner = pad * (1 + 1j)
    return complex(z.real.min(), z.imag.min()) - corner, complex(z.real.max(), z.imag.max()) + corner


def by_geos(outline: Outline, points: Complexes) -> tuple[Floats, np.ndarray]:
    """Distance to the line, and whether a point is inside the solid."""
    shape = shapely.Polygon(outline.points) if outline.closed else shapely.LineString(outline.points)
    edge = shape.exterior if outline.closed else shape
    dots = shapely.points(points.real, points.imag)
    return np.asarray(shapely.distance(edge, dots)), np.asarray(shapely.contains(shape, dots))


@pytest.mark.parametrize("outline", [closed(*L_SHAPE), closed(*L_SHAPE[::-1]), line(*STEP_LINE)], ids=str)
def test_distances_are_those_of_geos(outline: Outline) -> None:
    points = lots(outline, 4000, 80.0)
    away, sides = distances(outline, points, 0.5)
    exact, inside = by_geos(outline, points)
    assert (
        np.abs(away - exact).max() < 0.5
    )  # mm: as far as the samples are apart; the edge next to the nearest at worst
    assert (np.abs(away - exact) < 1e-9).mean() > 0.999
    if outline.closed:
        assert ((sides < 0.0) == inside).all()
        assert set(np.unique(sides)) == {-1.0, 1.0}


@pytest.mark.parametrize("repeat", range(len(L_SHAPE)))
def test_points_that_repeat_change_nothing(repeat: int) -> None:
    """Also where a closed outline's last point is its first again, as drawings have it."""
    points = [*L_SHAPE[: repeat + 1], *L_SHAPE[repeat:]] if repeat else [*L_SHAPE, L_SHAPE[0]]
    places = lots(closed(*L_SHAPE), 1500, 60.0)
    for outline, again in (
        (closed(*L_SHAPE), closed(*points)),
        (line(*STEP_LINE), line(STEP_LINE[0], *STEP_LINE, STEP_LINE[-1])),
    ):
        expected, sides = distances(outline, places, 1.0)
        found, found_sides = distances(again, places, 1.0)
        assert np.abs(found - expected).max() < 1e-9
        assert (found_sides == sides).all()


def test_a_spike_has_its_outside_all_round_its_tip() -> None:
    spike = ((0.0, 0.0), (200.0, 8.0), (200.0, 8.0), (0.0, 16.0))
    points = 200 + 8j + 30.0 * np.exp(1j * np.linspace(-1.5, 1.5, 61))
    assert (distances(closed(*spike), points, 1.0)[1] > 0.0).all()


def test_a_line_without_length_is_a_point() -> None:
    away, sides = distances(line((5.0, 5.0), (5.0, 5.0)), np.array([5 + 9j, 2 + 1j]), 1.0)
    assert np.abs(away - [4.0, 5.0]).max() < 1e-9
    assert (sides == 0.0).all()


@pytest.mark.parametrize("outline", [closed(*L_SHAPE), closed(*L_SHAPE[::-1])], ids=["one way", "other way"])
def test_a_solid_is_looked_up_within_a_cell(outline: Outline) -> None:
    field = field_of(outline, *box(outline, 60.0))
    assert field.step == FINEST
    points = lots(outline, 6000, 50.0)
    found, sideless = field.at(points)
    assert sideless is None
    exact, inside = by_geos(outline, points)
    signed = np.where(inside, -exact, exact)
    off = np.abs(found - signed)
    assert off.max() <= WAY * field.step
    assert np.median(off) < 0.02  # mm: nothing but where the nearest edge changes, and around corners
    clear = exact > WAY * field.step
    assert ((found < 0.0) == inside)[clear].all()


def test_along_straight_parts_nothing_is_lost() -> None:
    outline = closed((0.0, 0.0), (300.0, 0.0), (300.0, 300.0), (0.0, 300.0))
    field = field_of(outline, *box(outline, 90.0))
    random = np.random.default_rng(2)
    points = random.uniform(100.0, 200.0, 500) + 1j * random.uniform(-80.0, 90.0, 500)
    assert np.abs(field.at(points)[0] + points.imag).max() < SINGLE


def test_an_open_line_has_two_sides_and_none_at_its_ends() -> None:
    outline = line(*STEP_LINE)
    field = field_of(outline, *box(outline, 80.0))
    above, below, beyond = 50 + 30j, 50 - 30j, -40 + 3j
    found, sideless = field.at(np.array([above, below, beyond, beyond.conjugate()]))
    assert sideless is not None
    assert list(sideless) == [False, False, True, True]
    assert found[0] > 0.0 > found[1]
    assert (found[2:] > 0.0).all()
    points = lots(outline, 4000, 70.0)
    found, sideless = field.at(points)
    exact = by_geos(outline, points)[0]
    assert sideless is not None
    off = np.abs(np.abs(found) - exact)
    near = exact < WAY * field.step  # there a side may be taken for the other: the depth is off by twice the distance
    assert off[~near].max() <= WAY * field.step
    assert off[near].max() <= 2 * WAY * field.step


def test_no_side_is_taken_for_the_other_within_a_coil() -> None:
    """Midway between two turns of a coil one's left faces the other's right; no line is there, and none is seen."""
    outline = line(*SPIRAL)
    field = field_of(outline, *box(outline, 50.0))
    points = lots(outline, 6000, 40.0)
    found, _ = field.at(points)
    exact = by_geos(outline, points)[0]
    far = exact > field.step
    assert np.abs(np.abs(found) - exact)[far].max() <= WAY * field.step


def test_beyond_the_grid_it_is_the_edge_and_the_way_there() -> None:
    outline = closed((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    field = field_of(outline, *box(outline, 30.0))
    out = np.array([50 - 500j, 50 + 700j, -400 + 50j, 900 + 50j])
    assert np.abs(field.at(out)[0] - [500.0, 600.0, 400.0, 800.0]).max() < 1.1 * field.step
    corner = np.array([-400 - 300j])  # by the way there along both axes, never less than the true way
    assert field.at(corner)[0][0] >= 500.0


corner_lists = st.lists(
    st.tuples(st.integers(-100, 100), st.integers(-100, 100)).map(lambda p: (float(p[0]), float(p[1]))),
    min_size=3,
    max_size=8,
)


@given(corner_lists, st.booleans())
@settings(max_examples=25)
def test_whatever_is_drawn_is_looked_up_within_a_cell(points: list[tuple[float, float]], is_solid: bool) -> None:
    """Sound solids with sign, all lines without."""
    solid = shapely.Polygon(points)
    is_solid = is_solid and solid.is_valid and solid.area > 1.0
    outline = closed(*points) if is_solid else line(*points)
    field = field_of(outline, *box(outline, 30.0))
    places = lots(outline, 400, 28.0)
    found, _ = field.at(places)
    exact, inside = by_geos(outline, places)
    if is_solid:
        assert np.abs(found - np.where(inside, -exact, exact)).max() <= WAY * field.step + SINGLE
    else:
        far = exact > 2.0 * field.step
        assert (np.abs(np.abs(found) - exact)[far] <= WAY * field.step + SINGLE).all()


def test_lots_fall_within_a_solid() -> None:
    outline = closed(*L_SHAPE)
    field = field_of(outline, *box(outline, 60.0))
    found = field.lot(2000, np.random.default_rng(4))
    assert (shapely.covers(shapely.Polygon(L_SHAPE), shapely.points(found.real, found.imag))).all()
    # Evenly: as many in the upright part as its share of the area, to three deviations of such a count.
    share = 50.0 * 50.0 / shapely.Polygon(L_SHAPE).area
    upper = (found.imag > 40.0).mean()
    assert abs(upper - share) < 3.0 * np.sqrt(share * (1 - share) / 2000) + 0.03
    nowhere = field_of(line(*STEP_LINE), -100 - 100j, -50 - 50j)
    assert len(nowhere.lot(7, np.random.default_rng(4))) == 7
