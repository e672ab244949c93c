"""How long things take: percentiles of many runs, and the lines of the table."""

from __future__ import annotations

import gc
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


@dataclass(frozen=True)
class Times:
    """Milliseconds of single runs, by the clock and (where known) of processor: what a busy machine doesn't
    lengthen.
    """

    ms: tuple[float, ...]
    cpu_ms: tuple[float, ...] = ()

    @property
    def p50(self) -> float:
        return float(np.percentile(self.ms, 50))

    @property
    def p95(self) -> float:
        return float(np.percentile(self.ms, 95))

    def __str__(self) -> str:
        worked = np.percentile(self.cpu_ms, [50, 95]) if self.cpu_ms else ()
        busy = "   (processor p50 {:.2f}   p95 {:.2f})".format(*worked) if self.cpu_ms else ""
        return f"p50 {self.p50:7.2f}   p95 {self.p95:7.2f} ms{busy}"


def timed(runs: Iterable[Callable[[], object]], warm_up: int = 0) -> Times:
    """Time each run by itself; the first `warm_up` aren't counted. The collector runs between, not within."""
    found, busy = [], []
    gc.collect()
    gc.disable()
    try:
        for number, run in enumerate(runs):
            began, spent = time.perf_counter(), time.process_time()
            run()
            took, worked = 1e3 * (time.perf_counter() - began), 1e3 * (time.process_time() - spent)
            if number >= warm_up:
                found.append(took)
                busy.append(worked)
            if number % 20 == 19:
                gc.collect()
    finally:
        gc.enable()
    return Times(tuple(found), tuple(busy))


def head(title: str) -> None:
    print(f"\n{title}\n{'-' * len(title)}")


def line(what: str, figure: object, budget: str = "", good: bool | None = None) -> None:
    """One line of the table; `good` None where there is no budget."""
    mark = "" if good is None else ("   ok" if good else "   OVER")
    print(f"{what:<58} {figure}{'   budget ' + budget if budget else ''}{mark}", flush=True)
