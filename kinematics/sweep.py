"""The sweep: the poses from shut to the wanted opening, or to the dead point before it, on the branch from shut.

The branch is traced by arc length and opening is read off it. Where the panel stops opening though the links go on,
the branch has a *fold*: the dead point of a panel that drives. It is found as the zero of the tangent's panel part,
so the opening there is exact to second order. Poses asked for by opening start from the cubics between knots and are
solved with the panel's turn held; close to a fold, where that is a poor drive, they are found by arc length instead.

A panel that slides without turning at shut (parallelogram) has no opening to report; its branch is traced both ways all
the same, so that it can be drawn and its arms dragged.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import Branch, Curve, Frames, curve_of, frames, newton_step, tangents_at
from kinematics.closure import Closure, build
from kinematics.devices import Stop, first_stop
from kinematics.mobility import Freedom, freedom, shut_tangent
from kinematics.tracing import follow, trace

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.project import Project

HALF_TURN = math.pi
"""Openings are followed up to here."""
SLIDING_KNOTS = 600
"""A panel that only slides is followed over so many knots either way, enough to draw it."""
SHORT = 0.04
"""Steps (rad) at the end of a followed branch that are shorter than this are made anew."""
DIP = 0.01
"""A cubic whose panel rate falls below this between two knots is looked at there: the panel may turn back."""
SHUT = 1e-9
"""An opening (rad) below this, at which a strut stops the motion, is none."""
FLAT = 1e-13
"""At a dead point the panel's part of the tangent is less than this: its opening is exact, and so is every turn."""


@dataclass(frozen=True, slots=True, eq=False)
class Moving:
    """Columns of a sweep at n poses, (n, columns) each: turn factors, rates of turns, shifts, rates of shifts."""

    e: Complexes
    spins: Floats
    shifts: Complexes
    moved: Complexes


@dataclass(frozen=True, slots=True, eq=False)
class Sweep:
    """A branch from shut with its ends.

    Attributes
    ----------
    freedom, closure : what moves, and the linear maps with one unknown a group.
    branch : knots; a single one where the panel can't open.
    sign : +1 where the panel opens anticlockwise, else −1.   panel : the panel's unknown (0-based).
    wanted_deg : deg.   reached, largest : openings, rad.   ends : the word for it in the report.
    reach_arc : place along the branch at the opening reached.   folds : whether the branch ends in a dead point.
    stop : the strut whose end stops the motion, where one does.
    """

    freedom: Freedom
    closure: Closure
    branch: Branch
    sign: float
    panel: int
    wanted_deg: float
    reached: float
    largest: float
    ends: str
    reach_arc: float
    folds: bool
    stop: Stop | None = None

    @property
    def reached_deg(self) -> float:
        """Opening reached, deg: the wanted one to the digit where it is reached."""
        if self.stop is not None:
            return math.degrees(self.reached)
        return self.wanted_deg if self.ends == "wanted opening" else self.largest_deg

    @property
    def largest_deg(self) -> float:
        """Largest opening of the branch, deg, up to 180."""
        largest = 180.0 if self.largest >= HALF_TURN else math.degrees(self.largest)
        return max(largest, self.wanted_deg) if self.ends == "wanted opening" else largest

    @property
    def fork_openings(self) -> tuple[float, ...]:
        """Openings (rad) within reach at which another branch crosses; none where the panel doesn't open."""
        forks = np.array([fork for fork in self.branch.forks if fork <= self.reach_arc])
        if self.reached <= 0.0 or len(forks) == 0:
            return ()
        return tuple((self.sign * self.branch.cubic(forks)[:, self.panel]).tolist())

    @property
    def given_up(self) -> bool:
        """Whether the trace ended though the linkage goes on: its motion is too fine for the knots allowed."""
        blocked = self.branch.forks[-1:] == (float(self.branch.arcs[-1]),)
        return self.freedom.state == "moves" and 0.0 < self.largest < HALF_TURN and not self.folds and not blocked

    @property
    def knot_openings(self) -> Floats:
        """(m,) rad, opening at each knot."""
        return np.asarray(self.sign * self.branch.turns[:, self.panel])

    def _before(self, openings: Floats) -> Ints:
        """(n,) the knot before each opening."""
        return np.searchsorted(self.knot_openings[1:-1], openings, side="right")

    def arcs_at(self, openings: Floats) -> Floats:
        """(n,) places along the branch at openings (rad), by the cubics."""
        knots, i = self.knot_openings, self._before(openings)
        span = self.branch.arcs[i + 1] - self.branch.arcs[i]
        along = _cubic_root(
            knots[i],
            knots[i + 1],
            self.sign * span * self.branch.tangents[i, self.panel],
            self.sign * span * self.branch.end_rates[i, self.panel],
            openings,
        )
        return np.asarray(self.branch.arcs[i] + span * along)

    def at_openings(self, openings: Floats) -> Floats:
        """(n, unknowns) exact turns at openings (rad) from 0 to the largest."""
        if self.largest == 0.0 or not openings.any():  # shut, where pins are mostly dragged
            return np.zeros((len(openings), self.closure.unknowns))
        arcs = self.arcs_at(openings)
        first = self.branch.cubic(arcs)
        y, good = self._solve_by_opening(first, openings)
        good &= np.abs(y - first).max(axis=1) <= 0.1 * (self.branch.arcs[-1] - arcs) + (0.0 if self.folds else 0.05)
        if not good.all():
            y[~good] = self._solve_by_arc(openings[~good])
        if self.folds:
            y[openings >= self.knot_openings[-1]] = self.branch.turns[-1]
        return y

    def at_arcs(self, arcs: Floats) -> Floats:
        """(n, unknowns) exact turns at places along the branch from 0 to its end."""
        if len(self.branch.arcs) == 1:
            return np.zeros((len(arcs), self.closure.unknowns))
        y = self.branch.at(arcs)
        if self.folds:
            y[arcs >= self.branch.arcs[-1]] = self.branch.turns[-1]
        return y

    def arcs_of(self, y: Floats) -> Floats:
        """(n,) places along the branch of exact poses of it."""
        if len(self.branch.arcs) == 1:
            return np.zeros(len(y))
        i = self._before(self.sign * y[:, self.panel])
        along = np.einsum("ij,ij->i", self.branch.tangents[i], y - self.branch.turns[i])
        return np.asarray(self.branch.arcs[i] + along)

    def fine_arcs(self, after_deg: float, parts: int) -> Floats:
        """(n,) places from an opening (deg) to the one reached: both, and `parts` in each stretch between knots."""
        start = 0.0
        if after_deg > 0.0:
            asked = np.array([min(math.radians(after_deg), self.reached)])
            start = min(float(self.arcs_of(self.at_openings(asked))[0]), self.reach_arc)
        knots = self.branch.arcs
        inner = (knots[:-1, None] + np.diff(knots)[:, None] * (np.arange(parts) / parts)).ravel()
        inside = inner[(inner > start + 1e-9) & (inner < self.reach_arc - 1e-9)]
        return np.concatenate([[start], inside, [self.reach_arc]])

    def _solve_by_opening(self, first: Floats, openings: Floats) -> tuple[Floats, Bools]:
        """Newton with the panel's turn held; which poses got there."""
        curve, y = self.branch.curve, first.copy()
        row = np.zeros_like(y)
        row[:, self.panel] = 1.0
        target = self.sign * openings
        for _ in range(8):
            residual = curve.residual(y)
            lack = np.abs(residual).max(axis=1, initial=0.0)
            left = np.flatnonzero((lack > curve.solved) | (np.abs(y[:, self.panel] - target) > 1e-14))
            if len(left) == 0:
                break
            if len(left) == len(y):
                y -= newton_step(curve, y, residual, row, y[:, self.panel] - target)
                continue
            off = y[left, self.panel] - target[left]
            y[left] -= newton_step(curve, y[left], residual[left], row[left], off)
        closed = np.abs(curve.residual(y)).max(axis=1, initial=0.0) <= curve.accepted
        return y, closed & (np.abs(y[:, self.panel] - target) <= 1e-10)

    def _solve_by_arc(self, openings: Floats) -> Floats:
        """Halving along the branch, where the opening hardly grows with it."""
        i = self._before(openings)
        low, high = self.branch.arcs[i].copy(), self.branch.arcs[i + 1].copy()
        for _ in range(60):
            middle = 0.5 * (low + high)
            below = self.sign * self.branch.at(middle)[:, self.panel] < openings
            low, high = np.where(below, middle, low), np.where(below, high, middle)
        return self.branch.at(0.5 * (low + high))

    def link_turns(self, y: Floats) -> Floats:
        """(n, unknowns) → (n, links) turns, rad."""
        return self.closure.link_turns(y)

    def shifts(self, y: Floats) -> Complexes:
        """(n, unknowns) → (n, links) shifts, mm."""
        return self.closure.shifts(self.closure.link_turns(y))

    def moving(self, y: Floats, rates: Floats) -> Moving:
        """How all columns stand and move at poses y, whose turns go at these rates (n, unknowns)."""
        turns, spins = self.closure.link_turns(y), self.closure.link_turns(rates)
        e = np.exp(1j * turns)
        spun = 1j * e * spins
        moved = spun @ self.closure.shift_map.T - self.closure.centre * spun
        return Moving(e, spins, self.closure.shifts(turns), moved)


def sweep(project: Project, near: Sweep | None = None) -> Sweep:
    """The sweep of a project; `near`, an earlier one, is taken as first guess where it still fits."""
    wanted_deg, sign = project.travel.wanted_deg, float(project.travel.sign)
    followed = _followed(project, sign, near)
    if followed is not None:
        free, branch = followed
        return _stopped(_opening(free, branch, sign, wanted_deg), project)
    free = freedom(project)
    panel = int(free.closure.group[free.closure.panel]) - 1
    if free.state in ("locked", "loose"):
        return _standing(free, sign, panel, wanted_deg, free.state)
    curve = curve_of(free.closure)
    if free.state == "slides":
        return _sliding(free, curve, sign, panel, wanted_deg)
    tangent = shut_tangent(free.closure)
    heading = tangent * math.copysign(1.0, sign * tangent[panel])
    branch = trace(curve, np.zeros(free.closure.unknowns), heading, _past_opening(sign, panel))
    if len(branch.arcs) == 1:
        return _standing(free, sign, panel, wanted_deg, "locked")
    return _stopped(_opening(free, branch, sign, wanted_deg), project)


def _stopped(draft: Sweep, project: Project) -> Sweep:
    """The sweep up to where a strut is at its end, if one is before the opening reached."""
    struts = () if project.loads is None else project.loads.devices
    found = first_stop(struts, draft.closure, draft.branch, draft.reach_arc)
    if found is None:
        return draft
    arc, stop = found
    opening = draft.sign * float(draft.at_arcs(np.array([arc]))[0, draft.panel])
    if opening < SHUT:
        arc, opening = 0.0, 0.0
    return replace(draft, reached=opening, ends="device stop", reach_arc=arc, stop=stop)


def _opening(free: Freedom, branch: Branch, sign: float, wanted_deg: float) -> Sweep:
    """The sweep along a branch on which the panel opens."""
    panel = int(free.closure.group[free.closure.panel]) - 1
    branch, folds = _cut_at_fold(branch, sign, panel)
    largest = min(sign * float(branch.turns[-1, panel]), HALF_TURN)
    wanted = math.radians(wanted_deg)
    reached = min(wanted, largest)
    ends = "wanted opening" if wanted <= largest else "dead point"
    draft = Sweep(free, free.closure, branch, sign, panel, wanted_deg, reached, largest, ends, 0.0, folds)
    at_end = folds and reached >= draft.knot_openings[-1]
    return replace(draft, reach_arc=float(branch.arcs[-1]) if at_end else _exact_arc(draft))


def _followed(project: Project, sign: float, near: Sweep | None) -> tuple[Freedom, Branch] | None:
    """What moves, and the branch, from an earlier sweep of the same links and pivots at nearly the same places."""
    if near is None or near.sign != sign or near.freedom.state != "moves":
        return None
    if near.branch.curve.redundant or near.given_up:
        return None
    free = _same_freedom(project, near)
    branch = None if free is None else follow(near.branch, curve_of(free.closure))
    if free is None or branch is None or not sign * branch.tangents[0, near.panel] > 1e-6:
        return None
    stop = _past_opening(sign, near.panel)
    if not stop(branch.turns[-1], branch.tangents[-1]):
        branch = _lengthened(branch, stop)
    return free, branch


def _same_freedom(project: Project, near: Sweep) -> Freedom | None:
    """What moves, where the same links are joined in the same way and turn by the same unknowns; else None.

    A branch that passes the test has full rank at every knot, so it has one motion: where every link has an unknown of
    its own, mobility need not be asked again.
    """
    closure, old = build(project), near.closure
    if (closure.links, closure.joints, closure.fixed, closure.panel) != (old.links, old.joints, old.fixed, old.panel):
        return None
    if old.unknowns == len(old.links) - 1:
        return replace(near.freedom, closure=closure)
    free = freedom(project)
    return free if free.state == "moves" and np.array_equal(free.closure.group, old.group) else None


def _past_opening(sign: float, panel: int) -> Callable[[Floats, Floats], bool]:
    """Whether a knot lies past the fold, or past half a turn."""

    def stop(y: Floats, tangent: Floats) -> bool:
        return bool(sign * y[panel] >= HALF_TURN or sign * tangent[panel] <= 0.0)

    return stop


def trace_link(project: Project, link: str, reach: float) -> Branch | None:
    """The branch from shut while one link, any, turns by up to `reach` (rad, signed), past folds of the panel.

    None where that link doesn't turn at shut or nothing has just one motion.
    """
    free = freedom(project)
    closure = free.closure
    group = int(closure.group[closure.links.index(link)]) - 1
    if free.state not in ("moves", "slides") or group < 0:
        return None
    start = shut_tangent(closure)
    if abs(start[group]) < 1e-9:
        return None
    heading = start * math.copysign(1.0, start[group] * reach)
    return trace(curve_of(closure), np.zeros(closure.unknowns), heading, lambda y, _: bool(abs(y[group]) >= abs(reach)))


def _standing(free: Freedom, sign: float, panel: int, wanted_deg: float, ends: str) -> Sweep:
    """A sweep of one pose."""
    curve = Curve(free.closure.grouped_loops(), free.closure.size, redundant=True)
    zero = np.zeros((1, free.closure.unknowns))
    branch = Branch(curve, np.zeros(1), zero, Frames(zero, zero[:, :, None] * zero[:, None, :], zero))
    return Sweep(free, free.closure, branch, sign, panel, wanted_deg, 0.0, 0.0, ends, 0.0, False)


def _sliding(free: Freedom, curve: Curve, sign: float, panel: int, wanted_deg: float) -> Sweep:
    """Both ways from shut, up to half a turn of any link; nothing of it counts as opening."""
    zero = np.zeros(free.closure.unknowns)
    tangent = shut_tangent(free.closure)

    def far(y: Floats, _: Floats) -> bool:
        return bool(np.abs(y).max() >= HALF_TURN)

    ahead = trace(curve, zero, tangent, far, SLIDING_KNOTS)
    behind = trace(curve, zero, -tangent, far, SLIDING_KNOTS)
    whole = Branch(
        curve,
        np.concatenate([-behind.arcs[:0:-1], ahead.arcs]),
        np.concatenate([behind.turns[:0:-1], ahead.turns]),
        behind.frames.pick(slice(1, None)).backwards().then(ahead.frames),
    )
    return Sweep(free, free.closure, _measured(whole), sign, panel, wanted_deg, 0.0, 0.0, "dead point", 0.0, False)


def _measured(branch: Branch) -> Branch:
    """Arcs measured along each knot's own tangent, shut at 0, also on the part traced backwards."""
    steps = np.einsum("ij,ij->i", branch.tangents[:-1], np.diff(branch.turns, axis=0))
    arcs = np.concatenate([[0.0], np.cumsum(steps)])
    shut = int(np.flatnonzero(branch.arcs == 0.0)[0])
    return replace(branch, arcs=arcs - arcs[shut])


def _lengthened(branch: Branch, stop: Callable[[Floats, Floats], bool]) -> Branch:
    """The branch with what its trace gives beyond its last knots; short steps of old dead points are left out."""
    kept = len(branch.arcs)
    while kept > 2 and branch.arcs[kept - 1] - branch.arcs[kept - 2] < SHORT:
        kept -= 1
    branch = replace(branch, arcs=branch.arcs[:kept], turns=branch.turns[:kept], frames=branch.frames.pick(slice(kept)))
    more = trace(branch.curve, branch.turns[-1], branch.tangents[-1], stop)
    return Branch(
        branch.curve,
        np.concatenate([branch.arcs, branch.arcs[-1] + more.arcs[1:]]),
        np.concatenate([branch.turns, more.turns[1:]]),
        branch.frames.then(more.frames.pick(slice(1, None))),
        (*branch.forks, *(float(branch.arcs[-1]) + fork for fork in more.forks)),
    )


def _cut_at_fold(branch: Branch, sign: float, panel: int) -> tuple[Branch, bool]:
    """The branch up to its first fold, which becomes the last knot; and whether there is one."""
    branch = _with_dips(branch, sign, panel)
    past = np.flatnonzero(sign * branch.tangents[:, panel] <= 0.0)
    if len(past) == 0:
        return branch, False
    i = int(past[0]) - 1
    arc, y = _fold(branch, i, sign, panel)
    kept = i + 1 if arc - branch.arcs[i] >= 1e-12 else max(i, 1)
    return _ended(branch, kept, arc, y), True


def _with_dips(branch: Branch, sign: float, panel: int) -> Branch:
    """The branch with a knot more where the panel turns back, and on again, between two knots."""
    i = np.arange(len(branch.arcs) - 1)
    span = np.diff(branch.arcs)
    start, end = (sign * rate[i, panel] for rate in (branch.tangents, branch.end_rates))
    mean = sign * np.diff(branch.turns[:, panel]) / span
    # The cubic's rate is start + (6·mean − 4·start − 2·end)·u + (3·start + 3·end − 6·mean)·u².
    slope, bend = 6.0 * mean - 4.0 * start - 2.0 * end, 3.0 * start + 3.0 * end - 6.0 * mean
    u = np.clip(-0.5 * slope / np.where(bend > 0.0, bend, 1.0), 0.0, 1.0)
    low = np.flatnonzero((start > 0.0) & (end > 0.0) & (bend > 0.0) & (start + slope * u + bend * u**2 <= DIP))
    for k in low.tolist():
        arc = float(branch.arcs[k] + u[k] * span[k])
        y = branch.at(np.array([arc]))[0]
        if sign * tangents_at(branch.curve, y[None], branch.tangents[k][None])[0, panel] <= 0.0:
            return _ended(branch, k + 1, arc, y)
    return branch


def _ended(branch: Branch, kept: int, arc: float, y: Floats) -> Branch:
    """The first knots of a branch, and one more at its end."""
    return Branch(
        branch.curve,
        np.append(branch.arcs[:kept], arc),
        np.vstack([branch.turns[:kept], y]),
        branch.frames.pick(slice(kept)).then(frames(branch.curve, y[None], branch.tangents[kept - 1][None])),
        tuple(fork for fork in branch.forks if fork < arc),
    )


def _fold(branch: Branch, i: int, sign: float, panel: int) -> tuple[float, Floats]:
    """Where the panel's part of the tangent vanishes between knots i and i + 1, by the secant kept in its bracket."""
    low, high = float(branch.arcs[i]), float(branch.arcs[i + 1])
    f_low, f_high = float(sign * branch.tangents[i, panel]), float(sign * branch.tangents[i + 1, panel])
    arc, y = high, branch.turns[i + 1]
    for _ in range(60):
        arc = low + (high - low) * f_low / (f_low - f_high)
        at, plane = branch.at(np.array([arc])), branch.tangents[i][None]
        y = (at - newton_step(branch.curve, at, branch.curve.residual(at), plane))[0]  # to the last digit
        value = float(sign * tangents_at(branch.curve, y[None], plane)[0, panel])
        if abs(value) < FLAT or high - low < 1e-14:
            break
        if value > 0.0:
            low, f_low, f_high = arc, value, 0.5 * f_high
        else:
            high, f_high, f_low = arc, value, 0.5 * f_low
    return arc, y


def _exact_arc(draft: Sweep) -> float:
    """Place along the branch of the exact pose at the opening reached."""
    return float(draft.arcs_of(draft.at_openings(np.array([draft.reached])))[0])


def _cubic_root(p: Floats, q: Floats, rate_p: Floats, rate_q: Floats, value: Floats) -> Floats:
    """The u in [0, 1] at which a rising cubic from p to q with end rates takes the value: Newton, kept by halving."""
    low, high = np.zeros_like(value), np.ones_like(value)
    u = np.clip((value - p) / np.where(q > p, q - p, 1.0), 0.0, 1.0)
    for _ in range(12):
        v = 1.0 - u
        height = v * v * (1.0 + 2.0 * u) * p + u * u * (3.0 - 2.0 * u) * q + u * v * (v * rate_p - u * rate_q) - value
        slope = 6.0 * u * v * (q - p) + v * (1.0 - 3.0 * u) * rate_p - u * (2.0 - 3.0 * u) * rate_q
        low, high = np.where(height < 0.0, u, low), np.where(height < 0.0, high, u)
        step = u - height / np.where(slope > 0.0, slope, np.inf)
        u = np.where((step > low) & (step < high), step, np.where(np.abs(height) < 1e-15, u, 0.5 * (low + high)))
        if np.abs(height).max(initial=0.0) < 1e-14:
            break
    return np.asarray(u)
