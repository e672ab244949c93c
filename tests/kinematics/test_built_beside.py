"""As built beside as drawn: the same where nothing is off, left and right by closed form, pins by hand-made sums."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kinematics import analyse
from kinematics.built_beside import apart, beside, beside_of, both, broken, paired_checks, paired_gaps, pins_beside
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, MadeSheet, OnPin
from kinematics.project import Handle, Loads, Mass, Project
from tests.kinematics.stacked import stacked
from tests.specimens import demo_six_bar, single_pivot

FOUND = FoundAt("bulkhead", "O1", y=259.0)
APART, ACROSS = 1000.0, 1400.0


def lid(*hands: HandMade) -> Project:
    """A lid on one pin, two hinges of it, the pin where it was found."""
    loads = Loads((Mass("lid", 10.0, (200.0, 0.0)),), Handle("lid", (400.0, 0.0)), spacing=APART, across=ACROSS)
    return replace(single_pivot, loads=loads, as_made=AsMade(hands))


def pin_at(hand: str, x: float, y: float) -> HandMade:
    return HandMade(hand, (), (FoundAt("body", "A", x, y),))  # type: ignore[arg-type]


def test_a_hinge_that_is_as_drawn_has_the_drawn_figures() -> None:
    drawn = analyse(demo_six_bar, steps=2)
    same = beside(demo_six_bar, "left", near=drawn)
    assert same.analysis is not None
    assert broken(drawn, same.analysis) == ()
    assert all(was.have == pytest.approx(now.have) for was, now in paired_checks(drawn, same.analysis) if now)
    assert len(paired_checks(drawn, same.analysis)) == len(drawn.checks)
    worse = beside_of(demo_six_bar, HandMade("left", (), (FOUND,)), near=drawn)
    assert worse.analysis is not None
    assert {check.kind for check in broken(drawn, worse.analysis)} == {"gap", "limit"}
    (was, now), *_ = paired_gaps(drawn, worse.analysis)
    assert (was.shut, was.between) == (drawn.gaps[0].shut, now.between)
    assert now.shut == worse.analysis.gaps[0].shut != was.shut
    short = MadeDistance("arm", ("O1", "X"), 10.0)
    cant = beside_of(demo_six_bar, HandMade("left", (short,)), near=drawn)
    assert (cant.analysis, "can't be put together" in cant.fault) == (None, True)


def test_left_and_right_that_came_out_alike_agree() -> None:
    project = lid(pin_at("left", 1.0, 2.0), pin_at("right", 1.0, 2.0))
    drawn = analyse(project, steps=2)
    told = apart(drawn, *both(project, (0.0, 0.0), drawn))
    assert told is not None
    assert abs(told.rear) + abs(told.front) + told.worst == pytest.approx(0.0, abs=1e-9)
    assert (told.askew, told.twisted) == (pytest.approx(0.0, abs=1e-9), pytest.approx(0.0, abs=1e-9))


def test_a_pin_further_ahead_on_the_right_turns_the_lid_askew() -> None:
    """Both pins at one height, so both lids lie at one turn: they differ by the pins' difference, at every opening."""
    project = lid(pin_at("left", -0.5, 0.0), pin_at("right", 1.5, 0.0))
    drawn = analyse(project, steps=2)
    told = apart(drawn, *both(project, (0.0, 0.0), drawn))
    assert told is not None
    assert told.rear == pytest.approx(2.0, abs=1e-9)
    assert told.worst == pytest.approx(2.0, abs=1e-9)
    # about the upright by 2 in 1000; the front edge is 400 ahead of the pin as drawn
    assert told.askew == pytest.approx(400.0 * 2.0 / APART)
    assert told.twisted == pytest.approx(0.0, abs=1e-9)


def test_a_pin_higher_on_the_right_twists_the_lid() -> None:
    """At the same turn the right lid stands higher by the pins' difference; at its rest it is turned by asin(h/400)."""
    project = lid(pin_at("right", 0.0, 3.0))
    drawn = analyse(project, steps=2)
    told = apart(drawn, *both(project, (0.0, 0.0), drawn))
    assert told is not None
    assert told.turn_deg == pytest.approx(-math.degrees(math.asin(3.0 / 400.0)))
    assert told.worst == pytest.approx(3.0, abs=1e-9)
    assert told.twisted == pytest.approx(ACROSS * 3.0 / APART)
    assert apart(analyse(replace(project, loads=None), steps=2), *both(project, (0.0, 0.0))).askew is None  # type: ignore[union-attr]


def test_end_float_goes_by_sheets_and_washers() -> None:
    """By hand: a sheet 0.15 thicker than drawn and a shim of 0.5 more take 0.65 off the float of a pin with both.

    On X the arm's 4 mm make up the stack; on O1 a bushing of 6 mm stands proud of them, which only 6.25 outgrow.
    """
    for sheet, on_x, on_o1 in ((4.15, 0.65, 0.0), (3.9, 0.4, 0.0), (6.25, 2.75, 0.25)):
        made = HandMade("left", sheets=(MadeSheet("arm", sheet),), on_pins=(OnPin("X", 0.5, 0.08),))
        by = {each.pivot: each for each in pins_beside(stacked(demo_six_bar), made)}
        for pivot, less in (("X", on_x), ("O1", on_o1), ("Q", 0.0)):
            assert by[pivot].end_float[1] == pytest.approx(by[pivot].end_float[0] - less)
            assert by[pivot].grip[1] == pytest.approx(by[pivot].grip[0] + less)
        assert (by["X"].play, by["Q"].play) == (0.08, None)
