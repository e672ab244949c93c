"""What the adjusters of a mount do: where they move the shut panel, how its gaps change, and which of them to turn.

Terms. An *adjuster* is a slot or a stack of shims. Links keep their lengths, so it moves no pin against another on the
same link: those of the bracket move the panel's skin against the panel's pins, those of the base move the whole hinge
against the body. So in travel an adjuster carries panel or hinge along as one rigid piece: a point p of it moves by
shift + i·turn·p for each mm (complex mm; the turn is that of shims under one row of bolts alone).

*Rest.* The shut panel lies on something at its front: a bump stop, the latch, else its front edge. There its height is
kept: once an adjuster has moved it, the hinge turns a little along its one motion until the panel lies there again,
which moves the rear edge besides. So with v the motion's velocity at a place and n the way in which the rest holds,

    moved(p) = a(p) + s · v(p),   s = (r − n·a(rest)) / (n·v(rest)),

a being what the adjuster does alone and r how far the rest itself is raised: the rest is an adjuster too (a = 0,
r = 1). All is exact to first order. In travel a gap counts at the opening at which it is least, where the opening at
which that is changes nothing to first order; so there is no s, but where it is least at shut.

*Which to turn.* Wanted changes c of gaps are met by adjusters x with least squares, |A·x − c|² + λ²|x|², each x within
what is left of its range. λ is small: it only decides among adjusters that do alike.

Source: rigid-body displacements and virtual work, any text on mechanics; least squares with bounds as in scipy.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics import motion
from kinematics.faces import skin, wall
from kinematics.rear_edge import front_point, rear_point

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from kinematics.analysis import Analysis
    from kinematics.faces import Face
    from kinematics.mount_parts import Base, Bracket
    from kinematics.project import Point, Project
    from kinematics.results import Gap

UP = 1j
SOFT = 1e-3
"""λ: a mm of adjustment weighs so little against a mm of gap."""
THREAD = 10.0
"""Mm by which a rest can be set either way, where nobody says (common practice, no source)."""
STILL = 1e-3
"""A rest that moves along its own way by less than this share of the motion doesn't hold the panel's front."""
BOLTED = ("fore_aft", "height", "front_height", "side", "up_down", "off_wall", "top_off_wall")


@dataclass(frozen=True, slots=True)
class Adjuster:
    """One adjuster.

    key : of `BOLTED`, or "rest".   carries : "panel" (against the panel's pins), "hinge" (against the body), or "".
    shift, turn : how it carries a point p (shut, complex mm), by shift + i·turn·p for each mm.
    less, more : mm that are left each way; None: nobody said.
    """

    key: str
    carries: str
    shift: complex
    turn: float
    less: float | None
    more: float | None

    def carried(self, place: complex) -> complex:
        """How a point at a place goes, for each mm."""
        return self.shift + 1j * self.turn * place


@dataclass(frozen=True, slots=True)
class Rest:
    """What the shut panel's front lies on: "bump stop", "latch" or "front edge", where, and the way out of it."""

    kind: str
    at: complex
    way: complex


@dataclass(frozen=True, slots=True)
class Effect:
    """What a mm of an adjuster does: to the rear corner and the front edge of the shut panel (mm), to gaps shut and in
    travel (mm for each of `Adjusting.gaps`; None: can't be told).   turn_deg : by which the shut panel turns.
    """

    adjuster: Adjuster
    rear: complex | None
    front: complex | None
    turn_deg: float
    shut: tuple[float | None, ...]
    travel: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Adjusting:
    """All adjusters with what they do.   rest : None where nothing of the panel is drawn, or it holds nothing: then
    the panel keeps its turn.   gaps : the pairs that are told of, those with a shut gap.
    """

    rest: Rest | None
    gaps: tuple[Gap, ...]
    effects: tuple[Effect, ...]


@dataclass(frozen=True, slots=True)
class Turned:
    """What to turn: mm of each adjuster (as in `Adjusting.effects`), and the changes of all shut gaps that it brings.

    meets : whether the wanted ones come out within 0.05 mm.
    """

    by: tuple[float, ...]
    changes: tuple[float | None, ...]
    meets: bool


# ----------------------------------------------------------------------------------------------------------- adjusters
def adjusters(
    project: Project, bracket: Bracket | None, base: Base | None, spans: tuple[float, float]
) -> tuple[Adjuster, ...]:
    """All adjusters of a bracket and a base; those of a side without pins, or of which nothing is said, are left out.

    spans : mm from the rearmost to the foremost bolts of the bracket, and from the lowest to the highest of the base.
    """
    found: list[Adjuster] = []
    face = None if bracket is None else skin(project, bracket)
    if bracket is not None and face is not None:
        found += _of_bracket(face, bracket, _ahead(project, face), spans[0])
    face = None if base is None else wall(project, base)
    if base is not None and face is not None:
        found += _of_base(face, base, spans[1])
    return tuple(found)


def _ahead(project: Project, face: Face) -> complex:
    """The unit way along the skin to the panel's front."""
    front = front_point(project)
    ahead = 1.0 if front is None or face.seen(complex(*front)).real >= 0.0 else -1.0
    return ahead * face.along


def _of_bracket(face: Face, part: Bracket, ahead: complex, span: float) -> list[Adjuster]:
    """Slots along the skin, shims below it, shims below the front bolts alone, slots across."""
    shims = part.shims, part.shims_most - part.shims
    found = [
        Adjuster("fore_aft", "panel", ahead, 0.0, part.fore_aft + part.fore_aft_at, part.fore_aft - part.fore_aft_at),
        Adjuster("height", "panel", -face.out, 0.0, *shims),
    ]
    if span > 0.0:
        pivot = face.drawn(complex(0.0, 0.0)) - 0.5 * span * ahead
        found.append(_tilted("front_height", "panel", -face.out, pivot, ahead, span, shims))
    found.append(Adjuster("side", "", 0j, 0.0, part.side + part.side_at, part.side - part.side_at))
    return found


def _of_base(face: Face, part: Base, span: float) -> list[Adjuster]:
    """Slots along the wall, shims behind the plate, shims behind its upper bolts alone."""
    up = face.along if face.along.imag >= 0.0 else -face.along
    shims = part.shims, part.shims_most - part.shims
    found = [
        Adjuster("up_down", "hinge", up, 0.0, part.up_down + part.up_down_at, part.up_down - part.up_down_at),
        Adjuster("off_wall", "hinge", face.out, 0.0, *shims),
    ]
    if span > 0.0:
        found.append(_tilted("top_off_wall", "hinge", face.out, face.at - 0.5 * span * up, up, span, shims))
    return found


def _tilted(
    key: str, carries: str, way: complex, pivot: complex, along: complex, span: float, left: tuple[float, float]
) -> Adjuster:
    """Shims below one row of bolts, `span` along from the row that stays at a place, which lift it along a way."""
    turn = (way / (1j * along)).real / span
    return Adjuster(key, carries, -1j * turn * pivot, turn, *left)


# ---------------------------------------------------------------------------------------------------------------- rest
def rest_of(project: Project) -> Rest | None:
    """What the shut panel's front lies on: the bump stop furthest from its pins, the latch, else its front edge."""
    loads, panel = project.loads, project.panel.id
    pins = [complex(*pivot.at) for pivot in project.pivots_on(panel)]
    middle = sum(pins) / len(pins) if pins else 0j
    stops = () if loads is None else loads.cushions
    found = [each for each in stops if each.kind == "bump stop" and each.on == panel]
    if found:
        far = max(found, key=lambda each: abs(complex(*each.at) - middle))
        return Rest("bump stop", complex(*far.at), _unit(far.way_deg))
    if loads is not None and loads.latch is not None and loads.latch.on == panel:
        return Rest("latch", complex(*loads.latch.at), -_unit(loads.latch.way_deg))
    front = front_point(project)
    return None if front is None else Rest("front edge", complex(*front), UP)


def _unit(deg: float) -> complex:
    return complex(math.cos(math.radians(deg)), math.sin(math.radians(deg)))


# ------------------------------------------------------------------------------------------------------------- effects
@dataclass(frozen=True, slots=True, eq=False)
class _Shut:
    """The motion at shut, per rad of opening: how each link turns and shifts."""

    analysis: Analysis
    turns: tuple[float, ...]
    shifts: tuple[complex, ...]
    rest: Rest | None

    def velocity(self, link: int, place: complex) -> complex:
        return self.shifts[link] + 1j * self.turns[link] * place

    def follows(self, adjuster: Adjuster) -> float:
        """How far the motion goes (rad of opening) for each mm, so that the panel lies on its rest again."""
        if self.rest is None:
            return 0.0
        panel = self.analysis.sweep.closure.panel
        speed = (self.rest.way.conjugate() * self.velocity(panel, self.rest.at)).real
        raised = 1.0 if adjuster.key == "rest" else 0.0
        alone = (self.rest.way.conjugate() * adjuster.carried(self.rest.at)).real
        return (raised - alone) / speed


def adjusting(
    analysis: Analysis, bracket: Bracket | None, base: Base | None, spans: tuple[float, float], resting: bool = True
) -> Adjusting | None:
    """What each adjuster does; None where the panel doesn't open.   resting : whether the panel lies on its rest."""
    if analysis.state != "moves" or analysis.opening.reached_deg <= 0.0:
        return None
    project, sweep = analysis.project, analysis.sweep
    moving = motion.rates(sweep, sweep.at_openings(np.array([0.0])))
    turns, shifts = tuple(moving.turns[0].tolist()), tuple(moving.shifts[0].tolist())
    rest = rest_of(project) if resting else None
    shut = _Shut(analysis, turns, shifts, rest)
    if rest is not None:
        speed = shut.velocity(sweep.closure.panel, rest.at)
        if abs((rest.way.conjugate() * speed).real) <= STILL * abs(speed) or abs(speed) < STILL:
            rest, shut = None, _Shut(analysis, turns, shifts, None)
    found = adjusters(project, bracket, base, spans)
    if rest is not None:
        found = (*found, Adjuster("rest", "", 0j, 0.0, None, None))
    gaps = _told(analysis)
    return Adjusting(rest, gaps, tuple(_effect(shut, each, gaps) for each in found))


def _told(analysis: Analysis) -> tuple[Gap, ...]:
    """The gaps that have a line between two places when shut, each pair once; those of the panel alone."""
    seen: set[tuple[str, str]] = set()
    found = []
    for gap in analysis.gaps:
        pair = gap.between
        if pair in seen or gap.shut_points is None or gap.shut is None or any(map(analysis.project.is_device, pair)):
            continue
        if analysis.project.panel.id in map(analysis.project.rides_on, pair):
            seen.add(pair)
            found.append(gap)
    return tuple(found)


def _effect(shut: _Shut, adjuster: Adjuster, gaps: tuple[Gap, ...]) -> Effect:
    """What a mm of an adjuster does."""
    project, panel = shut.analysis.project, shut.analysis.sweep.closure.panel
    rear, front = rear_point(project), front_point(project)
    follows = shut.follows(adjuster)
    return Effect(
        adjuster,
        None if rear is None else _moved(shut, adjuster, follows, panel, complex(*rear[0])),
        None if front is None else _moved(shut, adjuster, follows, panel, complex(*front)),
        math.degrees(adjuster.turn + follows * shut.turns[panel]),
        tuple(_shut_rate(shut, adjuster, follows, gap) for gap in gaps),
        tuple(_travel_rate(shut, adjuster, follows, gap) for gap in gaps),
    )


def _moved(shut: _Shut, adjuster: Adjuster, follows: float, link: int, place: complex) -> complex:
    """How a place of a link goes with the panel shut, for each mm."""
    closure = shut.analysis.sweep.closure
    if link == closure.fixed:
        return 0j
    carried = adjuster.carries == "hinge" or (adjuster.carries == "panel" and link == closure.panel)
    alone = adjuster.carried(place) if carried else 0j
    return alone + follows * shut.velocity(link, place)


def _shut_rate(shut: _Shut, adjuster: Adjuster, follows: float, gap: Gap) -> float | None:
    """How a shut gap changes for each mm; None where its bodies touch, as they have no direction then."""
    if gap.shut_points is None:
        return None
    return _parted(shut, gap, gap.shut_points, lambda link, place: _moved(shut, adjuster, follows, link, place))


def _travel_rate(shut: _Shut, adjuster: Adjuster, follows: float, gap: Gap) -> float | None:
    """How a smallest gap over the travel changes for each mm."""
    if gap.at_points is None or gap.at_deg is None:
        return None
    if gap.at_deg < 1e-9:
        return _shut_rate(shut, adjuster, follows, gap)
    analysis = shut.analysis
    pose, closure = analysis.pose(gap.at_deg), analysis.sweep.closure

    def moved(link: int, place: complex) -> complex:
        if link == closure.fixed or not adjuster.carries:
            return 0j
        if adjuster.carries == "hinge":
            return adjuster.carried(place)
        if link != closure.panel:
            return 0j
        e = complex(np.exp(1j * pose.turns[link]))
        return e * adjuster.carried((place - complex(pose.shifts[link])) / e)

    return _parted(shut, gap, gap.at_points, moved)


def _parted(
    shut: _Shut, gap: Gap, points: tuple[Point, Point], moved: Callable[[int, complex], complex]
) -> float | None:
    """How two bodies part whose nearest places are two points."""
    first, second = (complex(*point) for point in points)
    if abs(second - first) < 1e-9:
        return None
    along = (second - first) / abs(second - first)
    columns = [shut.analysis.links.index(shut.analysis.project.rides_on(name)) for name in gap.between]
    return float(((moved(columns[1], second) - moved(columns[0], first)) * along.conjugate()).real)


# ------------------------------------------------------------------------------------------------------- which to turn
def alone(told: Adjusting, gap: int, change: float) -> tuple[tuple[int, float, bool], ...]:
    """By how much each single adjuster must be turned for a change (mm) of a shut gap: place, mm, whether it can.

    Those that can first, and among them the one that moves other gaps, rear corner and front edge least; those without
    a say are left out.
    """
    found = []
    for place, effect in enumerate(told.effects):
        rate = effect.shut[gap]
        if rate is None or abs(rate) < 1e-3:
            continue
        by = change / rate
        others = math.fsum(abs(by * each) for k, each in enumerate(effect.shut) if each is not None and k != gap)
        edges = math.fsum(abs(by * each) for each in (effect.rear, effect.front) if each is not None)
        found.append((not _fits(effect.adjuster, by), others + edges, place, by))
    return tuple((place, by, not beyond) for beyond, _, place, by in sorted(found))


def _fits(adjuster: Adjuster, by: float) -> bool:
    low, high = _bounds(adjuster)
    return low - 1e-9 <= by <= high + 1e-9


def _bounds(adjuster: Adjuster) -> tuple[float, float]:
    less = THREAD if adjuster.less is None else adjuster.less
    return -less, THREAD if adjuster.more is None else adjuster.more


def which(told: Adjusting, wanted: Mapping[int, float]) -> Turned | None:
    """Which adjusters to turn, and how far, for wanted changes (mm) of shut gaps (by place in `Adjusting.gaps`).

    Gaps that aren't named may do as they like. None where no adjuster has a say.
    """
    from scipy.optimize import lsq_linear  # noqa: PLC0415  slow to load, and never asked for in a drag

    rows = [place for place in wanted if all(each.shut[place] is not None for each in told.effects)]
    can = [k for k, each in enumerate(told.effects) if sum(abs(each.shut[row] or 0.0) for row in rows) > 1e-6]
    able = [k for k in can if np.subtract(*_bounds(told.effects[k].adjuster)[::-1]) > 1e-9]
    if not rows or not able:
        return None
    a = np.array([[told.effects[k].shut[row] or 0.0 for k in able] for row in rows])
    full = np.vstack([a, SOFT * np.eye(len(able))])
    right = np.concatenate([[wanted[row] for row in rows], np.zeros(len(able))])
    low, high = np.array([_bounds(told.effects[k].adjuster) for k in able]).T
    solved = lsq_linear(full, right, (low, high)).x
    by = [0.0] * len(told.effects)
    for k, mm in zip(able, solved.tolist(), strict=True):
        by[k] = mm
    changes = tuple(_change(told, by, gap) for gap in range(len(told.gaps)))
    meets = all(abs((changes[row] or 0.0) - wanted[row]) <= 0.05 for row in rows)
    return Turned(tuple(by), changes, meets)


def _change(told: Adjusting, by: list[float], gap: int) -> float | None:
    """How a shut gap changes with all adjusters turned."""
    rates = [effect.shut[gap] for effect in told.effects]
    if any(rate is None for rate in rates):
        return None
    return math.fsum(mm * (rate or 0.0) for mm, rate in zip(by, rates, strict=True))
