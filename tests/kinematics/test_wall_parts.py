"""How the wall stands: refused where it makes no sense, kept in files whatever it is."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from app.files.project_file import read, written
from app.files.project_json import build_faults
from kinematics.errors import ProjectError
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import empty

if TYPE_CHECKING:
    from collections.abc import Callable

REFUSED: dict[str, Callable[[], object]] = {
    "the angle off square is 46°": lambda: HandWall(46.0),
    "the lean is -61°": lambda: HandWall(0.0, -61.0),
    "from_centre is 0": lambda: HandWall(from_centre=0.0),
    "trued is": lambda: Wall(trued="glue"),
    "depth is -1": lambda: Wall(depth=-1.0),
    "lines is 0": lambda: Wall(lines=0.0),
}


@pytest.mark.parametrize("said", REFUSED)
def test_what_makes_no_sense_is_refused_in_a_sentence(said: str) -> None:
    with pytest.raises(ProjectError) as fault:
        REFUSED[said]()
    assert said in str(fault.value)


def test_a_side_nobody_speaks_of_is_as_the_other() -> None:
    assert Wall(left=HandWall(9.5)).side("right") == HandWall(9.5)
    assert Wall(right=HandWall(9.5), left=HandWall(8.0)).side("left") == HandWall(8.0)
    assert Wall().side("left") == HandWall()


@pytest.mark.parametrize(
    ("value", "sound"),
    [({"bevel_deg": 9.5}, True), ("x", False), ({"left": {"off_deg": 50}}, False), ({"left": {"off_deg": 9.5}}, True)],
)
def test_what_a_file_holds_is_kept_whatever_it_is(value: object, sound: bool) -> None:
    data = json.loads(written(empty)) | {"wall": value}
    project = read(json.dumps(data).encode(), "a.hinge")
    assert isinstance(project.wall, Wall) is sound
    assert bool(build_faults(project)) is not sound
    kept = json.loads(written(project))["wall"]
    assert kept == ({**kept, **value} if sound and isinstance(value, dict) else value)
    assert project.walled.side("right") == (HandWall(9.5) if sound and "left" in str(value) else HandWall())
