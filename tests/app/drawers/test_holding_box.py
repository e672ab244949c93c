"""Holding open in the window: a prop put by clicks, a stop, wind; all typed too, and each one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.holding_box import HoldingBox
from kinematics import holding_edits, loading
from kinematics.parts import Attachment
from tests.app import mouse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.fields import Field
    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window) -> HoldingBox:
    window.area.open_drawer("Lift")
    QApplication.processEvents()
    found = window.lift.box(HoldingBox)
    QApplication.processEvents()
    return found


def put(window: Window) -> None:
    """Put a prop without the mouse."""
    hangs, seat = Attachment("bulkhead", (684.5, 257.0)), Attachment("hatch", (898.0, 277.0))
    window.document.attempt("Put prop", lambda project: holding_edits.put_prop(project, hangs, seat, 70.0))
    QApplication.processEvents()


def enter(field: Field[float], text: str, qtbot: QtBot) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    QApplication.processEvents()


def shown(text: str) -> str:
    return text.replace("\u200b", "")


def test_a_prop_is_put_by_two_clicks_at_the_opening_that_is_shown(
    window: Window, box: HoldingBox, qtbot: QtBot
) -> None:
    window.document.set_opening(70.0)
    window.board.fit()
    QApplication.processEvents()
    assert not box.prop_rows.isVisible()
    qtbot.mouseClick(box.prop_button, LEFT)
    mouse.click(qtbot, window.board.view, (700.0, 100.0))
    seat = window.board.placements["hatch"].carry((900.0, 279.0))
    mouse.click(qtbot, window.board.view, seat)
    QApplication.processEvents()
    prop = holding_edits.prop_of(window.document.project)
    assert (prop.from_end.on, prop.to_end.on, prop.at_deg) == ("bulkhead", "hatch", 70.0)
    assert prop.from_end.at == pytest.approx((700.0, 100.0), abs=3.0)
    assert prop.to_end.at == pytest.approx((900.0, 279.0), abs=3.0)
    assert window.document.undo_label == "Put prop"
    assert box.prop_rows.isVisible()
    assert "from end to end, set at 70°" in shown(box.prop_told.text())
    window.document.undo()
    assert window.document.project.loads is not None
    assert window.document.project.loads.prop_rod is None
    window.document.set_opening(0.0)  # shut, it is for the wanted opening
    QApplication.processEvents()
    qtbot.mouseClick(box.prop_button, LEFT)
    mouse.click(qtbot, window.board.view, (700.0, 100.0))
    mouse.click(qtbot, window.board.view, (900.0, 279.0))
    QApplication.processEvents()
    assert holding_edits.prop_of(window.document.project).at_deg == 75.0


def test_its_opening_and_ends_are_typed(window: Window, box: HoldingBox, qtbot: QtBot) -> None:
    said: list[str] = []
    window.document.noticed.connect(said.append)
    put(window)
    assert "A prop that slips drops the panel" in shown(box.cautions.text())
    assert "Never rely on struts alone" in shown(box.cautions.text())
    assert HoldingBox.gist(window.document.analysis, window.document) == "prop 70°"
    on = box.prop_rows.seat[0]
    on.choose("bulkhead")  # on which the other end is
    on.activated.emit(on.currentIndex())
    assert any("both ends are on" in words for words in said)
    assert on.value == "hatch"
    enter(box.prop_rows.at, "65", qtbot)
    enter(box.prop_rows.seat[1], "850", qtbot)
    prop = holding_edits.prop_of(window.document.project)
    assert prop.at_deg == 65.0
    assert prop.to_end.at == (850.0, 277.0)
    qtbot.mouseClick(box.prop_rows.show_button, LEFT)
    assert window.document.pose.deg == pytest.approx(65.0)
    qtbot.mouseClick(box.prop_rows.turn_button, LEFT)
    assert holding_edits.prop_of(window.document.project).from_end.on == "hatch"
    qtbot.mouseClick(box.prop_rows.remove_button, LEFT)
    QApplication.processEvents()
    assert not box.prop_rows.isVisible()


def test_a_stop_is_added_and_changed_and_wind_is_typed(window: Window, box: HoldingBox, qtbot: QtBot) -> None:
    qtbot.mouseClick(box.stop_button, LEFT)
    QApplication.processEvents()
    rows = box.stop_rows
    assert rows.isVisible()
    assert not box.stop_button.isVisible()
    enter(rows.at, "78", qtbot)
    enter(rows.arm, "60", qtbot)
    stop = holding_edits.stop_of(window.document.project)
    assert (stop.at_deg, stop.arm) == (78.0, 60.0)
    rows.between.setCurrentIndex(1)
    rows.between.activated.emit(1)
    assert holding_edits.stop_of(window.document.project).between != stop.between
    qtbot.mouseClick(rows.remove_button, LEFT)
    QApplication.processEvents()
    assert box.stop_button.isVisible()
    enter(box.wind, "36 km/h", qtbot)
    project = window.document.project
    window.document.apply("Width", loading.with_loads(project, across=1200.0))
    assert shown(box.across.text()) == "The panel across the body: 1200 mm wide, typed under Hinges and width."
    assert holding_edits.wind_of(window.document.project) == pytest.approx(10.0)
    assert "1.25 kg/m³ · v² = 62.5 Pa" in shown(box.gust_told.text())
    enter(box.wind, "300 mph", qtbot)
    assert box.wind.line.is_wrong
    assert holding_edits.wind_of(window.document.project) == pytest.approx(10.0)
