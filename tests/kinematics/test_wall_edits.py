"""Edits of how the wall stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics.errors import ProjectError
from kinematics.wall_edits import are_alike, begin_wall, drop_wall, set_alike, set_hand, set_wall
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import demo_six_bar


def test_one_side_is_said_until_they_part() -> None:
    begun = begin_wall(demo_six_bar)
    assert begun.wall == Wall(left=HandWall())
    assert begin_wall(begun) is begun
    bent = set_hand(begun, "right", off_deg=9.5)
    assert are_alike(bent)
    assert bent.walled.side("left") == HandWall(9.5)
    own = set_hand(set_alike(bent, False), "right", off_deg=4.0)
    assert (own.walled.side("left").off_deg, own.walled.side("right").off_deg) == (9.5, 4.0)
    assert set_alike(own, False) is own
    assert set_alike(own, True).walled == Wall(left=HandWall(9.5))
    assert set_wall(own, trued="shim").walled.trued == "shim"
    assert set_wall(own, trued="foot") is own
    assert drop_wall(own).wall is None
    assert drop_wall(demo_six_bar) is demo_six_bar


def test_what_cannot_be_is_a_sentence_and_an_unsound_wall_is_kept() -> None:
    with pytest.raises(ProjectError, match="45° either way"):
        set_hand(begin_wall(demo_six_bar), "left", off_deg=46.0)
    with pytest.raises(ProjectError, match="nothing is said"):
        set_wall(demo_six_bar, trued="shim")
    unsound = replace(demo_six_bar, wall={"left": "x"})
    for edit in (begin_wall, drop_wall):
        with pytest.raises(ProjectError, match="isn't sound"):
            edit(unsound)
