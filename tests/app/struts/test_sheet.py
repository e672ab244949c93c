"""The sheet that looks for struts, by mouse and keys beside a board; its search is two units, done at once."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QEnterEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QLabel

from app.board.board import Board
from app.document import Document
from app.look import light
from app.proposals.search_sheet import CHANGED
from app.struts.sheet import StrutSheet
from app.struts.shown import GROUP, ZONES, StrutShown
from kinematics import edits
from kinematics.project import LiftWants
from kinematics.struts.zoned import drawn_zones
from tests.app.mouse import drag
from tests.app.struts.here_and_now import HereAndNow
from tests.app.test_accessible import assert_all_named
from tests.kinematics.struts.making import hatch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project

LEFT, NO_KEYS = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


def bare() -> Project:
    """The demo with wants and no struts."""
    loads = hatch().loads
    assert loads is not None
    return replace(hatch(), loads=replace(loads, devices=()))


@pytest.fixture
def board(qtbot: QtBot) -> Board:
    made = Board(Document(bare()), light())
    made.resize(800, 600)
    qtbot.addWidget(made)
    return made


def make(board: Board) -> StrutSheet:
    made = StrutSheet(board, StrutShown(board), light, board, HereAndNow())
    made.show()
    return made


@pytest.fixture
def sheet(board: Board) -> Iterator[StrutSheet]:
    made = make(board)
    yield made
    with suppress(RuntimeError):  # a test may have closed it
        made.close()


@pytest.fixture
def found(sheet: StrutSheet, qtbot: QtBot) -> StrutSheet:
    """The sheet after a search."""
    qtbot.mouseClick(sheet.go, LEFT)
    assert len(sheet.model.placements) > 1
    return sheet


def card(sheet: StrutSheet, row: int) -> QPoint:
    sheet.cards.scrollTo(sheet.model.index(row))
    return sheet.cards.visualRect(sheet.model.index(row)).center()


def point_at(sheet: StrutSheet, row: int) -> None:
    """Move the pointer over a card, nothing pressed."""
    at, port = QPointF(card(sheet, row)), sheet.cards.viewport()
    there, none = QPointF(port.mapToGlobal(at.toPoint())), Qt.MouseButton.NoButton
    QApplication.sendEvent(port, QEnterEvent(at, at, there))
    QApplication.sendEvent(port, QMouseEvent(QEvent.Type.MouseMove, at, there, none, none, NO_KEYS))


def leave(sheet: StrutSheet) -> None:
    QApplication.sendEvent(sheet.cards.viewport(), QEvent(QEvent.Type.Leave))


def test_it_says_what_is_asked_and_shows_where_ends_may_be(sheet: StrutSheet, board: Board) -> None:
    asked = sheet.asking.asked.toPlainText()
    assert "push at the handle, shut: at most 80 N" in asked
    assert "rear corner" not in asked
    assert sheet.asking.where.text() == "Dashed on the board: on bulkhead as usual, on hatch as usual."
    assert board.scene.has(ZONES)
    assert sheet.go.text() == "Start"
    assert sheet.go.isEnabled()
    assert not sheet.take.isEnabled()


def test_a_search_changes_nothing_in_the_project(found: StrutSheet, board: Board) -> None:
    assert not board.document.is_modified
    assert "placements tried" in found.progress.text()
    assert not found.way.isVisible()
    assert all(each.ok for each in found.model.placements)
    scores = [each.score for each in found.model.placements]
    assert scores == sorted(scores, reverse=True)
    assert found.go.text() == "Go on"


def test_pointing_at_a_card_draws_its_strut_and_leaving_takes_it_off(found: StrutSheet, board: Board) -> None:
    scene = board.scene
    assert not scene.has(GROUP)
    point_at(found, 0)
    first = scene.shown(f"{GROUP}:end 0:found")
    assert first is not None
    assert first.at == (found.model.placements[0].from_at,)  # type: ignore[union-attr]
    point_at(found, 1)
    assert scene.shown(f"{GROUP}:end 0:found") != first
    leave(found)
    assert not scene.has(GROUP)
    assert not board.document.can_undo


def test_the_strut_follows_the_opening(found: StrutSheet, board: Board) -> None:
    point_at(found, 0)
    shut = board.scene.shown(f"{GROUP}:end 1:found")
    board.document.set_opening(60.0)
    opened = board.scene.shown(f"{GROUP}:end 1:found")
    assert opened != shut
    at = board.document.analysis.pose(60.0)
    column = board.document.analysis.links.index("hatch")
    turn = complex(*found.model.placements[0].to_at) * complex(0.0, 1.0) ** (
        at.turns[column] / (0.5 * 3.141592653589793)
    )
    place = turn + at.shifts[column]
    assert opened.at[0] == pytest.approx((place.real, place.imag), abs=1e-6)  # type: ignore[union-attr]


def test_one_click_takes_one_as_one_step(found: StrutSheet, board: Board, qtbot: QtBot) -> None:
    point_at(found, 1)
    button = found.cards.button_area(found.cards.visualRect(found.model.index(1)))
    qtbot.mouseClick(found.cards.viewport(), LEFT, pos=button.center())
    loads = board.document.project.loads
    assert loads is not None
    (strut,) = loads.devices
    wanted = found.model.placements[1]
    assert (strut.force, strut.from_end.at, strut.to_end.at) == (wanted.force, wanted.from_at, wanted.to_at)
    assert "Undo brings back" in found.said.text()
    assert board.document.undo_label.startswith("Fit struts ")
    checks = {(each.kind, each.side): each for each in board.document.analysis.checks}
    assert checks["push", "worst"].ok
    board.document.undo()
    assert board.document.project == bare()
    assert not board.document.can_undo
    found._read_question()
    assert not found.said.text()  # it is there no more


def test_another_may_be_taken_after_it(found: StrutSheet, board: Board, qtbot: QtBot) -> None:
    """What is taken is no other question."""
    for row in (0, 1):
        qtbot.mouseClick(found.cards.viewport(), LEFT, pos=card(found, row))
        assert found.take.isEnabled()
        qtbot.mouseClick(found.take, LEFT)
        found._read_question()
    loads = board.document.project.loads
    assert loads is not None
    assert [each.force for each in loads.devices] == [found.model.placements[1].force]
    board.document.undo()
    board.document.undo()
    assert not board.document.can_undo


def test_enter_takes_the_chosen_card(found: StrutSheet, board: Board, qtbot: QtBot) -> None:
    found.cards.setFocus()
    qtbot.keyClick(found.cards, Qt.Key.Key_Down)
    assert board.scene.has(GROUP)
    qtbot.keyClick(found.cards, Qt.Key.Key_Return)
    assert board.document.can_undo
    found.activateWindow()
    qtbot.keyClick(found.cards, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not board.document.can_undo


def test_another_question_asks_for_another_search(found: StrutSheet, board: Board, qtbot: QtBot) -> None:
    qtbot.mouseClick(found.cards.viewport(), LEFT, pos=card(found, 0))
    document = board.document
    document.attempt("Move", lambda project: edits.move_pivot(project, "Q", (259.0, 227.0)))
    found._read_question()
    assert found.said.text() == CHANGED
    assert not found.take.isEnabled()
    assert found.go.text() == "Start"
    document.undo()
    found._read_question()
    assert found.take.isEnabled()
    assert not found.said.text()


def test_what_hinders_is_told_and_nothing_starts(sheet: StrutSheet, board: Board) -> None:
    loads = bare().loads
    assert loads is not None
    board.document.apply("No handle", replace(bare(), loads=replace(loads, handle=None)))
    sheet._read_question()
    assert "There is no handle" in sheet.asking.hinder.text()
    assert not sheet.go.isEnabled()


def test_usual_wants_are_said(sheet: StrutSheet, board: Board, qtbot: QtBot) -> None:
    loads = bare().loads
    assert loads is not None
    board.document.apply("No wants", replace(bare(), loads=replace(loads, wants=None)))
    sheet._read_question()
    assert "common practice, no source" in sheet.asking.usual.text()
    assert "largest push at the handle: at most 100 N" in sheet.asking.asked.toPlainText()
    assert sheet.go.isEnabled()


def test_wants_that_fight_are_told_with_what_stands_in_the_way(sheet: StrutSheet, board: Board, qtbot: QtBot) -> None:
    """Never to rise by itself, yet to stay open."""
    loads = bare().loads
    assert loads is not None
    wants = LiftWants(at_most=100.0, rests_until_deg=75.0, stays_open=True)
    board.document.apply("Want", replace(bare(), loads=replace(loads, wants=wants)))
    sheet._read_question()
    qtbot.mouseClick(sheet.go, LEFT)
    assert sheet.way.isVisible()
    assert "in the way is the want that it" in sheet.way.text()
    assert sheet.model.placements
    assert not any(each.ok for each in sheet.model.placements)
    assert sheet.model.words(0)[0].startswith("✗ ")


def test_a_zone_is_drawn_by_a_box_and_given_up(sheet: StrutSheet, board: Board, qtbot: QtBot) -> None:
    board.show()
    board.fit()
    qtbot.mouseClick(sheet.asking.box_button, LEFT)
    drag(qtbot, board.view, (100.0, -150.0), (420.0, 150.0))
    drawn = {zone.on: zone.points for zone in drawn_zones(board.document.project)}
    assert set(drawn) == {"bulkhead"}
    assert max(x for x, _ in drawn["bulkhead"]) == pytest.approx(420.0, abs=4.0)
    sheet._read_question()
    assert sheet.asking.where.text() == "Dashed on the board: on bulkhead as drawn, on hatch as usual."
    assert sheet.asking.settings.zones[0] == drawn_zones(board.document.project)[0]
    qtbot.mouseClick(sheet.asking.usual_button, LEFT)
    assert drawn_zones(board.document.project) == ()
    board.document.undo()
    board.document.undo()
    assert board.document.project == bare()


def test_sizes_number_and_forces_are_asked(sheet: StrutSheet, qtbot: QtBot) -> None:
    sheet.asking.sizes["10/22"].click()
    sheet.asking.sizes["14/28"].click()
    assert {each.rod for each in sheet.asking.settings.sizes} == {6.0, 8.0, 14.0}
    field = sheet.asking.count_field
    field.line.selectAll()
    qtbot.keyClicks(field.line, "1")
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert sheet.asking.settings.count == 1
    field.line.selectAll()
    qtbot.keyClicks(field.line, "0")
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert "from 1 to 8" in field.message
    assert sheet.asking.settings.count == 1
    sheet.asking.steps.choose("10.0")
    assert sheet.asking.settings.force_step == 10.0


def test_closing_takes_all_off_the_board(found: StrutSheet, board: Board) -> None:
    point_at(found, 0)
    found.close()
    assert not board.scene.has(GROUP)
    assert not board.scene.has(ZONES)


def test_every_control_has_a_name(found: StrutSheet) -> None:
    assert_all_named(found)


def test_the_window_has_one_sheet_from_drawer_and_menu(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    from app.drawers.finder_box import FinderBox

    monkeypatch.setattr("app.struts.sheet.SearchJob", lambda **_: HereAndNow())
    window.area.open_drawer("Lift")
    box = window.lift.box(FinderBox)
    QApplication.processEvents()  # its place is found first
    qtbot.mouseClick(box.find_button, LEFT)
    (sheet,) = window.findChildren(StrutSheet)
    window.find_struts()
    assert window.findChildren(StrutSheet) == [sheet]
    assert any("prop that while you fit" in label.text() for label in box.findChildren(QLabel))
    sheet.close()
