"""Drawing in a process of its own: what it writes, how it tells progress, how it is stopped."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from app.drawing_job import DrawingJob
from tests import specimens

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.slow


def test_it_draws_tells_progress_and_ends(qtbot: QtBot, tmp_path: Path) -> None:
    job, told = DrawingJob(), list[int]()
    job.progressed.connect(told.append)
    with qtbot.waitSignal(job.ended, timeout=60_000) as ended:
        job.start(specimens.demo_six_bar, tmp_path / "a.gif", ["--size", "128x80", "--look", "dark"])
    assert ended.args == [""]
    assert (tmp_path / "a.gif").read_bytes()[:6] == b"GIF89a"
    assert told == sorted(told)
    assert told[-1] == 100


def test_stopped_it_leaves_nothing_and_says_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    job = DrawingJob()
    with qtbot.waitSignal(job.ended, timeout=60_000) as ended:
        job.progressed.connect(lambda _: job.stop())
        job.start(specimens.demo_six_bar, tmp_path / "a.gif", ["--size", "128x80"])
    assert ended.args == [""]
    assert job.is_stopped
    assert not list(tmp_path.iterdir())


def test_what_goes_wrong_comes_home_as_its_sentence(qtbot: QtBot, read_only: Path) -> None:
    job = DrawingJob()
    with qtbot.waitSignal(job.ended, timeout=60_000) as ended:
        job.start(specimens.demo_six_bar, read_only / "a.gif", ["--size", "64x64"])
    assert ended.args[0].startswith("a.gif: the animation can't be written: ")
