"""The log of a run: what stands in it and what must not, what a breakdown leaves, what a good end leaves: nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app import __version__
from app.faultlog import END_OF_HEAD, MOST, FaultLog, broken_off, earlier_logs, folder, told

ROOT = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def _own_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


def secret(depth: int = 0) -> None:
    """Fail as deep down as asked, with a builder's words in the message."""
    if depth:
        return secret(depth - 1)
    raise ValueError("the customer's hatch")


def test_a_run_without_faults_leaves_nothing() -> None:
    log = FaultLog()
    log.start()
    assert len(list(folder().iterdir())) == 1
    assert earlier_logs() == []
    log.end()
    log.end()
    assert list(folder().iterdir()) == []


def test_a_fault_is_written_with_versions_and_places_and_no_word_of_the_work() -> None:
    log = FaultLog()
    log.start()
    try:
        try:
            secret(2)
        except ValueError as fault:
            raise KeyError("another of the customer's words") from fault
    except KeyError as fault:
        written = log.write(fault)
    assert written is not None
    assert earlier_logs() == [written]
    log.end()
    (kept,) = folder().iterdir()
    assert kept.suffix == ".txt"
    text = kept.read_text()
    assert f"Hingewright {__version__}" in text
    assert f"Python {sys.version.split()[0]}" in text
    for part in ("builtins.ValueError", "then", "builtins.KeyError", "app/test_faultlog.py", "in secret"):
        assert part in text
    for part in ("customer", str(ROOT), "/home", os.uname().nodename if hasattr(os, "uname") else "customer"):
        assert part not in text


def test_causes_that_go_in_a_circle_end() -> None:
    one, two = ValueError(), KeyError()
    one.__cause__, two.__cause__ = two, one
    assert told(one) == "builtins.KeyError\nthen\nbuiltins.ValueError\n"


BREAKS = """
import faulthandler, os, signal, sys
from app.faultlog import FaultLog
log = FaultLog()
log.start()
if sys.argv[1] == "segv":
    faulthandler._sigsegv()
os.kill(os.getpid(), signal.SIGKILL)
"""


def broken(how: str) -> None:
    done = subprocess.run([sys.executable, "-c", BREAKS, how], cwd=ROOT, capture_output=True, check=False)
    assert done.returncode < 0, done.stderr


@pytest.mark.skipif(os.name != "posix", reason="signals as on Unix")
def test_a_breakdown_below_python_is_written_down_and_found_at_the_next_start() -> None:
    broken("segv")
    (found,) = broken_off()
    text = found.read_text()
    assert "Fatal Python error: Segmentation fault" in text
    assert END_OF_HEAD in text
    assert str(ROOT) not in text  # paths are shortened
    assert broken_off() == []  # told once
    assert earlier_logs() == [found]


@pytest.mark.skipif(os.name != "posix", reason="signals as on Unix")
def test_a_kill_says_nothing_and_its_empty_log_is_swept() -> None:
    broken("kill")
    assert len(list(folder().iterdir())) == 1
    assert broken_off() == []
    assert list(folder().iterdir()) == []


def test_the_log_of_a_run_that_goes_on_is_left() -> None:
    log = FaultLog()
    log.start()
    log.write(ValueError())
    assert broken_off() == []
    assert len(earlier_logs()) == 1
    log.end()


def test_only_the_last_logs_stay() -> None:
    folder().mkdir(parents=True)
    for number in range(MOST + 5):
        (folder() / f"2024-01-01 10.00.{number:02} 00000000-1.txt").write_text(f"{END_OF_HEAD}KeyError\n")
    broken_off()
    names = sorted(path.name for path in folder().iterdir())
    assert len(names) == MOST
    assert names[0].startswith("2024-01-01 10.00.05")


def test_where_no_log_can_be_written_there_is_none(read_only: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(read_only))
    log = FaultLog()
    log.start()
    assert log.write(ValueError()) is None
    log.end()
    assert (broken_off(), earlier_logs()) == ([], [])
