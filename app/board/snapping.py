"""Snapping: what a hand that places something is drawn to. No Qt here; places are mm of the board.

A *field* holds all that may draw the hand near a place: *targets* (pins, marks, points of outlines) that it lands on,
pins that it comes level with or plumb above, *rings* on which a link is as long as another one, and the squares of the
paper. `snap` gives the place where the hand is drawn to and what *holds* it there, two things at most; nothing within
reach: None. A target beats all else; two lines or rings that cross nearby beat one alone; squares hold last, and only
within half the reach, as they are everywhere.

`keep_line` and `keep_ring` are for a hand that keeps to one line, or keeps a link's length.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, dist, hypot, pi, sin, sqrt
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from app.shapes import SHUT, Placement, seen

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from numpy.typing import NDArray

    from kinematics.project import Point, Project

LINE_SHARE, GRID_SHARE = 0.75, 0.45
"""Shares of the reach within which lines and rings, and squares, hold."""

Shut: TypeAlias = "Mapping[str, NDArray[np.float64]]"


@dataclass(frozen=True, slots=True)
class Target:
    """A place to land on. kind : "pivot", "mark" or "point" (of an outline, number `part` from 0)."""

    at: Point
    kind: str
    id: str
    part: int | None = None


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle about a pin on which a link from it is as long as `link`; `about` is where the pin `pivot` stands ("":
    about a place without a pin).
    """

    about: Point
    radius: float
    pivot: str
    link: str


@dataclass(frozen=True, slots=True)
class Hold:
    """What holds the hand.

    kind : "on" a target, "level" with or "plumb" with the pin at `place`, "length" of a ring, or "grid"; and of a hand
        that keeps something itself "kept line", through `place`, or "kept length", of a ring.
    grid : mm of a square.     way : name of the line that is kept.
    """

    kind: str
    place: Point
    target: Target | None = None
    ring: Ring | None = None
    grid: float = 0.0
    way: str = ""


@dataclass(frozen=True, slots=True)
class Snap:
    """Where the hand is drawn to, and by what."""

    at: Point
    holds: tuple[Hold, ...] = ()

    @property
    def target(self) -> Target | None:
        """What the hand landed on, if anything."""
        return next((hold.target for hold in self.holds if hold.kind == "on"), None)

    @property
    def pivot(self) -> str:
        """The pin that the hand landed on; "" for none."""
        return self.target.id if self.target is not None and self.target.kind == "pivot" else ""

    @property
    def ring(self) -> Ring | None:
        """The ring about a pin that holds the hand, if one does."""
        return next((hold.ring for hold in self.holds if hold.ring is not None and hold.ring.pivot), None)


@dataclass(frozen=True, slots=True)
class Field:
    """All that may draw the hand: targets to land on, pins to be level or plumb with, rings, the squares' size (mm)."""

    targets: tuple[Target, ...] = ()
    pins: tuple[Target, ...] = ()
    rings: tuple[Ring, ...] = ()
    grid: float = 0.0


def snap(at: Point, field: Field, reach: float) -> Snap | None:
    """Draw a place to what is near; reach : mm."""
    target = _nearest(field.targets, at, reach)
    if target is not None:
        return Snap(target.at, (Hold("on", target.at, target),))
    level, plumb = _lines(field.pins, at, LINE_SHARE * reach)
    ring = _ring(field.rings, at, LINE_SHARE * reach)
    return (
        _corner(level, plumb)
        or _crossing(level, plumb, ring, at, reach)
        or _single(level, plumb, ring, at, field, reach)
        or _on_grid(at, field.grid, reach)
    )


def _nearest(targets: Iterable[Target], at: Point, reach: float) -> Target | None:
    near = [(dist(each.at, at), place) for place, each in enumerate(targets)]
    least, place = min(near, default=(reach + 1.0, -1))
    return tuple(targets)[place] if least <= reach else None


def _lines(pins: Iterable[Target], at: Point, reach: float) -> tuple[Target | None, Target | None]:
    """The pin to be level with and the one to be plumb with; of several in one line the nearest."""
    found: list[Target | None] = []
    for axis in (1, 0):
        near = [pin for pin in pins if abs(pin.at[axis] - at[axis]) <= reach]
        best = min(near, key=lambda pin: (round(abs(pin.at[axis] - at[axis]), 6), dist(pin.at, at)), default=None)
        found.append(best)
    return found[0], found[1]


def _ring(rings: Iterable[Ring], at: Point, reach: float) -> Ring | None:
    near = [(abs(dist(ring.about, at) - ring.radius), place) for place, ring in enumerate(rings)]
    least, place = min(near, default=(reach + 1.0, -1))
    return tuple(rings)[place] if least <= reach else None


def _corner(level: Target | None, plumb: Target | None) -> Snap | None:
    if level is None or plumb is None:
        return None
    return Snap((plumb.at[0], level.at[1]), (_level(level), _plumb(plumb)))


def _level(pin: Target) -> Hold:
    return Hold("level", pin.at, pin)


def _plumb(pin: Target) -> Hold:
    return Hold("plumb", pin.at, pin)


def _crossing(level: Target | None, plumb: Target | None, ring: Ring | None, at: Point, reach: float) -> Snap | None:
    """Where a ring crosses a level or a plumb line, if that is within reach."""
    line = level or plumb
    if ring is None or line is None:
        return None
    axis = 1 if level is not None else 0
    rest = ring.radius**2 - (line.at[axis] - ring.about[axis]) ** 2
    if rest < 0:
        return None
    middle, half = ring.about[1 - axis], sqrt(rest)
    other = min((middle - half, middle + half), key=lambda value: abs(value - at[1 - axis]))
    place = (other, line.at[1]) if axis == 1 else (line.at[0], other)
    held = _level(line) if axis == 1 else _plumb(line)
    return Snap(place, (held, Hold("length", ring.about, ring=ring))) if dist(place, at) <= reach else None


def _single(
    level: Target | None, plumb: Target | None, ring: Ring | None, at: Point, field: Field, reach: float
) -> Snap | None:
    """The nearest of a line and a ring; along a line the squares may hold too."""
    line = level or plumb
    axis = 1 if level is not None else 0
    off_line = abs(line.at[axis] - at[axis]) if line is not None else reach
    if ring is not None and abs(dist(ring.about, at) - ring.radius) < off_line:
        return Snap(keep_ring(ring.about, ring.radius, at), (Hold("length", ring.about, ring=ring),))
    if line is None:
        return None
    along, by_grid = _to_grid(at[1 - axis], field.grid, GRID_SHARE * reach)
    place = (along, line.at[1]) if axis == 1 else (line.at[0], along)
    held = _level(line) if axis == 1 else _plumb(line)
    return Snap(place, (held, Hold("grid", place, grid=field.grid)) if by_grid else (held,))


def _on_grid(at: Point, grid: float, reach: float) -> Snap | None:
    x, x_held = _to_grid(at[0], grid, GRID_SHARE * reach)
    y, y_held = _to_grid(at[1], grid, GRID_SHARE * reach)
    return Snap((x, y), (Hold("grid", (x, y), grid=grid),)) if x_held or y_held else None


def _to_grid(value: float, grid: float, reach: float) -> tuple[float, bool]:
    """A coordinate on the nearest line of the squares, where that is within reach; else as it is."""
    if grid <= 0:
        return value, False
    line = round(value / grid) * grid
    return (round(line, 9), True) if abs(line - value) <= reach else (value, False)


# ------------------------------------------------------------------------------------------------------------- keeping
def keep_ring(about: Point, radius: float, at: Point) -> Point:
    """Give the place on a circle nearest to a place; to the right of the middle itself."""
    x, y = at[0] - about[0], at[1] - about[1]
    far = hypot(x, y)
    return (about[0] + radius * x / far, about[1] + radius * y / far) if far > 0 else (about[0] + radius, about[1])


def keep_line(start: Point, at: Point, ways: Mapping[str, float]) -> tuple[Point, str]:
    """Give the place nearest to `at` on a line through the start, and the line's name.

    ways : directions to choose from by name, rad; taken is the one that the hand has gone along most.
    """
    x, y = at[0] - start[0], at[1] - start[1]
    name = max(ways, key=lambda way: abs(x * cos(ways[way]) + y * sin(ways[way])))
    c, s = cos(ways[name]), sin(ways[name])
    along = x * c + y * s
    return (start[0] + along * c, start[1] + along * s), name


WAYS = {"level": 0.0, "plumb": pi / 2, "to 45° up": pi / 4, "to 45° down": -pi / 4}
"""Directions (rad) that any drag may keep, by name."""


def ways_of(project: Project, placements: Mapping[str, Placement], pivot_id: str) -> dict[str, float]:
    """Give the directions that a pin's drag may keep: level, plumb, 45°, and along each of its links between."""
    pivot = project.pivot(pivot_id)
    found = dict(WAYS)
    for link_id, other in _arms(project, pivot_id):
        where = placements.get(link_id, SHUT)
        one, two = where.carry(pivot.at), where.carry(project.pivot(other).at)
        found.setdefault(f"in line with {link_id}", atan2(two[1] - one[1], two[0] - one[0]))
    return found


def _arms(project: Project, pivot_id: str) -> list[tuple[str, str]]:
    """The links between that a pin is on, each with each other pin of it."""
    pivot = project.pivot(pivot_id)
    return [
        (link.id, other.id)
        for link in project.links
        if link.kind == "link" and link.id in pivot.joins
        for other in project.pivots_on(link.id)
        if other is not pivot and dist(other.at, pivot.at) > 0
    ]


# -------------------------------------------------------------------------------------------------------------- fields
def shut_points(project: Project) -> dict[str, NDArray[np.float64]]:
    """Give the points (n, 2) of every outline that is seen, by its id: made once for a gesture."""
    return {outline.id: np.array(outline.points) for outline in seen(project.outlines)}


def targets_near(
    project: Project, placements: Mapping[str, Placement], at: Point, reach: float, points: Shut
) -> list[Target]:
    """Give the points of outlines within reach of a place, the nearest of each outline."""
    found = []
    for outline in project.outlines:
        if outline.id in points and len(points[outline.id]) == len(outline.points):
            where = placements.get(outline.on, SHUT)
            x, y = where.back(at)
            away = np.hypot(*(points[outline.id] - (x, y)).T)
            place = int(np.nanargmin(away)) if not np.isnan(away).all() else 0
            if away[place] <= reach:
                found.append(Target(where.carry(outline.points[place]), "point", outline.id, place))
    return found


def pins_at(project: Project, placements: Mapping[str, Placement], but: Collection[str] = ()) -> list[Target]:
    """Give where the pins that are seen stand, but some."""
    return [
        Target(placements.get(pivot.joins[0], SHUT).carry(pivot.at), "pivot", pivot.id)
        for pivot in seen(project.pivots)
        if pivot.id not in but
    ]


def marks_at(project: Project, placements: Mapping[str, Placement], but: Collection[str] = ()) -> list[Target]:
    """Give where the marks that are seen stand, but some."""
    return [
        Target(placements.get(mark.on, SHUT).carry(mark.at), "mark", mark.id)
        for mark in seen(project.marks)
        if mark.id not in but
    ]


def lengths(project: Project) -> dict[str, float]:
    """Give the length (mm) of each link between that has two pins, by its id."""
    found = {}
    for link in project.links:
        pins = project.pivots_on(link.id)
        if link.kind == "link" and len(pins) == 2:
            found[link.id] = dist(pins[0].at, pins[1].at)
    return found


def rings_of(project: Project, placements: Mapping[str, Placement], pivot_id: str) -> list[Ring]:
    """Give the rings for a pin that is dragged: about each other pin of its links, as long as each other link."""
    known = lengths(project)
    return [
        Ring(placements.get(arm, SHUT).carry(project.pivot(other).at), length, other, link)
        for arm, other in _arms(project, pivot_id)
        for link, length in known.items()
        if link != arm and length > 0
    ]


def rings_about(project: Project, about: Point, pivot_id: str = "") -> list[Ring]:
    """Give the rings for a new link from a place: as long as each link that is there."""
    return [Ring(about, length, pivot_id, link) for link, length in lengths(project).items() if length > 0]


def kept_ring(project: Project, placements: Mapping[str, Placement], pivot_id: str, at: Point) -> Ring | None:
    """Give the circle that a pin keeps to when it keeps a link's length; of several links the one that the hand is
    least off. None for a pin without a link between.
    """
    pivot = project.pivot(pivot_id)
    rings = [
        Ring(
            placements.get(arm, SHUT).carry(project.pivot(other).at),
            dist(pivot.at, project.pivot(other).at),
            other,
            arm,
        )
        for arm, other in _arms(project, pivot_id)
    ]
    return min(rings, key=lambda ring: abs(dist(ring.about, at) - ring.radius), default=None)


def without(points: Shut, taken: Mapping[str, Collection[int]]) -> dict[str, NDArray[np.float64]]:
    """Give the outlines' points but for some (numbers from 0, by outline), which are what is being moved."""
    left = dict(points)
    for name, places in taken.items():
        if name in left:
            left[name] = left[name].copy()
            left[name][list(places)] = np.nan
    return left
