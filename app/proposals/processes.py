"""A search on all cores without Qt: processes, a thread for each that reads its answers, results by number.

    with Processes(project, settings) as processes:
        for result in processes.results(until):
            …

Leaving the `with` ends every process at once, whatever they are doing; nothing is left on the disk by any of them.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import threading
import time
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING, Self

from app.proposals.dealing import Deal, Fault, Frames, framed, order_of
from app.proposals.worker import RUNNER
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kinematics.project import Project
    from kinematics.proposals.results import Settings, UnitResult

TICK_S = 0.2
READ = 65_536
ROOT = Path(__file__).parents[2]
"""Where the packages are: a checkout runs without being installed."""


def cores() -> int:
    """How many processes can run at the same time."""
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return max(1, os.cpu_count() or 1)


def command(runner: str = RUNNER) -> list[str]:
    """Give the command line of one process."""
    return [sys.executable, "-m", "app.proposals.worker", runner]


def how_ended(code: int) -> str:
    """Say how a process ended: "signal 9", "status 1"."""
    return f"signal {-code}" if code < 0 else f"status {code}"


class _Process:
    """One process with the thread that reads its answers into a box that all share, as (process, message or None)."""

    def __init__(self, order: bytes, runner: str, box: SimpleQueue[tuple[_Process, UnitResult | Fault | None]]) -> None:
        self.unit: int | None = None
        try:
            self._popen = subprocess.Popen(
                command(runner),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                cwd=ROOT,
                start_new_session=True,  # Ctrl-C in a terminal is for the command line alone, which then ends this
            )
        except OSError as fault:
            what = f"the search can't start its processes: {fault.strerror or fault}"
            raise HingewrightError(what, remedy="Close what you don't need and start again.") from fault
        self._send(order)
        threading.Thread(target=self._read, args=(box,), daemon=True).start()

    def give(self, unit: int) -> None:
        """Have a unit done."""
        self.unit = unit
        self._send(framed(unit))

    def end(self) -> str:
        """End it now, and say how it ended."""
        self._popen.kill()
        code = self._popen.wait()
        for pipe in (self._popen.stdin, self._popen.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):  # what it was not sent any more doesn't matter
                    pipe.close()
        return how_ended(code)

    def _send(self, content: bytes) -> None:
        assert self._popen.stdin is not None
        with contextlib.suppress(OSError):  # it has ended: the thread that reads tells
            self._popen.stdin.write(content)
            self._popen.stdin.flush()

    def _read(self, box: SimpleQueue[tuple[_Process, UnitResult | Fault | None]]) -> None:
        assert self._popen.stdout is not None
        frames, descriptor = Frames(), self._popen.stdout.fileno()
        with contextlib.suppress(OSError, ValueError):
            while more := os.read(descriptor, READ):
                for message in frames.feed(more):
                    box.put((self, message))
        box.put((self, None))


class Processes:
    """The processes of one search.

    count : how many; None: one a core.     runner : the module that does a unit.     deal : who keeps the numbers.
    """

    def __init__(self, project: Project, settings: Settings, count: int | None = None, runner: str = RUNNER) -> None:
        self.deal = Deal()
        self._order = order_of(project, settings)
        self._count, self._runner = count or cores(), runner
        self._box: SimpleQueue[tuple[_Process, UnitResult | Fault | None]] = SimpleQueue()
        self._all: list[_Process] = []

    def __enter__(self) -> Self:
        try:
            for _ in range(self._count):
                self._start()
        except BaseException:
            self.stop()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def stop(self) -> None:
        """End every process at once."""
        for process in self._all:
            process.end()
        self._all.clear()

    def results(self, until: float) -> Iterator[UnitResult | None]:
        """Give the results by number until a moment of `time.monotonic()`; None now and then, so that time is seen.

        Raises HingewrightError when the search can't go on.
        """
        while (left := until - time.monotonic()) > 0.0:
            try:
                process, message = self._box.get(timeout=min(left, TICK_S))
            except Empty:
                yield None
                continue
            yield from self._taken(process, message)
            if self.deal.broken:
                raise HingewrightError(self.deal.broken)
        yield None

    def _start(self) -> None:
        process = _Process(self._order, self._runner, self._box)
        self._all.append(process)
        process.give(self.deal.give())

    def _taken(self, process: _Process, message: UnitResult | Fault | None) -> list[UnitResult]:
        if process not in self._all:
            return []
        if message is None:
            how = process.end()
            self._all.remove(process)
            ready = self.deal.lose(process.unit, how)
            if not self.deal.broken:
                self._start()
            return ready
        ready = self.deal.take(message)
        if not isinstance(message, Fault) or message.unit >= 0:
            process.give(self.deal.give())
        return ready
