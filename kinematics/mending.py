"""Put right: move the free pins as little as possible, in sum of squares, until all wants hold.

From where the pins stand, all near misses of the sweep (`nearmisses`) give linear wants on the pins' moves. The least
move *from where they stood at first* that meets them all, within a step, is a least-distance problem; then the exact
analysis looks again. Where no step meets all, the one is taken for which the wants give way least in sum. A step after
which the wants are missed by more than before isn't taken, but halved. It ends when nothing gets better: then either
all hold, or those that give way, and those that stand against them, are told.

What is found is the least move near the pins' own places; that there is no better one far away isn't proved.

Source: sequential quadratic programming with an exact penalty, e.g. J. Nocedal, S. J. Wright, Numerical Optimization,
2006, ch. 18 (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.analysis import Analysis, analyse
from kinematics.built import followed
from kinematics.errors import ProjectError
from kinematics.least_moves import least_distance, least_give
from kinematics.nearmisses import Rows, near_misses
from kinematics.weakening import Key, key_of, weakening, with_weak

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from kinematics.arrays import Floats, Ints
    from kinematics.project import Point, Project
    from kinematics.results import Check

STEP = 8.0
"""mm that a pin is moved at most in a step, each way; an eighth of the linkage's size where that is less."""
REACH = 80.0
"""mm that a pin is moved at most in all, each way: beyond that it is another hinge."""
SPARE = 0.01
"""mm that each pin might stand off, either way, without a want being broken: places are rounded in the end."""
ROUNDED = 2
"""Decimals of mm to which moved pins' places are rounded."""
SHORT = 0.02
"""mm: steps shorter than this end the search."""
MOST = 30
"""Steps of one search, halved ones too."""
ASIDE = (0.0, 2.0, 4.0, 8.0, 8.0)
"""mm by which pins are put aside (their spread) for each search; the same ones every time."""
NEARER = 3
"""Searches to better what a start from aside has found."""
ROUNDS = 4
"""Searches, each with more to spare, until wants hold with rounded places too."""
OVER, LEAPS = 3, 1
"""Steps on end that may make things worse before the search goes back, and how often it may."""
NOUGHT = 1e-7
"""mm (or deg) that don't count."""
IDLE = 1e-6
"""mm per mm below which no pin changes anything."""
WEIGHT = 20.0
"""mm of moves that are worth a mm by which wants are missed, while both can't be had."""
AGAINST = 1e-4
"""Share of the largest multiplier from which on a want counts as standing against others."""


@dataclass(frozen=True, slots=True)
class Fight:
    """A want that can't be met along with others: its check, and by how much it would have to give (mm or deg).

    by is 0 for one that needn't give, but against which others stand.   as_drawn : no pin changes anything about it.
    """

    check: Check
    by: float
    as_drawn: bool = False


@dataclass(frozen=True, slots=True)
class Mended:
    """What came of it.

    project : with the pins moved; the one that was given where not ok.   moved : (dx, dy) mm of every pin that moved.
    ok : whether all wants hold.   fighting : where they can't, which ones.   steps : that were looked at.
    why : where not ok, in a word: "locked" (no pin is free), "still" (the panel doesn't open, or not in one way),
    "fight", or "stopped".   analysis : of the project; None where there was none yet.
    """

    project: Project
    moved: dict[str, Point]
    ok: bool
    fighting: tuple[Fight, ...] = ()
    steps: int = 0
    why: str = ""
    analysis: Analysis | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """Where the search stands: places (free pins, 2) mm, what follows from them, and by how much wants are missed.

    spare : (rows,) what is wanted over and above each row's own want; a miss counts from half of it on.
    """

    places: Floats
    analysis: Analysis
    rows: Rows
    spare: Floats
    missed: float


def mend(
    project: Project,
    analysis: Analysis | None = None,
    stop: Callable[[], bool] = lambda: False,
    aside: Sequence[float] = ASIDE,
) -> Mended:
    """Move the free pins as little as possible until all wants hold.

    analysis : of this project, if it is at hand.   stop : asked before each step; the project then stays as it was.
    aside : from how far beside the pins (mm, their spread) it is searched, one search after another until one leads
    somewhere.
    """
    analysis = analyse(project, steps=2) if analysis is None else analysis
    if all(check.ok for check in analysis.checks):
        return Mended(project, {}, ok=True, analysis=analysis)
    if all(pivot.locked for pivot in project.pivots):
        return Mended(project, {}, ok=False, why="locked", analysis=analysis)
    if analysis.state != "moves" or analysis.sweep.branch.curve.redundant:
        return Mended(project, {}, ok=False, why="still", analysis=analysis)
    return _Search(project, analysis, stop).run(aside)


def mend_from(project: Project, analysis: Analysis, places: Floats, stop: Callable[[], bool]) -> Mended:
    """Search once for the least moves, from other places (pivots, 2) of the pins; all else as for `mend`.

    The project is one that `mend` searches for: not all of its pins are locked, and its panel moves in one way. Locked
    pins stay whatever places says of them.
    """
    search = _Search(project, analysis, stop)
    return search.from_places(places[search.free])


def _far(mended: Mended) -> float:
    """What is to be the least."""
    return sum(dx * dx + dy * dy for dx, dy in mended.moved.values())


class _Search:
    """One search from a project's pins."""

    def __init__(self, project: Project, analysis: Analysis, stop: Callable[[], bool]) -> None:
        self.project, self.stop, self.steps = project, stop, 0
        self.state: _State  # from the first look on
        self.free = [k for k, pivot in enumerate(project.pivots) if not pivot.locked]
        self.home = np.array([project.pivots[k].at for k in self.free])
        size = analysis.sweep.closure.size  # of a single pin: none
        self.longest = min(STEP, 0.125 * size) if size > NOUGHT else STEP
        self.reach = REACH
        self.spare = SPARE
        self.first = analysis
        self.weak: dict[Key, Floats] = {}  # rates of strength, of what fell short where all else was put right

    def from_places(self, places: Floats) -> Mended:
        """Search from elsewhere; reach and moves count from where the pins stand all the same."""
        found = self.begun(self.home + np.clip(places - self.home, -self.reach, self.reach))
        if found is None:
            return Mended(self.project, {}, ok=False, steps=self.steps, why="fight")
        return found if found.why else self.nearer(found)

    def run(self, spreads: Sequence[float]) -> Mended:
        """Search from where the pins stand; where that leads nowhere, from beside it."""
        dice, best = np.random.default_rng(1), None
        if spreads[0] != 0.0:  # beside the pins the panel may not move at all
            self.state = best = self.look(self.home, self.first) or self.state
        for aside in spreads:
            found = self.begun(self.home + aside * dice.normal(size=self.home.shape))
            if found is not None:
                return found if aside == 0.0 or found.why else self.nearer(found)
            best = self.state if best is None or self.state.missed < best.missed else best
            if self.beyond_pins():
                break
        self.state = best if best is not None else self.state
        return Mended(self.project, {}, ok=False, fighting=self.fighting(), steps=self.steps, why="fight")

    def begun(self, places: Floats) -> Mended | None:
        """One search from places; None where it leads nowhere."""
        first = self.look(places, self.first)
        if first is None:
            return None
        self.state, self.spare = first, SPARE
        return self.one()

    def nearer(self, found: Mended) -> Mended:
        """What was found from aside needn't be the least: take back, pin by pin, what isn't needed, and search anew."""
        for _ in range(NEARER):
            again = self.begun(self.taken_back(found))
            if again is not None and again.why == "stopped":
                return again
            if again is None or not again.ok or _far(again) >= 0.99 * _far(found):
                break
            found = again
        return replace(found, steps=self.steps)

    def taken_back(self, found: Mended) -> Floats:
        """The places that were found, but the pins at home that can be, one after another."""
        near = found.analysis or self.first
        places = np.array([found.project.pivots[k].at for k in self.free])
        for k in np.argsort(np.abs(places - self.home).sum(axis=1)).tolist():
            trial = places.copy()
            trial[k] = self.home[k]
            state = self.look(trial, near)
            if state is not None and all(check.ok for check in state.analysis.checks):
                places, near = trial, state.analysis
        return places

    def one(self) -> Mended | None:
        """One search; once all wants hold, round, and where they don't any more then, again with more to spare."""
        for _ in range(ROUNDS):
            if not self.search():
                return Mended(self.project, {}, ok=False, why="stopped", steps=self.steps)
            if self.state.missed > NOUGHT:
                if not self.learnt(self.state.analysis):
                    return None
                self.state = self.look(self.state.places, self.state.analysis) or self.state
                continue
            places = self.rounded()
            rounded = analyse(self.with_places(places), steps=2)  # afresh: no guess has a part in the answer
            if all(check.ok for check in rounded.checks):
                return self.mended(places, rounded)
            if not self.learnt(rounded):
                self.spare *= 2.0
            self.state = self.look(self.state.places, self.state.analysis) or self.state
        return None

    def learnt(self, analysis: Analysis) -> bool:
        """See what pins do to the strength that falls short, where nothing else does; False where that is known."""
        short = [check for check in analysis.checks if not check.ok]
        new = [check for check in short if key_of(check) not in self.weak]
        if not new or any(check.kind != "strength" for check in short):
            return False
        found = weakening(analysis, new, self.free)
        self.weak |= found
        return bool(found)

    def search(self) -> bool:
        """Step by step to the best place found; now and then over a rise, as what is missed isn't smooth.

        False where it was stopped.
        """
        best, bound, over, leaps = self.state, self.longest, 0, LEAPS
        last = self.steps + MOST
        while self.steps < last and bound > 0.25 * SHORT:
            if self.stop():
                return False
            step = self.step(bound)
            far = float(np.abs(step).max(initial=0.0))
            if far < SHORT and self.state.missed <= NOUGHT:
                break
            self.steps += 1
            found = self.look(self.state.places + step, self.state.analysis)
            if found is not None and self.cost(found) < self.cost(best) - 1e-4:
                best = self.state = found
                over, bound = 0, min(self.longest, 2.0 * max(bound, far))
            elif found is not None and leaps > 0 and over < OVER and far > 1.0:
                self.state, over = found, over + 1
            else:
                leaps, over = leaps - (over > 0), 0
                self.state, bound = best, 0.5 * min(bound, far)
        self.state = best
        return True

    def beyond_pins(self) -> bool:
        """Whether a want is missed where no pin changes anything: a shut gap of outlines, say."""
        return bool(self.as_drawn().size)

    def as_drawn(self) -> Ints:
        """Give the checks that are missed at some place where no pin changes anything."""
        rows = self.state.rows
        idle = np.abs(rows.rates[:, self.free]).max(axis=(1, 2), initial=0.0) < IDLE
        return np.unique(rows.checks[idle & (rows.margins < -NOUGHT)])

    def cost(self, state: _State) -> float:
        """What is to become less: how far pins went, and by how much wants are missed."""
        return float(np.linalg.norm(state.places - self.home)) + WEIGHT * state.missed

    def look(self, places: Floats, near: Analysis) -> _State | None:
        """Analyse the linkage with the free pins at places; None where the panel doesn't move as it did."""
        moved = self.with_places(places)
        try:
            analysis = near if moved is near.project else analyse(moved, steps=2, near=near)
        except ProjectError:
            return None
        if analysis.state != "moves" or analysis.sweep.branch.curve.redundant:
            return None
        rows = with_weak(near_misses(analysis), analysis, self.weak)
        spare = self.to_spare(rows)
        missed = replace(rows, margins=rows.margins - 0.5 * spare).worst(analysis)
        return _State(places, analysis, rows, spare, float(np.maximum(-missed, 0.0).sum()))

    def to_spare(self, rows: Rows) -> Floats:
        """(m,) how much of each margin rounding might take."""
        return np.asarray(self.spare * np.abs(rows.rates[:, self.free]).sum(axis=(1, 2)))

    def with_places(self, places: Floats) -> Project:
        if np.array_equal(places, self.home):
            return self.project
        pivots = list(self.project.pivots)
        for k, (x, y) in zip(self.free, places.tolist(), strict=True):
            pivots[k] = replace(pivots[k], at=(x, y))
        plates = followed(self.project.plates, self.project.pivots, pivots)
        return replace(self.project, pivots=tuple(pivots), plates=plates)

    # ------------------------------------------------------------------------------------------------------ one step
    def wants(self) -> tuple[Floats, Floats]:
        """Linear wants on the step: G·z ≥ h."""
        rows = self.state.rows
        count = len(rows.margins), 2 * len(self.free)
        return rows.rates[:, self.free].reshape(count), self.state.spare - rows.margins - NOUGHT

    def bounds(self, bound: float) -> tuple[Floats, Floats]:
        """How far the step may go each way: within a bound, and within reach of where the pins stood."""
        gone = (self.state.places - self.home).ravel()
        return np.maximum(-bound, -self.reach - gone), np.minimum(bound, self.reach - gone)

    def step(self, bound: float) -> Floats:
        """(free pins, 2) the step to try: the least move in all that meets the wants, or lets them miss least."""
        G, h = self.wants()
        low, high = self.bounds(bound)
        back = (self.home - self.state.places).ravel()
        z = self.nearest(G, h, low, high, back)
        if z is None:
            give = least_give(G, h, self.state.rows.checks, low, high)
            if give is None:
                return np.zeros_like(self.home)
            slack, _, z = give
            eased = self.nearest(G, h - slack[self.state.rows.checks] - 1e-5, low, high, back)
            z = z if eased is None else eased
        return np.asarray(np.clip(z, low, high)).reshape(-1, 2)

    @staticmethod
    def nearest(G: Floats, h: Floats, low: Floats, high: Floats, back: Floats) -> Floats | None:
        """The step nearest to `back`, which would lead home, that keeps G·z ≥ h and low ≤ z ≤ high."""
        unit = np.eye(len(low))
        walls, limits = np.concatenate([G, unit, -unit]), np.concatenate([h, low, -high])
        z = least_distance(walls, limits - walls @ back)
        return None if z is None else z + back

    # -------------------------------------------------------------------------------------------------------- the end
    def rounded(self) -> Floats:
        gone = np.abs(self.state.places - self.home).max(axis=1)
        return np.where(gone[:, None] < 0.5 * 10.0**-ROUNDED, self.home, np.round(self.state.places, ROUNDED))

    def mended(self, places: Floats, analysis: Analysis) -> Mended:
        moved = {}
        for k, (dx, dy) in zip(self.free, (places - self.home).tolist(), strict=True):
            if math.hypot(dx, dy) > 0.0:
                moved[self.project.pivots[k].id] = (dx, dy)
        return Mended(analysis.project, moved, ok=True, steps=self.steps, analysis=analysis)

    def fighting(self) -> tuple[Fight, ...]:
        """The wants that give way where the search stands, and those that stand against them, most first."""
        G, h = self.wants()
        rows, checks = self.state.rows, self.state.analysis.checks
        given = np.zeros(len(checks))
        weights = np.zeros(len(checks))
        give = least_give(G, h - self.state.spare, rows.checks, *self.bounds(self.longest)) if len(h) else None
        if give is not None:
            given[: len(give[0])] = give[0]
            np.add.at(weights, rows.checks, give[1])
        else:
            given = np.maximum(-rows.worst(self.state.analysis), 0.0)
        silent = [not check.ok and k not in rows.checks for k, check in enumerate(checks)]
        part = (given > 1e-6) | (weights > AGAINST * max(float(weights.max(initial=0.0)), 1e-12)) | np.array(silent)
        order = np.argsort(-given, kind="stable")
        drawn = set(self.as_drawn().tolist())
        for k, check in enumerate(checks):
            if check.kind == "strength":  # its rows stand in mm
                given[k] = max(-check.margin, 0.0)
        return tuple(Fight(checks[k], float(given[k]), k in drawn) for k in order.tolist() if part[k])
