"""Measures: what they take hold of, and how they follow it through edits."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics import edits, starts
from kinematics.errors import ProjectError
from kinematics.measures import Anchor, Measure, free_measure_id
from kinematics.project import Outline
from tests import strategies
from tests.specimens import demo_six_bar, with_everything

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.project import Project


def names(project: Project) -> list[str]:
    return [measure.id for measure in project.measures]


def test_an_anchor_says_what_it_is() -> None:
    assert (Anchor(pivot="A").kind, Anchor(pivot="A").name, Anchor(pivot="A").is_place) == ("pivot", "A", True)
    assert not Anchor(outline="skin").is_place
    assert Anchor(outline="skin", point=0).is_place
    assert not Anchor(link="arm").is_place
    assert Anchor(link="arm", at=(0, 1)).at == (0.0, 1.0)


@pytest.mark.parametrize(
    ("remove", "gone"),
    [
        (lambda p: edits.remove_pivot(p, "X"), {"reach"}),
        (lambda p: edits.remove_pivot(p, "O2"), set()),
        (lambda p: edits.remove_mark(p, "rear corner"), {"corner's way"}),
        (lambda p: edits.remove_outline(p, "hatch skin"), {"reach"}),
        (lambda p: edits.remove_outline(p, "seal"), set()),
        (lambda p: edits.remove_link(p, "arm"), {"reach", "knee", "room"}),  # and its pivots X and O1
    ],
)
def test_measures_go_with_what_they_measure(remove: Callable[[Project], Project], gone: set[str]) -> None:
    left = [name for name in names(with_everything) if name not in gone]
    assert names(remove(with_everything)) == left


def test_new_names_are_followed() -> None:
    after = edits.rename_pivot(edits.rename_link(with_everything, "arm", "lever"), "X", "Y")
    after = edits.rename_mark(edits.rename_outline(after, "hatch skin", "skin"), "rear corner", "corner")
    assert [anchor.name for measure in after.measures for anchor in measure.of] == [
        "Y",
        "skin",
        "O1",
        "P1",
        "hatch",
        "corner",
        "lever",
        "screen and sill",
    ]
    assert after.measures[0].of[1].unknown == {"edge": 1}


def test_a_measured_point_keeps_its_place_among_others() -> None:
    line = with_everything.outline("hatch skin").points

    def measured(project: Project) -> tuple[float, float]:
        anchor = project.measure("reach").of[1]
        return project.outline("hatch skin").points[anchor.point or 0]

    assert measured(edits.insert_outline_point(with_everything, "hatch skin", 1, (0.0, 0.0))) == line[3]
    assert measured(edits.insert_outline_point(with_everything, "hatch skin", 3, (0.0, 0.0))) == line[3]
    assert measured(edits.insert_outline_point(with_everything, "hatch skin", 4, (0.0, 0.0))) == line[3]
    assert measured(edits.delete_outline_point(with_everything, "hatch skin", 0)) == line[3]
    assert "reach" not in names(edits.delete_outline_point(with_everything, "hatch skin", 3))


def test_a_shorter_outline_in_its_place_takes_measures_of_lost_points_along() -> None:
    short = Outline("skin", "hatch", with_everything.outline("hatch skin").points[:2])
    assert names(edits.replace_outline(with_everything, "hatch skin", short)) == ["knee", "corner's way", "room"]


def test_a_start_takes_the_measures_of_old_pins_and_links_along() -> None:
    assert names(starts.start(with_everything, starts.starts()[0].kind)) == ["corner's way"]


@given(strategies.ready_projects(), st.data())
def test_whatever_goes_a_sound_project_is_left(project: Project, data: st.DataObject) -> None:
    for pivot in data.draw(st.lists(st.sampled_from(project.pivots or (None,)), unique=True)):
        project = project if pivot is None else edits.remove_pivot(project, pivot.id)
    for mark in project.marks:
        project = edits.remove_mark(project, mark.id)
    for outline in project.outlines:
        project = edits.remove_outline(project, outline.id)
    left = {anchor.kind for measure in project.measures for anchor in measure.of}
    assert left <= {"pivot", "link"}


def test_adding_renaming_and_removing() -> None:
    added = edits.add_measure(demo_six_bar, Measure("a", "path", (Anchor(pivot="X"),)))
    assert edits.rename_measure(added, "a", "b").measure("b").of == added.measures[0].of
    assert edits.remove_measure(added, "a") == demo_six_bar
    with pytest.raises(ProjectError):
        edits.remove_measure(added, "b")
    with pytest.raises(ProjectError):
        edits.add_measure(added, replace(added.measures[0]))


def test_names_are_numbered() -> None:
    assert free_measure_id((), "angle") == "angle 1"
    taken = (Measure("path 1", "path", (Anchor(pivot="X"),)), Measure("path 3", "path", (Anchor(pivot="Q"),)))
    assert free_measure_id(taken, "path") == "path 2"
