"""The box of link plates: begun, typed for all and for one, followed from the board, told, and taken out again."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.document import Selection
from app.drawers.plates_box import BOW, PlatesBox
from kinematics import plate_edits as edits
from kinematics.build_parts import Plates
from kinematics.plate_edits import ALL
from tests.app.sharing import bare_demo
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.entry.form import ChoiceBox
    from app.fields import Field
    from app.window import Window

LINK = "short link"


@pytest.fixture
def box(window: Window) -> PlatesBox:
    window.document.new(bare_demo())
    window.area.open_drawer("Build")
    QApplication.processEvents()
    return window.build.box(PlatesBox)


def typed(qtbot: QtBot, field: Field[float] | Field[float | None], text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def chosen(choice: ChoiceBox, value: str) -> None:
    choice.choose(value)
    choice.activated.emit(choice.currentIndex())


def test_from_the_first_plate_to_none(window: Window, box: PlatesBox, qtbot: QtBot) -> None:
    document = window.document
    before = document.project
    assert box.begin_button.isVisibleTo(box)
    assert not box.thickness.isVisibleTo(box)
    qtbot.mouseClick(box.begin_button, Qt.MouseButton.LeftButton)
    assert isinstance(document.project.plates, Plates)
    assert document.project.plates.density == 7850.0
    assert box.figures.text().startswith("One hinge: 4 plates")
    typed(qtbot, box.thickness, "4.9")
    assert document.project.plating.thickness == 4.9
    document.select(Selection("link", LINK))
    assert box.scope.value == LINK
    typed(qtbot, box.thickness, "3")
    assert edits.full_plate(document.project, LINK).thickness == 3.0
    assert document.project.plating.thickness == 4.9
    assert "One plate" in box.figures.text()
    qtbot.mouseClick(box.as_all_button, Qt.MouseButton.LeftButton)
    assert document.project.plating.each == ()
    qtbot.mouseClick(box.drop_button, Qt.MouseButton.LeftButton)
    assert document.project == before


def test_plates_begin_wide_enough_for_their_holes(window: Window, box: PlatesBox, qtbot: QtBot) -> None:
    document = window.document
    links = tuple(replace(link, width=15.0) if link.kind == "link" else link for link in bare_demo().links)
    for which in (links, tuple(replace(link, width=31.0) if link.id == LINK else link for link in links)):
        document.new(replace(bare_demo(), links=which))
        qtbot.mouseClick(box.begin_button, Qt.MouseButton.LeftButton)
        assert "hole's centre" not in box.faults.text().replace("\u200b", "")
        full = edits.full_plate(document.project, "arm")
        assert full.radius == 16.5  # 1.5 times 11 mm, the hole for the bushing
    assert edits.full_plate(document.project, LINK).radius == 16.5


def test_a_link_of_its_own_thickness_follows_the_metal_of_all(window: Window, box: PlatesBox, qtbot: QtBot) -> None:
    document = window.document
    qtbot.mouseClick(box.begin_button, Qt.MouseButton.LeftButton)
    chosen(box.metal, "EN AW-6082 T6")  # its strength depends on its thickness: up to 6 mm, and above
    document.select(Selection("link", LINK))
    for thickness, strength in (("8", 255.0), ("5", 260.0), ("8", 255.0)):
        typed(qtbot, box.thickness, thickness)
        metal = edits.full_plate(document.project, LINK).metal
        assert metal is not None
        assert metal.yield_mpa == strength
    document.select(None)
    box.scope.choose(ALL)
    box.refresh(document.project)
    chosen(box.metal, "X5CrNi18-10")
    plate = edits.full_plate(document.project, LINK)
    assert plate.metal is not None
    assert (plate.metal.name, plate.density, plate.thickness) == ("X5CrNi18-10", 7900.0, 8.0)
    document.select(Selection("link", LINK))
    chosen(box.metal, "S235JR")  # chosen for it alone: that stays
    box.scope.choose(ALL)
    box.refresh(document.project)
    chosen(box.metal, "S355MC")
    plate = edits.full_plate(document.project, LINK)
    assert plate.metal is not None
    assert plate.metal.name == "S235JR"


def test_sides_eyes_and_cutouts_of_one(window: Window, box: PlatesBox, qtbot: QtBot) -> None:
    document = window.document
    document.apply("Begin plates", edits.begin_plates(demo_six_bar))
    document.select(Selection("link", LINK))
    sides = edits.sides_of(document.project, LINK)
    box.side.choose(BOW)
    typed(qtbot, box.belly, "6")
    assert [edits.belly_of(document.project, LINK, side) for side in sides] == [6.0, -6.0]
    typed(qtbot, box.belly, "900")
    assert "short link" in box.belly.message.replace("\u200b", "")
    assert [edits.belly_of(document.project, LINK, side) for side in sides] == [6.0, -6.0]
    box.eye.choose(sides[0][0])
    typed(qtbot, box.radius, "16")
    assert edits.own_plate(document.project, LINK).eyes[0].radius == 16.0
    assert "edge distance" not in box.faults.text()
    typed(qtbot, box.radius, "5")
    assert "Give the plate more edge distance there" in box.faults.text().replace("\u200b", "")
    document.undo()
    qtbot.mouseClick(box.add_button, Qt.MouseButton.LeftButton)
    assert len(edits.own_plate(document.project, LINK).cutouts) == 1
    typed(qtbot, box.hole, "60")
    assert "runs over its edge" in box.faults.text().replace("\u200b", "")
    qtbot.mouseClick(box.remove_button, Qt.MouseButton.LeftButton)
    assert edits.own_plate(document.project, LINK).cutouts == ()
    assert box.faults.text() == ""


def test_box_and_board_choose_for_each_other(window: Window, box: PlatesBox, qtbot: QtBot) -> None:
    document = window.document
    document.apply("Begin plates", edits.begin_plates(demo_six_bar))
    document.select(Selection("link", LINK, 1))
    assert (box.scope.value, box.side.value) == (LINK, "1")
    box.side.setFocus()
    qtbot.keyClick(box.side, Qt.Key.Key_Up)
    assert document.selection == Selection("link", LINK, 0)
    typed(qtbot, box.belly, "3")
    assert edits.belly_of(document.project, LINK, edits.sides_of(document.project, LINK)[0]) == 3.0
    assert box.side.value == "0"
    box.scope.setFocus()
    qtbot.keyClick(box.scope, Qt.Key.Key_Home)
    assert document.selection is None
    assert box.scope.value == ""
