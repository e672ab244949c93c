"""Poses carry points as rigid bodies do."""

from __future__ import annotations

import math
import pickle

import numpy as np
import pytest

import kinematics
from kinematics.results import Listed, Pose
from tests import specimens


def test_a_pose_turns_about_the_origin_and_then_shifts() -> None:
    """P goes to R(turn)·p + (dx, dy): (10, 0) turned by 90° and shifted by (1, 2) comes to (1, 12)."""
    pose = Pose(0.0, 0.0, np.array([0.0, 0.5 * math.pi]), np.array([0j, 1 + 2j]))
    assert pose.place(0, (3.0, 4.0)) == (3.0, 4.0)
    assert pose.place(1, (10.0, 0.0)) == pytest.approx((1.0, 12.0), rel=0, abs=1e-12)
    assert pose.places(1, np.array([[10.0, 0.0], [0.0, 10.0]])) == pytest.approx(
        np.array([[1.0, 12.0], [-9.0, 2.0]]), rel=0, abs=1e-12
    )


def test_links_stay_rigid() -> None:
    analysis = kinematics.analyse(specimens.watt_a21)
    points = np.array([[10.0, -70.0], [250.0, 140.0], [-33.0, 8.0]])
    apart = np.hypot(*(points - np.roll(points, 1, axis=0)).T)
    for deg in (0.0, 3.3, 15.0):
        for column in range(len(analysis.links)):
            z = analysis.pose(deg).places(column, points)
            assert np.hypot(*(z - np.roll(z, 1, axis=0)).T) == pytest.approx(apart, rel=0, abs=1e-10)


def test_a_list_is_made_when_it_is_asked_for_and_sent_as_a_plain_one() -> None:
    made: list[int] = []

    def make(place: int) -> str:
        made.append(place)
        return "abc"[place]

    found = Listed(3, make)
    assert (len(found), made) == (3, [])
    assert (found[-1], found[2], made) == ("c", "c", [2])
    assert found[:2] == ("a", "b")
    assert found == ("a", "b", "c")
    assert found != ("a", "b")
    assert pickle.loads(pickle.dumps(found)) == ("a", "b", "c")
    assert made == [2, 0, 1]
    with pytest.raises(IndexError):
        found[3]
