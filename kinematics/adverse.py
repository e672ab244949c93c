"""All that may go against an open panel, case by case: cold, a slope, one strut dead, a gust.

Terms. Cold takes force from gas struts (`devices.gas_factor`); a slope turns the weights' direction against the body,
uphill or downhill; a dead strut pushes nothing, whichever it is; a gust presses on the panel from either side
(`kinematics.gust`). Friction isn't relied on. The *power* is what all loads do per unit of the motion towards larger
openings: more than nothing opens the panel, less shuts it. What holds the panel instead of a hand (a prop, a stop)
gives the opposite, at the rate by which it grows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.devices import ROOM_TEMPERATURE
from kinematics.gust import board
from kinematics.results import Worst

if TYPE_CHECKING:
    from kinematics.arrays import Floats
    from kinematics.gust import Board
    from kinematics.loads import Loads, WorstCase
    from kinematics.project import Project
    from kinematics.results import Gust
    from kinematics.statics import Applied, At, Statics
    from kinematics.sweep import Sweep


BOUND = 1000.0
"""A force beyond so many times all loads is no figure to build on."""


@dataclass(frozen=True, slots=True, eq=False)
class Adverse:
    """The cases at poses.

    brings : what each brings; its force is nothing yet.   power : (cases, n) N·mm per unit of the rates, without wind.
    gusting : (n,) the same of the gust alone, either way.   gust : None where there is none.
    """

    brings: tuple[Worst, ...]
    power: Floats
    gusting: Floats
    gust: Gust | None

    def largest(self, pose: int, rate: float) -> Worst:
        """Give the largest force (N) of what holds the panel at a pose where it grows by `rate` mm per unit."""
        swing = abs(float(self.gusting[pose]) / rate)
        forces = -self.power[:, pose] / rate + swing
        case = int(np.argmax(forces))
        wind = 0.0 if self.gust is None or swing == 0.0 else self.gust.speed
        return replace(self.brings[case], force=float(forces[case]), wind=wind)

    def least(self, pose: int, rate: float) -> Worst:
        """Give the least of the same."""
        found = self.largest(pose, -rate)
        return replace(found, force=-found.force)


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Poses with what the loads do there, and what may go against them there (None: nothing is asked for)."""

    project: Project
    statics: Statics
    at: At
    applied: Applied
    against: Adverse | None

    def power(self, pose: int) -> float:
        """N·mm per unit of the rates that all loads do."""
        return float(self.statics.power(self.at, self.applied)[pose])

    def bears(self, pose: int, rate: float) -> float | None:
        """N of what holds the panel without a hand, where that grows by `rate` mm per unit of the rates.

        None beyond BOUND times all loads: what hardly moves with the panel doesn't hold it.
        """
        if rate == 0.0:
            return None
        force, against = -self.power(pose) / rate, self.against
        largest = [abs(force)] if against is None else [abs(force), abs(against.largest(pose, rate).force)]
        gust = 0.0 if against is None or against.gust is None else against.gust.force
        pushes = float((np.abs(self.applied.pushes[pose]) * self.statics.counts).sum())
        return force if max(largest) <= BOUND * (self.statics.weight + pushes + gust) else None


def adverse(project: Project, statics: Statics, case: WorstCase, at: At, applied: Applied) -> Adverse:
    """Everything that a case may bring, at poses and what the loads do there.

    Powers add up, so each case is put together from those of weights, of single struts, and of all that stays the same.
    """
    loads = statics.loads
    warmth = loads.temperature if case.temperature is None else case.temperature
    pushes = statics.fitted.pushes(applied.lengths, ROOM_TEMPERATURE if warmth is None else warmth)
    rest = statics.power(at, applied) - applied.weight + (pushes - applied.pushes) * applied.growing @ statics.counts
    slopes = (case.slope_deg, -case.slope_deg) if case.slope_deg > 0.0 else (0.0,)
    tilted = [statics.weighs(at, math.radians(slope)) for slope in slopes]
    brings, power = [], []
    for dead in _dead(loads) if case.one_dead else (None,):
        lost = 0.0 if dead is None else pushes[:, dead] * applied.growing[:, dead]
        for slope, weight in zip(slopes, tilted, strict=True):
            brings.append(Worst(0.0, warmth, slope, "" if dead is None else loads.devices[dead].id))
            power.append(weight + rest - lost)
    facing = board(project) if case.wind > 0.0 else None
    gust = None if facing is None else facing.gust(case.wind)
    gusting = np.zeros(len(at.e))
    if facing is not None and gust is not None:
        gusting = gust_power(facing, statics.sweep, at, gust.force)
    return Adverse(tuple(brings), np.array(power), np.abs(gusting), gust)


def gust_power(facing: Board, sweep: Sweep, at: At, force: float) -> Floats:
    """(n,) N·mm per unit of the rates that a force (N) does which presses squarely on the panel's chord."""
    return np.asarray((facing.work(sweep.closure, at.e, force) * at.rates).sum(axis=1))


def _dead(loads: Loads) -> tuple[int | None, ...]:
    """The devices of which one strut may fail, by their places; None alone where there is no gas strut."""
    return tuple(k for k, device in enumerate(loads.devices) if device.kind == "gas strut") or (None,)
