"""What holds a panel open, in sentences, in checks and in the report."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

import kinematics
from app.holding_words import holding_cautions, holding_sentences
from app.report import as_dict, as_text
from app.words import check_sentence
from kinematics.fittings import Prop, Stop
from kinematics.loads import LiftWants, Loads, WorstCase
from kinematics.parts import Attachment, Device, Mass
from kinematics.project import Outline
from tests.kinematics.held_open import PROP, STOP, analysed, lid
from tests.specimens import ALL, demo_six_bar, half_drawn

if TYPE_CHECKING:
    from kinematics.project import Project

WINDY = WorstCase(-10.0, 5.0, one_dead=True, wind=12.0)


SLIDES = (
    "At its seat it leans 30° off square to “skin”; beyond 11.3° it slides on a plain seat (friction 0.2, metal on"
    " greasy metal: common practice, no source): towards the front edge. Give it a socket, a hook or a pin."
)
THROUGH = replace(PROP, from_end=Attachment("body", (0.0, 0.0)))
"""From the lid's pin: it neither grows nor shrinks."""

WALLED = replace(
    lid(prop_rod=replace(PROP, from_end=PROP.to_end, to_end=PROP.from_end)),
    outlines=(Outline("skin", "lid", ((0.0, 0.0), (900.0, 0.0))), Outline("bed", "body", ((0.0, 0.0), (900.0, 0.0)))),
)
"""It hangs from the lid and sits on the body."""


def said(project: Project, units: str = "mm") -> list[str]:
    return holding_sentences(analysed(project)[0], units)  # type: ignore[arg-type]


def test_a_prop_with_all_that_is_told_of_it() -> None:
    assert said(lid(prop_rod=PROP)) == [
        "The prop is 600.0 mm from end to end, set at 60°.",
        "With nobody's hand it bears 38 N.",
        SLIDES,
        "Shut, it finds room: 600.0 mm long, with 600.0 mm from the end that it hangs by to the panel's far edge.",
        "Raised further, 60° to 80°, its seat goes up to 171.3 mm away from it: there it can drop out.",
        "Meanwhile, of the pins of one hinge, A carries most: 34 N.",
    ]


def test_in_a_gust() -> None:
    found = said(lid(WorstCase(wind=10.0), across=1000.0, prop_rod=PROP, stop=STOP))
    assert "At worst it bears 125 N (a gust of 10 m/s)." in found
    assert "It can also be drawn by 50 N (a gust of 10 m/s): pin it, or it jumps off its seat." in found
    assert found[-1] == (
        "A gust of 10 m/s presses by ½ · 1.25 kg/m³ · v² = 62.5 Pa (air: EN 1991-1-4:2005, 4.5), times 1.8 for a flat"
        " board (the same, 7.4.3; both from memory), on 900.0 mm × 1000.0 mm: 101 N square to the panel, at its middle,"
        " either way."
    )


def test_a_stop_and_the_rest_on_it() -> None:
    assert said(lid(WorstCase(wind=10.0), across=1000.0, stop=STOP))[:-1] == [
        "At the stop's 100°, “lid” has turned 100° against “body” about A, 1° for each degree of opening there.",
        "With nobody's hand its faces bear 136 N, 50.0 mm from the pin, 2 hinges together.",
        "At worst they bear 1047 N (a gust of 10 m/s); thrown against them, more.",
        "Open 100° it rests by itself, on its stop.",
        "It takes 8.5 N at the handle to bring it back, most at 100°.",
        "Back past 90° it goes on towards shut by itself.",
        "A gust of more than 3.9 m/s, square on the panel, brings it off its rest.",
    ]


def test_in_inches() -> None:
    found = said(lid(WorstCase(wind=10.0), across=1000.0, prop_rod=PROP), "in")
    assert found[0] == 'The prop is 23 5/8" from end to end, set at 60°.'
    assert "mph" in found[-1]
    assert "lbf" in found[-1]


@pytest.mark.parametrize(
    ("project", "told"),
    [
        (lid(prop_rod=replace(PROP, at_deg=85.0)), "its opening, 85°, isn't reached, as the panel opens to 80°."),
        (lid(prop_rod=THROUGH), "so that it can't hold it. Put an end elsewhere."),
        (lid(prop_rod=PROP, masses=(Mass("lid", 10.0, (-400.0, 0.0)),)), "Nothing rests on it: the panel would rise"),
        (lid(prop_rod=replace(PROP, from_end=Attachment("body", (1200.0, 0.0)))), "it stays on a plain seat"),
        (lid(prop_rod=replace(PROP, from_end=Attachment("body", (850.0, 0.0)), at_deg=80.0)), "Shut, it finds no room"),
        (replace(lid(prop_rod=PROP), outlines=()), "Draw the line of “lid” at the prop's seat"),
        (WALLED, "away from the hinge. Give it a socket"),
        (lid(stop=replace(STOP, at_deg=85.0)), "With nobody's hand nothing leans on it."),
        (lid(WorstCase(wind=12.0)), "How wide is the panel across the body? Without that, a gust of 12 m/s"),
        (replace(lid(WorstCase(wind=12.0), across=900.0), outlines=()), "Draw the panel's outline"),
        (lid(masses=(Mass("lid", 10.0, (-400.0, 0.0)),)), "It rises by itself all the way from shut"),
    ],
)  # fmt: skip
def test_sentences_of_what_is_missing(project: Project, told: str) -> None:
    assert any(told in sentence for sentence in said(project)), said(project)


def test_the_want_says_that_it_needs_its_prop() -> None:
    """The lid falls from 80° by its weight alone: 8.5 N, and in the gust more."""
    found, _ = analysed(lid(WorstCase(wind=10.0), across=1000.0, prop_rod=PROP))
    checks = {check.side: check for check in found.checks if check.kind == "push"}
    assert checks["open"].ok
    assert checks["worst"].ok
    assert check_sentence(checks["open"], "mm") == (
        "stays open by itself: needs its prop, pinned at both ends; 8.5 N short without it, wants no push"
    )
    assert "needs its prop, pinned at both ends; 65 N short without it" in check_sentence(checks["worst"], "mm")
    calm, _ = analysed(lid(WorstCase(slope_deg=5.0), prop_rod=PROP))  # nothing draws it
    assert "needs its prop; 8.5 N short without it" in check_sentence(
        next(check for check in calm.checks if check.side == "open"), "mm"
    )
    assert "hold it; it needs its prop." in as_text(found.project, found)


@pytest.mark.parametrize("prop", [None, replace(PROP, at_deg=81.0), THROUGH])
def test_a_prop_that_cannot_hold_is_no_help(prop: object) -> None:
    found, _ = analysed(lid(WorstCase(wind=10.0), across=1000.0, prop_rod=prop))
    assert not any(check.ok for check in found.checks if check.kind == "push")


def test_the_stop_is_a_check() -> None:
    found, _ = analysed(lid(stop=replace(STOP, at_deg=78.0)))
    (check,) = [check for check in found.checks if check.kind == "stop"]
    assert check_sentence(check, "mm") == "stop, body – lid: only 78°, wants past 80°"
    loads = Loads(
        (Mass("hatch", 18.0, (620.0, 285.0)),), stop=replace(STOP, between=("bulkhead", "hatch"), at_deg=77.0)
    )
    found, told = analysed(replace(demo_six_bar, loads=loads))
    (check,) = [check for check in found.checks if check.kind == "stop"]
    assert check_sentence(check, "mm").startswith(
        "stop, bulkhead – hatch: 77°, but no pivot joins the two, wants past 75°"
    )
    assert any("No pivot joins" in line for line in holding_sentences(found, "mm"))
    assert told.stop is not None


def test_the_report_has_it_in_keys_of_its_own() -> None:
    project = lid(WINDY, across=1000.0, prop_rod=PROP, stop=STOP)
    loads = as_dict(project, kinematics.analyse(project, 5))["loads"]
    assert loads["worst"]["wind"] == 12.0
    assert loads["prop"]["length"] == pytest.approx(600.0)
    assert loads["prop"]["seat"]["slides"] == "front"
    assert loads["prop"]["most"]["wind"] == 12.0
    assert loads["prop"]["pins"] == {"A": pytest.approx(34.023616, abs=1e-6)}
    assert loads["stop"]["force"] == pytest.approx(136.232552, abs=1e-6)
    assert loads["rest"]["back_to_deg"] == pytest.approx(90.0, abs=1e-4)
    assert loads["gust"]["pressure"] == pytest.approx(90.0)
    bare = as_dict(lid(), kinematics.analyse(lid(), 5))["loads"]
    assert not {"prop", "stop", "rest", "gust", "worst"} & set(bare)


def test_half_drawn_is_told_nothing() -> None:
    project = replace(half_drawn, loads=Loads(prop_rod=None))
    found = kinematics.analyse(project, 3)
    assert holding_sentences(found, "mm") == []
    assert holding_sentences(kinematics.analyse(half_drawn, 3), "mm") == []


def test_cautions_stand_where_they_matter() -> None:
    strut = Device(
        "strut", "gas strut", 1, Attachment("body", (0.0, -500.0)), Attachment("lid", (300.0, 0.0)),
        extended=801.0, stroke=300.0, force=1.0, ratio=1.0,
    )  # fmt: skip
    project = lid(prop_rod=PROP, stop=STOP, devices=(strut,))
    text = " ".join(as_text(project, kinematics.analyse(project, 5)).split())
    for words in ("A prop that slips drops the panel", "Never rely on struts alone", "Stand clear of the pinch places"):
        assert words in text
    assert holding_cautions(lid()) == []
    assert holding_cautions(half_drawn) == []


@pytest.mark.parametrize("name", sorted(ALL))
def test_whatever_the_sheet_no_fault_and_no_number_that_is_none(name: str) -> None:
    """A prop and a stop between the fixed link and the panel of each specimen, in wind and cold."""
    project = ALL[name]
    hangs, seat = Attachment(project.fixed.id, (30.0, -40.0)), Attachment(project.panel.id, (120.0, 35.0))
    loads = Loads(
        (Mass(project.panel.id, 5.0, (80.0, 20.0)),),
        prop_rod=Prop(hangs, seat, 40.0),
        stop=Stop((project.fixed.id, project.panel.id), 78.0, 20.0),
        across=900.0,
        wants=LiftWants(stays_open=True, stays_open_in=WINDY),
    )
    found = kinematics.analyse(replace(project, loads=loads), 3)
    told = as_dict(found.project, found)
    assert json.loads(json.dumps(told, allow_nan=False))["loads"] == told["loads"]
    text = as_text(found.project, found)
    assert "nan" not in text.replace("finan", "")
    assert any(check.kind == "stop" for check in found.checks)
