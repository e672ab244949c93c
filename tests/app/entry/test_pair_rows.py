"""Clearance and shut gap of a pair, side by side: typed, proposed, taken out, and refused in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QToolButton

from app.preferences import Preferences
from kinematics import edits, wanting
from kinematics.project import GapWant, ShutWant
from tests.app.entry.test_entry import field_with, line_of, type_in

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.document import Document
    from app.entry.panel import EntryPanel

PAIR = ("screen and sill", "hatch skin")
NAME = "screen and sill – hatch skin"
LEAST, LARGEST = f"Least shut gap, {NAME}", f"Largest shut gap, {NAME}"


def tool(panel: EntryPanel, name: str) -> QToolButton:
    """Find a button of the form by its accessible name."""
    assert panel.form is not None
    return next(each for each in panel.form.findChildren(QToolButton) if each.accessibleName() == name)


def test_both_sides_of_the_shut_gap_are_typed_beside_the_clearance(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    travel, shut = line_of(panel, f"Least gap, {NAME}"), line_of(panel, LEAST)
    assert travel.mapTo(panel, travel.rect().topLeft()).y() == shut.mapTo(panel, shut.rect().topLeft()).y()
    type_in(qtbot, shut, "3/16 in")
    assert document.project.gaps[0] == GapWant(PAIR, 10.0, shut=ShutWant(at_least=4.7625))
    assert document.undo_label == f"Want shut gap {NAME}"
    type_in(qtbot, line_of(panel, LARGEST), "6.5")
    assert document.project.gaps[0].shut == ShutWant(4.7625, 6.5)
    type_in(qtbot, line_of(panel, LEAST), " ")
    assert document.project.gaps[0].shut == ShutWant(at_most=6.5)
    type_in(qtbot, line_of(panel, LARGEST), " ")
    assert document.project.gaps == (GapWant(PAIR, 10.0),)
    for _ in range(4):
        document.undo()
    assert not document.can_undo


def test_the_usual_one_is_about_3_16_in_and_even(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    button = tool(panel, f"Usual shut gap, {NAME}")
    assert "about 4.8 mm, from 3.2 mm to 6.3 mm" in button.toolTip()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert document.project.gaps[0].shut == ShutWant(3.175, 6.35)
    assert (line_of(panel, LEAST).text(), line_of(panel, LARGEST).text()) == ("3.175 mm", "6.35 mm")
    document.set_preferences(Preferences(shut_gap=9.0), system_comma=False)
    qtbot.mouseClick(tool(panel, f"Usual shut gap, {NAME}"), Qt.MouseButton.LeftButton)
    assert document.project.gaps[0].shut == ShutWant(6.0, 12.0)


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        (LEAST, "7", "✗ the least, 7 mm, is more than the largest, 6.35 mm. No gap is both. Still 3.175 mm."),
        (LEAST, '3/8"', "✗ the least, 9.525 mm, is more than"),
        (LARGEST, "1", "✗ the least, 3.175 mm, is more than the largest, 1 mm."),
        (LEAST, "-1", "✗ a gap may not be negative. Where"),
        (LARGEST, "0", "✗ the largest must be more than 0. At 0 the two would touch."),
        (LARGEST, "even", "even"),
        (LARGEST, "1e30", "no unit known here"),
    ],
)
def test_what_no_gap_meets_is_answered_beside_the_field(
    panel: EntryPanel, document: Document, qtbot: QtBot, name: str, typed: str, says: str
) -> None:
    document.apply("Usual", wanting.set_shut_gap(document.project, PAIR, ShutWant(3.175, 6.35)))
    before = document.project
    line = line_of(panel, name)
    type_in(qtbot, line, typed)
    field = field_with(line)
    assert says in field.message
    assert document.project is before
    QApplication.processEvents()
    label = next(each for each in panel.findChildren(QLabel) if each.text() == field.message)
    assert label.isVisible()
    assert label.width() > 1.8 * line.width()  # it spans both columns, however narrow the line
    type_in(qtbot, line, " ")
    assert not label.isVisible()


def test_a_pair_that_nobody_asked_about_gets_a_shut_gap_alone(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    document.apply("Ask nothing", edits.remove_gap(document.project, PAIR))
    assert line_of(panel, f"Least gap, {NAME}").placeholderText() == "no want"
    type_in(qtbot, line_of(panel, LARGEST), "6")
    assert document.project.gaps == (GapWant(PAIR, 0.0, shut=ShutWant(at_most=6.0)),)
    assert line_of(panel, f"Least gap, {NAME}").text() == "0 mm"


def test_changing_the_clearance_keeps_the_shut_gap_and_the_cross_takes_both(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    document.apply("Usual", wanting.set_shut_gap(document.project, PAIR, ShutWant(3.175, 6.35)))
    type_in(qtbot, line_of(panel, f"Least gap, {NAME}"), "8")
    type_in(qtbot, line_of(panel, f"From opening, {NAME}"), "2")
    assert document.project.gaps == (GapWant(PAIR, 8.0, 2.0, ShutWant(3.175, 6.35)),)
    qtbot.mouseClick(tool(panel, f"Want nothing of {NAME}"), Qt.MouseButton.LeftButton)
    assert document.project.gaps == ()


def test_a_click_into_the_next_field_keeps_the_keys_and_the_place_when_the_form_is_made_anew(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    """The first want of a pair makes the form anew; what is typed next must go where the click went."""
    document.apply("Watch nothing", edits.remove_gap(document.project, PAIR, 0))
    panel.resize(330, 260)
    panel.activateWindow()
    qtbot.waitUntil(panel.isActiveWindow)
    bar = panel._scroll.verticalScrollBar()
    bar.setValue(120)
    first = line_of(panel, f"Least gap, {NAME}")
    for name, typed in ((f"Least gap, {NAME}", "7"), (LEAST, "3"), (LARGEST, "6")):
        line = line_of(panel, name)
        qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
        assert bar.value() == 120
        qtbot.keyClicks(QApplication.focusWidget(), typed)
    assert line_of(panel, f"Least gap, {NAME}") is not first
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert document.project.gaps[0] == GapWant(PAIR, 7.0, shut=ShutWant(3.0, 6.0))


def test_the_first_click_selects_what_stands_there_and_the_next_sets_the_cursor(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    panel.activateWindow()
    qtbot.waitUntil(panel.isActiveWindow)
    line = line_of(panel, f"Least gap, {NAME}")
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    assert line.selectedText() == line.text() == "10 mm"
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    assert line.selectedText() == ""
    assert document.project.gaps[0].at_least == 10.0
