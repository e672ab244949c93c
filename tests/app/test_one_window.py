"""The one window of the tests: who gets it can't tell that others have had it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu, QScrollBar

from app.document import Selection
from app.notice import Question
from kinematics import edits
from tests import specimens
from tests.app import mouse
from tests.app.one_window import OneWindow

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.window import Window


def test_a_window_that_was_used_hard_is_as_new(one_window: OneWindow, window: Window, qtbot: QtBot) -> None:
    assert one_window.changes() == []
    use_hard(window, qtbot)
    told = "\n".join(one_window.changes())
    for what in (
        *("document._done", "_selections", "drawers.made", "_camera", "_preferences", "snaps", "setting ", "_swept"),
        *(
            "notice._sentence",
            "strip._timer",
            "beside the document",
            "Toolbox",
            "Lane 1",
            "command ",
            "first_steps.callouts",
        ),
    ):
        assert what in told, what
    one_window.bring_back(qtbot)
    assert one_window.changes() == []


@pytest.mark.parametrize(
    "leave",
    [
        lambda window: window.rail.buttons["Lift"].setEnabled(False),
        lambda window: window.settings.set_text("drawer", "Pins"),
        lambda window: setattr(window.board.scene, "named", frozenset({"a name"})),
        lambda window: setattr(window.strip, "_forward", False),
        lambda window: window.strip.setFocus(),
        lambda window: window.checks.summary.setText("other words"),
    ],
)
def test_the_least_that_is_left_behind_is_seen(
    leave: Callable[[Window], None], one_window: OneWindow, qtbot: QtBot
) -> None:
    """Of a window of its own, which is thrown away."""
    own = OneWindow(one_window.home)
    window = own.take(qtbot, "")
    assert own.changes() == []
    leave(window)
    assert len(own.changes()) >= 1
    window.close()
    window.deleteLater()


def use_hard(window: Window, qtbot: QtBot) -> None:
    """Leave traces in as many parts of the window as one can think of."""
    document, board = window.document, window.board
    document.new(specimens.with_everything)
    for name in ("Trace", "Pins", "Lift", "Build"):
        window.area.open_drawer(name)
        for section in getattr(window.area.drawers[name], "sections", {}).values():
            section.unfold()
    window.take_preferences(replace(document.preferences, sheet="dark", nudge=3.0))
    window.set_units("in")
    window.set_snaps(True)
    window.set_pinches(False)
    window.set_forces(True)
    window.resize(1400, 900)
    window.help.open("tools")
    window.checks.entry.show_parts()
    document.select(Selection("pivot", document.project.pivots[0].id))
    at = document.project.pivots[0].at
    board.look_at([(at[0] - 200, at[1] - 200), (at[0] + 200, at[1] + 200)])
    mouse.drag(qtbot, board.view, at, (at[0] + 9.0, at[1]), steps=2)
    document.attempt("Move", lambda project: edits.move_pivot(project, project.pivots[0].id, (at[0], at[1] + 3.0)))
    document.set_opening(20.0)
    board.set_way("arc")
    qtbot.keyClick(board, Qt.Key.Key_D)
    document.noticed.emit("Something is wrong.")
    window.area.notice.ask(Question("x", "Which?", ()))
    window.first_steps.begin()
    window.menus.demos.aboutToShow.emit()
    for bar in window.checks.findChildren(QScrollBar):
        bar.setValue(bar.maximum())
    QMenu(window.checks).popup(window.pos())
    window.show_trials()
    window.show_swept_room()
    window.strip.play()
    window.shares._rows.setSizes([500, 300])
    window.shares._take_height(300)
