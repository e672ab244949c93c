"""A worker: slow small jobs off the window's thread, the newest of each kind only.

A job is a function without arguments under a *key*. A newer job under the same key takes the place of one that still
waits, and keeps its turn: work that goes on and on can't put a job off for ever. Jobs are done one at a time. The
thread is there only while there are jobs, so nothing needs to be ended.
"""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable


class Worker:
    """Does jobs in a thread of its own. `failed` is told of what a job raises, in that thread."""

    def __init__(self, failed: Callable[[Exception], object]) -> None:
        self._failed = failed
        self._changed = threading.Condition()
        self._jobs: dict[str, tuple[float, Callable[[], object]]] = {}
        self._is_running = False

    def do(self, key: str, job: Callable[[], object], after_s: float = 0.0) -> None:
        """Have a job done, `after_s` seconds from now at the latest (sooner when one under its key has waited)."""
        due = time.monotonic() + after_s
        with self._changed:
            waiting = self._jobs.get(key)
            self._jobs[key] = (due if waiting is None else min(due, waiting[0]), job)
            if not self._is_running:
                self._is_running = True
                threading.Thread(target=self._run, name="keeping", daemon=True).start()
            self._changed.notify_all()

    def forget(self, key: str) -> None:
        """Leave a job undone that still waits."""
        with self._changed:
            self._jobs.pop(key, None)
            self._changed.notify_all()

    def finish(self, within_s: float) -> bool:
        """Do all jobs now, and wait until they are done; False when that takes longer than `within_s`."""
        with self._changed:
            self._jobs = {key: (0.0, job) for key, (_, job) in self._jobs.items()}
            self._changed.notify_all()
            return self._changed.wait_for(lambda: not self._is_running, within_s)

    def _run(self) -> None:
        while (job := self._next()) is not None:
            try:
                job()
            except Exception as fault:  # noqa: BLE001  whatever it is, the other jobs are still to be done
                self._failed(fault)

    def _next(self) -> Callable[[], object] | None:
        """Wait for the job that is due first; None, and the thread ends, when there is none."""
        with self._changed:
            while self._jobs:
                key = min(self._jobs, key=lambda each: self._jobs[each][0])
                wait = self._jobs[key][0] - time.monotonic()
                if wait <= 0:
                    return self._jobs.pop(key)[1]
                self._changed.wait(wait)
            self._is_running = False
            self._changed.notify_all()
            return None
