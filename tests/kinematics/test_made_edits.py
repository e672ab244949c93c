"""Readings typed, changed and taken out again, each edit sharing what it leaves alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics import made_edits as edits
from kinematics.errors import ProjectError
from kinematics.made_parts import FoundAt, HandMade, MadeDistance, MadeSheet, OnPin, Turned
from tests.specimens import demo_six_bar, with_everything


def test_readings_come_change_and_go() -> None:
    one = edits.set_distance(demo_six_bar, "left", "arm", ("O1", "X"), 47.0)
    one = edits.set_distance(one, "left", "arm", ("X", "O1"), 47.2)
    one = edits.set_found(
        edits.set_found(one, "left", "bulkhead", "O1", "y", 257.5), "left", "bulkhead", "O1", "off", 9.0
    )
    one = edits.set_sheet(edits.set_sheet(one, "left", "arm", 4.0), "left", "arm", 4.1)
    one = edits.set_on_pin(edits.set_on_pin(one, "left", "X", more=1.6), "left", "X", play=0.1)
    one = edits.turn_adjusters(
        edits.turn_adjusters(one, "left", {"height": 0.5}), "left", {"height": 0.25, "rest": -1.0}
    )
    said = HandMade(
        "left",
        (MadeDistance("arm", ("O1", "X"), 47.2),),
        (FoundAt("bulkhead", "O1", y=257.5, off=9.0),),
        (MadeSheet("arm", 4.1),),
        (OnPin("X", 1.6, 0.1),),
        (Turned("height", 0.75), Turned("rest", -1.0)),
    )
    assert one.made.of("left") == said
    assert one.pivots is demo_six_bar.pivots
    both = edits.copy_hand(one, "left", "right")
    assert both.made.of("right") == replace(said, hand="right")
    assert [made.hand for made in both.made.hands] == ["left", "right"]
    assert edits.set_sheet(one, "left", "arm", 4.1) is one
    gone = edits.set_distance(edits.set_sheet(one, "left", "arm", None), "left", "arm", ("O1", "X"), None)
    gone = edits.set_found(
        edits.set_found(gone, "left", "bulkhead", "O1", "y", None), "left", "bulkhead", "O1", "off", None
    )
    gone = edits.set_on_pin(edits.set_on_pin(gone, "left", "X", more=None), "left", "X", play=None)
    gone = edits.turn_adjusters(gone, "left", {"height": -0.75, "rest": 1.0})
    assert gone == demo_six_bar
    assert edits.forget_hand(one, "left") == demo_six_bar
    assert edits.show_built(edits.show_built(demo_six_bar, shown=True), shown=False) == demo_six_bar


def test_what_this_version_doesnt_know_stays_with_what_it_is_of() -> None:
    made = edits.set_distance(with_everything, "left", "arm", ("O1", "X"), 47.0).made.of("left")
    assert made.distances[0].unknown == with_everything.made.of("left").distances[0].unknown
    assert edits.forget_hand(with_everything, "left").made.unknown == with_everything.made.unknown


def test_what_cant_be_is_refused_and_an_unsound_value_never_written_over() -> None:
    with pytest.raises(ProjectError, match="distance is 0"):
        edits.set_distance(demo_six_bar, "left", "arm", ("O1", "X"), 0.0)
    with pytest.raises(ProjectError, match="isn't sound"):
        edits.set_sheet(replace(demo_six_bar, as_made=[1]), "left", "arm", 4.0)
