"""Pins and plates in the drawer Lift, by mouse and keys."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.document import Selection
from app.drawers.strength_box import StrengthBox
from kinematics.strength_parts import JointStrength, Strength
from tests.app.drawers.test_lift_boxes import type_in

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.entry.form import ChoiceBox
    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window, qtbot: QtBot) -> StrengthBox:
    """The box of the demo, begun anew by its button."""
    document = window.document
    document.new(replace(document.project, strength=None))
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
    assert box.diameter.isVisibleTo(window)
    assert box.factor.line.hasFocus()
    qtbot.mouseClick(box.drop_button, LEFT)
    assert document.project.strength is None
    assert box.begin_button.isVisibleTo(window)
    assert not box.diameter.isVisibleTo(window)
    assert box.begin_button.hasFocus()
    document.undo()
    document.undo()
    assert not document.can_undo


def test_sizes_are_typed_and_the_metal_follows_its_size(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    assert strength(window).pin_material.yield_mpa == 565.0
    type_in(qtbot, box.diameter, "12")
    assert (strength(window).diameter, strength(window).pin_material.yield_mpa) == (12.0, 500.0)
    type_in(qtbot, box.inner, '1/4"')
    assert strength(window).inner == pytest.approx(6.35)
    type_in(qtbot, box.washer, "1.6")
    type_in(qtbot, box.factor, "3")
    type_in(qtbot, box.uneven, "75")
    assert (strength(window).washer, strength(window).factor) == (1.6, 3.0)
    assert window.document.project.loads.uneven == 0.75  # type: ignore[union-attr]
    assert "75\u00a0% of all loads" in box.sentences.text()
    type_in(qtbot, box.diameter, "0")
    assert "greater than 0" in box.diameter.message
    assert strength(window).diameter == 12.0


def test_one_pin_has_its_own_until_it_is_as_all_again(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    pick(qtbot, box.scope, "X")
    assert not box.factor.isVisibleTo(window)
    type_in(qtbot, box.diameter, "10")
    pick(qtbot, box.shear, "single")
    pick(qtbot, box.outer_link, "cross link")
    own = strength(window).joint("X")
    assert (own.diameter, own.shear, own.outer_link) == (10.0, "single", "cross link")
    assert strength(window).diameter == 8.0
    pick(qtbot, box.scope, "")
    type_in(qtbot, box.diameter, "9")
    pick(qtbot, box.scope, "X")
    assert box.diameter.line.text() == "10 mm"
    qtbot.mouseClick(box.as_all_button, LEFT)
    assert strength(window).joint("X") == JointStrength("X")
    assert strength(window).joints == ()
    assert box.diameter.line.text() == "9 mm"


def test_metals_come_from_the_table_or_are_the_builders_own(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    choice, field = box.metals["plate_material"]
    pick(qtbot, choice, "S355J2")
    assert strength(window).plate_material.yield_mpa == 355.0
    assert "EN 10025-2" in box.origin.text()
    type_in(qtbot, field, "50 ksi")
    assert strength(window).plate_material.yield_mpa == pytest.approx(344.737865)
    assert (strength(window).plate_material.name, choice.value) == ("own figures", "own figures")
    type_in(qtbot, field, "0")
    assert "more than 0" in field.message


def test_a_bushing_is_chosen_and_sized(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    pick(qtbot, box.bushing, "SAE 841")
    bushing = strength(window).bushing
    assert bushing is not None
    assert (bushing.length, bushing.outside, bushing.pressure_mpa) == (8.0, 12.0, pytest.approx(13.789515, abs=1e-6))
    assert any(figure.mode == "bushing pressure" for figure in box.table.figures)
    pick(qtbot, box.scope, "B")
    pick(qtbot, box.bushing, "none")
    assert strength(window).joint("B").plain
    pick(qtbot, box.scope, "")
    pick(qtbot, box.bushing, "none")
    assert strength(window).bushing is None


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
    field = box.metals["pin_material"][1]
    assert field.line.text().endswith("ksi")
    type_in(qtbot, box.diameter, "5/16")
    assert strength(window).diameter == pytest.approx(7.9375)
    assert "ksi" in box.table.item(0, 0).toolTip()


def test_a_click_on_a_check_selects_its_pin_or_link(box: StrengthBox, window: Window, qtbot: QtBot) -> None:
    type_in(qtbot, box.diameter, "3")
    rows = window.checks.rows
    pin = next(row for row in rows if row.check and (row.check.kind, row.check.subject) == ("strength", ("P1",)))
    assert not pin.check.ok  # type: ignore[union-attr]
    assert "bending: safety only" in pin.sentence
    pin.click()
    assert window.document.selection == Selection("pivot", "P1")
    link = next(row for row in rows if row.check and row.check.side in {"section", "buckling"})
    link.click()
    assert window.document.selection == Selection("link", link.check.subject[0])  # type: ignore[union-attr]
