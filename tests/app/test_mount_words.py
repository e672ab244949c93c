"""What is said of mounts: a sentence for every fault, figures in the builder's units, adjusters by name."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.hardware import hardware
from app.mount_words import (
    FAULTS,
    NAMES,
    adjuster_name,
    base_sentences,
    bracket_sentences,
    effect_sentence,
    fault_sentences,
    left_words,
    moved_words,
    ratio,
    rest_sentence,
    stop_sentences,
    turning_sentences,
)
from kinematics import analyse
from kinematics.adjusting import BOLTED, adjusting, alone, which
from kinematics.fittings import Stop
from kinematics.loads import Loads
from kinematics.mount_parts import Base, Bracket, StopPart
from kinematics.mounting import MountFault, base_made, bracket_made
from kinematics.stop_made import stop_made
from tests.specimens import demo_six_bar

BRACKET, BASE = Bracket(at=(90.0, 330.0), skin_deg=0.0), Base()


@pytest.mark.parametrize("kind", FAULTS)
def test_every_fault_is_a_sentence_with_its_figures(kind: str) -> None:
    (said,) = fault_sentences([MountFault(kind, "base", "O1", 1.234, 5.0)], "mm")
    assert said.startswith("✗ ")
    assert said.endswith((".", ")"))
    assert "{" not in said
    assert ("1.2 mm" in said) is ("{have}" in FAULTS[kind])


def test_an_eye_past_its_seat_is_no_negative_way_off_it() -> None:
    (said,) = fault_sentences([MountFault("behind", "base", "O1", -24.0, 0.0)], "mm")
    assert said.startswith("✗ The eye of O1 reaches 24.0 mm past the seat of the base")


def test_faults_stand_before_cautions() -> None:
    said = fault_sentences([MountFault("weld thin", "base", "", 1.0, 2.0, True), MountFault("tabs", "base")], "mm")
    assert [each[0] for each in said] == ["✗", "⚠"]


def test_bracket_and_base_are_told_in_the_builders_units() -> None:
    bracket, base = bracket_made(demo_six_bar, BRACKET, hardware()), base_made(demo_six_bar, BASE, hardware())
    assert bracket is not None
    assert base is not None
    told = bracket_sentences(bracket, "mm")
    assert told[0] == "The skin lies at 0°, as typed, or taken off the pins where nothing is drawn."
    assert told[2].startswith("Bent by 90° about 4.0 mm inside, k 0.325: 8.325 mm in the bend")
    base_told = base_sentences(base, "mm")
    assert base_told[0] == "The wall lies at 90°, read off “screen and sill”."
    assert "6 × M8 in slots 9.0 × 17.0 mm; tap drill 6.8 mm." in base_told[1]
    assert "mm" not in " ".join(base_sentences(base, "in"))


def test_a_stop_is_told_with_its_screw() -> None:
    project = replace(demo_six_bar, loads=Loads(stop=Stop(("bulkhead", "arm"), 40.0, 60.0)))
    made = stop_made(analyse(project, steps=2), StopPart(kind="screw"))
    assert made is not None
    first, second = stop_sentences(made, "mm")
    assert first.startswith("A screw of 10.0 mm on “bulkhead” at x ")
    assert "of opening" in second


def test_adjusters_are_told_by_name_with_what_is_left() -> None:
    assert set(NAMES) == {*BOLTED, "rest"}
    told = adjusting(analyse(demo_six_bar, steps=2), BRACKET, BASE, (50.0, 90.0))
    assert told is not None
    first = told.effects[0]
    assert adjuster_name(first) == "Slot fore and aft"
    assert left_words(first, "mm") == "4.0 mm panel forwards, 4.0 mm panel back"
    assert left_words(told.effects[-1], "mm") == "as far as its thread goes"
    assert "shut +1, smallest in travel +1." in effect_sentence(told, first, "mm")
    assert "lies on its front edge" in rest_sentence(told)
    assert "its turn is kept" in rest_sentence(replace(told, rest=None))
    said = turning_sentences(told, 0, 1.0, alone(told, 0, 1.0), which(told, {0: 1.0}), "mm")
    assert said[0] == "One of these is enough:"
    assert said[1] in ("Slot fore and aft: 1.0 mm, panel forwards.", "Shims at the wall: 1.0 mm, more.")
    far = turning_sentences(told, 0, 90.0, alone(told, 0, 90.0)[1:2], which(told, {0: 90.0}), "mm")
    assert "beyond what is left" in far[0]
    assert turning_sentences(told, 0, 1.0, (), None, "mm") == ["No adjuster changes this gap."]


def test_ratios_have_a_sign_and_two_digits() -> None:
    assert (ratio(0.996, "mm"), ratio(-0.256, "mm"), ratio(0.001, "mm")) == ("+1", "−0.26", "0")
    assert moved_words(None, "mm") == "—"
