"""Pins and bushings in the drawer Build, by mouse and keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.pins_made_box import ALL, AS_ALL, PinsMadeBox
from kinematics import edits
from kinematics.build_parts import PinChoice, Stack
from tests.app.drawers.test_lift_boxes import type_in
from tests.app.drawers.test_strength_box import pick
from tests.app.sharing import bare_demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window) -> PinsMadeBox:
    """The box of the demo without anything that is built, unfolded."""
    window.document.new(bare_demo())
    window.area.open_drawer("Build")
    made = window.build.box(PinsMadeBox)
    QApplication.processEvents()
    return made


def test_all_pins_are_chosen_and_one_has_its_own(box: PinsMadeBox, window: Window, qtbot: QtBot) -> None:
    document, pin = window.document, window.document.project.pivots[0].id
    assert "clevis pin 8 mm, bushing 8 × 11 × 6 mm, sintered" in box.sizes.text()
    pick(qtbot, box.choices["kind"], "plain pin")
    assert document.project.stacking.kind == "plain pin"
    type_in(qtbot, box.diameter, "10")
    assert document.project.stacking.diameter == 10.0
    pick(qtbot, box.scope, pin)
    assert not box.washer.isEnabled()
    assert box.choices["kind"].value == AS_ALL
    pick(qtbot, box.choices["bushing"], "none")
    assert document.project.stacking.pins == (PinChoice(pin, bushing="none"),)
    assert "shank 9.972 to 9.987 mm" in box.sizes.text()
    assert box.as_all_button.isVisibleTo(window)
    qtbot.mouseClick(box.as_all_button, LEFT)
    assert document.project.stacking == Stack(kind="plain pin", diameter=10.0)
    assert not box.as_all_button.isEnabled()
    assert box.focusWidget() is box.scope  # where the keys go on
    while document.can_undo:
        document.undo()
    assert document.project.stack is None


def test_what_is_wrong_is_told_of_all_or_of_one_pin(box: PinsMadeBox, window: Window, qtbot: QtBot) -> None:
    one, other = (pivot.id for pivot in window.document.project.pivots[:2])
    pick(qtbot, box.choices["holes"], "to size")
    assert "can't be pressed into a hole as it is cut" in box.faults.text()
    assert "Ream the plate" not in box.work.text()
    pick(qtbot, box.choices["fixing"], "bond")
    assert "can't be pressed" not in box.faults.text()
    assert "solvent" in box.work.text()
    pick(qtbot, box.scope, one)
    assert f"at {other}" not in box.faults.text()


def test_a_size_that_cannot_be_is_told_and_the_old_one_stays(box: PinsMadeBox, window: Window, qtbot: QtBot) -> None:
    type_in(qtbot, box.diameter, "0")
    assert window.document.project.stack is None
    type_in(qtbot, box.diameter, "7")
    assert "no table has a clevis pin of 7.0 mm" in box.faults.text()


def test_a_pin_that_goes_leaves_the_choice_to_all(box: PinsMadeBox, window: Window, qtbot: QtBot) -> None:
    pin = window.document.project.pivots[-1].id
    pick(qtbot, box.scope, pin)
    window.document.attempt("Remove", lambda project: edits.remove_pivot(project, pin))
    assert box.scope.value == ALL
    assert pin not in box.sizes.text()


def test_metals_are_offered_with_what_they_are(box: PinsMadeBox) -> None:
    words = [box.metal.itemText(row) for row in range(box.metal.count())]
    assert "A2-70, stainless steel" in words
    assert box.metal.list_width() > max(box.metal.fontMetrics().horizontalAdvance(each) for each in words)
