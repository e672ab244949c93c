"""What a builder reads of a search for struts."""

from __future__ import annotations

import pytest

from app.struts.words import (
    CAUTION,
    CHECKED,
    CHECKED_WHOLLY,
    asked_words,
    card_words,
    progress_words,
    step_words,
    way_words,
    zone_words,
)
from kinematics.struts.collecting import StrutCollector
from kinematics.struts.fitting import held
from kinematics.struts.results import StrutUnit
from tests.kinematics.struts.making import hatch_problem, placement


def test_a_card_says_what_how_and_where() -> None:
    title, lifts, goes = card_words(held(hatch_problem(), placement()), "mm")
    assert title == "2 × 8/18, 150 mm stroke, 450 N"
    assert lifts == ("Shut 62 N, at most 70 N; rises from 24.2°; open, 67 N pull it down; at worst 10 N.")
    assert goes == "bulkhead (400, 150) to hatch (151, 205); pins to 988 N; 255 to 388 of 245 to 395 mm."


def test_in_inches() -> None:
    title, lifts, goes = card_words(held(hatch_problem(), placement()), "in")
    assert title == "2 × 8/18, 150 mm stroke, 450 N (101 lbf)"  # as struts are sold
    assert "Shut 13.9 lbf" in lifts
    assert goes.startswith('bulkhead (15 3/4", 5 29/32") to hatch')
    assert "mm" not in lifts + goes


def test_one_that_falls_short_says_by_how_much_and_of_what() -> None:
    title, lifts, _ = card_words(placement(ok=False, margin=-12.4, way="worst"), "mm")
    assert title.startswith("✗ 2 × ")
    assert lifts == "Misses the want that it stays open in the worst case by 12 N."
    _, lifts, _ = card_words(placement(ok=False, margin=0.2), "mm")
    assert lifts == "Comes to its end within the travel."


def test_what_is_asked_is_told_a_line_each() -> None:
    checks = held(hatch_problem(), placement()).checks
    assert asked_words(checks, "mm") == [
        "push at the handle, shut: at most 80 N",
        "largest push at the handle: at most 80 N",
        "doesn't rise by itself: before 8°",
        "stays open by itself: no push",
        "stays open in the worst case: no push",
    ]


def told(*units: StrutUnit) -> str:
    collector = StrutCollector()
    for each in units:
        collector.take(each)
    return way_words(collector, "mm")


NEAREST = placement(ok=False, margin=-3.2, way="rests")


def test_nothing_is_in_the_way_of_what_is_found_or_not_looked_for() -> None:
    assert told() == ""
    assert told(StrutUnit(0, (placement(),), 10, 100, 50, in_the_way=(("rests", 4),))) == ""


def test_the_want_that_alone_stands_in_the_way_most_is_named() -> None:
    words = told(StrutUnit(0, (NEAREST,), 10, 100, 50, 9, 3, in_the_way=(("rests", 3), ("worst", 1))))
    assert words.startswith(
        "Most in the way is the want that it doesn't rise by itself: of the placements that miss one want alone"
    )
    assert "75 % miss this one" in words
    assert words.endswith("The nearest, below, misses the want that it doesn't rise by itself by 3.2 N.")


def test_two_wants_that_fight_sizes_that_don_t_fit_and_lines_in_the_way_are_told() -> None:
    assert told(StrutUnit(0, (NEAREST,), 10, 100, 50)).startswith("No placement meets more than some of the wants")
    assert told(StrutUnit(0, (), 0, 9000, 0)).startswith("None of the sizes ticked fits")
    assert told(StrutUnit(0, (), 10, 100, 50, 8, 8)).startswith("What would lift the panel lies in the way")


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ((0.0, 0, 0, 0, True), "Starting…"),
        ((0.0, 0, 0, 0, False), "Stopped before anything was tried."),
        ((2.0, 400_000, 0, 3, True), "2 s: 400 000 placements tried, 200 000 a second; none meets every want yet"),
        ((0.2, 40_000, 1, 1, True), "0 s: 40 000 placements tried; 1 meets every want"),
        ((3.0, 30_000, 5, 9, False), "3 s: 30 000 placements tried, 10 000 a second; 5 meet every want"),
    ],
)
def test_progress(given: tuple[float, int, int, int, bool], says: str) -> None:
    assert progress_words(*given) == says


def test_zones_and_forces() -> None:
    assert zone_words("hatch", drawn=True) == "on hatch as drawn"
    assert zone_words("hatch", drawn=False) == "on hatch as usual"
    assert step_words(50.0) == "every 50 N"


def test_cautions_stand_where_they_are_needed() -> None:
    assert "under pressure" in CAUTION
    assert "maker go first" in CAUTION
    assert "aren't looked at" in CHECKED
    assert "Not checked" in CHECKED_WHOLLY
