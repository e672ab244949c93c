"""Who writes, and whether they still run: this process, one that has ended, one elsewhere, noise."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace

import pytest

from app.files.writers import Writer, home_code, is_running, named, pid_runs, this_process, writer_of


def test_this_process_runs_and_survives_json() -> None:
    us = this_process()
    assert us.pid == os.getpid()
    assert is_running(us) is True
    assert writer_of(us.as_json()) == us


def test_a_process_that_has_ended_runs_no_more() -> None:
    child = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    assert pid_runs(child.pid)
    assert is_running(replace(this_process(), pid=child.pid, started="")) is True
    child.communicate(b"\n")
    assert not pid_runs(child.pid)
    assert is_running(replace(this_process(), pid=child.pid, started="")) is False


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only there the start of a process is known")
def test_a_number_that_another_process_has_been_given_is_nobody_we_know() -> None:
    assert this_process().started.isdigit()
    assert is_running(replace(this_process(), started="17")) is False


def test_a_child_that_nobody_has_asked_after_yet_runs_no_more() -> None:
    child = subprocess.Popen([sys.executable, "-c", ""])
    os.waitid(os.P_PID, child.pid, os.WEXITED | os.WNOWAIT)  # it has ended, and its number is still taken
    assert not pid_runs(child.pid)
    child.wait()


@pytest.mark.parametrize(
    ("change", "runs"),
    [({"boot": "an earlier start"}, False), ({"host": "the other bench"}, None), ({"space": "a container"}, None)],
)
def test_elsewhere_nobody_knows_and_before_a_start_nobody_runs(change: dict[str, str], runs: bool | None) -> None:
    assert is_running(replace(this_process(), **change)) is runs  # type: ignore[arg-type]  # all of them are texts


@pytest.mark.parametrize(
    "data",
    [
        None, 17, [], {}, {"pid": 1}, {"host": "a"}, {"pid": "1", "host": "a"}, {"pid": True, "host": "a"},
        {"pid": -1, "host": "a"}, {"pid": 10**30, "host": "a"}, {"pid": 1, "host": ""}, {"pid": 1, "host": "a\nb"},
        {"pid": 1, "host": "a" * 1000}, {"pid": 1, "host": "a", "boot": 3},
    ],
)  # fmt: skip
def test_noise_is_no_writer(data: object) -> None:
    assert writer_of(data) is None


def test_names_for_sentences() -> None:
    assert named(replace(this_process(), pid=12)) == "process 12"
    assert named(Writer(12, "the other bench")) == 'the computer "the other bench"'


def test_the_home_code_is_eight_letters_and_stays() -> None:
    assert home_code() == home_code()
    assert len(home_code()) == 8
