"""The demos: each meets its wants, and the nudge that its notes speak of breaks one of them."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

import resources
from app.files import load
from kinematics import analyse
from kinematics.edits import move_pivot
from kinematics.families import family
from kinematics.project import Pivot, Project

SIXTEENTH = 25.4 / 16


def demo(name: str) -> Project:
    return load(resources.find(f"demos/{name}.hinge"))


def broken(project: Project) -> list[tuple[str, tuple[str, ...]]]:
    return [(check.kind, check.subject) for check in analyse(project, steps=2).checks if not check.ok]


def nudged(project: Project, pivot: str, dx: float, dy: float) -> Project:
    x, y = project.pivot(pivot).at
    return move_pivot(project, pivot, (x + dx, y + dy))


@pytest.mark.parametrize(
    ("name", "units", "kind"), [("launch hatch", "mm", "Watt I"), ("potting bench", "in", "four-bar")]
)
def test_every_want_holds(name: str, units: str, kind: str) -> None:
    project = demo(name)
    assert project.display_units == units
    assert family(project) == kind
    assert broken(project) == []
    lifted = {"push", "rests", "strength"} if name == "launch hatch" else set()
    assert {check.kind for check in analyse(project).checks} == {"gap", "limit", "opening", "pin spacing"} | lifted


def test_launch_hatch_breaks_by_the_nudge_that_its_notes_tell() -> None:
    assert broken(nudged(demo("launch hatch"), "O1", 0.0, 2.0)) == [("limit", ("rear corner",))]


def test_potting_bench_breaks_by_the_nudge_that_its_notes_tell() -> None:
    project = demo("potting bench")
    gap = ("gap", ("splashback and bin", "lid board"))
    assert broken(nudged(project, "O1", -SIXTEENTH, 0.0)) == [gap]
    assert broken(nudged(project, "P1", SIXTEENTH, 0.0)) == [gap]
    assert broken(nudged(project, "O1", SIXTEENTH, 0.0)) == []


def test_potting_bench_is_on_the_builders_sixteenths() -> None:
    for pivot in demo("potting bench").pivots:
        for value in pivot.at:
            assert value / SIXTEENTH == pytest.approx(round(value / SIXTEENTH), abs=1e-9)


def test_potting_bench_cannot_do_with_one_pin() -> None:
    """Pins all over the free space of the bin, ahead of its back and below the lid."""
    project = demo("potting bench")
    bare = replace(project, links=(project.fixed, project.panel), pivots=())
    for x, y in product((1.5, 3.0, 5.0, 8.0, 12.0), (-1.25, -2.0, -4.0, -8.0)):
        one_pin = replace(bare, pivots=(Pivot("A", (25.4 * x, 25.4 * y), ("bin", "lid")),))
        assert ("gap", ("splashback and bin", "lid board")) in broken(one_pin), (x, y)
