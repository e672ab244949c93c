"""What a proposal becomes, and whether two projects ask the same."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from app.proposals.asking import first_width
from app.proposals.enough import Enough
from app.proposals.taking import kept, question, taken
from app.trials.kept import keep_trial, trials_of
from kinematics import edits
from kinematics.errors import ProjectError
from kinematics.measures import Anchor
from kinematics.project import Measure, Outline
from kinematics.proposals.results import Proposal, Settings
from tests import specimens
from tests.app.proposals import fake
from tests.app.sharing import demo


@cache
def found_by(number: int) -> Proposal:
    """What a unit of the search in small finds."""
    (proposal,) = fake.run(demo(), Settings(), number).proposals
    return proposal


def test_what_the_search_places_is_no_part_of_the_question() -> None:
    asked = question(demo())
    project = edits.move_pivot(demo(), "Q", (1.0, 2.0))
    project = edits.set_title(edits.set_units(edits.set_notes(project, "new"), "in"), "other")
    project = keep_trial(project, "one")
    project = edits.add_measure(project, Measure("d", "distance", (Anchor(pivot="Q"), Anchor(pivot="O1"))))
    assert question(project) == asked
    assert question(taken(demo(), found_by(1))) == asked, "taking a proposal asks nothing new"


@pytest.mark.parametrize(
    "change",
    [
        lambda project: edits.set_travel(project, wanted_deg=60.0),
        lambda project: edits.lock_pivot(project, "O1"),
        lambda project: edits.set_pin_spacing(project, 45.0),
        lambda project: edits.add_outline(project, Outline("box", project.fixed.id, ((0.0, 0.0), (9.0, 9.0)))),
        lambda project: edits.remove_limit(project, "rear corner"),
    ],
)
def test_what_is_wanted_or_stands_there_is_part_of_the_question(change: object) -> None:
    assert callable(change)
    assert question(change(demo())) != question(demo())


@pytest.mark.parametrize("name", specimens.ALL)
def test_every_project_asks_something(name: str) -> None:
    project = specimens.ALL[name]
    assert question(question(project)) == question(project)


def test_a_locked_pin_that_is_moved_asks_anew() -> None:
    locked = edits.lock_pivot(demo(), "O1")
    assert question(edits.move_pivot(locked, "O1", (3.0, 4.0))) != question(locked)


def test_taken_it_has_the_words_and_trials_of_the_project() -> None:
    project = keep_trial(edits.set_title(edits.set_units(demo(), "in"), "Mine"), "first")
    found = taken(project, found_by(1))
    assert (found.title, found.display_units, found.trials) == ("Mine", "in", project.trials)
    assert found.pivots == found_by(1).project.pivots
    assert found.links == found_by(1).project.links


def test_kept_it_is_a_trial_and_the_layout_stays() -> None:
    project = kept(demo(), found_by(1), "found", "from a search")
    assert replace(project, trials=()) == replace(demo(), trials=())
    (trial,) = trials_of(project)
    assert (trial.name, trial.note) == ("found", "from a search")
    assert trial.project is not None
    assert trial.project.pivots == found_by(1).project.pivots
    with pytest.raises(ProjectError, match="already"):
        kept(project, found_by(2), "found")


def test_links_begin_as_wide_as_those_that_are_there() -> None:
    bare = replace(demo(), links=(demo().fixed, demo().panel), pivots=(), outlines=(), marks=(), limits=(), gaps=())
    assert first_width(bare) == Settings().width
    assert first_width(replace(bare, display_units="in")) == 28.575
    arm = next(link.id for link in demo().links if link.kind == "link")
    assert first_width(edits.set_width(demo(), arm, 61.0)) == 61.0


def test_enough_is_so_many_good_ones_after_so_many_units() -> None:
    good = tuple(replace(found_by(1), unit=unit) for unit in range(3))
    few = Enough(good=3, least_units=2, dry_units=4)
    assert not few.after(good[:1], good[:1])
    assert not few.after(good[1:2], good[:2])
    assert few.after(good[2:], good)


def test_enough_is_a_long_time_without_news_but_never_nothing() -> None:
    dry = Enough(good=9, least_units=1, dry_units=3)
    assert not dry.after((found_by(1),), (found_by(1),))
    assert not dry.after((), (found_by(1),))
    assert not dry.after((found_by(0),), (found_by(1),)), "one that falls short is no news"
    assert dry.after((), (found_by(1),))
    nothing = Enough(good=9, least_units=1, dry_units=3)
    assert not any(nothing.after((), ()) for _ in range(50))
