"""The stack beside the window: the newest layout only, stopped when asked, nothing old shown as new, nothing left."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush

from app import layout_job
from app.drawers.stack_box import StackBox
from app.layout_job import FAILED, NOTHING, RESTS, STOPPED, WORKS
from app.stack.dialog import SectionDialog
from app.stack.job import StackJob
from app.stack.showing import show_stack
from app.stack.space_view import SpaceDialog
from app.stacked import stacked
from app.working_row import AGAIN
from kinematics.edits import move_pivot
from tests.app.sharing import shared_analyse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

FAKE = "tests.app.stack.fake_slow"
LEFT = Qt.MouseButton.LeftButton
WAIT_MS = 30_000


@pytest.fixture
def window(fresh_window: Window) -> Window:
    """A window of each test's own, as some close theirs."""
    return fresh_window


@pytest.fixture
def job(window: Window, monkeypatch: pytest.MonkeyPatch) -> StackJob:
    """The demo's box of layers, over a real process."""
    monkeypatch.setitem(layout_job.MADE_AS, StackJob, partial(StackJob, runner=FAKE))
    monkeypatch.setattr(layout_job, "PATIENCE_MS", 50)
    window.area.open_drawer("Build")
    made = window.build.box(StackBox).job
    assert type(made) is StackJob
    return made


def pid(job: StackJob) -> int:
    return job._process.processId() if job._process is not None else 0


def runs(number: int) -> bool:
    return Path(f"/proc/{number}").exists()


def is_faint(box: StackBox) -> bool:
    item = box.table.item(0, 0)
    return item.data(Qt.ItemDataRole.ForegroundRole) is not None and item.foreground() != QBrush()


def entitle(window: Window, title: str) -> None:
    window.document.apply("Title", replace(window.document.project, title=title))


def test_it_is_worked_out_beside_and_followed_everywhere(job: StackJob, window: Window, qtbot: QtBot) -> None:
    box, document = window.build.box(StackBox), window.document
    sections, space = show_stack(window, "sections"), show_stack(window, "in space")
    assert isinstance(sections, SectionDialog)
    assert isinstance(space, SpaceDialog)
    assert job.newest() is None
    assert not box.table.isVisible()
    assert space.view.faces() == []
    assert not sections.save_button.isEnabled()
    qtbot.waitUntil(lambda: job.newest() is not None, timeout=WAIT_MS)
    assert job.newest().layers == stacked(shared_analyse(document.project)).layers  # type: ignore[union-attr]
    assert box.table.links
    assert not is_faint(box)
    assert sections.pins.count() == len(document.project.pivots)
    assert sections.save_button.isEnabled()
    assert space.view.is_newest
    first, pin = document.project, document.project.pivots[0]
    document.begin("Move it")
    document.preview(move_pivot(first, pin.id, (pin.at[0] + 1.0, pin.at[1])))
    document.flush()
    assert (job.state, job.newest()) == (RESTS, None)
    assert is_faint(box)
    assert sections.view.is_faint
    assert not space.view.is_newest
    assert space.view.faces()  # the old ones, faint
    document.commit()
    qtbot.waitUntil(lambda: job.newest() is not None, timeout=WAIT_MS)
    assert not is_faint(box)
    assert not sections.view.is_faint
    document.undo()
    assert document.project is first
    assert job.newest() is not None  # it is remembered
    job.close()
    for dialog in (sections, space):
        dialog.close()


@pytest.mark.skipif(not Path("/proc").exists(), reason="looks at the system's table of processes")
def test_it_can_be_stopped_is_left_for_a_newer_one_and_ends_with_the_window(
    job: StackJob, window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    box = window.build.box(StackBox)
    qtbot.waitUntil(lambda: job.newest() is not None, timeout=WAIT_MS)
    entitle(window, "slow")
    assert (job.state, job.newest()) == (NOTHING, None)  # words would only flicker
    assert is_faint(box)
    qtbot.waitUntil(lambda: job.state == WORKS, timeout=WAIT_MS)
    assert box.working.isVisible()
    assert "Working out" in box.working.words.text()
    assert "faint" in box.working.words.text()
    slow = pid(job)
    qtbot.mouseClick(box.working.button, LEFT)
    assert job.state == STOPPED
    assert not runs(slow)
    assert (job.newest(), pid(job)) == (None, 0)  # it isn't begun again by looking
    assert box.working.button.text() == AGAIN
    assert is_faint(box)
    qtbot.mouseClick(box.working.button, LEFT)
    slow = pid(job)
    assert runs(slow)
    entitle(window, "quick")
    qtbot.waitUntil(lambda: job.newest() is not None, timeout=WAIT_MS)
    assert not runs(slow)
    assert not is_faint(box)
    assert box.working.isHidden()
    entitle(window, "slow")
    slow = pid(job)
    monkeypatch.setattr(type(window), "may_leave", lambda _: True)
    window.close()
    assert not runs(slow)


def test_a_process_that_dies_is_told_and_can_be_tried_again(job: StackJob, window: Window, qtbot: QtBot) -> None:
    box = window.build.box(StackBox)
    qtbot.waitUntil(lambda: job.newest() is not None, timeout=WAIT_MS)
    entitle(window, "dies")
    qtbot.waitUntil(lambda: job.state == FAILED, timeout=WAIT_MS)
    assert "its process ended unasked (status 3)" in box.working.words.text()
    assert box.working.button.text() == AGAIN
    with pytest.raises(Exception, match="aren't worked out yet"):
        box._layers()
    window.document.undo()
    assert job.state == NOTHING
    assert box.working.isHidden()
