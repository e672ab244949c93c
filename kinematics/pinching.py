"""Pinch places: where a gap that a finger can enter closes on it while the panel moves.

EN ISO 13854 (ISO 13854:2017, Minimum gaps to avoid crushing of parts of the human body; formerly EN 349), table 1,
names the least gap in which each part of the body isn't crushed. A place is a *pinch* for a part when the gap there is
that wide or wider at some opening and narrower at another: it can be entered, and then closes. A gap that is narrow
throughout can't be entered, one that stays wide crushes nobody. The panel moves both ways, so either order counts.

This is asked place by place, as the gap of a pair as a whole is that of its nearest points: a lid that sits 5 mm from
its frame near the hinge is 5 mm from it at every opening, and closes on a hand at its front edge all the same. So
points close together along one body are followed through the travel, each with its distance from the other body; runs
of points that open and close are taken together, and the one that closes furthest speaks for them. Looked at are the
outlines of panel against fixed link, and the bands of links against each other (shears). The widest and narrowest gaps
are those at poses close together, so a figure may be off by a millimetre or so; it marks a place, no more.
Where outlines are uncertain, a place that may be a pinch counts as one (`kinematics.doubt`).

That nothing is marked doesn't mean that nothing pinches: only what is drawn is looked at.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import Complexes, Floats, as_point
from kinematics.bodies import Body, link_body
from kinematics.plate_shapes import plate_cut

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Bools, Ints
    from kinematics.project import Point, Project

LEAST_GAPS = {
    "body": 500.0,
    "head": 300.0,
    "leg": 180.0,
    "foot": 120.0,
    "toes": 50.0,
    "arm": 120.0,
    "hand": 100.0,
    "finger": 25.0,
}
"""mm: the least gap in which a part of the body isn't crushed ("hand": hand, wrist and fist). EN ISO 13854, table 1."""

POSES = 61
"""Poses at which gaps are looked at, evenly spaced along the branch."""
APART = 8.0
"""mm between the points that are followed along a body, where that gives no more than MOST_POINTS of them."""
MOST_POINTS = 160
FEW_EDGES = 24
"""Bodies of no more edges are measured edge by edge."""
ASKED_FIRST = 12
"""Of more points than that, one of so many is asked first."""
TOGETHER = 80.0
"""Places of a pair nearer to each other than this (mm) are one."""
MOST_A_PAIR = 2
"""So many places are marked of one pair: those that close furthest."""


@dataclass(frozen=True, slots=True)
class Pinch:
    """One place where a part of the body is caught.

    between : the two bodies by id.     opens_to, closes_to : the widest and the narrowest gap there, mm.
    deg : the opening at which it is narrowest; place : where that is, in the fixed link's frame.
    uncertain : mm by which both gaps may be off, as the outlines may be.
    """

    between: tuple[str, str]
    opens_to: float
    closes_to: float
    deg: float
    place: Point
    uncertain: float = 0.0


@lru_cache(maxsize=4)
def pinches(analysis: Analysis, least: float = LEAST_GAPS["finger"]) -> tuple[Pinch, ...]:
    """Every place where a gap opens to `least` (mm) or more and closes below it; the narrowest first.

    None where the panel doesn't open. An analysis is looked at once; asking again costs nothing.
    """
    if analysis.opening.reached_deg <= 0.0:
        return ()
    poses = _Poses.of(analysis)
    found = [pinch for one, other in _pairs(analysis) for pinch in _between(poses, one, other, least)]
    return tuple(sorted(found, key=lambda pinch: (pinch.closes_to, pinch.between)))


@dataclass(frozen=True, slots=True, eq=False)
class _Named:
    """A body with its name, and how far (mm) its line may be off."""

    name: str
    body: Body
    uncertain: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class _Poses:
    """Poses (n,): openings in deg, turns and shifts (n, links)."""

    openings: Floats
    turns: Floats
    shifts: Complexes

    @classmethod
    def of(cls, analysis: Analysis) -> _Poses:
        """The poses of an analysis, those at which a pair is nearest among them."""
        sweep = analysis.sweep
        nearest = [gap.at_deg for gap in analysis.gaps if gap.at_deg is not None]
        arcs = np.linspace(0.0, sweep.reach_arc, POSES)
        if nearest:
            arcs = np.union1d(arcs, sweep.arcs_at(np.radians(nearest)).clip(0.0, sweep.reach_arc))
        y = sweep.at_arcs(arcs)
        openings = np.clip(np.degrees(sweep.sign * y[:, sweep.panel]), 0.0, sweep.reached_deg)
        return cls(openings, sweep.link_turns(y), sweep.shifts(y))

    def seen_from(self, points: Complexes, on: int, other: int) -> Complexes:
        """(poses, n) where shut points of link `on` stand in the frame of link `other`, in its shut coordinates."""
        placed = self.shifts[:, on, None] + np.exp(1j * self.turns[:, on, None]) * points
        return np.asarray((placed - self.shifts[:, other, None]) * np.exp(-1j * self.turns[:, other, None]))


def _pairs(analysis: Analysis) -> list[tuple[_Named, _Named]]:
    """The bodies to look at: outlines of the panel against those of the fixed link, bands of links against bands."""
    project, bodies = analysis.project, analysis.bodies

    def on(link: str) -> list[tuple[str, _Named]]:
        there = (outline for outline in project.outlines if outline.on == link)
        return [(each.station, _Named(each.id, bodies[each.id], each.uncertain)) for each in there]

    lids = [
        (lid, frame)
        for station, frame in on(project.fixed.id)
        for other, lid in on(project.panel.id)
        if station == other or not station or not other
    ]
    return [*lids, *combinations(_bands(project, analysis), 2)]


def _bands(project: Project, analysis: Analysis) -> list[_Named]:
    """The plates or bands of the links between fixed link and panel, where they have a width."""
    found = []
    for link in project.links:
        if link.kind == "link" and (link.width > 0.0 or plate_cut(project, link) is not None):
            body = analysis.bodies.get(link.id) or link_body(project, link.id, analysis.links.index(link.id))
            if body is not None:
                found.append(_Named(link.id, body))
    return found


def _between(poses: _Poses, one: _Named, other: _Named, least: float) -> list[Pinch]:
    """The pinch places of a pair, looked at along the first of the two; what may be one by the outlines' doubt is."""
    points, off = followed(one.body), one.uncertain + other.uncertain
    gaps = _gaps_about((least - off, least + off), poses, points, one.body, other.body)
    narrow, wide = gaps.min(axis=0), gaps.max(axis=0)
    caught = (narrow < least + off) & (wide >= least - off)
    if caught.any():
        wide[caught] = np.minimum(wide[caught], _opposite_wide(poses, points[caught], gaps[:, caught], one, other))
        caught &= wide >= least - off
    found = [
        _pinch(poses, (one, other), points, gaps[:, k], k, float(wide[k]))
        for k in _speakers(caught, np.rint(narrow), wide)
    ]
    kept: list[Pinch] = []
    for pinch in sorted(found, key=lambda pinch: (pinch.closes_to, -pinch.opens_to)):
        if all(math.dist(pinch.place, before.place) > TOGETHER for before in kept):
            kept.append(pinch)
    return kept[:MOST_A_PAIR]


def _opposite_wide(poses: _Poses, points: Complexes, gaps: Floats, one: _Named, other: _Named) -> Floats:
    """(n,) the widest gap, seen from the other body, of the places there at which points come nearest.

    A point that only slides past moves away while the two bodies stay near each other: no finger fits between them.
    """
    seen = poses.seen_from(points, one.body.column, other.body.column)
    seen = seen[np.argmin(gaps, axis=0), np.arange(len(points))]
    lines = shapely.shortest_line(shapely.points(seen.real, seen.imag), other.body.geometry())
    ends = shapely.get_coordinates(lines)[1::2]
    return np.asarray(_gaps(poses, ends[:, 0] + 1j * ends[:, 1], other.body, one.body).max(axis=0))


def followed(body: Body) -> Complexes:
    """Points close together along a body's edges, its vertices among them; shut, mm."""
    lengths = np.abs(body.heads - body.tails)
    apart = max(APART, float(lengths.sum()) / MOST_POINTS)
    parts = np.maximum(np.ceil(lengths / apart).astype(int), 1)
    steps = [
        tail + (head - tail) * np.arange(count) / count
        for tail, head, count in zip(body.tails, body.heads, parts.tolist(), strict=True)
    ]
    return np.concatenate([*steps, body.heads[-1:]])


def _gaps(poses: _Poses, points: Complexes, one: Body, other: Body) -> Floats:
    """(poses, n) distances of points of one body from another, both pens taken off, 0 where they touch or lie in."""
    seen = poses.seen_from(points, one.column, other.column)
    apart = _from_few_edges(seen, other) if len(other.tails) <= FEW_EDGES else _from_many_edges(seen, other)
    return np.asarray(np.maximum(apart - one.radius - other.radius, 0.0))


def _from_many_edges(seen: Complexes, body: Body) -> Floats:
    """Distances of points of any shape from a body's lines, 0 within a solid: by GEOS, which has a tree of edges."""
    return np.asarray(shapely.distance(shapely.points(seen.real, seen.imag), body.geometry()))


def _from_few_edges(seen: Complexes, body: Body) -> Floats:
    """The same for few edges, one after the other: to make points for GEOS takes longer than that."""
    x, y = seen.real, seen.imag
    nearest, within = np.full(seen.shape, np.inf), np.zeros(seen.shape, dtype=bool)
    for tail, head in zip(body.tails.tolist(), body.heads.tolist(), strict=True):
        way, ux, uy = head - tail, x - tail.real, y - tail.imag
        long = abs(way) ** 2
        share = np.clip((ux * way.real + uy * way.imag) / long, 0.0, 1.0) if long > 0.0 else 0.0
        nearest = np.minimum(nearest, (ux - share * way.real) ** 2 + (uy - share * way.imag) ** 2)
        if body.solid and way.imag != 0.0:  # a ray to the right crosses the edge
            within ^= ((tail.imag > y) != (head.imag > y)) & (ux < way.real * uy / way.imag)
    return np.where(within, 0.0, np.sqrt(nearest))


def _gaps_about(least: tuple[float, float], poses: _Poses, points: Complexes, one: Body, other: Body) -> Floats:
    """(poses, n) as `_gaps`; infinite at points where no gap can be both wider than the first of `least` and
    narrower than the second.

    Of very many points every few are asked first: a gap differs between two points by no more than they are apart.
    """
    if len(points) <= MOST_POINTS:
        return _gaps(poses, points, one, other)
    firsts, group = np.arange(0, len(points), ASKED_FIRST), np.arange(len(points)) // ASKED_FIRST
    rough = _gaps(poses, points[firsts], one, other)
    apart = np.maximum.reduceat(np.abs(points - points[firsts][group]), firsts)
    matter = ((rough.min(axis=0) - apart < least[1]) & (rough.max(axis=0) + apart >= least[0]))[group]
    found = np.full((len(rough), len(points)), np.inf)
    found[:, matter] = _gaps(poses, points[matter], one, other)
    return found


def _speakers(caught: Bools, narrow: Floats, wide: Floats) -> list[int]:
    """For each run of points that are caught: the one that closes furthest, of several the one that opens widest."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], caught, [False]])))
    runs = edges.reshape(-1, 2)
    return [_speaker(np.arange(first, last), narrow, wide) for first, last in runs.tolist()]


def _speaker(run: Ints, narrow: Floats, wide: Floats) -> int:
    return int(run[np.lexsort((-wide[run], narrow[run]))[0]])


def _pinch(
    poses: _Poses, pair: tuple[_Named, _Named], points: Complexes, gaps: Floats, k: int, opens_to: float
) -> Pinch:
    """The place at one point of the first body, its narrowest gap measured to the edges beside the point.

    gaps : (poses,) of that point.
    """
    one, other = pair
    at = int(np.argmin(gaps))
    beside = points[max(k - 1, 0) : k + 2]
    seen = poses.seen_from(beside, one.body.column, other.body.column)[at]
    edge = shapely.LineString(np.stack([seen.real, seen.imag], axis=1))
    line = shapely.get_coordinates(shapely.shortest_line(edge, other.body.geometry()))
    near, far = complex(*line[0]), complex(*line[1])
    closes = max(abs(far - near) - one.body.radius - other.body.radius, 0.0)
    column = other.body.column
    place = complex(poses.shifts[at, column]) + complex(np.exp(1j * poses.turns[at, column])) * 0.5 * (near + far)
    off = one.uncertain + other.uncertain
    return Pinch((other.name, one.name), opens_to, closes, float(poses.openings[at]), as_point(place), off)
