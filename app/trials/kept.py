"""Trials: layouts kept by name within the same file, to compare with and to return to. No Qt here.

A project carries its trials as the file does, as JSON objects `{name, note, project}`, each a project without trials
and pictures; so an unreadable one (of a newer program, or damaged by hand) is carried on and only said to be so. What
is read of one is remembered as long as it lives. Edits are functions from one project to the next.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from app.files.project_json import FORMAT, json_of, project_of
from kinematics.errors import HingewrightError, ProjectError
from kinematics.values import shown, text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Project

LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class Trial:
    """A kept layout. `project` is None where it can't be read; `fault` then says why."""

    name: str
    note: str
    project: Project | None
    fault: str = ""


# ------------------------------------------------------------------------------------------------------------ reading
def trials_of(project: Project) -> tuple[Trial, ...]:
    """Read the trials of a project, in their order."""
    return tuple(_read(each) for each in project.trials)


_known: dict[int, tuple[Any, Trial]] = {}
MOST_KNOWN = 200


def _read(data: Any) -> Trial:  # noqa: ANN401  a JSON object
    """One trial, from what was read of the same object before, if it was."""
    found = _known.get(id(data))
    if found is not None and found[0] is data:
        return found[1]
    trial = _trial(data)
    if len(_known) >= MOST_KNOWN:
        _known.pop(next(iter(_known)))
    _known[id(data)] = (data, trial)
    return trial


def _trial(data: Any) -> Trial:  # noqa: ANN401  a JSON object
    name = data.get("name") if isinstance(data.get("name"), str) and data.get("name") else "unnamed"
    note = data.get("note") if isinstance(data.get("note"), str) else ""
    inner = data.get("project")
    if not isinstance(inner, dict) or inner.get("format", FORMAT) != FORMAT:
        return Trial(name, note, None, "It holds no project.")
    try:
        return Trial(name, note, project_of(inner))
    except HingewrightError as fault:
        return Trial(name, note, None, str(fault))


# -------------------------------------------------------------------------------------------------------------- edits
def keep_trial(project: Project, name: str, note: str = "") -> Project:
    """Keep the present layout under a name; ProjectError for a name that is empty, too long or taken."""
    checked = _checked_name(project, name)
    bare = replace(project, trials=(), pictures=())
    data = {"name": checked, "note": text(note, "", "note"), "project": json_of(bare)}
    data = json.loads(json.dumps(data))  # as it will be read from the file: lists, no tuples
    return replace(project, trials=(*project.trials, data))


def return_to(project: Project, place: int) -> Project:
    """Make a trial the present layout; trials and pictures stay. ProjectError where it can't be read."""
    trial = trials_of(project)[place]
    if trial.project is None:
        raise ProjectError(f"the trial {shown(trial.name)} can't be read. {trial.fault}")
    return replace(trial.project, trials=project.trials, pictures=project.pictures)


def rename_trial(project: Project, place: int, name: str) -> Project:
    """Give a trial another name."""
    if project.trials[place].get("name") == name.strip():
        return project
    return _changed(project, place, name=_checked_name(project, name))


def note_trial(project: Project, place: int, note: str) -> Project:
    """Write a note on a trial."""
    return _changed(project, place, note=text(note, "", "note"))


def remove_trial(project: Project, place: int) -> Project:
    """Take a trial out."""
    return replace(project, trials=_without(project.trials, place))


def move_trial(project: Project, place: int, to: int) -> Project:
    """Put a trial at another place in the order."""
    rest = list(_without(project.trials, place))
    rest.insert(min(max(to, 0), len(rest)), project.trials[place])
    return project if rest == list(project.trials) else replace(project, trials=tuple(rest))


def free_name(project: Project, stem: str = "trial") -> str:
    """A name that no trial has: "trial 1", "trial 2", …; of a branch, "NAME, 2"."""
    taken = {trial.name for trial in trials_of(project)}
    return next(name for k in range(1, len(taken) + 2) if (name := f"{stem} {k}") not in taken)


def is_present(project: Project, trial: Trial) -> bool:
    """Whether a trial is the very layout that is on the board now."""
    return trial.project is not None and replace(project, trials=(), pictures=()) == trial.project


def _changed(project: Project, place: int, **values: str) -> Project:
    trials = list(project.trials)
    trials[place] = {**trials[place], **values}
    return replace(project, trials=tuple(trials))


def _without(trials: Sequence[Any], place: int) -> tuple[Any, ...]:
    return tuple(each for k, each in enumerate(trials) if k != place)


def _checked_name(project: Project, name: str) -> str:
    name = name.strip()
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        raise ProjectError("a trial needs a name", remedy=f"Give it 1 to {LONGEST_NAME} letters or digits.")
    if any(trial.name == name for trial in trials_of(project)):
        raise ProjectError(f"there is a trial {shown(name)} already", remedy="Give this one another name.")
    return name
