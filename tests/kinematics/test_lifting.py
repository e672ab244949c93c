"""Wants of lifting: what is, held against them; a lid of 10 kg at 400 and a hand at 800, so 49 N when shut."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

import kinematics
from kinematics.errors import ProjectError
from kinematics.project import Attachment, Device, Handle, LiftWants, Loads, Mass, WorstCase
from tests.specimens import locked_triangle, single_pivot

if TYPE_CHECKING:
    from kinematics.results import Check

WEIGHT = Mass("lid", 10.0, (400.0, 0.0))
COIL = Device(
    "coil",
    "torsion spring",
    1,
    Attachment("body", (0.0, 0.0)),
    Attachment("lid", (0.0, 0.0)),
    moment=0.5 * 39226.6,  # half of what the weight asks for when level: it balances at 60°
)


def checks(wants: LiftWants, wanted: float = 80.0, **loads: Any) -> list[Check]:  # noqa: ANN401
    there = replace(Loads(masses=(WEIGHT,), handle=Handle("lid", (800.0, 0.0)), wants=wants), **loads)
    lid = replace(single_pivot, loads=there, gaps=(), travel=replace(single_pivot.travel, wanted_deg=wanted))
    return [check for check in kinematics.analyse(lid, 9).checks if check.kind in ("push", "rests")]


@pytest.mark.parametrize(("most", "ok"), [(49.04, True), (49.03, False)])
@pytest.mark.parametrize(("key", "side"), [("shut_at_most", "shut"), ("at_most", "largest")])
def test_the_push_is_held_against_its_want(key: str, side: str, most: float, ok: bool) -> None:
    (check,) = checks(LiftWants(**{key: most}))
    assert (check.kind, check.side, check.ok, check.deg) == ("push", side, ok, 0.0)
    assert check.have == pytest.approx(49.03325, rel=1e-9)
    assert check.margin == pytest.approx(most - 49.03325, abs=1e-6)


@pytest.mark.parametrize(("until", "ok"), [(59.9, True), (60.1, False)])
def test_a_coil_that_lifts_from_60_degrees_on(until: float, ok: bool) -> None:
    (check,) = checks(LiftWants(rests_until_deg=until), devices=(COIL,))
    assert (check.kind, check.ok) == ("rests", ok)
    assert check.have == pytest.approx(60.0, abs=1e-7)


def test_what_never_rises_rests_to_the_end_and_what_rises_at_once_doesnt_rest() -> None:
    (heavy,) = checks(LiftWants(rests_until_deg=170.0))
    assert (heavy.ok, heavy.have) == (True, 80.0)
    (eager,) = checks(LiftWants(rests_until_deg=5.0), devices=(replace(COIL, moment=90000.0),))
    assert (eager.ok, eager.have) == (False, 0.0)


@pytest.mark.parametrize(("wanted", "ok"), [(55.0, False), (70.0, True)])
def test_it_stays_open_where_no_push_is_needed(wanted: float, ok: bool) -> None:
    (check,) = checks(LiftWants(stays_open=True), wanted, devices=(COIL,))
    assert (check.side, check.ok, check.deg) == ("open", ok, wanted)


def test_wants_without_a_figure_fall_short() -> None:
    everything = LiftWants(10.0, 10.0, 10.0, True)
    found = checks(everything, handle=None)
    assert [check.have for check in found] == [None] * 4
    assert not any(check.ok for check in found)
    locked = replace(locked_triangle, loads=Loads(handle=Handle("panel", (5.0, 5.0)), wants=everything))
    assert all(check.have is None for check in kinematics.analyse(locked).checks if check.kind in ("push", "rests"))


@pytest.mark.parametrize("key", ["shut_at_most", "at_most", "rests_until_deg"])
def test_wants_below_nothing_are_refused(key: str) -> None:
    with pytest.raises(ProjectError, match=key):
        LiftWants(**{key: -1.0})


def test_a_gust_on_a_panel_of_unknown_width_is_not_said_to_be_borne() -> None:
    (check,) = checks(LiftWants(stays_open_in=WorstCase(wind=15.0)), wanted=110.0)
    assert (check.ok, check.have, check.needs) == (False, None, "width")
