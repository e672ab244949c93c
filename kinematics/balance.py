"""What the loads come to over a sweep: effort and pin forces at the reported poses, and the openings that matter.

Terms. The panel *balances* where the effort goes through nothing: left alone it stays there, *stable* where the effort
grows with the opening (pushed further it comes back), else not. The *tip-over* is where weight alone would go over:
where the masses stand highest, which for a panel that alone is heavy is where its mass centre stands above its instant
centre. No fixed angle has to do with it, and a dead point, where the links can go no further, is another thing.

Openings are found between the reported poses, on the sweep itself, so they don't depend on how many are reported.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen
from kinematics.cushioning import HARDEST
from kinematics.holding import holding
from kinematics.results import Balance, LoadFigures, Push
from kinematics.shutting import shut_figures
from kinematics.statics import Statics

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Complexes, Floats
    from kinematics.closure import Joint
    from kinematics.project import Project
    from kinematics.results import HoldingFigures
    from kinematics.statics import Applied, At, Held
    from kinematics.sweep import Sweep

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
BOUND = 1000.0
"""A push or a pin force beyond so many times all loads is no figure to build on: it is told as beyond that bound."""
SHORT = 1e-3
"""So far (rad of arc) before a dead point the last sample stands."""
STANDS = 1e-6
"""A handle slower than this share of the reach, per rad of all links, stands at the dead point."""
NOTHING = 1e-6
"""A power below this share of the largest is none: what always balances has no openings at which it does."""


def load_figures(project: Project, sweep: Sweep, y: Floats) -> LoadFigures | None:
    """The figures at reported poses (n, unknowns) and over the sweep; None where the project has no loads."""
    loads = project.loads
    if loads is None:
        return None
    if not _moves(sweep):
        return _untold(project, len(y), ())
    statics, count = Statics(loads, sweep), len(y)
    marks = _Marks(statics)
    peaks = marks.peaks()
    at = statics.at(np.concatenate([y, sweep.at_arcs(np.concatenate([peaks, marks.looks()]))]))
    applied = statics.applied(at)
    looked = slice(count + len(peaks), None)
    held = statics.held(at, applied)
    rubs = statics.rubbing and statics.handle is not None
    raising, letting_down = statics.rubbed(at, applied) if rubs else (None, None)
    members, forces = on_members(project, statics, held.on_second[:count])
    pins = _on_pins(project, forces)
    bound = BOUND * marks.all_loads()
    worst, holds = holding(project, statics)
    extremes = _pushes(sweep, at.openings[count : looked.start], held.push[count : looked.start])
    largest, least = _within(extremes, bound, marks.grows)
    beyond = _beyond(sweep, at.openings[:count], np.column_stack([held.push[:count], pins]), marks.grows, bound)
    return LoadFigures(
        effort=frozen(held.push[:count]),
        raising=None if raising is None else frozen(raising[:count]),
        letting_down=None if letting_down is None else frozen(letting_down[:count]),
        pins=frozen(pins),
        members=members,
        forces=frozen(forces),
        devices=tuple(device.id for device in loads.devices),
        lengths=frozen(applied.lengths[:count]),
        pushes=frozen(applied.pushes[:count]),
        balances=marks.balances(at.openings[looked], statics.power(at, applied)[looked]),
        tip_overs=marks.tip_overs(at.openings[looked], applied.weight[looked]),
        largest=largest,
        least=least,
        bound=bound,
        remarks=(*_remarks(project, statics, held), *beyond),
        worst=worst,
        holding=holds,
        shut=shut_figures(project, statics),
        let_go_deg=statics.cushions.let_go_deg,
    )


def holding_in_full(project: Project, sweep: Sweep) -> HoldingFigures | None:
    """What holds the panel open with all that is told of it; None where there are no loads, or nothing moves.

    More than `LoadFigures.holding` has, and too dear while pins are dragged.
    """
    loads = project.loads
    if loads is None or not _moves(sweep):
        return None
    statics = Statics(loads, sweep)
    return holding(project, statics, lambda forces: _on_pins(project, on_members(project, statics, forces)[1]))[1]


def _moves(sweep: Sweep) -> bool:
    """Whether the linkage moves in just one way."""
    return sweep.freedom.mobility == 1 and sweep.freedom.state == "moves" and len(sweep.branch.arcs) > 1


def _pushes(sweep: Sweep, openings: Floats, pushes: Floats) -> list[Push]:
    """The pushes that are told, with their openings (rad) in degrees."""
    return [
        Push(push, min(max(math.degrees(opening), 0.0), sweep.reached_deg))
        for opening, push in zip(openings.tolist(), pushes.tolist(), strict=True)
        if math.isfinite(push)
    ]


def _within(extremes: list[Push], bound: float, grows: float) -> tuple[Push | None, Push | None]:
    """The largest and the least push, each None where it isn't told, is beyond the bound, or grows without one."""
    if len(extremes) < 2:
        return None, None
    largest, least = max(extremes, key=lambda push: push.force), min(extremes, key=lambda push: push.force)
    return (
        largest if grows <= 0.0 and abs(largest.force) <= bound else None,
        least if grows >= 0.0 and abs(least.force) <= bound else None,
    )


def _beyond(sweep: Sweep, openings: Floats, forces: Floats, grows: float, bound: float) -> tuple[str, ...]:
    """Say where forces (n, m) N grow beyond the bound; openings (n,) rad."""
    if grows != 0.0:
        place = f"the dead point at {sweep.reached_deg:.1f}°"
        return (f"Towards {place} the handle comes to a stand: the push grows without bound, and can't be relied on.",)
    wild = (np.abs(forces) > bound).any(axis=1)
    degs = np.clip(np.degrees(openings[wild]), 0.0, sweep.reached_deg)
    if bound <= 0.0 or len(degs) == 0:
        return ()
    place = f"At {degs[0]:.1f}°" if degs[-1] - degs[0] < 0.1 else f"Between {degs[0]:.1f}° and {degs[-1]:.1f}°"
    said = (
        f"{place} links come into line, or the handle hardly moves: push or pin forces grow beyond {BOUND:.0f} times"
        " the loads there, and no figure can be relied on."
    )
    return (said,)


def _untold(project: Project, count: int, remarks: tuple[str, ...]) -> LoadFigures:
    """Figures where the linkage doesn't move in just one way: none of them is known."""
    loads = project.loads
    devices = () if loads is None else tuple(device.id for device in loads.devices)
    nothing = frozen(np.full((count, len(devices)), np.nan))
    return LoadFigures(
        effort=frozen(np.full(count, np.nan)),
        raising=None,
        letting_down=None,
        pins=frozen(np.full((count, len(project.pivots)), np.nan)),
        members=(),
        forces=frozen(np.zeros((count, 0), dtype=np.complex128)),
        devices=devices,
        lengths=nothing,
        pushes=nothing,
        balances=(),
        tip_overs=(),
        largest=None,
        least=None,
        bound=0.0,
        remarks=remarks,
    )


def on_members(
    project: Project, statics: Statics, on_second: Complexes
) -> tuple[tuple[tuple[str, str], ...], Complexes]:
    """(pivot, link) of every link on every pin, and the force (n, members) that the pin of one hinge puts on it."""
    closure = statics.closure
    members, sums = _sums(tuple((pivot.id, pivot.joins) for pivot in project.pivots), closure.joints, closure.links)
    return members, np.asarray(on_second @ (sums / statics.loads.hinges))


@lru_cache(maxsize=16)
def _sums(
    pins: tuple[tuple[str, tuple[str, ...]], ...], joints: tuple[Joint, ...], links: tuple[str, ...]
) -> tuple[tuple[tuple[str, str], ...], Floats]:
    """The members, and (joints, members) how the forces on the joints' second links add up to those on members.

    pins : ids, and the links on each.   It stays while pins are dragged.
    """
    members = tuple((pin, link) for pin, on in pins for link in on)
    of = {member: k for k, member in enumerate(members)}
    sums = np.zeros((len(joints), len(members)))
    for row, joint in enumerate(joints):
        pin = pins[joint.pivot][0]
        sums[row, of[pin, links[joint.second]]] = 1.0
        sums[row, of[pin, links[joint.first]]] = -1.0
    return members, frozen(sums)


def _on_pins(project: Project, forces: Complexes) -> Floats:
    """(n, pivots) the largest force that one of its links puts on each pin."""
    if not project.pivots:
        return np.zeros((len(forces), 0))
    sizes = np.abs(forces)
    if len(sizes.T) == 2 * len(project.pivots):  # two links on each
        return np.maximum(sizes[:, ::2], sizes[:, 1::2])
    starts = np.cumsum([0, *(len(pivot.joins) for pivot in project.pivots)])[:-1]
    return np.asarray(np.maximum.reduceat(sizes, starts, axis=1))


def _remarks(project: Project, statics: Statics, held: Held) -> tuple[str, ...]:
    """What the builder must know of the loads."""
    found = []
    handle = statics.loads.handle
    if handle is not None and handle.on == project.fixed.id:
        found.append(f"The handle is on “{handle.on}”, which stands still: put it on what is lifted.")
    elif handle is not None and not np.isfinite(held.push).any():
        found.append("No effort can be told: the handle stands still, or the panel is at its dead point.")
    if statics.redundant and handle is not None:
        found.append(
            "With more links than the motion needs (twin arms) nobody can say which of them carries how much:"
            " the pin forces take it that they share as evenly as can be."
        )
    return (*found, *_of_cushions(project, statics))


def _of_cushions(project: Project, statics: Statics) -> list[str]:
    """Say which cushions don't do what a cushion does."""
    found = []
    for cushion, end in zip(statics.loads.cushions, statics.cushions.ends.tolist(), strict=True):
        if cushion.on == project.fixed.id:
            found.append(f"“{cushion.id}” is on “{cushion.on}”, which stands still: put it on what squeezes it.")
        elif not math.isfinite(end):
            found.append(
                f"“{cushion.id}” is squeezed all the way: at its place the panel doesn't lift off by its squeeze along"
                " its way, which must point out of the body."
            )
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Crossing:
    """A power goes through nothing after sample k, falling or rising; about there are the three places to look at."""

    k: int
    falls: bool
    guess: float
    places: Floats


class _Marks:
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
        return -float(np.sign(left)) if abs(left) > NOTHING * self.all_loads() * statics.reach else 0.0

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
        if size <= NOTHING * max(self.all_loads() * self.statics.reach, 1e-300):
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

    def all_loads(self) -> float:
        """N, all weights and pushes together, and couples as if they worked at the reach, at their largest."""
        pushes = float((np.abs(self.loads.pushes) * self.statics.counts).sum(axis=1).max(initial=0.0))
        cushions = HARDEST * float(self.statics.cushions.pushes.sum())
        return self.statics.weight + pushes + cushions + self.statics.couples / self.statics.reach

    def peaks(self) -> Floats:
        """Places (none, or 2 and more) of the largest and the least effort, near enough for the effort there to be
        exact; of each stretch between bends, as no smooth curve leads over a bend.
        """
        effort = self.statics.effort(self.near, self.loads)
        cuts = np.unique([0, *self.bends.tolist(), len(effort) - 1]).tolist()
        stretches = list(itertools.pairwise(cuts)) or [(0, 0)]
        found = [self._peak(way * effort, low, high) for low, high in stretches for way in (1.0, -1.0)]
        return np.array([place for place in found if place is not None])

    def _peak(self, effort: Floats, low: int, high: int) -> float | None:
        """Where it stands highest from sample `low` to `high`, by the parabola through the highest and its neighbours;
        an end that stands highest is the place unless the parabola of the last three stands higher beside it.
        """
        known = low + np.flatnonzero(np.isfinite(effort[low : high + 1]))
        if len(known) == 0:
            return None
        k = int(known[np.argmax(effort[known])])
        middle = min(max(k, low + 1), high - 1)
        if high - low < 2 or not np.isfinite(effort[middle - 1 : middle + 2]).all():
            return float(self.arcs[k])
        before, after = self.arcs[middle] - self.arcs[middle - 1], self.arcs[middle + 1] - self.arcs[middle]
        rise, fall = (effort[middle] - effort[middle - 1]) / before, (effort[middle + 1] - effort[middle]) / after
        bend = (fall - rise) / (0.5 * (before + after))
        slope = (rise * after + fall * before) / (before + after)
        shift = 0.0 if bend >= 0.0 else float(np.clip(-slope / bend, -before, after))
        return float(self.arcs[middle]) + shift if bend < 0.0 else float(self.arcs[k])


def _threes(values: Floats) -> list[list[float]]:
    """The values by three, those of each look."""
    found: list[list[float]] = values.reshape(-1, len(THREE)).tolist()
    return found


def _lagrange(x: list[float], values: list[float], at: float) -> float:
    """The polynomial through (x, values), at a place."""
    many = range(len(x))
    return sum(values[j] * math.prod((at - x[m]) / (x[j] - x[m]) for m in many if m != j) for j in many)
