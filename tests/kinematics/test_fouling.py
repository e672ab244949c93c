"""What is odd about struts and springs, and what they touch though nobody watches it."""

from __future__ import annotations

import cmath
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from kinematics import analyse, edits, loading
from kinematics.fouling import Oddity, fouled, oddities
from kinematics.parts import Attachment, Device, GapWant, Outline
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.project import Project

FIXED, PANEL = demo_six_bar.fixed.id, demo_six_bar.panel.id
BARE = replace(demo_six_bar, loads=None)
FROM, TO = Attachment(FIXED, (60.0, -120.0)), Attachment(PANEL, (420.0, 240.0))
STRUT = Device("strut", "gas strut", 1, FROM, TO, extended=890.0, stroke=390.0, force=300.0, ratio=1.3)
WALL = Outline("wall", FIXED, ((240.0, -60.0), (240.0, 90.0)))


def of(project: Project) -> list[tuple[str, str]]:
    return [(odd.kind, odd.device) for odd in oddities(analyse(project, 3))]


def test_a_strut_that_swings_through_a_wall_is_told_and_asked_for_it_is_not() -> None:
    project = edits.add_outline(loading.add_device(BARE, STRUT), WALL)
    (gap,) = fouled(analyse(project, 3))
    assert gap.between == ("strut", "wall")
    assert gap.touching_deg[0][0] == 0.0
    assert fouled(analyse(replace(project, gaps=(GapWant(("wall", "strut")),)), 3)) == ()


def test_an_outline_that_it_is_bolted_to_is_left_out() -> None:
    project = edits.add_outline(loading.add_device(BARE, STRUT), WALL)
    on_wall = edits.replace_outline(project, "wall", replace(WALL, points=((70.0, -120.0), (240.0, 90.0))))
    assert fouled(analyse(on_wall, 3)) == ()
    assert fouled(analyse(BARE, 3)) == ()
    named = edits.rename_outline(project, "wall", "strut")
    assert fouled(analyse(named, 3)) == (), "the name means the outline"


def test_a_line_over_a_pin_is_found_where_its_lever_is_nothing() -> None:
    """From the body to the arm: where the spring's moment about O1 changes its sign, by its length's rate."""
    pin = BARE.pivot("O1").at
    ends = Attachment(FIXED, (pin[0] - 100.0, pin[1] + 30.0)), Attachment("arm", (pin[0] + 60.0, pin[1] + 10.0))
    project = loading.add_device(BARE, Device("s", "tension spring", 1, *ends))
    analysis = analyse(project, 3)
    found = [odd for odd in oddities(analysis) if odd.kind == "over pin"]
    assert [(odd.device, odd.pin) for odd in found] == [("s", "O1")]

    def length(deg: float) -> float:
        pose = analysis.pose(deg)
        k = analysis.links.index("arm")
        return abs(complex(*ends[0].at) - pose.shifts[k] - complex(*ends[1].at) * _turn(pose.turns[k]))

    deg = found[0].deg
    assert length(deg) == pytest.approx(length(deg + 0.05), abs=1e-3)  # longest where the lever is nothing
    assert max(length(deg - 3.0), length(deg + 3.0)) < length(deg)


def test_a_spring_whose_line_lies_over_the_pin_when_shut_is_told() -> None:
    pin = BARE.pivot("O1").at
    ends = Attachment(FIXED, (pin[0], pin[1] - 60.0)), Attachment("arm", (pin[0], pin[1] + 60.0))
    analysis = analyse(loading.add_device(BARE, Device("s", "tension spring", 1, *ends)), 3)
    found = [odd for odd in oddities(analysis) if odd.kind == "over pin"]
    assert [(odd.pin, odd.deg) for odd in found] == [("O1", 0.0)]


def _turn(angle: float) -> complex:
    return cmath.rect(1.0, angle)


def test_what_cannot_be_and_what_is_named_twice() -> None:
    impossible = replace(STRUT, extended=900.0, stroke=460.0)
    assert of(loading.add_device(BARE, impossible))[:1] == [("impossible", "strut")]
    assert ("impossible", "strut") not in of(loading.add_device(BARE, STRUT))
    named = edits.add_outline(loading.add_device(BARE, STRUT), replace(WALL, id="strut"))
    wanted = replace(named, gaps=(GapWant(("strut", "hatch skin")),))
    assert ("namesake", "strut") in of(wanted)
    assert ("namesake", "strut") not in of(replace(wanted, gaps=()))


def test_ends_in_one_place_are_told_with_their_opening() -> None:
    here = Device("s", "compression spring", 1, FROM, Attachment(PANEL, FROM.at))
    (odd,) = oddities(analyse(loading.add_device(BARE, here), 3))
    assert odd == Oddity("one place", "s", deg=pytest.approx(0.0, abs=1e-6))
