"""The hook for what nobody else has caught."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QTimer

from app.faultlog import FaultLog
from app.faults import Faults
from kinematics import edits
from kinematics.errors import ProjectError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from app.window import Window


@pytest.fixture
def log() -> Iterator[FaultLog]:
    """The log of a run."""
    log = FaultLog()
    log.start()
    yield log
    log.end()


def test_an_error_that_leaves_a_slot_is_told_in_the_window(window: Window, log: FaultLog) -> None:
    faults = Faults(window.document, log)
    error = ProjectError("there is no pivot Z", "pivots", "Choose another.")
    faults.tell(type(error), error, None)
    assert window.area.notice.sentence == "Pivots: there is no pivot Z. Choose another."


def test_a_fault_of_the_program_keeps_the_work_and_is_written_down(window: Window, log: FaultLog) -> None:
    faults = Faults(window.document, log)
    kept = window.document.project
    window.document.begin("Move pivot")
    window.document.preview(edits.move_pivot(kept, kept.pivots[0].id, (0.0, 0.0)))
    try:
        {}["missing"]
    except KeyError:
        faults.tell(*sys.exc_info())  # type: ignore[arg-type]  # all three are there
    assert window.document.project is kept
    said = window.area.notice.sentence
    assert "KeyError" in said
    assert "Your work is kept" in said
    written = Path(said.rsplit(" in ", 1)[1].rstrip("."))
    text = written.read_text()
    assert "app/test_faults.py" in text
    assert "builtins.KeyError" in text
    assert "missing" not in text  # what a message says may come from the project


def test_an_installed_hook_gets_what_a_slot_lets_out(
    window: Window, log: FaultLog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)  # put back afterwards
    faults = Faults(window.document, log)
    faults.install()

    def slot() -> None:
        raise ProjectError("nothing rides on it", "outlines")

    QTimer.singleShot(0, slot)
    qtbot.waitUntil(lambda: window.area.notice.sentence == "Outlines: nothing rides on it.")
