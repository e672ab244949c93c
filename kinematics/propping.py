"""A prop: a rod that hangs on one link and is set into its seat on another when the panel is open so far.

Terms. Its *length* is the distance of its two ends at its opening. It bears by virtual work what no hand holds: let the
panel move along the branch, the rod would grow by so much, and its *force* times that and the power of all loads add up
to nothing; positive: it is pressed, negative: the panel pulls it off its seat, unless a pin or a clip keeps it there.

At its seat the rod stands on the nearest edge of an outline of that link. It stays on a plain surface where it leans
off the normal by less than the friction angle, atan μ; else it slides the way it leans. μ = 0.2, metal on painted or
greasy metal: common practice, no source. Where the panel is raised further, the seat moves away from the rod, which may
then drop out.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.rear_edge import side_ahead
from kinematics.results import PropFigures, Seat

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.adverse import Scene
    from kinematics.arrays import Complexes, Floats
    from kinematics.fittings import Prop
    from kinematics.parts import Outline
    from kinematics.project import Point, Project
    from kinematics.statics import At
    from kinematics.sweep import Sweep

FRICTION = 0.2
"""Coefficient between the rod's end and its seat."""
FRICTION_DEG = math.degrees(math.atan(FRICTION))
"""The friction angle."""
SLACK = 0.05
"""Mm by which the seat must be further away than the rod is long for it to be told."""
STILL = 1e-6
"""A rod that grows by less than this share of the reach, per rad of the links, holds nothing."""
SAMPLES = 60
"""Openings at which the distance of the ends is asked for."""
NO_PLACE = 1e-6
"""Ends nearer than this (mm) have no line between them."""


class Rod:
    """A prop in a linkage."""

    def __init__(self, project: Project, prop: Prop, sweep: Sweep) -> None:
        self.project, self.prop, self.sweep = project, prop, sweep
        self.ends = sweep.closure.spots([(end.on, end.at) for end in (prop.from_end, prop.to_end)])

    def across(self, e: Complexes) -> Complexes:
        """(n,) the way from its first end to its seat, mm."""
        first, seat = self.ends.places(e).T
        return np.asarray(seat - first)

    def rate(self, at: At, pose: int) -> float:
        """Mm by which it grows per unit of the rates at a pose; 0 where that is as good as nothing."""
        way = self.across(at.e[pose : pose + 1])
        if abs(way[0]) < NO_PLACE:
            return 0.0
        first, seat = self.ends.rates(at.e[pose : pose + 1], at.rates[pose : pose + 1])[0]
        grows = float(((seat - first) * way[0].conjugate()).real / abs(way[0]))
        return grows if abs(grows) > STILL * max(1.0, self.sweep.closure.size) else 0.0

    def figures(self, scene: Scene, pose: int) -> PropFigures:
        """How long it is and what it bears at the pose of its opening."""
        rate, against = self.rate(scene.at, pose), scene.against
        told = PropFigures(self.prop.at_deg, float(abs(self.across(scene.at.e)[pose])))
        force = scene.bears(pose, rate)
        if force is None:
            return told
        return replace(
            told,
            force=force,
            most=None if against is None else against.largest(pose, rate),
            least=None if against is None else against.least(pose, rate),
        )

    def in_full(self, told: PropFigures, scene: Scene, pose: int) -> PropFigures:
        """The same with its seat, how it stows, and where its seat leaves it."""
        leaves, away = self.leaves(told.length or 0.0)
        stowed = stows(self.project, self.prop)
        told = replace(told, stows=stowed, leaves_deg=leaves, away=away)
        if told.force is None:
            return told
        return replace(told, seat=seat_of(self.project, self.prop, self.sweep, scene.at.e[pose]))

    def joints(self, scene: Scene, pose: int, force: float) -> Complexes:
        """(1, joints) N on each joint's second link, all hinges together, while the prop bears a force (N)."""
        way = self.across(scene.at.e)
        push = force * way / np.maximum(np.abs(way), NO_PLACE)
        forces = np.stack([-push, push], axis=1)
        return scene.statics.borne(scene.at, scene.applied, self.ends, forces)[pose : pose + 1]

    def leaves(self, length: float) -> tuple[tuple[tuple[float, float], ...], float]:
        """Stretches of opening (deg), from its own on, in which its seat is further away than it is long; by how much
        at most (mm).
        """
        low, high = self.prop.at_deg, self.sweep.reached_deg
        if high <= low:
            return (), 0.0
        degs = np.linspace(low, high, SAMPLES)
        y = self.sweep.at_openings(np.radians(degs).clip(0.0, self.sweep.reached))
        more = np.abs(self.across(np.exp(1j * self.sweep.link_turns(y)))) - length
        off = more > SLACK
        starts = np.flatnonzero(off & ~np.concatenate([[False], off[:-1]])).tolist()
        ends = np.flatnonzero(off & ~np.concatenate([off[1:], [False]])).tolist()
        found = tuple((_from(degs, more, i), float(degs[j])) for i, j in zip(starts, ends, strict=True))
        return found, max(float(more.max()), 0.0) if found else 0.0


def _from(degs: Floats, more: Floats, first: int) -> float:
    """Where the seat begins to leave, before the first sample at which it has left."""
    before = max(first - 1, 0)
    rise = more[first] - more[before]
    share = 1.0 if rise <= 0.0 else float(np.clip(-more[before] / rise, 0.0, 1.0))
    return float(degs[before] + share * (degs[first] - degs[before]))


def stows(project: Project, prop: Prop) -> float | None:
    """Mm from the end that the rod hangs by to the panel's furthest place, shut; None where the panel isn't drawn."""
    foot = prop.from_end.at
    away = [
        math.dist(foot, point)
        for outline in project.outlines
        if outline.on == project.panel.id
        for point in outline.points
    ]
    return max(away, default=None)


def seat_of(project: Project, prop: Prop, sweep: Sweep, e: Complexes) -> Seat | None:
    """How the rod stands at its seat, at the pose with e (links,); None where no outline of that link is drawn."""
    edge = nearest_edge((o for o in project.outlines if o.on == prop.to_end.on), prop.to_end.at)
    if edge is None:
        return None
    outline, away, along = edge
    column = sweep.closure.links.index(prop.to_end.on)
    spots = sweep.closure.spots([(end.on, end.at) for end in (prop.from_end, prop.to_end)])
    first, seat = spots.places(e[None])[0]
    way = (seat - first) / abs(seat - first) / e[column]  # in the seat's own link, as drawn shut
    lean = float((way * along.conjugate()).real)
    off = math.degrees(math.atan2(abs(lean), abs(float((way * along.conjugate()).imag))))
    slides = ""
    if off > FRICTION_DEG:
        forward = float((math.copysign(1.0, lean) * along).real) * side_ahead(project)
        slides = "along" if abs(forward) < 0.1 else "front" if forward > 0.0 else "rear"
    return Seat(outline.id, max(away - outline.half_width, 0.0), off, FRICTION_DEG, slides)


def nearest_edge(outlines: Iterable[Outline], at: Point) -> tuple[Outline, float, complex] | None:
    """The nearest edge of some outlines to a place: its outline, mm from it, and its unit way; None without any."""
    best: tuple[Outline, float, complex] | None = None
    for outline in outlines:
        points = np.array([complex(*point) for point in outline.points])
        if outline.closed:
            points = np.append(points, points[0])
        starts, ways = points[:-1], np.diff(points)
        real = np.abs(ways) > 0.0
        if not real.any():
            continue
        starts, ways = starts[real], ways[real]
        to = complex(*at) - starts
        along = np.clip((to * ways.conj()).real / np.abs(ways) ** 2, 0.0, 1.0)
        away = np.abs(to - along * ways)
        k = int(np.argmin(away))
        if best is None or away[k] - outline.half_width < best[1] - best[0].half_width:
            best = outline, float(away[k]), complex(ways[k] / abs(ways[k]))
    return best
