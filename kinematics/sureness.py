"""How sure a gap is: what holes a little off, and pins with a little play, do to it over the travel.

Terms. A *hole* is where a link takes a pin; each may be off by up to h (mm) in any direction, independently, the link's
edges staying where they are. The *play* p (mm) of a pin is how much wider a hole is than the pin: the pin sits fast in
the first link that its pivot joins, and every other link may lie off by up to p/2 in any direction. Both do the same
thing. At a joint two links claim one point; a hole off by ε in a link that has turned by θ moves its claim by
exp(iθ)·ε, and play moves one claim against the other. So all of it is *joint shifts* s (mm, complex, fixed link's
frame), by which the claims differ. A hole moved in one link alone is not a pivot moved: that moves both claims.

First order. The panel's turn is held, as the gap is asked for at an opening. Shifts s move the loops by L·s and the
shifts d of links by T·s (both made of 0 and ±1, `kinematics.closure`'s walk over the joints), and so the unknown turns
by dy with M·dy = −(L·s, 0), where M is the Jacobian with the panel's turn as its last row. A point of link k at z goes
by T_k·s + R_k·dθ. With n the unit vector from the one body's nearest point to the other's, the gap changes by

    dg = Re(n̄·(T_b − T_a)·s) + c·dy,   c = Re(n̄·(R_b − R_a))    (that other points come nearest is second order)
       = Re(Σ ū_j·s_j),   ū = n̄·(T_b − T_a) − λ̄·L,   Mᵀ·(Re λ, Im λ, ·) = c:

one adjoint solve a pose answers for all joints at once. A source of at most a (mm) in any direction that shifts the
joints J alike takes up to a·|Σ_J ū_j| off the gap, in the direction of that sum: J is one joint for play and for the
hole of a link beyond the pivot's first, all joints of the pivot for the hole of its first link.

The *worst case* is the sum over all sources: all of them off to the full, all against the gap. The *likely* figure is
their root sum of squares, as independent faults seldom conspire. Each is taken off the gap at every pose looked at, and
the least of these is the low end: near the smallest gap it is exact to first order, as the smallest wanders but to
second order (the envelope theorem: J. M. Danskin, The Theory of Max-Min, 1967; from memory). How far the outlines may
be off is added to the worst case, and squared into the likely one.

Trust. Near a dead point the links answer to shifts without bound, and first order says nothing. So the second order is
worked out too, in the very direction of the worst case: turns dθ bend the loops by −½·loops·exp(iθ)·dθ², and the points
alike. Where it exceeds a share of the first, the figure is withheld. That is said of the gap alone: whether links that
don't matter to it jam with such faults, only trying tells.

`kinematics.sampling` tries the other way: hinges with random faults, each moved anew, exactly.

Source: tolerance stack-up by sensitivities, any textbook on tolerances (from memory); the rest derives.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import Complexes, Floats, Ints, frozen
from kinematics.contact import geometries

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Bools
    from kinematics.bodies import Body
    from kinematics.closure import Closure
    from kinematics.project import Sureness
    from kinematics.results import Gap

TRUSTED_SHARE = 0.25
"""First order is trusted where the second is no more than this share of it …"""
TRUSTED_LEAST = 0.02
"""… or than this many mm, which no hole is drilled to."""
LOOKS = 20_000
"""Couples of edges looked at for a lane: a pair of long outlines has its band from fewer poses …"""
LEAST_POSES = 6
"""… but from so many at least."""


@dataclass(frozen=True, slots=True, eq=False)
class Sure:
    """How sure one gap is.

    low : mm, the smallest gap in the worst case, 0 where they may touch.   likely : mm, by the root sum of squares.
    at_deg : opening (deg) of the low end.
    matters, share : the pivot whose holes and play take most off the gap there, and its part of the worst case (0…1).
    by_pivot : what each pivot takes off there at worst, mm, most first.
    lane : openings (deg) and low ends (mm) to draw; NaN where first order isn't to be trusted.
    untrusted_deg : stretches of the travel (deg) where it isn't.
    low, likely and at_deg are None where it isn't to be trusted at the smallest gap itself.
    """

    between: tuple[str, str]
    low: float | None
    likely: float | None
    at_deg: float | None
    matters: str
    share: float
    by_pivot: tuple[tuple[str, float], ...]
    lane: tuple[Floats, Floats]
    untrusted_deg: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Poses:
    """Poses along the branch, and how the linkage answers there.

    degs (n,) deg; y (n, unknowns) rad; shifts, e (n, links); inverse (n, unknowns, unknowns) of M.
    """

    closure: Closure
    degs: Floats
    y: Floats
    shifts: Complexes
    e: Complexes
    inverse: Floats

    def pick(self, which: Ints) -> Poses:
        """Some of them."""
        return Poses(
            self.closure, self.degs[which], self.y[which], self.shifts[which], self.e[which], self.inverse[which]
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Answer:
    """How one gap answers at poses (n,): distance of the lines, mm; ū (n, joints); mm of second order at worst."""

    distance: Floats
    by_joint: Complexes
    second: Floats


@lru_cache(maxsize=2)
def how_sure(analysis: Analysis) -> tuple[Sure | None, ...]:
    """How sure each gap of an analysis is, in the order of `analysis.gaps`; () where nobody said how far holes are off.

    None for a pair that has no smallest gap. Of a linkage that `unanswered` speaks of, () too.
    """
    asked = analysis.project.sureness
    if asked is None or unanswered(analysis):
        return ()
    smallest = [gap.at_deg for gap in analysis.gaps if gap.at_deg is not None]
    poses, own = poses_of(analysis, smallest)
    found: list[Sure | None] = []
    places = iter(own)
    for gap in analysis.gaps:
        couple = [analysis.bodies.get(name) for name in gap.between]
        a, b = couple
        place = next(places) if gap.at_deg is not None else None
        found.append(
            None if a is None or b is None or place is None else _sure(analysis, asked, gap, (a, b), poses, place)
        )
    return tuple(found)


def unanswered(analysis: Analysis) -> str:
    """Say why no gap of this linkage can be told with its faults; "" where they can."""
    if analysis.state != "moves" or analysis.sweep.reached <= 0.0:
        return "the panel doesn't open"
    if analysis.sweep.branch.curve.redundant:
        return "there are more links than the motion needs, so with holes off it binds"
    return ""


# ------------------------------------------------------------------------------------------------------------ the maps
@lru_cache(maxsize=4)
def _incidence(closure: Closure) -> tuple[Complexes, Complexes]:
    """T (links, joints) and L (lively loops, joints): how joint shifts move the links' shifts, and the loops."""
    count, joints = len(closure.links), closure.joints
    moves = np.zeros((count, len(joints)), dtype=np.complex128)
    for at, other, index in closure.walk.steps:
        moves[other] = moves[at]
        moves[other, index] += 1.0 if joints[index].first == at else -1.0
    loops = np.zeros((len(closure.walk.closing), len(joints)), dtype=np.complex128)
    for row, index in enumerate(closure.walk.closing):
        loops[row] = moves[joints[index].first] - moves[joints[index].second]
        loops[row, index] += 1.0
    return moves, loops[closure.lively]


def poses_of(analysis: Analysis, also_deg: list[float]) -> tuple[Poses, list[int]]:
    """The knots up to the opening reached, its end, and poses at some openings (deg); and where those stand among them.

    Between knots the cubics will do: sensitivities need no exact pose.
    """
    sweep = analysis.sweep
    knots = sweep.branch.arcs[sweep.branch.arcs < sweep.reach_arc - 1e-9]
    also = sweep.arcs_at(np.minimum(np.radians(also_deg), sweep.reached)) if also_deg else np.zeros(0)
    arcs = np.concatenate([knots, [sweep.reach_arc], np.minimum(also, sweep.reach_arc)])
    order = np.argsort(arcs, kind="stable")
    y = sweep.branch.cubic(arcs[order])
    closure = sweep.closure
    turns = closure.link_turns(y)
    e = np.exp(1j * turns)
    jacobian = sweep.branch.curve.jacobian(y)
    held = np.zeros((len(y), 1, y.shape[1]))
    held[:, 0, sweep.panel] = 1.0
    matrix = np.concatenate([jacobian.real, jacobian.imag, held], axis=1)
    degs = np.clip(np.degrees(sweep.sign * y[:, sweep.panel]), 0.0, sweep.reached_deg)
    places = np.empty(len(arcs), dtype=np.intp)
    places[order] = np.arange(len(arcs))
    own = places[len(knots) + 1 :].tolist()
    return Poses(closure, degs, y, closure.shifts(turns), e, _inverse(matrix)), own


def _inverse(matrix: Floats) -> Floats:
    """The inverse at every pose; at a dead point, where there is none, one without bound."""
    try:
        return np.asarray(np.linalg.inv(matrix))
    except np.linalg.LinAlgError:
        return np.asarray(np.linalg.pinv(matrix, rcond=0.0))


def _answer(poses: Poses, couple: tuple[Body, Body], asked: Sureness, sources: _Sources) -> _Answer:
    """How the gap of two bodies answers at all poses."""
    closure = poses.closure
    moves, loops = _incidence(closure)
    first, second = nearest_points(couple, poses.e, poses.shifts)
    apart = np.abs(second - first)
    way = np.where(apart > 0.0, second - first, 0.0) / np.where(apart > 0.0, apart, 1.0)
    a, b = (body.column for body in couple)
    # R: what turns of links do to each point (complex, per rad); its bend is what their squares do.
    spin = np.zeros_like(poses.e)
    np.add.at(spin.T, b, second - poses.shifts[:, b])
    np.add.at(spin.T, a, -(first - poses.shifts[:, a]))
    lever = (closure.shift_map[b] - closure.shift_map[a]) * poses.e + spin
    seen = way.conj()[:, None] * lever
    by_turn = _by_unknown(closure, -seen.imag)
    adjoint = np.einsum("nij,ni->nj", poses.inverse, by_turn)[:, : 2 * len(loops)]
    rows = len(loops)
    pull = adjoint[:, :rows] - 1j * adjoint[:, rows:]
    by_joint = way.conj()[:, None] * (moves[b] - moves[a]) - pull @ loops
    worst = sources.worst_shift(by_joint, asked)
    moved = worst @ loops.T
    turned = -np.einsum("nij,nj->ni", poses.inverse[:, :, : 2 * rows], np.concatenate([moved.real, moved.imag], axis=1))
    squares = closure.link_turns(turned) ** 2
    bent = 0.5 * (squares * poses.e) @ closure.loops[closure.lively].T
    second_order = (pull * bent).real.sum(axis=1) - 0.5 * (seen.real * squares).sum(axis=1)
    return _Answer(apart, by_joint, np.abs(second_order))


def nearest_points(couple: tuple[Body, Body], e: Complexes, shifts: Complexes) -> tuple[Complexes, Complexes]:
    """(n,) and (n,) where the lines of two bodies come nearest at poses: e and shifts (n, links), as in `Closure`."""
    placed = [geometries(body, shifts[:, body.column, None] + e[:, body.column, None] * body.tails) for body in couple]
    ends = shapely.get_coordinates(shapely.shortest_line(*placed)).reshape(-1, 2, 2)
    return ends[:, 0, 0] + 1j * ends[:, 0, 1], ends[:, 1, 0] + 1j * ends[:, 1, 1]


def _by_unknown(closure: Closure, by_link: Floats) -> Floats:
    """(n, links) → (n, unknowns): what belongs to links that turn as one, added up."""
    found = np.zeros((len(by_link), closure.unknowns + 1))
    np.add.at(found.T, closure.group, by_link.T)
    return found[:, 1:]


@dataclass(frozen=True, slots=True, eq=False)
class _Sources:
    """What may be off: joints (joints,) say on which pivot each is; `pivots` how many there are."""

    joints: Ints
    pivots: int

    def sums(self, by_joint: Complexes) -> Complexes:
        """(n, pivots) what the hole of each pivot's first link does: all its joints together."""
        found = np.zeros((len(by_joint), self.pivots), dtype=np.complex128)
        np.add.at(found.T, self.joints, by_joint.T)
        return found

    def taken(self, by_joint: Complexes, asked: Sureness) -> tuple[Floats, Floats]:
        """(n, pivots) what each pivot takes off at worst, mm; and (n,) the root sum of squares over all sources."""
        firsts, others = np.abs(self.sums(by_joint)), np.abs(by_joint)
        play = 0.5 * asked.play
        worst = asked.holes * firsts
        np.add.at(worst.T, self.joints, (asked.holes + play) * others.T)
        squares = asked.holes**2 * (firsts**2).sum(axis=1) + (asked.holes**2 + play**2) * (others**2).sum(axis=1)
        return worst, np.sqrt(squares)

    def worst_shift(self, by_joint: Complexes, asked: Sureness) -> Complexes:
        """(n, joints) the joint shifts that take most off the gap, mm."""
        whole = self.sums(by_joint)[:, self.joints]
        return -(asked.holes + 0.5 * asked.play) * _way(by_joint).conj() - asked.holes * _way(whole).conj()


def _way(vectors: Complexes) -> Complexes:
    length = np.abs(vectors)
    return np.asarray(np.where(length > 0.0, vectors, 0.0) / np.where(length > 0.0, length, 1.0))


# ------------------------------------------------------------------------------------------------------------- one gap
def _sure(analysis: Analysis, asked: Sureness, gap: Gap, couple: tuple[Body, Body], poses: Poses, own: int) -> Sure:
    """How sure one gap is; `own` is the place of its smallest among the poses."""
    looked = _looked_at(len(poses.degs), couple, own)
    poses, own = poses.pick(looked), int(np.flatnonzero(looked == own)[0])
    sources = _Sources(
        np.array([joint.pivot for joint in poses.closure.joints], dtype=np.intp), len(poses.closure.places)
    )
    answer = _answer(poses, couple, asked, sources)
    by_pivot, likely = sources.taken(answer.by_joint, asked)
    worst = by_pivot.sum(axis=1)
    gaps = np.maximum(answer.distance - couple[0].radius - couple[1].radius, 0.0)
    gaps[own] = gap.smallest or 0.0
    trusted = answer.second <= np.maximum(TRUSTED_SHARE * worst, TRUSTED_LEAST)
    lows = np.where(trusted, gaps - worst - gap.uncertain, np.nan)
    counts = trusted & (poses.degs >= gap.after_deg - 1e-9)
    lane = _lane(gap, poses.degs, np.where(trusted, worst + gap.uncertain, np.nan))
    untrusted = _stretches(poses.degs, ~trusted)
    if not trusted[own]:
        return Sure(gap.between, None, None, None, "", 0.0, (), lane, untrusted)
    at = int(np.flatnonzero(counts)[np.argmin(lows[counts])])
    parts = sorted(
        ((pivot.id, float(mm)) for pivot, mm in zip(analysis.project.pivots, by_pivot[at], strict=True)),
        key=lambda part: -part[1],
    )
    off = np.hypot(likely, gap.uncertain)
    return Sure(
        gap.between,
        max(float(lows[at]), 0.0),
        max(float((gaps - off)[counts].min()), 0.0),
        float(poses.degs[at]),
        parts[0][0] if parts[0][1] > 0.0 else "",
        parts[0][1] / float(worst[at]) if worst[at] > 0.0 else 0.0,
        tuple(parts),
        lane,
        untrusted,
    )


def _looked_at(count: int, couple: tuple[Body, Body], own: int) -> Ints:
    """The poses at which a pair is looked at: all, or of long outlines some; its smallest gap's among them."""
    effort = len(couple[0].tails) * len(couple[1].tails)
    most = max(LOOKS // effort, LEAST_POSES)
    if count <= most:
        return np.arange(count)
    return np.union1d(np.linspace(0, count - 1, most).round().astype(np.intp), [own])


def _lane(gap: Gap, degs: Floats, taken: Floats) -> tuple[Floats, Floats]:
    """The low end beneath the lane that is drawn."""
    openings, gaps = gap.lane
    lows = np.maximum(gaps - np.interp(openings, degs, taken), 0.0)
    return openings, frozen(lows)


def _stretches(degs: Floats, which: Bools) -> tuple[tuple[float, float], ...]:
    """Stretches of the travel (deg) in which something is so, each up to the next pose at which it isn't."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], which, [False]]).astype(np.int8)))
    last = len(degs) - 1
    return tuple(
        (float(degs[max(low - 1, 0)]), float(degs[min(high, last)])) for low, high in edges.reshape(-1, 2).tolist()
    )
