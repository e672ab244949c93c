"""The search: how soon it has a first layout that holds, on how many bodies, and how that compares with the plain way.

The plain way is what one would write without all this: `scipy.optimize.differential_evolution` over the coordinates of
the pins of the demo's own chain, within the box that a hinge's usual size gives, each candidate analysed by itself
(`analyse` with as few poses as it takes), with the sum of what it falls short as its cost. It is given up after
PLAIN_S seconds; the ratio told is then a lower bound.
"""

from __future__ import annotations

import time
from contextlib import suppress
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import differential_evolution

from app.proposals.processes import Processes
from kinematics import analyse
from kinematics.proposals.chains import WATT_FIRST
from kinematics.proposals.collecting import Collector
from kinematics.proposals.drafting import drafted
from kinematics.proposals.problem import read_problem
from kinematics.proposals.results import Settings
from kinematics.proposals.scoring import score
from kinematics.proposals.seeding import courses, seeds
from tests.benchmarks.bodies import PROBLEMS

if TYPE_CHECKING:
    from kinematics.arrays import Floats
    from kinematics.project import Project

WITHIN_S = 20.0
RATE_S = 8.0
PLAIN_S = 240.0
CANDIDATES = 12_000
SEEDS = (1, 2)


def first_layouts() -> None:
    """For every body: seconds to the first layout that holds, processes started cold."""
    print(f"seconds to the first layout that holds (two seeds; {WITHIN_S:.0f} s at most), and its kind")
    took: list[float] = []
    for name, make in PROBLEMS.items():
        found = [_first(make(), Settings(seed=seed)) for seed in SEEDS]
        took += [seconds for seconds, _, _ in found]
        told = ", ".join(f"{seconds:5.2f} {family}" for seconds, family, _ in found)
        print(f"  {name:26} {told}", flush=True)
    within = np.mean(np.array(took) <= WITHIN_S)
    print(f"  median {np.median(took):.2f} s (budget 2); within {WITHIN_S:.0f} s: {100 * within:.0f} % (budget 95)")
    rates()


def rates() -> None:
    """Candidates a second: of the whole search, and of scoring alone."""
    project = PROBLEMS["launch hatch"]()
    collector = Collector(Settings())
    begun = time.monotonic()
    with Processes(project, Settings()) as processes:
        for result in processes.results(begun + RATE_S):
            if result is not None:
                collector.take(result)
    spent = time.monotonic() - begun
    print(f"  the whole search, start of its processes included: {collector.tried / spent:,.0f} candidates/s")
    problem = read_problem(project, Settings())
    random = np.random.default_rng(1)
    pins, _ = seeds(problem, WATT_FIRST, courses(problem, random), CANDIDATES, random)
    begun = time.perf_counter()
    score(problem, WATT_FIRST, pins)
    each = (time.perf_counter() - begun) / pins.shape[1]
    print(f"  scoring alone, one core: {1.0 / each:,.0f} candidates/s (budget 20,000 on two)")


def _first(project: Project, settings: Settings) -> tuple[float, str, int]:
    """Seconds to the first layout that holds, its family, and how many candidates it took."""
    collector = Collector(settings)
    begun = time.monotonic()
    with Processes(project, settings) as processes:
        for result in processes.results(begun + WITHIN_S):
            news = () if result is None else collector.take(result)
            for each in news:
                if each.ok:
                    return time.monotonic() - begun, each.family, collector.tried
    return float("inf"), "none", collector.tried


def against_plain() -> None:
    """Our search and the plain one to the first layout of the demo's body that holds, one after the other."""
    project = PROBLEMS["launch hatch"]()
    ours = [_first(project, Settings(seed=seed, kinds=("six-bar",)))[0] for seed in (1, 2, 3)]
    print(f"the demo's body, six bars: ours {', '.join(f'{each:.2f}' for each in ours)} s", flush=True)
    seconds, found, tried = _plainly(project)
    ratio = seconds / float(np.median(ours))
    told = f"found one after {seconds:.0f} s" if found else f"found none in {seconds:.0f} s"
    print(
        f"  the plain way {told} ({tried} analyses): {'' if found else 'at least '}{ratio:.0f} times ours (budget 50)"
    )


class _EnoughError(Exception):
    """The plain way has found one, or has had its time."""


def _plainly(project: Project) -> tuple[float, bool, int]:
    """Seconds, whether it found one, and how many it analysed."""
    problem = read_problem(project, Settings())
    size, origin = problem.size, problem.frame.origin
    count = len(WATT_FIRST.pins)
    bounds = [(origin.real - 0.2 * size, origin.real + 1.3 * size)] * count
    bounds += [(origin.imag - 1.2 * size, origin.imag + 0.1 * size)] * count
    begun, tried, found = time.monotonic(), 0, False

    def cost(x: Floats) -> float:
        nonlocal tried, found
        if time.monotonic() - begun > PLAIN_S:
            raise _EnoughError
        tried += 1
        analysis = analyse(drafted(project, Settings(), WATT_FIRST, x[:count] + 1j * x[count:]), steps=2)
        short = sum(min(max(-check.margin, 0.0), 200.0) for check in analysis.checks if not check.ok)
        if analysis.checks and all(check.ok for check in analysis.checks):
            found = True
            raise _EnoughError
        return float(short)

    with suppress(_EnoughError):
        differential_evolution(cost, bounds, seed=1, maxiter=100_000, tol=0.0, polish=False)
    return time.monotonic() - begun, found, tried
