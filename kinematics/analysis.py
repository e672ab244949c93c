"""analyse(project): every number that is shown, from one frozen value.

The sweep gives the poses; from them follow gaps, limits on marks, pin spacing and transmission angles, and the checks
that compare them with what the builder wants. Nothing here raises for a sound project: what is half-drawn, locked or
loose gives an analysis with remarks that say what is missing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

import numpy as np

from kinematics import motion
from kinematics.arrays import Complexes, Floats, frozen
from kinematics.balance import figures_beside, load_figures, marks_of
from kinematics.checking import all_checks, strength_checks, worst_first
from kinematics.clearance import gaps as all_gaps
from kinematics.doubt import doubted
from kinematics.extremes import lowest
from kinematics.headroom import room_figures
from kinematics.remarks import remarks
from kinematics.results import Check, Gap, LoadFigures, Opening, Pose, RoomFigures, StrengthFigures, Transmission
from kinematics.straining import first_look, straining
from kinematics.sweep import Sweep, sweep

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.bodies import Body
    from kinematics.project import GapWant, Point, Project

FINE = 3
"""Samples of the transmission angles in each stretch between knots."""


@dataclass(frozen=True, slots=True, eq=False)
class Analysis:
    """All that follows from a project.

    Attributes
    ----------
    project : what was analysed.   mobility : independent motions of all links.
    state : "moves", "slides", "locked" or "loose", said of the panel.   opening : wanted, reached, largest and the end.
    links : ids in column order.   openings : (n,) deg; turns : (n, links) rad; shifts : (n, links) complex mm, so that
        a shut point p (complex) of link k is at shifts[:, k] + exp(1j·turns[:, k])·p.
    gaps : the file's first, then the panel-fixed pairs nobody asked for.   checks : worst first.   remarks : sentences.
    transmission : None where no link has just two pins or the panel doesn't open.
    sweep, bodies : the branch and the bodies behind it, for exact poses anywhere and as first guess of the next
        analysis.
    room : heights, where the project has a floor or a roof.
    loads : effort, pin forces and what goes with them, where the project has loads.
    strength : what pins and plates carry and bear, where the project says what they are.
    """

    project: Project
    mobility: int
    state: str
    opening: Opening
    links: tuple[str, ...]
    openings: Floats
    turns: Floats
    shifts: Complexes
    gaps: tuple[Gap, ...]
    checks: tuple[Check, ...]
    remarks: tuple[str, ...]
    transmission: Transmission | None
    sweep: Sweep
    bodies: Mapping[str, Body]
    room: RoomFigures | None = None
    loads: LoadFigures | None = None
    strength: StrengthFigures | None = None

    @property
    def dead_point_deg(self) -> float | None:
        """Opening (deg) at which the panel can turn no further; None where there is none up to half a turn."""
        return self.opening.largest_deg if self.state == "moves" and self.opening.largest_deg < 180.0 else None

    @property
    def arc_range(self) -> tuple[float, float]:
        """First and last place along the branch (rad) at which a pose can be shown."""
        arcs = self.sweep.branch.arcs
        return (float(arcs[0]), float(arcs[-1])) if self.state == "slides" else (0.0, self.sweep.reach_arc)

    def pose(self, deg: float) -> Pose:
        """The exact pose at an opening (deg), clamped to what is reached; shut where nothing opens."""
        deg = min(max(deg, 0.0), self.opening.reached_deg) if math.isfinite(deg) else 0.0
        y = self.sweep.at_openings(np.array([math.radians(deg)]))
        arc = float(self.sweep.arcs_of(y)[0]) if self.sweep.reached > 0.0 else 0.0
        return self._pose(y, deg, arc)

    def along(self, arc: float) -> Pose:
        """The exact pose at a place along the branch (rad, shut is 0), clamped to `arc_range`."""
        low, high = self.arc_range
        if high <= low:
            return self.pose(0.0)
        arc = min(max(arc, low), high)
        if self.sweep.folds and arc >= float(self.sweep.branch.arcs[-1]):
            return self._pose(self.sweep.branch.turns[-1:], self.opening.largest_deg, arc)
        y = self.sweep.branch.at(np.array([arc]))
        deg = 0.0 if self.state == "slides" else math.degrees(self.sweep.sign * float(y[0, self.sweep.panel]))
        return self._pose(y, deg + 0.0, arc)  # shut is 0, not −0

    def swing(self, pose: Pose, link: str, grabbed: Point, to: Point) -> Pose:
        """The pose, not far along the branch, that brings a shut point of a link nearest to where the hand is."""
        low, high = self.arc_range
        if high <= low:
            return pose
        arcs = np.linspace(max(low, pose.arc - 0.6), min(high, pose.arc + 0.6), 121)
        column = self.links.index(link)

        def away(places: Floats) -> Floats:
            return np.abs(self._carried(self.sweep.branch.at(places), column, grabbed) - complex(*to)) ** 2

        def roughly(places: Floats) -> Floats:
            return np.abs(self._carried(self.sweep.branch.cubic(places), column, grabbed) - complex(*to)) ** 2

        return self.along(lowest(arcs, roughly(arcs), roughly, away)[0])

    def path(self, link: str, point: Point) -> Floats:
        """(n, 2) places of a shut point of a link at the reported poses."""
        column = self.links.index(link)
        z = self.shifts[:, column] + np.exp(1j * self.turns[:, column]) * complex(*point)
        return np.stack([z.real, z.imag], axis=1)

    @property
    def mark_paths(self) -> Mapping[str, Floats]:
        """Mark id → (n, 2) path over the reported poses."""
        return {mark.id: self.path(mark.on, mark.at) for mark in self.project.marks}

    @property
    def pivot_paths(self) -> Mapping[str, Floats]:
        """Pivot id → (n, 2) path over the reported poses."""
        return {pivot.id: self.path(pivot.joins[0], pivot.at) for pivot in self.project.pivots}

    def rates(self, pose: Pose) -> motion.Rates:
        """How every link moves at a pose: (1, links) rad and mm per rad of opening (of arc where the panel slides)."""
        return motion.rates(self.sweep, self.unknowns(pose))

    def instant_centre(self, pose: Pose, first: str, second: str) -> Point | None:
        """The point that two links carry alike at a pose; None where it is at infinity."""
        columns = self.links.index(first), self.links.index(second)
        centre = motion.instant_centre(self.rates(pose), pose.shifts[None], 0, *columns)
        return None if centre is None else (centre.real, centre.imag)

    def unknowns(self, pose: Pose) -> Floats:
        """(1, unknowns) the pose's turns by unknown, as the solver takes them."""
        y = np.zeros((1, self.sweep.closure.unknowns))
        for column, group in enumerate(self.sweep.closure.group):
            if group > 0:
                y[0, group - 1] = pose.turns[column]
        return y

    def _pose(self, y: Floats, deg: float, arc: float) -> Pose:
        return Pose(deg, arc, frozen(self.sweep.link_turns(y)[0]), frozen(self.sweep.shifts(y)[0]))

    def _carried(self, y: Floats, column: int, point: Point) -> Complexes:
        turns = self.sweep.link_turns(y)[:, column]
        return np.asarray(self.sweep.shifts(y)[:, column] + np.exp(1j * turns) * complex(*point))


def analyse(project: Project, steps: int = 181, near: Analysis | None = None) -> Analysis:
    """Analyse a project.

    Parameters
    ----------
    project : any sound project, half-drawn ones too.
    steps : number of reported poses, evenly spaced in opening, at least 2; nothing else depends on it.
    near : an earlier analysis, taken as first guess: it changes the time, and results by no more than 1e-9.
    """
    moved = sweep(project, None if near is None else near.sweep)
    opening = Opening(moved.wanted_deg, moved.reached_deg, moved.largest_deg, moved.ends)
    openings = np.linspace(0.0, opening.reached_deg, steps) if moved.reached > 0.0 else np.zeros(1)
    y = moved.at_openings(np.minimum(np.radians(openings), moved.reached))
    gaps, there = all_gaps(project, moved, watched_pairs(project), {} if near is None else near.bodies)
    gaps = doubted(project, gaps)
    transmission = _transmission(project, moved)
    room = room_figures(project, moved)
    loads, strength = _carried(project, moved, y)
    checks = all_checks(project, moved, opening, gaps, room, transmission, loads)
    if strength is not None:
        checks = worst_first([*checks, *strength_checks(project, strength)])
    told = (each.remarks for each in (loads, strength) if each is not None)
    return Analysis(
        project,
        moved.freedom.mobility,
        moved.freedom.state,
        opening,
        moved.closure.links,
        frozen(openings),
        frozen(moved.link_turns(y)),
        frozen(moved.shifts(y)),
        gaps,
        checks,
        (*remarks(project, moved), *chain.from_iterable(told)),
        transmission,
        moved,
        there,
        room,
        loads,
        strength,
    )


def _carried(project: Project, moved: Sweep, y: Floats) -> tuple[LoadFigures | None, StrengthFigures | None]:
    """What the loads come to, and what pins and plates carry; y (n, unknowns) the reported poses.

    What looks are to be had at exact poses is told first, so that these are worked out all at once.
    """
    marks = marks_of(project, moved)
    look = first_look(project, marks)
    if marks is None:
        loads = load_figures(project, moved, y)
        return loads, straining(project, None, loads, None)
    loads, seen = figures_beside(project, marks, y, np.zeros(0) if look is None else look.arcs)
    return loads, straining(project, look, loads, seen)


def watched_pairs(project: Project) -> tuple[tuple[tuple[str, str], GapWant | None], ...]:
    """The pairs to watch: the builder's, then panel outline against fixed outline where nobody asked."""
    asked = {frozenset(want.between) for want in project.gaps}
    on_panel = [outline for outline in project.outlines if outline.on == project.panel.id]
    on_fixed = [outline for outline in project.outlines if outline.on == project.fixed.id]
    unasked = [
        ((fixed.id, panel.id), None)
        for fixed in on_fixed
        for panel in on_panel
        if frozenset((fixed.id, panel.id)) not in asked
        and (fixed.station == panel.station or not fixed.station or not panel.station)
    ]
    return (*((want.between, want) for want in project.gaps), *unasked)


def _transmission(project: Project, moved: Sweep) -> Transmission | None:
    """Angles over the reported part, and the smallest between them."""
    links = motion.transmitter(project, moved) if moved.reached > 0.0 else None
    if links is None:
        return None
    arcs = moved.fine_arcs(0.0, FINE)
    y = moved.branch.cubic(arcs)
    angles = links.angles(arcs, y)

    def close(places: Floats) -> Floats:
        return np.asarray(links.angles(places, moved.branch.cubic(places)).min(axis=1))

    def exact(places: Floats) -> Floats:
        return np.asarray(links.angles(places, moved.at_arcs(places)).min(axis=1))

    place = np.array([lowest(arcs, angles.min(axis=1), close, exact)[0]])
    at = moved.at_arcs(place)
    smallest = links.angles(place, at)[0]
    column = int(np.argmin(smallest))
    openings = np.clip(np.degrees(moved.sign * y[:, moved.panel]), 0.0, moved.reached_deg) + 0.0
    openings[-1] = moved.reached_deg
    return Transmission(
        frozen(openings),
        frozen(angles),
        links.names,
        float(smallest[column]),
        math.degrees(moved.sign * float(at[0, moved.panel])),
        links.names[column],
    )
