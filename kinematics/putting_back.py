"""What brings the hinge back that came out otherwise than drawn: an adjuster to turn, or a hole to fill and redrill.

*Wanted* is that every check that holds as drawn holds as built (but for strength, which is the plates' own business),
and that the shut gaps of what is adjusted are as drawn, within `LEFT`.

*Adjusters.* `kinematics.adjusting` has the exact rates of gaps at the hinge as built. Of single adjusters, then two,
then three together, the first that bring back all that is wanted within their ranges, by least squares; among as many
those that bring rear corner and front edge back too, as left and right hinge are to agree. The hinge is built and
analysed anew with them turned, and the rest is turned after (Newton), as rates are of first order. They are told in
steps of `FINEST`, as nobody sets them finer.

*Redrilling.* A hole is moved in one link alone, all else as built. How each check goes with it is read off hinges built
and analysed anew with the hole a little aside; the least move by which all checks hold follows, is tried, and read off
anew. Where a thing touches that tells nothing, so a hole that came out elsewhere is tried where it was drawn, too. Of
all holes, the one that is moved least. What is found is the least near the hole's own place.

Nothing here is said that wasn't analysed: each answer carries the analysis of the hinge put back. Both searches are
generators that yield between looks, so that a window stays at hand; what they return is the answer.
"""

from __future__ import annotations

import math
from collections.abc import Generator
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from kinematics.adjusting import THREAD, adjusting
from kinematics.analysis import analyse
from kinematics.as_built import MadeError, built_of
from kinematics.built_beside import Beside, beside_of, check_key, off_course
from kinematics.errors import ProjectError
from kinematics.least_moves import least_distance
from kinematics.made_parts import Turned
from kinematics.made_shapes import made_shapes
from kinematics.rear_edge import front_point, rear_point

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from kinematics.adjusting import Adjusting, Effect
    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.made_parts import HandMade
    from kinematics.made_shapes import Hole
    from kinematics.project import Project

Answer = TypeVar("Answer")
Search = Generator[None, None, Answer | None]
"""A search that yields between looks, and returns its answer."""

LEFT = 0.2
"""Mm by which a shut gap may differ from the drawn one and nobody sees it (common practice, no source)."""
FINEST = 0.05
"""Mm to which an adjuster is set: thin shims come in such steps (common practice, no source)."""
MOST_TOGETHER, MOST_TRIED = 3, 2
"""How many adjusters are turned together at most, and how many choices of as many are tried."""
SPARE = 0.05
"""Mm over its want to which a clearance is brought."""
ROUNDS = 5
SOFT, CORNER = 1e-3, 0.03
"""A mm of adjustment, and a mm of rear corner or front edge, weigh so little against a mm of gap."""
STEP = 0.05
"""Mm by which a hole is put aside to see what follows."""
REACH = 8.0
"""Mm that a hole is moved at most: beyond that a new plate is the lesser work."""
FINE = 0.01
"""Mm to which the place of a hole is told."""


@dataclass(frozen=True, slots=True, eq=False)
class PutBack:
    """Adjusters turned.

    by : key of adjuster to mm, from where it stands.   made : what is read off then.   after : the hinge so.
    meets : whether all that is wanted came back.
    """

    by: dict[str, float]
    made: HandMade
    after: Beside
    meets: bool


@dataclass(frozen=True, slots=True, eq=False)
class Redrilled:
    """A hole filled and drilled anew.

    hole : link and pivot.   by : from where it came out (complex mm, the link as drawn, shut).   distances : to the
    other holes of the link (pivot, mm now, mm then).   after : the analysis of the hinge so.
    """

    hole: Hole
    by: complex
    distances: tuple[tuple[str, float, float], ...]
    after: Analysis


@dataclass(frozen=True, slots=True)
class Goal:
    """A figure to bring back, by a change in mm: of a gap (its place in `Adjusting.gaps`), shut or its smallest in
    travel; or of rear corner or front edge along a unit way, which is wished for, and not wanted.
    """

    gap: int
    shut: bool
    change: float
    way: complex = 0j
    front: bool = False

    @property
    def weight(self) -> float:
        """How much a mm of it counts."""
        return CORNER if self.way else 1.0

    def rate(self, effect: Effect) -> float:
        """What it changes by per mm of an adjuster; 0 where that can't be told."""
        if self.way:
            moved = effect.front if self.front else effect.rear
            return 0.0 if moved is None else (moved * self.way.conjugate()).real
        return (effect.shut if self.shut else effect.travel)[self.gap] or 0.0


# ----------------------------------------------------------------------------------------------------------- adjusters
def needs_nothing(drawn: Analysis, now: Beside) -> bool:
    """Whether all that is wanted is there."""
    return now.analysis is not None and not off_course(drawn, now.analysis) and not _shut_off(drawn, now.analysis)


def put_back(drawn: Analysis, now: Beside, spans: tuple[float, float]) -> PutBack | None:
    """Adjusters that bring one hinge back; where they can't, the nearest they come. None where nothing is to be done,
    or no adjuster has a say.
    """
    return _answer(putting_back(drawn, now, spans))


def putting_back(drawn: Analysis, now: Beside, spans: tuple[float, float]) -> Search[PutBack]:
    """The same, look by look."""
    if now.analysis is None or needs_nothing(drawn, now):
        return None
    told = _told(now, spans)
    if told is None:
        return None
    best: PutBack | None = None
    for keys in _tries(told, goals(drawn, now, told)):
        found = yield from _turned(drawn, now, spans, keys)
        if found is not None and (best is None or found.meets or _lack(drawn, found.after) < _lack(drawn, best.after)):
            best = found
        if found is not None and found.meets:
            break
    return best


def _answer(search: Search[Answer]) -> Answer | None:
    """Search to the end."""
    while True:
        try:
            next(search)
        except StopIteration as end:
            found: Answer | None = end.value
            return found


def _told(now: Beside, spans: tuple[float, float]) -> Adjusting | None:
    """What adjusters do at the hinge as built, with what is left of each."""
    if now.built is None or now.analysis is None:
        return None
    mounted = now.built.project.mounted
    found = adjusting(now.analysis, mounted.bracket, mounted.base, spans, now.built.rests)
    if found is None or not found.effects:
        return None
    turned = {each.adjuster: each.by for each in now.made.turned}
    effects = []
    for effect in found.effects:
        adjuster, by = effect.adjuster, turned.get(effect.adjuster.key, 0.0)
        less = None if adjuster.less is None else max(adjuster.less + by, 0.0)
        more = None if adjuster.more is None else max(adjuster.more - by, 0.0)
        effects.append(replace(effect, adjuster=replace(adjuster, less=less, more=more)))
    return replace(found, effects=tuple(effects))


def goals(drawn: Analysis, now: Beside, told: Adjusting) -> tuple[Goal, ...]:
    """What is to change: shut gaps that adjusters are told of back as drawn, clearances up to their want, and rear
    corner and front edge to their places.
    """
    assert now.analysis is not None
    was = {gap.between: gap for gap in drawn.gaps}
    short = {check.subject for check in off_course(drawn, now.analysis) if check.kind == "gap"}
    found = []
    for place, gap in enumerate(told.gaps):
        before = was.get(gap.between)
        if before is None:
            continue
        if before.shut is not None and gap.shut is not None:
            found.append(Goal(place, shut=True, change=before.shut - gap.shut))
        if gap.between in short and gap.smallest is not None and gap.at_least is not None:
            want = gap.at_least + gap.uncertain + SPARE
            found.append(Goal(place, shut=False, change=want - gap.smallest))
    ways = _ways_back(drawn, now)
    for front, back in enumerate(ways):
        found.append(Goal(-1, False, back.real, 1.0 + 0j, bool(front)))
        found.append(Goal(-1, False, back.imag, 1j, bool(front)))
    return tuple(found)


def _ways_back(drawn: Analysis, now: Beside) -> tuple[complex, ...]:
    """From where rear corner and front edge stand to where they are drawn, shut; nothing where no panel is drawn."""
    rear, front = rear_point(drawn.project), front_point(drawn.project)
    if rear is None or front is None or now.built is None:
        return ()
    return tuple(end - now.built.panel_place(end) for end in (complex(*rear[0]), complex(*front)))


def _tries(told: Adjusting, wanted: Sequence[Goal]) -> Iterator[tuple[str, ...]]:
    """Which adjusters to try together: of one, two, three those that first order says come nearest."""
    keys = [effect.adjuster.key for effect in told.effects if _has_say(effect, wanted)]
    for many in range(1, MOST_TOGETHER + 1):
        ranked = []
        for chosen in combinations(keys, many):
            _, lack, ends = _solved(told, wanted, chosen)
            ranked.append((max(lack - 0.5 * LEFT, 0.0), ends, chosen))
        yield from (chosen for _, _, chosen in sorted(ranked)[:MOST_TRIED])


def _has_say(effect: Effect, wanted: Sequence[Goal]) -> bool:
    return any(abs(goal.rate(effect)) > 1e-3 for goal in wanted if not goal.way)


def _solved(told: Adjusting, wanted: Sequence[Goal], keys: tuple[str, ...]) -> tuple[list[float], float, float]:
    """Mm to turn each of some adjusters within what is left; then, to first order, the largest lack (mm) that stays of
    what is wanted, and that of both ends.
    """
    from scipy.optimize import lsq_linear  # noqa: PLC0415  slow to load, and never asked for in a drag

    chosen = [next(effect for effect in told.effects if effect.adjuster.key == key) for key in keys]
    rows = np.array([[goal.rate(effect) for effect in chosen] for goal in wanted]).reshape(len(wanted), len(keys))
    change, weights = (np.array([getattr(goal, name) for goal in wanted]) for name in ("change", "weight"))
    low = np.array([-_or(effect.adjuster.less) for effect in chosen])
    high = np.array([_or(effect.adjuster.more) for effect in chosen])
    full = np.vstack([rows * weights[:, None], SOFT * np.eye(len(keys))])
    right = np.concatenate([change * weights, np.zeros(len(keys))])
    free, by = high - low > 1e-9, np.zeros(len(keys))
    if free.any():
        by[free] = lsq_linear(full[:, free], right, (low[free], high[free])).x
    lacks, soft = np.abs(rows @ by - change), weights < 1.0
    return by.tolist(), float(lacks[~soft].max(initial=0.0)), float(lacks[soft].sum())


def _or(left: float | None) -> float:
    return THREAD if left is None else left


def _turned(drawn: Analysis, now: Beside, spans: tuple[float, float], keys: tuple[str, ...]) -> Search[PutBack]:
    """Turn some adjusters, look, and turn them on."""
    best, here = None, now
    for _ in range(ROUNDS):
        told = _told(here, spans)
        if told is None or here.analysis is None:
            return best
        left = tuple(key for key in keys if any(effect.adjuster.key == key for effect in told.effects))
        by, *_ = _solved(told, goals(drawn, here, told), left)
        made = _with_turned(here.made, dict(zip(left, by, strict=True)))
        if made == here.made:
            break
        yield
        here = beside_of(drawn.project, made, spans, drawn)
        if here.analysis is None:
            return best
        found = PutBack(_since(now.made, made), made, here, needs_nothing(drawn, here))
        if best is None or _lack(drawn, here) < _lack(drawn, best.after):
            best = found
    return best


def _with_turned(made: HandMade, by: dict[str, float]) -> HandMade:
    """What is read off once adjusters are turned on by some mm."""
    had = {each.adjuster: each for each in made.turned}
    for key, mm in by.items():
        old = had.get(key, Turned(key, 0.0))
        had[key] = replace(old, by=round(old.by + FINEST * round(mm / FINEST), 6))
    return replace(made, turned=tuple(each for each in had.values() if each.by != 0.0))


def _since(before: HandMade, after: HandMade) -> dict[str, float]:
    """Mm that each adjuster was turned."""
    was = {each.adjuster: each.by for each in before.turned}
    now = {each.adjuster: each.by for each in after.turned}
    found = {key: round(now.get(key, 0.0) - was.get(key, 0.0), 6) for key in {**was, **now}}
    return {key: mm for key, mm in found.items() if mm}


def _shut_off(drawn: Analysis, built: Analysis) -> bool:
    """Whether a shut gap that adjusters are told of differs from the drawn one by more than anybody sees."""
    return _largest_off(drawn, built) > LEFT


def _largest_off(drawn: Analysis, built: Analysis) -> float:
    was = {gap.between: gap.shut for gap in drawn.gaps if drawn.project.panel.id in map(_rides(drawn), gap.between)}
    pairs = ((was.get(gap.between), gap.shut) for gap in built.gaps)
    return max((abs(now - then) for then, now in pairs if then is not None and now is not None), default=0.0)


def _rides(analysis: Analysis) -> Callable[[str], str]:
    return analysis.project.rides_on


def _lack(drawn: Analysis, after: Beside) -> float:
    """By how much is missed what is wanted, and a little of what is wished for: mm, of checks as they stand."""
    if after.analysis is None:
        return math.inf
    missed = math.fsum(-check.margin for check in off_course(drawn, after.analysis) if math.isfinite(check.margin))
    ends = math.fsum(map(abs, _ways_back(drawn, after)))
    return missed + max(_largest_off(drawn, after.analysis) - LEFT, 0.0) + CORNER * ends


# ---------------------------------------------------------------------------------------------------------- redrilling
def redrill(drawn: Analysis, now: Beside, spans: tuple[float, float]) -> Redrilled | None:
    """The hole that is moved least until every check holds that holds as drawn; None where all do, or no single hole
    is enough.
    """
    return _answer(redrilling(drawn, now, spans))


def redrilling(drawn: Analysis, now: Beside, spans: tuple[float, float]) -> Search[Redrilled]:
    """The same, look by look."""
    if now.analysis is None or not off_course(drawn, now.analysis):
        return None
    search = _Holes(drawn, now, spans)
    best: tuple[float, Hole, complex, Analysis] | None = None
    guesses = yield from search.guesses()
    for far, hole, guess in sorted(guesses, key=lambda each: each[0]):
        if best is not None and far >= best[0]:
            break
        found = yield from search.settled(hole, guess)
        if found is not None and (best is None or abs(found[0]) < best[0]):
            best = (abs(found[0]), hole, *found)
    if best is None:
        return None
    _, hole, by, after = best
    return Redrilled(hole, by, search.distances(hole, by), after)


class _Holes:
    """Every hole of one hinge as built, and what follows when one is moved."""

    def __init__(self, drawn: Analysis, now: Beside, spans: tuple[float, float]) -> None:
        assert now.analysis is not None
        self.drawn, self.now, self.spans = drawn, now, spans
        self.project: Project = drawn.project
        self.near = now.analysis
        self.keys = [check_key(check) for check in drawn.checks if check.ok and check.kind != "strength"]
        self.shapes = made_shapes(self.project, now.made)
        self.holes = [(link, pin.id) for pin in self.project.pivots for link in pin.joins]
        self.home = self.margins(self.near)

    def look(self, hole: Hole, by: complex) -> Analysis | None:
        """The hinge with a hole moved; None where it doesn't go together."""
        try:
            built = built_of(self.project, self.now.made, self.spans, {hole: by})
            return analyse(built.project, steps=2, near=self.near)
        except (MadeError, ProjectError):
            return None

    def margins(self, analysis: Analysis) -> Floats:
        """(keys,) margins of the checks that hold as drawn; 0 where one has no say."""
        there = {check_key(check): check.margin for check in analysis.checks}
        found = np.array([there.get(key, 0.0) for key in self.keys])
        return np.where(np.isfinite(found), found, np.where(found > 0.0, 1e9, -1e9))

    def rates(self, hole: Hole, at: complex, margins: Floats) -> Search[Floats]:
        """(keys, 2) how margins go with a hole, from one side."""
        columns = []
        for way in (1.0, 1j):
            yield
            aside = self.look(hole, at + STEP * way)
            if aside is None:
                return None
            columns.append((self.margins(aside) - margins) / STEP)
        return np.stack(columns, axis=1)

    def least(self, rates: Floats, margins: Floats, at: complex) -> complex | None:
        """The least move from the hole's own place by which all margins are left, to first order."""
        here = np.array([at.real, at.imag])
        spare = FINE * np.abs(rates).sum(axis=1)
        z = least_distance(rates, spare - margins + rates @ here)
        return None if z is None else complex(z[0], z[1])

    def guesses(self) -> Generator[None, None, list[tuple[float, Hole, complex]]]:
        """Holes to look at with the move that may do, and how far it is."""
        found = []
        for hole in self.holes:
            back = complex(*self.project.pivot(hole[1]).at) - self.shapes.at(self.project, *hole)
            if FINE < abs(back) <= REACH:
                found.append((abs(back), hole, back))
            rates = yield from self.rates(hole, 0j, self.home)
            z = None if rates is None else self.least(rates, self.home, 0j)
            if z is not None and FINE < abs(z) <= REACH:
                found.append((abs(z), hole, z))
        return found

    def settled(self, hole: Hole, by: complex) -> Search[tuple[complex, Analysis]]:
        """The least move from a guess on by which all checks hold, to a hundredth; None where it leads nowhere."""
        best: tuple[complex, Analysis] | None = None
        for _ in range(ROUNDS):
            by = complex(round(by.real, 2), round(by.imag, 2))
            yield
            analysis = self.look(hole, by)
            if analysis is None or abs(by) > REACH:
                return best
            if not off_course(self.drawn, analysis) and (best is None or abs(by) < abs(best[0]) - FINE):
                best = by, analysis
            margins = self.margins(analysis)
            rates = yield from self.rates(hole, by, margins)
            z = None if rates is None else self.least(rates, margins, by)
            if z is None or abs(z - by) < FINE:
                return best
            by = z
        return best

    def distances(self, hole: Hole, by: complex) -> tuple[tuple[str, float, float], ...]:
        """From the hole to the others of its link, as it came out and as it is to be."""
        link, pivot = hole
        at = self.shapes.at(self.project, link, pivot)
        others = [pin.id for pin in self.project.pivots_on(link) if pin.id != pivot]
        places = {pin: self.shapes.at(self.project, link, pin) for pin in others}
        return tuple((pin, abs(at - place), abs(at + by - place)) for pin, place in places.items())
