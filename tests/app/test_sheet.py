"""The sheet: its camera, squares, scale bar, and what fits on it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from app.sheet import (
    LARGEST_SCALE,
    LEAST_SCALE,
    Camera,
    drawing_step,
    extent,
    fitted,
    grid_steps,
    scale_bar,
    steps_between,
)
from kinematics import analyse, arranging
from tests import specimens

if TYPE_CHECKING:
    from app.lengths import Units


def test_the_camera_turns_y_over_and_comes_back() -> None:
    camera = Camera(2.0, (10.0, 20.0), (400.0, 300.0))
    assert camera.to_px((10.0, 20.0)) == (200.0, 150.0)
    assert camera.to_px((11.0, 21.0)) == (202.0, 148.0)
    assert camera.to_mm(camera.to_px((-3.5, 7.25))) == pytest.approx((-3.5, 7.25), abs=1e-12)


@pytest.mark.parametrize("about", [(0.0, 0.0), (200.0, 150.0), (371.5, 12.25)])
def test_a_zoom_keeps_the_point_under_the_pointer(about: tuple[float, float]) -> None:
    camera = Camera(2.0, (10.0, 20.0), (400.0, 300.0))
    before = camera.to_mm(about)
    for factor in (1.2, 1.2, 0.3, 7.0):
        camera = camera.zoomed(factor, about)
        assert camera.to_mm(about) == pytest.approx(before, abs=1e-9)
    assert camera.scale == pytest.approx(2.0 * 1.2 * 1.2 * 0.3 * 7.0)


def test_a_zoom_ends_somewhere() -> None:
    camera = Camera(1.0, (0.0, 0.0), (400.0, 300.0))
    assert camera.zoomed(1e9, (5.0, 5.0)).scale == LARGEST_SCALE
    assert camera.zoomed(1e-9, (5.0, 5.0)).scale == LEAST_SCALE


def test_what_is_fitted_lies_within_the_margins_and_touches_two_of_them() -> None:
    points = np.array([[-50.0, 10.0], [350.0, 20.0], [100.0, 160.0]])
    camera = fitted(points, (800.0, 600.0), (100.0, 20.0, 60.0, 40.0))
    spots = np.array([camera.to_px((x, y)) for x, y in points])
    assert spots[:, 0].min() == pytest.approx(100.0)
    assert spots[:, 0].max() == pytest.approx(740.0)
    assert spots[:, 1].min() > 20.0
    assert spots[:, 1].max() < 560.0


def test_nothing_fits_too() -> None:
    camera = fitted(np.zeros((0, 2)), (800.0, 600.0))
    assert camera.middle == (0.0, 0.0)
    assert camera.scale == pytest.approx(480 / 600)
    one = fitted(np.array([[7.0, 7.0]]), (800.0, 600.0))
    assert math.isfinite(one.scale)
    assert one.middle == (7.0, 7.0)


def test_the_extent_holds_the_panel_all_the_way() -> None:
    analysis = analyse(specimens.demo_six_bar)
    points = extent(specimens.demo_six_bar, analysis)
    front = analysis.path("hatch", (1190.0, 262.0))
    for axis in (0, 1):
        assert points[:, axis].min() <= front[:, axis].min() <= front[:, axis].max() <= points[:, axis].max()
    assert points[:, 1].min() == -200.0  # the foot of the bulkhead


@pytest.mark.parametrize("name", ["half_drawn", "empty", "locked_triangle"])
def test_the_extent_of_what_hardly_is_there(name: str) -> None:
    project = specimens.ALL[name]
    assert np.isfinite(extent(project, analyse(project))).all()


@pytest.mark.parametrize("scale", [0.003, 0.1, 0.44, 1.0, 3.3, 50.0, 200.0])
def test_squares_are_round_and_neither_too_fine_nor_too_coarse(scale: float) -> None:
    fine, coarse = grid_steps(scale, "mm")
    assert 9.0 <= fine * scale <= 2.5 * 9.0 + 1e-9
    leading = fine / 10.0 ** math.floor(math.log10(fine) + 1e-9)
    assert min(abs(leading - step) for step in (1.0, 2.0, 5.0)) < 1e-9
    assert round(coarse / fine, 9) in (5.0, 10.0)


def test_squares_in_inches_are_parts_of_an_inch() -> None:
    assert grid_steps(1.0, "in") == (25.4 / 2, 25.4 * 3)
    assert grid_steps(10.0, "in") == (25.4 / 16, 25.4 / 4)


def test_the_scale_bar_says_its_own_length() -> None:
    assert scale_bar(1.0, "mm") == (100.0, "100 mm")
    assert scale_bar(0.05, "mm") == (2000.0, "2000 mm")
    assert scale_bar(60.0, "mm") == (2.0, "2 mm")
    length, text = scale_bar(1.0, "in")
    assert (round(length, 9), text) == (152.4, '6"')
    assert scale_bar(20.0, "in") == (6.35, '1/4"')


def test_the_scale_bar_is_never_longer_than_asked_nor_tiny() -> None:
    for scale in np.geomspace(0.003, 150.0, 60).tolist():
        assert 64.0 - 1e-9 <= scale_bar(scale, "mm", 160.0)[0] * scale <= 160.0 + 1e-9


def test_steps_between() -> None:
    assert steps_between(-2.5, 7.5, 2.5) == [-2.5, 0.0, 2.5, 5.0, 7.5]
    assert steps_between(0.1, 0.9, 1.0) == []


def test_the_extent_leaves_out_what_is_hidden() -> None:
    project = replace(specimens.demo_six_bar, loads=None)  # masses are always drawn
    for outline in project.outlines:
        project = arranging.hide_part(project, "outline", outline.id)
    shown = extent(project, analyse(project))
    assert shown[:, 1].min() > -200.0  # the foot of the bulkhead
    for kind in ("pivot", "mark"):
        for part in arranging.parts_of(project, kind):
            project = arranging.hide_part(project, kind, part.id)
    assert len(extent(project, analyse(project))) == 0


@pytest.mark.parametrize(
    ("scale", "units", "step"),
    [
        (1.0, "mm", 1.0),
        (1.5, "mm", 0.5),
        (0.3, "mm", 2.0),
        (40.0, "mm", 0.02),
        (0.1, "mm", 10.0),
        (1.0, "in", 25.4 / 32),
        (3.0, "in", 25.4 / 128),
    ],
)
def test_a_step_for_drawing_is_round_and_no_larger_than_a_pixel(scale: float, units: Units, step: float) -> None:
    assert drawing_step(scale, units) == pytest.approx(step, rel=1e-12)


def test_zones_are_within_what_is_fitted() -> None:
    from kinematics import zoning

    plain = analyse(specimens.demo_six_bar)
    far = ((-900.0, -700.0), (-800.0, -700.0), (-800.0, -600.0))
    zoned = zoning.add_zone(specimens.demo_six_bar, specimens.demo_six_bar.fixed.id, far)
    assert extent(specimens.demo_six_bar, plain).min(axis=0)[0] > -900.0
    assert extent(zoned, analyse(zoned)).min(axis=0).tolist() == [-900.0, -700.0]
