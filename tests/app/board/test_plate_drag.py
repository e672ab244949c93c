"""Plates by the hand: grips of the selected link are dragged, nudged and taken back, each one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.board.hits import Hit
from app.board.items import LabelItem
from app.document import Selection
from app.removing import remove_all
from app.shapes import link_edge, shapes
from app.sheet import Camera
from kinematics import plate_edits as edits
from kinematics.plate_grips import grips
from tests.app import mouse
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board
    from kinematics.project import Point

LINK = "short link"
plated = edits.add_cutout(edits.begin_plates(demo_six_bar), LINK, *edits.first_cutout(demo_six_bar, LINK))
SIDES = edits.sides_of(plated, LINK)
OUT = complex(*grips(plated, LINK)[0].at) - complex(*grips(plated, LINK)[2].at)
OUT /= abs(OUT)


@pytest.fixture
def plates(board: Board) -> Board:
    board.document.apply("Begin plates", plated)
    board.document.select(Selection("link", LINK))
    QApplication.processEvents()
    return board


def off(at: Point, mm: float) -> Point:
    place = complex(*at) + mm * OUT
    return place.real, place.imag


def bellies(board: Board) -> list[float]:
    return [edits.belly_of(board.document.project, LINK, side) for side in SIDES]


def test_a_side_is_bent_by_its_grip_as_one_step(qtbot: QtBot, plates: Board) -> None:
    at = grips(plated, LINK)[0].at
    assert plates.hit_at(at) == Hit("plate grip", LINK, 0)
    mouse.drag(qtbot, plates.view, at, off(at, 9.0))
    first, second = bellies(plates)
    assert first == pytest.approx(9.0, abs=1.0)
    assert second == 0.0
    assert plates.document.undo_label == f"Bend side {'–'.join(SIDES[0])} of {LINK}"
    assert plates.document.selection == Selection("link", LINK, 0)
    plates.document.undo()
    assert plates.document.project == plated


def test_esc_gives_the_bow_up_and_too_far_is_told_once(qtbot: QtBot, plates: Board, notices: list[str]) -> None:
    at = grips(plated, LINK)[2].at
    mouse.press(qtbot, plates.view, at)
    mouse.move(qtbot, plates.view, at, off(at, 12.0))
    first, second = bellies(plates)
    assert first == -second == pytest.approx(12.0, abs=1.0)
    mouse.move(qtbot, plates.view, off(at, 12.0), off(at, 150.0), steps=4)
    assert len(notices) == 1
    assert LINK in notices[0]
    qtbot.keyClick(plates, Qt.Key.Key_Escape)
    assert plates.document.project == plated
    qtbot.mouseRelease(plates.view.viewport(), Qt.MouseButton.LeftButton)


def test_grips_are_nudged_and_taken_back_by_keys(qtbot: QtBot, plates: Board) -> None:
    document = plates.document
    document.select(Selection("link", LINK, 3))
    before = grips(plated, LINK)[3].at
    qtbot.keyClick(plates, Qt.Key.Key_Right)
    assert edits.own_plate(document.project, LINK).cutouts[0].at == pytest.approx((before[0] + 1.0, before[1]))
    assert document.undo_label == f"Nudge cutout 1 of {LINK}"
    qtbot.keyClick(plates, Qt.Key.Key_Delete)
    assert edits.own_plate(document.project, LINK).cutouts == ()
    assert document.selection is None  # the grip is gone
    document.undo()
    document.undo()
    assert document.project == plated
    document.select(Selection("link", LINK, 0))
    remove_all(document, document.selections)  # as from the menu, or with the keys elsewhere
    assert document.project == plated  # that side is straight already; and the link is there still
    assert document.selection == Selection("link", LINK, 0)


def test_the_plate_is_drawn_as_it_is_cut(plates: Board) -> None:
    bowed = edits.set_bow(plated, LINK, SIDES[0], 10.0)
    keys = {shape.key: shape for shape in shapes(bowed, plates.pointer.desk.look)}
    assert f"cutout:{LINK}:0" in keys
    edge = link_edge(bowed, demo_six_bar.link(LINK))
    assert edge == keys[f"band:{LINK}"].points
    assert edge != link_edge(plated, demo_six_bar.link(LINK))
    assert not any(
        key.startswith("cutout") for key in (shape.key for shape in shapes(demo_six_bar, plates.pointer.desk.look))
    )


def test_the_links_name_leaves_its_grips_free(plates: Board) -> None:
    """It lay over one of them, and over the bow's once the plate was bowed."""
    document, view = plates.document, plates.view
    middle = grips(plated, LINK)[2].at
    for scale in (0.9, 1.2, 1.6, 2.0):
        for bow in (0.0, 14.0, -20.0):
            document.apply("Bow", edits.set_bow(document.project, LINK, SIDES[0], bow))
            view.set_camera(Camera(scale, middle, view.camera.size))
            plates.arrange()
            item = plates.scene.item(f"name of link:{LINK}")
            assert isinstance(item, LabelItem)
            words = item.box.moved(*view.camera.to_px(item.shape_shown.at))
            for grip in grips(document.project, LINK) if item.isVisible() else ():
                assert not words.holds(view.camera.to_px(grip.at)), (scale, bow)
