"""Room: floor and roof are heights that make sense, and what doesn't is refused by name and place."""

from __future__ import annotations

import pytest

from kinematics.errors import ProjectError
from kinematics.project import FrontEdge, Room, ShutWant


def test_heights_are_plain_floats() -> None:
    room = Room(-640, 1560, FrontEdge("nose", 1800))
    assert (room.floor, room.roof) == (-640.0, 1560.0)
    assert all(type(height) is float for height in (room.floor, room.roof))
    assert room.front_edge is not None
    assert type(room.front_edge.at_least) is float
    assert Room() == Room(None, None, None)


@pytest.mark.parametrize(
    ("floor", "roof", "front", "says"),
    [
        (0.0, 0.0, None, ("room", "0 mm", "not above")),
        (10.0, -10.0, None, ("10 mm", "-10 mm", "upwards")),
        (float("nan"), None, None, ("floor", "finite")),
        (None, 1e6, None, ("roof", "100,000")),
        (None, 5.0, FrontEdge(), ("front_edge", "no floor")),
    ],
)
def test_what_makes_no_room_is_refused(
    floor: float | None, roof: float | None, front: FrontEdge | None, says: tuple[str, ...]
) -> None:
    with pytest.raises(ProjectError) as caught:
        Room(floor, roof, front)
    assert all(word in str(caught.value) for word in says)


@pytest.mark.parametrize(
    ("sides", "says"),
    [
        ({}, "neither at_least nor at_most"),
        ({"at_least": -1.0}, "negative"),
        ({"at_most": 0.0}, "greater than 0"),
        ({"at_least": 5.0, "at_most": 4.0}, "at_least is 5 and at_most 4"),
        ({"at_least": "3/16"}, "number"),
    ],
)
def test_a_shut_gap_that_nothing_meets_is_refused(sides: dict[str, float], says: str) -> None:
    with pytest.raises(ProjectError, match=says):
        ShutWant(**sides)


def test_a_shut_gap_may_have_one_side_or_both_at_one_width() -> None:
    assert ShutWant(at_most=6).at_most == 6.0
    assert ShutWant(4, 4) == ShutWant(4.0, 4.0)
