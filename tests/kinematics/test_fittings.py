"""Fittings: what each part takes, and what it says of what it doesn't."""

from __future__ import annotations

import pytest

from kinematics.errors import ProjectError
from kinematics.fittings import Cushion, Latch, Prop, Stop
from kinematics.loads import Loads, WorstCase
from kinematics.parts import Attachment

FOOT, SEAT = Attachment("body", (0.0, 0.0)), Attachment("lid", (300.0, 40.0))


def test_a_seal_pushes_by_its_length_and_a_bump_stop_by_how_many_there_are() -> None:
    seal = Cushion("seal", "seal", "lid", (0.0, 0.0), squeeze=4.0, per_metre=120.0, length=2500.0)
    bumps = Cushion("bumps", "bump stop", "lid", (0.0, 0.0), squeeze=3.0, force=25.0, count=2)
    assert (seal.pushes, bumps.pushes) == (300.0, 50.0)
    assert seal.way_deg == 90.0


def test_a_latch_takes_its_striker_straight_down_unless_it_says_otherwise() -> None:
    assert Latch("lid", (1.0, 2.0)).way_deg == 270.0


REFUSED = {
    "At_deg is 190": lambda: Prop(FOOT, SEAT, 190.0),
    "both ends are on": lambda: Prop(FOOT, FOOT, 75.0),
    "doesn't name two links": lambda: Stop(("arm", "arm"), 77.0, 20.0),
    "arm is 0": lambda: Stop(("arm", "lid"), 77.0, 0.0),
    "per_metre is missing": lambda: Cushion("s", "seal", "lid", (0.0, 0.0), squeeze=4.0, length=900.0),
    "force is missing": lambda: Cushion("s", "bump stop", "lid", (0.0, 0.0), squeeze=4.0),
    "squeeze is 0": lambda: Cushion("s", "bump stop", "lid", (0.0, 0.0), squeeze=0.0, force=10.0),
    "wind is 61 m/s": lambda: WorstCase(wind=61.0),
    "uneven is 0.4": lambda: Loads(uneven=0.4),
    "spacing is -3": lambda: Loads(spacing=-3.0),
}


@pytest.mark.parametrize("said", REFUSED)
def test_what_makes_no_sense_is_refused_in_a_sentence(said: str) -> None:
    with pytest.raises(ProjectError) as fault:
        REFUSED[said]()
    assert said.lower() in str(fault.value).lower()
