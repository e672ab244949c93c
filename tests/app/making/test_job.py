"""The files made in a process of its own: written, stopped, refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from app.making.job import MakeJob
from app.making.planned import MakeOptions
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.slow


def test_it_makes_tells_progress_and_ends(qtbot: QtBot, tmp_path: Path) -> None:
    job, told = MakeJob(), list[int]()
    job.progressed.connect(told.append)
    with qtbot.waitSignal(job.ended, timeout=60_000) as ended:
        job.make(demo_six_bar, tmp_path / "build", MakeOptions(("svg",)))
    assert ended.args == [""]
    assert (tmp_path / "build" / "index.json").is_file()
    assert told == sorted(told)
    assert told[-1] == 100


def test_stopped_it_leaves_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    job = MakeJob()
    with qtbot.waitSignal(job.ended, timeout=60_000) as ended:
        job.progressed.connect(lambda _: job.stop())
        job.make(demo_six_bar, tmp_path / "build", MakeOptions())
    assert ended.args == [""]
    assert job.is_stopped
    assert not list(tmp_path.iterdir())


def test_what_goes_wrong_comes_home_as_its_sentence(qtbot: QtBot, read_only: Path) -> None:
    job = MakeJob()
    with qtbot.waitSignal(job.ended, timeout=60_000) as ended:
        job.make(demo_six_bar, read_only / "build", MakeOptions())
    assert ended.args == ["build: nothing is written: it can't be made or written to. Name another folder."]
