"""How sure, in the drawer Pins: typed, told in the checks and the strip, hinges tried between frames and stopped."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from kinematics import edits
from kinematics.project import Sureness

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.drawers.sure_box import SureBox
    from app.fields import Field
    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window) -> SureBox:
    window.area.open_drawer("Pins")
    QApplication.processEvents()
    return window.pins.sure


def type_in(qtbot: QtBot, field: Field[float], text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def test_what_is_typed_is_told_in_checks_and_strip_one_step_each(window: Window, box: SureBox, qtbot: QtBot) -> None:
    document = window.document
    before = document.project
    assert "0 takes every figure as drawn" in box.told.text()
    assert not box.try_button.isEnabled()
    type_in(qtbot, box.holes, "0.25")
    assert document.undo_label == "Set how far holes are off"
    type_in(qtbot, box.play, "0.1 mm")
    document.flush()
    assert document.project.sureness == Sureness(0.25, 0.1)
    assert document.undo_label == "Set play of pins"
    row = next(row for row in window.checks.rows if row.check is not None and row.check.kind == "gap")
    assert "at worst" in row.sentence
    assert "O1 matters most" in row.sentence
    assert "at worst" in row.accessibleName()
    assert "as built" in window.checks.remarks.text().replace("\u200b", "")
    lane = window.strip._lanes[0]
    assert lane.figures is not None
    assert lane.figures.lows is not None
    assert lane.view.beneath
    assert "worst" in lane.figures.told
    assert "at worst" in box.told.text()
    document.undo()
    document.undo()
    document.flush()
    assert document.project == before
    assert not document.can_undo
    assert lane.figures is not None
    assert lane.figures.lows is None
    assert lane.view.beneath == []


def test_what_is_wrong_is_told_and_changes_nothing(window: Window, box: SureBox, qtbot: QtBot) -> None:
    type_in(qtbot, box.holes, "-1")
    assert window.document.project.sureness is None
    type_in(qtbot, box.holes, "words")
    assert window.document.project.sureness is None


def test_hinges_are_tried_between_frames(window: Window, box: SureBox, qtbot: QtBot) -> None:
    type_in(qtbot, box.holes, "0.1")
    window.document.flush()
    qtbot.mouseClick(box.try_button, LEFT)
    assert box.try_button.text() == "Stop"
    qtbot.waitUntil(lambda: not box._timer.isActive(), timeout=20_000)
    assert "200 hinges tried" in box.tried.text()
    pivot = window.document.project.pivots[0]
    moved = edits.move_pivot(window.document.project, pivot.id, (pivot.at[0] + 1.0, pivot.at[1]))
    window.document.apply("Move", moved)
    window.document.flush()
    assert box.tried.isHidden()


def test_trying_can_be_stopped(window: Window, box: SureBox, qtbot: QtBot) -> None:
    type_in(qtbot, box.holes, "0.1")
    window.document.flush()
    qtbot.mouseClick(box.try_button, LEFT)
    QApplication.processEvents()
    qtbot.mouseClick(box.try_button, LEFT)
    assert not box._timer.isActive()
    assert box.try_button.text() == "Try 200 hinges"


def test_the_band_ends_where_nothing_is_told(window: Window, box: SureBox, qtbot: QtBot) -> None:
    """Near shut the demo stands near a dead point: there the band isn't drawn, and the rest is below the curve."""
    type_in(qtbot, box.holes, "0.25")
    window.document.flush()
    figures = window.strip._lanes[0].figures
    assert figures is not None
    assert figures.lows is not None
    assert np.isnan(figures.lows[0])
    told = np.isfinite(figures.lows)
    assert (figures.lows[told] <= figures.ys[told]).all()
    (band, low) = window.strip._lanes[0].view.beneath[0]
    assert band.size() == 2 * low.size() == 2 * int(told.sum())
