"""Bodies: what can touch. An outline, or the band of a link, with a tree of runs that finds near parts quickly.

Terms. A body is a chain of *edges* between vertices, drawn with a round pen of `radius`; a *solid* one fills what it
encloses. The band of a link is the convex hull of its pins, with half the link's width as radius; its plate, where the
project has plates, takes the band's place (`plate_shapes`). A *run* is a stretch of consecutive edges within a circle,
and within a *slab*: a box that lies along the run, thin where the run is nearly straight. Four runs make one on the
level above, up to a single one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import Complexes, Floats, Ints, as_complex
from kinematics.plate_shapes import Stroke, stroke_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.project import Outline, Project

FAN = 4
"""Runs in the run above."""
ONE_PLACE = 1e-9
"""Neighbouring vertices no further apart than this (mm) are one."""


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """A tree of runs in one array, leaves (single edges) first, the root last.

    centres (n,) complex: of circle and slab; radii (n,) mm; ways (n,) complex: unit vectors along the slabs; halves,
    depths (n,) mm: half of a slab's length along and across; starts (n,) complex: the first vertex; children (n, FAN):
    indices, −1 where there is none.
    """

    centres: Complexes
    radii: Floats
    ways: Complexes
    halves: Floats
    depths: Floats
    starts: Complexes
    children: Ints


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A chain of edges on a link, in shut coordinates.

    source : the outline, link or plate that it was made of (its identity says whether this still holds).
    column : the link's. tails, heads : (edges,) complex ends of each edge.  solid : whether its inside belongs to it.
    loose : whether its edges are places of no length that nothing joins.
    """

    source: object
    column: int
    tails: Complexes
    heads: Complexes
    radius: float
    solid: bool
    loose: bool = False

    @property
    def runs(self) -> Runs:
        """Its tree, made when it is first asked for: a plate in pieces is never looked through as a whole."""
        return _runs_of(self)

    @property
    def reach(self) -> float:
        """Largest distance of a vertex from the origin, mm."""
        return float(max(np.abs(self.tails).max(), np.abs(self.heads).max()))

    def geometry(self) -> shapely.Geometry:
        """The body without its pen, for GEOS, in shut coordinates."""
        flat = np.stack([self.tails.real, self.tails.imag], axis=1)
        if len(flat) == 1:
            return shapely.Point(flat[0])
        if self.loose:
            return shapely.MultiPoint(flat)
        return shapely.Polygon(flat) if self.solid else shapely.LineString(flat)


def bodies(project: Project, columns: Mapping[str, int], near: Mapping[str, Body]) -> dict[str, Body]:
    """The body of every outline, and of every link that a want names; those of `near` where they still hold.

    Struts and springs have bodies of their own (`kinematics.spanning`).
    """
    found = {}
    for outline in project.outlines:
        old = near.get(outline.id)
        held = old is not None and old.source is outline and old.column == columns[outline.on]
        found[outline.id] = old if old is not None and held else _of_outline(outline, columns[outline.on])
    for name in {name for want in project.gaps for name in want.between}:
        if name not in found and name in columns:
            band = link_body(project, name, columns[name], near.get(name))
            if band is not None:
                found[name] = band
    return found


def straight_band(source: object, column: int, start: complex, end: complex, radius: float) -> Body:
    """A straight band from start to end (shut, mm), a round where they are one place."""
    return _body(source, column, np.array([start, end]), radius, False)


def ring_body(source: object, column: int, corners: Complexes) -> Body:
    """What a ring of corners (shut, mm) encloses; the last corner is joined to the first."""
    return _body(source, column, np.append(corners, corners[0]), 0.0, True)


def _of_outline(outline: Outline, column: int) -> Body:
    points = as_complex(outline.points)
    if outline.closed:
        points = np.append(points, points[0])
    return _body(outline, column, points, outline.half_width, outline.closed)


def link_body(project: Project, name: str, column: int, near: Body | None = None) -> Body | None:
    """The plate or band of a link; None while it has no pins.   near : an earlier one, taken where it still holds."""
    link = project.link(name)
    plate = stroke_of(project, link)
    if plate is not None:
        if near is not None and near.source is plate and near.column == column:
            return near
        return _body(plate, column, plate.points, plate.radius, plate.solid)
    pins = [pivot.at for pivot in project.pivots if name in pivot.joins]
    if not pins:
        return None
    spots = as_complex(pins)
    hull = shapely.MultiPoint(np.stack([spots.real, spots.imag], axis=1)).convex_hull
    solid = hull.geom_type == "Polygon"
    ring = shapely.get_coordinates(hull)
    return _body(link, column, ring[:, 0] + 1j * ring[:, 1], 0.5 * link.width, solid)


def plate_pieces(
    project: Project, there: Mapping[str, Body], near: Mapping[str, Body]
) -> tuple[dict[str, Body], dict[str, tuple[str, ...]]]:
    """The pieces of those links' plates that are watched in pieces, by name, and the names by link.

    there : bodies of links, whole.   near : an earlier analysis' bodies; those of it that still hold are taken.
    A piece's name holds a control character, so no outline and no link has it.
    """
    found: dict[str, Body] = {}
    named: dict[str, tuple[str, ...]] = {}
    for link in project.links:
        plate = there[link.id].source if link.id in there else None
        if not isinstance(plate, Stroke) or plate.core is None:
            continue
        radii = list(dict.fromkeys(round(radius, 9) for _, radius in plate.eyes))
        named[link.id] = tuple(f"\x1f{link.id}\x1f{piece}" for piece in ("core", *radii))
        old = near.get(named[link.id][0])
        if old is not None and old.source is plate and old.column == there[link.id].column:
            found |= {name: near[name] for name in named[link.id]}
            continue
        column = there[link.id].column
        made = [_body(plate, column, plate.core, plate.radius, True)]
        for radius in radii:
            spots = np.array([at for at, own in plate.eyes if round(own, 9) == radius])
            made.append(Body(plate, column, spots, spots, radius, False, loose=True))
        found |= dict(zip(named[link.id], made, strict=True))
    return found, named


def _body(source: object, column: int, points: Complexes, radius: float, solid: bool) -> Body:
    points = points[np.append(True, np.abs(np.diff(points)) > ONE_PLACE)]
    if len(points) < 4:
        solid = False  # a ring that encloses nothing is a line
    # An open chain ends with an edge of no length, so that every vertex is the tail of one.
    points = points if solid else np.append(points, points[-1])
    tails, heads = points[:-1], points[1:]
    return Body(source, column, tails, heads, radius, solid)


@lru_cache(maxsize=512)  # by the body itself, of which each is one value
def _runs_of(body: Body) -> Runs:
    return _runs(body.tails, body.heads)


def _runs(tails: Complexes, heads: Complexes) -> Runs:
    """Leaves, then level upon level until one run is left."""
    half = 0.5 * np.abs(heads - tails)
    levels = [(0.5 * (tails + heads), half, _unit(heads - tails), half, np.zeros(len(tails)), tails)]
    children = [np.full((len(tails), FAN), -1, dtype=np.intp)]
    size, offset = 1, 0
    while (count := len(levels[-1][0])) > 1:
        size *= FAN
        levels.append(_level(tails, heads, size))
        members = np.arange(0, count, FAN)[:, None] + np.arange(FAN)
        children.append(np.where(members < count, members + offset, -1))
        offset += count
    centres, radii, ways, halves, depths, starts = (np.concatenate(part) for part in zip(*levels, strict=True))
    return Runs(centres, radii, ways, halves, depths, starts, np.concatenate(children))


def _level(
    tails: Complexes, heads: Complexes, size: int
) -> tuple[Complexes, Floats, Complexes, Floats, Floats, Complexes]:
    """Centres, radii, ways, halves, depths and starts of the runs of so many edges each; the last may have fewer."""
    firsts = np.arange(0, len(tails), size)
    run = np.arange(len(tails)) // size
    starts, ends = tails[firsts], heads[np.append(firsts[1:], len(tails)) - 1]
    ways = _unit(ends - starts)
    off = [(side - starts[run]) * ways.conj()[run] for side in (tails, heads)]
    low, high = (
        [pick.reduceat(pick(*(getattr(side, part) for side in off)), firsts) for part in ("real", "imag")]
        for pick in (np.minimum, np.maximum)
    )
    centres = starts + 0.5 * ((low[0] + high[0]) + 1j * (low[1] + high[1])) * ways
    radii = np.maximum.reduceat(np.maximum(*(np.abs(side - centres[run]) for side in (tails, heads))), firsts)
    return centres, radii, ways, 0.5 * (high[0] - low[0]), 0.5 * (high[1] - low[1]), starts


def _unit(along: Complexes) -> Complexes:
    """Unit vectors along some others; 1 for those of no length."""
    length = np.abs(along)
    return np.asarray(np.where(length > 0.0, along, 1.0) / np.where(length > 0.0, length, 1.0))
