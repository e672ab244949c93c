"""The search in real processes: the same whatever the timing, stopped at any instant, deaths told. Real units apart."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from app.proposals.processes import Processes, command
from kinematics.errors import HingewrightError
from kinematics.proposals.results import Settings
from tests.app.sharing import demo

if TYPE_CHECKING:
    from kinematics.proposals.results import UnitResult

FAKE = "tests.app.proposals.fake"
LONG_S = 60.0


def first(count: int, processes: Processes) -> list[UnitResult]:
    """The first results of a search."""
    found: list[UnitResult] = []
    for result in processes.results(time.monotonic() + LONG_S):
        found += [] if result is None else [result]
        if len(found) >= count:
            break
    return found


def pids(processes: Processes) -> list[int]:
    return [process._popen.pid for process in processes._all]


def runs(pid: int) -> bool:
    """Whether a process is there, be it only as one that nobody has waited for."""
    return Path(f"/proc/{pid}").exists()


def test_the_same_seed_gives_the_same_in_the_same_order_whatever_the_number_of_processes() -> None:
    with Processes(demo(), Settings(seed=5), count=1, runner=FAKE) as alone:
        wanted = first(4, alone)
    with Processes(demo(), Settings(seed=5), count=2, runner=f"{FAKE}_late") as many:
        assert first(4, many) == wanted
    assert [result.unit for result in wanted] == list(range(4))
    assert [result.kind for result in wanted[:3]] == ["single pivot", "four-bar", "six-bar"]


@pytest.mark.skipif(not Path("/proc").exists(), reason="looks at the system's table of processes")
def test_stopping_ends_every_process_at_once_and_leaves_none_behind() -> None:
    with Processes(demo(), Settings(), count=2, runner=f"{FAKE}_stuck") as processes:
        started = pids(processes)
        assert all(runs(pid) for pid in started)
    assert not any(runs(pid) for pid in started)


def test_a_process_that_dies_is_told_and_its_unit_done_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DIES_ONCE", str(tmp_path / "died"))
    with Processes(demo(), Settings(), count=2, runner=f"{FAKE}_dies") as processes:
        found = first(3, processes)
        told = processes.deal.told
    assert [result.unit for result in found] == [0, 1, 2]
    assert told == ["A process of the search ended unasked (signal 9); its unit 1 is done once more."]


def test_what_cannot_be_loaded_is_told_in_a_sentence() -> None:
    with (
        pytest.raises(HingewrightError, match=r"The search can't be started: ModuleNotFoundError"),
        Processes(demo(), Settings(), count=1, runner="tests.app.proposals.nowhere") as processes,
    ):
        first(1, processes)


def test_a_process_loads_no_qt() -> None:
    import subprocess

    words = "import sys, app.proposals.worker; print(sorted(name for name in sys.modules if 'PySide6' in name))"
    told = subprocess.run([sys.executable, "-c", words], capture_output=True, text=True, check=True, env=os.environ)
    assert told.stdout.strip() == "[]"
    assert command()[:3] == [sys.executable, "-m", "app.proposals.worker"]
