"""The notice: it stays until read, and never blocks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app import notice as module
from app.notice import Notice

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot


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
