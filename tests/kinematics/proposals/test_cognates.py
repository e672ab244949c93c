"""Cognates of a hinge: the panel goes the same way, by the march, which knows nothing of them."""

from __future__ import annotations

import numpy as np

from kinematics.proposals.chains import PANEL, STEPHENSON_FOURTH
from kinematics.proposals.cognates import FOUR_BAR_PINS, others
from kinematics.proposals.marching import march
from tests.kinematics.proposals.making import about

OPENINGS = np.radians(np.linspace(0.0, 40.0, 9))


def test_the_panel_goes_the_same_way_on_other_pins() -> None:
    """Roberts and Chebyshev: one path of the panel's pin. 1e-6 mm: both marches settle to far less."""
    pins = about(STEPHENSON_FOURTH, 40, 3)
    told = march(STEPHENSON_FOURTH, pins, OPENINGS)
    also = march(STEPHENSON_FOURTH, others(pins), OPENINGS)
    seen = 0
    for k in range(40):
        for twin in (k, 40 + k):
            if told.reached[k] == len(OPENINGS) and also.reached[twin] == len(OPENINGS):
                assert np.abs(told.shifts[:, PANEL, k] - also.shifts[:, PANEL, twin]).max() < 1e-6
                assert np.abs(others(pins)[list(FOUR_BAR_PINS), twin] - pins[list(FOUR_BAR_PINS), k]).max() > 1.0
                seen += 1
    assert seen >= 20


def test_a_coupler_without_length_gives_finite_places() -> None:
    pins = about(STEPHENSON_FOURTH, 1, 3)
    pins[3] = pins[2]
    assert np.isfinite(others(pins)).all()
