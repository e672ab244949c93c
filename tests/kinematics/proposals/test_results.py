"""What travels between processes: frozen, whole after the journey, and nothing that needs more than its own words."""

from __future__ import annotations

import pickle
from dataclasses import FrozenInstanceError

import pytest

from kinematics.proposals.results import KINDS, Settings, UnitResult
from tests.kinematics.proposals.test_collecting import layout


def test_results_come_out_of_a_process_as_they_went_in() -> None:
    told = UnitResult(3, "four-bar", (layout(), layout(moved=50.0, short_by=2.0)), 812)
    assert pickle.loads(pickle.dumps(told)) == told
    settings = Settings(seed=9, kinds=("six-bar",), width=21.5, bands_clear=2.0)
    assert pickle.loads(pickle.dumps(settings)) == settings


def test_settings_are_values() -> None:
    """They are a key of what a process has prepared."""
    assert hash(Settings(seed=2)) == hash(Settings(seed=2))
    assert Settings() != Settings(seed=2)
    assert Settings().kinds == KINDS
    with pytest.raises(FrozenInstanceError):
        Settings().seed = 3  # type: ignore[misc]
