"""Choices of pins, for all or for one: pure, one step each, gone where nothing is left of them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics.build_parts import PinChoice, Stack
from kinematics.errors import ProjectError
from kinematics.making_edits import as_all_pins, choose_pins
from tests.specimens import demo_six_bar


def test_all_pins_or_one() -> None:
    project = choose_pins(demo_six_bar, kind="plain pin", washer=1.0)
    assert project.stacking == Stack(kind="plain pin", washer=1.0)
    second, first = demo_six_bar.pivots[1].id, demo_six_bar.pivots[0].id
    project = choose_pins(choose_pins(project, second, bushing="none"), first, diameter=10.0)
    assert project.stacking.pins == (PinChoice(first, diameter=10.0), PinChoice(second, bushing="none"))
    assert as_all_pins(project, first).stacking.pins == (PinChoice(second, bushing="none"),)
    assert demo_six_bar.stack is None


def test_what_says_nothing_any_more_is_gone() -> None:
    pin = demo_six_bar.pivots[0].id
    project = choose_pins(demo_six_bar, pin, bushing="none")
    assert choose_pins(project, pin, bushing=None).stack is None
    assert as_all_pins(project, pin).stack is None


def test_what_changes_nothing_gives_the_project_itself() -> None:
    odd = replace(demo_six_bar, stack={"kind": 3})
    assert choose_pins(odd) is odd
    assert as_all_pins(odd, "nobody") is odd
    assert choose_pins(odd, kind="plain pin").stacking.kind == "plain pin"


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ProjectError, match="diameter is 0"):
        choose_pins(demo_six_bar, diameter=0.0)
    with pytest.raises(ProjectError, match="no pivot"):
        choose_pins(demo_six_bar, "nobody", diameter=8.0)
