"""Put right, and where linear steps lead nowhere, again from what the search for hinges would make of the layout.

`mending` goes by what is near: from deep in contact its steps may end where every way out is uphill. So the layout's
own links are taken as a chain of the search; many copies, their pins shaken, are refined side by side (`refining`),
which looks at distances alone and jumps farther. Of those that hold or nearly do, the ones least far from where the
pins stand are starts from which linear steps go once more, back home as far as the wants allow. What is told is still
held against every want by the whole analysis. Where nothing comes of it, what `mending` said stands.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from typing import TYPE_CHECKING

import numpy as np

from kinematics.analysis import analyse
from kinematics.arrays import as_complex
from kinematics.mending import ASIDE, mend, mend_from
from kinematics.proposals.chains import FOUR_BAR, SIX_BARS
from kinematics.proposals.problem import read_problem
from kinematics.proposals.refining import refine
from kinematics.proposals.results import Settings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from kinematics.analysis import Analysis
    from kinematics.arrays import Complexes, Floats
    from kinematics.mending import Mended
    from kinematics.project import Project
    from kinematics.proposals.chains import Chain

COPIES = 40
"""Copies of the layout that are refined, the layout itself among them, …"""
SPREADS = (6.0, 12.0, 20.0)
"""… their pins shaken by so much (mm, by turns), …"""
ROUNDS, STEPS = 2, 4
"""… in so many rounds of so many steps, …"""
MARGIN = 0.3
"""… to hold wants of distances with so many mm to spare."""
NEARLY = 4.0
"""mm: what misses by no more is worth a start."""
STARTS = 3
"""Starts that are gone from at most, …"""
APART = 5.0
"""… which differ by so many mm at some pin."""
ENOUGH = 80
"""Steps after which no other search begins: a builder waits."""
LAST = ASIDE[1:3]
"""From so far beside the pins `mend` searches in the end."""


def put_right(project: Project, analysis: Analysis | None = None, stop: Callable[[], bool] = lambda: False) -> Mended:
    """Move the free pins as little as found possible until all wants hold; arguments and answer as of `mend`."""
    analysis = analyse(project, steps=2) if analysis is None else analysis
    first = mend(project, analysis, stop, ASIDE[:1])
    if first.ok or first.why != "fight" or any(fight.as_drawn for fight in first.fighting):
        return first
    steps = first.steps
    for places in _starts(project, stop):
        if steps > ENOUGH:
            break
        found = mend_from(project, analysis, places, stop)
        steps += found.steps
        if found.ok or found.why == "stopped":
            return replace(found, steps=steps)
    if steps > ENOUGH:
        return replace(first, steps=steps)
    last = mend(project, analysis, stop, LAST)
    told = last if last.ok or last.why == "stopped" else min(first, last, key=_given)
    return replace(told, steps=steps + last.steps)


def _given(mended: Mended) -> float:
    """How much the wants that fight would have to give, in sum."""
    return sum(fight.by for fight in mended.fighting)


def own_chain(project: Project) -> tuple[Chain, list[int]] | None:
    """The chain of the search that a project's links are, and for each of its pins which pivot that is (place in the
    list); None where they are another one.
    """
    ends = (project.fixed.id, project.panel.id)
    between = [link.id for link in project.links if link.id not in ends]
    pairs = {frozenset(pivot.joins): k for k, pivot in enumerate(project.pivots)}
    if len(pairs) < len(project.pivots) or any(len(pair) != 2 for pair in pairs):
        return None
    for chain in (FOUR_BAR, *SIX_BARS):
        if chain.links != len(project.links) or len(chain.pins) != len(project.pivots):
            continue
        for order in permutations(between):
            names = (*ends, *order)
            found = [pairs.get(frozenset((names[a], names[b]))) for a, b in chain.pins]
            if None not in found:
                return chain, [k for k in found if k is not None]
    return None


def _starts(project: Project, stop: Callable[[], bool]) -> Iterator[Floats]:
    """(pivots, 2) places to start from, least far from the pins first."""
    own = own_chain(project)
    if own is None or stop():
        return
    chain, pivots = own
    widths = [link.width for link in project.links if link.kind == "link"]
    problem = replace(read_problem(project, Settings(width=max(widths))), cavity=None)
    home = as_complex(project.pivots[k].at for k in pivots)
    locked = np.array([project.pivots[k].locked for k in pivots])
    held = np.where(locked, home, complex(np.nan, np.nan))[:, None].repeat(COPIES, axis=1)
    dice = np.random.default_rng(1)
    lot = dice.normal(size=(len(home), COPIES)) + 1j * dice.normal(size=(len(home), COPIES))
    by = np.resize(SPREADS, COPIES)
    by[0] = 0.0
    shaken = home[:, None] + np.where(locked[:, None], 0.0, by * lot)
    pins, worst = shaken, np.full(COPIES, np.inf)
    for _ in range(ROUNDS):
        if stop():
            return
        pins, worst, _ = refine(problem, chain, pins, held, STEPS, MARGIN, wishes=0.02)
    for k in _chosen(pins, worst, home):
        places = np.zeros((len(home), 2))
        places[pivots] = np.stack([pins[:, k].real, pins[:, k].imag], axis=1)
        yield places


def _chosen(pins: Complexes, worst: Floats, home: Complexes) -> list[int]:
    """Which copies to start from."""
    far = np.sqrt((np.abs(pins - home[:, None]) ** 2).sum(axis=0))
    chosen: list[int] = []
    for k in np.argsort(far + 4.0 * worst, kind="stable").tolist():
        if worst[k] > NEARLY or len(chosen) == STARTS:
            continue
        if all(np.abs(pins[:, k] - pins[:, other]).max() > APART for other in chosen):
            chosen.append(k)
    return chosen
