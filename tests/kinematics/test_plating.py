"""Plates from pins: their contours hold all eyes, whatever the pins; areas against GEOS."""

from __future__ import annotations

from dataclasses import replace

import shapely
from hypothesis import given
from hypothesis import strategies as st

from kinematics.build_parts import Cutout, Plate, Plates, Side
from kinematics.contours import Eye, around
from kinematics.plating import cut_of, outermost
from tests.specimens import demo_six_bar

eyes = st.builds(Eye, st.builds(complex, st.floats(-200.0, 200.0), st.floats(-200.0, 200.0)), st.floats(4.0, 40.0))


@given(st.lists(eyes, min_size=1, max_size=5))
def test_a_band_laid_round_eyes_is_their_convex_hull(some: list[Eye]) -> None:
    contour = around([some[k] for k in outermost(some)])
    discs = [shapely.Point(eye.at.real, eye.at.imag).buffer(eye.radius, 512) for eye in some]
    hull = shapely.union_all(discs).convex_hull
    assert abs(contour.area - hull.area) < 1e-4 * hull.area  # the discs' polygons leave out 3e-6 of their area


def test_a_band_that_lies_level_reaches_all_eyes() -> None:
    left, right, above = Eye(0j, 14.0), Eye(100.0 + 0j, 14.0), Eye(50.0 + 60.0j, 14.0)
    assert outermost([left, right]) == [1, 0]
    assert outermost([left, right, above]) == [1, 2, 0]
    assert outermost([Eye(0j, 10.0), Eye(100.0 + 4.0j, 14.0)]) == [1, 0]


def test_every_link_of_the_demo_has_a_plate_round_its_pins() -> None:
    for link in demo_six_bar.links:
        cut = cut_of(demo_six_bar, link)
        if link.kind != "link":
            assert cut is None
            continue
        assert cut is not None
        polygon = shapely.Polygon(cut.outer.polyline())
        assert {pin for pin, _ in cut.pins} == {p.id for p in demo_six_bar.pivots if link.id in p.joins}
        for _, at in cut.pins:
            assert abs(polygon.exterior.distance(shapely.Point(at.real, at.imag)) - link.width / 2) < 0.02


def test_a_waist_and_cutouts_make_it_lighter() -> None:
    link = next(each for each in demo_six_bar.links if each.id == "short link")
    names = [pivot.id for pivot in demo_six_bar.pivots if link.id in pivot.joins]
    plain = cut_of(demo_six_bar, link)
    own = Plate(link.id, sides=(Side((names[0], names[1]), -3.0),), cutouts=(Cutout((50.0, 130.0), 10.0),))
    other = cut_of(replace(demo_six_bar, plates=Plates(thickness=5.0, each=(own,))), link)
    assert plain is not None
    assert other is not None
    assert other.outer.area < plain.outer.area - 100.0
    assert abs(other.area([12.0]) - (other.outer.area - 78.5398163 - 113.0973355)) < 1e-6  # π·5², π·6²
    assert abs(other.mass() - other.area() * 5.0 * 7.85e-6) < 1e-12


def test_an_edge_of_its_own_is_kept_whichever_way_round_it_was_drawn() -> None:
    corners = ((0.0, 0.0, 0.0), (0.0, 60.0, -0.5), (80.0, 60.0, 0.0), (80.0, 0.0, 0.0))
    link = next(each for each in demo_six_bar.links if each.id == "arm")
    cut = cut_of(replace(demo_six_bar, plates=Plates(each=(Plate("arm", edge=corners),))), link)
    assert cut is not None
    assert cut.outer.area > 4800.0  # the arc bellies out of the rectangle of 80 × 60
