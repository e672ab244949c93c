"""Near misses: all places of the sweep at which a want is broken or nearly so, each with its exact rates for all pins.

A check speaks of the worst place alone. Whoever moves pins by its rate mends that place and breaks the next one; so
here each want is asked at many poses, and every one where little is left gives a *row*: the margin there and how it
changes per mm of each pivot's shut place. The worst place itself is among them, exact; the others are read at the
poses looked at. Bodies that touch have a margin too: minus the depth (`overlap`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex
from kinematics.following import Following, following, following_fold, motion_still, panel_still
from kinematics.motion import transmitter
from kinematics.overlap import partings
from kinematics.plate_shapes import shape_of, stroke_of
from kinematics.plating import eye_radii
from kinematics.slopes import band_shares, slopes, spacing_slopes, zone_slopes
from kinematics.transmitting import transmission_slopes

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.analysis import Analysis
    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.project import Point
    from kinematics.results import Check

LOOKS = 61
"""Poses at which wants are asked, evenly along the motion."""
LITTLE = 25.0
"""mm (or deg) of margin from which on a place is no near miss: no step of the pins takes that away."""
SURE = 0.5
"""deg of transmission angle below which its rate is too steep to go by."""
NONE = 50.0
"""mm short that a want counts for which nothing could be read at all."""


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Near misses: (m,) the check's place in the analysis, (m,) margins, mm or deg, and (m, pivots, 2) rates."""

    checks: Ints
    margins: Floats
    rates: Floats

    def worst(self, analysis: Analysis) -> Floats:
        """(checks,) the least margin of every check: its own, or deeper where it touches."""
        own = [each.margin if math.isfinite(each.margin) else -NONE for each in analysis.checks]
        least = np.array(own, dtype=np.float64)
        np.minimum.at(least, self.checks, self.margins)
        return least


@dataclass(frozen=True, slots=True, eq=False)
class _Looks:
    """Poses that are looked at: turns y (n, unknowns), openings (n,) deg, and how links follow there."""

    y: Floats
    degs: Floats
    follow: Following

    def from_deg(self, after: float) -> Bools:
        """Which of them count for a want that holds from an opening on."""
        return np.asarray(self.degs >= after - 1e-9)


@dataclass(slots=True, eq=False)
class _Found:
    """Rows while they are gathered."""

    checks: list[int]
    margins: list[float]
    rates: list[Floats]

    def add(self, check: int, margin: float, rates: Floats | None) -> None:
        """Take a row, where little is left and its rates are known."""
        if rates is not None and margin < LITTLE and np.isfinite(rates).all():
            self.checks.append(check)
            self.margins.append(margin)
            self.rates.append(rates)


def near_misses(analysis: Analysis) -> Rows:
    """All near misses of an analysis whose panel moves; no rows of wants that have no honest rates."""
    found, looks = _Found([], [], []), _looks(analysis)
    for place, check in enumerate(analysis.checks):
        if check.have is not None and not (check.kind == "gap" and check.have <= 0.0):
            found.add(place, check.margin, slopes(analysis, check))
        if check.kind in _MORE:
            _MORE[check.kind](analysis, check, looks, partial(found.add, place))
    rates = np.array(found.rates) if found.rates else np.zeros((0, len(analysis.project.pivots), 2))
    return Rows(np.array(found.checks, dtype=np.intp), np.array(found.margins), rates)


def _looks(analysis: Analysis) -> _Looks:
    """Poses spread over the sweep, and those at which a want begins to hold; at a dead point, that pose itself."""
    sweep = analysis.sweep
    arcs = np.linspace(0.0, sweep.reach_arc, LOOKS)
    starts = {check.after_deg for check in analysis.checks if 0.0 < check.after_deg < analysis.opening.reached_deg}
    begun = sweep.at_openings(np.radians(sorted(starts)))
    y = np.concatenate([sweep.at_arcs(arcs), begun])
    still = np.concatenate([motion_still(sweep, arcs, y[:LOOKS]), panel_still(sweep, begun)])
    still[LOOKS - 1] = panel_still(sweep, y[:1])[0]
    at_fold = analysis.opening.ends == "dead point" and sweep.folds
    if at_fold:
        still[LOOKS - 1] = sweep.branch.tangents[-1]
    follow = following(sweep, y, still)
    if at_fold:
        end = following_fold(sweep)
        follow.turns[LOOKS - 1], follow.moved[LOOKS - 1] = end.turns[0], end.moved[0]
    degs = np.clip(np.degrees(sweep.sign * y[:, sweep.panel]), 0.0, analysis.opening.reached_deg)
    degs[LOOKS - 1] = analysis.opening.reached_deg
    return _Looks(y, degs, follow)


# ---------------------------------------------------------------------------------------------------- kinds of wants
def _gap(analysis: Analysis, check: Check, looks: _Looks, add: Callable[[float, Floats | None], None]) -> None:
    if check.have is None or any(name not in analysis.bodies for name in check.subject):
        return  # a strut or spring follows no pin
    a, b = (analysis.bodies[name] for name in check.subject)
    counts = np.flatnonzero(looks.from_deg(check.after_deg))
    found = partings(a, b, looks.follow.e[counts], looks.follow.shifts[counts])
    margins = found.gaps - check.want - check.uncertain
    near = np.flatnonzero((margins < LITTLE) & (found.along != 0.0))
    ends = [
        _edge_drifts(analysis, looks, name, body.column, counts[near], places[near])
        for name, body, places in ((check.subject[0], a, found.first), (check.subject[1], b, found.second))
    ]
    for k, one, other in zip(near.tolist(), *ends, strict=True):
        parted = None if one is None or other is None else ((other - one) * found.along[k].conjugate()).real
        add(float(margins[k]), parted)


def _edge_drifts(
    analysis: Analysis, looks: _Looks, name: str, column: int, poses: Ints, places: Complexes
) -> list[Complexes | None]:
    """(pivots, 2) each: how places on the line of an outline, or of a link's band, move at their poses."""
    drifts = looks.follow.drifts(poses, np.full(len(poses), column), places)
    if name not in analysis.project.link_index:
        return list(drifts)
    found: list[Complexes | None] = []
    for drift, pose, place in zip(drifts, poses, places, strict=True):
        e = looks.follow.e[pose, column]
        shares = band_shares(analysis.project, name, complex((place - looks.follow.shifts[pose, column]) / e))
        for pivot, share in shares or ():
            drift[pivot] += share * e * np.array([1.0, 1j])
        found.append(None if shares is None else drift)
    return found


def _shut_gap(analysis: Analysis, check: Check, _: _Looks, add: Callable[[float, Floats | None], None]) -> None:
    """Both sides of a shut gap; `slopes` gives the rates of the nearer one."""
    rates = slopes(analysis, check)
    if rates is None or check.have is None or check.most is None:
        return
    low = check.have - check.uncertain - check.want
    high = check.most - check.have - check.uncertain
    add(max(low, high), -rates)


def _limit(analysis: Analysis, check: Check, looks: _Looks, add: Callable[[float, Floats | None], None]) -> None:
    mark = analysis.project.mark(check.subject[0])
    column = analysis.links.index(mark.on)
    counts = np.flatnonzero(looks.from_deg(check.after_deg))
    places = looks.follow.shifts[counts, column] + looks.follow.e[counts, column] * complex(*mark.at)
    way = (1.0 if check.side.endswith("least") else -1.0) * (1.0 if check.side.startswith("dx") else -1j)
    margins = (way * (places - complex(*mark.at))).real - (way * _along_axis(check)).real
    near = np.flatnonzero(margins < LITTLE)
    drifts = looks.follow.drifts(counts[near], np.full(len(near), column), places[near])
    for k, drift in zip(near.tolist(), drifts, strict=True):
        add(float(margins[k]), (way * drift).real)


def _along_axis(check: Check) -> complex:
    return complex(check.want, 0.0) if check.side.startswith("dx") else complex(0.0, check.want)


def _roof(analysis: Analysis, check: Check, looks: _Looks, add: Callable[[float, Floats | None], None]) -> None:
    """The highest place of every link at each pose."""
    project = analysis.project
    roof = project.room.roof if project.room is not None else None
    if roof is None:
        return
    for column, name in enumerate(analysis.links):
        if name == project.fixed.id:
            continue
        shut, radii, pins = _drawn(analysis, name)
        if len(shut) == 0:
            continue
        stands = looks.follow.shifts[:, column, None] + looks.follow.e[:, column, None] * shut
        tops = stands.imag + radii
        highest = np.argmax(tops, axis=1)
        poses = np.arange(len(tops))
        margins = roof - tops[poses, highest] - check.uncertain
        drifts = looks.follow.drifts(poses, np.full(len(poses), column), stands[poses, highest])
        for k in np.flatnonzero(margins < LITTLE).tolist():
            if pins[highest[k]] >= 0:
                drifts[k, pins[highest[k]]] += looks.follow.e[k, column] * np.array([1.0, 1j])
            add(float(margins[k]), -drifts[k].imag)


def _drawn(analysis: Analysis, name: str) -> tuple[Complexes, Floats, Ints]:
    """What is drawn on a link: shut points, how far their pens reach, and the pivot of each (−1: an outline's)."""
    project = analysis.project
    points: list[Point] = []
    radii: list[float] = []
    pins: list[int] = []
    for outline in project.outlines:
        if outline.on == name:
            points += outline.points
            radii += [outline.half_width] * len(outline.points)
            pins += [-1] * len(outline.points)
    plate = shape_of(project, project.link(name))
    stroke = stroke_of(project, project.link(name))
    eyes = {} if plate is None or plate.cut is None else eye_radii(plate.plate, plate.cut.pins)
    if stroke is not None:  # its bent sides; its eyes move with their pins
        points += [(z.real, z.imag) for z in stroke.points.tolist()]
        radii += [stroke.radius] * len(stroke.points)
        pins += [-1] * len(stroke.points)
    for k, pivot in enumerate(project.pivots):
        if name in pivot.joins:
            points.append(pivot.at)
            radii.append(eyes.get(pivot.id, 0.5 * project.link(name).width))
            pins.append(k)
    return as_complex(points), np.array(radii), np.array(pins, dtype=np.intp)


def _spacing(analysis: Analysis, check: Check, _: _Looks, add: Callable[[float, Floats | None], None]) -> None:
    """All pairs of pins of the link, not the nearest two alone."""
    pins = analysis.project.pivots_on(check.subject[0])
    for i, a in enumerate(pins):
        for b in pins[i + 1 :]:
            margin = math.dist(a.at, b.at) - check.want
            add(margin, spacing_slopes(analysis.project, a.id, b.id))


def _transmission(analysis: Analysis, check: Check, looks: _Looks, add: Callable[[float, Floats | None], None]) -> None:
    """Every link that transmits, at each pose; but at a dead point, where the angle has no rate."""
    links = transmitter(analysis.project, analysis.sweep)
    if links is None or check.have is None:
        return
    angles = links.angles(analysis.sweep.arcs_of(looks.y), looks.y)
    for pose, one in np.argwhere((angles - check.want < LITTLE) & (angles > SURE)).tolist():
        rates = transmission_slopes(analysis.project, links, one, looks.y[[pose]], looks.follow.only(pose))
        add(float(angles[pose, one]) - check.want, rates)


def _zone(analysis: Analysis, check: Check, _: _Looks, add: Callable[[float, Floats | None], None]) -> None:
    """All pins of the link, not the one that stands worst alone, and all edges that face them."""
    if check.have is None:
        return
    for pin in analysis.project.pivots_on(check.subject[0]):
        for margin, rates in zone_slopes(analysis.project, check.subject[0], pin.id):
            add(margin, rates)


_MORE: dict[str, Callable[[Analysis, Check, _Looks, Callable[[float, Floats | None], None]], None]] = {
    "gap": _gap,
    "shut gap": _shut_gap,
    "limit": _limit,
    "roof": _roof,
    "pin spacing": _spacing,
    "zone": _zone,
    "transmission": _transmission,
}
