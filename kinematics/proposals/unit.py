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
from kinematics.proposals import cognates
from kinematics.proposals.chains import FIXED, FOUR_BAR, PANEL, SINGLE_PIVOT, SIX_BARS, STEPHENSON_FOURTH
from kinematics.proposals.drafting import drafted
from kinematics.proposals.problem import coarser, finer, read_problem
from kinematics.proposals.refining import refine
from kinematics.proposals.results import Proposal, UnitResult, searched
from kinematics.proposals.scoring import score
from kinematics.proposals.seeding import courses, seeds

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Project
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem
    from kinematics.proposals.results import Settings

STEPS = 10
"""Candidates are refined in so many steps with wishes and …"""
LAST_STEPS = 4
"""… so many more with hardly any."""
MARGIN = 0.25
"""mm by which clearances are refined beyond their want: fields and openings in steps don't tell all."""
DONE = 0.05
"""mm: a candidate that misses less by the score is held against every want."""
SHAKEN, COPIES = 4, 12
"""Where none does, so many of the nearest are shaken, each so many times, …"""
SPREADS = (0.10, 0.05)
"""… by so much, in sizes of the hinge."""
MENDABLE = 6.0
"""mm: a candidate that the analysis finds short by no more is refined once more, against what it missed."""
EARLY = 4
"""Units before this one do less, so that something is there soon."""
STRAY_FROM = 12
"""From this unit on some look outside the cavity."""
CONTACT_MISS = 1.5
"""What is added to a want whose pair touches, as nobody knows how deep, mm."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How much a unit does: seeds that are opened, how many of them are refined, how many go through the analysis."""

    seeds: int
    refined: int
    exact: int


LESS, FULL = Effort(1500, 14, 2), Effort(3000, 24, 4)


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """What all units of a search share: the problem, the same at more openings, and the panel's courses."""

    near: Problem
    closer: Problem
    courses: Complexes


@lru_cache(maxsize=2)
def prepared(project: Project, settings: Settings) -> Prepared:
    """Read a problem once for all units that a process does."""
    near = read_problem(project, settings)
    drawn = courses(near, np.random.default_rng([settings.seed, 987]))
    return Prepared(near, finer(near), drawn)


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
    problem, closer = ready.near, ready.closer
    if number >= STRAY_FROM and number % 3 == 2:
        problem, closer = (replace(each, cavity=None) for each in (problem, closer))
    if not _has_place_for_locked(problem, chain):
        return UnitResult(number, chain.kind, (), 0)
    random = np.random.default_rng([settings.seed, number])
    work = _Work(problem, closer, chain, number, random, LESS if number < EARLY else FULL)
    pins, held = seeds(problem, chain, ready.courses, work.effort.seeds, random)
    found = work.refined(pins, held)
    if chain is STEPHENSON_FOURTH:
        found = work.with_cognates(found)
    if chain.loops and len(found.worst) and DONE < found.worst[0] < np.inf:
        found = work.shaken(found)
    return UnitResult(number, chain.kind, work.held_against_all(found), work.tried)


def _has_place_for_locked(problem: Problem, chain: Chain) -> bool:
    """Whether the chain has a pin for every locked one; one that joins body and panel leaves single pivots only."""
    fixed, panel, between = problem.locked
    if {pivot.id for pivot in fixed} & {pivot.id for pivot in panel} and chain.loops:
        return False
    room = len(fixed) <= len(chain.on(FIXED)) and len(panel) <= len(chain.on(PANEL))
    return room and len(between) <= len(chain.between)


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Candidates, best first: pins, held (pins, n) as `seeding.seeds` has them; worst (n,) mm by the score."""

    pins: Complexes
    held: Complexes
    worst: Floats

    def sorted_with(self, other: _Found) -> _Found:
        """Both, best first."""
        worst = np.concatenate([self.worst, other.worst])
        order = np.argsort(worst, kind="stable")
        pins, held = np.concatenate([self.pins, other.pins], axis=1), np.concatenate([self.held, other.held], axis=1)
        return _Found(pins[:, order], held[:, order], worst[order])


@dataclass(slots=True, eq=False)
class _Work:
    """One unit at work. problem, closer : as in `Prepared`.   tried : candidates scored so far."""

    problem: Problem
    closer: Problem
    chain: Chain
    number: int
    random: np.random.Generator
    effort: Effort
    tried: int = 0

    def refined(self, pins: Complexes, held: Complexes) -> _Found:
        """The best of the candidates, refined."""
        cost = score(coarser(self.problem), self.chain, pins, MARGIN).cost
        self.tried += len(cost)
        best = np.argsort(cost, kind="stable")[: self.effort.refined]
        best = best[cost[best] < 1e12]
        pins, held = pins[:, best], held[:, best]
        pins, _, tried = refine(self.problem, self.chain, pins, held, STEPS, MARGIN)
        pins, worst, more = refine(self.problem, self.chain, pins, held, LAST_STEPS, MARGIN, wishes=0.02)
        self.tried += tried + more
        return _Found(pins[:, :0], held[:, :0], worst[:0]).sorted_with(_Found(pins, held, worst))

    def with_cognates(self, found: _Found) -> _Found:
        """The nearest few and their cognates, which lead the panel alike from pins that stand elsewhere, refined."""
        free = np.isnan(found.held[list(cognates.FOUR_BAR_PINS)].real).all(axis=0)
        which = np.flatnonzero(free & np.isfinite(found.worst))[:SHAKEN]
        pins = cognates.others(found.pins[:, which])
        return found.sorted_with(self.refined(pins, np.tile(found.held[:, which], 2)))

    def shaken(self, found: _Found) -> _Found:
        """Where nothing holds yet: the nearest few, shaken, and refined again from where they fell."""
        few = min(SHAKEN, int(np.isfinite(found.worst).sum()))
        for spread in SPREADS:
            pins, held = (np.repeat(each[:, :few], COPIES, axis=1) for each in (found.pins, found.held))
            lot = self.random.normal(size=pins.shape) + 1j * self.random.normal(size=pins.shape)
            pins = np.where(np.isnan(held.real), pins + spread * self.problem.size * lot, pins)
            found = found.sorted_with(self.refined(pins, held))
            if found.worst[0] <= DONE:
                break
        return found

    def held_against_all(self, found: _Found) -> tuple[Proposal, ...]:
        """Proposals from the best candidates; at least one, if any, to tell how near the chain comes."""
        proposals: list[Proposal] = []
        for k in _different(found.pins, found.worst, 0.08 * self.problem.size, self.effort.exact):
            if proposals and found.worst[k] > MENDABLE:
                break
            proposal = proposed(self.closer, self.chain, found.pins[:, k], self.number)
            if not proposal.ok and proposal.short_by <= 2.0 * MENDABLE:
                pins = self._once_more(found.pins[:, k : k + 1], found.held[:, k : k + 1], proposal)
                again = proposed(self.closer, self.chain, pins[:, 0], self.number)
                if (again.ok, -again.short_by) > (proposal.ok, -proposal.short_by):
                    proposal = again
            proposals.append(proposal)
        return tuple(proposals)

    def _once_more(self, pins: Complexes, held: Complexes, short: Proposal) -> Complexes:
        """A candidate refined against more than is wanted, by what the analysis found it to miss."""
        gaps = {tuple(sorted(check.subject)): -check.margin for check in short.short if check.kind == "gap"}
        margins = np.array([MARGIN + _more(gaps.get(pair.names, 0.0), pair.want) for pair in self.closer.pairs])
        limits = {(check.subject[0], check.side): -check.margin for check in short.short if check.kind == "limit"}
        bounds = tuple(
            replace(each, want=each.want + 1.2 * limits.get((each.mark, each.side), 0.0)) for each in self.closer.bounds
        )
        stricter = replace(self.closer, bounds=bounds)
        pins, _, tried = refine(stricter, self.chain, pins, held, STEPS, margins, wishes=0.02)
        self.tried += tried
        return pins


def _different(pins: Complexes, worst: Floats, apart: float, most: int) -> list[int]:
    """The best few that aren't copies of one another."""
    chosen: list[int] = []
    for k in range(len(worst)):
        if np.isfinite(worst[k]) and all(np.abs(pins[:, k] - pins[:, j]).max() > apart for j in chosen):
            chosen.append(k)
        if len(chosen) == most:
            break
    return chosen


def _more(miss: float, want: float) -> float:
    """What to ask for beyond a want that was missed by so much."""
    return miss + CONTACT_MISS if miss >= want > 0.0 else 1.2 * miss


def proposed(problem: Problem, chain: Chain, pins: Complexes, number: int) -> Proposal:
    """Hold one candidate against every want."""
    project = drafted(problem.project, problem.settings, chain, pins)
    analysis = analyse(project, steps=2)
    checks = searched(analysis.checks)
    short = tuple(check for check in checks if not check.ok)
    by = max((min(-check.margin, 1e6) for check in short), default=0.0)
    return Proposal(
        project,
        chain.kind,
        family(project) or chain.family,
        not short,
        max(by, 0.0),
        key_figures(analysis),
        checks[0],
        number,
        short,
    )
