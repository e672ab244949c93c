"""Edits of what holds the hinge: begun, changed, taken out; what a file carries in its place is never written over."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics.errors import ProjectError
from kinematics.mount_edits import begin_mount, drop_mount, set_mount
from kinematics.mount_parts import Base, Bracket, Mount
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


def test_a_base_in_inches_begins_with_an_inch_bolt() -> None:
    assert begin_mount(replace(demo_six_bar, display_units="in"), "base").mounted.base == Base(bolt="5/16-18")


def test_what_cant_be_is_said() -> None:
    with pytest.raises(ProjectError, match="nothing is said of it yet"):
        set_mount(demo_six_bar, "base", plate=5.0)
    with pytest.raises(ProjectError, match="isn't sound"):
        begin_mount(replace(demo_six_bar, mount=[1]), "base")
