"""What making says: each fault with its figures, in both units; what all comes to; how it ended."""

from __future__ import annotations

import pytest

from app.making.plan import plan_of
from app.making.words import SENTENCES, falls_short_words, fault_sentence, made_words, totals_words, way_words
from kinematics.cut_faults import CutFault
from tests.specimens import demo_six_bar, single_pivot


@pytest.mark.parametrize("kind", sorted(kind for kind in SENTENCES if not kind.endswith(" gone")))
def test_every_kind_is_a_sentence_with_all_in_it(kind: str) -> None:
    told = fault_sentence(CutFault(kind, "a {b}", ("A", "B"), 3.25, 4.0, told="why."), "mm")
    assert told.startswith(("Plate of a {b}: ", "Mount at a {b}: "))
    assert told.endswith(".")
    assert "None" not in told


def test_figures_are_told_finer_where_the_short_form_hides_a_difference() -> None:
    fault = CutFault("cutout", "arm", (), 3.98, 4.0)
    assert "3.98 mm is left" in fault_sentence(fault, "mm")
    assert '0.1567" is left' in fault_sentence(fault, "in")


@pytest.mark.parametrize(
    ("fault", "expected"),
    [
        (CutFault("cutout", "arm"), "a lightening hole breaks through the edge"),
        (CutFault("cutouts", "arm"), "a lightening hole runs into another hole"),
    ],
)
def test_where_nothing_is_left_it_says_so(fault: CutFault, expected: str) -> None:
    assert expected in fault_sentence(fault, "mm")


def test_a_mount_has_no_lightening_holes() -> None:
    fault = CutFault("cutout", "hatch", (), 5.7, 8.0, is_caution=True, part="bracket")
    assert fault_sentence(fault, "mm").startswith(
        "Bracket of hatch: 5.7 mm is left between a hole for a bolt or tab and"
    )


def test_what_all_comes_to() -> None:
    assert totals_words(plan_of(single_pivot), "mm") == [
        "No link has a plate yet: there is nothing to cut, only templates to print."
    ]
    (told,) = totals_words(plan_of(demo_six_bar), "mm")
    assert " kg, " in told
    assert " m of cut, " in told
    (told,) = totals_words(plan_of(demo_six_bar), "in")
    assert " lb, " in told
    assert " ft of cut, " in told
    assert way_words(1234.0, "mm") == "1.2 m"
    assert way_words(3048.0, "in") == "10 ft"


def test_how_it_ended() -> None:
    assert made_words(9, 0, "/x") == "9 files are written, in /x."
    assert made_words(9, 1, "/x").endswith("Mend the fault before anything is cut.")
    assert made_words(9, 2, "/x").endswith("Mend the 2 faults before anything is cut.")
    assert falls_short_words(1) == "The layout falls short of 1 of its checks: look at the report before metal is cut."
