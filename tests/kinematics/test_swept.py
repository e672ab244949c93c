"""Swept room: it holds all that moves, at any opening, and little more."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from kinematics import analyse, edits
from kinematics.project import Outline, Project
from kinematics.swept import SAGITTA, SweptRoom, swept_room
from tests.specimens import ALL, demo_six_bar, empty, locked_triangle, single_pivot


def solid(room: SweptRoom) -> shapely.Geometry:
    whole = shapely.union_all([shapely.Polygon(ring) for ring in room.solids])
    return whole.difference(shapely.union_all([shapely.Polygon(ring) for ring in room.holes]))


def lid(*points: tuple[float, float], closed: bool = False, half_width: float = 0.0) -> Project:
    outline = Outline("lid skin", "lid", points, closed=closed, half_width=half_width)
    return replace(single_pivot, outlines=(outline,), gaps=(), marks=())


def test_a_rod_about_its_end_sweeps_a_sector() -> None:
    room = swept_room(analyse(lid((0.0, 0.0), (400.0, 0.0))))
    sector = 0.5 * 400.0**2 * math.radians(80.0)
    rim = room.rim * (800.0 + 400.0 * math.radians(80.0))
    assert sector <= room.area <= sector + rim + 1.0
    assert room.rim <= SAGITTA
    assert room.holes == ()


def test_a_pen_makes_it_wider_on_both_sides() -> None:
    # A rod of 300 with a pen of 10: the sector, 10 all around it (Steiner: P·10 + π·10²)
    room = swept_room(analyse(lid((0.0, 0.0), (300.0, 0.0), half_width=10.0)))
    turn = math.radians(80.0)
    about = 0.5 * 300.0**2 * turn + (600.0 + 300.0 * turn) * 10.0 + math.pi * 100.0
    assert room.area == pytest.approx(about, abs=2.0 * (room.rim + 0.1) * (600.0 + 300.0 * turn))


def test_a_rod_that_stands_off_leaves_the_middle_free() -> None:
    room = swept_room(analyse(lid((100.0, 0.0), (400.0, 0.0))))
    assert not solid(room).contains(shapely.Point(50.0, 20.0))
    assert solid(room).contains(shapely.Point(0.0, 200.0).buffer(1.0)) is False  # 90° is beyond the 80° it opens
    assert room.area == pytest.approx(0.5 * (400.0**2 - 100.0**2) * math.radians(80.0), rel=0.01)


@pytest.mark.parametrize("name", sorted(ALL))
def test_everything_that_moves_stays_inside_at_any_opening(name: str) -> None:
    analysis = analyse(ALL[name])
    inside = solid(swept_room(analysis)).buffer(1e-6)
    rng = np.random.default_rng(5)
    for deg in rng.uniform(0.0, max(analysis.opening.reached_deg, 1e-9), 12):
        pose = analysis.pose(float(deg))
        for outline in analysis.project.outlines:
            if outline.on == analysis.project.fixed.id:
                continue
            column = analysis.links.index(outline.on)
            points = pose.places(column, np.array(outline.points))
            assert inside.covers(shapely.LineString(points)), (outline.id, deg)


def test_nothing_that_moves_takes_no_room() -> None:
    assert swept_room(analyse(empty)) == SweptRoom((), (), 0.0, 0.0)
    assert swept_room(analyse(locked_triangle), []).rings == ()


def test_a_link_whose_pins_stand_on_one_place_is_a_spot() -> None:
    project = edits.move_pivot(demo_six_bar, "O2", demo_six_bar.pivot("B").at)
    room = swept_room(analyse(project), ["short link"])
    assert room.area == pytest.approx(math.pi * (project.link("short link").width / 2) ** 2, rel=0.02)


def test_only_what_is_asked_for_is_told() -> None:
    analysis = analyse(demo_six_bar)
    panel = swept_room(analysis, [demo_six_bar.panel.id])
    assert panel.area < swept_room(analysis).area
