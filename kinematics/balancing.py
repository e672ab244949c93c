"""The openings that matter: where the loads hold each other, where weight goes over, where the effort is largest.

They are found on samples along the branch, by the cubics between knots, and settled on exact poses nearby: three about
each balance and tip-over, and the peaks of the effort. Which exact poses that takes is told first (`Marks.peaks`,
`Marks.looks`), so that they can be worked out together with all others that are asked for.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.cushioning import HARDEST
from kinematics.results import Balance

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Floats
    from kinematics.statics import Applied, At, Statics

FINE = 4
"""Samples in each stretch between knots when balances and the largest push are sought."""
LOOK = 1.5e-4
"""Half the width (rad of arc) of the look on exact poses that settles a balance; its error falls with its cube."""
THREE = np.array([-1.0, 0.0, 1.0])
"""The places of that look, in half widths."""
ZOOM = np.linspace(0.0, 1.0, 17)
"""Shares of a stretch that holds a balance at a jump or sharp bend …"""
ZOOMS = 4
"""… which is narrowed so often."""
SHORT = 1e-3
"""So far (rad of arc) before a dead point the last sample stands."""
STANDS = 1e-6
"""A handle slower than this share of the reach, per rad of all links, stands at the dead point."""
NOTHING = 1e-6
"""A power below this share of the largest is none: what always balances has no openings at which it does."""


@dataclass(frozen=True, slots=True, eq=False)
class _Crossing:
    """A power goes through nothing after sample k, falling or rising; about there are the three places to look at."""

    k: int
    falls: bool
    guess: float
    places: Floats


class Marks:
    """The openings that matter, found on samples along the branch and settled on exact poses."""

    def __init__(self, statics: Statics) -> None:
        self.statics, self.sweep = statics, statics.sweep
        self.arcs = self.sweep.fine_arcs(0.0, FINE) if self.sweep.reach_arc > 0.0 else np.zeros(1)
        self.arcs = np.union1d(self.arcs, self._near_shut()) if len(statics.cushions.bends) else self.arcs
        at_dead_point = self.sweep.folds and self.arcs[-1] >= self.sweep.branch.arcs[-1]
        if at_dead_point:
            self.arcs[-1] = max(self.arcs[-1] - SHORT, 0.5 * (self.arcs[-1] + self.arcs[max(len(self.arcs) - 2, 0)]))
        self.bends = np.searchsorted(self.arcs, statics.cushions.bends)
        self.near = statics.nearly(self.arcs)
        self.loads = statics.applied(self.near)
        self.all_loads = self._all_loads()
        self.grows = self._growing() if at_dead_point else 0.0
        self._balancing = self._crossings(statics.power(self.near, self.loads))
        self._tipping = self._crossings(self.loads.weight)

    def _near_shut(self) -> Floats:
        """Places within the sweep at which cushions are looked at closely."""
        places = self.statics.cushions.arcs
        return np.asarray(places[places < self.arcs[-1] - 1e-9])

    def _growing(self) -> float:
        """The sign of a push that grows without bound as the handle comes to a stand at the dead point; else 0."""
        branch, statics = self.sweep.branch, self.statics
        if statics.handle is None:
            return 0.0
        turns = self.sweep.link_turns(branch.turns[-1:])
        speed = statics.handle.rates(np.exp(1j * turns), self.sweep.link_turns(branch.tangents[-1:]))
        if abs(speed[0, 0]) > STANDS * statics.reach:
            return 0.0
        left = float(statics.power(self.near, self.loads)[-1])
        return -float(np.sign(left)) if abs(left) > NOTHING * self.all_loads * statics.reach else 0.0

    def looks(self) -> Floats:
        """Places (rad of arc), three about each opening that matters, at which exact poses are to be looked at."""
        return np.array([crossing.places for crossing in (*self._balancing, *self._tipping)]).ravel()

    def balances(self, openings: Floats, power: Floats) -> tuple[Balance, ...]:
        """Where all loads together hold each other, with or without a handle; by what is found at the looks."""
        found = self._settled(self._balancing, openings, power, self.statics.power)
        return tuple(Balance(deg, falls) for deg, falls in found)

    def tip_overs(self, openings: Floats, power: Floats) -> tuple[float, ...]:
        """Openings (deg) at which the masses stand highest; by the weights' power at the looks."""
        start = len(THREE) * len(self._balancing)
        found = self._settled(self._tipping, openings[start:], power[start:], lambda _, applied: applied.weight)
        return tuple(deg for deg, falls in found if not falls)

    def _crossings(self, power: Floats) -> list[_Crossing]:
        """About where a power goes through nothing."""
        size = float(np.abs(power).max(initial=0.0))
        if size <= NOTHING * max(self.all_loads * self.statics.reach, 1e-300):
            return []
        signs = np.sign(power)
        i = np.flatnonzero((signs[:-1] * signs[1:] < 0.0) | ((signs[1:] == 0.0) & (signs[:-1] != 0.0)))
        found = []
        for k in i.tolist():
            guess = self._guess(power, k)
            places = np.clip(guess + LOOK * THREE, 0.0, self.sweep.reach_arc)
            found.append(_Crossing(k, bool(power[k] > 0.0), guess, places))
        return found

    def _settled(
        self, crossings: list[_Crossing], openings: Floats, power: Floats, of: Callable[[At, Applied], Floats]
    ) -> list[tuple[float, bool]]:
        """Openings (deg) of crossings, and whether the power falls there; its first ones are those at the looks."""
        found = []
        for crossing, there, powers in zip(crossings, _threes(openings), _threes(power), strict=False):
            opening = None if self._bent(crossing.guess) else self._nearby(crossing.places.tolist(), there, powers)
            opening = self._between(crossing.k, crossing.falls, of) if opening is None else opening
            found.append((math.degrees(opening), crossing.falls))
        return found

    def _bent(self, place: float) -> bool:
        """Whether a cushion is released so near a place that the look about it might take in the bend."""
        return bool((np.abs(self.arcs[self.bends] - place) < 4.0 * LOOK).any())

    def _guess(self, power: Floats, k: int) -> float:
        """Where the power goes through nothing after sample k: the place as a cubic of it, through four samples."""
        low, high = self.arcs[k], self.arcs[k + 1]
        start = min(max(k - 1, 0), max(len(power) - 4, 0))
        x, p = self.arcs[start : start + 4].tolist(), power[start : start + 4].tolist()
        steps = [b - a for a, b in itertools.pairwise(p)]
        bent = ((self.bends > start) & (self.bends < start + 3)).any()
        if bent or min(steps) * max(steps) <= 0.0:  # no smooth function of it
            return float(low + (high - low) * power[k] / (power[k] - power[k + 1]))
        return float(min(max(_lagrange(p, x, 0.0), low), high))

    def _nearby(self, x: list[float], openings: list[float], power: list[float]) -> float | None:
        """The opening (rad) of a crossing by the parabola through three exact poses about a guess.

        None where that doesn't lead to a place near them: the guess was bad, or the power jumps there.
        """
        steps = [b - a for a, b in itertools.pairwise(power)]
        if min(steps) * max(steps) <= 0.0:
            return None
        place = _lagrange(power, x, 0.0)
        if not max(x[0] - LOOK, 0.0) <= place <= min(x[2] + LOOK, self.sweep.reach_arc):
            return None
        return _lagrange(x, openings, place)

    def _between(self, k: int, falls: bool, of: Callable[[At, Applied], Floats]) -> float:
        """The opening (rad) of a crossing after sample k on exact poses, where the power jumps or bends sharply."""
        low, high, opening = float(self.arcs[k]), float(self.arcs[k + 1]), 0.0
        for _ in range(ZOOMS):
            places = low + (high - low) * ZOOM
            at = self.statics.at(self.sweep.at_arcs(places))
            before = (of(at, self.statics.applied(at)) > 0.0) == falls
            last = int(np.clip(before.cumprod().sum() - 1, 0, len(ZOOM) - 2))
            low, high, opening = float(places[last]), float(places[last + 1]), float(at.openings[last])
        return opening

    def _all_loads(self) -> float:
        """N, all weights and pushes together, and couples as if they worked at the reach, at their largest."""
        pushes = float((np.abs(self.loads.pushes) @ self.statics.counts).max(initial=0.0))
        cushions = HARDEST * float(self.statics.cushions.pushes.sum())
        return self.statics.weight + pushes + cushions + self.statics.couples / self.statics.reach

    def peaks(self) -> Floats:
        """Places (none, or 2 and more) of the largest and the least effort, near enough for the effort there to be
        exact; of each stretch between bends, as no smooth curve leads over a bend.
        """
        effort = self.statics.effort(self.near, self.loads)
        cuts = sorted({0, *self.bends.tolist(), len(effort) - 1})
        stretches = list(itertools.pairwise(cuts)) or [(0, 0)]
        found = [self._peak(way * effort, low, high) for low, high in stretches for way in (1.0, -1.0)]
        return np.array([place for place in found if place is not None])

    def _peak(self, effort: Floats, low: int, high: int) -> float | None:
        """Where it stands highest from sample `low` to `high`, by the parabola through the highest and its neighbours;
        an end that stands highest is the place unless the parabola of the last three stands higher beside it.
        """
        part = effort[low : high + 1]
        told = np.isfinite(part)
        if not told.any():
            return None
        k = low + int(np.argmax(part if told.all() else np.where(told, part, -np.inf)))
        middle = min(max(k, low + 1), high - 1)
        if high - low < 2 or not told[middle - 1 - low : middle + 2 - low].all():
            return float(self.arcs[k])
        x, y = self.arcs[middle - 1 : middle + 2].tolist(), effort[middle - 1 : middle + 2].tolist()
        before, after = x[1] - x[0], x[2] - x[1]
        rise, fall = (y[1] - y[0]) / before, (y[2] - y[1]) / after
        bend = (fall - rise) / (0.5 * (before + after))
        slope = (rise * after + fall * before) / (before + after)
        return x[1] + min(max(-slope / bend, -before), after) if bend < 0.0 else float(self.arcs[k])


def _threes(values: Floats) -> list[list[float]]:
    """The values by three, those of each look."""
    found: list[list[float]] = values.reshape(-1, len(THREE)).tolist()
    return found


def _lagrange(x: list[float], values: list[float], at: float) -> float:
    """The polynomial through (x, values), at a place."""
    many = range(len(x))
    return sum(values[j] * math.prod((at - x[m]) / (x[j] - x[m]) for m in many if m != j) for j in many)
