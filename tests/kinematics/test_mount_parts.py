"""What holds the hinge, as parts: usual sizes, what makes no sense is refused, old files keep what they hold."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from app.files.project_file import read, written
from app.files.project_json import build_faults
from app.hardware import hardware
from kinematics.errors import ProjectError
from kinematics.marking_out import skin_marks
from kinematics.mount_parts import BENT, Base, Bracket, Mount, StopPart
from tests.specimens import demo_six_bar, empty

if TYPE_CHECKING:
    from collections.abc import Callable

REFUSED: dict[str, Callable[[], object]] = {
    "lean_deg is 75": lambda: Bracket(lean_deg=75.0),
    "k_factor is 0.7": lambda: Bracket(k_factor=0.7),
    "fore_aft_at lies beyond fore_aft": lambda: Bracket(fore_aft_at=5.0),
    "shims is more than shims_most": lambda: Base(shims=9.0),
    "webs is 3": lambda: Base(webs=3),
    "gussets isn't": lambda: Base(gussets=-1),
    "rows is more than 24": lambda: Bracket(rows=25),
    "bent is": lambda: Bracket(bent="up"),
    "weld_side is": lambda: Base(weld_side="top"),
    "kind is": lambda: StopPart(kind="nail"),
    "on is": lambda: StopPart(on="arm"),
    "plate is 0": lambda: Base(plate=0.0),
}


@pytest.mark.parametrize("said", REFUSED)
def test_what_makes_no_sense_is_refused_in_a_sentence(said: str) -> None:
    with pytest.raises(ProjectError) as fault:
        REFUSED[said]()
    assert said in str(fault.value)


@pytest.mark.parametrize(
    ("value", "sound"), [({"screws": 4}, True), ("x", False), ({"bracket": {"thickness": -1}}, False), ([1], False)]
)
def test_what_a_file_holds_is_kept_whatever_it_is(value: object, sound: bool) -> None:
    data = json.loads(written(empty)) | {"mount": value}
    project = read(json.dumps(data).encode(), "a.hinge")
    assert isinstance(project.mount, Mount) is sound
    assert bool(build_faults(project)) is not sound
    assert json.loads(written(project))["mount"] == value
    assert project.mounted.bracket is None


def test_a_flange_goes_to_the_side_that_is_said() -> None:
    """Bolts of a flange that is bent outboard lie as far off the web's outer side as of one bent inboard, beyond it."""
    seen = []
    for bent in BENT:
        mount = Mount(Bracket(bent=bent))  # type: ignore[arg-type]
        marks = skin_marks(replace(demo_six_bar, mount=mount), hardware(), "left", 0.0)
        assert marks is not None
        assert marks.flange == bent
        seen.append(marks.laid(np.array(marks.made.bolts)))
    assert seen[0].real == pytest.approx(-seen[1].real)
    assert seen[0].imag == pytest.approx(seen[1].imag)
