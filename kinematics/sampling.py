"""Hinges with faults, tried: holes off at random and pins leaning at random, each hinge moved anew and measured.

It answers the question of `kinematics.sureness` the other way: no first order, but also no worst case, as nobody draws
all faults to the full at once. Each fault is drawn evenly over its disc: a hole within h of its place on its link, a
pin within p/2 of the middle of the wider hole, leaning one way on the first link of its pivot. The loops are closed
again by Newton with the panel's turn held, at the poses at which the sureness is looked at, and the gaps are measured
there. The same seed draws the same faults.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import Complexes, Floats, frozen
from kinematics.branch import newton_step
from kinematics.closure import Closure, maps
from kinematics.parts import Sureness
from kinematics.sureness import nearest_points, poses_of, unanswered

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Bools
    from kinematics.sureness import Poses

NEWTON = 12
"""Steps of Newton within which a hinge with small faults closes, or doesn't."""
COUNT = 200
"""Hinges that are tried where nobody says how many."""


@dataclass(frozen=True, slots=True, eq=False)
class Faults:
    """What is off in one hinge, mm, complex.

    first : (pivots,) the hole of each pivot's first link, in that link's shut coordinates.
    others : (joints,) the hole of each joint's second link, in that link's.
    leans : (joints,) how the second link's hole lies off the pin, in the first link's.
    """

    first: Complexes
    others: Complexes
    leans: Complexes


@dataclass(frozen=True, slots=True, eq=False)
class Sampled:
    """One gap over hinges that were tried.

    smallest : (hinges,) mm, the smallest gap of each, from the least on; at_deg : (hinges,) the openings of those.
    poses : at how many each was looked at.   stuck : how many hinges didn't reach every pose.
    """

    between: tuple[str, str]
    smallest: Floats
    at_deg: Floats
    poses: int
    stuck: int


class Trying:
    """Hinges tried one by one, for those who have something else to do in between.

    Only for an analysis of which `how_sure` has something to say.
    """

    def __init__(self, analysis: Analysis, count: int = COUNT, seed: int = 1) -> None:
        self.analysis, self.count = analysis, count
        self._chance = np.random.default_rng(seed)
        self._poses = poses_of(analysis, [gap.at_deg for gap in analysis.gaps if gap.at_deg is not None])[0]
        self._tried: list[tuple[Floats, Bools]] = []

    @property
    def is_done(self) -> bool:
        """Whether all have been tried."""
        return len(self._tried) >= self.count

    def one_more(self) -> None:
        """Try the next one."""
        asked = self.analysis.project.sureness or Sureness()
        faults = _drawn(self.analysis.sweep.closure, asked, self._chance)
        self._tried.append(moved_gaps(self.analysis, self._poses, faults))

    def found(self) -> tuple[Sampled | None, ...]:
        """What those that were tried came to, for each gap of the analysis; None for one without a figure."""
        stuck = sum(not closed.all() for _, closed in self._tried)
        found: list[Sampled | None] = []
        for place, gap in enumerate(self.analysis.gaps):
            if gap.smallest is None or any(name not in self.analysis.bodies for name in gap.between):
                found.append(None)
                continue
            counts = self._poses.degs >= gap.after_deg - 1e-9
            gaps = np.array([np.where(counts & closed, gaps[:, place], np.inf) for gaps, closed in self._tried])
            gaps = gaps.reshape(len(self._tried), len(counts))
            least = gaps.min(axis=1, initial=np.inf)
            order = np.argsort(least, kind="stable")
            degs = self._poses.degs[gaps.argmin(axis=1)][order]
            found.append(Sampled(gap.between, frozen(least[order]), frozen(degs), int(counts.sum()), stuck))
        return tuple(found)


def sampled(analysis: Analysis, count: int = COUNT, seed: int = 1) -> tuple[Sampled | None, ...]:
    """Try so many hinges with random faults: each gap in the order of `analysis.gaps`; None for one without a figure.

    () where nobody said how far holes may be off, or the linkage can't be asked.
    """
    if analysis.project.sureness is None or unanswered(analysis):
        return ()
    trying = Trying(analysis, count, seed)
    while not trying.is_done:
        trying.one_more()
    return trying.found()


def _drawn(closure: Closure, asked: Sureness, chance: np.random.Generator) -> Faults:
    def disc(count: int, radius: float) -> Complexes:
        away = radius * np.sqrt(chance.random(count))
        return np.asarray(away * np.exp(2j * np.pi * chance.random(count)))

    pivots, joints = len(closure.places), len(closure.joints)
    return Faults(disc(pivots, asked.holes), disc(joints, asked.holes), disc(joints, 0.5 * asked.play))


def moved_gaps(analysis: Analysis, poses: Poses, faults: Faults) -> tuple[Floats, Bools]:
    """(poses, gaps) mm the gaps of one hinge with faults, exactly, at openings of the panel; and (poses,) where it
    closes. inf for a pair without a figure.
    """
    closure, curve = analysis.sweep.closure, analysis.sweep.branch.curve
    on = np.array([joint.pivot for joint in closure.joints], dtype=np.intp)
    first = closure.places[on] + faults.first[on] + faults.leans
    shift_map, loops = maps(closure.walk, closure.joints, first, closure.places[on] + faults.others)
    off = replace(closure, shift_map=shift_map, loops=loops)
    curve = replace(curve, loops=off.by_group(loops)[closure.lively])
    y, held = poses.y.copy(), np.zeros_like(poses.y)
    held[:, analysis.sweep.panel] = 1.0
    for _ in range(NEWTON):
        residual = curve.residual(y)
        if np.abs(residual).max(initial=0.0) <= curve.solved:
            break
        y -= newton_step(curve, y, residual, held)
    closed = np.abs(curve.residual(y)).max(axis=1, initial=0.0) <= curve.accepted
    closed &= np.abs(y - poses.y).max(axis=1, initial=0.0) < 1.0  # else it has closed in another way
    y[~closed] = poses.y[~closed]
    turns = off.link_turns(y)
    e, shifts = np.exp(1j * turns), off.shifts(turns)
    found = np.full((len(y), len(analysis.gaps)), np.inf)
    for place, gap in enumerate(analysis.gaps):
        a, b = (analysis.bodies.get(name) for name in gap.between)
        if a is not None and b is not None:
            one, other = nearest_points((a, b), e, shifts)
            found[:, place] = np.maximum(np.abs(other - one) - a.radius - b.radius, 0.0)
    return found, closed
