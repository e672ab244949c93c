"""A board that hangs in the air: the demo at 1000 × 700, close to its pins, snapping switched off."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from app.board import Board
from app.document import Document
from app.look import light
from tests import specimens

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot


@pytest.fixture
def board(qtbot: QtBot) -> Iterator[Board]:
    """The demo on a board of 1000 × 700, close to its pins."""
    board = Board(Document(specimens.demo_six_bar), light())
    board.resize(1000, 700)
    with qtbot.waitExposed(board):
        board.show()
    board.fit_pins()
    board.setFocus()
    yield board
    board.close()
    board.deleteLater()


@pytest.fixture
def notices(board: Board) -> list[str]:
    """What the board's document says."""
    heard: list[str] = []
    board.document.noticed.connect(heard.append)
    return heard
