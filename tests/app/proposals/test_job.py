"""The search beside a window: by signals, stopped at any instant, nothing left behind."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from app.proposals.enough import Enough
from app.proposals.job import SearchJob
from kinematics.proposals.results import Settings
from tests.app.proposals import fake
from tests.app.sharing import demo

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytestqt.qtbot import QtBot

FAKE = "tests.app.proposals.fake"
WAIT_MS = 60_000


@pytest.fixture
def make(qtbot: QtBot) -> Iterator[Callable[..., SearchJob]]:
    jobs: list[SearchJob] = []

    def made(runner: str = FAKE, count: int = 2) -> SearchJob:
        jobs.append(SearchJob(None, runner, count))
        return jobs[-1]

    yield made
    for job in jobs:
        job.close()
        assert not job._processes


def pids(job: SearchJob) -> list[int]:
    return [process.processId() for process in job._processes]


def runs(pid: int) -> bool:
    return Path(f"/proc/{pid}").exists()


def start(job: SearchJob, seed: int = 1, units: int = 6) -> fake.Collector:
    """Begin a search that ends after so many units."""
    collector = fake.Collector(Settings(seed=seed))
    job.start(demo(), Settings(seed=seed), collector, Enough(good=0, least_units=units))
    return collector


def test_units_are_taken_in_by_number_and_it_ends_when_enough_is_found(
    qtbot: QtBot, make: Callable[..., SearchJob]
) -> None:
    job = make(f"{FAKE}_late", 2)
    with qtbot.waitSignal(job.ended, timeout=WAIT_MS) as ended:
        collector = start(job)
    assert ended.args == [""]
    assert collector.numbers[:6] == [0, 1, 2, 3, 4, 5]
    assert collector.numbers == list(range(len(collector.numbers)))
    assert job.units == len(collector.numbers)
    assert not job.is_running


@pytest.mark.skipif(not Path("/proc").exists(), reason="looks at the system's table of processes")
def test_stopping_ends_every_process_and_readies_others_which_closing_ends_too(
    qtbot: QtBot, make: Callable[..., SearchJob]
) -> None:
    job = make(f"{FAKE}_stuck")
    job.warm()
    ready = pids(job)
    start(job)
    assert pids(job) == ready, "those that wait are taken"
    with qtbot.waitSignal(job.ended, timeout=WAIT_MS) as ended:
        job.stop()
    assert ended.args == [""]
    assert not any(runs(pid) for pid in ready)
    others = pids(job)
    assert len(others) == 2
    job.close()
    assert not any(runs(pid) for pid in others)


def test_a_search_that_was_stopped_goes_on(qtbot: QtBot, make: Callable[..., SearchJob]) -> None:
    job = make(count=1)
    with qtbot.waitSignal(job.ended, timeout=WAIT_MS):
        collector = start(job, units=2)
    so_far = len(collector.numbers)
    with qtbot.waitSignal(job.ended, timeout=WAIT_MS):
        job.start(demo(), Settings(), collector, Enough(good=0, least_units=2))
    assert len(collector.numbers) > so_far
    assert collector.numbers == list(range(len(collector.numbers)))


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="ends a process from outside")
def test_a_process_that_dies_is_told_and_the_search_goes_on(qtbot: QtBot, make: Callable[..., SearchJob]) -> None:
    job = make(f"{FAKE}_stuck", 1)
    told: list[str] = []
    job.told.connect(told.append)
    start(job)
    qtbot.waitUntil(lambda: bool(job._processes) and job._processes[0].processId() > 0)
    for died in range(3):
        with qtbot.waitSignal(job.told if died < 2 else job.ended, timeout=WAIT_MS) as last:
            os.kill(pids(job)[0], signal.SIGKILL)
    assert told[0] == "A process of the search ended unasked (signal 9); its unit 0 is done once more."
    assert told[1] == "Unit 0 of the search is passed over: its process ended twice (signal 9)."
    assert "3 of its processes ended unasked" in last.args[0]


def test_what_cannot_be_loaded_ends_it_in_a_sentence(qtbot: QtBot, make: Callable[..., SearchJob]) -> None:
    job = make("tests.app.proposals.nowhere")
    with qtbot.waitSignal(job.ended, timeout=WAIT_MS) as ended:
        start(job)
    assert ended.args[0].startswith("The search can't be started: ModuleNotFoundError")
