"""What lies under the pointer. No Qt here: points and distances in mm.

Where several things lie there, the finest wins: the points of the selected outline, then pins, marks, links,
outlines. A thing is hit within `reach` of it; the board gives the mm of half a 10 px target or more, so targets
keep their size on the screen however far one zooms.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

import numpy as np

from app.shapes import SHUT, Placement, hull, link_edge, seen, with_free_ends

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kinematics.project import Link, Outline, Point, Project


@dataclass(frozen=True, slots=True)
class Hit:
    """A thing under the pointer. kind : "pivot", "mark", "point", "link" or "outline"; "zone" or a "corner" of one.
    part : a point's or corner's number; for an outline or zone the edge's.
    """

    kind: str
    id: str
    part: int | None = None


def pivot_place(project: Project, placements: Mapping[str, Placement], pivot_id: str) -> Point:
    """Give where a pin stands; all links it joins agree, the first says it."""
    pivot = project.pivot(pivot_id)
    return placements.get(pivot.joins[0], SHUT).carry(pivot.at)


def hit(
    project: Project, placements: Mapping[str, Placement], at: Point, reach: float, selected_outline: str = ""
) -> Hit | None:
    """Give what lies within `reach` (mm) of a point of the board, or None. `selected_outline` shows its points,
    which can be taken.
    """
    return (
        _point_hit(project, placements, at, reach, selected_outline)
        or _pivot_hit(project, placements, at, reach)
        or _mark_hit(project, placements, at, reach)
        or _link_hit(project, placements, at, reach)
        or _outline_hit(project, placements, at, reach)
    )


def corner_hit(
    project: Project, placements: Mapping[str, Placement], at: Point, reach: float, selected_zone: str
) -> Hit | None:
    """Give the corner of the selected zone that lies there, which can be taken; None without one."""
    if selected_zone not in project.zone_names:
        return None
    zone = project.zone(selected_zone)
    back = placements.get(zone.on, SHUT).back(at)
    return _nearest(
        ((Hit("corner", selected_zone, place), point) for place, point in enumerate(zone.points)), back, reach
    )


def zone_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    """Give the zone on whose edge a point of the board lies; within a zone there is but paper."""
    best, least = None, reach
    for name, zone in zip(project.zone_names, project.zones, strict=True):
        edge, distance = edge_hit(zone.points, placements.get(zone.on, SHUT).back(at), closed=True)
        if distance <= least:
            best, least = Hit("zone", name, edge), distance
    return best


def _nearest(things: Iterable[tuple[Hit, Point]], at: Point, reach: float) -> Hit | None:
    best, least = None, reach
    for found, place in things:
        distance = hypot(place[0] - at[0], place[1] - at[1])
        if distance <= least:
            best, least = found, distance
    return best


def _point_hit(
    project: Project, placements: Mapping[str, Placement], at: Point, reach: float, outline_id: str
) -> Hit | None:
    outline = next((each for each in seen(project.outlines) if each.id == outline_id), None)
    if outline is None:
        return None
    back = placements.get(outline.on, SHUT).back(at)
    return _nearest(
        ((Hit("point", outline_id, place), point) for place, point in enumerate(outline.points)), back, reach
    )


def _pivot_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    things = ((Hit("pivot", p.id), placements.get(p.joins[0], SHUT).carry(p.at)) for p in seen(project.pivots))
    return _nearest(things, at, reach)


def _mark_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    return _nearest(
        ((Hit("mark", m.id), placements.get(m.on, SHUT).carry(m.at)) for m in seen(project.marks)), at, reach
    )


def _link_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    """Links drawn later lie on top, so the last one wins."""
    for link in reversed(seen(project.links)):
        if link.kind == "fixed" and link.width == 0:
            continue
        if _on_link(project, link, placements.get(link.id, SHUT).back(at), reach):
            return Hit("link", link.id)
    return None


def _on_link(project: Project, link: Link, back: Point, reach: float) -> bool:
    pins = tuple(pivot.at for pivot in project.pivots_on(link.id))
    to_come = with_free_ends(project, link)
    if len(to_come) > 1:
        ends = hull(to_come)
        if edge_hit(ends, back, closed=len(ends) > 2)[1] <= reach:
            return True
    edge = link_edge(project, link)
    if edge:
        return is_inside(edge, back) or edge_hit(edge, back, closed=True)[1] <= reach / 2
    if len(pins) < 2:
        return False
    ends = hull(pins)
    return edge_hit(ends, back, closed=len(ends) > 2)[1] <= reach


def _outline_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    best, least = None, reach
    for outline in seen(project.outlines):
        edge, distance = nearest_edge(outline, placements, at)
        if distance <= max(least, outline.half_width if best is None else 0.0):
            best, least = Hit("outline", outline.id, edge), min(distance, least)
    return best


def nearest_edge(outline: Outline, placements: Mapping[str, Placement], at: Point) -> tuple[int, float]:
    """Give the number of the outline's edge that is nearest to a point of the board, and the distance (mm). Edge i
    leads from point i to the next.
    """
    return edge_hit(outline.points, placements.get(outline.on, SHUT).back(at), outline.closed)


def edge_hit(points: tuple[Point, ...], at: Point, closed: bool) -> tuple[int, float]:
    """Give the edge of a polyline nearest to a point, and the distance. A single point, such as that of two pins at one
    place, is an edge without length.
    """
    spots = np.array(points if len(points) > 1 else points * 2)
    starts, ends = (spots, np.roll(spots, -1, axis=0)) if closed else (spots[:-1], spots[1:])
    along, to = ends - starts, np.array(at) - starts
    length2 = np.maximum((along**2).sum(axis=1), 1e-300)
    share = np.clip((along * to).sum(axis=1) / length2, 0.0, 1.0)
    away = np.hypot(*(to - share[:, None] * along).T)
    edge = int(away.argmin())
    return edge, float(away[edge])


def is_inside(points: tuple[Point, ...], at: Point) -> bool:
    """Tell whether a point lies within a closed line (even-odd rule)."""
    x, y = at
    spots = np.array(points)
    ahead = np.roll(spots, -1, axis=0)
    spans = (spots[:, 1] > y) != (ahead[:, 1] > y)
    a, b = spots[spans], ahead[spans]
    meets = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    return bool(np.count_nonzero(meets > x) % 2)


def bodies_at(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> list[str]:
    """Give the links on which a point of the board lies, each once: by band or bar, the topmost first, then by
    outline.
    """
    found = [
        link.id
        for link in reversed(seen(project.links))
        if (link.kind != "fixed" or link.width > 0)
        and _on_link(project, link, placements.get(link.id, SHUT).back(at), reach)
    ]
    for outline in seen(project.outlines):
        if nearest_edge(outline, placements, at)[1] <= max(reach, outline.half_width):
            found.append(outline.on)
    return list(dict.fromkeys(found))


def on_hull(project: Project, link_id: str, back: Point, reach: float) -> Point:
    """Give the place on the line around a link's pins (shut) that is nearest to a shut point of it, if that is within
    reach; else the point itself.
    """
    ends = hull(tuple(pivot.at for pivot in project.pivots_on(link_id))) if project.pivots_on(link_id) else ()
    if len(ends) < 2:
        return back
    edge, away = edge_hit(ends, back, closed=len(ends) > 2)
    if away > reach:
        return back
    a, b = np.array(ends[edge]), np.array(ends[(edge + 1) % len(ends)])
    share = float(np.clip((np.array(back) - a) @ (b - a) / max(float((b - a) @ (b - a)), 1e-300), 0.0, 1.0))
    x, y = (a + share * (b - a)).tolist()
    return x, y
