"""Refining: many candidates made better side by side, by damped Gauss–Newton steps.

Misses and wishes are rows of least squares; their derivatives by every free coordinate come from moving each a little,
for all candidates in one score. Several dampings are tried at once and the best step is taken, so a candidate never
gets worse. A candidate that a step no longer helps is left as it is.

Source: K. Levenberg, 1944, and D. W. Marquardt, 1963, as in any book on least squares (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.proposals.scoring import Score, score

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem

NUDGE = 0.4
"""mm by which a coordinate is moved to see what it does."""
DAMPINGS = (3e-3, 0.1, 3.0, 100.0)
"""Tried at each step, as shares of the mean curvature."""
LONGEST = 40.0
"""mm that a pin moves in a step, at most."""


def refine(
    problem: Problem,
    chain: Chain,
    pins: Complexes,
    held: Complexes,
    steps: int,
    margin: Floats | float = 0.0,
    wishes: float = 1.0,
) -> tuple[Complexes, Floats, int]:
    """Make candidates better.

    pins, held : (pins, n) as `seeding.seeds` gives them.     margin : as for `score`.     wishes : what they weigh.
    Returns the pins, (n,) their worst misses (mm), and how many candidates were scored on the way.
    """
    pins = pins.copy()
    asked = Asked(problem, chain, margin, wishes)
    cost, worst = asked.judged(pins)
    before = np.full(len(cost), np.inf)
    for _ in range(steps):
        going = (cost < 1e11) & (cost > 1e-6) & (cost < before * 0.99)
        if not going.any():
            break
        before = np.where(going, cost, before)
        tried = _steps(asked, pins[:, going], np.isnan(held[:, going].real))
        best, its_cost, its_worst = _best(asked, tried)
        better = its_cost < cost[going]
        which = np.flatnonzero(going)[better]
        pins[:, which], cost[which], worst[which] = best[:, better], its_cost[better], its_worst[better]
    return pins, worst, asked.tried


@dataclass(slots=True, eq=False)
class Asked:
    """What candidates are scored for, and how many were."""

    problem: Problem
    chain: Chain
    margin: Floats | float
    wishes: float
    tried: int = 0

    def score(self, pins: Complexes) -> Score:
        """Score candidates, wishes weighed."""
        self.tried += pins.shape[1]
        told = score(self.problem, self.chain, pins, self.margin)
        return Score(told.misses, self.wishes * told.wishes, told.reached)

    def judged(self, pins: Complexes) -> tuple[Floats, Floats]:
        """Costs and worst misses."""
        told = self.score(pins)
        return told.cost, told.worst


def _steps(asked: Asked, pins: Complexes, free: Bools) -> Complexes:
    """(dampings, pins, n) where each damping would move the pins."""
    count, many = pins.shape
    nudged = np.repeat(pins[:, None, :], 2 * count + 1, axis=1)
    for pin in range(count):
        nudged[pin, 1 + 2 * pin] += NUDGE
        nudged[pin, 2 + 2 * pin] += 1j * NUDGE
    told = asked.score(nudged.reshape(count, -1))
    rows = np.concatenate([told.misses, told.wishes]).reshape(-1, 2 * count + 1, many)
    broken = (told.reached < 1.0).reshape(2 * count + 1, many)[1:]
    base = rows[:, 0].T
    slopes = np.moveaxis((rows[:, 1:] - rows[:, :1]) / NUDGE, 2, 0)
    held = np.repeat(~free.T, 2, axis=1) | broken.T
    slopes = np.where(held[:, None, :], 0.0, slopes)
    curves = np.swapaxes(slopes, 1, 2) @ slopes
    down = -np.einsum("nrd,nr->nd", slopes, base)
    mean = np.trace(curves, axis1=1, axis2=2) / (2 * count) + 1e-9
    moved = []
    for damping in DAMPINGS:
        damped = curves + (damping * mean)[:, None, None] * np.eye(2 * count)
        by = np.linalg.solve(damped, down[..., None])[..., 0]
        by = by[:, 0::2] + 1j * by[:, 1::2]
        by *= np.minimum(1.0, LONGEST / np.maximum(np.abs(by).max(axis=1), 1e-12))[:, None]
        moved.append(pins + by.T)
    return np.stack(moved)


def _best(asked: Asked, tried: Complexes) -> tuple[Complexes, Floats, Floats]:
    dampings, count, many = tried.shape
    cost, worst = (each.reshape(dampings, many) for each in asked.judged(np.moveaxis(tried, 1, 0).reshape(count, -1)))
    chosen = np.argmin(cost, axis=0)
    every = np.arange(many)
    return tried[chosen, :, every].T, cost[chosen, every], worst[chosen, every]
