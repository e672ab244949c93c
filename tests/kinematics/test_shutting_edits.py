"""Edits of latch, seal and bump stops: pure, shared where nothing changed, sentences for what can't be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics import shutting_edits
from kinematics.errors import ProjectError
from kinematics.project import Loads
from tests.specimens import demo_six_bar, single_pivot

LID = replace(single_pivot, loads=None)


def test_a_striker_is_put_moved_turned_and_removed() -> None:
    once = shutting_edits.put_latch(LID, (400.0, 0.0))
    latch = shutting_edits.latch_of(once)
    assert latch is not None
    assert (latch.on, latch.at, latch.way_deg) == ("lid", (400.0, 0.0), 270.0)
    turned = shutting_edits.turn_latch(once, 265.0)
    moved = shutting_edits.latch_of(shutting_edits.put_latch(turned, (390.0, 1.0)))
    assert moved is not None
    assert (moved.at, moved.way_deg) == ((390.0, 1.0), 265.0)
    assert shutting_edits.put_latch(once, (400.0, 0.0)) is once
    assert shutting_edits.remove_latch(once) == LID
    assert shutting_edits.remove_latch(LID) is LID
    with pytest.raises(ProjectError, match="no latch"):
        shutting_edits.turn_latch(LID, 1.0)


def test_a_striker_begins_at_the_foremost_point() -> None:
    assert shutting_edits.first_striker(LID) == (400.0, 0.0)
    assert shutting_edits.first_striker(replace(LID, outlines=())) == (600.0, 0.0)


def test_a_seal_goes_all_round_and_begins_in_the_middle() -> None:
    """From (−30, 0) to (400, 0), 1000 mm across: 2·(430 + 1000) mm."""
    wide = replace(LID, loads=Loads(across=1000.0))
    (seal,) = shutting_edits.cushions_of(shutting_edits.add_cushion(wide, "seal"))
    assert (seal.id, seal.on, seal.at, seal.length) == ("seal", "lid", (185.0, 0.0), 2860.0)
    assert seal.pushes == pytest.approx(60.0 * 2.86)


def test_stops_begin_in_pairs_in_front_and_have_names_of_their_own() -> None:
    twice = shutting_edits.add_cushion(shutting_edits.add_cushion(LID, "bump stop"), "bump stop")
    first, second = shutting_edits.cushions_of(twice)
    assert (first.id, second.id) == ("bump stop", "bump stop 2")
    assert (first.at, first.count, first.pushes) == ((400.0, 0.0), 2, 60.0)
    assert shutting_edits.last_added(twice) == "bump stop 2"
    assert shutting_edits.last_added(LID) == ""


def test_one_is_changed_and_removed_and_the_others_are_shared() -> None:
    twice = shutting_edits.add_cushion(shutting_edits.add_cushion(LID, "bump stop"), "seal")
    changed = shutting_edits.change_cushion(twice, "seal", per_metre=80.0)
    assert shutting_edits.cushion_named(changed, "seal").per_metre == 80.0
    assert shutting_edits.cushions_of(changed)[0] is shutting_edits.cushions_of(twice)[0]
    left = shutting_edits.remove_cushion(changed, "seal")
    assert [each.id for each in shutting_edits.cushions_of(left)] == ["bump stop"]
    assert shutting_edits.remove_cushion(left, "bump stop") == LID


@pytest.mark.parametrize("edit", [shutting_edits.remove_cushion, shutting_edits.cushion_named])
def test_what_isnt_there_is_told(edit: object) -> None:
    with pytest.raises(ProjectError, match="no seal or bump stop"):
        edit(demo_six_bar, "seal")  # type: ignore[operator]


def test_a_squeeze_of_nothing_is_refused() -> None:
    with pytest.raises(ProjectError, match="squeeze"):
        shutting_edits.change_cushion(shutting_edits.add_cushion(LID, "seal"), "seal", squeeze=0.0)
