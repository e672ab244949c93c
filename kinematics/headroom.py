"""Headroom: how high panel and links reach over the whole sweep, and how high the front edge stands when open.

At one pose the highest place of a link is a vertex of the convex hull of what rides on it, with the pen's radius above
it. Every such vertex runs along a smooth path, so the highest place of all is the peak of one vertex's path: all are
looked at on close samples, and the peaks of those that could still be the highest are settled on exact poses
(`extremes`). So nothing sticks through a roof between two poses.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import as_complex
from kinematics.extremes import lowest
from kinematics.plate_shapes import stroke_of
from kinematics.rear_edge import front_point
from kinematics.results import Height, RoomFigures

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats, Ints
    from kinematics.project import Point, Project
    from kinematics.sweep import Sweep

FINE = 6
"""Samples in each stretch between knots when the highest place is sought."""
SAGITTA = 0.25
"""A path rises above its samples by no more than this share of the largest second difference (an eighth, if they were
even)."""


@dataclass(frozen=True, slots=True, eq=False)
class Tips:
    """Vertices that may stand highest: columns (n,) of their links, points (n,) complex shut mm, radii (n,) mm."""

    columns: Ints
    points: Complexes
    radii: Floats

    def heights(self, sweep: Sweep, y: Floats) -> Floats:
        """(poses, n) how high the upper edges stand at poses y (poses, unknowns), mm."""
        turns = sweep.link_turns(y)
        shifts = sweep.closure.shifts(turns)
        places = shifts[:, self.columns] + np.exp(1j * turns[:, self.columns]) * self.points
        return np.asarray(places.imag + self.radii)

    def pick(self, one: int) -> Tips:
        """One of them."""
        which = slice(one, one + 1)
        return Tips(self.columns[which], self.points[which], self.radii[which])


def room_figures(project: Project, sweep: Sweep) -> RoomFigures | None:
    """What is to be known of the room; None where the project has neither floor nor roof."""
    room = project.room
    if room is None or (room.floor is None and room.roof is None):
        return None
    return RoomFigures(highest(project, sweep), None if room.floor is None else front_height(project, sweep))


def highest(project: Project, sweep: Sweep) -> Height | None:
    """The highest place that panel and links reach over the sweep; None where only the fixed link is drawn."""
    tips = _tips(project, sweep)
    if len(tips.points) == 0:
        return None
    if sweep.reached <= 0.0:
        heights = tips.heights(sweep, np.zeros((1, sweep.closure.unknowns)))[0]
        return _told(sweep, tips.pick(int(np.argmax(heights))), 0.0)
    arcs = sweep.fine_arcs(0.0, FINE)
    samples = tips.heights(sweep, sweep.branch.cubic(arcs))
    bends = np.abs(np.diff(samples, 2, axis=0)).max(axis=0, initial=0.0)
    peaks = samples.max(axis=0)
    best, place, top = -np.inf, 0.0, 0
    for one in np.argsort(-peaks, kind="stable").tolist():
        if peaks[one] + SAGITTA * bends[one] > best:
            at, height = _peak(sweep, tips.pick(one), arcs, samples[:, one])
            best, place, top = (height, at, one) if height > best else (best, place, top)
    return _told(sweep, tips.pick(top), place)


def _peak(sweep: Sweep, tip: Tips, arcs: Floats, samples: Floats) -> tuple[float, float]:
    """Place along the branch, and height, at which one tip stands highest."""

    def depth(y: Floats) -> Floats:
        return np.asarray(-tip.heights(sweep, y)[:, 0])

    arc, value = lowest(
        arcs, -samples, lambda places: depth(sweep.branch.cubic(places)), lambda places: depth(sweep.at_arcs(places))
    )
    return arc, -value


def _told(sweep: Sweep, tip: Tips, arc: float) -> Height:
    """The height of a tip at a place along the branch."""
    y = sweep.at_arcs(np.array([arc]))
    column = int(tip.columns[0])
    z = complex(sweep.shifts(y)[0, column] + np.exp(1j * sweep.link_turns(y)[0, column]) * tip.points[0])
    height = float(tip.heights(sweep, y)[0, 0])
    deg = math.degrees(sweep.sign * float(y[0, sweep.panel])) if sweep.reached > 0.0 else 0.0
    deg = min(max(deg, 0.0), sweep.reached_deg)
    return Height(height, (z.real, height), deg, sweep.closure.links[column])


def _tips(project: Project, sweep: Sweep) -> Tips:
    """The hulls' vertices of the outlines that move, and the pins of the links that do."""
    columns, points, radii = [], [], []
    for column, name in enumerate(sweep.closure.links):
        if column == sweep.closure.fixed:
            continue
        for shut, radius in _drawn(project, name):
            hull = _hull(shut)
            columns.append(np.full(len(hull), column, dtype=np.intp))
            points.append(hull)
            radii.append(np.full(len(hull), radius))
    if not points:
        return Tips(np.zeros(0, dtype=np.intp), np.zeros(0, dtype=np.complex128), np.zeros(0))
    return Tips(np.concatenate(columns), np.concatenate(points), np.concatenate(radii))


def _drawn(project: Project, link: str) -> list[tuple[tuple[Point, ...], float]]:
    """What is drawn on a link: its outlines with their pens, and its plate, or its pins with half its width."""
    found = [(outline.points, outline.half_width) for outline in project.outlines if outline.on == link]
    plate = stroke_of(project, project.link(link))
    if plate is not None:
        return [*found, (tuple((z.real, z.imag) for z in plate.points.tolist()), plate.radius)]
    pins = tuple(pivot.at for pivot in project.pivots if link in pivot.joins)
    return [*found, (pins, 0.5 * project.link(link).width)] if pins else found


def _hull(points: tuple[Point, ...]) -> Complexes:
    """The vertices of the convex hull of points: the others never stand highest."""
    if len(points) < 4:
        return as_complex(points)
    return as_complex(shapely.get_coordinates(shapely.MultiPoint(points).convex_hull).tolist())


def front_height(project: Project, sweep: Sweep) -> Height | None:
    """How high the front edge stands at the largest opening reached; None where there is no front edge."""
    found = front_edge(project)
    if found is None:
        return None
    link, at = found
    column = sweep.closure.links.index(link)
    y = sweep.at_openings(np.array([sweep.reached]))
    z = complex(sweep.shifts(y)[0, column] + np.exp(1j * sweep.link_turns(y)[0, column]) * complex(*at))
    return Height(z.imag, (z.real, z.imag), sweep.reached_deg, link)


def front_edge(project: Project) -> tuple[str, Point] | None:
    """The link and the shut point of the front edge: of its mark, else of the panel's foremost point."""
    edge = project.room.front_edge if project.room is not None else None
    if edge is not None and edge.mark is not None:
        mark = project.mark(edge.mark)
        return mark.on, mark.at
    at = front_point(project)
    return None if at is None else (project.panel.id, at)
