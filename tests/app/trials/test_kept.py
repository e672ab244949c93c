"""Trials: kept, returned to, renamed; carried in the file, and never lost where they can't be read."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings

from app.files import load, save
from app.trials import kept as trials
from app.trials.kept import (
    free_name,
    is_present,
    keep_trial,
    move_trial,
    note_trial,
    remove_trial,
    rename_trial,
    return_to,
)
from kinematics import edits
from kinematics.errors import ProjectError
from tests import strategies
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project

MOVED = edits.move_pivot(demo_six_bar, "Q", (1.0, 2.0))


def names(project: Project) -> list[str]:
    return [trial.name for trial in trials.trials_of(project)]


@settings(max_examples=25)
@given(strategies.ready_projects())
def test_any_layout_is_kept_and_returned_to_as_it_was(project: Project) -> None:
    bare = replace(project, trials=(), pictures=())
    kept = keep_trial(replace(project, trials=()), "first", "a note")
    (trial,) = trials.trials_of(kept)
    assert (trial.project, trial.note, trial.fault) == (bare, "a note", "")
    assert is_present(kept, trial)
    changed = replace(kept, title=f"{kept.title}!"[:200])
    back = return_to(changed, 0)
    assert replace(back, trials=(), pictures=()) == bare
    assert (back.trials, back.pictures) == (kept.trials, project.pictures)


def test_trials_survive_the_file(tmp_path: Path) -> None:
    kept = keep_trial(replace(MOVED, trials=keep_trial(demo_six_bar, "first").trials), "second")
    save(kept, tmp_path / "x.hinge")
    again = load(tmp_path / "x.hinge")
    assert again == kept
    assert [trial.project for trial in trials.trials_of(again)] == [demo_six_bar, MOVED]


def test_a_kept_trial_has_neither_trials_nor_pictures() -> None:
    twice = keep_trial(keep_trial(replace(demo_six_bar, pictures=({"id": "photo"},)), "first"), "second")
    assert "trials" not in twice.trials[1]["project"]
    assert "pictures" not in twice.trials[1]["project"]


@pytest.mark.parametrize("data", [{}, {"name": 3, "project": []}, {"name": "old", "project": {"links": []}}])
def test_what_cannot_be_read_is_told_and_stays(data: dict[str, object], tmp_path: Path) -> None:
    project = keep_trial(replace(demo_six_bar, trials=(data,)), "good")
    bad, good = trials.trials_of(project)
    assert bad.project is None
    assert bad.fault
    assert good.project == demo_six_bar
    with pytest.raises(ProjectError, match="can't be read"):
        return_to(project, 0)
    save(project, tmp_path / "x.hinge")
    assert load(tmp_path / "x.hinge").trials[0] == data


def test_order_names_and_notes() -> None:
    project = demo_six_bar
    for name in ("a", "b", "c"):
        project = keep_trial(project, name)
    assert names(move_trial(project, 2, 0)) == ["c", "a", "b"]
    assert move_trial(project, 1, 1) is project
    assert names(remove_trial(project, 1)) == ["a", "c"]
    assert names(rename_trial(project, 0, " z ")) == ["z", "b", "c"]
    assert rename_trial(project, 0, "a") is project
    assert trials.trials_of(note_trial(project, 1, "stiff"))[1].note == "stiff"
    assert trials.trials_of(project)[1].note == ""
    assert free_name(keep_trial(project, "trial 1")) == "trial 2"


@pytest.mark.parametrize("name", ["", "   ", "x" * 81, "a\nb", "a"])
def test_a_name_is_wanted_that_nobody_has(name: str) -> None:
    project = keep_trial(demo_six_bar, "a")
    for do in (lambda: keep_trial(project, name), lambda: rename_trial(keep_trial(project, "b"), 1, name)):
        with pytest.raises(ProjectError):
            do()


def test_a_moved_pin_is_another_layout() -> None:
    kept = keep_trial(demo_six_bar, "a")
    (trial,) = trials.trials_of(kept)
    assert not is_present(replace(MOVED, trials=kept.trials), trial)
