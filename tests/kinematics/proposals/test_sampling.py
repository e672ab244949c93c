"""Which points are looked up: on the outline, all its corners, and closer where the other outline is."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.project import Outline
from kinematics.proposals.sampling import CLOSEST, CORNER_DEG, CORNERS, SHARE, sampled
from tests.kinematics.proposals.making import DEMOS, demo, mirrored, turned

L_SHAPE = ((0.0, 0.0), (120.0, 0.0), (120.0, 40.0), (50.0, 40.0), (50.0, 90.0), (0.0, 90.0))
FAR = Outline("far", "lid", ((900.0, 0.0), (900.0, 50.0)))


def near(outline: Outline) -> Outline:
    """A line along the whole outline, 5 mm off in x and y."""
    return Outline("near", "lid", tuple((x + 5.0, y + 5.0) for x, y in outline.points), outline.closed)


def edge(outline: Outline) -> shapely.Geometry:
    points = [*outline.points, outline.points[0]] if outline.closed else outline.points
    return shapely.LineString(points)


def apart(outline: Outline, other: Outline) -> tuple[np.ndarray, np.ndarray]:
    """Ways along the outline from one sample to the next, and how far both ends are from the other outline."""
    found = sampled(outline, other)
    along = np.sort(shapely.line_locate_point(edge(outline), shapely.points(found.real, found.imag)))
    places = shapely.line_interpolate_point(edge(outline), along)
    away = shapely.distance(edge(other), places)
    return np.diff(along), np.minimum(away[:-1], away[1:])


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("way", [lambda p: p, mirrored, lambda p: turned(p, 37.0)], ids=["drawn", "mirrored", "turned"])
def test_points_lie_on_the_outline(name: str, way: object) -> None:
    project = way(demo(name))  # type: ignore[operator]
    for one in project.outlines:
        for other in project.outlines:
            if one is not other:
                found = sampled(one, other)
                assert shapely.distance(edge(one), shapely.points(found.real, found.imag)).max() < 1e-9
                assert len(np.unique(np.round(found, 9))) == len(found)


def test_points_stand_closer_where_the_other_outline_is() -> None:
    outline = Outline("long", "body", ((0.0, 0.0), (2000.0, 0.0)))
    other = Outline("short", "lid", ((0.0, 10.0), (0.0, 90.0)))
    gaps, away = apart(outline, other)
    # A point is taken as soon as one comes by that is far enough from the last: one of those 8 to 16 mm apart later.
    assert (gaps <= np.maximum(CLOSEST, SHARE * (away + gaps)) + 2 * CLOSEST).all()
    assert (gaps[:-1] >= CLOSEST - 1e-9).all()
    assert gaps[0] < 20.0
    assert gaps.max() > 100.0
    assert len(gaps) < 40


def test_a_long_edge_nearby_is_not_passed_over() -> None:
    outline = Outline("long", "body", ((0.0, 0.0), (1000.0, 0.0)))
    gaps, _ = apart(outline, near(outline))
    assert gaps.max() < 3 * CLOSEST


@pytest.mark.parametrize("repeated", [False, True], ids=["plain", "with points that repeat"])
@pytest.mark.parametrize("is_solid", [False, True], ids=["line", "solid"])
def test_all_corners_are_looked_up(is_solid: bool, repeated: bool) -> None:
    points = [point for point in L_SHAPE for _ in range(2)] if repeated else L_SHAPE
    found = sampled(Outline("corners", "body", tuple(points), is_solid), FAR)
    for x, y in L_SHAPE:
        assert np.abs(found - complex(x, y)).min() < 1e-9


def test_a_vertex_of_a_smooth_line_is_no_corner() -> None:
    """A quarter circle in steps of 1° bends by less than a corner does."""
    angles = np.radians(np.arange(91))
    points = tuple(zip(500.0 * np.cos(angles), 500.0 * np.sin(angles), strict=True))
    smooth = sampled(Outline("arc", "body", points), Outline("off", "lid", ((4000.0, 0.0), (4000.0, 10.0))))
    assert len(smooth) <= 4
    bent = np.radians(CORNER_DEG + 1.0)
    corner = Outline("bent", "body", ((0.0, 0.0), (90.0, 0.0), (90.0 + 90.0 * np.cos(bent), 90.0 * np.sin(bent))))
    assert np.abs(sampled(corner, FAR) - 90.0).min() < 1e-9


def test_of_very_many_corners_the_nearest_are_kept() -> None:
    teeth = tuple((4.0 * k, 3.0 * (k % 2)) for k in range(400))
    found = sampled(Outline("saw", "body", teeth), Outline("post", "lid", ((0.0, 20.0), (0.0, 90.0))))
    for x, y in teeth[1:20]:
        assert np.abs(found - complex(x, y)).min() < 1e-9
    assert len(found) < CORNERS + 80


@given(st.lists(st.tuples(st.floats(-500, 500), st.floats(-500, 500)), min_size=3, max_size=7), st.booleans())
@settings(max_examples=30)
def test_whatever_is_drawn_its_points_lie_on_it(points: list[tuple[float, float]], is_solid: bool) -> None:
    outline = Outline("any", "body", tuple(points), is_solid)
    found = sampled(outline, FAR)
    assert np.isfinite(found).all()
    assert shapely.distance(edge(outline), shapely.points(found.real, found.imag)).max() < 1e-6
    for x, y in (points[0],) if is_solid else (points[0], points[-1]):
        assert np.abs(found - complex(x, y)).min() < 1e-6
