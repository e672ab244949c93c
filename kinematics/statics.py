"""Statics: how hard the hand must push at every pose, and what every pin carries meanwhile.

Terms. The *effort* is the push at the handle, along its path towards larger openings, that holds the panel still (N;
positive: the hand lifts). By virtual work it needs no pin force: let all links move along the branch by one unit; what
weights, struts and springs do then, and what the push does, add up to nothing,

    effort · |v_handle| + power of all loads = 0.

A *pin force* is what a pin puts on a link. The pins that close loops hold by multipliers λ of the same loop equations
that the sweep closes: with J the Jacobian of the loops, and the loads' efforts Q about every link's turn,

    Jᵀ·λ + Q + (the push's efforts) = 0,

and a pin on the way from the fixed link out to a link bears whatever all that hangs beyond it needs. Where there are
more links than the motion needs (twin arms) equilibrium alone doesn't say who carries how much; given is the share with
the least sum of squares over all pins, which real lengths won't keep to.

*Friction*: a pin of radius r and coefficient μ passes its force at r·sin(atan μ) beside its centre, against the turn of
the two links on it; a strut rubs with a force of its own. So the push that raises the panel is larger than the effort,
and the push that lets it down slowly is smaller. Both are found with the pin forces that they themselves bring about:
what a couple at a pin does to the push and to all pins is the same, however large it is, and so is worked out once.
Of a pin with three links, each but its first rubs against the first.

All figures inside are of the whole panel with all its hinges; what a result says of pins is of one hinge. Sources:
virtual work, Lagrange multipliers, friction circle: any text on mechanics of machines (from memory).
"""

from __future__ import annotations

import cmath
import copy
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import tangents_at
from kinematics.closure import Spots
from kinematics.cushioning import Cushions, cushioned
from kinematics.devices import ROOM_TEMPERATURE, Fitted, fitted, moment
from kinematics.equilibrium import Reactions, bearing, reactions

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.loads import Loads
    from kinematics.sweep import Sweep

GRAVITY = 9.80665
"""m/s², standard gravity, exact (ISO 80000-3)."""
NEAR_DEAD = math.radians(1e-6)
"""Nearer to a dead point than this (rad) nothing is told."""
STILL = 1e-9
"""A handle that moves by less than this share of the reach (of pins and loads) per rad of the links stands still."""
BEYOND = 1e9
"""Links that must turn by so many rad for the loops to open by a share 1 of the size are as good as in line: there the
pin forces are beyond bound."""
ROUNDS = 40
"""So often friction is worked out anew from the pin forces that it brings about …"""
JAM = 1e6
"""Pins that rub themselves to so many times the forces without friction jam."""
SETTLED = 1e-7
"""… until the push changes by less than this share."""
WAYS = 1.0, -1.0
"""The panel goes up, and is let down."""


@dataclass(frozen=True, slots=True, eq=False)
class At:
    """Poses at which forces are worked out.

    openings (n,) rad; e (n, links); turns (n, links) rad; rates (n, links): how the links turn along the branch
    towards larger openings, of any length; holds: what the loops bear, at exact poses.
    """

    openings: Floats
    e: Complexes
    turns: Floats
    rates: Floats
    holds: Reactions | None = None

    def pick(self, which: slice) -> At:
        """Some of the poses."""
        holds = None if self.holds is None else self.holds.pick(which)
        return At(self.openings[which], self.e[which], self.turns[which], self.rates[which], holds)


@dataclass(frozen=True, slots=True, eq=False)
class Applied:
    """What weights, struts, springs and cushions do at poses, without friction and without the hand.

    work : (n, links) N·mm per rad of each link's turn.   by_link : (n, links) complex, the force on each link, N.
    weight : (n,) N·mm per unit of the rates, of the weights alone.   lengths, pushes, growing : (n, devices) mm, N of
    one device, mm per unit of the rates.   ways : (n, devices) unit ways from first end to second.
    """

    work: Floats
    by_link: Complexes
    weight: Floats
    lengths: Floats
    pushes: Floats
    growing: Floats
    ways: Complexes

    def pick(self, which: slice) -> Applied:
        """At some of the poses."""
        return Applied(
            self.work[which],
            self.by_link[which],
            self.weight[which],
            self.lengths[which],
            self.pushes[which],
            self.growing[which],
            self.ways[which],
        )


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """Poses held by the hand; NaN where nothing is told.

    push : (n,) N.   on_second : (n, joints) complex, the force of each joint's pin on its second link, N, all hinges
    together.
    """

    push: Floats
    on_second: Complexes


class Statics:
    """A linkage with its loads, made ready to be asked for forces at many poses at once.

    Only for one that moves with mobility 1: all its links are joined, and have one motion.
    """

    def __init__(self, loads: Loads, sweep: Sweep) -> None:
        closure = sweep.closure
        self.sweep, self.closure, self.loads = sweep, closure, loads
        self.temperature = ROOM_TEMPERATURE if loads.temperature is None else loads.temperature
        held = [(mass.on, mass.at) for mass in loads.masses]
        held += [] if loads.handle is None else [(loads.handle.on, loads.handle.at)]
        spots, many = closure.spots(held), len(loads.masses)
        masses = Spots(spots.links[:many], spots.rows[:many])
        self.handle = None if loads.handle is None else Spots(spots.links[many:], spots.rows[many:])
        forces = np.array([-1j * GRAVITY * mass.mass for mass in loads.masses], dtype=np.complex128)
        self.weight = float(np.abs(forces).sum())
        self.heavy = np.asarray(forces.conj() @ masses.rows)
        self.weighing = np.zeros(len(closure.links), dtype=np.complex128)
        for link, force in zip(masses.links.tolist(), forces.tolist(), strict=True):
            self.weighing[link] += force
        self.fitted: Fitted = fitted(loads.devices, closure)
        self.counts = np.array([float(each.count) for each in loads.devices])
        self.couples = sum(
            abs(each.moment or 0.0) * each.count for each in loads.devices if each.kind == "torsion spring"
        )
        self.rubs = np.array([each.friction or 0.0 for each in loads.devices]) * self.counts
        self.cushions: Cushions = cushioned(loads.cushions, sweep)
        self.bears = bearing(closure)
        held_rows = (spots.rows, self.fitted.across.rows, self.cushions.spots.rows)
        far = (float(np.abs(rows).max(initial=0.0)) for rows in held_rows)
        self.reach = max(1.0, closure.size, *far)
        self.redundant = 2 * len(closure.loops) > len(closure.links) - 2

    def at_temperature(self, warmth: float) -> Statics:
        """The same with gas struts at another temperature (°C)."""
        other = copy.copy(self)
        other.temperature = warmth
        return other

    # ------------------------------------------------------------------------------------------------------- poses
    def at(self, y: Floats) -> At:
        """Exact poses (n, unknowns) of the branch."""
        branch, sweep = self.sweep.branch, self.sweep
        near = branch.tangents[branch.interval(sweep.arcs_of(y))]
        turns = self.closure.link_turns(y)
        e = np.exp(1j * turns)
        holds = reactions(self.closure, e, self.closure.link_turns(near))
        rates = holds.rates
        if rates is None:
            rates = self.closure.link_turns(tangents_at(branch.curve, y, near))
        return At(sweep.sign * y[:, sweep.panel], e, turns, rates, holds)

    def nearly(self, arcs: Floats) -> At:
        """Poses by the cubics between knots, at places along the branch (rad): good to six digits, and quick."""
        branch = self.sweep.branch
        y, rates = branch.cubic_and_rates(arcs, branch.interval(arcs))
        turns = self.closure.link_turns(y)
        openings = self.sweep.sign * y[:, self.sweep.panel]
        return At(openings, np.exp(1j * turns), turns, self.closure.link_turns(rates))

    def asked(self, arcs: Floats, near: At, applied: Applied) -> tuple[At, Applied]:
        """Poses by the cubics, at places along the branch, made ready to be asked for pin forces.

        Exact ones where there are more loops than the motion leaves: these agree with each other on exact poses alone.
        """
        if self.redundant:
            at = self.at(self.sweep.at_arcs(arcs))
            return at, self.applied(at)
        holds = reactions(self.closure, near.e, near.rates)
        return At(near.openings, near.e, near.turns, near.rates if holds.rates is None else holds.rates, holds), applied

    # ------------------------------------------------------------------------------------------------------ forces
    def applied(self, at: At) -> Applied:
        """What weights, struts, springs and cushions do."""
        e = at.e
        heavy = (1j * e * self.heavy).real
        lengths, ways = self.fitted.spans(e)
        pushes = self.fitted.pushes(lengths, self.temperature)
        forces = self.counts * pushes * ways
        work = heavy + self.fitted.across.efforts(e, forces)
        by_link = self.weighing + forces @ self.fitted.share
        self._add_moments(at, work)
        if self.loads.cushions:
            self.cushions.add_to(work, by_link, e, at.openings)
        growing = self.fitted.lengthening(e, at.rates, ways)
        return Applied(work, by_link, (heavy * at.rates).sum(axis=1), lengths, pushes, growing, ways)

    def _add_moments(self, at: At, work: Floats) -> None:
        """Add torsion springs to the work about every link's turn."""
        for k, device in enumerate(self.fitted.devices):
            if device.kind == "torsion spring":
                tail, head = self.fitted.tails[k], self.fitted.heads[k]
                turning = device.count * moment(device, at.turns[:, head] - at.turns[:, tail])
                work[:, head] += turning
                work[:, tail] -= turning

    def weighs(self, at: At, slope: float) -> Floats:
        """(n,) N·mm per unit of the rates that the weights do on a body that stands on a slope: `slope` (rad) is how
        far their direction is turned anticlockwise from straight down.
        """
        return np.asarray((1j * at.e * (self.heavy * cmath.exp(-1j * slope)) * at.rates).real.sum(axis=1))

    def power(self, at: At, applied: Applied) -> Floats:
        """(n,) N·mm that the loads do per unit of the rates: negative where the hand must lift."""
        return np.asarray((applied.work * at.rates).sum(axis=1))

    def told(self, at: At) -> tuple[Bools, Complexes]:
        """(n,) whether anything is told at a pose (not within 1e-6° of a dead point, nor where the handle stands
        still), and (n,) how the handle moves, mm per unit of the rates.
        """
        if self.handle is None:
            return np.zeros(len(at.e), dtype=np.bool_), np.zeros(len(at.e), dtype=np.complex128)
        speed = self.handle.rates(at.e, at.rates)[:, 0]
        good = np.abs(speed) > STILL * self.reach
        if self.sweep.folds:
            good &= at.openings < self.sweep.largest - NEAR_DEAD
        return good, speed

    def effort(self, at: At, applied: Applied) -> Floats:
        """(n,) N, by virtual work alone; NaN where nothing is told."""
        good, speed = self.told(at)
        return np.where(good, -self.power(at, applied) / np.where(good, np.abs(speed), 1.0), np.nan)

    def held(self, at: At, applied: Applied) -> Held:
        """The hand's push and the pins' forces, without friction."""
        return self._held(at, applied.work, applied.by_link)

    def _held(self, at: At, work: Floats, by_link: Complexes) -> Held:
        good, speed = self.told(at)
        holds = at.holds
        if self.handle is None or holds is None or not good.any():
            return Held(np.full(len(at.e), np.nan), np.full((len(at.e), len(self.bears.turning)), np.nan + 0j))
        good &= self._bounded(at)
        pace = np.where(good, np.abs(speed), 1.0)
        push = -(work * at.rates).sum(axis=1) / pace
        hand = (push * speed / pace)[:, None]
        by_link = by_link.copy()
        by_link[:, self.handle.links[0]] += hand[:, 0]
        closing = holds.multipliers(self.bears, work + self.handle.efforts(at.e, hand), by_link)
        forces = by_link @ self.bears.by_links.T + closing @ self.bears.by_loops.T
        return Held(np.where(good, push, np.nan), np.where(good[:, None], forces, np.nan))

    def borne(self, at: At, applied: Applied, ends: Spots, forces: Complexes) -> Complexes:
        """(n, joints) N on each joint's second link while forces (n, m) at spots hold instead of the hand.

        They must be in balance with the loads; NaN where nothing is told.
        """
        if at.holds is None:
            return np.full((len(at.e), len(self.bears.turning)), np.nan + 0j)
        by_link = applied.by_link.copy()
        for k, link in enumerate(ends.links.tolist()):
            by_link[:, link] += forces[:, k]
        closing = at.holds.multipliers(self.bears, applied.work + ends.efforts(at.e, forces), by_link)
        found = by_link @ self.bears.by_links.T + closing @ self.bears.by_loops.T
        return np.where(self._bounded(at)[:, None], found, np.nan)

    def _bounded(self, at: At) -> Bools:
        """(n,) whether no links are so much in line that pin forces are beyond bound."""
        holds = at.holds
        if holds is None or holds.inverse is None:
            return np.ones(len(at.e), dtype=np.bool_)
        return np.asarray(_largest(np.abs(holds.inverse).reshape(len(at.e), -1)) * self.closure.size < BEYOND)

    # ---------------------------------------------------------------------------------------------------- friction
    @property
    def rubbing(self) -> bool:
        """Whether any friction is told of."""
        return bool(self.rubs.any()) or self._friction_radius > 0.0

    @property
    def _friction_radius(self) -> float:
        """Radius (mm) of the circle to which a pin's force is tangent."""
        rub = self.loads.pin_friction
        return 0.0 if rub is None else rub.pin_radius * math.sin(math.atan(rub.coefficient))

    def rubbed(self, at: At, applied: Applied) -> tuple[Floats, Floats]:
        """The pushes (n,) N against friction while the panel goes up, and while it is let down.

        NaN where nothing is told, and where the pins would rub so hard that no push is enough, or none is needed: they
        jam.
        """
        slow = np.sign(np.round(applied.growing / self.reach, 12)) * self.rubs
        held = [self._held_by(at, applied, -way * slow * applied.ways) for way in WAYS]
        pushes = np.stack([each.push for each in held], axis=1)
        if self._friction_radius > 0.0:
            against = -np.sign(np.round(at.rates @ self.bears.turning.T, 12)) * self._friction_radius
            forces = np.stack([each.on_second for each in held], axis=1)
            pushes = self._settled(self._answers(at), pushes, forces, against[:, None] * np.array(WAYS)[:, None])
        return pushes[:, 0], pushes[:, 1]

    def _held_by(self, at: At, applied: Applied, rub: Complexes) -> Held:
        """Held with forces (n, devices) N besides, at devices' heads."""
        work = applied.work + self.fitted.across.efforts(at.e, rub)
        return self._held(at, work, applied.by_link + rub @ self.fitted.share)

    def _answers(self, at: At) -> tuple[Floats, Complexes]:
        """What a couple of 1 N·mm on each joint's second link, against its first, changes.

        (n, joints) the push, N, and (n, joints, joints) the forces on all joints' second links, N, the last of them.
        """
        handle, holds, bears = self.handle, at.holds, self.bears
        if handle is None or holds is None:
            count = len(bears.turning)
            return np.zeros((len(at.e), count)), np.zeros((len(at.e), count, count), dtype=np.complex128)
        good, speed = self.told(at)
        pace = np.where(good, np.abs(speed), 1.0)[:, None]
        way = speed[:, None] / pace
        push = -(at.rates @ bears.turning.T) / pace
        by_link = np.zeros((len(at.e), *bears.turning.shape), dtype=np.complex128)
        by_link[:, :, handle.links[0]] = hand = push * way
        work = bears.turning + push[:, :, None] * handle.efforts(at.e, way)[:, None]
        closing = holds.multipliers(bears, work, by_link)
        borne = (closing.reshape(hand.size, closing.shape[2]) @ bears.by_loops.T).reshape(
            *hand.shape, len(bears.turning)
        )
        borne += hand[:, :, None] * bears.by_links[:, handle.links[0]]
        return push, borne

    def _settled(self, answers: tuple[Floats, Complexes], pushes: Floats, forces: Complexes, against: Floats) -> Floats:
        """(n, ways) the push with couples at the pins that their own forces bring about.

        pushes (n, ways), forces (n, ways, joints): without those couples.   against : (n, ways, joints) mm, the
        friction circle's radius, negative where its couple on the second link is clockwise.
        """
        by_push, by_force = answers[0][:, :, None], answers[1].view(np.float64)
        push, force, size = pushes, forces, np.abs(forces)
        most = _largest(size)
        jam = JAM * (most + np.abs(push))
        for _ in range(ROUNDS):
            couples = against * size
            couples[~(most <= jam)] = np.nan
            before, push, last = push, pushes + (couples @ by_push)[:, :, 0], force
            force = forces + (couples @ by_force).view(np.complex128)
            size = np.abs(force)
            most = _largest(size)
            unsettled = _largest(np.abs(force - last)) + np.abs(push - before) > SETTLED * (most + np.abs(push))
            if not unsettled.any():
                return push
        return np.where(unsettled, np.nan, push)


def _largest(values: Floats) -> Floats:
    """The largest along the last axis, of numbers that aren't negative; numpy is quicker at it along the first."""
    return np.asarray(np.maximum.reduce(np.ascontiguousarray(values.T), axis=0, initial=0.0).T)
