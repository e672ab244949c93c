"""A worker: slow small jobs off the window's thread, the newest of each kind only.

A job is a function without arguments under a *key*. A newer job under the same key takes the place of one that still
waits, and keeps its turn: work that goes on and on can't put a job off for ever. Jobs are done one at a time. The
thread is there only while there are jobs, so nothing needs to be ended.

Qt's objects must die in the thread that they live in, and Python frees an object wherever its last reference goes. So
nothing of Qt may be reached from the thread: jobs hold plain values only, and what is to be done with a result (`then`,
often a method of a Qt object) stays with the `Worker` and is called by `pump`, in the window's thread; the thread knows
the `_Desk` alone. And as Python may collect cyclic rubbish, old widgets among it, in any thread that runs, collecting
is left to the window's thread while a worker's thread is there.
"""

from __future__ import annotations

import gc
import threading
import time
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable


class Worker:
    """Does jobs in a thread of its own; all its methods are for the window's thread.

    failed : is told, by `pump`, of each exception that a job has raised.
    """

    def __init__(self, failed: Callable[[Exception], object]) -> None:
        self._failed = failed
        self._desk = _Desk()
        self._then: dict[int, Callable[[Any], object]] = {}
        self._ticket = 0

    @property
    def is_busy(self) -> bool:
        """Whether there are jobs to be done, results to be pumped, or a thread that has not ended yet."""
        return self._desk.is_running or not self._desk.done.empty() or bool(_rubbish.threads)

    def do(
        self, key: str, job: Callable[[], object], after_s: float = 0.0, then: Callable[[Any], object] | None = None
    ) -> None:
        """Have a job done, `after_s` seconds from now at the latest (sooner when one under its key has waited).

        then : is called with the result when it is pumped.
        """
        self._ticket += 1
        if then is not None:
            self._then[self._ticket] = then
        replaced = self._desk.put(key, self._ticket, job, time.monotonic() + after_s)
        self._then.pop(replaced, None)

    def forget(self, key: str) -> None:
        """Leave a job undone that still waits."""
        self._then.pop(self._desk.forget(key), None)

    def pump(self) -> None:
        """Hand over the results that are there, and collect rubbish where that is due."""
        _rubbish.collect()
        while True:
            try:
                ticket, result, fault = self._desk.done.get_nowait()
            except Empty:
                return
            then = self._then.pop(ticket, None)
            if fault is not None:
                self._failed(fault)
            elif then is not None:
                then(result)

    def finish(self, within_s: float) -> bool:
        """Do all jobs now, and wait until they are done; False when that takes longer than `within_s`."""
        return self._desk.hurry(within_s)


class _Desk:
    """What a worker and its thread share: the jobs that wait, by key, and the results. Plain values only."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._jobs: dict[str, tuple[float, int, Callable[[], object]]] = {}  # when due, ticket, job
        self.is_running = False
        self.done: SimpleQueue[tuple[int, object, Exception | None]] = SimpleQueue()

    def put(self, key: str, ticket: int, job: Callable[[], object], due: float) -> int:
        """Have a job wait its turn, and start a thread if there is none; the ticket that it replaces, 0 for none."""
        with self._changed:
            waiting = self._jobs.get(key)
            if waiting is not None and waiting[0] <= due:
                self._jobs[key] = (waiting[0], ticket, job)  # the thread sleeps on: this is every move of a drag
                return waiting[1]
            self._jobs[key] = (due, ticket, job)
            if not self.is_running:
                self.is_running = True
                _rubbish.start(threading.Thread(target=_work, args=(self,), name="keeping", daemon=True))
            self._changed.notify_all()
            return waiting[1] if waiting is not None else 0

    def forget(self, key: str) -> int:
        """Take a job away; gives its ticket, 0 for none."""
        with self._changed:
            waiting = self._jobs.pop(key, None)
            self._changed.notify_all()
            return waiting[1] if waiting is not None else 0

    def hurry(self, within_s: float) -> bool:
        """Make every job due now, and wait for the end."""
        with self._changed:
            self._jobs = {key: (0.0, ticket, job) for key, (_, ticket, job) in self._jobs.items()}
            self._changed.notify_all()
            return self._changed.wait_for(lambda: not self.is_running, within_s)

    def next(self) -> tuple[int, Callable[[], object]] | None:
        """Wait for the job that is due first; None, and the thread ends, when there is none."""
        with self._changed:
            while self._jobs:
                key = min(self._jobs, key=lambda each: self._jobs[each][0])
                wait = self._jobs[key][0] - time.monotonic()
                if wait <= 0:
                    return self._jobs.pop(key)[1:]
                self._changed.wait(wait)
            self.is_running = False
            self._changed.notify_all()
            return None


def _work(desk: _Desk) -> None:
    """Do jobs until there are none: the thread."""
    while (due := desk.next()) is not None:
        ticket, job = due
        try:
            desk.done.put((ticket, job(), None))
        except Exception as fault:  # noqa: BLE001  whatever it is, the other jobs are still to be done
            desk.done.put((ticket, None, fault))


class _Rubbish:
    """Whose turn it is to collect cyclic rubbish: Python's at any time, or the window's thread's."""

    def __init__(self) -> None:
        self.threads: list[threading.Thread] = []  # that may still run Python
        self._was_enabled = False

    def start(self, thread: threading.Thread) -> None:
        """Start a thread that may not collect."""
        if not self.threads:
            self._was_enabled = gc.isenabled()
        self.threads.append(thread)
        gc.disable()
        thread.start()

    def collect(self) -> None:
        """Collect what is due, in the window's thread; once the threads have ended it is Python's turn again.

        Only the young: a full collection may take longer than a frame, and can wait until the threads have ended.
        """
        if not self.threads:
            return
        self.threads = [thread for thread in self.threads if thread.is_alive()]
        if not self.threads:
            if self._was_enabled:
                gc.enable()
            return
        counts, limits = gc.get_count(), gc.get_threshold()
        if counts[1] > limits[1] > 0:
            gc.collect(1)
        elif counts[0] > limits[0] > 0:
            gc.collect(0)


_rubbish = _Rubbish()
