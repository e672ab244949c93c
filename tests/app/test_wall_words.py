"""Angles of a wall as they are typed, and what is said of it."""

from __future__ import annotations

import pytest

from app.wall_words import EACH, INCLUDED, TOGETHER, each_of, echo_words, edge_words, given_of, nearer_sentence
from kinematics.errors import HingewrightError
from kinematics.wall_parts import HandWall, Wall


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
