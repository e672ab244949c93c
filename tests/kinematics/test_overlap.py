"""Signed gaps: apart, crossing, pierced, swallowed; and that the way told really makes more gap."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.bodies import bodies
from kinematics.overlap import Partings, partings
from kinematics.project import GapWant, Link, Outline, Project, Travel


def looked(one: Outline, other: Outline, shift: complex = 0j, turn: float = 0.0) -> Partings:
    """The signed gap of two outlines, the second shifted and turned."""
    project = Project(
        links=(Link("a", "fixed"), Link("b", "panel")),
        outlines=(one, other),
        gaps=(GapWant((one.id, other.id), 1.0),),
        travel=Travel("anticlockwise", 10.0),
    )
    found = bodies(project, {"a": 0, "b": 1}, {})
    e, shifts = np.array([[1.0, np.exp(1j * turn)]]), np.array([[0j, shift]])
    return partings(found[one.id], found[other.id], e, shifts)


WALL = Outline("wall", "a", ((0.0, -200.0), (0.0, 200.0)))
BLOCK = Outline("block", "a", ((-100.0, -100.0), (0.0, -100.0), (0.0, 100.0), (-100.0, 100.0)), closed=True)


def square(size: float) -> Outline:
    half = 0.5 * size
    return Outline("square", "b", ((-half, -half), (half, -half), (half, half), (-half, half)), closed=True)


def test_apart_it_is_the_gap_less_the_pens() -> None:
    pen = Outline("pen", "b", ((0.0, 0.0), (50.0, 0.0)), half_width=2.0)
    found = looked(WALL, pen, 12.0 + 5j)
    assert found.gaps[0] == pytest.approx(10.0)
    assert found.along[0] == pytest.approx(1.0)


def test_pens_that_overlap_without_their_lines() -> None:
    pen = Outline("pen", "b", ((0.0, 0.0), (50.0, 0.0)), half_width=7.0)
    assert looked(WALL, pen, 4.0 + 5j).gaps[0] == pytest.approx(-3.0)


@pytest.mark.parametrize(("wall", "depth"), [(WALL, 8.0), (BLOCK, 8.0)])
def test_a_corner_that_pokes_through(wall: Outline, depth: float) -> None:
    """A square on its corner, 8 beyond the face: back it goes, along +x."""
    reach = 20.0 * np.sqrt(2.0)
    found = looked(wall, square(40.0), reach - 8.0, np.pi / 4)
    assert found.gaps[0] == pytest.approx(-depth, abs=1e-9)
    assert found.along[0] == pytest.approx(1.0)


def test_a_thin_board_right_through_a_wall_is_as_deep_as_its_end_reaches() -> None:
    """6 thick and 30 beyond: half the thickness would be no measure of the way back."""
    board = Outline("board", "b", ((-30.0, -3.0), (400.0, -3.0), (400.0, 3.0), (-30.0, 3.0)), closed=True)
    found = looked(WALL, board)
    assert found.gaps[0] == pytest.approx(-30.0)
    assert found.along[0] == pytest.approx(1.0)


def test_the_end_of_an_open_line_that_pokes_through() -> None:
    line = Outline("line", "b", ((-4.0, 3.0), (300.0, 10.0)))
    found = looked(WALL, line)
    assert found.gaps[0] == pytest.approx(-4.0)
    assert found.along[0] == pytest.approx(1.0)


def test_one_that_is_swallowed_is_deep_without_any_crossing() -> None:
    found = looked(BLOCK, square(20.0), -30.0)
    assert found.gaps[0] <= -30.0
    assert abs(found.along[0]) == pytest.approx(1.0)


@pytest.mark.parametrize("seed", range(20))
def test_going_the_way_told_makes_as_much_more_gap(seed: int) -> None:
    """By 0.01 mm along the way, the signed gap grows by 0.01, where the deepest place stays the same one."""
    dice = np.random.default_rng(seed)
    shift, turn = complex(*dice.uniform(-40.0, 40.0, 2)), float(dice.uniform(0.0, 1.5))
    first = looked(BLOCK, square(50.0), shift, turn)
    if first.along[0] == 0.0:
        return
    then = looked(BLOCK, square(50.0), shift + 0.01 * complex(first.along[0]), turn)
    assert then.gaps[0] - first.gaps[0] == pytest.approx(0.01, abs=1e-6)
