"""The detail of a picture: it fills the room beside the whole, so many times as large, and holds the linkage."""

from __future__ import annotations

import math

import numpy as np
import pytest

from app.files.detail import detail, linkage, room_for_detail
from app.shapes import placed
from app.sheet import extent, fitted
from kinematics import analyse
from tests import specimens

MARGINS = (60.0, 40.0, 60.0, 40.0)


@pytest.mark.parametrize("deg", [0.0, 30.0, 75.0])
def test_the_demos_detail_holds_all_pins_beside_the_whole(deg: float) -> None:
    analysis = analyse(specimens.demo_six_bar)
    where, size = placed(analysis, analysis.pose(deg)), (1256.0, 650.0)
    points = extent(specimens.demo_six_bar, analysis)
    room = room_for_detail(points, size, MARGINS)
    whole = fitted(points, size, (60.0, 40.0, 60.0 + room, 40.0))
    near = detail(linkage(where, analysis), whole, room)
    assert near is not None
    assert near.camera.scale == pytest.approx(near.times * whole.scale)
    assert near.times >= 2.0
    assert math.modf(2.0 * near.times)[0] == 0.0  # told in halves
    for pivot in specimens.demo_six_bar.pivots:
        x, y = near.camera.to_px(where[pivot.joins[0]].carry(pivot.at))
        assert 0.0 < x < near.camera.size[0]
        assert 0.0 < y < near.camera.size[1]
    assert max(whole.to_px((x, y))[0] for x, y in points.tolist()) < near.box.left


def test_the_whole_is_no_smaller_for_it() -> None:
    points = extent(specimens.demo_six_bar, analyse(specimens.demo_six_bar))
    size = (1256.0, 650.0)
    room = room_for_detail(points, size, MARGINS)
    assert fitted(points, size, (60.0, 40.0, 60.0 + room, 40.0)).scale == fitted(points, size, MARGINS).scale


def test_a_wide_whole_leaves_no_room() -> None:
    wide = np.array([[0.0, 0.0], [1000.0, 300.0]])
    assert room_for_detail(wide, (1000.0, 500.0), MARGINS) == 0.0
    assert room_for_detail(np.zeros((0, 2)), (1000.0, 500.0), MARGINS) == 0.0
    assert room_for_detail(np.array([[0.0, 0.0], [100.0, 300.0]]), (1000.0, 500.0), MARGINS) > 280.0


def test_a_linkage_that_fills_the_whole_needs_no_detail() -> None:
    """The four-bar has no outlines: its pins are all there is."""
    analysis = analyse(specimens.four_bar_a1)
    points = extent(specimens.four_bar_a1, analysis)
    whole = fitted(points, (1256.0, 650.0), (60.0, 40.0, 660.0, 40.0))
    assert detail(linkage(placed(analysis, analysis.pose(0.0)), analysis), whole, 300.0) is None
