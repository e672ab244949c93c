"""Slopes: the exact rates of a check's margin, for all pivots at once, at the very pose that the check speaks of.

A figure that is a least one over the travel changes, to first order, as the figure at the pose where it is least: that
the least place itself wanders costs only second order (the envelope theorem). So one pose answers, and there one solve
for all pivots (`following`). A pose at an end of what counts holds the panel's turn; one at a dead point goes with it.

What rides on a link is carried along. The edge of a link's *band* moves by itself besides: its nearest place lies on
the line between two of its pins (or at one), and goes with them by its shares. A *contact* has no margin, as the gap is
0 on both sides; its rate is that of the travel spent in contact, whose ends go as −(∂gap/∂pivot) / (∂gap/∂opening).
Where an end has none, or no end lies within what counts, it is that of the depth, at the opening at which both bodies
stand deepest in each other (`deepest`). The travel goes first, as it knows the whole way through a thin wall, where
the depth knows the nearer face alone. How the middle of a piece slides that crossings cut off, where that is the
deepest place and no corner is, is left out.

None is told where there is no honest rate: redundant linkages, a sweep that ends without a dead point, two pins of a
band at one place.

Source of the theorem: J. M. Danskin, The Theory of Max-Min, 1967 (from memory); the rest derives.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics import motion
from kinematics.arrays import as_complex
from kinematics.contact import geometries
from kinematics.deepest import deepest
from kinematics.following import following, following_fold, motion_still, panel_still
from kinematics.transmitting import transmission_slopes
from kinematics.zoning import flaw, inside

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.analysis import Analysis
    from kinematics.arrays import Complexes, Floats
    from kinematics.bodies import Body
    from kinematics.deepest import Depth
    from kinematics.following import Following
    from kinematics.project import Point, Project
    from kinematics.results import Check, Gap

END = 1e-9
"""deg within which a pose is at an end of what counts."""
OUTSIDE = (1e-4, 2e-3, 0.02)
"""deg outside a contact at which its bodies' nearest places are looked at: upon each other they have no direction. The
nearest is the most exact; an end may be off by some thousandths, so that they may still touch there.
"""
FAST = 0.02
"""How much of the motion the panel's turn must have for it to be held: beside a dead point all else runs away."""
DEAD = 0.1
"""deg of transmission angle below which a link is taken to be at a dead point."""
ONE_PLACE = 1e-9
"""mm within which two pins stand at one place."""


@dataclass(frozen=True, slots=True, eq=False)
class At:
    """One pose with what follows there: turns y (1, unknowns) and how the links follow."""

    y: Floats
    follow: Following

    def drift(self, column: int, place: complex) -> Complexes:
        """(pivots, 2) how a point of a link that stands at a place moves."""
        return np.asarray(self.follow.drifts(np.array([0]), np.array([column]), np.array([place]))[0])


def slopes(analysis: Analysis, check: Check) -> Floats | None:
    """(pivots, 2) change for the better per mm of each pivot's shut place along x and y; None: no honest rate.

    Of the margin, mm or deg; for a gap that touches, of the degrees in contact or of the depth, less being better.
    """
    found = told(analysis, check)
    return None if found is None else found.rates


@dataclass(frozen=True, slots=True, eq=False)
class Told:
    """What `slopes` gives, and for a gap that touches, whether it is of the depth (mm), not of the degrees."""

    rates: Floats
    by_depth: bool = False


def told(analysis: Analysis, check: Check) -> Told | None:
    """The slopes of a check, and what they are of."""
    if check.have is None or (check.kind in _MARGINS and any(map(analysis.project.is_device, check.subject))):
        return None
    if check.kind in _AS_DRAWN:
        rates, by_depth = _AS_DRAWN[check.kind](analysis.project, check), False
    elif analysis.state != "moves" or analysis.sweep.branch.curve.redundant or check.deg is None:
        return None
    elif check.kind == "gap" and check.have <= 0.0:
        gap = gap_of(analysis, check)
        rates = _contact(analysis, gap)
        by_depth = rates is None
        rates = depth_slopes(analysis, gap) if rates is None else rates
    else:
        rates, by_depth = _moving(analysis, check), False
    return Told(rates, by_depth) if rates is not None and np.isfinite(rates).all() else None


def _moving(analysis: Analysis, check: Check) -> Floats | None:
    """The rates of what depends on the motion."""
    if check.kind == "opening":
        return _opening(analysis)
    at = None if check.deg is None else pose_at(analysis, check.deg, check.after_deg)
    return None if at is None or check.kind not in _MARGINS else _MARGINS[check.kind](analysis, check, at)


def pose_at(analysis: Analysis, deg: float, after_deg: float = 0.0) -> At | None:
    """The pose of a figure at an opening, free to wander within what counts; None where its end has no rate."""
    sweep, reached = analysis.sweep, analysis.opening.reached_deg
    if deg >= reached - END and analysis.opening.ends != "wanted opening":
        at_fold = sweep.folds and analysis.opening.ends == "dead point"
        return At(sweep.branch.turns[-1:], following_fold(sweep)) if at_fold else None
    y = sweep.at_openings(np.array([math.radians(min(max(deg, 0.0), reached))]))
    inner = after_deg + END < deg < reached - END
    still = motion_still(sweep, sweep.arcs_of(y), y) if inner else panel_still(sweep, y)
    return At(y, following(sweep, y, still))


def gap_of(analysis: Analysis, check: Check) -> Gap:
    """The gap that a check is of."""
    return next(gap for gap in analysis.gaps if gap.between == check.subject and gap.after_deg == check.after_deg)


# -------------------------------------------------------------------------------------------------------- each kind
def _gap(analysis: Analysis, check: Check, at: At) -> Floats | None:
    points = gap_of(analysis, check).at_points
    return None if points is None else _parting(analysis, check.subject, points, at)


def _shut_gap(analysis: Analysis, check: Check, at: At) -> Floats | None:
    points = next(gap.shut_points for gap in analysis.gaps if gap.between == check.subject)
    if points is None or check.have is None or check.have <= 0.0:
        return None
    rates = _parting(analysis, check.subject, points, at)
    low, high = check.have - check.uncertain, check.have + check.uncertain
    too_wide = check.most is not None and check.most - high < low - check.want
    return rates if rates is None or not too_wide else -rates


def _parting(analysis: Analysis, names: tuple[str, ...], points: tuple[Point, Point], at: At) -> Floats | None:
    """How two bodies part whose pens are nearest at two points."""
    first, second = (complex(*point) for point in points)
    if first == second:
        return None
    along = (second - first) / abs(second - first)
    ends = []
    for name, place, outwards in ((names[0], first, along), (names[1], second, -along)):
        drift = body_drift(analysis.project, name, at, place, outwards)
        if drift is None:
            return None
        ends.append(drift)
    return np.asarray(((ends[1] - ends[0]) * along.conjugate()).real)


def body_drift(project: Project, name: str, at: At, place: complex, outwards: complex) -> Complexes | None:
    """(pivots, 2) how the edge of a body moves at a place of its pen's stroke; None where two pins are at one place.

    outwards : the unit way from the body's own line to its pen's edge there.
    """
    columns = project.link_index
    if name not in columns:
        return at.drift(columns[project.outline(name).on], place)
    column = columns[name]
    centre = place - 0.5 * project.link(name).width * outwards
    e, shift = complex(at.follow.e[0, column]), complex(at.follow.shifts[0, column])
    shares = band_shares(project, name, (centre - shift) / e)
    if shares is None:
        return None
    drift = at.drift(column, centre)
    for pivot, share in shares:
        drift[pivot] += share * e * np.array([1.0, 1j])
    return drift


def band_shares(project: Project, link: str, shut: complex) -> list[tuple[int, float]] | None:
    """By which shares a place on the middle line of a link's band goes with its pins (places in the project's list).

    None where two of them stand at one place: then the edge goes with whichever is further out.
    """
    on = [k for k, pivot in enumerate(project.pivots) if link in pivot.joins]
    spots = as_complex(project.pivots[k].at for k in on)
    apart = np.abs(spots[:, None] - spots[None, :])
    if len(on) > 1 and apart[np.triu_indices(len(on), 1)].min() < ONE_PLACE:
        return None
    if len(on) == 1:
        return [(on[0], 1.0)]
    a, b = np.triu_indices(len(on), 1)
    way = spots[b] - spots[a]
    along = np.clip(((shut - spots[a]) * way.conj()).real / np.abs(way) ** 2, 0.0, 1.0)
    off = np.abs(shut - spots[a] - along * way)
    k = int(np.argmin(off))
    share = float(along[k])
    return [(on[int(a[k])], 1.0 - share), (on[int(b[k])], share)]


def _limit(analysis: Analysis, check: Check, at: At) -> Floats:
    mark = analysis.project.mark(check.subject[0])
    moved = _carried(analysis, at, mark.on, mark.at)
    better = 1.0 if check.side.endswith("least") else -1.0
    return better * (moved.real if check.side.startswith("dx") else moved.imag)


def _roof(analysis: Analysis, check: Check, at: At) -> Floats | None:
    """How the highest place sinks; where that is a pin with half its link's width, the pin moves by itself besides."""
    if check.place is None:
        return None
    project, column = analysis.project, analysis.links.index(check.subject[0])
    place = complex(*check.place)
    drift = at.drift(column, place)  # the pen's radius stands above the point, and is no lever
    radius = 0.5 * project.link(check.subject[0]).width
    for k, pivot in enumerate(project.pivots):
        stands = at.follow.shifts[0, column] + at.follow.e[0, column] * complex(*pivot.at)
        if check.subject[0] in pivot.joins and abs(stands + 1j * radius - place) < 1e-7:
            drift[k] += at.follow.e[0, column] * np.array([1.0, 1j])
            break
    return np.asarray(-drift.imag)


def _front(analysis: Analysis, check: Check, at: At) -> Floats | None:
    if check.place is None:
        return None
    on = analysis.project.mark(check.subject[0]).on if check.subject else analysis.project.panel.id
    return at.drift(analysis.links.index(on), complex(*check.place)).imag


def _carried(analysis: Analysis, at: At, link: str, shut: Point) -> Complexes:
    column = analysis.links.index(link)
    return at.drift(column, complex(at.follow.shifts[0, column] + at.follow.e[0, column] * complex(*shut)))


def _transmission(analysis: Analysis, check: Check, at: At) -> Floats | None:
    """None at a dead point, where the angle is nothing and leaves it at once."""
    links = motion.transmitter(analysis.project, analysis.sweep)
    if links is None or check.have is None or check.have < DEAD:
        return None
    return transmission_slopes(analysis.project, links, links.names.index(check.subject[0]), at.y, at.follow)


_AS_DRAWN: dict[str, Callable[[Project, Check], Floats | None]] = {
    "pin spacing": lambda project, check: spacing_slopes(project, check.subject[1], check.subject[2]),
    "zone": lambda project, check: zone_slopes(project, *check.subject)[0][1],
}
_MARGINS: dict[str, Callable[[Analysis, Check, At], Floats | None]] = {
    "gap": _gap,
    "shut gap": _shut_gap,
    "limit": _limit,
    "roof": _roof,
    "front edge": _front,
    "transmission": _transmission,
}


def _opening(analysis: Analysis) -> Floats | None:
    """Of the largest opening, deg per mm; nothing changes it where the panel could go half a turn."""
    sweep = analysis.sweep
    if sweep.stop is not None:
        return None
    if sweep.largest >= math.pi:
        return np.zeros((len(analysis.project.pivots), 2))
    if not sweep.folds:
        return None
    rates = np.degrees(sweep.sign * following_fold(sweep).turns[0, sweep.closure.panel])
    return rates if np.isfinite(rates).all() else None


def spacing_slopes(project: Project, first: str, second: str) -> Floats | None:
    """How the distance of two pins changes: along the line through them, for the two alone."""
    names = [pivot.id for pivot in project.pivots]
    a, b = names.index(first), names.index(second)
    way = complex(*project.pivots[a].at) - complex(*project.pivots[b].at)
    rates = np.zeros((len(names), 2))
    if abs(way) < ONE_PLACE:
        return None
    rates[a] = (way.real / abs(way), way.imag / abs(way))
    rates[b] = -rates[a]
    return rates


def zone_slopes(project: Project, link: str, pin: str) -> list[tuple[float, Floats]]:
    """How far a pin stands within its zone (mm, negative outside), and how that changes: of the zone in which it
    stands best the nearest edge first, then, for one that stands inside, every edge that faces it.
    """
    at = complex(*project.pivot(pin).at)
    rings = [zone.points for zone in project.zones if zone.on == link and not flaw(zone.points)]
    best = max(rings, key=lambda points: inside(points, project.pivot(pin).at))
    tails = as_complex(best)
    heads = np.roll(tails, -1)
    tails, heads = tails[tails != heads], heads[tails != heads]
    shares = ((at - tails) * (heads - tails).conj()).real / np.abs(heads - tails) ** 2
    feet = tails + np.clip(shares, 0.0, 1.0) * (heads - tails)
    off = np.abs(at - feet)
    is_in = inside(best, (at.real, at.imag)) >= 0.0
    nearest = int(np.argmin(off))
    faced = [k for k in np.flatnonzero((shares > 0.0) & (shares < 1.0)).tolist() if k != nearest] if is_in else []
    side = 1.0 if is_in else -1.0
    area = (tails.conj() * heads).imag.sum()  # above 0 where the edges run anticlockwise, and inside lies on their left
    k = next(place for place, pivot in enumerate(project.pivots) if pivot.id == pin)
    found = []
    for edge in (nearest, *faced):
        inwards = 1j * math.copysign(1.0, area) * (heads[edge] - tails[edge])
        way = side * (at - feet[edge]) if off[edge] > ONE_PLACE else inwards
        rates = np.zeros((len(project.pivots), 2))
        rates[k] = way.real / abs(way), way.imag / abs(way)
        found.append((side * float(off[edge]), rates))
    return found


# ---------------------------------------------------------------------------------------------------------- contact
def _contact(analysis: Analysis, gap: Gap) -> Floats | None:
    """Of the degrees in contact from where the want holds, fewer being better; None where nothing changes them.

    An end of a contact changes nothing where it is an end of what counts, but a dead point goes with the pivots.
    """
    total = np.zeros((len(analysis.project.pivots), 2))
    ends, ways, reached = [], [], analysis.opening.reached_deg
    for low, high in gap.touching_deg:
        if high - low <= OUTSIDE[0] or high <= gap.after_deg:
            continue
        for deg, outside in ((max(low, gap.after_deg), -1.0), (high, 1.0)):
            if outside > 0.0 and deg >= reached - END and analysis.opening.ends != "wanted opening":
                moved = _opening(analysis)
                if moved is None:
                    return None
                total -= moved
            elif gap.after_deg < deg + outside * OUTSIDE[0] < reached:
                ends.append(deg)
                ways.append(outside)
    for outside, moved in zip(ways, _ends(analysis, gap, np.array(ends), np.array(ways)), strict=True):
        if moved is None:
            return None
        total -= outside * moved
    return total if np.isfinite(total).all() and total.any() else None


def _ends(analysis: Analysis, gap: Gap, degs: Floats, outside: Floats) -> list[Floats | None]:
    """(pivots, 2) each: how ends of contacts move, deg per mm, looked at beside them; None where one has no rate."""
    sweep = analysis.sweep
    couple = (analysis.bodies[gap.between[0]], analysis.bodies[gap.between[1]])
    by = np.full(len(degs), OUTSIDE[0])
    for farther in (*OUTSIDE[1:], 0.0):
        y = sweep.at_openings(np.radians(np.clip(degs + outside * by, gap.after_deg, analysis.opening.reached_deg)))
        turns = sweep.closure.link_turns(y)
        e, shifts = np.exp(1j * turns), sweep.closure.shifts(turns)
        pens = [_pens(couple, *stands) for stands in zip(e, shifts, strict=True)]
        touch = [points is None for points in pens]
        if not any(touch) or not farther:
            break
        by[touch] = farther
    if not pens or None in pens:
        return [None] * len(pens)
    follow, rates = following(sweep, y, panel_still(sweep, y)), motion.rates(sweep, y)
    found: list[Floats | None] = []
    for k, points in enumerate(pens):
        assert points is not None
        parting = _parting(analysis, gap.between, points, At(y[k : k + 1], follow.only(k)))
        first, second = (complex(*point) for point in points)
        one, other = (
            complex(rates.shifts[k, body.column] + 1j * rates.turns[k, body.column] * (z - shifts[k, body.column]))
            for body, z in zip(couple, (first, second), strict=True)
        )
        grows = ((other - one) * (second - first).conjugate()).real / abs(second - first)
        found.append(None if parting is None or abs(grows) < 1e-9 else np.degrees(-parting / grows))
    return found


def _pens(couple: tuple[Body, Body], e: Complexes, shifts: Complexes) -> tuple[Point, Point] | None:
    """Where the strokes of two bodies are nearest at a pose, links standing at e and shifts; None where they touch."""
    lines = [geometries(body, (shifts[body.column] + e[body.column] * body.tails)[None])[0] for body in couple]
    line = shapely.get_coordinates(shapely.shortest_line(*lines))
    first, second = complex(*line[0]), complex(*line[1])
    apart = abs(second - first)
    if apart <= couple[0].radius + couple[1].radius:
        return None
    along = (second - first) / apart
    first, second = first + couple[0].radius * along, second - couple[1].radius * along
    return (first.real, first.imag), (second.real, second.imag)


def depth_slopes(analysis: Analysis, gap: Gap) -> Floats | None:
    """Of the depth of a gap that touches, less being better, at the opening at which it is deepest."""
    found = deepest_of(analysis, gap)
    at = None if found is None else _held(analysis, found)
    if found is None or at is None:
        return None
    one, other = (
        body_drift(analysis.project, name, at, place, 0j)
        for name, place in zip(gap.between, (found.first, found.second), strict=True)
    )
    return None if one is None or other is None else np.asarray(((other - one) * found.along.conjugate()).real)


def deepest_of(analysis: Analysis, gap: Gap) -> Depth | None:
    """Where a gap that touches is deepest, from the opening on at which its want holds; None: no way out."""
    after, reached = math.radians(gap.after_deg), math.radians(analysis.opening.reached_deg)
    contacts = [
        (max(math.radians(low), after), min(math.radians(high), reached))
        for low, high in gap.touching_deg
        if high >= gap.after_deg
    ]
    couple = (analysis.bodies[gap.between[0]], analysis.bodies[gap.between[1]])
    return deepest(analysis.sweep, couple, contacts, (after, reached))


def _held(analysis: Analysis, found: Depth) -> At | None:
    """The pose of a depth, the panel held there; next to a dead point, where it can't be, the motion is."""
    sweep = analysis.sweep
    if found.opening >= math.radians(analysis.opening.reached_deg - END):
        return pose_at(analysis, analysis.opening.reached_deg)
    y = found.y[None]
    still = motion_still(sweep, sweep.arcs_of(y), y)
    if abs(float(still[0, sweep.panel])) > FAST * float(np.abs(still).max()):
        still = panel_still(sweep, y)
    return At(y, following(sweep, y, still))
