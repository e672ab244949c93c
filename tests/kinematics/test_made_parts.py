"""How the hinge came out: refused where it makes no sense, kept in files whatever it is, follows names."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from app.files.project_file import read, written
from app.files.project_json import build_faults
from kinematics import edits
from kinematics.errors import ProjectError
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, MadeSheet, OnPin, Turned
from tests.specimens import empty, with_everything

if TYPE_CHECKING:
    from collections.abc import Callable

REFUSED: dict[str, Callable[[], object]] = {
    "between doesn't name two pins": lambda: MadeDistance("arm", ("A", "A"), 10.0),
    "distance is 0": lambda: MadeDistance("arm", ("A", "B"), 0.0),
    'distance is "ten"': lambda: MadeDistance("arm", ("A", "B"), "ten"),  # type: ignore[arg-type]
    "distance is 1e+06": lambda: MadeDistance("arm", ("A", "B"), 1e6),
    "x is not a finite number": lambda: FoundAt("body", "A", float("nan")),
    "thickness is -4": lambda: MadeSheet("arm", -4.0),
    "play is -0.1": lambda: OnPin("A", play=-0.1),
    "adjuster is": lambda: Turned("glue", 1.0),
    "hand is": lambda: HandMade("both"),  # type: ignore[arg-type]
    "distances says the same thing twice": lambda: HandMade(
        "left", (MadeDistance("arm", ("A", "B"), 10.0), MadeDistance("arm", ("B", "A"), 11.0))
    ),
    "hands says the same thing twice": lambda: AsMade((HandMade("left"), HandMade("left"))),
}


@pytest.mark.parametrize("said", REFUSED)
def test_what_makes_no_sense_is_refused_in_a_sentence(said: str) -> None:
    with pytest.raises(ProjectError) as fault:
        REFUSED[said]()
    assert said in str(fault.value)


def test_a_hinge_nobody_measured_is_as_drawn() -> None:
    assert not AsMade().of("left").is_said
    assert AsMade((HandMade("right", sheets=(MadeSheet("arm", 4.1),)),)).of("right").is_said


SPAN = {"link": "arm", "between": ["A", "B"], "distance": 10}


@pytest.mark.parametrize(
    ("value", "sound"),
    [
        ({"hands": [{"hand": "left", "distances": [SPAN | {"read by": "me"}], "note": [1]}], "shown": True}, True),
        ({"hands": [{"hand": "left", "distances": [SPAN | {"distance": 0}]}]}, False),
        ({"hands": [{"hand": "left", "turned": [{"adjuster": "glue", "by": 1}]}]}, False),
        ([1.5], False),
    ],
)
def test_what_a_file_holds_is_kept_whatever_it_is(value: object, sound: bool) -> None:
    project = read(json.dumps(json.loads(written(empty)) | {"as_made": value}).encode(), "a.hinge")
    assert isinstance(project.as_made, AsMade) is sound
    assert bool(build_faults(project)) is not sound
    assert json.loads(written(project))["as_made"] == value
    assert project.made.of("left").is_said is sound


def test_it_follows_new_names_and_goes_with_what_it_is_of() -> None:
    renamed = edits.rename_link(edits.rename_pivot(with_everything, "X", "Y"), "arm", "crank")
    made = renamed.made.of("left")
    assert made.distances[0].between == ("O1", "Y")
    assert {made.distances[0].link, made.sheets[0].link} == {"crank"}
    assert made.on_pins[0].pivot == "Y"
    gone = edits.remove_pivot(with_everything, "O1").made.of("left")
    assert (gone.distances, gone.found_at) == ((), ())
    assert gone.on_pins == with_everything.made.of("left").on_pins
