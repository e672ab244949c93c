"""One unit of a search: seeds of one chain, scored, the best refined, the best of those held against every want.

A unit's chain follows from its number: single pivots come once, early, to tell how near they get; then four-bars and
the six-bar chains in turn. Every third unit after the first dozen looks outside the cavity, for bodies whose hinge
belongs somewhere else. The random numbers of a unit are its own, from the seed and its number.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.analysis import analyse
from kinematics.families import family
from kinematics.figures import key_figures
from kinematics.proposals.chains import FOUR_BAR, SINGLE_PIVOT, SIX_BARS
from kinematics.proposals.drafting import drafted
from kinematics.proposals.problem import coarser, read_problem
from kinematics.proposals.refining import refine
from kinematics.proposals.results import KINDS, Proposal, UnitResult
from kinematics.proposals.scoring import score
from kinematics.proposals.seeding import courses, seeds

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Project
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem
    from kinematics.proposals.results import Settings

SEEDS = 3000
"""Seeds of a unit that are opened."""
REFINED = 24
"""The best of them are refined, …"""
STEPS = 10
"""… in so many steps with wishes and …"""
LAST_STEPS = 4
"""… so many more with hardly any."""
DONE = 0.05
"""mm: a candidate that misses less by the score is held against every want."""
SHAKEN, COPIES = 4, 12
"""Where none does, so many of the nearest are shaken, each so many times, …"""
SPREADS = (0.10, 0.05)
"""… by so much, in sizes of the hinge."""
EXACT = 4
"""So many candidates at most go through the whole analysis."""
MARGIN = 0.25
"""mm by which clearances are refined beyond their want: fields and openings in steps don't tell all."""
MENDABLE = 6.0
"""mm: a candidate that the analysis finds short by no more is refined once more, against what it missed."""
STRAY_FROM = 12
"""From this unit on some look outside the cavity."""
CONTACT_MISS = 1.5
"""What is added to a want whose pair touches, as nobody knows how deep, mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """What all units of a search share: the problem, the same with more openings, and the panel's courses."""

    near: Problem
    finer: Problem
    courses: Complexes


@lru_cache(maxsize=2)
def prepared(project: Project, settings: Settings) -> Prepared:
    """Read a problem once for all units that a process does."""
    near = read_problem(project, settings)
    drawn = courses(near, np.random.default_rng([settings.seed, 987]))
    return Prepared(near, read_problem(project, settings, finer=2), drawn)


def chain_of(settings: Settings, number: int) -> Chain:
    """The chain that a unit looks among."""
    sixes = SIX_BARS if "six-bar" in settings.kinds else ()
    fours = (FOUR_BAR,) if "four-bar" in settings.kinds else ()
    singles = (SINGLE_PIVOT,) if "single pivot" in settings.kinds else ()
    if number < len(singles):
        return SINGLE_PIVOT
    turn: list[Chain] = []
    for k, six in enumerate(sixes):
        turn += [*fours, six] if k % 2 == 0 else [six]
    turn = turn or list(fours or singles)
    return turn[(number - len(singles)) % len(turn)]


def run(project: Project, settings: Settings, number: int) -> UnitResult:
    """Do one unit of a search; what it brings depends on these three alone."""
    chain = chain_of(settings, number)
    ready = prepared(project, settings)
    stray = number >= STRAY_FROM and number % 3 == 2
    problem, finer = (_strayed(each) if stray else each for each in (ready.near, ready.finer))
    if any(len(locked) > len(chain.on(link)) for link, locked in enumerate(problem.locked)):
        return UnitResult(number, chain.kind, (), 0)
    counted = _Counted()
    random = np.random.default_rng([settings.seed, number])
    pins, held = seeds(problem, chain, ready.courses, SEEDS, random)
    if not pins.shape[1]:
        return UnitResult(number, chain.kind, (), 0)
    pins, held, worst = _refined(problem, chain, pins, held, counted)
    if len(worst) and DONE < worst[0] < np.inf:
        pins, held, worst = _shaken(problem, chain, pins, held, worst, random, counted)
    proposals = _held_against_all(finer, chain, pins, held, worst, number, counted)
    return UnitResult(number, chain.kind, proposals, counted.tried)


class _Counted:
    """Counts candidates that were scored."""

    tried = 0


def _strayed(problem: Problem) -> Problem:
    return replace(problem, cavity=None)


def _refined(
    problem: Problem, chain: Chain, pins: Complexes, held: Complexes, counted: _Counted
) -> tuple[Complexes, Complexes, Floats]:
    """The best of the seeds, refined, best first."""
    cost = score(coarser(problem), chain, pins, MARGIN).cost
    counted.tried += len(cost)
    best = np.argsort(cost, kind="stable")[:REFINED]
    best = best[cost[best] < 1e12]
    pins, held = pins[:, best], held[:, best]
    pins, _, tried = refine(problem, chain, pins, held, STEPS, MARGIN)
    counted.tried += tried
    pins, worst, tried = refine(problem, chain, pins, held, LAST_STEPS, MARGIN, wishes=0.02)
    counted.tried += tried
    order = np.argsort(worst, kind="stable")
    return pins[:, order], held[:, order], worst[order]


def _shaken(
    problem: Problem,
    chain: Chain,
    pins: Complexes,
    held: Complexes,
    worst: Floats,
    random: np.random.Generator,
    counted: _Counted,
) -> tuple[Complexes, Complexes, Floats]:
    """Where nothing holds yet: the nearest few, shaken, and refined again from where they fell."""
    few = min(SHAKEN, int(np.isfinite(worst).sum()))
    for spread in SPREADS:
        again, stay = np.repeat(pins[:, :few], COPIES, axis=1), np.repeat(held[:, :few], COPIES, axis=1)
        by = spread * problem.size * (random.normal(size=again.shape) + 1j * random.normal(size=again.shape))
        again = np.where(np.isnan(stay.real), again + by, again)
        again, stay, its_worst = _refined(problem, chain, again, stay, counted)
        pins, held = np.concatenate([pins, again], axis=1), np.concatenate([held, stay], axis=1)
        worst = np.concatenate([worst, its_worst])
        order = np.argsort(worst, kind="stable")
        pins, held, worst = pins[:, order], held[:, order], worst[order]
        if worst[0] <= DONE:
            break
    return pins, held, worst


def _held_against_all(
    problem: Problem, chain: Chain, pins: Complexes, held: Complexes, worst: Floats, number: int, counted: _Counted
) -> tuple[Proposal, ...]:
    """Proposals from the best candidates; at least one, if any, to tell how near the chain comes."""
    found: list[Proposal] = []
    for k in _different(pins, worst, 0.08 * problem.size):
        if found and worst[k] > MENDABLE:
            break
        proposal = proposed(problem, chain, pins[:, k], number)
        if not proposal.ok and proposal.short_by <= 2.0 * MENDABLE:
            again = _once_more(problem, chain, pins[:, k : k + 1], held[:, k : k + 1], proposal, counted)
            better = proposed(problem, chain, again[:, 0], number)
            proposal = better if (better.ok, -better.short_by) > (proposal.ok, -proposal.short_by) else proposal
        found.append(proposal)
    return tuple(found)


def _different(pins: Complexes, worst: Floats, apart: float) -> list[int]:
    """The best few that aren't copies of one another."""
    chosen: list[int] = []
    for k in range(len(worst)):
        if np.isfinite(worst[k]) and all(np.abs(pins[:, k] - pins[:, j]).max() > apart for j in chosen):
            chosen.append(k)
        if len(chosen) == EXACT:
            break
    return chosen


def _once_more(
    problem: Problem, chain: Chain, pins: Complexes, held: Complexes, short: Proposal, counted: _Counted
) -> Complexes:
    """A candidate refined against more than is wanted of each pair, by what the analysis found it to miss."""
    misses = {tuple(sorted(check.subject)): -check.margin for check in short.short if check.kind == "gap"}
    margins = np.array([MARGIN + _more(misses.get(pair.names, 0.0), pair.want) for pair in problem.pairs])
    past = {(check.subject[0], check.side): -check.margin for check in short.short if check.kind == "limit"}
    bounds = tuple(
        replace(bound, want=bound.want + 1.2 * past.get((bound.mark, bound.side), 0.0)) for bound in problem.bounds
    )
    stricter = replace(problem, bounds=bounds)
    pins, _, tried = refine(stricter, chain, pins, held, STEPS, margins, wishes=0.02)
    counted.tried += tried
    return pins


def _more(miss: float, want: float) -> float:
    """What to ask for beyond a want that was missed by so much."""
    return miss + CONTACT_MISS if miss >= want > 0.0 else 1.2 * miss


def proposed(problem: Problem, chain: Chain, pins: Complexes, number: int) -> Proposal:
    """Hold one candidate against every want."""
    project = drafted(problem.project, problem.settings, chain, pins)
    analysis = analyse(project, steps=2)
    short = tuple(check for check in analysis.checks if not check.ok)
    by = max((min(-check.margin, 1e6) for check in short), default=0.0)
    return Proposal(
        project,
        chain.kind,
        family(project) or chain.family,
        not short,
        max(by, 0.0),
        key_figures(analysis),
        analysis.checks[0],
        number,
        short,
    )


__all__ = ["KINDS", "chain_of", "prepared", "proposed", "run"]
