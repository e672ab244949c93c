"""Reading measures at a pose: distances, angles, lengths of paths, clearances.

A *reading* is one measure's figure at the pose that is looked at, with the places it lies between. `Readings` reads all
measures of one analysis and keeps what doesn't depend on the pose: the table of a path's length, the bodies of links.

The length of a path is the sum over short stretches of the branch, each taken by its chord C and by its two half chords
c₁, c₂ as (4(c₁ + c₂) − C)/3: the error of a chord falls with the square of the stretch, and this takes it out
(Richardson's extrapolation; from memory, any book on numerical integration has it).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import Complexes, Floats, as_point
from kinematics.bodies import Body, link_body

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.measures import Anchor, Measure
    from kinematics.project import Point, Project
    from kinematics.results import Pose

PARTS = 16
"""Stretches between two knots of the branch by which a path is measured."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a measure reads at a pose.

    value : mm, for an angle degrees (0 to 180); None where there is nothing to measure, as for a link without pins.
    places : mm, fixed frame: the two ends of a distance or a clearance, the three points of an angle, where the point
        of a path stands.     so_far : mm, the part of a path from shut to this pose; None for other kinds.
    """

    value: float | None
    places: tuple[Point, ...]
    so_far: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _Way:
    """A point's path. arcs (n,): places along the branch; lengths (n,) mm from shut; places (n,) complex."""

    arcs: Floats
    lengths: Floats
    places: Complexes


class Readings:
    """Reads measures at any pose of one analysis."""

    def __init__(self, analysis: Analysis) -> None:
        self._analysis = analysis
        self._columns = analysis.project.link_index
        self._ways: dict[tuple[int, Point], _Way] = {}
        self._bodies: dict[str, Body | None] = {}

    @property
    def project(self) -> Project:
        """The project whose measures are read."""
        return self._analysis.project

    def read(self, pose: Pose, measure: Measure) -> Reading:
        """Read a measure of the analysis's project at a pose of it."""
        if measure.kind == "clearance":
            return self._clearance(pose, *measure.of)
        places = tuple(self.place(pose, anchor) for anchor in measure.of)
        if measure.kind == "distance":
            return Reading(math.dist(*places), places)
        if measure.kind == "angle":
            return Reading(angle_deg(*places), places)
        whole, so_far = self._length(pose, measure.of[0])
        return Reading(whole, places, so_far)

    def place(self, pose: Pose, anchor: Anchor) -> Point:
        """Where the place that an anchor names stands at a pose."""
        return pose.place(*self._shut(anchor))

    def _shut(self, anchor: Anchor) -> tuple[int, Point]:
        """The link's column and the shut point of an anchor that is a place."""
        project = self._analysis.project
        if anchor.kind == "pivot":
            pivot = project.pivot(anchor.name)
            return self._columns[pivot.joins[0]], pivot.at
        if anchor.kind == "mark":
            mark = project.mark(anchor.name)
            return self._columns[mark.on], mark.at
        if anchor.kind == "outline":
            outline = project.outline(anchor.name)
            return self._columns[outline.on], outline.points[anchor.point or 0]
        return self._columns[anchor.name], anchor.at or (0.0, 0.0)

    def path(self, anchor: Anchor) -> tuple[Point, ...]:
        """The places of an anchor at the reported poses, from shut on."""
        column, point = self._shut(anchor)
        return tuple((x, y) for x, y in self._analysis.path(self._analysis.links[column], point).tolist())

    # Paths -----------------------------------------------------------------------------------------------------------

    def _length(self, pose: Pose, anchor: Anchor) -> tuple[float, float]:
        """The length of a place's path over the travel, and from shut to a pose."""
        column, point = self._shut(anchor)
        way = self._ways.get((column, point))
        if way is None:
            way = self._ways[column, point] = self._way(column, point)
        here = pose.shifts[column] + np.exp(1j * pose.turns[column]) * complex(*point)
        row = int(np.clip(np.searchsorted(way.arcs, pose.arc, side="right") - 1, 0, len(way.arcs) - 1))
        so_far = float(way.lengths[row]) + abs(complex(here) - complex(way.places[row]))
        whole = float(way.lengths[-1])
        return whole, min(so_far, whole)

    def _way(self, column: int, point: Point) -> _Way:
        moved = self._analysis.sweep
        if moved.reached <= 0.0:
            return _Way(np.zeros(1), np.zeros(1), np.array([complex(*point)]))
        coarse = moved.fine_arcs(0.0, PARTS)
        arcs = np.sort(np.concatenate([coarse, 0.5 * (coarse[:-1] + coarse[1:])]))
        y = moved.at_arcs(arcs)
        places = moved.shifts(y)[:, column] + np.exp(1j * moved.link_turns(y)[:, column]) * complex(*point)
        halves, chords = np.abs(np.diff(places)), np.abs(np.diff(places[::2]))
        stretches = (4.0 * (halves[::2] + halves[1::2]) - chords) / 3.0
        return _Way(coarse, np.concatenate([[0.0], np.cumsum(stretches)]), places[::2])

    # Clearances ------------------------------------------------------------------------------------------------------

    def _clearance(self, pose: Pose, one: Anchor, other: Anchor) -> Reading:
        first, second = self._thing(pose, one), self._thing(pose, other)
        if first is None or second is None:
            return Reading(None, ())
        return nearest(first, second)

    def _thing(self, pose: Pose, anchor: Anchor) -> Thing | None:
        """A thing as it stands at a pose; None for a link without pins."""
        if anchor.is_place:
            column, point = self._shut(anchor)
            return Thing(shapely.Point(*pose.place(column, point)), 0.0, 0.0, 0j)
        body = self._body(anchor)
        if body is None:
            return None
        return Thing(_geometry(body), body.radius, float(pose.turns[body.column]), complex(pose.shifts[body.column]))

    def _body(self, anchor: Anchor) -> Body | None:
        if anchor.kind == "outline":
            return self._analysis.bodies[anchor.name]
        if anchor.name not in self._bodies:
            project = self._analysis.project
            self._bodies[anchor.name] = link_body(project, anchor.name, self._columns[anchor.name])
        return self._bodies[anchor.name]


def angle_deg(one: Point, corner: Point, other: Point) -> float | None:
    """The angle (0 to 180 deg) at a corner between the ways to two points; None where one of them is the corner."""
    a, b = complex(*one) - complex(*corner), complex(*other) - complex(*corner)
    if a == 0 or b == 0:
        return None
    product = b * a.conjugate()
    return abs(math.degrees(math.atan2(product.imag, product.real)))


@dataclass(frozen=True, slots=True, eq=False)
class Thing:
    """A geometry in shut coordinates with the round pen (radius, mm) along it, and where it stands (rad, mm)."""

    geometry: shapely.Geometry
    radius: float
    turn: float
    shift: complex


def nearest(one: Thing, other: Thing) -> Reading:
    """The clearance of two things: 0 where they touch or overlap, or one lies within the other.

    The second is looked at from the first one's frame, so that GEOS may keep what it has prepared of the first.
    """
    line = shapely.shortest_line(one.geometry, _seen_from(one, other))
    ends = shapely.get_coordinates(line) @ np.array([1.0, 1j]) * np.exp(1j * one.turn) + one.shift
    first, second = complex(ends[0]), complex(ends[-1])
    apart = abs(second - first)
    if apart <= one.radius + other.radius:
        middle = first if apart == 0.0 else first + (second - first) * min(one.radius / apart, 1.0)
        return Reading(0.0, (as_point(middle), as_point(middle)))
    way = (second - first) / apart
    places = as_point(first + one.radius * way), as_point(second - other.radius * way)
    return Reading(apart - one.radius - other.radius, places)


def _seen_from(one: Thing, other: Thing) -> shapely.Geometry:
    """The other thing in the first one's frame."""
    turn = np.exp(1j * (other.turn - one.turn))
    shift = (other.shift - one.shift) * np.exp(-1j * one.turn)

    def carried(flat: Floats) -> Floats:
        z = turn * (flat[:, 0] + 1j * flat[:, 1]) + shift
        return np.stack([z.real, z.imag], axis=1)

    return shapely.transform(other.geometry, carried)


@lru_cache(maxsize=32)
def _geometry(body: Body) -> shapely.Geometry:
    """A body's geometry, prepared; a body is its own key."""
    made = body.geometry()
    shapely.prepare(made)
    return made
