"""Holes on the wall: distances by trigonometry typed here, left and right alike, one plate's pattern kept."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from app.hardware import hardware
from kinematics.mount_parts import Base, Mount
from kinematics.setting_out import SetOut, drilling_order, set_out
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import demo_six_bar


def laid(off: float = 9.5, lean: float | None = None, **more: object) -> SetOut:
    wall = Wall(right=HandWall(off, lean, 575.0), level=100.0, **more)  # type: ignore[arg-type]
    project = replace(demo_six_bar, mount=Mount(base=Base(plate=6.0, shims=1.0)), wall=wall)
    found = set_out(project, hardware(), "right")
    assert found is not None
    return found


def test_along_and_square_are_two_things() -> None:
    """The plate lies on the wall and its webs stand on it 7 mm before it, so its middle lies 7·sin 9.5° to the side."""
    found = laid()
    square = 575.0 - 7.0 * math.sin(math.radians(9.5))
    assert found.middle.square == pytest.approx(square, abs=1e-9)
    assert found.middle.along == pytest.approx(square / math.cos(math.radians(9.5)), abs=1e-9)
    assert found.middle.height == pytest.approx(found.middle.up)  # the wall stands plumb
    outer = max(found.bolts, key=lambda spot: spot.square)
    across = max(abs(bolt.real) for bolt in found.base.bolts)
    assert outer.along - found.middle.along == pytest.approx(across)
    assert outer.square - found.middle.square == pytest.approx(across * math.cos(math.radians(9.5)))


def test_heights_are_plumb_and_longer_along_a_wall_that_leans() -> None:
    found = laid(0.0, 20.0)
    for spot in found.bolts:
        assert spot.up == pytest.approx(spot.height / math.cos(math.radians(20.0)))


@pytest.mark.parametrize("trued", ["foot", "shim"])
@pytest.mark.parametrize(("off", "lean"), [(0.0, None), (9.5, None), (-20.0, 15.0)])
def test_a_ground_base_keeps_its_pattern_and_a_shim_stretches_it(trued: str, off: float, lean: float | None) -> None:
    found = laid(off, lean, trued=trued)
    have = sorted(math.dist((a.along, a.up), (b.along, b.up)) for a, b in combinations(found.bolts, 2))
    plate = sorted(abs(a - b) for a, b in combinations(found.base.bolts, 2))
    if trued == "foot" or (off, lean) == (0.0, None):
        assert have == pytest.approx(plate, abs=1e-9)
    else:
        assert max(have) > max(plate)


def test_every_spot_lies_on_the_wall_and_both_its_figures_say_so() -> None:
    for trued in ("foot", "shim"):
        found = laid(-20.0, 15.0, trued=trued)
        for spot in (found.middle, *found.bolts):
            point = found.plane.placed(np.array([[spot.along, spot.up, 0.0]]))[0]
            assert (point[2], point[1] - 100.0) == pytest.approx((spot.square, spot.height), abs=1e-9)


def test_a_level_tape_reads_square_by_the_cosine_at_every_height_of_a_wall_that_leans_too() -> None:
    """The centreline runs aslant up such a wall, so that a figure counted from the level line's would be mm off."""
    found = laid(-20.0, 15.0)
    for spot in found.bolts:
        assert found.taped(spot) == pytest.approx(spot.square / math.cos(math.radians(20.0)), abs=1e-9)
    assert max(abs(found.taped(spot) - spot.along) for spot in found.bolts) > 3.0


def test_nobody_knows_where_the_hinge_is_then_all_counts_from_its_middle() -> None:
    bare = replace(demo_six_bar, mount=Mount(base=Base()), loads=None, wall=Wall(left=HandWall(9.5)))
    found = set_out(bare, hardware(), "left")
    assert found is not None
    assert found.from_middle
    assert set_out(demo_six_bar, hardware(), "left") is None


def test_holes_are_drilled_far_from_each_other_first() -> None:
    places = np.array([[0.0, 0], [10.0, 0], [0.0, 20], [10.0, 20]])
    assert drilling_order(places) == [0, 3, 1, 2]


def test_diagonals_are_those_between_the_corners() -> None:
    found = laid()
    at = {spot.name: (spot.along, spot.up) for spot in found.bolts}
    assert len(found.diagonals) == 6
    for each in found.diagonals:
        assert each.length == pytest.approx(math.dist(at[each.one], at[each.other]))
    assert found.diagonals[0].length == pytest.approx(found.diagonals[1].length)
