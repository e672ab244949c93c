"""The worker: the newest of each kind, none put off for ever, one thread that comes and goes."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import pytest

from app.worker import Worker

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.fixture
def faults() -> list[Exception]:
    return []


@pytest.fixture
def worker(faults: list[Exception]) -> Worker:
    return Worker(faults.append)


def saying(said: list[object], what: object) -> Callable[[], object]:
    return lambda: said.append(what)


def test_jobs_are_done_in_turn_off_this_thread(worker: Worker) -> None:
    said: list[object] = []
    for number in range(5):
        worker.do(str(number), lambda number=number: said.append((number, threading.current_thread())))
    assert worker.finish(10.0)
    assert [number for number, _ in said] == [0, 1, 2, 3, 4]  # type: ignore[misc]  # pairs
    assert all(thread is not threading.main_thread() for _, thread in said)  # type: ignore[misc]


def test_the_newest_under_a_key_wins(worker: Worker) -> None:
    said: list[object] = []
    for number in range(100):
        worker.do("keep", saying(said, number), after_s=60.0)
    assert worker.finish(10.0)
    assert said == [99]


def test_a_job_that_is_replaced_again_and_again_still_has_its_turn(worker: Worker) -> None:
    """Work that goes on without a pause doesn't put the copy off."""
    done = threading.Event()
    worker.do("keep", done.set, after_s=0.05)
    for _ in range(10_000):
        worker.do("keep", done.set, after_s=60.0)
        if done.wait(0.001):
            break
    assert done.is_set()
    worker.forget("keep")


def test_a_job_can_be_forgotten_and_the_thread_ends(worker: Worker) -> None:
    said: list[object] = []
    worker.do("keep", saying(said, "kept"), after_s=60.0)
    worker.forget("keep")
    worker.forget("never asked for")
    assert worker.finish(10.0)
    assert said == []
    assert not any(thread.name == "keeping" and thread.is_alive() for thread in threading.enumerate())


def test_a_job_that_fails_is_told_and_the_others_are_done(worker: Worker, faults: list[Exception]) -> None:
    said: list[object] = []
    fault = OSError("the disk is full")

    def fail() -> None:
        raise fault

    worker.do("a", fail)
    worker.do("b", saying(said, "done"))
    assert worker.finish(10.0)
    assert (faults, said) == ([fault], ["done"])


def test_a_wait_that_takes_too_long_is_given_up(worker: Worker) -> None:
    held = threading.Event()
    worker.do("slow", held.wait)
    assert not worker.finish(0.01)
    held.set()
    assert worker.finish(10.0)


def test_jobs_may_ask_for_jobs(worker: Worker) -> None:
    said: list[object] = []
    worker.do("a", lambda: worker.do("b", saying(said, "b")))
    assert worker.finish(10.0)
    assert said == ["b"]
