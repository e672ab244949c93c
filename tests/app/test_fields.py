"""A field alone: reading, refusing, giving up, and staying out of a typist's way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from app.fields import angle_field, length_field, optional_length_field, text_field
from kinematics.errors import ProjectError

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.fields import Field


def shown(qtbot: QtBot, field: Field[float]) -> Field[float]:
    qtbot.addWidget(field)
    with qtbot.waitExposed(field):
        field.show()
    return field


def test_a_length_is_handed_over_in_mm_and_spelt_anew(qtbot: QtBot) -> None:
    taken: list[float] = []
    field = shown(qtbot, length_field("Width", "How wide.", lambda: "in", taken.append))
    field.set_value(25.4)
    assert field.line.text() == '1"'
    field.line.selectAll()
    qtbot.keyClicks(field.line, "3 1/16")
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert taken == [pytest.approx(77.7875, abs=1e-12)]  # 49/16 in, exact to rounding
    assert field.line.text() == '3 1/16"'
    field.set_value(30.0)
    assert field.line.text() == '1.1811"'  # no 64th of an inch, so decimals


def test_what_the_project_refuses_is_told_and_the_value_is_kept(qtbot: QtBot) -> None:
    def refuse(_: float) -> None:
        raise ProjectError("wanted_deg is 0, but it must be above 0", "travel")

    field = shown(qtbot, angle_field("Opens to", "How far.", lambda: "mm", refuse))
    field.set_value(75.0)
    field.line.selectAll()
    qtbot.keyClicks(field.line, "0")
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert field.message == "✗ travel: wanted_deg is 0, but it must be above 0. Still 75°."
    assert field.line.accessibleDescription() == field.message
    field.set_value(75.0)  # the same value again, as after any other edit
    assert field.message
    field.set_value(80.0)
    assert field.message == ""
    assert field.line.text() == "80°"


def test_an_empty_line_is_none_where_that_is_allowed(qtbot: QtBot) -> None:
    taken: list[float | None] = []
    field = optional_length_field("Limit", "How far.", lambda: "mm", taken.append)
    qtbot.addWidget(field)
    field.show()
    field.set_value(4.0)
    field.line.selectAll()
    qtbot.keyClick(field.line, Qt.Key.Key_Delete)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert taken == [None]


def test_esc_goes_on_to_the_window_when_nothing_was_typed(qtbot: QtBot) -> None:
    field = text_field("Name", "What it is called.", lambda _: None)
    qtbot.addWidget(field)
    field.show()
    field.set_value("arm")
    qtbot.keyClicks(field.line, "y")
    qtbot.keyClick(field.line, Qt.Key.Key_Escape)
    assert field.line.text() == "arm"
    assert not field.line.isModified()


def test_names_and_tips_are_set(qtbot: QtBot) -> None:
    field = length_field("Width", "How wide the plate is.", lambda: "mm", lambda _: None)
    qtbot.addWidget(field)
    assert field.line.accessibleName() == "Width"
    assert field.line.toolTip().startswith("How wide the plate is.")
    assert "25.4/2" in field.line.toolTip()
