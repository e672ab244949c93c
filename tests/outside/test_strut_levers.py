"""C14: a strut as a lever, its anchors 600 and 250 mm from the pivot, at 20°, 60° and 100° between them.

Length √(a² + b² − 2ab·cos t), arm ab·sin t / length = dℓ/dt; derivable, figures of the check's table. The strut finder
tells a lever as mm of length per mm of the handle's way: the arm by the handle's radius, here 800 mm. Tolerance: half
the last digit typed.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.project import Handle, LiftWants, Loads, Mass, Zone
from kinematics.struts.levers import spans
from kinematics.struts.results import StrutSettings, StrutSize
from kinematics.struts.wanted import read_problem
from tests.specimens import single_pivot

TABLE = ((0.0, 374.956282, 136.824008), (40.0, 522.015325, 248.850569), (80.0, 688.908160, 214.427948))
"""Opening (deg; 20° between the anchors when shut), length, arm."""
SQUARE = ((0.0, -300.0), (600.0, -300.0), (600.0, 10.0), (0.0, 10.0))


def test_c14_length_and_arm() -> None:
    loads = Loads((Mass("lid", 10.0, (400.0, 0.0)),), Handle("lid", (800.0, 0.0)), wants=LiftWants(stays_open=True))
    size = StrutSize(8.0, 18.0, 350.0, 795.0, 100.0, 750.0, 1.3)
    settings = StrutSettings((size,), (Zone("body", SQUARE), Zone("lid", SQUARE)))
    problem = read_problem(replace(single_pivot, loads=loads), settings)
    (pair,) = problem.pairs
    body = 600.0 * np.exp(-1j * np.radians(20.0))
    lengths, levers = spans(pair, np.array([body]) - pair.centre, np.array([250.0 + 0j]) - pair.centre)
    for deg, length, arm in TABLE:
        pose = int(np.argmin(np.abs(problem.openings - deg)))
        assert problem.openings[pose] == pytest.approx(deg, abs=1e-12)
        assert lengths[0, pose] == pytest.approx(length, abs=5e-7)
        assert 800.0 * levers[0, pose] == pytest.approx(arm, abs=5e-7)
