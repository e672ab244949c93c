"""Pins and plates in the drawer Lift, by mouse and keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.document import Selection
from app.drawers.pins_made_box import PinsMadeBox
from app.drawers.plates_box import PlatesBox
from app.drawers.strength_box import StrengthBox
from kinematics.joints import joint_by_pivot
from kinematics.making_edits import choose_pins
from kinematics.strength_parts import JointStrength, Strength
from tests.app.drawers.test_lift_boxes import type_in
from tests.app.sharing import bare_demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.entry.form import ChoiceBox
    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window, qtbot: QtBot) -> StrengthBox:
    """The box of the demo without anything that is built, begun anew by its button."""
    window.document.new(bare_demo())
    window.area.open_drawer("Lift")
    made = window.lift.box(StrengthBox)
    QApplication.processEvents()
    qtbot.mouseClick(made.begin_button, LEFT)
    return made


def strength(window: Window) -> Strength:
    found = window.document.project.strength
    assert found is not None
    return found


def pick(qtbot: QtBot, choice: ChoiceBox, value: str) -> None:
    """Choose by the keyboard, as the wheel and a click on a list do it too."""
    place = choice._values.index(value)
    choice.setFocus()
    for _ in range(abs(place - choice.currentIndex())):
        qtbot.keyClick(choice, Qt.Key.Key_Down if place > choice.currentIndex() else Qt.Key.Key_Up)
    assert choice.value == value


def test_usual_pins_and_plates_are_one_step_and_go_again(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    document = window.document
    told = strength(window)
    assert (told.diameter, told.inner, told.outer, told.factor) == (8.0, 8.0, 4.0, 2.0)
    assert (told.pin_material.name, told.plate_material.name) == ("C45+C", "S235JR")
    assert "from memory" in told.pin_material.source
    assert not box.begin_button.isVisibleTo(window)
    assert told.bushing is not None
    assert (told.bushing.name, told.bushing.kind, told.bushing.outside) == ("SAE 841", "sintered", 11.0)
    assert box.inner.isVisibleTo(window)
    assert not box.plates.isVisibleTo(window)
    assert box.factor.line.hasFocus()
    qtbot.mouseClick(box.drop_button, LEFT)
    assert document.project.strength is None
    assert box.begin_button.isVisibleTo(window)
    assert not box.inner.isVisibleTo(window)
    assert box.begin_button.hasFocus()
    document.undo()
    document.undo()
    assert not document.can_undo


def test_sizes_are_typed_and_the_metal_follows_its_size(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    assert strength(window).plate_material.yield_mpa == 235.0
    type_in(qtbot, box.inner, "20")
    assert (strength(window).inner, strength(window).plate_material.yield_mpa) == (20.0, 225.0)
    type_in(qtbot, box.inner, '1/4"')
    assert strength(window).inner == pytest.approx(6.35)
    type_in(qtbot, box.factor, "3")
    type_in(qtbot, box.uneven, "75")
    assert strength(window).factor == 3.0
    assert window.document.project.loads.uneven == 0.75  # type: ignore[union-attr]
    assert "75\u00a0% of all loads" in box.sentences.text()
    type_in(qtbot, box.outer, "0")
    assert "greater than 0" in box.outer.message
    assert strength(window).outer == 4.0


def test_one_pin_has_its_own_until_it_is_as_all_again(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    pick(qtbot, box.scope, "X")
    assert not box.factor.isVisibleTo(window)
    type_in(qtbot, box.inner, "10")
    pick(qtbot, box.shear, "single")
    pick(qtbot, box.outer_link, "cross link")
    own = strength(window).joint("X")
    assert (own.inner, own.shear, own.outer_link) == (10.0, "single", "cross link")
    assert strength(window).inner == 8.0
    pick(qtbot, box.scope, "")
    type_in(qtbot, box.inner, "9")
    pick(qtbot, box.scope, "X")
    assert box.inner.line.text() == "10 mm"
    qtbot.mouseClick(box.as_all_button, LEFT)
    assert strength(window).joint("X") == JointStrength("X")
    assert strength(window).joints == ()
    assert box.inner.line.text() == "9 mm"


def test_metals_come_from_the_table_or_are_the_builders_own(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    choice, field = box.metal, box.plate_yields
    pick(qtbot, choice, "S355J2")
    assert strength(window).plate_material.yield_mpa == 355.0
    assert "EN 10025-2" in box.origin.text()
    type_in(qtbot, field, "50 ksi")
    assert strength(window).plate_material.yield_mpa == pytest.approx(344.737865)
    assert (strength(window).plate_material.name, choice.value) == ("own figures", "own figures")
    type_in(qtbot, field, "0")
    assert "more than 0" in field.message


def test_pins_are_typed_in_build_alone_and_told_here(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    assert "⌀8 mm of C45+C, sintered bushings of SAE 841, washers 1.6 mm" in box.pins.text()
    qtbot.mouseClick(box.to_pins, LEFT)
    pins = window.build.box(PinsMadeBox)
    assert pins.scope.hasFocus()
    pick(qtbot, pins.choices["bushing"], "solid bronze")
    bushing = strength(window).bushing
    assert bushing is not None
    assert (pins.grade.value, bushing.name, bushing.kind) == ("SAE 660 (C93200)", "SAE 660 (C93200)", "solid bronze")
    pick(qtbot, pins.grade, "C95400")
    type_in(qtbot, pins.diameter, "12")
    metal = window.document.project.stacking.metal
    assert metal is not None
    assert metal.yield_mpa == 500.0  # a thicker bar of the same steel yields earlier
    window.area.open_drawer("Lift")
    assert "⌀12 mm of C45+C, solid bronze bushings of C95400, washers" in box.pins.text()
    found = joint_by_pivot(window.document.project)["P1"].joint
    assert (found.diameter, found.washer, found.pin_material.yield_mpa) == (12.0, 1.6, 500.0)
    assert found.bushing is not None
    assert found.bushing.name == "C95400"
    type_in(qtbot, box.pin_yields, "450")
    assert window.document.project.stacking.metal.yield_mpa == 450.0  # type: ignore[union-attr]


def test_plates_that_are_built_are_told_and_not_typed(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    type_in(qtbot, box.inner, "7")
    window.area.open_drawer("Build")
    qtbot.mouseClick(window.build.box(PlatesBox).begin_button, LEFT)
    window.area.open_drawer("Lift")
    assert [widget.isVisibleTo(window) for widget in (box.inner, box.edge, box.metal, box.outer)] == [
        *[False] * 3,
        True,
    ]
    assert box.plates.text() == "Plates: 7 mm of S235JR."
    assert strength(window).bushing.stock == (6.0, 8.0, 12.0)  # type: ignore[union-attr]
    assert joint_by_pivot(window.document.project)["X"].joint.pressed == 6.0  # the longest that a plate of 7 takes
    pick(qtbot, box.scope, "X")
    assert box.plates.text() == "At X: arm 7 mm outside, cross link 7 mm, single shear."
    qtbot.mouseClick(box.to_plates, LEFT)
    assert window.build.box(PlatesBox).scope.hasFocus()


def test_a_row_goes_to_its_pose_and_pin(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    document, table = window.document, box.table
    assert [figure.ratio for figure in table.figures] == sorted(figure.ratio for figure in table.figures)
    row = next(k for k, figure in enumerate(table.figures) if figure.pivot == "O1" and figure.deg and figure.deg > 1.0)
    item = table.item(row, 0)
    table.scrollToItem(item)
    qtbot.mouseClick(table.viewport(), LEFT, pos=table.visualItemRect(item).center())
    assert document.selection == Selection("pivot", "O1")
    assert document.pose.deg == pytest.approx(table.figures[row].deg, abs=1e-6)
    link = next(k for k, figure in enumerate(table.figures) if not figure.pivot)
    table.setCurrentCell(link, 0)
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert document.selection == Selection("link", table.figures[link].link)


def test_inches_are_told_and_typed(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    from kinematics import edits

    window.document.apply("Inches", edits.set_units(window.document.project, "in"))
    assert box.pin_yields.line.text().endswith("ksi")
    type_in(qtbot, box.inner, "5/16")
    assert strength(window).inner == pytest.approx(7.9375)
    assert "ksi" in box.table.item(0, 0).toolTip()


def test_a_click_on_a_check_selects_its_pin_or_link(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    window.document.attempt("Thin pins", lambda project: choose_pins(project, diameter=3.0))
    rows = window.checks.rows
    pin = next(row for row in rows if row.check and (row.check.kind, row.check.subject) == ("strength", ("P1",)))
    assert not pin.check.ok  # type: ignore[union-attr]
    assert "bending: safety only" in pin.sentence
    pin.click()
    assert window.document.selection == Selection("pivot", "P1")
    link = next(row for row in rows if row.check and row.check.side in {"section", "buckling"})
    link.click()
    assert window.document.selection == Selection("link", link.check.subject[0])  # type: ignore[union-attr]
