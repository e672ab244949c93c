"""Two hinges out of parallel: nothing without toe, even growth, where they bind, and what just doesn't."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.hardware import hardware
from kinematics import analyse
from kinematics.loads import Loads
from kinematics.mount_parts import Base
from kinematics.project import Sureness
from kinematics.toeing import most_toe, plays_of, toe, toe_without
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.analysis import Analysis

BASE = Base()


@pytest.fixture(scope="module")
def analysis() -> Analysis:
    loads = Loads(hinges=2, spacing=1150.0)
    wall = Wall(left=HandWall(8.0), right=HandWall(9.5))
    return analyse(replace(demo_six_bar, loads=loads, wall=wall, sureness=Sureness(0.0, 0.1)), steps=5)


def test_the_share_grows_with_toe_and_says_where_it_binds(analysis: Analysis) -> None:
    plays = plays_of(analysis.project, hardware())
    assert {each.play for each in plays.values()} == {0.1}
    none = toe(analysis, BASE, (0.0, 0.0), plays)
    assert none is not None
    assert max(none.shares) == pytest.approx(0.0, abs=1e-9)
    assert none.binds_deg is None
    small, double = (toe(analysis, BASE, (each, each), plays) for each in (0.1, 0.2))
    assert small is not None
    assert double is not None
    assert max(double.shares) == pytest.approx(2.0 * max(small.shares), rel=0.01)
    assert small.most_deg is not None
    just = toe(analysis, BASE, (small.most_deg, small.most_deg), plays)
    assert just is not None
    assert max(just.shares) == pytest.approx(1.0, rel=0.02)
    assert most_toe(analysis, BASE, plays) == small.most_deg


def test_an_untrued_wall_binds_early(analysis: Analysis) -> None:
    assert toe_without(analysis.project, BASE) == pytest.approx((8.0, 9.5))
    plays = plays_of(analysis.project, hardware())
    bare = toe(analysis, BASE, (8.0, 9.5), plays)
    assert bare is not None
    assert bare.binds_deg is not None
    assert 0.0 < bare.binds_deg < 30.0
    doubled = {pin: replace(each, play=2 * each.play, end_float=2 * each.end_float) for pin, each in plays.items()}
    later = toe(analysis, BASE, (8.0, 9.5), doubled)
    assert later is not None
    assert later.binds_deg is not None
    assert later.binds_deg > bare.binds_deg
    assert later.shares[-1] == pytest.approx(bare.shares[-1] / 2.0)


def test_nobody_knows_how_far_the_hinges_are_apart(analysis: Analysis) -> None:
    project = replace(analysis.project, loads=None)
    assert toe(analyse(project, steps=2), BASE, (1.0, 1.0), plays_of(project, hardware())) is None
    one = replace(project, loads=Loads(hinges=1, spacing=1150.0))
    assert toe(analyse(one, steps=2), BASE, (1.0, 1.0), plays_of(one, hardware())) is None
