"""The sentences of a search: what is asked, how it stands, what each proposal is."""

from __future__ import annotations

from dataclasses import replace

from app.proposals.words import LATER, asked_words, best_words, card_words, fault_words, progress_words, short_words
from kinematics import edits
from kinematics.errors import ProjectError
from kinematics.project import Zone
from kinematics.proposals.results import Settings
from tests import specimens
from tests.app.proposals import fake
from tests.app.sharing import demo, shared_analyse

BARE = replace(demo(), loads=None, strength=None)  # no strut that is at its end before the panel is open
SINGLE, FOUR, SIX = (fake.run(BARE, Settings(), number).proposals[0] for number in range(3))


def test_what_is_asked_is_read_back_in_words() -> None:
    project = edits.lock_pivot(demo(), "O1")
    zone = Zone(project.fixed.id, ((0.0, 0.0), (80.0, 0.0), (80.0, 120.0)))
    project = replace(project, zones=(zone,))
    told = asked_words(project, shared_analyse(project).checks, "mm")
    assert told[0] == "opens to 75°"
    assert "screen and sill – hatch skin: 10.0 mm" in told
    assert "pins on one link: 30.0 mm apart or more" in told
    assert f"pins on {project.fixed.id}: within its zone" in told
    assert f"pins on {project.panel.id}: anywhere, first beneath the panel" in told
    assert told[-1] == "locked, so it stays: O1"
    assert not any(words.startswith("pins Q") for words in told), "pins that the search has yet to place"
    assert not any("push" in words for words in told), "struts are chosen later, and it says so"
    assert LATER in told


def test_what_is_not_drawn_is_said() -> None:
    bare = specimens.ALL["empty"]
    told = asked_words(bare, shared_analyse(bare).checks, "mm")
    assert told[0] == f"nothing is drawn of {bare.panel.id} and {bare.fixed.id}, so nothing there is kept clear of"
    figures = replace(FOUR.figures, clearance=None, back=None)
    assert card_words(replace(FOUR, figures=figures), "mm")[1].startswith("transmission ")
    figures = replace(figures, transmission_deg=None)
    assert card_words(replace(FOUR, figures=figures), "mm")[1] == "opens to 75°"


def test_what_hinders_is_said_without_its_place_in_the_file() -> None:
    fault = ProjectError("the roof is too low", "room", "Raise it.")
    assert fault_words(fault) == "The roof is too low. Raise it."
    assert fault_words("No kind is ticked.") == "No kind is ticked."


def test_how_far_each_kind_has_come() -> None:
    assert best_words("four-bar", None, "mm") == "four-bar: nothing yet"
    assert best_words("four-bar", FOUR, "mm") == "four-bar: all wants hold"
    told = best_words("single pivot", SINGLE, "mm")
    assert told.startswith("single pivot: none yet that holds; the nearest is 10.0 mm short of “")
    assert "25/64" in best_words("single pivot", SINGLE, "in")


def test_a_small_shortfall_is_never_told_as_none() -> None:
    assert "0.004 mm short" in best_words("four-bar", replace(SINGLE, short_by=0.004), "mm")


def test_a_missed_angle_is_told_in_degrees() -> None:
    worst = replace(SINGLE.worst, kind="transmission", subject=(), want=40.0)
    assert short_words(replace(SINGLE, worst=worst, short_by=12.3), "mm").startswith("12.3° short of “")


def test_progress_is_told_with_its_rate() -> None:
    assert progress_words(0.0, 0, 0, 0, "four-bar") == "Starting…"
    assert progress_words(2.0, 0, 0, 0, "") == "Stopped before anything was tried."
    told = progress_words(4.0, 12_400, 9, 5, "four-bar")
    assert told == "4 s: 12 400 layouts tried, 3 100 a second; 5 hold every want. Now: four-bar"
    assert "none holds every want yet" in progress_words(1.0, 10, 1, 0, "")


def test_a_card_says_kind_state_motion_and_size() -> None:
    first, moves, size = card_words(SIX, "mm")
    assert first.startswith("Six-bar (Watt I)  ✓ all wants")
    assert "clearance" in moves
    assert "transmission" in moves
    assert size.startswith("pins within ")
    assert size.endswith("7 pins")
    assert card_words(replace(SINGLE, ok=True), "mm")[2] == "one pin"


def test_a_card_that_falls_short_says_of_what() -> None:
    first, of, moves = card_words(SINGLE, "mm")
    assert first == "Single pivot  ✗ falls short by 10.0 mm"
    assert of.startswith("“screen and sill – hatch skin”")
    assert moves.startswith("touches; rear corner goes back ")
    assert "transmission" not in moves
    worst = SINGLE.worst
    assert card_words(replace(SINGLE, short=(worst, worst)), "mm")[1].endswith("”; one want more")
    assert card_words(replace(SINGLE, short=(worst,) * 4), "mm")[1].endswith("”; 3 wants more")
