"""Zones: closed regions within which the pins of a link must stand, as a bracket, a wall or a plate gives them room.

A zone rides on a link and holds for every pivot of that link, with the panel shut; where a link has several, each pin
stands in any one of them, and a link without zones has its pins anywhere. How well a pin stands is a *signed distance*
(mm): to the nearest edge of its zone, positive inside, negative outside. Of several zones the one counts in which it
stands best. A link's check speaks of the pin that stands worst.

A zone that bounds no region (its points in one line, or an edge across another) holds no pin: which side of it would
be inside is anybody's guess. Such a zone is remarked, and never raises.

Zones have no names of their own; they go by their link and by their number there (`Project.zone_names`).
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

import shapely

from kinematics.errors import ProjectError
from kinematics.parts import Zone
from kinematics.results import Check

if TYPE_CHECKING:
    from kinematics.project import Pivot, Point, Project

EDGE = 1e-9
"""How far (mm) outside its zone a pin may stand and still be on the edge: digits of a file, not of a drill."""


# ------------------------------------------------------------------------------------------------------------- checks
def zone_checks(project: Project) -> list[Check]:
    """For every link that has zones and pins, the pin that stands worst in them."""
    if not project.zones:
        return []
    checks = []
    for link in project.links:
        zones = [zone for zone in project.zones if zone.on == link.id]
        pins = project.pivots_on(link.id)
        if zones and pins:
            checks.append(_check(link.id, zones, pins))
    return checks


def _check(link: str, zones: list[Zone], pins: tuple[Pivot, ...]) -> Check:
    sound = [zone.points for zone in zones if not flaw(zone.points)]
    if not sound:
        return Check("zone", (link, pins[0].id), 0.0, None, False, -math.inf, 0.0, pins[0].at)
    stands = {pin.id: max(inside(points, pin.at) for points in sound) for pin in pins}
    worst = min(pins, key=lambda pin: stands[pin.id])
    have = stands[worst.id]
    return Check("zone", (link, worst.id), 0.0, have, have >= -EDGE, have, 0.0, worst.at)


def inside(points: tuple[Point, ...], at: Point) -> float:
    """Distance (mm) of a place from the nearest edge of a closed region: positive inside, negative outside."""
    x, y = at
    within, nearest = False, math.inf
    for (ax, ay), (bx, by) in pairwise((*points, points[0])):
        dx, dy = bx - ax, by - ay
        if (ay > y) != (by > y) and x < ax + (y - ay) * dx / dy:  # a ray to the right crosses this edge
            within = not within
        long = dx * dx + dy * dy
        along = min(max(((x - ax) * dx + (y - ay) * dy) / long, 0.0), 1.0) if long > 0.0 else 0.0
        nearest = min(nearest, math.hypot(x - ax - along * dx, y - ay - along * dy))
    return nearest if within else -nearest


@lru_cache(maxsize=256)
def flaw(points: tuple[Point, ...]) -> str:
    """Say why points bound no region: "has no area" or "crosses itself"; "" where they do."""
    corners = [point for point, other in pairwise((*points, points[0])) if point != other]
    if len(corners) < 3:
        return "has no area"
    region = shapely.Polygon(corners)
    if shapely.is_valid(region) and region.area > 0.0:
        return ""
    level = shapely.MultiPoint(corners).convex_hull
    return "crosses itself" if level.geom_type == "Polygon" else "has no area"


def zone_remarks(project: Project) -> list[str]:
    """Sentences on zones that bound no region."""
    named = zip(project.zone_names, project.zones, strict=True)
    return [
        f"The zone {name} {why}, so no pin can stand in it. Draw it anew, its corners one after another around it."
        for name, zone in named
        if (why := flaw(zone.points))
    ]


# -------------------------------------------------------------------------------------------------------------- edits
def add_zone(project: Project, on: str, points: tuple[Point, ...]) -> Project:
    """Draw a zone on a link; ProjectError where the points bound no region."""
    return replace(project, zones=(*project.zones, Zone(on, _sound(points))))


def remove_zone(project: Project, place: int) -> Project:
    """Take a zone out; the pins stay where they are."""
    _at(project, place)
    return replace(project, zones=(*project.zones[:place], *project.zones[place + 1 :]))


def move_zone_point(project: Project, place: int, corner: int, at: Point) -> Project:
    """Put a corner of a zone elsewhere; what then bounds no region is told by the analysis, as a hand passes there."""
    points = _corners(project, place, corner)
    points[corner] = at
    return _with(project, place, replace(project.zones[place], points=tuple(points)))


def put_zone_point(project: Project, place: int, corner: int, at: Point) -> Project:
    """Put a corner at a typed place; ProjectError where the zone would then bound no region."""
    return set_zone_points(project, place, move_zone_point(project, place, corner, at).zones[place].points)


def shift_zone(project: Project, place: int, by: Point) -> Project:
    """Move a whole zone by (dx, dy) mm."""
    old = _at(project, place)
    return _with(project, place, replace(old, points=tuple((x + by[0], y + by[1]) for x, y in old.points)))


def set_zone_points(project: Project, place: int, points: tuple[Point, ...]) -> Project:
    """Give a zone other corners; ProjectError where they bound no region."""
    return _with(project, place, replace(_at(project, place), points=_sound(points)))


def insert_zone_point(project: Project, place: int, corner: int, at: Point) -> Project:
    """Insert a corner, so that it becomes the zone's corner number `corner` (from 0)."""
    points = _corners(project, place, corner, one_more=True)
    points.insert(corner, at)
    return _with(project, place, replace(project.zones[place], points=tuple(points)))


def delete_zone_point(project: Project, place: int, corner: int) -> Project:
    """Take a corner out; ProjectError when fewer than three would be left."""
    points = _corners(project, place, corner)
    del points[corner]
    return _with(project, place, replace(project.zones[place], points=tuple(points)))


def ride_zone(project: Project, place: int, on: str) -> Project:
    """Let a zone hold for the pins of another link."""
    return _with(project, place, replace(_at(project, place), on=on))


def _sound(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """The points, which bound a region; ProjectError, in the builder's words, where they don't."""
    why = flaw(tuple(points)) if len(points) > 2 else "has no area"
    if why:
        raise ProjectError(f"a zone that {why} holds no pin", "zone", "Give its corners one after another around it.")
    return points


def _at(project: Project, place: int) -> Zone:
    if not 0 <= place < len(project.zones):
        raise ProjectError(f"there is no entry {place + 1} among {len(project.zones)}", "zones")
    return project.zones[place]


def _corners(project: Project, place: int, corner: int, *, one_more: bool = False) -> list[Point]:
    points = list(_at(project, place).points)
    if not 0 <= corner < len(points) + one_more:
        raise ProjectError(f"there is no corner {corner + 1} among {len(points)}", f"zone {project.zone_names[place]}")
    return points


def _with(project: Project, place: int, zone: Zone) -> Project:
    if zone == project.zones[place]:
        return project
    return replace(project, zones=(*project.zones[:place], zone, *project.zones[place + 1 :]))
