"""The sentences of putting right."""

from __future__ import annotations

from dataclasses import replace

from app.mend_words import LOCKED, fight_sentence, listed, moves_sentence, refusal
from kinematics import analyse, edits
from kinematics.mending import Fight, Mended
from kinematics.results import Check
from tests.app.sharing import demo

GAP = Check("gap", ("wall", "lid"), 6.0, 3.1, ok=False, margin=-2.9, deg=31.2)
LIMIT = Check("limit", ("corner",), 5.0, 1.0, ok=False, margin=-4.0, deg=20.0, side="dx_at_least", ahead=1)
OPENING = Check("opening", (), 75.0, 62.3, ok=False, margin=-12.7, deg=62.3)


def test_moves_are_told_the_farthest_first_and_the_small_ones_together() -> None:
    project = edits.set_gap(demo(), demo().gaps[0].between, 11.0)
    moved = {"A": (3.0, 4.0), "B": (0.0, 1.0), "C": (2.0, 0.0), "D": (0.0, 0.5), "E": (0.1, 0.0), "F": (0.0, 0.2)}
    told = moves_sentence(Mended(project, moved, ok=True), analyse(project, steps=2), "mm")
    assert "A by 5.0 mm, C by 2.0 mm, B by 1.0 mm, D by 0.5 mm and 2 others by 0.2 mm or less" in told
    assert told.endswith("Then all wants hold, these too: screen and sill – hatch skin.")


def test_a_very_small_move_is_not_told_as_none() -> None:
    project = edits.set_gap(demo(), demo().gaps[0].between, 11.0)
    before = analyse(project, steps=2)
    assert "A by 0.03 mm" in moves_sentence(Mended(project, {"A": (0.03, 0.0)}, ok=True), before, "mm")
    assert 'A by 0"' not in moves_sentence(Mended(project, {"A": (0.03, 0.0)}, ok=True), before, "in")


def test_one_want_that_is_too_much() -> None:
    assert fight_sentence([Fight(GAP, 1.5)], "mm") == (
        "The free pins near their places can't give what wall – lid (6.0 mm) asks. It would have to give 1.5 mm."
    )
    assert fight_sentence([Fight(GAP, 1.5, as_drawn=True)], "mm") == (
        "No pin can give what wall – lid (6.0 mm) asks: as drawn it is 1.5 mm too much."
    )


def test_wants_that_fight_are_named_with_what_they_must_give() -> None:
    told = fight_sentence([Fight(OPENING, 4.0), Fight(GAP, 0.0), Fight(LIMIT, 0.0)], "mm")
    assert told.startswith("These wants fight each other near the present pins: opens to 75°; wall – lid (6.0 mm);")
    assert told.endswith("What must be given at least: 4° of opens to 75°.")


def test_nothing_known_is_said_plainly() -> None:
    assert "No moves" in fight_sentence([], "mm")
    assert refusal(Mended(demo(), {}, ok=False, why="locked"), "mm") == LOCKED
    assert "remarks" in refusal(Mended(demo(), {}, ok=False, why="still"), "mm")
    drawn = replace(Mended(demo(), {}, ok=False, why="fight"), fighting=(Fight(GAP, 1.0, as_drawn=True),))
    assert "Find hinges" not in refusal(drawn, "mm"), "no pin can help"
    assert "Find hinges" in refusal(replace(drawn, fighting=(Fight(GAP, 1.0),)), "mm")
    assert "fight" in refusal(
        replace(Mended(demo(), {}, ok=False, why="fight"), fighting=(Fight(GAP, 1.0), Fight(LIMIT, 0.0))), "mm"
    )


def test_lists() -> None:
    assert [listed(list(names)) for names in ("A", "AB", "ABC")] == ["A", "A and B", "A, B and C"]
