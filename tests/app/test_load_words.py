"""Sentences on lifting, read as a builder reads them in the report."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.load_words import format_force, lift_sentences
from app.report import as_dict, as_text
from kinematics import analyse
from kinematics.project import Attachment, Device, Handle, Loads, Mass, PinFriction
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
    assert list(loads) == ["largest", "least", "balances", "tip_over_deg", "raising", "letting_down", "devices"]
    assert loads["devices"][0]["lengths"][-1] == pytest.approx(420.0, abs=1e-6)
    assert loads["devices"][0]["forces"][-1] == pytest.approx(300.0, abs=1e-6)
    for pose, up, down in zip(found["poses"], loads["raising"], loads["letting_down"], strict=True):
        assert up > pose["effort"] > down
    bare = as_dict(demo_six_bar, analyse(demo_six_bar, 3))["loads"]
    assert (bare["raising"], bare["largest"], bare["devices"]) == (None, None, [])
