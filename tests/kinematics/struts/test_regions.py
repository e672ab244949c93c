"""Where ends may be when nobody drew it, and points drawn in a zone."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from kinematics.arrays import as_complex
from kinematics.struts.regions import OFF, Region, default_zones, shape_of
from kinematics.zoning import flaw
from tests import specimens
from tests.kinematics.proposals.making import DEMOS, demo, mirrored, turned

if TYPE_CHECKING:
    from kinematics.project import Project


@pytest.mark.parametrize("name", DEMOS)
def test_demos_have_zones_that_keep_off_what_is_drawn(name: str) -> None:
    project = demo(name)
    body, panel = default_zones(project)
    assert (body.on, panel.on) == (project.fixed.id, project.panel.id)
    for zone in (body, panel):
        assert not flaw(zone.points)
    region = shapely.Polygon(body.points)
    for each in project.outlines:
        if each.on == project.fixed.id:
            assert shapely.distance(region, shape_of(each)) > OFF - 4.0  # corners are rounded and thinned


def middle(project: Project, which: int) -> complex:
    return complex(shapely.Polygon(default_zones(project)[which].points).centroid.x) + 1j * float(
        shapely.Polygon(default_zones(project)[which].points).centroid.y
    )


@pytest.mark.parametrize("which", [0, 1])
def test_they_turn_and_mirror_with_the_sheet(which: int) -> None:
    """To within the rounding to whole mm."""
    project = replace(demo(), loads=None)
    here = middle(project, which)
    turn = complex(np.exp(1j * np.radians(37.0)))
    assert middle(turned(project, 37.0), which) == pytest.approx(here * turn, abs=3.0)
    assert middle(mirrored(project), which) == pytest.approx(-here.conjugate(), abs=3.0)


def test_the_panel_s_lies_under_its_skin() -> None:
    """By a bracket's 15 mm or nearly; the rear edge's return is no part of it."""
    skin = np.array([(-28.0, 312.0), (600.0, 297.0), (1190.0, 262.0)])
    for x, y in default_zones(demo())[1].points:
        assert y < np.interp(x, *skin.T) - 12.0
    assert max(y for _, y in default_zones(demo())[1].points) > 267.0


def test_there_are_none_where_nothing_says_where_the_panel_is() -> None:
    assert default_zones(specimens.empty) == ()
    assert default_zones(replace(demo(), outlines=(), gaps=(), loads=None)) == ()


def test_points_are_drawn_within_and_spread() -> None:
    ell = as_complex([(0.0, 0.0), (100.0, 0.0), (100.0, 10.0), (10.0, 10.0), (10.0, 100.0), (0.0, 100.0)])
    points = Region(ell).draw(500, np.random.default_rng(1))
    assert len(points) == 500
    assert Region(ell).has(points).all()
    # 50·10 mm² of 1900 in either leg's outer half: 132 of 500, give or take 10
    assert 100 < (points.real > 50.0).sum() < 165
    assert 100 < (points.imag > 50.0).sum() < 165


def test_a_sliver_gives_points_all_the_same() -> None:
    sliver = as_complex([(0.0, 0.0), (1000.0, 1000.0), (1000.0, 1000.000001)])
    assert len(Region(sliver).draw(5, np.random.default_rng(1))) == 5
