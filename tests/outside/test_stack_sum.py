"""The stack's sum and its tolerance, against a sum made by hand.

Three plates of 5 mm and four washers to ISO 7089 for M8, one under the head, one under the clip and two between:
3 · 5 + 4 · 1.6 = 21.4. ISO 7089 (2000) has h = 1.6 for M8, at most 1.8 (a reprinted table), at least 1.4 (from
memory); plates taken as exact: 20.6 to 22.2.
"""

from __future__ import annotations

import pytest

from app.hardware import hardware
from kinematics.build_parts import LayerChoice, Plates, Stack
from kinematics.joints_made import joints_made
from kinematics.pin_lengths import grip_of
from kinematics.project import Link, Pivot, Project, Travel
from kinematics.stacking import MEASURED, stack_of
from tests.app.sharing import shared_analyse


def test_three_plates_and_four_washers() -> None:
    names = ("frame", "panel", "arm")
    project = Project(
        links=(Link("frame", "fixed"), Link("panel", "panel"), Link("arm")),
        pivots=(Pivot("A", (0.0, 0.0), names),),
        travel=Travel("anticlockwise", 10.0),
        plates=Plates(thickness=5.0),
        stack=Stack(diameter=8.0, bushing="none", layers=tuple(LayerChoice(n, (k + 1,)) for k, n in enumerate(names))),
    )
    analysis = shared_analyse(project)
    made = stack_of(project, analysis.sweep, joints_made(project, hardware()), hardware())
    (pin,) = made.pins
    assert [piece.kind for piece in pin.pieces].count("plate") == 3
    assert [piece.kind for piece in pin.pieces].count("washer") == 4
    assert pin.grip == pytest.approx(21.4, abs=1e-9)
    washers = [piece for piece in pin.pieces if piece.kind == "washer"]
    assert grip_of(washers) == pytest.approx((6.4, 5.6, 7.2), abs=1e-9)
    assert (pin.least, pin.most) == pytest.approx((20.6 - 3 * MEASURED, 22.2 + 3 * MEASURED), abs=1e-9)
    assert made.count == 3
