"""Pins on round numbers, only where every want still holds; locked ones stay."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from app.files import load
from kinematics import analyse, edits
from kinematics.families import family
from kinematics.figures import key_figures
from kinematics.proposals.results import Proposal, searched
from kinematics.proposals.rounding import rounded
from resources import find

if TYPE_CHECKING:
    from kinematics.project import Project

STEPS = (1.0, 0.5)


@pytest.fixture(scope="module")
def demo() -> Project:
    return load(find("demos/launch hatch.hinge"))


def proposal(project: Project) -> Proposal:
    analysis = analyse(project)
    worst = searched(analysis.checks)[0]
    return Proposal(project, "six-bar", family(project) or "", worst.ok, 0.0, key_figures(analysis), worst, 0)


def moved(project: Project, by: tuple[float, float]) -> Project:
    for pivot in project.pivots:
        project = edits.move_pivot(project, pivot.id, (pivot.at[0] + by[0], pivot.at[1] + by[1]))
    return project


def test_pins_go_to_whole_steps_and_every_want_still_holds(demo: Project) -> None:
    rough = moved(demo, (0.31, -0.27))
    found = rounded(proposal(rough), STEPS)
    assert found is not None
    whole, step = found
    assert step in STEPS
    assert whole.ok
    for before, after in zip(rough.pivots, whole.project.pivots, strict=True):
        for old, new in zip(before.at, after.at, strict=True):
            assert new / step == round(new / step)
            assert abs(new - old) < step
    checks = searched(analyse(whole.project).checks)
    assert all(check.ok for check in checks)
    assert whole.worst == checks[0]


def test_a_locked_pin_stays(demo: Project) -> None:
    rough = edits.lock_pivot(moved(demo, (0.31, -0.27)), "O1")
    found = rounded(proposal(rough), STEPS)
    assert found is not None
    assert found[0].project.pivot("O1") == rough.pivot("O1")


def test_where_no_step_holds_there_is_none(demo: Project) -> None:
    """Steps so coarse that the pins leave their places by centimetres."""
    assert rounded(proposal(demo), (500.0, 200.0)) is None


def test_what_is_round_already_stays_as_it_is(demo: Project) -> None:
    whole = rounded(proposal(moved(demo, (0.31, -0.27))), STEPS)
    assert whole is not None
    again = rounded(whole[0], (whole[1],))
    assert again is not None
    assert again[0].project == whole[0].project
