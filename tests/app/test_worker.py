"""The worker: the newest of each kind, none put off for ever, one thread that comes and goes."""

from __future__ import annotations

import gc
import threading
from typing import TYPE_CHECKING, ClassVar

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
    while worker.is_busy:
        worker.pump()
    assert not any(thread.name == "keeping" for thread in threading.enumerate())


def test_a_job_that_fails_is_told_and_the_others_are_done(worker: Worker, faults: list[Exception]) -> None:
    said: list[object] = []
    fault = OSError("the disk is full")

    def fail() -> None:
        raise fault

    worker.do("a", fail)
    worker.do("b", saying(said, "done"))
    assert worker.finish(10.0)
    assert faults == []  # it is told in this thread
    worker.pump()
    assert (faults, said) == ([fault], ["done"])


def test_a_wait_that_takes_too_long_is_given_up(worker: Worker) -> None:
    held = threading.Event()
    worker.do("slow", held.wait)
    assert not worker.finish(0.01)
    held.set()
    assert worker.finish(10.0)


def test_results_are_handed_over_here_when_they_are_pumped(worker: Worker) -> None:
    got: list[tuple[object, threading.Thread]] = []
    worker.do("a", lambda: "a", then=lambda result: got.append((result, threading.current_thread())))
    worker.do("b", lambda: "b")
    worker.do("c", lambda: "old", 60.0, then=lambda result: got.append((result, threading.current_thread())))
    worker.do("c", lambda: "new", 60.0, then=lambda result: got.append((result, threading.current_thread())))
    assert worker.finish(10.0)
    assert got == []
    assert worker.is_busy
    worker.pump()
    assert got == [("a", threading.main_thread()), ("new", threading.main_thread())]


class Mark:
    """Tells in which thread it died; within a cycle, as widgets are with their slots."""

    died: ClassVar[list[threading.Thread]] = []

    def __init__(self) -> None:
        self.cycle = self

    def __del__(self) -> None:
        self.died.append(threading.current_thread())


def test_cyclic_rubbish_dies_in_this_thread_only(worker: Worker) -> None:
    """Else old widgets would be taken apart by a thread that is not theirs, and the program ends."""
    Mark.died.clear()

    def allocate() -> None:
        kept = []
        for _ in range(200_000):  # Python would have collected hundreds of times
            kept.append([])

    for _ in range(50):
        Mark()
    gc.collect()
    before = len(Mark.died)
    worker.do("a", allocate)
    for _ in range(50):
        Mark()
    while worker.is_busy:
        worker.pump()
    assert gc.isenabled()
    gc.collect()
    assert len(Mark.died) >= before + 50
    assert set(Mark.died) == {threading.main_thread()}


def test_what_waits_for_a_result_is_out_of_the_threads_reach(worker: Worker) -> None:
    """The last reference to a window's part must not go in the thread."""
    Mark.died.clear()
    held = threading.Event()

    def begin() -> None:
        own = Worker(lambda _: None)
        mark = Mark()
        mark.cycle = None  # type: ignore[assignment]  # it dies with its last reference
        own.do("a", held.wait, then=lambda _: mark)

    begin()
    held.set()
    gc.collect()
    assert Mark.died == [threading.main_thread()]
    while worker.is_busy:
        worker.pump()


def test_who_has_switched_collecting_off_finds_it_so(worker: Worker) -> None:
    gc.disable()
    try:
        worker.do("a", lambda: None)
        while worker.is_busy:
            worker.pump()
        assert not gc.isenabled()
    finally:
        gc.enable()
