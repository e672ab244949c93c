"""A stop between two links, and the rest past the tip-over.

At 100° the lid's weight turns it onward by 98.0665·400·sin 10° = 6811.627606 N·mm: 136.232552 N at 50 from the pin, and
8.514535 N at the handle to bring it back.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

import kinematics
from kinematics.fittings import Stop
from kinematics.halting import common_pivot
from kinematics.loads import Loads, PinFriction, WorstCase
from kinematics.parts import Attachment, Device, Mass
from tests.kinematics.held_open import PROP, STOP, analysed, lid
from tests.specimens import demo_six_bar, four_bar_a1

if TYPE_CHECKING:
    from kinematics.results import Check, StopFigures


def stop_of(**more: Any) -> tuple[StopFigures, Check]:  # noqa: ANN401  any field of the loads
    """What the stop comes to, and its check."""
    found, told = analysed(lid(**({"stop": STOP} | more)))
    assert told.stop is not None
    (check,) = [check for check in found.checks if check.kind == "stop"]
    return told.stop, check


def test_it_bears_what_would_open_the_panel_further() -> None:
    told, check = stop_of()
    assert (told.pivot, told.why) == ("A", "")
    assert told.turned_deg == pytest.approx(100.0, abs=1e-9)
    assert told.ratio == pytest.approx(1.0)
    assert told.force == pytest.approx(136.232552, abs=1e-6)
    assert (check.ok, check.want, check.have, check.most) == (True, 80.0, 100.0, None)


def test_it_presses_only() -> None:
    """Short of the tip-over the lid leans the other way."""
    told, check = stop_of(stop=replace(STOP, at_deg=85.0))
    assert told.force == 0.0
    assert check.ok


def test_a_gust_leans_on_it() -> None:
    """101.25 N at 450 from the pin, and the weight: (45562.5 + 6811.627606)/50."""
    told, _ = stop_of(case=WorstCase(wind=10.0), across=1000.0)
    assert told.worst is not None
    assert told.worst.force == pytest.approx(1047.482552, abs=1e-6)


def test_before_the_wanted_opening_it_falls_short() -> None:
    _, check = stop_of(stop=replace(STOP, at_deg=78.0))
    assert not check.ok
    assert check.margin == pytest.approx(-2.0)


def test_before_the_prop_it_falls_short() -> None:
    """The prop could not be set."""
    _, check = stop_of(stop=replace(STOP, at_deg=82.0), prop_rod=replace(PROP, at_deg=83.0))
    assert (check.ok, check.want) == (False, 83.0)


def test_past_the_dead_point_it_is_never_met() -> None:
    first, second = four_bar_a1.pivots[0].joins
    opens = kinematics.analyse(four_bar_a1, 3).opening.largest_deg
    stop = Stop((first, second), opens + 1.0, 20.0)
    loads = Loads((Mass(four_bar_a1.panel.id, 1.0, (50.0, 50.0)),), stop=stop)
    found, told = analysed(replace(four_bar_a1, loads=loads))
    assert told.stop is not None
    assert told.stop.why == "dead point"
    (check,) = [check for check in found.checks if check.kind == "stop"]
    assert not check.ok
    assert check.margin == pytest.approx(-1.0)


def test_links_that_no_pivot_joins_make_no_stop() -> None:
    names = demo_six_bar.fixed.id, demo_six_bar.panel.id
    assert common_pivot(demo_six_bar, names) == ""
    loads = Loads((Mass(names[1], 18.0, (620.0, 285.0)),), stop=Stop(names, 77.0, 30.0))
    found, told = analysed(replace(demo_six_bar, loads=loads))
    assert told.stop is not None
    assert (told.stop.why, told.stop.force) == ("no pivot", None)
    assert not next(check.ok for check in found.checks if check.kind == "stop")


def test_a_strut_at_its_end_ends_the_travel_before() -> None:
    """From 500 below the pin to 300 on the lid it is 797.15 long at 80° and at 100°, and 800 between, at 90°."""
    strut = Device(
        "strut", "gas strut", 1, Attachment("body", (0.0, -500.0)), Attachment("lid", (300.0, 0.0)),
        extended=799.0, stroke=300.0, force=1.0, ratio=1.0,
    )  # fmt: skip
    told, check = stop_of(devices=(strut,))
    assert (told.why, told.force) == ("strut", None)
    assert not check.ok
    longer = replace(strut, extended=801.0)
    assert stop_of(devices=(longer,))[1].ok


def test_a_strut_that_stops_the_sweep_comes_before_any_stop() -> None:
    short = Device(
        "strut", "gas strut", 1, Attachment("body", (0.0, -500.0)), Attachment("lid", (300.0, 0.0)),
        extended=700.0, stroke=300.0, force=1.0, ratio=1.0,
    )  # fmt: skip
    assert stop_of(devices=(short,))[0].why == "strut"


# ---------------------------------------------------------------------------------------------------------------- rest
def test_past_the_tip_over_it_rests_on_its_stop() -> None:
    rest = analysed(lid(stop=STOP))[1].rest
    assert rest is not None
    assert rest.on_stop
    assert rest.at_deg == pytest.approx(100.0)
    assert rest.back_to_deg == pytest.approx(90.0, abs=1e-4)
    assert rest.pull is not None
    assert rest.pull.force == pytest.approx(8.514535, abs=1e-6)
    assert rest.pull.deg == pytest.approx(100.0)
    assert rest.rubbing is None
    assert rest.withstands is None


def test_friction_makes_it_harder_to_bring_back() -> None:
    """The pin carries about the weight, 98.07 N, at 10·sin(atan 0.2) = 1.961161: about 0.24 N at 800."""
    rest = analysed(lid(stop=STOP, pin_friction=PinFriction(10.0, 0.2)))[1].rest
    assert rest is not None
    assert rest.pull is not None
    assert rest.rubbing is not None
    assert rest.rubbing - rest.pull.force == pytest.approx(1.961161 * 98.0665 / 800.0, rel=0.02)


def test_a_gust_brings_it_off() -> None:
    """1.0125 N per (m/s)² at 450 against 6811.627606 N·mm: √14.95008."""
    rest = analysed(lid(stop=STOP, across=1000.0))[1].rest
    assert rest is not None
    assert rest.withstands == pytest.approx(3.866533, abs=1e-6)


def test_a_lid_that_falls_from_full_opening_does_not_rest() -> None:
    assert analysed(lid())[1].rest is None
    assert analysed(lid(stop=replace(STOP, at_deg=85.0)))[1].rest is None


def test_what_rises_all_the_way_has_no_way_back() -> None:
    rest = analysed(lid(masses=(Mass("lid", 10.0, (-400.0, 0.0)),)))[1].rest
    assert rest is not None
    assert (rest.on_stop, rest.back_to_deg) == (False, None)
    assert rest.pull is not None
    assert rest.pull.force == pytest.approx(49.03325, abs=1e-3)  # level: 98.0665/2, at shut
    assert rest.pull.deg == pytest.approx(0.0, abs=1e-6)


def test_without_a_handle_no_pull_is_told() -> None:
    rest = analysed(lid(stop=STOP, handle=None))[1].rest
    assert rest is not None
    assert rest.pull is None
    assert rest.back_to_deg == pytest.approx(90.0, abs=1e-4)


def test_what_weighs_nothing_does_not_rest() -> None:
    assert analysed(lid(stop=STOP, masses=()))[1].rest is None
