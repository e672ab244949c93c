"""Put right, in the window: asked by the mouse and by the key, shown beside, taken in one step, left, stopped."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from app.notice import Choice, Question
from kinematics import analyse, edits

if TYPE_CHECKING:
    from PySide6.QtWidgets import QPushButton
    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project

LEFT = Qt.MouseButton.LeftButton


def spoil(window: Window) -> Project:
    """P1 of the demo 12 mm wrong: clearance and corner fall short."""
    x, y = window.document.project.pivot("P1").at
    window.document.apply("Move pivot P1", edits.move_pivot(window.document.project, "P1", (x + 8.8, y - 8.2)))
    assert not window.document.analysis.checks[0].ok
    return window.document.project


def ask(qtbot: QtBot, window: Window) -> None:
    """Press the button in the checks, and wait for what comes of it."""
    qtbot.mouseClick(window.checks.put_right, LEFT)
    answered(qtbot, window)


def answered(qtbot: QtBot, window: Window) -> None:
    qtbot.waitUntil(lambda: not window.putting_right.is_busy, timeout=30_000)


def button(window: Window, words: str) -> QPushButton:
    return next(each for each in window.area.notice.answers if each.text() == words)


def is_shown_beside(window: Window) -> bool:
    return window.board.scene.has("put right")


def test_what_it_found_is_shown_and_taken_in_one_step(qtbot: QtBot, window: Window) -> None:
    spoilt = spoil(window)
    ask(qtbot, window)
    assert window.document.project is spoilt, "nothing is moved before it is taken"
    assert is_shown_beside(window)
    sentence = window.area.notice.sentence
    assert sentence.startswith("Put right moves ")
    assert "screen and sill – hatch skin" in sentence
    qtbot.mouseClick(button(window, "Take it"), LEFT)
    assert all(check.ok for check in window.document.analysis.checks)
    assert not is_shown_beside(window)
    assert window.area.notice.sentence == ""
    assert window.document.undo_label == "Put right"
    window.document.undo()
    assert window.document.project is spoilt


def test_left_by_the_button_and_by_esc(qtbot: QtBot, window: Window) -> None:
    spoilt = spoil(window)
    for leave in ("button", "Esc in the notice", "Esc on the board"):
        ask(qtbot, window)
        assert is_shown_beside(window), leave
        if leave == "button":
            notice = window.area.notice
            assert notice._button.text() == "Leave it"
            qtbot.mouseClick(notice._button, LEFT)
        elif leave == "Esc in the notice":
            qtbot.keyClick(window.area.notice.answers[0], Qt.Key.Key_Escape)
        else:
            window.board.setFocus()
            qtbot.keyClick(window.board, Qt.Key.Key_Escape)
        assert not is_shown_beside(window), leave
        assert not window.putting_right.is_asking
        assert window.area.notice.sentence == ""
        assert window.document.project is spoilt


def test_it_goes_before_a_question_that_waits(qtbot: QtBot, window: Window) -> None:
    """Else its answer would stand behind another, and the key for it would answer that one."""
    spoil(window)
    done: list[str] = []
    other = Question("kept", "Take it back?", (Choice("Take it back", "As it was.", lambda: done.append("back")),))
    window.area.notice.ask(other)
    ask(qtbot, window)
    take = button(window, "Take it")
    assert take.hasFocus()
    qtbot.keyClick(take, Qt.Key.Key_Space)
    assert all(check.ok for check in window.document.analysis.checks)
    assert (done, window.area.notice.question) == ([], other)


def test_by_its_key(qtbot: QtBot, window: Window) -> None:
    spoil(window)
    qtbot.keyClick(window, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    answered(qtbot, window)
    assert is_shown_beside(window)
    assert button(window, "Take it").hasFocus()


def test_it_can_be_stopped_while_it_looks(qtbot: QtBot, window: Window) -> None:
    spoilt = spoil(window)
    qtbot.mouseClick(window.checks.put_right, LEFT)
    assert window.area.notice._button.text() == "Stop"
    assert "looking" in window.area.notice.sentence
    qtbot.mouseClick(window.area.notice._button, LEFT)
    answered(qtbot, window)
    assert not is_shown_beside(window)
    assert window.area.notice.sentence == ""
    assert window.document.project is spoilt


def test_another_step_takes_the_answer_back(qtbot: QtBot, window: Window) -> None:
    spoil(window)
    ask(qtbot, window)
    x, y = window.document.project.pivot("Q").at
    window.document.apply("Move pivot Q", edits.move_pivot(window.document.project, "Q", (x, y + 1.0)))
    assert not is_shown_beside(window)
    assert not window.putting_right.is_asking


def test_what_holds_is_told_at_once(qtbot: QtBot, window: Window) -> None:
    qtbot.mouseClick(window.checks.put_right, LEFT)
    assert "nothing to put right" in window.area.notice.sentence
    assert not window.putting_right.is_asking


def test_wants_that_fight_are_told(qtbot: QtBot, window: Window) -> None:
    document = window.document
    document.apply("Want more", edits.set_gap(document.project, document.project.gaps[0].between, 500.0))
    ask(qtbot, window)
    sentence = window.area.notice.sentence
    assert "screen and sill – hatch skin (500.0 mm)" in sentence
    assert "as drawn it is 488.0 mm too much" in sentence, "at shut they stand 12 mm apart, whatever the pins do"
    assert not is_shown_beside(window)


@pytest.mark.parametrize(("how", "told"), [("locked", "every pin is locked"), ("still", "doesn't open")])
def test_what_can_not_be_moved_is_told(qtbot: QtBot, window: Window, how: str, told: str) -> None:
    project = spoil(window)
    pins = tuple(replace(pin, locked=True) for pin in project.pivots) if how == "locked" else project.pivots[:3]
    window.document.apply("Change", replace(project, pivots=pins))
    ask(qtbot, window)
    assert told in window.area.notice.sentence


def test_the_layout_that_is_taken_is_the_one_that_was_shown(qtbot: QtBot, window: Window) -> None:
    spoilt = spoil(window)
    ask(qtbot, window)
    qtbot.mouseClick(button(window, "Take it"), LEFT)
    taken = window.document.project
    assert taken.pivots != spoilt.pivots
    assert replace(taken, pivots=spoilt.pivots) == spoilt, "pins, and nothing else"
    assert all(check.ok for check in analyse(taken).checks)
