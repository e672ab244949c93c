"""The feet of bracket and base are slid by the hand along what is drawn, one step each."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely
from PySide6.QtCore import Qt

from app.board.foot_hands import HIT, NEAR
from app.board.hits import Hit
from app.board.menu import menu_at
from app.shapes import Symbol
from app.sheet import Camera
from kinematics.foot_sliding import slide_foot
from kinematics.mount_parts import Base, Bracket, Mount
from tests.app import mouse
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board
    from kinematics.project import Point

mounted = replace(demo_six_bar, mount=Mount(Bracket(), Base()))
SILL = shapely.LineString(demo_six_bar.outline("screen and sill").points)


@pytest.fixture
def feet(board: Board) -> Board:
    board.document.apply("Mount", mounted)
    board.built.is_looked_at = True
    board.fit_pins()
    return board


def grip(board: Board, which: str) -> Point:
    shape = board.scene.shown(f"foot:{which}")
    assert isinstance(shape, Symbol)
    return board.placements[shape.link].carry(shape.at[0])


def test_a_foot_is_slid_along_the_wall_as_one_step(qtbot: QtBot, feet: Board) -> None:
    at, document = grip(feet, "base"), feet.document
    assert feet.hit_at(at) == Hit(HIT, "base")
    mouse.drag(qtbot, feet.view, at, (at[0] + 30.0, at[1] - 25.0))
    placed = document.project.mounted.base
    assert placed is not None
    assert placed.at is not None
    assert SILL.distance(shapely.Point(placed.at)) == pytest.approx(0.0, abs=1e-5)
    assert placed.at[1] == pytest.approx(at[1] - 25.0, abs=2.0)
    assert document.undo_label == "Slide the foot of the base"
    assert grip(feet, "base")[1] == pytest.approx(placed.at[1], abs=1e-6)
    document.undo()
    assert document.project == mounted


def test_the_brackets_goes_with_the_panel_and_esc_takes_it_back(qtbot: QtBot, feet: Board) -> None:
    document = feet.document
    document.set_opening(40.0)
    at = grip(feet, "bracket")
    mouse.press(qtbot, feet.view, at)
    mouse.move(qtbot, feet.view, at, (at[0] + 20.0, at[1] + 15.0))
    placed = document.project.mounted.bracket
    assert placed is not None
    assert placed.at is not None
    skin = shapely.LineString(document.project.outline("hatch skin").points)
    assert skin.distance(shapely.Point(placed.at)) == pytest.approx(0.0, abs=1e-5)
    qtbot.keyClick(feet, Qt.Key.Key_Escape)
    assert document.project == mounted
    qtbot.mouseRelease(feet.view.viewport(), Qt.MouseButton.LeftButton)
    assert menu_at(feet, grip(feet, "bracket")).actions()  # what lies there has no menu of its own
    feet.built.is_looked_at = False
    assert feet.scene.shown("foot:bracket") is None
    assert feet.hit_at(at) != Hit(HIT, "bracket")


def test_pins_lie_over_feet_and_far_off_there_are_only_pins(feet: Board) -> None:
    pin = feet.document.project.pivot("O2").at
    feet.document.apply("Upon a pin", slide_foot(mounted, "base", pin))
    at = grip(feet, "base")
    assert feet.hit_at(at) == Hit(HIT, "base")
    assert feet.hit_at(pin) == Hit("pivot", "O2")
    camera = feet.view.camera
    feet.view.set_camera(Camera(0.9 * NEAR, at, camera.size))
    item = feet.scene.item("foot:base")
    assert item is not None
    assert not item.isVisible()
    assert feet.hit_at(at) != Hit(HIT, "base")


def test_a_typed_way_is_kept_and_a_step_is_one_of_the_paper() -> None:
    project = replace(mounted, mount=Mount(Bracket(at=(60.0, 330.0), skin_deg=0.0), None))
    bracket = slide_foot(project, "bracket", (83.4, 500.0)).mounted.bracket
    assert bracket is not None
    assert bracket.at == pytest.approx((83.4, 330.0))
    stepped = slide_foot(project, "bracket", (83.4, 500.0), 5.0).mounted.bracket
    assert stepped is not None
    assert stepped.at == pytest.approx((85.0, 330.0))
    assert slide_foot(replace(project, pivots=()), "bracket", (0.0, 0.0)).mounted.bracket == project.mounted.bracket
