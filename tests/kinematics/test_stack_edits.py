"""Edits of the stack."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from kinematics import stack_edits
from kinematics.errors import ProjectError
from tests.specimens import parallelogram

if TYPE_CHECKING:
    from kinematics.project import Project

LAYERS = {"ground": (1,), "front": (2,), "rear": (2, 4), "panel": (3,)}


def layers(project: Project) -> dict[str, tuple[int, ...]]:
    return {choice.link: choice.layers for choice in project.stacking.layers}


def test_one_plate_is_moved_and_all_others_stay() -> None:
    moved = stack_edits.move_plate(parallelogram, LAYERS, "rear", 4, 5)
    assert layers(moved) == {**LAYERS, "rear": (2, 5)}
    assert stack_edits.is_by_hand(moved)
    assert stack_edits.run_as_found(moved).stacking.layers == ()


def test_beneath_the_first_layer_all_are_counted_anew() -> None:
    moved = stack_edits.move_plate(parallelogram, LAYERS, "ground", 1, 0)
    assert layers(moved) == {"ground": (1,), "front": (3,), "rear": (3, 5), "panel": (4,)}


def test_what_changes_nothing_is_the_project_itself() -> None:
    by_hand = stack_edits.run_by_hand(parallelogram, LAYERS)
    assert stack_edits.run_by_hand(by_hand, LAYERS) is by_hand
    assert stack_edits.move_plate(by_hand, LAYERS, "rear", 4, 4) is by_hand
    assert stack_edits.run_as_found(parallelogram) is parallelogram
    assert stack_edits.set_stack(parallelogram, washer=1.6) is parallelogram


@pytest.mark.parametrize(("layer", "to"), [(3, 5), (4, 2), (4, 100)])
def test_what_cannot_be_is_refused(layer: int, to: int) -> None:
    with pytest.raises(ProjectError):
        stack_edits.move_plate(parallelogram, LAYERS, "rear", layer, to)
