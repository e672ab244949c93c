"""Sentences on lifting, read as a builder reads them in the report."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.influence_words import influence_sentence
from app.lengths import LengthStyle, format_force
from app.load_words import lift_sentences
from app.mend_words import refusal
from app.report import as_dict, as_text
from app.words import change_since, check_sentence
from kinematics import analyse
from kinematics.influence import influence_on
from kinematics.mending import mend
from kinematics.project import Attachment, Device, Handle, LiftWants, Loads, Mass, PinFriction, WorstCase
from kinematics.results import Check
from tests.specimens import demo_six_bar, single_pivot

if TYPE_CHECKING:
    from kinematics.project import Project

WEIGHT = Mass("lid", 10.0, (400.0, 100.0))
GRIP = Handle("lid", (800.0, 0.0))
STRUT = Device(
    "strut",
    "gas strut",
    1,
    Attachment("body", (0.0, -200.0)),
    Attachment("lid", (300.0, 0.0)),
    extended=420.0,
    stroke=120.0,
    force=300.0,
    ratio=1.3,
    friction=20.0,
)


def lid(wanted: float = 120.0, **loads: object) -> Project:
    there = replace(Loads(masses=(WEIGHT,), handle=GRIP), **loads)
    return replace(single_pivot, loads=there, travel=replace(single_pivot.travel, wanted_deg=wanted))


def told(project: Project) -> list[str]:
    return lift_sentences(analyse(project, 13), "mm")


@pytest.mark.parametrize(
    ("newtons", "said"), [(49.03325, "49 N"), (9.94, "9.9 N"), (-3.14, "−3.1 N"), (1095.8, "1096 N"), (-0.01, "0 N")]
)
def test_forces_as_people_read_them(newtons: float, said: str) -> None:
    assert format_force(newtons) == said


@pytest.mark.parametrize(
    ("newtons", "said"),
    [(44.482216152605, "10 lbf"), (1.0, "0.2 lbf"), (-100.0, "−22.5 lbf"), (4448.2216, "1000 lbf"), (0.01, "0 lbf")],
)
def test_beside_inches_forces_are_in_pounds_force(newtons: float, said: str) -> None:
    """1 lbf = 4.4482216152605 N: NIST Special Publication 811 (2008), appendix B.8 (from memory)."""
    assert format_force(newtons, "in") == said


def test_no_force_is_a_stroke_and_a_style_has_its_comma() -> None:
    assert format_force(math.nan) == format_force(None) == "—"
    assert format_force(9.96, LengthStyle(comma=True)) == "10 N"
    assert format_force(1.25, LengthStyle(comma=True), fine=True) == "1,25 N"
    assert format_force(1.25, LengthStyle("in"), unit=False) == "0.3"


def test_a_lid_by_its_weight() -> None:
    """10 kg at 400, hand at 800: 49 N when shut; over the pin at 76°; past it the lid pulls on."""
    assert told(lid()) == [
        "The largest push at the handle is 49 N, at 0°.",
        "Shut, 49 N hold it.",
        "Open 120°, it rises by itself: 35 N hold it back.",
        "Let go, it balances at 76°, but goes on from there either way.",
        "By its weight alone it tips over at 76°.",
        "Of the pins of one hinge, A carries most: 49 N, at 90°.",
    ]


def test_friction_temperature_and_a_stop() -> None:
    project = lid(devices=(STRUT,), temperature=-10.0, pin_friction=PinFriction(4.0, 0.15))
    said = told(project)
    assert any(line.startswith("With friction, shut: ") for line in said)
    assert said[-1] == "Struts as at −10 °C."
    text = as_text(project, analyse(project, 13))
    assert "\nLift\n----\n" in text
    assert "drawn out to its full length" in text


@pytest.mark.parametrize(
    ("force", "told_of_it"), [(10.0, "raise it, and held by"), (230.0, "friction holds it; "), (900.0, "held back by")]
)
def test_friction_in_words(force: float, told_of_it: str) -> None:
    """A strut that hardly helps, one that about balances, and one that throws the lid up."""
    weak = replace(STRUT, extended=600.0, stroke=400.0, force=force, friction=40.0)
    said = [line for line in told(lid(80.0, devices=(weak,))) if line.startswith("With friction, shut: ")]
    assert len(said) == 1
    assert told_of_it in said[0]


def test_without_handle_or_loads() -> None:
    assert told(lid(handle=None))[0] == "No handle is set, so no effort can be told."
    assert told(replace(lid(), loads=None)) == []
    assert "\nLift\n" not in as_text(single_pivot, analyse(single_pivot, 3))


def test_the_report_has_the_figures_in_keys_of_its_own() -> None:
    project = lid(devices=(STRUT,), pin_friction=PinFriction(4.0, 0.15))
    found = as_dict(project, analyse(project, 5))
    assert found["opening"]["ends"] == "device stop"
    loads = found["loads"]
    names = ["largest", "least", "balances", "tip_over_deg", "raising", "letting_down", "devices", "rest"]
    assert list(loads) == names
    assert loads["devices"][0]["lengths"][-1] == pytest.approx(420.0, abs=1e-6)
    assert loads["devices"][0]["forces"][-1] == pytest.approx(300.0, abs=1e-6)
    for pose, up, down in zip(found["poses"], loads["raising"], loads["letting_down"], strict=True):
        assert up > pose["effort"] > down
    bare = as_dict(demo_six_bar, analyse(demo_six_bar, 3))["loads"]
    assert (bare["raising"], bare["largest"], bare["devices"]) == (None, None, [])


# -------------------------------------------------------------------------------------------------------------- checks
def lifted(side: str, want: float, have: float, deg: float = 0.0) -> Check:
    return Check("push", (), want, have, have <= want, want - have, deg, side=side)


CHECKS = {
    "push at the handle, shut: 49 N, wants at most 60 N": lifted("shut", 60.0, 49.03),
    "push at the handle, shut: 60.02 N, wants at most 60 N": lifted("shut", 60.0, 60.02),
    "largest push at the handle: 56 N at 24.1°, wants at most 50 N": lifted("largest", 50.0, 56.2, 24.1),
    "stays open by itself: 13 N short of it, wants no push": lifted("open", 0.0, 13.1, 75.0),
    "stays open by itself: 13 N to spare, wants no push": lifted("open", 0.0, -13.1, 75.0),
    "doesn't rise by itself: rises from 12° on, wants before 20°": Check("rests", (), 20.0, 12.0, False, -8.0, 12.0),
    "doesn't rise by itself: rests to 75°, wants before 20°": Check("rests", (), 20.0, 75.0, True, 55.0, 75.0),
}


@pytest.mark.parametrize("sentence", CHECKS)
def test_checks_of_lifting_in_words(sentence: str) -> None:
    assert check_sentence(CHECKS[sentence], "mm") == sentence


def test_a_missing_effort_is_said_and_changes_have_their_unit() -> None:
    missing = Check("push", (), 60.0, None, False, -math.inf, side="largest")
    assert "it takes a handle that moves" in check_sentence(missing, "mm")
    before, now = (Check("push", (), 60.0, have, True, 60.0 - have, 0.0, side="shut") for have in (40.0, 38.7))
    assert change_since(now, before, "mm") == "+1.3 N"
    assert change_since(before, now, "mm") == "−1.3 N"
    assert change_since(before, before, "mm") == "±0 N"


def test_what_a_pin_does_to_the_push_is_told_in_newtons() -> None:
    """By differences, as the sweep's rates know nothing of loads."""
    hatch = replace(Loads(masses=(Mass("hatch", 18.0, (620.0, 285.0)),)), handle=Handle("hatch", (1180.0, 255.0)))
    analysis = analyse(replace(demo_six_bar, loads=replace(hatch, wants=LiftWants(at_most=60.0))), 9)
    check = next(check for check in analysis.checks if check.kind == "push")
    found = influence_on(analysis, check, "Q")
    assert found is not None
    assert " N lighter" in influence_sentence(found, "mm")


def test_put_right_says_that_it_doesnt_work_on_lifting() -> None:
    hatch = Loads(masses=(Mass("hatch", 18.0, (620.0, 285.0)),), handle=Handle("hatch", (1180.0, 255.0)))
    heavy = replace(demo_six_bar, loads=replace(hatch, wants=LiftWants(at_most=5.0)))
    mended = mend(heavy, aside=(0.0,))
    assert not mended.ok
    said = refusal(mended, "mm")
    assert "largest push at the handle" in said
    assert "fight" not in said


def test_the_worst_case_in_words() -> None:
    case = WorstCase(-10.0, 5.0, True)
    full = replace(STRUT, extended=600.0, stroke=300.0, count=2, friction=None)
    project = lid(80.0, devices=(full,), wants=LiftWants(stays_open_in=case))
    said = next(line for line in told(project) if line.startswith("At worst"))
    assert said.startswith("At worst, open, −10 °C, a slope of 5°, one strut “strut” dead: ")
    assert said.endswith("6.9 N are left before it comes down, without friction and wind.")
    told_of = as_dict(project, analyse(project, 3))["loads"]["worst"]
    assert (told_of["temperature"], told_of["slope_deg"], told_of["dead"]) == (-10.0, 5.0, "strut")
    assert told_of["effort"] == pytest.approx(-6.9, abs=0.05)
    bare = lid(60.0, wants=LiftWants(stays_open_in=WorstCase()))
    assert "At worst, open: it comes down unless 14 N hold it; it needs a prop." in told(bare)
