"""Scoring: by how much candidates fall short of what is wanted, thousands at once.

Each want gives rows of *misses*, mm, 0 where it holds: a clearance one at every opening at which it counts (a single
smallest would hide from the refining what else must move), a limit likewise, two pins that stand too near one, a pin
outside its zone one. What is no want but makes a hinge worth having (a way from dead points, pins within reach) gives
*wishes*, weighed lightly, which never make a candidate fail.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from kinematics.proposals.chains import FIXED, PANEL
from kinematics.proposals.marching import March, march, transmissions

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.fields import Field
    from kinematics.proposals.problem import BandPair, Pair, Problem

DEEP = 15.0
"""mm from which on a miss counts by its logarithm, as a point deep within a wall tells little more than one within."""
BAND_POINTS = 5
"""Points on each side of a link's band that are looked up."""
SPARE = 0.3
"""Determinants below this are wished away, …"""
SPARE_MM = 6.0
"""… as so many mm for the whole of it."""
TRANSMISSION_DEG = 35.0
"""Transmission angles below this are wished away, …"""
WISHED_MM = 0.4
"""… a degree weighing so many mm; one that is wanted misses a mm for each degree."""
OUT_OF_REACH = 0.05
"""What a mm beyond a hinge's usual size weighs."""
AT_ONCE = 400
"""Candidates that are scored together, so that what is looked up stays near the processor."""


@dataclass(frozen=True, slots=True, eq=False)
class Score:
    """misses (rows, n) mm ≥ 0; wishes (rows, n) mm ≥ 0; reached (n,) share of the travel.

    cost : (n,) what is made small.   worst : (n,) mm, the largest miss, infinite where the travel isn't reached.
    """

    misses: Floats
    wishes: Floats
    reached: Floats

    @property
    def cost(self) -> Floats:
        """The sum of squares; whoever doesn't get through the travel comes behind all that do."""
        whole = (self.misses**2).sum(axis=0) + (self.wishes**2).sum(axis=0)
        return np.where(self.reached < 1.0, 1e12 * (2.0 - self.reached), whole)

    @property
    def worst(self) -> Floats:
        """The largest miss."""
        return np.where(self.reached < 1.0, np.inf, self.misses.max(axis=0, initial=0.0))


def score(problem: Problem, chain: Chain, pins: Complexes, margin: Floats | float = 0.0) -> Score:
    """Score candidates.

    pins : (pins, n) complex mm.     margin : mm by which wants of distances are to be exceeded.
    """
    parts = [
        _score(problem, chain, pins[:, start : start + AT_ONCE], margin)
        for start in range(0, max(1, pins.shape[1]), AT_ONCE)
    ]
    return Score(
        np.concatenate([part.misses for part in parts], axis=1),
        np.concatenate([part.wishes for part in parts], axis=1),
        np.concatenate([part.reached for part in parts]),
    )


def _score(problem: Problem, chain: Chain, pins: Complexes, margin: Floats | float) -> Score:
    marched = march(chain, pins, problem.openings)
    through = marched.reached >= len(problem.openings)
    rows = _rows(problem, chain, pins[:, through], _through(marched, through), margin)
    misses = np.zeros((len(rows), pins.shape[1]))
    misses[:, through] = _damped(rows)
    reached = np.minimum(marched.reached / len(problem.openings), 1.0)
    wishes = _wishes(problem, pins, marched)
    wishes[0, through] = WISHED_MM * np.maximum(
        0.0, TRANSMISSION_DEG - _least_transmission(chain, pins, marched, through)
    )
    return Score(misses, wishes, reached)


def _least_transmission(chain: Chain, pins: Complexes, marched: March, through: Bools) -> Floats:
    """(through,) deg, the least transmission angle at every fourth opening, shut and full among them."""
    poses = {*range(0, len(marched.turns), 4), len(marched.turns) - 1}
    angles = [transmissions(chain, pins[:, through], marched.turns[pose][:, through]) for pose in sorted(poses)]
    return np.asarray(np.degrees(np.min(angles, axis=0)))


def course_misses(problem: Problem, shifts: Complexes) -> Floats:
    """(n,) the sum of squared misses of courses of the panel alone; shifts (poses, n) complex mm."""
    units = np.exp(1j * problem.openings)
    rows = [_pair_rows(problem, pair, shifts, 0.0) for pair in problem.pairs]
    rows += _bound_rows(problem, units, shifts) + _room_rows(problem, units, shifts)
    total = np.zeros(shifts.shape[1])
    for row in rows:
        total += (_damped(_flat(row)) ** 2).sum(axis=0)
    return total


def _damped(rows: Floats) -> Floats:
    """Misses as they count; those above DEEP grow slowly, but they grow."""
    return np.where(rows <= DEEP, rows, DEEP * (1.0 + np.log(np.maximum(rows, DEEP) / DEEP)))


def outside(problem: Problem, chain: Chain, pins: Complexes) -> Floats:
    """(n,) mm that pins lie outside their zones and the cavity, all together."""
    total = np.zeros(pins.shape[1])
    for row in _zone_rows(problem, chain, pins):
        total += row.sum(axis=0)
    return total


def _through(marched: March, which: Bools) -> March:
    return March(marched.turns[..., which], marched.shifts[..., which], marched.reached[which], marched.spare[:, which])


def _rows(problem: Problem, chain: Chain, pins: Complexes, marched: March, margin: Floats | float) -> Floats:
    margins = np.broadcast_to(np.asarray(margin, dtype=np.float64), (len(problem.pairs),)) if problem.pairs else ()
    units, shifts = np.exp(1j * problem.openings), marched.shifts[:, PANEL]
    rows = [_pair_rows(problem, pair, shifts, extra) for pair, extra in zip(problem.pairs, margins, strict=True)]
    extra = float(np.max(margins, initial=0.0))
    rows += _bound_rows(problem, units, shifts)
    rows += [_band_rows(problem, chain, pins, marched, each, extra) for each in problem.bands]
    rows += _room_rows(problem, units, shifts)
    rows += _transmission_rows(problem, chain, pins, marched)
    rows += [_spacing_rows(problem, chain, pins), *_zone_rows(problem, chain, pins)]
    return np.concatenate([_flat(row) for row in rows])


def _flat(row: Floats) -> Floats:
    """(rows, n) of misses of any shape whose last axis is the candidates', of which there may be none."""
    return row.reshape(math.prod(row.shape[:-1]), row.shape[-1])


def _pair_rows(problem: Problem, pair: Pair, shifts: Complexes, extra: float) -> Floats:
    """Misses at every opening that counts: the least of all looked-up points, both ways round."""
    onward, back = _Watched(pair.fixed_field), _Watched(pair.panel_field)
    units = np.exp(1j * problem.openings).astype(np.complex64)  # single precision is 0.1 µm here
    shifts = shifts.astype(np.complex64)
    panel_points, fixed_points = (each.astype(np.complex64)[:, None] for each in (pair.panel_points, pair.fixed_points))
    rows = []
    for unit, shift, counts in zip(units, shifts, problem.counts(pair.after), strict=True):
        one = onward.least(panel_points * unit + shift)
        other = back.least((fixed_points - shift) * unit.conjugate())
        if counts:
            rows.append(np.minimum(one, other))
    return np.maximum(0.0, pair.want + extra - np.asarray(rows).reshape(len(rows), shifts.shape[1]))


class _Watched:
    """Points on their way through a field, from shut on.

    A point that changes sides of an open line within the way that it went has gone through the line; from then on
    until it comes back its distance counts as a depth. One that goes round the line's end has not: on its way it was
    nearest to the end, where there are no sides.
    """

    def __init__(self, field: Field) -> None:
        self.field = field
        self.before: tuple[Complexes, Floats, Bools] | None = None
        self.through: Floats | None = None

    def least(self, points: Complexes) -> Floats:
        """(n,) the least distance of the points (m, n) at the next opening."""
        found, sideless = self.field.at(points)
        if sideless is None:
            return np.asarray(found.min(axis=0))
        away = np.abs(found)
        if self.before is not None and self.through is not None:
            was, had, ended = self.before
            flips = (had * found < 0.0) & ~(sideless | ended)
            flips &= away + np.abs(had) <= 1.2 * np.abs(points - was) + 0.5
            self.through = np.where(flips, -self.through, self.through)
        else:
            self.through = np.ones(found.shape)
        self.before = points, found, sideless
        return np.asarray((away * self.through).min(axis=0))


def _band_rows(problem: Problem, chain: Chain, pins: Complexes, marched: March, each: BandPair, extra: float) -> Floats:
    """Misses of every proposed link's band against one outline, a row for each opening and link."""
    units = np.exp(1j * marched.turns)
    shares = np.linspace(0.0, 1.0, BAND_POINTS)[:, None]
    rows = []
    for link in range(PANEL + 1, chain.links):
        sides = [pins[a] + shares * (pins[b] - pins[a]) for a, b in combinations(chain.on(link), 2)]
        points = np.concatenate(sides)
        for pose in np.flatnonzero(problem.counts(each.after)):
            placed = points * units[pose, link] + marched.shifts[pose, link]
            if each.on_panel:
                placed = (placed - marched.shifts[pose, PANEL]) * units[pose, PANEL].conj()
            rows.append(each.want + extra - np.abs(each.field.at(placed)[0]).min(axis=0))
    return np.asarray(np.maximum(0.0, np.asarray(rows).reshape(len(rows), pins.shape[1])))


def _bound_rows(problem: Problem, units: Complexes, shifts: Complexes) -> list[Floats]:
    """Misses of the limits on marks, at the openings at which they count."""
    rows = []
    for bound in problem.bounds:
        moved = shifts + (units[:, None] - 1.0) * bound.at
        rows.append(np.maximum(0.0, bound.want + 0.02 - (bound.way * moved).real)[problem.counts(bound.after)])
    return rows


def _transmission_rows(problem: Problem, chain: Chain, pins: Complexes, marched: March) -> list[Floats]:
    """Degrees by which transmission angles miss what is wanted of them, if anything is, as if they were mm."""
    wanted = problem.project.transmission_at_least
    if wanted is None or not chain.loops:
        return []
    angles = [transmissions(chain, pins, turns) for turns in marched.turns]
    return [np.maximum(0.0, wanted + 0.3 - np.degrees(angles))]


def _room_rows(problem: Problem, units: Complexes, shifts: Complexes) -> list[Floats]:
    rows = []
    if problem.roof is not None:
        tops = [
            (problem.roof_points[:, None] * unit + shift).imag.max(axis=0)
            for unit, shift in zip(units, shifts, strict=True)
        ]
        rows.append(np.maximum(0.0, np.asarray(tops) + 0.2 - problem.roof))
    if problem.front is not None:
        at, least = problem.front
        rows.append(np.maximum(0.0, least + 0.05 - (at * units[-1] + shifts[-1]).imag))
    return rows


def _spacing_rows(problem: Problem, chain: Chain, pins: Complexes) -> Floats:
    """Pins of one link that stand too near one another."""
    links = [link for link in range(chain.links) if _has_width(problem, link)]
    pairs = {couple for link in links for couple in combinations(chain.on(link), 2)}
    rows = [problem.spacing + 0.05 - np.abs(pins[a] - pins[b]) for a, b in sorted(pairs)]
    return np.asarray(np.maximum(0.0, np.asarray(rows).reshape(len(rows), pins.shape[1])))


def _has_width(problem: Problem, link: int) -> bool:
    named = {FIXED: problem.project.fixed, PANEL: problem.project.panel}.get(link)
    return problem.settings.width > 0.0 if named is None else named.width > 0.0


def _zone_rows(problem: Problem, chain: Chain, pins: Complexes) -> list[Floats]:
    """How far pins on the body and on the panel lie outside their zones, and all others outside the cavity."""
    rows, rest = [], set(range(len(pins)))
    for link, zones in zip((FIXED, PANEL), problem.zones, strict=True):
        if zones:
            mine = chain.on(link)
            rest -= set(mine)
            rows.append(np.maximum(0.0, 0.1 + np.min([zone.at(pins[list(mine)])[0] for zone in zones], axis=0)))
    if problem.cavity is not None and rest:
        places = [problem.cavity.at(pins[sorted(rest)])[0]]
        places += [zone.at(pins[sorted(rest)])[0] - 0.4 * problem.size for zones in problem.zones for zone in zones]
        rows.append(np.maximum(0.0, np.min(places, axis=0)))
    return rows


def _wishes(problem: Problem, pins: Complexes, marched: March) -> Floats:
    """Far from dead points, and pins not further from the rear edge than hinges usually reach.

    The first row is left for the transmission angle.
    """
    least = marched.spare.min(axis=0)
    away = np.abs(pins - problem.frame.origin) - 1.3 * problem.size
    return np.concatenate(
        [
            np.zeros((1, pins.shape[1])),
            SPARE_MM * np.maximum(0.0, SPARE - least)[None, :] / SPARE,
            OUT_OF_REACH * np.maximum(0.0, away),
        ]
    )
