"""The notice: it stays until read, and never blocks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app import notice as module
from app.document import News
from app.notice import Choice, Notice, Question
from kinematics import edits

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from app.window import Window


@pytest.fixture
def notice(qtbot: QtBot) -> Iterator[Notice]:
    parent = QWidget()
    qtbot.addWidget(parent)
    parent.resize(400, 300)
    notice = Notice(parent)
    parent.show()
    yield notice
    parent.close()


def test_it_stays_while_there_was_no_time_to_read_and_goes_on_with_the_work(
    notice: Notice, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    notice.show_sentence("The file can't be read.")
    notice.pass_on()
    assert notice.sentence == "The file can't be read."
    monkeypatch.setattr(module, "READING_MS", 0)
    qtbot.wait(2)
    notice.pass_on()
    assert notice.sentence == ""


@pytest.mark.parametrize(
    ("came", "shown"),
    [
        ("the trial can't be read.", "The trial can't be read."),
        ('link "arm": it has no pins.', 'Link "arm": it has no pins.'),
        ('"arm" is no number.', '"arm" is no number.'),
        ("my old lid.dxf: it can't be read.", "my old lid.dxf: it can't be read."),  # a file has its name
        ("bad.csv, line 2: no length.", "bad.csv, line 2: no length."),
        ("äußere lid: gone.", "Äußere lid: gone."),
        ("12 is no name.", "12 is no name."),
    ],
)
def test_a_sentence_begins_with_a_capital_unless_a_name_stands_there(notice: Notice, came: str, shown: str) -> None:
    notice.show_sentence(came)
    assert notice.sentence == shown


def test_news_and_questions_may_begin_with_the_name_of_a_file(notice: Notice) -> None:
    notice.show_news("lid.svg is written.")
    assert notice.sentence == "lid.svg is written."
    notice.show_sentence("")
    notice.ask(Question("lid", "lid.hinge is open in another window as well.", ()))
    assert notice.sentence == "lid.hinge is open in another window as well."


def test_an_empty_sentence_puts_it_away(notice: Notice, qtbot: QtBot) -> None:
    notice.show_sentence("One.")
    notice.show_sentence("")
    assert notice.isHidden()


def test_esc_on_its_button_puts_it_away(notice: Notice, qtbot: QtBot) -> None:
    notice.show_sentence("One.")
    qtbot.keyClick(notice, Qt.Key.Key_Escape)
    assert notice.isHidden()


def test_markup_in_a_sentence_is_shown_as_it_is(notice: Notice) -> None:
    notice.show_sentence("<b>arm</b>: there is no link.")
    assert notice._label.textFormat() == Qt.TextFormat.PlainText


# ------------------------------------------------------------------------------------------------------------ questions
def question(key: str, done: list[str]) -> Question:
    choices = tuple(
        Choice(words, f"Do {words}.", lambda words=words: done.append(f"{key} {words}")) for words in ("This", "That")
    )
    return Question(key, f"What of {key}?", choices)


def test_questions_wait_for_their_answer_one_after_the_other(notice: Notice, qtbot: QtBot) -> None:
    done: list[str] = []
    for key in ("one", "two"):
        notice.ask(question(key, done))
    assert notice.sentence == "What of one?"
    assert [button.text() for button in notice.answers] == ["This", "That"]
    assert all(button.isVisible() and button.accessibleName() and button.toolTip() for button in notice.answers)
    qtbot.mouseClick(notice.answers[1], Qt.MouseButton.LeftButton)
    assert (done, notice.sentence) == (["one That"], "What of two?")
    qtbot.keyClick(notice.answers[0], Qt.Key.Key_Space)
    assert (done, notice.sentence) == (["one That", "two This"], "")
    assert notice.answers == []
    assert notice.isHidden()


def test_a_sentence_covers_a_question_for_a_while(
    notice: Notice, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    notice.ask(question("one", []))
    notice.show_sentence("The disk is full.")
    assert (notice.sentence, notice.question, notice.answers) == ("The disk is full.", None, [])
    monkeypatch.setattr(module, "READING_MS", 0)
    qtbot.wait(2)
    notice.pass_on()
    assert notice.sentence == "What of one?"
    notice.pass_on()  # a question doesn't go as the work goes on
    assert notice.sentence == "What of one?"


def test_a_question_can_be_put_off(notice: Notice, qtbot: QtBot) -> None:
    done: list[str] = []
    notice.ask(question("one", done))
    assert notice._button.text() == "Later"
    qtbot.mouseClick(notice._button, Qt.MouseButton.LeftButton)
    assert (notice.isHidden(), done) == (True, [])


def test_a_question_may_say_what_putting_it_away_does(notice: Notice, qtbot: QtBot) -> None:
    done: list[str] = []
    stay = Choice("Leave it", "Leave all as it is.", lambda: done.append("left"))
    notice.ask(Question("move", "Move them?", (Choice("Take it", "Move.", lambda: done.append("taken")),), stay))
    assert (notice._button.text(), notice._button.accessibleName()) == ("Leave it", "Leave it")
    qtbot.mouseClick(notice._button, Qt.MouseButton.LeftButton)
    assert (done, notice.sentence) == (["left"], "")
    notice.ask(Question("move", "Move them?", (Choice("Take it", "Move.", lambda: done.append("taken")),), stay))
    qtbot.mouseClick(notice.answers[0], Qt.MouseButton.LeftButton)
    assert done == ["left", "taken"], "an answer is not left besides"


def test_a_newer_question_on_the_same_takes_its_place_and_can_be_taken_back(notice: Notice) -> None:
    notice.ask(question("one", []))
    notice.ask(Question("one", "Quite another.", ()))
    assert notice.sentence == "Quite another."
    notice.take_back("two")
    assert notice.sentence == "Quite another."
    notice.take_back("one")
    assert notice.sentence == ""


def test_where_it_is_narrow_buttons_go_beneath_and_none_is_cut_off(notice: Notice, qtbot: QtBot) -> None:
    parent = notice.parentWidget()
    notice.ask(question("a hinge with a name that takes several lines to be told in so narrow a window", []))
    for width, left, is_beneath in ((900, 100, False), (600, 100, True), (580, 500, True)):
        parent.resize(width, 400)
        notice.fit(left, 40)
        qtbot.wait(1)
        assert notice.geometry().left() == (left if width - left - 40 >= module.LEAST_WIDTH else 0)
        assert notice.geometry().right() == width - 41
        for button in notice.answers:
            assert button.width() >= button.minimumSizeHint().width()
            assert (button.y() >= notice._label.geometry().bottom()) is is_beneath


def test_an_answer_may_ask_again(notice: Notice, qtbot: QtBot) -> None:
    again = Question("one", "Really?", ())
    notice.ask(Question("one", "Now?", (Choice("Yes", "Do it.", lambda: notice.ask(again)),)))
    qtbot.mouseClick(notice.answers[0], Qt.MouseButton.LeftButton)
    assert notice.sentence == "Really?"


def test_esc_in_the_window_puts_away_sentences_and_no_questions(window: Window, qtbot: QtBot) -> None:
    """Esc is meant for a drag or a drawer as often as not."""
    window.area.notice.ask(question("one", []))
    window.document.noticed.emit("Something to tell.")
    for _ in range(3):
        qtbot.keyClick(window.board, Qt.Key.Key_Escape)
    assert window.area.notice.sentence == "What of one?"


def test_shift_tab_from_the_board_comes_to_the_answers(window: Window, qtbot: QtBot) -> None:
    notice = window.area.notice
    notice.ask(question("one", []))
    window.activateWindow()
    window.board.setFocus()
    said = []
    for _ in range(3):
        focus = window.focusWidget()
        assert focus is not None
        qtbot.keyClick(focus, Qt.Key.Key_Tab, Qt.KeyboardModifier.ShiftModifier)
        said.append(window.focusWidget())
    assert said == [notice._button, notice.answers[1], notice.answers[0]]
    qtbot.keyClick(notice.answers[0], Qt.Key.Key_Tab)
    assert window.focusWidget() is notice.answers[1]


def test_news_have_a_plain_colour_and_go_by_themselves_but_faults_stay(
    notice: Notice, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "NEWS_MS", 20)
    notice.show_news("out.png is written.")
    assert notice.property("news") is True
    qtbot.waitUntil(lambda: notice.sentence == "", timeout=2000)
    notice.show_news("out.png is written.")
    notice.show_sentence("The disk is full.")
    assert notice.property("news") is False
    qtbot.wait(60)
    assert notice.sentence == "The disk is full."


def test_the_window_tells_news_and_faults_apart(window: Window) -> None:
    window.document.tell(News("out.png is written."))
    assert window.area.notice.property("news") is True
    window.document.tell("The disk is full.")
    assert (window.area.notice.sentence, window.area.notice.property("news")) == ("The disk is full.", False)


def test_why_an_attempt_failed_goes_with_the_next_step_that_works_and_nothing_else_does(window: Window) -> None:
    """However soon it comes; a fault that is no attempt's stays for its time to be read."""
    document, shown = window.document, window.area.notice
    assert not document.attempt("Rename", lambda project: edits.remove_link(project, "no such link"))
    assert "no such link" in shown.sentence
    document.flush()
    assert "no such link" in shown.sentence, "nothing worked yet"
    assert document.attempt("Open less", lambda project: edits.set_travel(project, wanted_deg=61.0))
    assert shown.sentence == ""
    assert not document.attempt("Rename", lambda project: edits.remove_link(project, "no such link"))
    document.noticed.emit("The disk is full.")
    assert document.attempt("Open less", lambda project: edits.set_travel(project, wanted_deg=60.0))
    assert shown.sentence == "The disk is full."
