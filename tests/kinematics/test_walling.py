"""The plane of the wall against rotation matrices, and the wedge against the example of a tape and a grinder."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from kinematics.mount_parts import Base, Mount
from kinematics.wall_parts import HandWall, Wall
from kinematics.walling import Wedge, wall_plane, wedge
from tests.specimens import demo_six_bar

BASE = Base(webs=2, web=6.0, apart=12.2824)  # feet 24.2824 mm across: 0.956 in


def walled(off: float, lean: float | None = None, **more: object) -> Wall:
    return Wall(left=HandWall(off, lean, 575.0), **more)  # type: ignore[arg-type]


def turned(off: float, lean: float) -> np.ndarray:
    """A wall square to everything, leant about z, then turned about the vertical: its normal, as matrices give it.

    Leant first by the lean of its line of steepest fall, so that in the side view it leans by `lean`.
    """
    steepest = math.atan(math.tan(math.radians(lean)) * math.cos(math.radians(off)))
    b, a = math.radians(off), steepest
    about_z = np.array([[math.cos(a), -math.sin(a), 0], [math.sin(a), math.cos(a), 0], [0, 0, 1]])
    about_y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    return np.asarray(about_y @ about_z @ np.array([1.0, 0.0, 0.0]))


@pytest.mark.parametrize("off", [-30.0, -9.5, 0.0, 9.5, 45.0])
@pytest.mark.parametrize("lean", [-20.0, 0.0, 12.0, 50.0])
def test_the_plane_is_that_of_rotation_matrices(off: float, lean: float) -> None:
    project = replace(demo_six_bar, wall=walled(off, lean))
    plane = wall_plane(project, BASE, "left")
    assert plane is not None
    normal = turned(-off, lean)  # seen from above, a turn to the outboard end's falling away is clockwise
    assert np.abs(plane.out) == pytest.approx(np.abs(normal), abs=1e-12)
    square_to_rise = np.cross([0.0, 0.0, 1.0], plane.rise)  # the normal of a foot that is square to its links
    between = math.degrees(math.acos(min(abs(square_to_rise @ plane.out), 1.0)))
    assert abs(plane.bevel_deg) == pytest.approx(between, abs=1e-6)
    assert plane.along @ plane.out == pytest.approx(0.0, abs=1e-12)
    assert plane.rise @ plane.out == pytest.approx(0.0, abs=1e-12)
    assert plane.along[1] == 0.0
    points = np.array([[10.0, 20.0, 30.0], [0.0, -5.0, 600.0]])
    assert plane.placed(plane.seen(points)) == pytest.approx(points)


def test_a_wall_that_falls_away_outboard_does_so_from_the_pins() -> None:
    plane = wall_plane(replace(demo_six_bar, wall=walled(9.5)), BASE, "right")
    assert plane is not None
    assert plane.lean_deg == pytest.approx(0.0)  # as it is drawn: plumb, at x = 6, pins ahead of it
    assert plane.out[0] > 0.0
    assert plane.along[0] < 0.0 < plane.along[2]
    at_base = plane.pierced(np.array([[400.0, 100.0, 575.0]]), np.array([1.0, 0.0, 0.0]))
    assert at_base[0] == pytest.approx([6.0, 100.0, 575.0])  # the face is drawn at the hinge


def test_the_wedge_of_an_example_worked_at_the_bench() -> None:
    """0.956 in deep on a wall 9.5° off: 0.159980 in (arithmetic; checks.md E12), 80.5° to the belt."""
    made = wedge(replace(demo_six_bar, wall=walled(9.5)), BASE, "left")
    assert isinstance(made, Wedge)
    assert made.depth == pytest.approx(24.2824)
    assert made.rise / 25.4 == pytest.approx(0.159980, abs=5e-7)
    assert (made.thick_end, made.to_belt_deg) == ("outboard", 80.5)
    assert made.slope == pytest.approx(24.2824 / math.cos(math.radians(9.5)))
    inward = wedge(replace(demo_six_bar, wall=walled(-9.5)), BASE, "left")
    assert inward is not None
    assert inward.thick_end == "inboard"
    square = wedge(replace(demo_six_bar, wall=walled(0.0)), BASE, "left")
    assert square is not None
    assert (square.thick_end, square.rise) == ("", 0.0)


def test_a_shim_is_as_thick_as_said_at_its_thin_end() -> None:
    made = wedge(replace(demo_six_bar, wall=walled(9.5, trued="shim", depth=100.0)), BASE, "right")
    assert made is not None
    assert (made.thin, made.depth) == (2.0, 100.0)
    assert made.thick == pytest.approx(2.0 + 100.0 * math.tan(math.radians(9.5)))


def test_a_lean_takes_off_the_bevel_by_its_cosine() -> None:
    made = wedge(replace(demo_six_bar, wall=walled(9.5, 30.0)), BASE, "left")
    assert made is not None
    assert math.tan(math.radians(made.angle_deg)) == pytest.approx(
        math.tan(math.radians(9.5)) * math.cos(math.radians(30.0))
    )


def test_a_wall_that_lies_has_no_plane() -> None:
    lying = replace(demo_six_bar, mount=Mount(base=Base(at=(80.0, 0.0), wall_deg=0.0)))
    assert wall_plane(lying, Base(at=(80.0, 0.0), wall_deg=0.0), "left") is None
