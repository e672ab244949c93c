"""What a search for struts is asked."""

from __future__ import annotations

from dataclasses import replace

from app.struts.question import LONGEST, USUAL, StrutEnough, has_wants, question, searched
from kinematics.project import LiftWants
from kinematics.struts.fitting import with_struts
from tests.kinematics.struts.making import WANTS, hatch, placement


def test_struts_that_are_there_are_no_part_of_the_question() -> None:
    taken = with_struts(hatch(), placement())
    assert question(taken) == question(with_struts(hatch(), placement(force=300.0)))
    assert question(taken) == question(hatch())
    assert searched(taken).loads == searched(hatch()).loads


def test_words_and_what_is_beside_the_point_are_no_part_of_it() -> None:
    other = replace(hatch(), title="other", display_units="in", gaps=(), limits=(), marks=(), notes="x")
    assert question(other) == question(hatch())


def test_hinge_weights_and_wants_are() -> None:
    loads = hatch().loads
    assert loads is not None
    for other in (
        replace(hatch(), travel=replace(hatch().travel, wanted_deg=70.0)),
        replace(hatch(), loads=replace(loads, masses=())),
        hatch(replace(WANTS, at_most=70.0)),
        replace(hatch(), outlines=(), gaps=()),
    ):
        assert question(other) != question(hatch())


def test_usual_wants_stand_in_for_none() -> None:
    assert has_wants(hatch())
    for wants in (LiftWants(), None):
        loads = hatch().loads
        assert loads is not None
        none = replace(hatch(), loads=replace(loads, wants=wants))
        assert not has_wants(none)
        found = searched(none).loads
        assert found is not None
        assert found.wants == USUAL


def test_a_search_in_vain_ends() -> None:
    enough = StrutEnough()
    assert [enough.after((), ()) for _ in range(LONGEST)] == [False] * (LONGEST - 1) + [True]


def test_a_search_that_found_a_dozen_ends() -> None:
    enough, good = StrutEnough(), [placement()] * 12
    assert [enough.after(good, good) for _ in range(24)] == [False] * 23 + [True]
