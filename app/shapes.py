"""The one picture: what is drawn of a project, as strokes, hatches, symbols and labels. No Qt here.

`shapes(project, look)` gives what belongs to the project itself; `app.traces` adds what the sweep shows. Every
shape has a *key* that stays the same from one project to the next, the *link* it rides on, and its points in shut
coordinates (mm). `placed(analysis, pose)` gives one `Placement` a link: a painter carries a shape's points by its
link's placement and has the picture at that pose. The board keeps an item for each key and, while posing, only
moves it; the painters of files apply the placements. Shapes are plain values: a shape that equals the one before
needs no new item.

Two measures: points are mm and grow with the zoom; line weights, symbols and letters are pixels and keep their
size. A `Hatch` knows the line it follows; how close its strokes stand depends on the zoom (`app.hatching`).
"""

from __future__ import annotations

from functools import lru_cache
from itertools import chain, pairwise
from math import dist, hypot
from typing import TYPE_CHECKING, TypeVar

import shapely

from app.holding_shapes import holding_placements
from app.kept import kept
from app.lettering import short_name
from app.load_shapes import load_placements, load_shapes
from app.shut_shapes import shut_shapes
from app.strokes import SHUT, Hatch, Label, Layer, Pen, Placement, Shape, Stroke, Symbol
from kinematics.building import free_ends
from kinematics.plate_edits import has_plate
from kinematics.plate_shapes import plate_cut

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.contours import Contour
    from kinematics.project import Link, Mark, Outline, Pivot, Point, Project, Zone
    from kinematics.results import Pose

__all__ = ["SHUT", "Hatch", "Label", "Layer", "Pen", "Placement", "Shape", "Stroke", "Symbol"]

Part = TypeVar("Part", "Link", "Pivot", "Outline", "Mark")
ROUND = 12  # chords in a quarter of a round end: at 14 mm radius they miss the arc by 0.03 mm
FACE = 0.42  # how solid the face of a link is
ASIDE = 0.28  # where along a plate its name stands: a hand takes it at its middle
HOLLOW = 0.7  # how much a hole in it shows of the paper
PAIR_PX = 3.4  # width of the line that is parted in two along a pair's edge
CHORDS = 0.03  # mm by which the chords of a plate's arcs miss them
LONG_EDGE = 0.6  # share of the longest edge from which on an edge bears an outline's name


def placed(analysis: Analysis, pose: Pose) -> dict[str, Placement]:
    """Give the placement of every link at a pose, by the link's id; and of what rides between links, such as a strut's
    tube, by keys that no link has.
    """
    turns, shifts = pose.turns.tolist(), pose.shifts.tolist()
    found = {
        id_: Placement(turn, shift.real, shift.imag)
        for id_, turn, shift in zip(analysis.links, turns, shifts, strict=True)
    }
    if analysis.project.loads is None:
        return found
    loads = load_placements(analysis.project.loads, found)
    return {**found, **loads, **holding_placements(analysis, pose, found)}


def shapes(project: Project, look: Look) -> list[Shape]:
    """Give all that a project itself shows, from the lowest layer to the highest within each kind; nothing of what is
    hidden.
    """
    found: list[Shape] = []
    for name, zone in zip(project.zone_names, project.zones, strict=True):
        found += _zone(zone, name, look)
    for outline in seen(project.outlines):
        found += outline_shapes(project, outline, look)
    for link in seen(project.links):
        found += link_shapes(project, link, look)
    for pivot in seen(project.pivots):
        found += pivot_shapes(project, pivot, look)
    for mark in seen(project.marks):
        found += _mark(mark, look)
    if project.loads is not None:
        found += load_shapes(project.loads, look, project.display_units)
        found += shut_shapes(project.loads, project.fixed.id, look)
    return found


def seen(parts: Iterable[Part]) -> list[Part]:
    """Give the parts that are not hidden."""
    return [part for part in parts if not part.hidden]


# ------------------------------------------------------------------------------------------------------------ outlines
def outline_shapes(project: Project, outline: Outline, look: Look) -> list[Shape]:
    """Show an outline by what it rides on: heavy for the panel, hatched for the fixed link, thin for the rest; its
    thickness in thin lines.
    """
    kind = project.link(outline.on).kind
    pen = {"panel": Pen(look.panel, look.heavy), "fixed": Pen(look.fixed, look.line)}.get(
        kind, Pen(look.link, look.thin)
    )
    layer = Layer.FIXED if kind == "fixed" else Layer.PANEL
    found: list[Shape] = []
    if kind == "fixed":
        side = 0 if outline.closed else material_side(outline.points, _air(project))
        found.append(
            Hatch(f"hatch:{outline.id}", outline.on, outline.points, side, Pen(look.hatch), layer, outline.closed)
        )
    found.append(Stroke(f"outline:{outline.id}", outline.on, outline.points, pen, layer, outline.closed))
    for place, ring in enumerate(thickened(outline.points, outline.closed, outline.half_width)):
        found.append(Stroke(f"thickness:{outline.id}:{place}", outline.on, ring, Pen(pen.colour), layer, closed=True))
    at, away, span = _name_place(outline.points, project)
    found.append(name_label(f"name of outline:{outline.id}", outline.on, at, outline.id, look, away=away, span=span))
    return found


def name_label(key: str, link: str, at: Point, text: str, look: Look, *, away: Point, span: float) -> Label:
    """Name a part in a low voice, where there is room for it."""
    words = short_name(text)
    return Label(key, link, at, words, look.faint, look.paper, look.small_px, away, rank=8, clear_px=4.0, span=span)


@kept(64)
def thickened(points: tuple[Point, ...], closed: bool, half_width: float) -> tuple[tuple[Point, ...], ...]:
    """Give the edges of a line drawn with a round pen of radius `half_width` (mm), as closed rings; none where that
    is 0.
    """
    if half_width <= 0:
        return ()
    line = shapely.LineString([*points, points[0]] if closed else points)
    face = line.buffer(half_width, quad_segs=ROUND)
    parts = list(face.geoms) if face.geom_type == "MultiPolygon" else [face]
    return tuple(_ring(ring) for part in parts for ring in (part.exterior, *part.interiors))


def _ring(ring: shapely.LinearRing) -> tuple[Point, ...]:
    return tuple((x, y) for x, y in ring.coords[:-1])


def _air(project: Project) -> tuple[Point, ...]:
    """Points where there is room, as the panel or its pins are there: the fixed link's material lies on the other
    side.
    """
    panel = project.panel.id
    found = [outline.points for outline in project.outlines if outline.on == panel]
    return _together(*found) if found else tuple(pivot.at for pivot in project.pivots)


@kept(16)
def _together(*lines: tuple[Point, ...]) -> tuple[Point, ...]:
    return tuple(chain.from_iterable(lines))


@kept(64)
def material_side(points: tuple[Point, ...], air: tuple[Point, ...]) -> int:
    """Tell on which side of an open line the material is: +1 left as it runs, −1 right; away from most of the
    points in the `air`.
    """
    if not air:
        return -1
    line = shapely.LineString(points)
    starts = shapely.line_locate_point(line, shapely.points(air))
    balance = 0.0
    for point, along in zip(air, starts.tolist(), strict=True):
        a, b = _span(points, along)
        balance += (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]) > 0 or -1
    return -1 if balance > 0 else 1


def _span(points: tuple[Point, ...], along: float) -> tuple[Point, Point]:
    """Give the edge of a line that lies a length along it."""
    for a, b in pairwise(points):
        along -= hypot(b[0] - a[0], b[1] - a[1])
        if along <= 0:
            return a, b
    return points[-2], points[-1]


def _name_place(points: tuple[Point, ...], project: Project) -> tuple[Point, Point, float]:
    """Where an outline's name stands: at the middle of a long edge, far from the crowd at the pins, on the side away
    from them. And the outline's length across, which tells whether there is room for a name beside it.
    """
    pins = _middle([pivot.at for pivot in project.pivots]) if project.pivots else (0.0, 0.0)
    middle, a, b = max(_long_edges(points), key=lambda edge: dist(edge[0], pins))
    normal = a[1] - b[1], b[0] - a[0]
    inward = (pins[0] - middle[0]) * normal[0] + (pins[1] - middle[1]) * normal[1]
    return middle, (-normal[0], -normal[1]) if inward > 0 else normal, _across(points)


@kept(64)
def _across(points: tuple[Point, ...]) -> float:
    """From corner to corner of the upright box around an outline."""
    xs, ys = zip(*points, strict=True)
    return hypot(max(xs) - min(xs), max(ys) - min(ys))


@kept(64)
def _long_edges(points: tuple[Point, ...]) -> list[tuple[Point, Point, Point]]:
    """The edges that are nearly as long as the longest, a dozen at most: middle and ends of each."""
    edges = sorted(((dist(a, b), a, b) for a, b in pairwise(points)), reverse=True)[:12]
    return [(_middle([a, b]), a, b) for length, a, b in edges if length >= LONG_EDGE * edges[0][0]]


# --------------------------------------------------------------------------------------------------------------- links
def link_shapes(project: Project, link: Link, look: Look) -> list[Shape]:
    """Show a link: a band of its width around its pins, or a bare line, dashed on to its free ends; the fixed link by
    its pins alone unless it has a width.
    """
    pins = tuple(pivot.at for pivot in project.pivots_on(link.id))
    ends = with_free_ends(project, link)
    if not (pins or ends) or (link.kind == "fixed" and link.width == 0):
        return []
    found: list[Shape] = []
    if len(ends) > 1:
        pen = Pen(look.link, look.thin, (6.0, 4.0))
        found.append(Stroke(f"to come:{link.id}", link.id, hull(ends), pen, Layer.LINKS, closed=len(hull(ends)) > 2))
    edge = link_edge(project, link)
    if edge:
        pen = Pen(look.link, look.thin)
        found.append(
            Stroke(f"band:{link.id}", link.id, edge, pen, Layer.LINKS, closed=True, fill=look.link_fill, veil=FACE)
        )
        found += pair_shapes(project, link, edge, look)
        found += cutout_shapes(project, link, look)
    elif len(pins) > 1:
        pen = Pen(look.panel, look.line, (6.0, 4.0)) if link.kind == "panel" else Pen(look.link, look.line)
        points = hull(pins)
        found.append(Stroke(f"bar:{link.id}", link.id, points, pen, Layer.LINKS, closed=len(points) > 2))
    if link.kind == "link":
        at, away, span = _link_name_place(ends or pins, link.width, ASIDE if has_plate(project, link.id) else 0.5)
        found.append(name_label(f"name of link:{link.id}", link.id, at, link.id, look, away=away, span=span))
    return found


def with_free_ends(project: Project, link: Link) -> tuple[Point, ...]:
    """Give a link's pins and its free ends, where pins are still to come; nothing for one without free ends."""
    ends = tuple(mark.at for mark in free_ends(project, link.id)) if link.kind == "link" else ()
    return (*(pivot.at for pivot in project.pivots_on(link.id)), *ends) if ends else ()


def link_edge(project: Project, link: Link) -> tuple[Point, ...]:
    """Give the edge of what a link is: of its plate, else of its band; nothing of pins alone."""
    cut = plate_cut(project, link)
    if cut is not None:
        return drawn_contour(cut.outer)
    pins = tuple(pivot.at for pivot in project.pivots_on(link.id))
    return band(pins, link.width) if link.width > 0 and pins else ()


def pair_shapes(project: Project, link: Link, edge: tuple[Point, ...], look: Look) -> list[Shape]:
    """Show by a double line along its edge that a link is built of a pair of plates."""
    cut = plate_cut(project, link)
    if cut is None or cut.count < 2:
        return []
    pens = {"pair": Pen(look.link, PAIR_PX), "between pair": Pen(look.paper, look.thin)}
    return [Stroke(f"{key}:{link.id}", link.id, edge, pen, Layer.LINKS, closed=True) for key, pen in pens.items()]


@lru_cache(maxsize=256)  # a plate's contour is the same object while nothing of it changes
def drawn_contour(contour: Contour) -> tuple[Point, ...]:
    """Give the corners of a plate's contour, its arcs as chords that nobody tells from them."""
    x, y = contour.polyline(CHORDS).T.tolist()
    return tuple(zip(x, y, strict=True))


def cutout_shapes(project: Project, link: Link, look: Look) -> list[Shape]:
    """Show the holes that make a link's plate lighter."""
    cut = plate_cut(project, link)
    return [
        Stroke(
            f"cutout:{link.id}:{place}",
            link.id,
            drawn_contour(each),
            Pen(look.link, look.thin),
            Layer.LINKS,
            closed=True,
            fill=look.paper,
            veil=HOLLOW,
        )
        for place, each in enumerate(() if cut is None else cut.cutouts)
    ]


@lru_cache(maxsize=256)
def band(pins: tuple[Point, ...], width: float) -> tuple[Point, ...]:
    """Give the edge of a link of a `width` (mm): the convex hull of its pins with half the width around it."""
    return _ring(shapely.MultiPoint(pins).convex_hull.buffer(width / 2, quad_segs=ROUND).exterior)


@lru_cache(maxsize=256)
def hull(pins: tuple[Point, ...]) -> tuple[Point, ...]:
    """Give the convex hull of pins: a polygon's points, or the two ends where they stand in one line."""
    face = shapely.MultiPoint(pins).convex_hull
    return _ring(face.exterior) if face.geom_type == "Polygon" else tuple((x, y) for x, y in face.coords)


def _link_name_place(pins: tuple[Point, ...], width: float, share: float) -> tuple[Point, Point, float]:
    """Where a link's name stands: at a share of its longest stretch between pins, across it. And how much room it
    has.
    """
    if len(pins) == 1:
        return pins[0], (1.0, -1.0), width
    ends = hull(pins)
    pairs = list(zip(ends, ends[1:] + ends[:1], strict=True))
    a, b = max(pairs, key=lambda edge: hypot(edge[1][0] - edge[0][0], edge[1][1] - edge[0][1]))
    across = abs(b[1] - a[1]) + 1e-9, -abs(b[0] - a[0])
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])), across, 0.8 * hypot(b[0] - a[0], b[1] - a[1])


def _middle(points: list[Point]) -> Point:
    return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)


# ------------------------------------------------------------------------------------------------- pins, marks, zones
def pivot_shapes(project: Project, pivot: Pivot, look: Look) -> list[Shape]:
    """Show a pin by its symbol, a lock where it is locked, and its name on the side away from its links."""
    fixed = project.fixed.id in pivot.joins
    rides = rides_on(project, pivot)
    glyph = "fixed pin" if fixed else "pin"
    found: list[Shape] = [Symbol(f"pin:{pivot.id}", rides, (pivot.at,), glyph, look.ink, look.paper, Layer.PINS)]
    if pivot.locked:
        found.append(Symbol(f"lock:{pivot.id}", rides, (pivot.at,), "lock", look.ink, look.paper, Layer.PINS))
    away = _away_from_neighbours(project, pivot)
    found.append(
        Label(
            f"name of pivot:{pivot.id}",
            rides,
            pivot.at,
            short_name(pivot.id),
            look.ink,
            look.paper,
            look.words_px,
            away,
            rank=2,
            bold=True,
        )
    )
    return found


def rides_on(project: Project, pivot: Pivot) -> str:
    """Give the link with which a pin's symbol moves: the fixed one, where it joins that, else the first."""
    fixed = project.fixed.id
    return fixed if fixed in pivot.joins else pivot.joins[0]


def _away_from_neighbours(project: Project, pivot: Pivot) -> Point:
    """Look away from the pins that share a link with this one; the fixed link and the panel, which may be large,
    don't count.
    """
    arms = {id_ for id_ in pivot.joins if project.link(id_).kind == "link"}
    others = [other.at for other in project.pivots if other is not pivot and arms.intersection(other.joins)]
    if not others:
        return 1.0, 1.0
    middle = _middle(others)
    x, y = pivot.at[0] - middle[0], pivot.at[1] - middle[1]
    return (x, y) if hypot(x, y) > 1e-9 else (1.0, 1.0)


def _mark(mark: Mark, look: Look) -> list[Shape]:
    return [
        Symbol(f"mark:{mark.id}", mark.on, (mark.at,), "mark", look.path, look.paper, Layer.PINS),
        Label(
            f"name of mark:{mark.id}",
            mark.on,
            mark.at,
            short_name(mark.id),
            look.path,
            look.paper,
            look.small_px,
            (-1.0, 1.0),
            rank=6,
        ),
    ]


def _zone(zone: Zone, name: str, look: Look) -> list[Shape]:
    """Show a zone as a thin dashed region, named above its upper edge."""
    pen, points = Pen(look.faint, 1.0, (2.0, 4.0)), zone.points
    edges = ((_middle([a, b])) for a, b in zip(points, points[1:] + points[:1], strict=True))
    at = max(edges, key=lambda middle: middle[1])
    words = f"pins of {zone.on}"
    return [
        Stroke(f"zone:{name}", zone.on, points, pen, Layer.ZONES, closed=True, fill=look.grid, veil=0.5),
        name_label(f"name of zone:{name}", zone.on, at, words, look, away=(0.0, 1.0), span=_across(points)),
    ]
