"""Clearance: the gap of every watched pair over the sweep, exact between poses too.

The gap is the distance of two bodies' lines less both pens' radii, 0 where they touch or one lies inside the other.
The smallest one is sought over all pairs and stretches at once (`nearness`), then sharpened over single meetings
(`meetings`) until nothing left could undercut it by TOLERANCE, and at last settled on the exact motion. Contact is
asked for only where the lines come as near as the radii (`contact`).

A strut or spring is watched piece by piece, each on a frame that rides between its ends (`device_bodies`), and so is a
plate with a waist (`plate_shapes`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import compress, product
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import shapely

from kinematics.arrays import as_point, frozen
from kinematics.bodies import bodies, plate_pieces
from kinematics.contact import geometries, touching
from kinematics.device_bodies import joined, ridden
from kinematics.nearest import nearest
from kinematics.nearness import TOLERANCE, Bounds, Search, forest, near_edges
from kinematics.results import Gap
from kinematics.stretches import course_of, fine_branch, pairs_of, whole

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.arrays import Floats
    from kinematics.bodies import Body
    from kinematics.branch import Branch
    from kinematics.contact import Couple
    from kinematics.nearest import Nearest
    from kinematics.project import GapWant, Point, Project
    from kinematics.sweep import Sweep

Watched: TypeAlias = "tuple[tuple[str, str], GapWant | None]"
"""Two ids, and the builder's want for them if there is one."""


def gaps(
    project: Project, sweep: Sweep, watched: tuple[Watched, ...], near: Mapping[str, Body]
) -> tuple[tuple[Gap, ...], dict[str, Body]]:
    """The gap of every watched pair, in order, and the bodies, which the next analysis may use again."""
    columns = {name: k for k, name in enumerate(sweep.closure.links)}
    there = bodies(project, columns, near)
    riding = ridden(project, sweep, [name for pair, _ in watched for name in pair if name not in there], near)
    of_plates, pieces = plate_pieces(project, there, near)
    pieces |= riding.pieces
    if not pieces:
        return gaps_of(sweep, watched, there), there
    there |= riding.bodies | of_plates
    pairs = [_pieces(pair, pieces) for pair, _ in watched]
    flat = tuple((pair, want) for names, (_, want) in zip(pairs, watched, strict=True) for pair in names)
    of_pieces = iter(gaps_of(riding.sweep, flat, there))
    each = ([next(of_pieces) for _ in names] for names in pairs)
    return tuple(joined(pair, found) for (pair, _), found in zip(watched, each, strict=True)), there


def _pieces(pair: tuple[str, str], pieces: Mapping[str, tuple[str, ...]]) -> list[tuple[str, str]]:
    """A pair as those of the pieces of its devices and plates; itself where it has none."""
    one, other = (pieces.get(name) or (name,) for name in pair)
    return list(product(one, other))


def gaps_of(sweep: Sweep, watched: tuple[Watched, ...], there: Mapping[str, Body]) -> tuple[Gap, ...]:
    """The gap of every pair of bodies, in order."""
    known = [a in there and b in there for (a, b), _ in watched]
    measured = list(compress(watched, known))
    couples = [(there[a], there[b]) for (a, b), _ in measured]
    if not couples:
        found: list[Gap] = []
    elif sweep.reached <= 0.0:
        found = [_standing(pair, couple) for pair, couple in zip(measured, couples, strict=True)]
    else:
        found = _moving(sweep, measured, couples)
    in_order = iter(found)
    return tuple(next(in_order) if is_known else _missing(pair) for pair, is_known in zip(watched, known, strict=True))


def _missing(pair: Watched) -> Gap:
    """A pair of which one is a link without pins, or a device without a line: there is nothing to measure yet."""
    names, want = pair
    lane = (frozen(np.zeros(0)), frozen(np.zeros(0)))
    ok = None if want is None else False
    return Gap(names, None, None, None, None, (), _least(want), _after(want), ok, want is not None, lane)


def _least(want: GapWant | None) -> float | None:
    return None if want is None else want.at_least


def _after(want: GapWant | None) -> float:
    return 0.0 if want is None else want.after_deg


@lru_cache(maxsize=64)  # two bodies stay the same ones while a pivot is dragged
def shut_gap(a: Body, b: Body) -> tuple[float, tuple[Point, Point]]:
    """Gap of two bodies at shut and its two points, by GEOS."""
    line = shapely.get_coordinates(shapely.shortest_line(a.geometry(), b.geometry()))
    first, second = complex(*line[0]), complex(*line[1])
    return max(abs(second - first) - a.radius - b.radius, 0.0), _on_pens(first, second, a, b)


def _on_pens(first: complex, second: complex, a: Body, b: Body) -> tuple[Point, Point]:
    """The nearest points of the pens' strokes, from those of the lines; one and the same where the strokes overlap."""
    apart = abs(second - first)
    if apart == 0.0:
        return as_point(first), as_point(second)
    along = (second - first) / apart
    over = max(a.radius + b.radius - apart, 0.0)
    share = a.radius / (a.radius + b.radius) if over else 0.0
    on_a, on_b = first + along * (a.radius - over * share), second - along * (b.radius - over * (1.0 - share))
    return as_point(on_a), as_point(on_b)


def _standing(pair: Watched, couple: Couple) -> Gap:
    """The gap where the panel doesn't open: that of the one pose."""
    names, want = pair
    gap, points = shut_gap(*couple)
    lane = (frozen(np.zeros(1)), frozen(np.full(1, gap)))
    contact = ((0.0, 0.0),) if gap <= 0.0 else ()
    if _after(want) > 0.0:
        return Gap(names, None, None, None, gap, contact, _least(want), _after(want), False, True, lane, points)
    ok = None if want is None else gap >= want.at_least - 1e-9
    return Gap(names, gap, 0.0, points, gap, contact, _least(want), 0.0, ok, want is not None, lane, points)


def _moving(sweep: Sweep, watched: list[Watched], couples: list[Couple]) -> list[Gap]:
    """Gaps over a sweep that has a length."""
    pairs, trees = pairs_of(sweep, couples), forest(couples)
    asked = np.radians([min(_after(want), 180.0) for _, want in watched])
    inside = asked <= sweep.reached + 1e-12
    at = np.zeros(len(asked))
    if asked.any():
        at = sweep.arcs_of(sweep.at_openings(np.minimum(asked, sweep.reached)))
    branch, after = fine_branch(sweep, float(pairs.reach.max()), at.tolist())
    course = course_of(sweep, branch, pairs)
    cuts = whole(course)
    counts = ((cuts.starts[:, None] >= after - 1e-12) & inside).ravel()
    bounds = Bounds(
        np.full(len(couples), np.inf),
        np.full((len(branch.arcs), len(couples)), np.inf),
        np.array([a.radius + b.radius for a, b in couples]),
        np.array([_least(want) or 0.0 for _, want in watched]),
    )
    search = Search(course, trees, cuts, counts, bounds)
    places = nearest(search, near_edges(search))
    lanes = np.maximum(bounds.ends - bounds.floor, 0.0)
    return [
        _gap(_Over(sweep, branch, couple), pair, place, lanes[:, k], float(after[k]) if inside[k] else None)
        for k, (pair, couple, place) in enumerate(zip(watched, couples, places, strict=True))
    ]


@dataclass(frozen=True, slots=True, eq=False)
class _Over:
    """A couple of bodies over a fine branch."""

    sweep: Sweep
    branch: Branch
    couple: Couple

    def deg(self, y: Floats) -> float:
        """Opening of a pose, no further than reached."""
        opening = self.sweep.sign * float(y[self.sweep.panel])
        if opening >= self.sweep.reached - 1e-13:
            return self.sweep.reached_deg
        return max(0.0, math.degrees(opening))

    def deg_at(self, arc: float) -> float:
        """Opening at a place along the branch."""
        return self.deg(self.branch.at(np.array([arc]))[0])


def _gap(over: _Over, pair: Watched, place: Nearest | None, lane: Floats, after: float | None) -> Gap:
    """One pair's result; `after` is the place from which its want holds, None where the sweep doesn't get there."""
    names, want = pair
    a, b = over.couple
    shut, shut_points = shut_gap(a, b)
    ranges = _contacts(over, shut, place, after)
    touching_deg = tuple((over.deg_at(low), over.deg_at(high)) for low, high in ranges)
    hit = None if after is None else next((max(low, after) for low, high in ranges if high >= after - 1e-12), None)
    smallest, at_deg, points = _smallest(over, place, hit, after)
    openings = np.degrees(over.sweep.sign * over.branch.turns[:, over.sweep.panel]) + 0.0  # shut is 0, not −0
    drawn = _lane(openings, lane, touching_deg, at_deg, smallest)
    ok = None if want is None else smallest is not None and smallest >= want.at_least - 1e-9
    return Gap(
        names,
        smallest,
        at_deg,
        points,
        shut,
        touching_deg,
        _least(want),
        _after(want),
        ok,
        want is not None,
        drawn,
        shut_points,
    )


def _contacts(over: _Over, shut: float, place: Nearest | None, after: float | None) -> list[tuple[float, float]]:
    """Where they touch; not asked where the nearest place of the whole sweep says that they don't."""
    a, b = over.couple
    apart = 0.0 if place is None or not place.sure else place.distance - a.radius - b.radius
    if after == 0.0 and shut > 0.0 and apart > TOLERANCE:
        return []
    return touching(over.sweep, over.branch, over.couple)


def _smallest(
    over: _Over, place: Nearest | None, hit: float | None, after: float | None
) -> tuple[float | None, float | None, tuple[Point, Point] | None]:
    """Smallest gap from `after` on, its opening and points: the first contact there, or the nearest place."""
    a, b = over.couple
    if after is None:
        return None, None, None
    if hit is not None:
        return 0.0, over.deg_at(hit), _on_pens(*_at_pose(over, hit), a, b)
    if place is None:  # the want begins to hold where the sweep ends
        points, deg = _at_pose(over, after), over.deg_at(after)
    else:
        points, deg = place.points, over.deg(place.turns)
    return max(abs(points[1] - points[0]) - a.radius - b.radius, 0.0), deg, _on_pens(*points, a, b)


def _at_pose(over: _Over, arc: float) -> tuple[complex, complex]:
    """Nearest points of two bodies' lines at one pose, in the fixed link's frame, by GEOS."""
    y = over.branch.at(np.array([arc]))
    turns, shifts = over.sweep.link_turns(y), over.sweep.shifts(y)
    placed = [
        geometries(body, shifts[:, body.column, None] + np.exp(1j * turns[:, body.column, None]) * body.tails)[0]
        for body in over.couple
    ]
    line = shapely.get_coordinates(shapely.shortest_line(*placed))
    return complex(*line[0]), complex(*line[1])


def _lane(
    openings: Floats,
    lane: Floats,
    touching_deg: tuple[tuple[float, float], ...],
    at_deg: float | None,
    smallest: float | None,
) -> tuple[Floats, Floats]:
    """Openings and gaps to draw, with the smallest and the ends of contact among them."""
    lane = lane.copy()
    extra: list[tuple[float, float]] = [] if at_deg is None or smallest is None else [(at_deg, smallest)]
    for low, high in touching_deg:
        lane[(openings >= low - 1e-9) & (openings <= high + 1e-9)] = 0.0  # openings of knots are rounded
        extra += [(low, 0.0), (high, 0.0)]
    degrees = np.append(openings, [deg for deg, _ in extra])
    order = np.argsort(degrees, kind="stable")
    return frozen(degrees[order]), frozen(np.append(lane, [gap for _, gap in extra])[order])
