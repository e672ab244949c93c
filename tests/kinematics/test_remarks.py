"""Remarks: whatever keeps a panel from opening is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

import kinematics
from kinematics.project import Link, Pivot
from kinematics.remarks import listed, listed_numbers
from tests import specimens
from tests.kinematics import random_linkages


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_a_panel_that_does_not_open_is_explained(name: str) -> None:
    analysis = kinematics.analyse(specimens.ALL[name], steps=2)
    assert analysis.opening.reached_deg > 0.0 or analysis.remarks


def test_a_panel_at_its_dead_point_when_shut_is_told_so() -> None:
    """Seed 5330 of the random linkages: all pins in one line, the panel's turn at its end when shut."""
    analysis = kinematics.analyse(random_linkages.linkage(5330).project(), steps=2)
    assert analysis.opening.ends == "dead point"
    assert analysis.opening.reached_deg < 1e-4
    assert any("dead point when shut" in remark for remark in analysis.remarks)


def test_things_to_keep_clear_of_are_missed_until_they_are_drawn() -> None:
    ticked = replace(specimens.demo_six_bar, keep_clear=("screen and sill", "knee"))
    (remark,) = set(kinematics.analyse(ticked).remarks) - set(kinematics.analyse(specimens.demo_six_bar).remarks)
    assert remark == "“knee” is to be kept clear of but not drawn yet, so nothing watches it."
    both = replace(specimens.demo_six_bar, keep_clear=("light", "knee"))
    assert "“light” and “knee” are to be kept clear of" in kinematics.analyse(both).remarks[-1]


SAID = {
    "single_pivot": (),
    "demo_six_bar": (),
    "parallelogram": ("At shut “panel” moves without turning, so it does not open.",),
    "change_point": ("At 60.0° links come into line and the linkage could go on in another way",),
    "locked_triangle": ("“panel” is locked: its links leave it no way to move (“panel” and “stay” can't move).",),
    "shaky_cranks": ("“panel” is locked: its links leave it no way to move (“panel”, “first”, “second” and “third”",),
    "peaucellier": (),
    "hanging_link": ("“stay” hangs free: the panel moves without it; it is drawn as if held to the link",),
    "unjoined_panel": ("Nothing joins “hatch” to “ground” yet: join them by pivots",),
    "loose_chain": ("“panel” is loose: at one opening it could stand in many places.",),
    "half_drawn": ("Nothing joins “lid” to “body” yet", "“loose” is not joined to the rest."),
    "empty": ("Nothing joins “lid” to “body” yet",),
}


@pytest.mark.parametrize("name", SAID)
def test_what_is_said_of_a_linkage(name: str) -> None:
    told = kinematics.analyse(specimens.ALL[name], steps=2).remarks
    assert len(told) == len(SAID[name])
    for sentence, begins in zip(told, SAID[name], strict=True):
        assert sentence.startswith(begins)
        assert sentence.endswith(".")


def test_several_links_that_hang_or_are_not_joined_are_told_in_the_plural() -> None:
    base = specimens.four_bar_a1
    project = replace(
        base,
        links=(*base.links, *(Link(name) for name in ("one", "two", "three", "four"))),
        pivots=(*base.pivots, Pivot("S", (130.0, 40.0), ("rocker", "one")), Pivot("T", (150.0, 60.0), ("one", "two"))),
    )
    hanging, stray = kinematics.analyse(project, steps=2).remarks
    assert hanging.startswith("“one” and “two” hang free: the panel moves without them; they are drawn")
    assert stray == "“three” and “four” are not joined to the rest."


def test_links_that_a_truss_holds_still_are_told() -> None:
    base = specimens.four_bar_a1
    project = replace(
        base,
        links=(*base.links, Link("post"), Link("strut")),
        pivots=(
            *base.pivots,
            Pivot("G1", (-50.0, 0.0), ("ground", "post")),
            Pivot("G2", (-90.0, 10.0), ("ground", "strut")),
            Pivot("G3", (-60.0, 80.0), ("post", "strut")),
        ),
    )
    assert kinematics.analyse(project, steps=2).remarks == ("“post” and “strut” can't move.",)


def test_a_fork_beyond_the_wanted_opening_is_not_the_builders_worry() -> None:
    near = replace(specimens.change_point, travel=replace(specimens.change_point.travel, wanted_deg=50.0))
    assert kinematics.analyse(near, steps=2).remarks == ()


def test_twin_arms_that_open_the_panel_are_told() -> None:
    project = replace(
        specimens.twin_arms,
        links=tuple(
            replace(link, kind={"panel": "link", "front": "panel"}.get(link.id, link.kind))
            for link in specimens.twin_arms.links
        ),
    )
    analysis = kinematics.analyse(project, steps=2)
    assert analysis.opening.reached_deg > 10.0
    assert any(
        remark.startswith("There are more links than the motion needs (twin arms)") for remark in analysis.remarks
    )


def test_lists_of_names_and_numbers() -> None:
    assert listed(("A",)) == "“A”"
    assert listed(("A", "B")) == "“A” and “B”"
    assert listed(("A", "B", "C")) == "“A”, “B” and “C”"
    assert listed_numbers((12.345, 60.0)) == "12.3° and 60.0°"
