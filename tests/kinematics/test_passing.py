"""What must pass: held against polygons of the plates at many more poses than were looked at."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from kinematics.build_parts import Plate, Plates, Side
from kinematics.passing import MOST_BEYOND, SIDE_PLAY, layers_beyond, passing_of
from kinematics.plating import cut_of
from tests.app.sharing import shared_analyse
from tests.kinematics.stacked import joints
from tests.specimens import demo_six_bar, hinge, parallelogram

if TYPE_CHECKING:
    from kinematics import Analysis
    from kinematics.project import Project


def polygons(project: Project) -> dict[str, shapely.Geometry]:
    """Each link's plate, or the eyes round its pins, shut; by GEOS alone."""
    found = {}
    for link in project.links:
        cut = cut_of(project, link)
        if cut is None:
            radius = project.plating.of(link.id, link.width).radius
            discs = [shapely.Point(pivot.at).buffer(radius, 64) for pivot in project.pivots_on(link.id)]
            found[link.id] = shapely.union_all(discs)
        else:
            found[link.id] = shapely.Polygon(cut.outer.polyline())
    return found


@pytest.mark.parametrize("project", [demo_six_bar, parallelogram], ids=["demo", "parallelogram"])
def test_whoever_overlaps_at_any_of_many_poses_meets(project: Project) -> None:
    analysis = shared_analyse(project)
    passing = passing_of(project, analysis.sweep, joints(project)).passing
    shut = polygons(project)
    for one, other in itertools.combinations(shut, 2):
        nearest = math.inf
        for pose in range(0, len(analysis.openings), 10):
            placed = [_placed(shut[name], analysis, name, pose) for name in (one, other)]
            nearest = min(nearest, shapely.distance(*placed))
        if abs(nearest - SIDE_PLAY) > 0.1:
            assert passing.apart(one, other) == (nearest < SIDE_PLAY), (one, other)


def _placed(shape: shapely.Geometry, analysis: Analysis, link: str, pose: int) -> shapely.Geometry:
    column = analysis.links.index(link)
    turn, shift = analysis.turns[pose, column], analysis.shifts[pose, column]
    rotation = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    return shapely.transform(shape, lambda xy: xy @ rotation + (shift.real, shift.imag))


@pytest.mark.parametrize(("away", "struck"), [(22.9, True), (23.1, False)])
def test_shanks_strike_within_eye_and_washer_and_play(away: float, struck: bool) -> None:
    """Eye 14, half a washer 8, play 1: 23 mm from centre to centre, by hand."""
    pins = {
        "A": (0j, "frame left"),
        "B": (0 + 100j, "left panel"),
        "C": (away + 0j, "frame right"),
        "D": (away + 100j, "right panel"),
    }
    project = hinge("frame panel left right", pins, wanted_deg=1.0)
    analysis = shared_analyse(project)
    found = passing_of(project, analysis.sweep, joints(project))
    assert ("left" in next(pin for pin in found.passing.pins if pin.pin == "C").shank_strikes) is struck


def test_a_plate_that_cannot_be_is_told_and_eyes_stand_in() -> None:
    link = next(link.id for link in demo_six_bar.links if link.kind == "link")
    pins = [pivot.id for pivot in demo_six_bar.pivots_on(link)]
    sides = tuple(Side(pair, -1e4) for pair in itertools.permutations(pins, 2))
    project = replace(demo_six_bar, plates=Plates(each=(Plate(link, sides=sides),)))
    found = passing_of(project, shared_analyse(project).sweep, joints(project))
    assert [name for name, _ in found.shapeless] == [link]
    assert link in found.passing.plates


def test_layers_beyond_a_plate() -> None:
    """A washer of 1.6 and a head of 3 take one layer of 4 mm plates; from 5.6 beyond the washer on it is two."""
    assert [layers_beyond(reach, 4.0, 1.6) for reach in (0.0, 4.6, 7.2, 7.3, 12.8, 12.9)] == [1, 1, 1, 2, 2, 3]


def test_the_thinnest_sheet_asks_for_no_more_layers_than_any_hinge_has() -> None:
    """Else millions of layers would be tried, one by one."""
    assert layers_beyond(11.6, 4.0, 1.6) == 2  # 10 mm beyond a washer: one layer of 5.6 mm isn't enough
    assert layers_beyond(11.6, 1e-9, 0.0) == MOST_BEYOND
