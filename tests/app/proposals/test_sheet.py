"""The sheet that looks for hinges, by mouse and keys beside a board, over the search in small."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QEnterEvent, QMouseEvent
from PySide6.QtWidgets import QApplication

from app.board.board import Board
from app.document import Document
from app.look import light
from app.proposals.job import SearchJob
from app.proposals.search_sheet import CHANGED
from app.proposals.sheet import FindSheet
from app.proposals.showing import Shown
from app.trials.kept import trials_of
from kinematics import edits
from kinematics.project import GapWant, Travel
from tests.app.proposals import fake
from tests.app.proposals.here_and_now import UNITS, HereAndNow
from tests.app.sharing import demo
from tests.app.test_accessible import assert_all_named

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project
    from kinematics.proposals.results import Settings


class Hindered:
    """Sentences that hinder, as a test sets them."""

    def __init__(self) -> None:
        self.sentences: tuple[str, ...] = ()
        self.asked: list[Settings] = []

    def __call__(self, _: Project, settings: Settings) -> tuple[str, ...]:
        self.asked.append(settings)
        return self.sentences


@pytest.fixture
def hindered() -> Hindered:
    return Hindered()


@pytest.fixture
def board(qtbot: QtBot) -> Board:
    """A board with the demo: all of the window that the sheet has to do with."""
    made = Board(Document(demo()), light())
    qtbot.addWidget(made)
    return made


def make(board: Board, job: SearchJob, hindered: Hindered) -> FindSheet:
    made = FindSheet(board.document, Shown(board), light, board, job, fake.Collector, hindered)
    made.show()
    return made


@pytest.fixture
def sheet(board: Board, hindered: Hindered) -> Iterator[FindSheet]:
    """The sheet over the search in small."""
    made = make(board, HereAndNow(), hindered)
    pumped = made._pumped
    yield made
    with suppress(RuntimeError):  # a test may have closed it
        made.close()
    while pumped.is_busy:
        pumped._look()


@pytest.fixture
def found(sheet: FindSheet, qtbot: QtBot) -> FindSheet:
    """The sheet after a search of six units."""
    qtbot.mouseClick(sheet.go, Qt.MouseButton.LeftButton)
    assert len(sheet.model.proposals) >= UNITS
    return sheet


def spot(sheet: FindSheet, row: int) -> QPoint:
    sheet.cards.scrollTo(sheet.model.index(row))
    return sheet.cards.visualRect(sheet.model.index(row)).center()


def point_at(sheet: FindSheet, row: int) -> None:
    """Move the pointer over a card, nothing pressed."""
    at = QPointF(spot(sheet, row))
    port = sheet.cards.viewport()
    QApplication.sendEvent(port, QEnterEvent(at, at, QPointF(port.mapToGlobal(at.toPoint()))))
    none = Qt.MouseButton.NoButton
    move = QMouseEvent(QEvent.Type.MouseMove, at, QPointF(port.mapToGlobal(at.toPoint())), none, none, NO_KEYS)
    QApplication.sendEvent(port, move)


def leave(sheet: FindSheet) -> None:
    QApplication.sendEvent(sheet.cards.viewport(), QEvent(QEvent.Type.Leave))


NO_KEYS = Qt.KeyboardModifier.NoModifier


def test_what_is_asked_stands_there_before_anything_is_searched(sheet: FindSheet, hindered: Hindered) -> None:
    assert sheet.asking.asked.toPlainText().startswith("opens to 75°\n")
    assert sheet.go.text() == "Start"
    assert sheet.go.isEnabled()
    assert not sheet.asking.hinder.isVisible()
    assert hindered.asked[-1] == sheet.settings
    assert not sheet.take.isEnabled()


def test_a_search_changes_nothing_in_the_project(found: FindSheet, board: Board) -> None:
    assert not board.document.is_modified
    assert not board.document.can_undo
    assert found.go.text() == "Go on"
    assert "layouts tried" in found.progress.text()
    assert "Four-bar: all wants hold" in found.best.text()
    assert "Single pivot: none yet that holds; the nearest is " in found.best.text()
    assert [each.ok for each in found.model.proposals] == sorted((p.ok for p in found.model.proposals), reverse=True)


def test_pointing_at_a_card_draws_its_sweep_and_leaving_takes_it_off(found: FindSheet, board: Board) -> None:
    scene = board.scene
    assert not scene.has("proposal")
    point_at(found, 0)
    first = scene.shown("sweep:3:hatch skin")
    assert first is not None
    assert scene.shown("beside:outline:hatch skin") is not None
    point_at(found, 4)
    assert scene.shown("sweep:3:hatch skin") != first
    leave(found)
    assert not scene.has("proposal")
    assert not board.document.can_undo


def test_a_chosen_card_stays_on_the_board_until_the_sheet_is_closed(
    found: FindSheet, board: Board, qtbot: QtBot
) -> None:
    qtbot.mouseClick(found.cards.viewport(), Qt.MouseButton.LeftButton, pos=spot(found, 1))
    leave(found)
    assert board.scene.has("proposal")
    found.close()
    assert not board.scene.has("proposal")


def test_take_it_is_one_step_and_keeps_words_and_trials(found: FindSheet, board: Board, qtbot: QtBot) -> None:
    document = board.document
    before = document.project
    qtbot.mouseClick(found.cards.viewport(), Qt.MouseButton.LeftButton, pos=spot(found, 0))
    proposal = found.proposal
    assert proposal is not None
    qtbot.mouseClick(found.take, Qt.MouseButton.LeftButton)
    assert document.project.pivots == proposal.project.pivots != before.pivots
    assert document.project.title == before.title
    assert document.undo_label == f"Take a {proposal.kind}"
    assert "on the board now" in found.said.text()
    document.undo()
    assert document.project == before
    assert not document.can_undo


def test_wants_that_come_with_what_is_taken_are_no_other_question(found: FindSheet, board: Board, qtbot: QtBot) -> None:
    """So that a second card may be taken after it."""
    proposal = found.model.proposals[0]
    outline = next(each for each in proposal.project.outlines if each.on == proposal.project.fixed.id)
    link = next(each for each in proposal.project.links if each.kind == "link")
    want = GapWant((link.id, outline.id), 0.5)
    widened = replace(proposal, project=replace(proposal.project, gaps=(*proposal.project.gaps, want)))
    found.model.proposals = (widened, *found.model.proposals[1:])
    qtbot.mouseClick(found.cards.viewport(), Qt.MouseButton.LeftButton, pos=spot(found, 0))
    qtbot.mouseClick(found.take, Qt.MouseButton.LeftButton)
    assert want in board.document.project.gaps
    assert not found.is_stale
    assert found.take.isEnabled()


def test_keep_as_trial_leaves_the_board(found: FindSheet, board: Board, qtbot: QtBot) -> None:
    document = board.document
    before = document.project
    found.cards.setCurrentIndex(found.model.index(0))
    proposal = found.proposal
    assert proposal is not None
    qtbot.mouseClick(found.keep, Qt.MouseButton.LeftButton)
    (trial,) = trials_of(document.project)
    assert (trial.name, trial.note) == (f"{proposal.kind} 1", "found by a search, seed 1")
    assert trial.project is not None
    assert trial.project.pivots == proposal.project.pivots
    assert document.project.pivots == before.pivots
    qtbot.mouseClick(found.keep, Qt.MouseButton.LeftButton)
    assert len(trials_of(document.project)) == 2
    document.undo()
    document.undo()
    assert document.project == before


def test_rounding_takes_the_card_over_where_every_want_holds(found: FindSheet, qtbot: QtBot) -> None:
    found.cards.setCurrentIndex(found.model.index(0))
    qtbot.mouseClick(found.round, Qt.MouseButton.LeftButton)
    assert not found.round.isEnabled(), "once is enough"
    qtbot.waitUntil(lambda: "whole steps of" in found.said.text())
    proposal = found.proposal
    assert proposal is not None
    assert proposal.ok
    pins = [value for pivot in proposal.project.pivots for value in pivot.at]
    assert all(value * 2 == round(value * 2) for value in pins)
    row = next(k for k, each in enumerate(found.model.proposals) if not each.ok)
    found.cards.setCurrentIndex(found.model.index(row))
    assert not found.round.isEnabled(), "what falls short isn't rounded"


def test_a_wish_moved_reorders_at_once_and_the_chosen_card_stays_chosen(found: FindSheet, qtbot: QtBot) -> None:
    found.cards.setCurrentIndex(found.model.index(0))
    chosen, before = found.proposal, found.model.proposals
    for name, slider in found.wishes.sliders.items():
        slider.setValue(100 if name == "few_pins" else 0)
    few = found.model.proposals
    assert [len(each.project.pivots) for each in few if each.ok] == sorted(
        len(each.project.pivots) for each in few if each.ok
    )
    slider = found.wishes.sliders["few_pins"]
    slider.setFocus()
    for _ in range(100):
        qtbot.keyClick(slider, Qt.Key.Key_Left)
    for _ in range(100):
        qtbot.keyClick(found.wishes.sliders["transmission"], Qt.Key.Key_Right)
    assert found.model.proposals != few
    assert sorted(each.unit for each in before) == sorted(each.unit for each in found.model.proposals)
    assert found.proposal is chosen


def test_going_on_finds_more_and_another_seed_begins_anew(found: FindSheet, qtbot: QtBot) -> None:
    many = len(found.model.proposals)
    qtbot.mouseClick(found.go, Qt.MouseButton.LeftButton)
    assert len(found.model.proposals) > many
    line = found.asking.seed_field.line
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, "7")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert found.settings.seed == 7
    assert found.go.text() == "Start"
    line.selectAll()
    qtbot.keyClicks(line, "2.5")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert "whole number" in found.asking.seed_field.message
    assert found.settings.seed == 7


def test_links_can_be_asked_to_clear_the_body(sheet: FindSheet, qtbot: QtBot) -> None:
    line = sheet.asking.clear_field.line
    assert (line.text(), sheet.asking.settings.bands_clear) == ("", None)
    line.setFocus()
    qtbot.keyClicks(line, "5 mm")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert sheet.asking.settings.bands_clear == 5.0
    line.selectAll()
    qtbot.keyClicks(line, "-1")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert "0 to 1 m" in sheet.asking.clear_field.message
    assert sheet.asking.settings.bands_clear == 5.0
    line.selectAll()
    qtbot.keyClick(line, Qt.Key.Key_Delete)
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert sheet.asking.settings.bands_clear is None


def test_stopping_in_real_processes_leaves_the_project_and_closing_leaves_none(
    board: Board, hindered: Hindered, qtbot: QtBot
) -> None:
    job = SearchJob(None, "tests.app.proposals.fake_stuck", 2)
    sheet = make(board, job, hindered)
    qtbot.mouseClick(sheet.go, Qt.MouseButton.LeftButton)
    assert sheet.go.text() == "Stop"
    assert not sheet.asking.kinds["four-bar"].isEnabled()
    qtbot.mouseClick(sheet.go, Qt.MouseButton.LeftButton)
    assert not sheet.job.is_running
    assert sheet.go.text() == "Go on"
    assert not board.document.is_modified
    sheet.close()
    assert sheet.job._processes == []


def test_another_question_stops_the_search_and_forbids_to_take(found: FindSheet, board: Board, qtbot: QtBot) -> None:
    found.cards.setCurrentIndex(found.model.index(0))
    document = board.document
    document.apply("move a pin", edits.move_pivot(document.project, "Q", (10.0, 20.0)))
    qtbot.wait(1)
    assert not found.is_stale, "pins that are not locked are the search's to place"
    document.apply("wish", edits.set_travel(document.project, wanted_deg=60.0))
    qtbot.waitUntil(lambda: found.said.text() == CHANGED)
    assert found.asking.asked.toPlainText().startswith("opens to 60°")
    assert not found.take.isEnabled()
    assert found.keep.isEnabled()
    assert found.go.text() == "Start"
    document.undo()
    qtbot.waitUntil(found.take.isEnabled)
    assert document.project.travel == Travel("anticlockwise", 75.0)


def test_what_hinders_is_said_and_no_search_can_be_started(
    sheet: FindSheet, hindered: Hindered, board: Board, qtbot: QtBot
) -> None:
    hindered.sentences = ("The wall crosses the hatch when shut.", "Zone 1 has no area.")
    board.document.apply("wish", edits.set_travel(board.document.project, wanted_deg=60.0))
    qtbot.waitUntil(sheet.asking.hinder.isVisible)
    assert sheet.asking.hinder.text() == "✗ The wall crosses the hatch when shut.\n✗ Zone 1 has no area."
    assert not sheet.go.isEnabled()


def test_without_a_kind_there_is_nothing_to_look_for(sheet: FindSheet, qtbot: QtBot) -> None:
    for box in sheet.asking.kinds.values():
        qtbot.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(5, box.height() // 2))
    qtbot.waitUntil(sheet.asking.hinder.isVisible)
    assert sheet.asking.hinder.text() == "✗ No kind is ticked."
    assert not sheet.go.isEnabled()


def test_lengths_follow_the_units(found: FindSheet, board: Board, qtbot: QtBot) -> None:
    assert " mm" in found.model.words(0)[1]
    board.document.apply("units", edits.set_units(board.document.project, "in"))
    assert " mm" not in found.model.words(0)[1]
    assert not found.is_stale, "units are no part of the question"
    qtbot.waitUntil(lambda: "mm" not in found.best.text())


def test_pictures_come_by_themselves_and_closing_meanwhile_is_no_fault(found: FindSheet, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: found.model.analysis(1) is not None)
    found.cards.setCurrentIndex(found.model.index(0))
    found.round_it()
    pumped = found._pumped
    found.close()
    qtbot.waitUntil(lambda: not pumped.is_busy)


def test_every_control_has_a_name(found: FindSheet) -> None:
    assert assert_all_named(found) > 15
    index = found.model.index(0)
    assert "✓ all wants" in str(index.data(Qt.ItemDataRole.AccessibleTextRole))


def test_by_keys_alone(sheet: FindSheet, board: Board, qtbot: QtBot) -> None:
    assert sheet.focusWidget() is sheet.go
    qtbot.keyClick(sheet.go, Qt.Key.Key_Space)
    before = board.document.project
    sheet.cards.setFocus()
    qtbot.keyClick(sheet.cards, Qt.Key.Key_Down)
    qtbot.keyClick(sheet.cards, Qt.Key.Key_Down)
    assert board.scene.has("proposal")
    qtbot.keyClick(sheet.cards, Qt.Key.Key_Return)
    assert board.document.project.pivots != before.pivots
    assert sheet.isVisible()
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert not sheet.isVisible()


def test_the_window_opens_one_sheet_and_closes_it_with_itself(
    fresh_window: Window, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    window = fresh_window
    monkeypatch.setattr("app.proposals.sheet._hindrances", fake.cannot)
    window.area.open_drawer("Pins")
    qtbot.mouseClick(window.pins.find_hinges, Qt.MouseButton.LeftButton)
    window.find_hinges()
    (sheet,) = window.findChildren(FindSheet)
    assert len(sheet.job._processes) > 0
    sheet.activateWindow()
    qtbot.waitUntil(sheet.go.hasFocus)
    qtbot.keyClick(sheet.go, Qt.Key.Key_F1)
    assert window.help.viewer is not None
    assert window.help.viewer.view.place == "proposals"
    monkeypatch.setattr(type(window), "may_leave", lambda _: True)
    window.close()
    assert sheet.job._processes == []


def test_a_name_that_is_one_long_word_widens_nothing(found: FindSheet) -> None:
    for told in (found.said, found.best, found.progress, found.asking.hinder):
        told.tell("s" * 200)
    assert found.minimumSizeHint().width() <= 440
