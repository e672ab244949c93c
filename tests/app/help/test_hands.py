"""The tables of keys: each letter that the board knows is told, and nothing breaks a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QTextDocument, QTextTable

from app.board.tools import TOOLS
from app.help.hands import HANDS, cell, commands_table, hands_table

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def test_each_place_has_its_table(qtbot: QtBot) -> None:
    sheet = QTextDocument()
    sheet.setMarkdown(hands_table())
    tables = [frame for frame in sheet.rootFrame().childFrames() if isinstance(frame, QTextTable)]
    assert [table.rows() - 1 for table in tables] == [len(rows) for _, rows in HANDS]


def test_every_tool_is_among_the_commands(window: Window) -> None:
    told = commands_table(window.actions())
    for tool in TOOLS:
        assert f"| **{tool.key}** | *{tool.name}*: " in told


def test_a_step_to_undo_is_no_part_of_the_commands_name(window: Window) -> None:
    nothing = QAction("&Undo: Move pivot Q")
    nothing.setShortcut("Ctrl+Z")
    nothing.setToolTip("Take the last step back.")
    assert commands_table([nothing]).splitlines()[-1] == "| **Ctrl+Z** | *Undo*: Take the last step back. |"


def test_signs_of_markdown_stay_signs(qtbot: QtBot) -> None:
    signs = r"*b* | <c> [d] _e_ #f `g` \ h"
    sheet = QTextDocument()
    sheet.setMarkdown(f"a {cell(signs)} i")
    assert sheet.toPlainText() == f"a {signs} i"
