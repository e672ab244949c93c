"""Angles of a wall as they are typed, and what is said of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.wall_words import (
    EACH,
    INCLUDED,
    TOGETHER,
    each_of,
    echo_words,
    edge_words,
    given_of,
    lean_sentence,
    nearer_sentence,
    step_sentence,
)
from kinematics.errors import HingewrightError
from kinematics.mount_parts import Base
from kinematics.untrued import centre_rise
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import demo_six_bar


@pytest.mark.parametrize(
    ("given", "text", "each"), [(EACH, "9.5", 9.5), (TOGETHER, "19", 9.5), (INCLUDED, "161°", 9.5)]
)
def test_the_three_ways_to_know_an_angle_come_to_the_same(given: str, text: str, each: float) -> None:
    assert each_of(text, given) == pytest.approx(each)
    assert given_of(-each, given) == pytest.approx(each_of(text, EACH) if given == EACH else float(text.rstrip("°")))


def test_an_angle_included_on_the_other_side_of_the_wall_is_the_same_wall() -> None:
    assert each_of("199", INCLUDED) == pytest.approx(9.5)


def test_who_types_the_angle_included_as_another_one_is_led_to_the_choice() -> None:
    for given in (EACH, TOGETHER):
        with pytest.raises(HingewrightError, match="161° is the angle included between the halves, choose that above"):
            each_of("161", given)
    with pytest.raises(HingewrightError, match="89° off flat, choose that above"):
        each_of("89", INCLUDED)


def test_a_lean_that_isnt_drawn_is_a_fault_of_a_shim_and_feet_take_it_up() -> None:
    assert lean_sentence(0.0, 0.0, "shim", "mm") == ""
    assert lean_sentence(0.0, 10.0, "shim", "mm").startswith("✗ The wall is drawn leaning by 0°")
    assert "taper by 10° up and down" in lean_sentence(0.0, 10.0, "shim", "mm")
    assert "its feet take up the rest" in lean_sentence(0.0, 10.0, "foot", "mm")


def test_walls_that_miss_each_other_at_the_centreline_are_told() -> None:
    """575·tan 6° = 60.4 and 575·tan 8° = 80.8: the right wall ends 20.4 nearer to the panel."""
    project = replace(demo_six_bar, wall=Wall(left=HandWall(6.0, None, 575.0), right=HandWall(8.0, None, 575.0)))
    left, right = (centre_rise(project, Base(), hand) for hand in ("left", "right"))
    assert left is not None
    assert right is not None
    said = step_sentence(left, right, "mm")
    assert "at the centreline by 20.4 mm" in said
    assert "pack the right base" in said
    assert step_sentence(left, left, "mm") == ""


def test_walls_are_echoed_with_their_thick_ends() -> None:
    assert echo_words(Wall(), "mm") == "Square on either side: nothing to true."
    assert echo_words(Wall(right=HandWall(-9.5)), "mm") == "9.5° each side, thick end inboard."
    both = Wall(left=HandWall(0.0), right=HandWall(3.25))
    assert echo_words(both, "mm") == "Left square; right 3.25°, thick end outboard."
    assert [edge_words("left", end) for end in ("outboard", "inboard")] == ["left", "right"]
    assert [edge_words("right", end) for end in ("outboard", "inboard")] == ["right", "left"]
    assert nearer_sentence(None, "mm") == nearer_sentence(("centreline", 0.0), "mm") == ""
    assert "At the panel's outer edge the left wall stands 4.0 mm nearer" in nearer_sentence(
        ("outer edge", 4.0), "mm", "the left"
    )
