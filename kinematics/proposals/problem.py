"""What is asked of a search, read off a project once and laid out for many candidates at a time.

Everything that the chosen links can't change is prepared here: the openings at which candidates are looked at, the
distance fields of the outlines with the points that are looked up in them, the wants, and where pins may be. Lengths
are mm on the sheet, points complex, openings rad with the sign of the panel's turn.

A want of a gap between a link's band and an outline can't be carried over by name, as the links are the search's to
choose; it is then asked of every proposed link. Pairs of panel and body that nobody asked about are kept from touching
all the same.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex
from kinematics.project import Outline
from kinematics.proposals.cavity import cavity
from kinematics.proposals.fields import Field, distances, field_of
from kinematics.proposals.hopeless import sound_zones
from kinematics.proposals.sampling import sampled
from kinematics.rear_edge import RearEdge, front_point, rear_edge

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.project import GapWant, Pivot, Project
    from kinematics.proposals.results import Settings

POSES_DEG = 5.0
"""Candidates are looked at so far apart, deg, …"""
LEAST_POSES = 13
"""… and at so many openings at least."""
PAD = 150.0
"""mm around an outline for which its distances are held ready."""
REACH = 1.15
"""How far from the rear edge anything of the panel comes, as a share of its length."""
UNASKED = 1.0
"""mm that panel and body keep apart where nobody asked."""


@dataclass(frozen=True, slots=True, eq=False)
class Pair:
    """A panel outline against a fixed one: points of each, to be looked up in the field of the other, and the least
    distance of the two lines from an opening (rad) on. names : both, sorted.
    """

    fixed_field: Field
    panel_points: Complexes
    panel_field: Field
    fixed_points: Complexes
    want: float
    after: float
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class BandPair:
    """What every proposed link keeps clear of: an outline's field, in the panel's frame or the fixed one; want of the
    link's middle lines, half the width included, from an opening (rad) on.
    """

    field: Field
    on_panel: bool
    want: float
    after: float


@dataclass(frozen=True, slots=True, eq=False)
class Bound:
    """A limit on the panel's point of a mark: Re(way · moved) ≥ want from an opening (rad) on; side: of the limit."""

    at: complex
    way: complex
    want: float
    after: float
    mark: str
    side: str


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """All that scoring needs.

    openings : (poses,) rad.   pairs, bands, bounds : wants.   high : points of the panel with the y they must stay
    under and the height that the front must reach at the end (None: no such want).   spacing : mm.
    locked : pins that stay, on the fixed link, on the panel, and between the links that are chosen.   zones : their
    fields.   frame, size : where a hinge belongs, and how large it may well be, mm.   cavity : where pins without a
    zone are kept; None: anywhere.
    """

    project: Project
    settings: Settings
    openings: Floats
    pairs: tuple[Pair, ...]
    bands: tuple[BandPair, ...]
    bounds: tuple[Bound, ...]
    roof: float | None
    roof_points: Complexes
    front: tuple[complex, float] | None
    spacing: float
    locked: tuple[tuple[Pivot, ...], tuple[Pivot, ...], tuple[Pivot, ...]]
    zones: tuple[tuple[Field, ...], tuple[Field, ...]]
    frame: RearEdge
    size: float
    cavity: Field | None

    def counts(self, after: float) -> Bools:
        """(poses,) where a want counts that holds from an opening (rad) on."""
        return np.asarray(np.abs(self.openings) >= after - 1e-9)


def read_problem(project: Project, settings: Settings) -> Problem:
    """Lay out a project for a search."""
    frame = rear_edge(project)
    size = min(max(0.25 * frame.length, 60.0), 400.0)
    roof, points = _roof(project)
    return Problem(
        project,
        settings,
        _openings(project, 1),
        _pairs(project, frame),
        _bands(project, settings, frame),
        _bounds(project),
        roof,
        points,
        _front(project),
        project.pin_spacing,
        (_locked(project, project.fixed.id), _locked(project, project.panel.id), _locked_between(project)),
        (_zones(project, project.fixed.id), _zones(project, project.panel.id)),
        frame,
        size,
        cavity(project, frame, size, 0.5 * settings.width),
    )


def coarser(problem: Problem) -> Problem:
    """The same looked at in every other opening and where wants begin, to sort the many seeds."""
    some = np.zeros(len(problem.openings), dtype=bool)
    some[::2] = some[-1] = True
    for part in (problem.pairs, problem.bands, problem.bounds):
        for each in part:
            some[int(np.argmax(problem.counts(each.after)))] = True
    return replace(problem, openings=problem.openings[some])


def finer(problem: Problem) -> Problem:
    """The same looked at in twice as many openings, for the last say before the whole analysis."""
    return replace(problem, openings=_openings(problem.project, 2))


def _openings(project: Project, times: int) -> Floats:
    """Where candidates are looked at: closer at first, when the rear edge passes things, and where wants begin."""
    wanted = project.travel.wanted_deg
    count = times * max(LEAST_POSES, math.ceil(wanted / POSES_DEG) + 5)
    share = np.linspace(0.0, 1.0, count)
    openings = wanted * (0.4 * share + 0.6 * share**2)
    begins = [gap.after_deg for gap in project.gaps] + [limit.after_deg for limit in project.limits]
    openings = np.unique(np.append(openings, [deg for deg in begins if deg < wanted]))
    apart = np.append(True, np.diff(openings) > 1e-6)
    return np.asarray(project.travel.sign * np.radians(openings[apart]))


# --------------------------------------------------------------------------------------------------------------- pairs
def _pairs(project: Project, frame: RearEdge) -> tuple[Pair, ...]:
    fields: dict[str, Field] = {}
    fixed, panel = project.fixed.id, project.panel.id
    wants: dict[tuple[str, str], list[GapWant]] = {}
    for want in project.gaps:
        rides = tuple(project.rides_on(name) for name in want.between)
        if set(rides) == {fixed, panel}:
            names = want.between if rides[0] == fixed else (want.between[1], want.between[0])
            wants.setdefault(names, []).append(want)
    outlines = {outline.id: outline for outline in project.outlines}
    pairs = []
    for one in (each for each in project.outlines if each.on == fixed):
        for other in (each for each in project.outlines if each.on == panel):
            asked = wants.get((one.id, other.id), [])
            if not asked and not _same_station(one, other):
                continue
            more = one.uncertain + other.uncertain + one.half_width + other.half_width
            for least, after in [(want.at_least, want.after_deg) for want in asked] or _unasked(one, other):
                pairs.append(_pair(outlines, one, other, least + more, math.radians(after), frame, fields))
    return tuple(pairs)


def _same_station(one: Outline, other: Outline) -> bool:
    return not one.station or not other.station or one.station == other.station


def _unasked(one: Outline, other: Outline) -> list[tuple[float, float]]:
    """What is asked of a pair that nobody asked about: not to touch, unless it touches at shut."""
    away = float(distances(other, as_complex(one.points), 1.0)[0].min())
    away = min(away, float(distances(one, as_complex(other.points), 1.0)[0].min()))
    away -= one.half_width + other.half_width
    return [(min(UNASKED, 0.5 * away), 0.0)] if away > 0.1 else []


def _pair(
    outlines: dict[str, Outline],
    one: Outline,
    other: Outline,
    want: float,
    after: float,
    frame: RearEdge,
    fields: dict[str, Field],
) -> Pair:
    for outline in (one, other):
        if outline.id not in fields:
            fields[outline.id] = _field(outlines[outline.id], frame)
    panel_points, fixed_points = sampled(other, one), sampled(one, other)
    names = tuple(sorted((one.id, other.id)))
    return Pair(fields[one.id], panel_points, fields[other.id], fixed_points, want, after, names)


def _field(outline: Outline, frame: RearEdge, pad: float = PAD) -> Field:
    """Its field over its own neighbourhood, as far as the panel can reach at all."""
    points = as_complex(outline.points)
    reach = REACH * frame.length + pad
    low = complex(
        max(points.real.min() - pad, frame.origin.real - reach), max(points.imag.min() - pad, frame.origin.imag - reach)
    )
    high = complex(
        min(points.real.max() + pad, frame.origin.real + reach), min(points.imag.max() + pad, frame.origin.imag + reach)
    )
    return field_of(outline, low, high)


# --------------------------------------------------------------------------------------------------------------- bands
def _bands(project: Project, settings: Settings, frame: RearEdge) -> tuple[BandPair, ...]:
    """Each outline that some link's band is to keep clear of, with the strictest want of it."""
    wants: dict[str, tuple[float, float]] = {}
    links = {link.id for link in project.links if link.kind == "link"}
    for want in project.gaps:
        for name, other in (want.between, want.between[::-1]):
            if name in links and other not in links:
                before = wants.get(other, (0.0, math.inf))
                wants[other] = (max(before[0], want.at_least), min(before[1], want.after_deg))
    if settings.bands_clear is not None:
        for outline in (each for each in project.outlines if each.on == project.fixed.id):
            before = wants.get(outline.id, (0.0, 0.0))
            wants[outline.id] = (max(before[0], settings.bands_clear), 0.0)
    found = []
    for outline in project.outlines:
        if outline.id in wants and outline.on in (project.fixed.id, project.panel.id):
            least, after = wants[outline.id]
            lines = least + outline.uncertain + outline.half_width + 0.5 * settings.width
            on_panel = outline.on == project.panel.id
            found.append(BandPair(_field(outline, frame), on_panel, lines, math.radians(after)))
    return tuple(found)


# -------------------------------------------------------------------------------------------------- limits, room, pins
def _bounds(project: Project) -> tuple[Bound, ...]:
    marks = {mark.id: mark for mark in project.marks if mark.on == project.panel.id}
    ways = {"dx_at_least": 1.0, "dx_at_most": -1.0, "dy_at_least": -1j, "dy_at_most": 1j}
    found = []
    for limit in (each for each in project.limits if each.mark in marks):
        for side, way in ways.items():
            value = getattr(limit, side)
            if value is not None:
                want = value if side.endswith("least") else -value
                found.append(
                    Bound(
                        complex(*marks[limit.mark].at),
                        complex(way),
                        want,
                        math.radians(limit.after_deg),
                        limit.mark,
                        side,
                    )
                )
    return tuple(found)


def _roof(project: Project) -> tuple[float | None, Complexes]:
    """The height to stay under and the panel's points that may reach it, the pens' radii taken off the height."""
    outlines = [outline for outline in project.outlines if outline.on == project.panel.id]
    points = as_complex(point for outline in outlines for point in outline.points)
    if project.room is None or project.room.roof is None or not len(points):
        return None, points
    off = max(outline.half_width + outline.uncertain for outline in outlines)
    step = max(1, len(points) // 40)
    return project.room.roof - off, np.unique(
        np.append(points[::step], points[np.argmax(np.abs(points - points.mean()))])
    )


def _front(project: Project) -> tuple[complex, float] | None:
    """The point that is the front edge, and the least y of it at the end; None where nobody wants one."""
    room = project.room
    if room is None or room.floor is None or room.front_edge is None or room.front_edge.at_least is None:
        return None
    if room.front_edge.mark is not None:
        mark = project.mark(room.front_edge.mark)
        return (complex(*mark.at), room.floor + room.front_edge.at_least) if mark.on == project.panel.id else None
    point = front_point(project)
    off = max((outline.uncertain for outline in project.outlines if outline.on == project.panel.id), default=0.0)
    return None if point is None else (complex(*point), room.floor + room.front_edge.at_least + off)


def _locked(project: Project, link: str) -> tuple[Pivot, ...]:
    return tuple(pivot for pivot in project.pivots if pivot.locked and link in pivot.joins)


def _locked_between(project: Project) -> tuple[Pivot, ...]:
    ends = {project.fixed.id, project.panel.id}
    return tuple(pivot for pivot in project.pivots if pivot.locked and not ends & set(pivot.joins))


def _zones(project: Project, link: str) -> tuple[Field, ...]:
    found = []
    for place, zone in enumerate(sound_zones(project, link)):
        outline = Outline(id=f"zone {place + 1}", on=link, points=zone.points, closed=True)
        points = as_complex(zone.points)
        pad = 60.0 * (1 + 1j)
        low, high = (
            complex(points.real.min(), points.imag.min()) - pad,
            complex(points.real.max(), points.imag.max()) + pad,
        )
        found.append(field_of(outline, low, high))
    return tuple(found)
