"""What is said of hinges as built, and what the report tells of them."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from app.made_words import apart_sentences, doubt_sentence, float_words, misfit_sentence, redrill_sentences
from app.report import as_dict, as_text
from kinematics import analyse
from kinematics.built_beside import Apart, PinBeside, beside_of
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, MadeSheet, OnPin
from kinematics.made_shapes import Misfit, Reading
from kinematics.plating import sheet_of
from kinematics.putting_back import Redrilled
from tests.app.sharing import demo, shared_analyse

LONG = MadeDistance("lift link", ("Q", "P2"), 156.0)


@pytest.mark.parametrize(
    ("left", "said"),
    [
        (0.2, "Pin X: end float 0.2 mm (0.23 mm drawn)."),
        (0.05, "! Pin X: end float 0.05 mm (0.23 mm drawn): it may bind. Take 0.05 mm or more out."),
        (-0.4, "✗ Pin X: end float −0.4 mm (0.23 mm drawn): it doesn't go on. Take 0.5 mm or more out."),
        (0.9, "! Pin X: end float 0.9 mm (0.23 mm drawn): loose. Put 0.6 mm or more of shims in."),
    ],
)
def test_end_floats_say_what_to_do(left: float, said: str) -> None:
    assert float_words(PinBeside("X", (20.0, 20.23 - left), (0.23, left), None), "mm") == said


def test_readings_that_contradict_and_that_are_far_off_are_told() -> None:
    reading = Reading("distance", "arm", ("O1", "X"), 46.82, 47.2)
    assert misfit_sentence(Misfit(reading, 47.05), "mm") == (
        "arm: O1–X reads 47.2 mm, the others together ask for 47.05 mm."
    )
    assert doubt_sentence(reading, "mm") == ""
    assert "Is it the right pin?" in doubt_sentence(replace(reading, made=74.2), "mm")


def test_left_against_right_is_told_by_where_and_by_what_it_does() -> None:
    told = Apart(0.5 + 1.0j, 0.02j, 0.1, 1.2, 30.0, 0.3, 1.4)
    said = apart_sentences(told, "mm")
    assert said[0].endswith("the rear corner 0.5 mm right and 1 mm up, the front edge at the same place.")
    assert "1.2 mm apart at most, at 30°" in said[1]
    assert "front edge 0.3 mm to the side" in said[2]
    assert apart_sentences(None, "mm") == []
    assert len(apart_sentences(replace(told, askew=None), "mm")) == 2


def test_a_hole_to_drill_anew_is_told_by_its_distances() -> None:
    analysis = shared_analyse(demo())
    now = beside_of(demo(), HandMade("left"), near=analysis)
    hole = Redrilled(("arm", "X"), 0.26 - 0.16j, (("O1", 46.8188, 46.8813),), analysis)
    first = redrill_sentences(analysis, now, hole, "mm")[0]
    assert first == "Fill the hole of X in arm and drill it 0.31 mm away: 46.88 mm from O1 (46.82 mm now)."
    fixed = redrill_sentences(analysis, now, replace(hole, hole=("bulkhead", "O1")), "mm")[0]
    assert "0.26 mm right and 0.16 mm down of where it is" in fixed
    assert "make the worst plate anew" in redrill_sentences(analysis, now, None, "mm")[0]


def test_the_report_tells_both_hinges_beside_what_is_drawn() -> None:
    sheet = MadeSheet("arm", sheet_of(demo(), "arm")[0] + 0.3)
    left = HandMade("left", (), (FoundAt("bulkhead", "O1", y=257.8),), (sheet,), (OnPin("X", 0.5),))
    project = replace(demo(), as_made=AsMade((left, HandMade("right", (LONG,)))))
    analysis = analyse(project, steps=3)
    told = json.loads(json.dumps(as_dict(project, analysis), allow_nan=False))["as_made"]
    assert [hand["hand"] for hand in told["hands"]] == ["left", "right"]
    gap = told["hands"][1]["gaps"][0]
    assert gap["shut"][0] == pytest.approx(12.0)
    assert gap["shut"][1] < 11.0
    x = next(pin for pin in told["hands"][0]["pins"] if pin["pivot"] == "X")
    assert x["end_float"][1] == pytest.approx(x["end_float"][0] - 0.8)
    assert "end_float" not in told["hands"][1]["pins"][0]
    assert told["apart"]["worst"] > 0.1
    text = as_text(project, analysis)
    assert "\nAs made\n-------\nLeft hinge:\n" in text
    assert "✗ Pin X: end float" in text
    assert "As made" not in as_text(demo(), shared_analyse(demo()))
    cant = replace(demo(), as_made=AsMade((HandMade("left", (MadeDistance("arm", ("O1", "X"), 10.0),)),)))
    found = as_dict(cant, analyse(cant, steps=3))["as_made"]
    assert "can't be put together" in found["hands"][0]["fault"]
    assert found["apart"] is None
