"""Edits of prop, stop, gust and width: each gives a new project, and nothing where nothing changes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from kinematics import holding_edits as edits
from kinematics.errors import ProjectError
from kinematics.fittings import Prop
from kinematics.loads import LiftWants, Loads, WorstCase
from kinematics.parts import Attachment
from tests.kinematics.held_open import PROP, STOP, lid
from tests.specimens import empty, single_pivot

if TYPE_CHECKING:
    from kinematics.project import Project

HANGS, SEAT = Attachment("body", (600.0, 0.0)), Attachment("lid", (600.0, 0.0))


def loads_of(project: Project) -> Loads:
    assert project.loads is not None
    return project.loads


def test_a_prop_is_put_and_put_anew() -> None:
    project = edits.put_prop(single_pivot, HANGS, SEAT, 60.0)
    assert edits.prop_of(project) == PROP
    assert project.outlines is single_pivot.outlines
    kept = replace(project, loads=replace(loads_of(project), prop_rod=replace(PROP, unknown={"colour": "red"})))
    again = edits.prop_of(edits.put_prop(kept, HANGS, SEAT, 50.0))
    assert (again.at_deg, again.unknown["colour"]) == (50.0, "red")


def test_its_ends_move_and_ride() -> None:
    project = lid(prop_rod=PROP)
    moved = edits.move_prop_end(project, 1, (500.0, 10.0))
    assert edits.prop_of(moved) == Prop(HANGS, Attachment("lid", (500.0, 10.0)), 60.0)
    assert edits.prop_of(edits.turn_prop_round(project)) == Prop(SEAT, HANGS, 60.0)
    with pytest.raises(ProjectError, match="both ends are on"):
        edits.move_prop_end(project, 1, (500.0, 10.0), "body")


def test_nothing_changes_where_nothing_does() -> None:
    project = lid(prop_rod=PROP, stop=STOP, across=1000.0)
    assert edits.set_prop_opening(project, 60.0) is project
    assert edits.move_prop_end(project, 0, (600.0, 0.0)) is project
    assert edits.change_stop(project, arm=50.0) is project
    assert edits.set_wind(project, 0.0) is project


def test_what_is_taken_out_leaves_nothing() -> None:
    bare = replace(single_pivot, loads=None)
    assert edits.remove_prop(edits.put_prop(bare, HANGS, SEAT, 60.0)) == bare
    assert edits.remove_stop(edits.add_stop(bare)) == bare
    assert edits.set_wind(edits.set_wind(bare, 12.0), 0.0) == bare
    for edit in (edits.prop_of, edits.stop_of, edits.turn_prop_round):
        with pytest.raises(ProjectError, match="there is no"):
            edit(bare)


def test_a_new_stop_lies_past_prop_and_wanted_opening() -> None:
    assert edits.stop_of(edits.add_stop(lid())).at_deg == 82.0
    assert edits.stop_of(edits.add_stop(lid(prop_rod=replace(PROP, at_deg=90.0)))).at_deg == 92.0
    assert edits.stop_of(edits.add_stop(replace(lid(), travel=replace(lid().travel, wanted_deg=179.5)))).at_deg == 180.0
    with pytest.raises(ProjectError, match="no pivot joins two links"):
        edits.add_stop(empty)


def test_pairs_that_pivots_join() -> None:
    assert edits.joined_pairs(single_pivot) == (("body", "lid"),)
    assert edits.joined_pairs(empty) == ()


def test_wind_keeps_all_else_of_the_worst_case() -> None:
    wants = LiftWants(at_most=80.0, stays_open_in=WorstCase(-10.0, 5.0, one_dead=True))
    project = edits.set_wind(lid(wants=wants), 12.0)
    assert edits.wind_of(project) == 12.0
    assert loads_of(project).wants == replace(wants, stays_open_in=WorstCase(-10.0, 5.0, one_dead=True, wind=12.0))
    assert edits.set_wind(project, 0.0) == lid(wants=wants)
    with pytest.raises(ProjectError, match="60 at most"):
        edits.set_wind(project, 80.0)
    assert edits.wind_of(replace(lid(), loads=None)) == 0.0
