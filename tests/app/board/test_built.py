"""Bracket, base and holes on the board: with the drawer Build, or always, and holes where one looks near."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.hole_shapes import NEAR
from app.sheet import Camera
from kinematics.mount_parts import Base, Mount
from kinematics.plate_edits import begin_plates

if TYPE_CHECKING:
    from app.window import Window

WEB, HOLE = "base:web", "hole:arm:O1"


def test_they_come_and_go(window: Window) -> None:
    board, document = window.board, window.document
    document.apply("Nothing is built", replace(document.project, plates=None, stack=None, mount=None))
    assert not board.scene.has("built")
    document.apply("Build", replace(begin_plates(document.project), mount=Mount(base=Base())))
    assert board.scene.shown(WEB) is None
    window.area.open_drawer("Build")
    assert board.scene.shown(WEB) is not None
    window.area.open_drawer("Lift")
    assert board.scene.shown(WEB) is None
    window.menus.mount.trigger()
    assert board.scene.shown(WEB) is not None
    assert window.settings.mount()
    window.menus.mount.trigger()
    assert board.scene.shown(WEB) is None
    hole = board.scene.item(HOLE)
    assert hole is not None
    camera = board.view.camera
    board.view.set_camera(Camera(1.1 * NEAR, document.project.pivot("O1").at, camera.size))
    assert hole.isVisible()
    board.view.set_camera(Camera(0.9 * NEAR, document.project.pivot("O1").at, camera.size))
    assert not hole.isVisible()
    document.apply("No plates", replace(document.project, plates=None, mount=None))
    assert not board.scene.has("built")
