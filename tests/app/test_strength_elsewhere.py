"""A check of strength where other checks are told: put right, and what a pin does to the worst check."""

from __future__ import annotations

from dataclasses import replace

from app.influence_words import influence_sentence
from app.mend_words import fight_sentence, refusal
from kinematics.influence import Influence
from kinematics.mending import Fight, Mended
from kinematics.results import Check
from tests.specimens import demo_six_bar

WEAK = Check("strength", ("X",), 2.0, 1.4, False, -0.6, 12.3, (0.0, 0.0), side="pin bending")


def test_put_right_says_what_no_place_of_the_pins_makes_strong_enough() -> None:
    said = refusal(Mended(demo_six_bar, {}, False, (Fight(WEAK, 0.6),), why="fight"), "mm")
    assert said.startswith(
        "Put right moves pins, and near their places none makes this strong enough: pin X, bending. Change pins, plates"
    )


def test_what_must_be_given_is_a_safety_and_no_length() -> None:
    gap = replace(WEAK, kind="gap", subject=("a", "b"), side="", want=6.0, have=4.0)
    said = fight_sentence((Fight(WEAK, 0.6), Fight(gap, 0.0)), "in")
    assert "pin X, bending (2)" in said
    assert "0.6 of pin X" in said


def test_what_a_pin_does_is_a_safety_and_no_length() -> None:
    said = influence_sentence(Influence(WEAK, (0.0, 0.25)), "mm")
    assert "1 mm up gives it 0.25 more safety" in said
