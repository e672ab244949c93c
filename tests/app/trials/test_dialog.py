"""The sheet of trials, by mouse and keys on the whole window, and the table behind it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from app.lengths import format_force, format_length
from app.trials.dialog import TrialsDialog
from app.trials.figure_words import (
    BACK,
    CHECKS,
    CLEARANCE,
    EFFORT,
    HOLD,
    NAME,
    NOTE,
    OPENS,
    PIN,
    ROOM,
    TRANSMISSION,
    figure_words,
)
from app.trials.kept import keep_trial
from app.trials.table import HEADS, merit
from kinematics import analyse, edits
from kinematics.figures import key_figures
from kinematics.project import LiftWants, WorstCase
from tests.app.test_accessible import assert_all_named
from tests.loaded import hatch
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project


def moved(project: Project, by: float) -> Project:
    x, y = project.pivot("Q").at
    return edits.move_pivot(project, "Q", (x + by, y))


@pytest.fixture
def sheet(window: Window, qtbot: QtBot) -> TrialsDialog:
    """Two trials kept, a third layout on the board, the sheet open."""
    document = window.document
    document.apply("keep", keep_trial(document.project, "first"))
    document.apply("keep", keep_trial(moved(document.project, 3.0), "second"))
    document.apply("move", moved(document.project, 20.0))
    window.show_trials()
    sheet = window.findChild(TrialsDialog)
    assert sheet is not None
    qtbot.waitUntil(lambda: all(sheet.model.figures(row) is not None for row in range(3)))
    return sheet


def words(sheet: TrialsDialog, row: int, column: int) -> str:
    return str(sheet.model.index(row, column).data())


def choose(sheet: TrialsDialog, row: int) -> None:
    sheet.table.setCurrentIndex(sheet.model.index(row, NAME))


def test_each_layout_has_its_row_of_figures(sheet: TrialsDialog, window: Window) -> None:
    assert [words(sheet, row, NAME) for row in range(3)] == ["on the board", "first", "second"]
    assert words(sheet, 1, OPENS) == "75°"
    assert words(sheet, 1, CLEARANCE) == "10.6 mm"
    assert words(sheet, 1, BACK) == "3.4 mm"
    assert words(sheet, 1, TRANSMISSION) == "17.7°"
    assert words(sheet, 1, ROOM) == "233.0 × 196.0 mm"
    assert words(sheet, 1, CHECKS) == "all 23 hold"
    assert "short" in words(sheet, 0, CHECKS)
    window.set_units("in")
    assert words(sheet, 1, CLEARANCE) == '27/64"'


def test_lifting_is_compared_too(sheet: TrialsDialog, window: Window) -> None:
    document = window.document
    document.apply("Loads", replace(document.project, loads=None))
    assert [words(sheet, 0, column) for column in (EFFORT, PIN, HOLD)] == ["—", "—", "—"]
    wants = LiftWants(stays_open_in=WorstCase(temperature=-10.0, slope_deg=5.0, one_dead=True))
    document.apply("Loads", replace(document.project, loads=hatch(wants=wants).loads))
    told = document.analysis.loads
    assert told is not None
    assert told.largest is not None
    assert told.worst is not None
    assert words(sheet, 0, EFFORT) == format_force(told.largest.force)
    assert words(sheet, 0, PIN) == f"{format_force(float(told.pins.max()))} (X)"
    assert words(sheet, 0, HOLD) == f"{format_force(told.worst.force)} short ✗"
    window.set_units("in")
    assert words(sheet, 0, EFFORT).endswith(" lbf")


@pytest.mark.parametrize(
    ("figures", "says"),
    [
        ({"effort": 56.2}, ("56 N", "—", "—")),
        ({"effort": -3.0, "pin": 599.4, "pin_id": "X"}, ("rises by itself", "599 N (X)", "—")),
        ({"hold": -13.0}, ("—", "—", "13 N to spare")),
    ],
)
def test_figures_of_lifting_in_words(figures: dict[str, object], says: tuple[str, ...]) -> None:
    found = replace(key_figures(analyse(demo_six_bar, 3)), **figures)
    assert tuple(figure_words(found, column, "mm") for column in (EFFORT, PIN, HOLD)) == says
    assert merit(found, EFFORT) == (None if found.effort is None else -found.effort)


def test_a_clearance_between_traces_says_that_it_is_the_low_end(sheet: TrialsDialog, window: Window) -> None:
    document = window.document

    def off(mm: float) -> tuple[str, str]:
        outlines = tuple(replace(each, uncertain=mm) for each in document.project.outlines)
        document.apply("Set uncertain", replace(document.project, outlines=outlines))
        index = sheet.model.index(0, CLEARANCE)
        return words(sheet, 0, CLEARANCE), str(index.data(Qt.ItemDataRole.ToolTipRole))

    (sure, tip), drawn = off(0.0), document.analysis.gaps[0].smallest
    assert drawn is not None
    assert (sure, tip) == (format_length(drawn, "mm"), "Between screen and sill and hatch skin.")
    low, tip = off(1.0)
    assert low == f"{format_length(drawn - 2.0, 'mm')} (low end)"
    assert f": {sure} ± 2.0 mm (trace); the low end takes" in tip
    assert off(50.0)[0] == "may touch (low end)"


def test_the_best_of_a_column_is_bold(sheet: TrialsDialog) -> None:
    def bold(row: int) -> bool:
        font = sheet.model.index(row, CHECKS).data(Qt.ItemDataRole.FontRole)
        return font is not None and font.bold()

    assert [bold(row) for row in range(3)] == [False, True, True]


def test_digits_that_mean_nothing_make_no_figure_the_best() -> None:
    figures = key_figures(analyse(demo_six_bar))
    assert figures.clearance is not None
    assert figures.transmission_deg is not None
    close = replace(figures, clearance=figures.clearance + 1e-9, transmission_deg=figures.transmission_deg - 1e-9)
    for column in (CLEARANCE, TRANSMISSION, OPENS):
        assert merit(figures, column) == merit(close, column) is not None
    assert merit(replace(figures, clearance=figures.clearance + 0.1), CLEARANCE) > merit(figures, CLEARANCE)  # type: ignore[operator]


def test_keep_by_mouse_names_it_and_undo_takes_it_out(sheet: TrialsDialog, window: Window, qtbot: QtBot) -> None:
    qtbot.mouseClick(sheet.keep, Qt.MouseButton.LeftButton)
    assert words(sheet, 3, NAME) == "trial 1"
    editor = sheet.table.focusWidget()
    assert editor is not None
    qtbot.keyClicks(editor, "short arm")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: words(sheet, 3, NAME) == "short arm")
    window.document.undo()
    window.document.undo()
    assert sheet.model.rowCount() == 3


def test_figures_that_come_in_while_a_name_is_typed_leave_it_alone(
    sheet: TrialsDialog, window: Window, qtbot: QtBot
) -> None:
    sheet.keep.setFocus()
    qtbot.keyClick(sheet.keep, Qt.Key.Key_Return)  # Enter presses the button that has the keys
    editor = sheet.table.focusWidget()
    assert isinstance(editor, QLineEdit)
    qtbot.waitUntil(lambda: sheet.model.figures(3) is not None)
    assert editor.selectedText() == "trial 1"  # still to be typed over
    qtbot.keyClicks(editor, "lo")
    window.document.set_opening(20.0)
    sheet.model.refresh()
    qtbot.keyClicks(editor, "w")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: words(sheet, 3, NAME) == "low")


def test_return_is_one_step_and_the_trials_stay(sheet: TrialsDialog, window: Window, qtbot: QtBot) -> None:
    before = window.document.project
    choose(sheet, 1)
    qtbot.mouseClick(sheet.back, Qt.MouseButton.LeftButton)
    assert sheet.model.trials[0].project is not None
    assert window.document.project.pivots == sheet.model.trials[0].project.pivots != before.pivots
    assert window.document.project.trials == before.trials
    window.document.undo()
    assert window.document.project == before


def test_every_step_is_taken_back_by_its_key_in_the_sheet(sheet: TrialsDialog, window: Window, qtbot: QtBot) -> None:
    before = window.document.project
    sheet.activateWindow()
    qtbot.waitUntil(sheet.isActiveWindow)
    choose(sheet, 1)
    for button in (sheet.keep, sheet.back, sheet.branch, sheet.delete):
        choose(sheet, 1)
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        sheet.table.setFocus()  # ends the typing of a name
        assert window.document.project != before
        qtbot.keyClick(sheet.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert window.document.project == before, button.text()
    qtbot.keyClick(sheet.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert window.document.project != before


def test_a_branch_keeps_both(sheet: TrialsDialog, window: Window, qtbot: QtBot) -> None:
    before = window.document.project
    choose(sheet, 2)
    qtbot.mouseClick(sheet.branch, Qt.MouseButton.LeftButton)
    assert [trial.name for trial in sheet.model.trials] == ["first", "second", "trial 1"]
    assert sheet.model.trials[2].project is not None
    assert sheet.model.trials[2].project.pivots == before.pivots
    window.document.undo()
    assert window.document.project == before


def test_order_and_deletion(sheet: TrialsDialog, qtbot: QtBot) -> None:
    choose(sheet, 2)
    qtbot.mouseClick(sheet.up, Qt.MouseButton.LeftButton)
    assert [words(sheet, row, NAME) for row in (1, 2)] == ["second", "first"]
    assert sheet.table.currentIndex().row() == 1
    qtbot.mouseClick(sheet.delete, Qt.MouseButton.LeftButton)
    assert words(sheet, 1, NAME) == "first"


def test_a_trial_is_shown_on_the_board_as_long_as_the_sheet_is_open(sheet: TrialsDialog, window: Window) -> None:
    choose(sheet, 1)
    sheet.shows.setChecked(True)
    shown = window.board.scene.shown("beside:outline:hatch skin")
    assert shown is not None
    window.document.set_opening(30.0)
    assert window.board.scene.shown("beside:outline:hatch skin") != shown
    choose(sheet, 0)
    assert not window.board.scene.has("beside")
    choose(sheet, 2)
    assert window.board.scene.has("beside")
    sheet.close()
    assert not window.board.scene.has("beside")


def test_a_name_that_is_taken_is_refused_in_a_sentence(sheet: TrialsDialog, window: Window) -> None:
    assert not sheet.model.setData(sheet.model.index(1, NAME), "second")
    assert "already" in window.area.notice.sentence
    assert sheet.model.setData(sheet.model.index(1, NOTE), "stiff at 40°")
    assert words(sheet, 1, NOTE) == "stiff at 40°"


def test_one_that_cannot_be_read_says_so_and_can_go(sheet: TrialsDialog, window: Window, qtbot: QtBot) -> None:
    from dataclasses import replace

    document = window.document
    document.apply("damage", replace(document.project, trials=({"name": "old", "project": {"links": []}},)))
    assert words(sheet, 1, OPENS) == "can't be read"
    choose(sheet, 1)
    assert not sheet.back.isEnabled()
    qtbot.mouseClick(sheet.delete, Qt.MouseButton.LeftButton)
    assert sheet.model.rowCount() == 1


def test_every_control_has_a_name(sheet: TrialsDialog) -> None:
    assert assert_all_named(sheet) > 30
    assert all(sheet.model.headerData(column, Qt.Orientation.Horizontal) for column in HEADS)


def test_by_keys_alone(sheet: TrialsDialog, window: Window, qtbot: QtBot) -> None:
    assert sheet.focusWidget() is sheet.keep
    before = window.document.project
    choose(sheet, 1)
    qtbot.keyClick(sheet.table, Qt.Key.Key_Return)
    assert sheet.isVisible()
    assert sheet.model.trials[0].project is not None
    assert window.document.project.pivots == sheet.model.trials[0].project.pivots != before.pivots
