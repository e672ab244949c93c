"""What a wall off square does without a wedge: places turned in space by a matrix; and a wall in the way."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from kinematics import analyse
from kinematics.faces import wall
from kinematics.loads import Loads
from kinematics.mount_parts import Base, Mount
from kinematics.rear_edge import front_point
from kinematics.untrued import nearest_elsewhere, untrued, wall_meets
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import demo_six_bar

BASE = Base()


@pytest.mark.parametrize("off", [9.5, -6.0])
def test_the_front_edge_goes_as_a_turn_in_space_takes_it(off: float) -> None:
    """The wall is plumb as drawn, so the hinge turns about the vertical line in which its plane cuts the wall."""
    project = replace(demo_six_bar, mount=Mount(base=BASE), wall=Wall(left=HandWall(off, None, 575.0)))
    told = untrued(analyse(project, steps=3), BASE, "left")
    face, front = wall(project, BASE), front_point(project)
    assert told is not None
    assert face is not None
    assert front is not None
    assert told.out_deg == pytest.approx(off)
    b = math.radians(off)
    about_y = np.array([[math.cos(b), 0.0, -math.sin(b)], [0.0, 1.0, 0.0], [math.sin(b), 0.0, math.cos(b)]])
    turned = about_y @ np.array([front[0] - face.at.real, front[1], 0.0])  # pins at larger x: ahead goes outboard
    assert told.front == pytest.approx(turned[2])
    assert abs(told.pins) > 0.0
    assert told.pin in {pivot.id for pivot in project.pivots}


def test_the_pins_are_looked_at_over_the_travel() -> None:
    project = replace(demo_six_bar, mount=Mount(base=BASE), wall=Wall(left=HandWall(9.5)))
    analysis = analyse(project, steps=3)
    told = untrued(analysis, BASE, "left")
    face = wall(project, BASE)
    assert told is not None
    assert face is not None
    shut = max(abs(pivot.at[0] - face.at.real) for pivot in project.pivots) * math.sin(math.radians(9.5))
    assert abs(told.pins) >= shut - 1e-9


def test_a_wall_that_leans_into_what_moves_is_told_and_one_as_drawn_is_not() -> None:
    project = replace(demo_six_bar, mount=Mount(base=BASE), wall=Wall(left=HandWall(0.0, None, 500.0)))
    assert wall_meets(analyse(project, steps=3), BASE, "left") == ()
    leaning = replace(project, wall=Wall(left=HandWall(0.0, -50.0, 500.0)))
    found = wall_meets(analyse(leaning, steps=3), BASE, "left")
    assert found
    assert all(deep > 0.5 for _, deep in found)
    for lean, meets in ((3.0, ()), (20.0, ("short link",))):  # about y = 218; the short link comes to x = 18 at y = 132
        away = replace(project, wall=Wall(left=HandWall(0.0, lean, 500.0)))
        assert tuple(link for link, _ in wall_meets(analyse(away, steps=3), BASE, "left")) == meets


def test_a_wall_off_square_is_nearest_at_the_centreline_or_at_the_outer_edge() -> None:
    project = replace(demo_six_bar, loads=Loads(across=1350.0), wall=Wall(left=HandWall(9.5, None, 575.0)))
    assert nearest_elsewhere(project, BASE, "left") == ("centreline", pytest.approx(96.22, abs=0.005))  # 575 tan 9.5°
    nearer = replace(project, wall=Wall(left=HandWall(-9.5, None, 575.0)))
    assert nearest_elsewhere(nearer, BASE, "left") == ("outer edge", pytest.approx(16.73, abs=0.005))  # 100 tan 9.5°
    for unknown in (Wall(), Wall(left=HandWall(-9.5, None, 700.0))):
        assert nearest_elsewhere(replace(project, wall=unknown), BASE, "left") is None
