"""How sure a gap is, in words: behind a check, among the remarks, in the report, and of hinges that were tried."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from app import report, words
from app.sure_words import sure_gap_words, sure_of, sure_remarks, sure_words, tried_words
from kinematics import analyse, wanting
from kinematics.project import GapWant
from kinematics.results import Check
from kinematics.sampling import Sampled
from kinematics.sureness import Sure
from tests.specimens import ALL, single_pivot

LANE = (np.zeros(1), np.zeros(1))
SURE = Sure(("screen", "skin"), 5.93, 6.61, 12.5, "X", 0.5, (("X", 0.81), ("B", 0.42), ("Q", 0.05)), LANE, ())
CHECK = Check("gap", ("screen", "skin"), want=6.0, have=7.31, ok=True, margin=1.31, deg=31.24, place=(0.0, 0.0))


@pytest.mark.parametrize(
    ("sure", "units", "told"),
    [
        (None, "mm", ""),
        (SURE, "mm", "; at worst 5.9 mm, X matters most"),
        (SURE, "in", '; at worst 15/64", X matters most'),
        (replace(SURE, low=0.0), "mm", "; at worst touching, X matters most"),
        (replace(SURE, matters=""), "mm", "; at worst 5.9 mm"),
        (
            replace(SURE, untrusted_deg=((0.0, 2.04), (70.0, 75.0))),
            "mm",
            "; at worst 5.9 mm, X matters most; untold for 0° to 2°, 70° to 75°",
        ),
        (
            replace(SURE, low=None, likely=None, at_deg=None),
            "mm",
            "; how near at worst can't be told so near a dead point",
        ),
    ],
)
def test_what_stands_behind_a_check(sure: Sure | None, units: str, told: str) -> None:
    sentence = words.check_sentence(CHECK, units, sure)
    assert sentence == f"{words.check_sentence(CHECK, units)}{told}"
    assert sure_words(sure, units) == told


def test_what_touches_as_drawn_has_nothing_to_be_unsure_of() -> None:
    touching = replace(CHECK, have=0.0, ok=False, margin=-6.0)
    assert words.check_sentence(touching, "mm", replace(SURE, low=0.0)) == words.check_sentence(touching, "mm")


def test_all_of_one_gap() -> None:
    assert sure_gap_words(SURE, "mm") == (
        "screen – skin: at worst 5.9 mm, at 12.5°; likely no less than 6.6 mm. "
        "At worst the pins take: X 0.8 mm, B 0.4 mm, Q 0.05 mm."
    )
    told = sure_gap_words(replace(SURE, untrusted_deg=((0.0, 2.0),)), "mm")
    assert "For 0° to 2°, near a dead point" in told
    assert "near a dead point" in sure_gap_words(replace(SURE, low=None), "mm")


def test_a_want_that_may_not_hold_as_built_is_remarked() -> None:
    wanted = replace(single_pivot, gaps=(GapWant(("wall", "lid skin"), 21.5),))
    for holes, expected in ((0.1, 0), (0.4, 1)):
        analysis = analyse(wanting.set_sureness(wanted, holes, 0.2))
        remarks = sure_remarks(analysis, "mm")
        assert len(remarks) == expected
        assert analysis.gaps[0].ok  # wants hold as drawn, as before
    assert remarks[0].startswith("wall – lid skin wants 21.5 mm and has it as drawn, but as built it may be 21.1 mm")
    assert "every hole ± 0.4 mm, every pin with 0.2 mm of play" in remarks[0]
    assert "root sum of squares" in remarks[0]


def test_why_nothing_can_be_told() -> None:
    twin = wanting.set_sureness(ALL["locked_triangle"], 0.2)
    assert sure_remarks(analyse(twin), "mm") == []  # nothing is watched
    still = wanting.set_sureness(replace(single_pivot, pivots=()), 0.2)
    assert "the panel doesn't open" in sure_remarks(analyse(still), "mm")[0]
    assert sure_remarks(analyse(single_pivot), "mm") == []


def test_the_report_has_keys_of_our_own_only_where_asked() -> None:
    plain = report.as_dict(single_pivot, analyse(single_pivot))
    assert set(plain["gaps"][0]) & {"low", "likely", "low_deg", "matters", "untold_deg"} == set()
    asked = wanting.set_sureness(replace(single_pivot, gaps=(GapWant(("wall", "lid skin"), 21.5),)), 0.4, 0.2)
    analysis = analyse(asked)
    found = report.as_dict(asked, analysis)
    gap = found["gaps"][0]
    assert gap["low"] == pytest.approx(gap["smallest"] - 0.9)
    assert (gap["matters"], gap["untold_deg"], gap["low_deg"]) == ("A", [], pytest.approx(0.0))
    assert any("as built" in remark for remark in found["remarks"])
    text = report.as_text(asked, analysis)
    assert "at worst 21.1 mm, A matters most" in text


def test_which_gap_a_check_is_of() -> None:
    early, late = GapWant(("wall", "lid skin"), 5.0), GapWant(("wall", "lid skin"), 5.0, 40.0)
    analysis = analyse(wanting.set_sureness(replace(single_pivot, gaps=(early, late)), 0.4))
    for check in analysis.checks:
        sure = sure_of(analysis, check)
        assert (sure is not None) == (check.kind == "gap")
        if sure is not None:
            assert sure.at_deg is not None
            assert sure.at_deg >= check.after_deg - 1e-9


def test_hinges_that_were_tried() -> None:
    smallest = np.linspace(5.0, 7.0, 20)
    tried = Sampled(("screen", "skin"), smallest, np.full(20, 3.0), 21, 0)
    (told,) = tried_words((None, tried), "mm")
    assert told == (
        "screen – skin: 20 hinges tried, each moved anew and looked at in 21 poses. "
        "Nine in ten keep 5.2 mm; the worst 5.0 mm, at 3°."
    )
    assert "2 of them didn't reach every pose" in tried_words((replace(tried, stuck=2),), "mm")[0]
