"""The strut finder: placements a second, against one-at-a-time `analyse`, and how soon there is a first answer."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from app.proposals.processes import Processes
from app.struts.table import usual_sizes
from kinematics import analyse
from kinematics.project import Handle, LiftWants, Loads, WorstCase
from kinematics.struts import unit
from kinematics.struts.collecting import StrutCollector
from kinematics.struts.fitting import with_struts
from kinematics.struts.results import StrutSettings
from tests.benchmarks import hinges
from tests.benchmarks.timing import head, line, timed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Project
    from kinematics.struts.results import StrutUnit

RUNNER = "kinematics.struts.unit"
UNITS = 12
WITHIN_S = 6.0
PLAIN = 60


def finder() -> None:
    """Units one after another on one core, the same placements by `analyse`, and the whole search on all cores."""
    head("Struts, on the demo with five wants of lifting")
    project, settings = _asked(), StrutSettings(usual_sizes())
    unit.run(project, settings, 0)
    begun, spent = time.perf_counter(), time.process_time()
    found = [unit.run(project, settings, number) for number in range(UNITS)]
    took, worked = time.perf_counter() - begun, time.process_time() - spent
    tried = sum(each.tried for each in found)
    rate = tried / took
    line("placements a second, one core", f"{rate:,.0f} ({tried / worked:,.0f} of processor)", "10,000", rate >= 1e4)
    each = _one_at_a_time(project, found)
    ratio = each * rate
    line("against `analyse`, one at a time", f"{ratio:,.0f}× ({1.0 / each:,.0f} a second)", "50×", ratio >= 50.0)
    _first(project, settings)


def _asked() -> Project:
    bare = hinges.demo()
    wants = LiftWants(80.0, 80.0, 8.0, stays_open=True, stays_open_in=WorstCase(-10.0, 5.0, one_dead=True))
    loads = bare.loads or Loads()
    return replace(bare, loads=replace(loads, handle=Handle("hatch", (1190.0, 262.0)), wants=wants, devices=()))


def _one_at_a_time(project: Project, found: Sequence[StrutUnit]) -> float:
    """Seconds for one placement by the analysis, warm, with as few poses as it takes."""
    places = [each for one in found for each in one.placements]
    layouts = [with_struts(project, places[k % len(places)]) for k in range(PLAIN)]
    near = analyse(project)
    times = timed((lambda layout=layout: analyse(layout, 2, near)) for layout in layouts)
    return float(np.median(times.ms)) * 1e-3


def _first(project: Project, settings: StrutSettings) -> None:
    """Seconds to the first placement that meets all wants, processes started cold, and the rate of the whole search."""
    collector, first = StrutCollector(), None
    begun = time.monotonic()
    with Processes(project, settings, runner=RUNNER) as processes:
        for result in processes.results(begun + WITHIN_S):
            if result is None:
                continue
            news = collector.take(result)
            if first is None and any(each.ok for each in news):
                first = time.monotonic() - begun
    spent = time.monotonic() - begun
    told = "none" if first is None else f"{first:.2f} s"
    line("first placement that meets all wants, cold", told, "2 s", first is not None and first <= 2.0)
    line("the whole search, start included", f"{collector.tried / spent:,.0f} placements/s")
    line("placements that differ and meet all wants", sum(each.ok for each in collector.kept))
