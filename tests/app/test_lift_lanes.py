"""The lanes of lifting as plain numbers and words: what is drawn is what was analysed, and nothing wild is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from app.lift_lanes import lift_lanes
from app.travel import lanes_of, marks_of
from kinematics import analyse
from kinematics.carrying import largest_pin
from tests import specimens
from tests.loaded import RUB, WANTS, dead_ended, hatch, heavy, lifted, rubbing

if TYPE_CHECKING:
    from app.lane_figures import LaneFigures, More, Sign
    from kinematics import Analysis


def effort(analysis: Analysis, units: str = "mm") -> tuple[LaneFigures, More]:
    lane = lift_lanes(analysis, units)[0]
    assert lane.more is not None
    return lane, lane.more


def signs(more: More, kind: str) -> list[Sign]:
    return [sign for sign in more.signs if sign.kind == kind]


# ---------------------------------------------------------------------------------------------------------- the effort
def test_the_curve_is_the_effort_and_the_largest_is_marked() -> None:
    lane, more = effort(lifted())
    told = lifted().loads
    assert told is not None
    assert told.largest is not None
    assert np.array_equal(lane.ys, told.effort)
    mark = signs(more, "largest")[0]
    assert (mark.place, mark.value) == (told.largest.deg, told.largest.force)
    assert (mark.words, lane.head) == ("23 N", "✓ most 23 N at 9.6°")
    assert mark.go == "Go to the largest push: 23 N at 9.6°"
    assert more.bottom < min(lane.ys)
    assert lane.top > 80.0  # the want is to be seen too


def test_wants_are_lines_with_their_words() -> None:
    _, more = effort(lifted())
    assert [(level.value, level.words) for level in more.levels] == [
        (80.0, "want at most 80 N"),
        (60.0, "want at most 60 N shut"),
    ]
    assert more.levels[0].stretch is None
    assert more.levels[1].stretch is not None  # of the shut panel alone: it ends soon
    assert [(each.place, each.words) for each in more.uprights] == [(20.0, "want no rise before 20°")]


def test_a_want_that_falls_short_is_told_by_sign_and_word() -> None:
    lane, more = effort(analyse(hatch(wants=replace(WANTS, at_most=20.0)), 31))
    assert signs(more, "short")
    assert not signs(more, "largest")
    assert lane.head.startswith("✗ ")


def test_what_is_wanted_at_full_opening_puts_no_cross_before_the_largest_push() -> None:
    lane, _ = effort(
        analyse(hatch(devices=(), wants=replace(WANTS, shut_at_most=None, at_most=None, stays_open=True)), 31)
    )
    assert lane.head.startswith("✓ most 112 N")


def test_balance_and_tip_over_are_two_signs_even_at_one_place() -> None:
    _, more = effort(heavy())
    assert [sign.words for sign in signs(more, "unstable")] == ["balances at 87.8°, won't stay"]
    assert [sign.words for sign in signs(more, "tip-over")] == ["tip-over 87.8°"]
    assert not signs(more, "stable")
    assert more.shaded == "rises by itself"


def test_a_stable_balance_has_another_sign() -> None:
    loads = lifted().loads
    assert loads is not None
    turned = replace(lifted(), loads=replace(loads, balances=(replace(loads.balances[0], stable=True),)))
    _, more = effort(turned)
    assert [sign.words for sign in signs(more, "stable")] == ["stays at 57.4°"]


def test_friction_is_a_band_with_its_edges_named() -> None:
    lane, more = effort(rubbing())
    told = rubbing().loads
    assert told is not None
    (band,) = more.bands
    assert band.names == ("up", "down")
    assert np.array_equal(band.high, told.raising)
    assert np.array_equal(band.low, told.letting_down)
    assert (band.low < lane.ys).all()
    assert (band.high > lane.ys).all()
    assert more.read is not None
    assert more.read(20.0) == (pytest.approx(20.4, abs=0.1), "10 … 30 N")


def test_where_pins_jam_the_band_has_a_gap_and_says_so() -> None:
    loads = rubbing().loads
    assert loads is not None
    assert loads.raising is not None
    jammed = loads.raising.copy()
    jammed[100:120] = np.nan
    _, more = effort(replace(rubbing(), loads=replace(loads, raising=jammed)))
    assert len(more.bands) == 2
    assert [edge.words for edge in more.edges] == ["pins jam"]
    assert more.edges[0].place == rubbing().openings[100]


def test_at_a_dead_point_the_curve_ends_and_says_why() -> None:
    lane, more = effort(dead_ended())
    assert np.isfinite(lane.ys).all()
    assert lane.xs[-1] < dead_ended().opening.reached_deg
    assert [edge.words for edge in more.edges] == ["grows without bound at the dead point"]
    pins = lift_lanes(dead_ended(), "mm")[1].more
    assert pins is not None
    assert [edge.words for edge in pins.edges] == ["ends at the dead point"]


def test_what_lies_beyond_the_bound_is_no_spike() -> None:
    told = lifted().loads
    assert told is not None
    wild = told.effort.copy()
    wild[60:64] = 1e9
    lane, more = effort(replace(lifted(), loads=replace(told, effort=wild)))
    drawn = np.concatenate([lane.ys, *(ys for _, ys in more.pieces)])
    assert drawn.max() < 30.0
    assert len(more.pieces) == 1
    assert [edge.words for edge in more.edges] == ["beyond bound: links in line", ""]
    assert lane.top < 200.0


def test_a_spike_within_the_bound_doesnt_flatten_the_rest() -> None:
    told = lifted().loads
    assert told is not None
    spiked = told.effort.copy()
    spiked[0] = 90_000.0
    lane, _ = effort(replace(lifted(), loads=replace(told, effort=spiked)))
    assert lane.top < 200.0


def test_without_a_handle_the_lane_says_so_and_still_shows_the_balance() -> None:
    lane, more = effort(analyse(hatch(handle=None), 31))
    assert len(lane.ys) == 0
    assert more.instead.startswith("No handle is set")
    assert (lane.head, more.read, more.levels) == ("✗ no handle", None, ())
    assert signs(more, "unstable")
    assert len(lift_lanes(analyse(hatch(handle=None), 31), "mm")) == 1  # no pin is told of either


def test_a_handle_that_stands_still_is_said() -> None:
    fixed = replace(hatch().loads.handle, on=specimens.demo_six_bar.fixed.id)  # type: ignore[union-attr]
    _, more = effort(analyse(hatch(handle=fixed), 31))
    assert "stands still" in more.instead


def test_a_panel_that_rises_all_the_way_is_told_by_what_holds_it() -> None:
    strong = replace(hatch().loads.devices[0], force=260.0)  # type: ignore[union-attr]
    lane, more = effort(analyse(hatch(devices=(strong,)), 31))
    assert lane.head == "✗ rises by itself: 52 N hold it"
    assert signs(more, "largest")[0].words == "−52 N"


def test_in_inches_it_is_pounds_force() -> None:
    lane, more = effort(lifted(), "in")
    assert lane.head == "✓ most 5.2 lbf at 9.6°"
    assert more.levels[0].words == "want at most 18 lbf"
    assert more.read is not None
    assert more.read(20.0)[1] == "4.6 lbf"


# ------------------------------------------------------------------------------------------------------------ the pins
def test_the_pin_that_carries_most_stands_out_until_one_is_selected() -> None:
    most = largest_pin(lifted())
    assert most is not None
    lane = lift_lanes(lifted(), "mm")[1]
    assert lane.more is not None
    assert lane.title == "force on the pins"
    assert lane.head == f"{most.pivot} carries most: 599 N at 0°"
    assert len(lane.more.others) == len(lifted().project.pivots) - 1
    chosen = lift_lanes(lifted(), "mm", "Q")[1]
    assert chosen.more is not None
    assert chosen.title == "force on pin Q"
    assert chosen.head == "most 376 N at 0° (X 599 N)"
    assert chosen.more.signs[0].words == "Q 376 N"
    assert chosen.more.read is not None
    assert chosen.more.read(0.0) == (pytest.approx(376.0, abs=0.5), "376 N")
    assert chosen.top == lane.top  # so that they can be compared
    column = [pivot.id for pivot in lifted().project.pivots].index("Q")
    assert lifted().loads is not None
    assert np.array_equal(chosen.ys, lifted().loads.pins[:, column])  # type: ignore[union-attr]


def test_the_selected_pin_may_be_the_one_that_carries_most() -> None:
    assert lift_lanes(lifted(), "mm", "X")[1].head == "most of all: 599 N at 0°"
    assert lift_lanes(lifted(), "mm", "no such pin")[1].title == "force on the pins"


# --------------------------------------------------------------------------------------------------------------- where
def test_they_stand_between_gaps_and_transmission() -> None:
    titles = [lane.title for lane in lanes_of(lifted(), "mm")]
    assert titles == ["screen and sill – hatch skin", "push at the handle", "force on the pins", "transmission angle"]


def test_no_lane_where_nothing_is_to_be_lifted_or_told() -> None:
    assert lift_lanes(analyse(specimens.single_pivot, 5), "mm") == []
    assert lift_lanes(analyse(hatch(masses=(), devices=()), 5), "mm") == []
    assert lift_lanes(analyse(hatch(handle=None, devices=(), wants=None), 5), "mm") == []


def test_no_specimen_with_loads_gives_a_number_that_is_none() -> None:
    for name, project in specimens.ALL.items():
        loads = hatch(pin_friction=RUB).loads
        assert loads is not None
        on = {"on": project.panel.id}
        loads = replace(loads, masses=(replace(loads.masses[0], **on),), devices=())
        loads = replace(loads, handle=replace(loads.handle, **on))  # type: ignore[type-var]
        for lane in lift_lanes(analyse(replace(project, loads=loads), 13), "mm"):
            assert lane.more is not None, name
            assert np.isfinite(lane.ys).all(), name
            assert lane.top > lane.more.bottom, name
            assert "nan" not in f"{lane.told}{lane.head}{[sign.words for sign in lane.more.signs]}", name


def test_the_ruler_tells_balance_and_tip_over_where_there_is_room() -> None:
    marks = {mark.words: mark for mark in marks_of(heavy())}
    assert marks["balances 87.8°"].minor
    assert marks["tip-over 87.8°"].minor
    assert not marks["wanted 120°"].minor
