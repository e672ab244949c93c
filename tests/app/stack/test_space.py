"""The hinge in space: what hides what, and turning it by mouse and keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from PySide6.QtCore import QPoint, Qt

from app.document import Document
from app.look import light
from app.stack.space import Prism, View, faces, prisms
from app.stack.space_view import APART, SpaceDialog
from app.stacked import stacked
from tests.app.sharing import demo, shared_analyse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])


def test_from_straight_above_plates_are_as_in_the_side_view() -> None:
    top = [face for face in faces([Prism(SQUARE, 0.0, 4.0, "plate", "a")], View(0.0, 0.0)) if face.light == 1.0]
    assert [face.points.tolist() for face in top] == [SQUARE.tolist()]


def test_tilted_the_near_wall_is_seen_and_the_far_one_not() -> None:
    seen = faces([Prism(SQUARE, 0.0, 4.0, "plate", "a")], View(0.0, 30.0))
    assert len(seen) == 2  # the wall at y = 0, and the top
    wall = seen[0].points
    assert np.ptp(wall[:, 1]) == pytest.approx(4.0 * np.sin(np.radians(30.0)))
    assert wall[:, 1].min() == pytest.approx(0.0)
    assert np.ptp(seen[1].points[:, 1]) == pytest.approx(10.0 * np.cos(np.radians(30.0)))


def test_what_is_drawn_last_at_a_spot_is_what_is_highest_there() -> None:
    """Straight from above; GEOS says which plates cover a spot, the stack which of them is the highest."""
    analysis = shared_analyse(demo())
    stack, pose = stacked(analysis), analysis.pose(30.0)
    solids = prisms(analysis, stack, pose)
    seen = faces(solids, View(0.0, 0.0))
    made = np.random.default_rng(7)
    rings = [shapely.Polygon(each.ring) for each in solids]
    tops = [(face, shapely.Polygon(face.points)) for face in seen if face.light == 1.0]
    for solid in solids[::5]:
        spot = shapely.Point(solid.ring[made.integers(len(solid.ring))] * 0.999 + 0.001 * solid.ring.mean(axis=0))
        covers = [each.high for each, ring in zip(solids, rings, strict=True) if ring.contains(spot)]
        on_top = [face for face, ring in tops if ring.contains(spot)]
        if covers:
            last = on_top[-1]
            assert max(covers) in {each.high for each in solids if (each.kind, each.name) == (last.kind, last.name)}


def test_it_never_tips_over_and_turns_all_round() -> None:
    view = View(170.0, 80.0).turned(20.0, 30.0)
    assert (view.yaw_deg, view.tilt_deg) == (-170.0, 85.0)


def test_it_is_turned_by_mouse_and_keys_and_follows_the_pose(qtbot: QtBot) -> None:
    document = Document(demo())
    dialog = SpaceDialog(document, light(), None)
    qtbot.addWidget(dialog)
    before, shut = dialog.view.view, dialog.view.faces()[0].points
    qtbot.mousePress(dialog.view, Qt.MouseButton.LeftButton, pos=QPoint(100, 100))
    qtbot.mouseMove(dialog.view, QPoint(140, 90))
    qtbot.mouseRelease(dialog.view, Qt.MouseButton.LeftButton, pos=QPoint(140, 90))
    assert dialog.view.view.yaw_deg == pytest.approx(before.yaw_deg + 20.0)
    assert dialog.view.view.tilt_deg == pytest.approx(before.tilt_deg + 5.0)
    qtbot.keyClick(dialog.view, Qt.Key.Key_Left)
    assert dialog.view.view.yaw_deg == pytest.approx(before.yaw_deg + 15.0)
    dialog.apart.setChecked(True)
    assert dialog.view.view.stretch == APART
    assert dialog.view.view.yaw_deg == pytest.approx(before.yaw_deg + 15.0)
    document.set_opening(40.0)
    assert not np.allclose(dialog.view.faces()[0].points, shut)
    assert not dialog.view.grab().isNull()
    dialog.close()
