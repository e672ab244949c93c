"""Edits of what holds the hinge: begun, changed, taken out; what a file carries in its place is never written over."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest

from kinematics.errors import ProjectError
from kinematics.mount_edits import KINDS, begin_mount, drop_mount, set_mount
from kinematics.mount_parts import Bracket, Mount
from tests.specimens import demo_six_bar


def test_a_bracket_is_begun_changed_and_taken_out_again() -> None:
    begun = begin_mount(demo_six_bar, "bracket")
    assert begun.mounted == Mount(bracket=Bracket())
    assert begin_mount(begun, "bracket") is begun
    changed = set_mount(begun, "bracket", thickness=5.0)
    assert changed.mounted.bracket == Bracket(thickness=5.0)
    assert set_mount(changed, "bracket", thickness=5.0) is changed
    assert drop_mount(changed, "bracket") == demo_six_bar
    assert drop_mount(demo_six_bar, "base") is demo_six_bar
    kept = begin_mount(replace(demo_six_bar, mount=Mount(unknown={"screws": 4})), "base")
    assert drop_mount(kept, "base").mount == Mount(unknown={"screws": 4})


@pytest.mark.parametrize("which", KINDS)
def test_in_inches_one_begins_with_inch_bolts_and_whole_sixteenths(which: str) -> None:
    part = getattr(begin_mount(replace(demo_six_bar, display_units="in"), which).mounted, which)
    usual = KINDS[which]()
    assert getattr(part, "bolt", "5/16-18") == "5/16-18"
    for field in fields(part):
        mm, was = getattr(part, field.name), getattr(usual, field.name)
        if isinstance(was, float):
            assert mm / 25.4 * 16.0 == pytest.approx(round(mm / 25.4 * 16.0))
            assert abs(mm - was) <= 25.4 / 32.0 + 1e-9 or mm == 25.4 / 16.0
            assert (mm > 0.0) == (was > 0.0)


def test_what_cant_be_is_said() -> None:
    with pytest.raises(ProjectError, match="nothing is said of it yet"):
        set_mount(demo_six_bar, "base", plate=5.0)
    with pytest.raises(ProjectError, match="isn't sound"):
        begin_mount(replace(demo_six_bar, mount=[1]), "base")
