"""Wedges, bevels and set-outs of walls off square: arithmetic and trigonometry worked here, rotations by SciPy.

Group E of the checks: E12 (a builder's own figure: 0.160 in over about 0.956 in, walls 19° apart; common practice, no
source; the arithmetic is derived), E10 (left and right mirrored). The formula tan B = tan β · cos λ for a plane that is
tilted twice is that of compound angles in machinists' handbooks (from memory); here the planes' angles come from
`scipy.spatial.transform.Rotation`, which shares no code with the program.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from app.hardware import hardware
from kinematics.mount_parts import Base, Mount
from kinematics.setting_out import SetOut, set_out
from kinematics.wall_parts import HandWall, Wall
from kinematics.walling import wall_plane, wedge
from tests.specimens import demo_six_bar

INCH = 25.4
BASE = Base(webs=2, web=6.0, apart=0.956 * INCH - 12.0, plate=6.0, shims=0.0)


def laid(wall: Wall, hand: str = "left") -> SetOut:
    found = set_out(replace(demo_six_bar, mount=Mount(base=BASE), wall=wall), hardware(), hand)
    assert found is not None
    return found


def test_e12_the_wedge_of_walls_19_degrees_apart() -> None:
    """0.956 in · tan 9.5° = 0.159980 in; neither tan 19° (0.329178) nor sin 9.5° (0.157787) may stand in for it."""
    made = wedge(replace(demo_six_bar, wall=Wall(left=HandWall(19.0 / 2.0))), BASE, "left")
    assert made is not None
    assert made.rise / INCH == pytest.approx(0.159980, abs=5e-7)  # half of the last printed digit
    assert 2.0 * math.degrees(math.atan(0.160 / 0.956)) == pytest.approx(19.0024, abs=5e-5)
    assert made.slope / INCH == pytest.approx(0.956 / 0.986286, abs=2e-6)  # cos 9.5° = 0.986286
    assert made.to_belt_deg == 80.5


@pytest.mark.parametrize(("off", "lean"), [(9.5, 30.0), (-22.0, 14.0), (40.0, -35.0), (12.0, 0.0)])
def test_the_true_bevel_is_the_angle_between_planes_that_are_turned_in_space(off: float, lean: float) -> None:
    """The wall: square, leant about the level line square to the centreline, then turned about the plumb line by `off`.

    That lean is measured along its line of steepest fall; in the side view it is seen as tan λ = tan(lean) / cos β.
    """
    steepest = math.degrees(math.atan(math.tan(math.radians(lean)) * math.cos(math.radians(off))))
    turned = Rotation.from_euler("y", off, degrees=True) * Rotation.from_euler("z", steepest, degrees=True)
    normal = turned.apply([1.0, 0.0, 0.0])
    foot = Rotation.from_euler("z", lean, degrees=True).apply([1.0, 0.0, 0.0])  # square to its links, lies on the lean
    between = math.degrees(math.acos(abs(float(normal @ foot))))
    plane = wall_plane(replace(demo_six_bar, wall=Wall(left=HandWall(off, lean, 500.0))), BASE, "left")
    assert plane is not None
    assert abs(plane.bevel_deg) == pytest.approx(between, abs=1e-9)
    line, level = np.cross(normal, [0.0, 0.0, 1.0]), np.cross(normal, [0.0, 1.0, 0.0])
    line, level = line / np.linalg.norm(line), level / np.linalg.norm(level)
    skew = abs(90.0 - math.degrees(math.acos(abs(float(line @ level)))))
    assert abs(plane.skew_deg) == pytest.approx(skew, abs=1e-9)


def test_distances_along_the_wall_by_trigonometry() -> None:
    """A plumb wall 8° off, links' plane 500 off the centreline, plate 6 thick: worked by hand.

    The middle lies 6·sin 8° = 0.8350 nearer to the centreline than 500, so 499.1650 square, and 499.1650 / cos 8° =
    504.0705 along. A bolt 39 mm across (plate 110, edge 16 = two diameters of M8) is 39·cos 8° = 38.6205 farther out.
    """
    found = laid(Wall(left=HandWall(8.0, None, 500.0)))
    assert (found.middle.square, found.middle.along) == pytest.approx((499.1650, 504.0705), abs=5e-5)
    outer = max(found.bolts, key=lambda spot: spot.square)
    assert outer.square == pytest.approx(499.1650 + 38.6205, abs=1e-4)
    assert outer.along == pytest.approx(504.0705 + 39.0, abs=1e-4)


def test_e10_left_and_right_are_mirrored() -> None:
    """Distances between holes are equal, the signed area of three of them is opposite as one sees the wall."""
    wall = Wall(left=HandWall(9.5, 10.0, 500.0))
    left, right = laid(wall), laid(wall, "right")
    assert left.outboard == -right.outboard
    seen = [np.array([[told.outboard * spot.along, spot.up] for spot in told.bolts]) for told in (left, right)]
    gaps = [[np.linalg.norm(points[a] - points[b]) for a, b in combinations(range(len(points)), 2)] for points in seen]
    assert gaps[0] == pytest.approx(gaps[1], abs=1e-9)
    areas = [float(np.linalg.det([points[1] - points[0], points[2] - points[0]])) for points in seen]
    assert areas[0] == pytest.approx(-areas[1])
    assert abs(areas[0]) > 1000.0
