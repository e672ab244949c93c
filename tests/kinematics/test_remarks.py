"""Remarks: whatever keeps a panel from opening is told."""

from __future__ import annotations

import pytest

import kinematics
from tests import specimens
from tests.kinematics import random_linkages


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_a_panel_that_does_not_open_is_explained(name: str) -> None:
    analysis = kinematics.analyse(specimens.ALL[name], steps=2)
    assert analysis.opening.reached_deg > 0.0 or analysis.remarks


def test_a_panel_at_its_dead_point_when_shut_is_told_so() -> None:
    """Seed 5330 of the random linkages: all pins in one line, the panel's turn at its end when shut."""
    analysis = kinematics.analyse(random_linkages.linkage(5330).project(), steps=2)
    assert analysis.opening.ends == "dead point"
    assert analysis.opening.reached_deg < 1e-4
    assert any("dead point when shut" in remark for remark in analysis.remarks)
