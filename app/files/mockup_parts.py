"""The parts of a mock-up: what is drawn of each link, at true size. No Qt here.

A *template* is a drawing in mm, y up: edges to cut, lines to go by, holes. A link's is turned so that its longest
stretch between pins stands upright; those of the fixed link and of the panel stay level, as their pins are set out on
the body by level and plumb. Everything is as seen in the side view, shut.
"""

from __future__ import annotations

from cmath import exp, phase
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import shapely

from app.files.paper import Box
from app.lengths import format_coordinate, format_length
from app.shapes import band, drawn_contour
from app.sheet_words import as_wide_as, pins_of
from kinematics.errors import HingewrightError
from kinematics.plate_shapes import plate_cut

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.project import Link, Outline, Pivot, Project
    from kinematics.values import Point

LEAST_EDGE = 6.0
"""Card left around a hole at least, mm (common practice, no source)."""
AROUND = 40.0
"""How far around the pins the outlines of fixed link and panel are drawn, mm."""
ROOM = 5.0
"""Around a template, for names."""
LONGEST = 20_000.0
"""A template longer than this, mm, is none to print."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A pin's hole: its centre (mm on the template), the pin's name, and what stands beneath it."""

    at: Point
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A line: "edge" to cut along, "outline" of the thing, "datum" to set level or plumb."""

    kind: str
    points: tuple[Point, ...]
    closed: bool = False
    name: str = ""


@dataclass(frozen=True, slots=True)
class Distance:
    """The distance between two pins, and its words."""

    ends: tuple[Point, Point]
    words: str


@dataclass(frozen=True, slots=True)
class Template:
    """One part: title, what is said of it, its lines, holes and distances; `box` holds all."""

    title: str
    link: str
    notes: tuple[str, ...]
    lines: tuple[Line, ...]
    holes: tuple[Hole, ...]
    distances: tuple[Distance, ...]
    box: Box


def templates(project: Project, hole: float, units: Units) -> tuple[Template, ...]:
    """The templates of a project: the fixed link's pins, each link, the panel's pins; none of what has no pins.

    hole : diameter of the holes, mm. Raises HingewrightError where there is nothing to print, or a part is too long.
    """
    kinds = {"fixed": 0, "link": 1, "panel": 2}
    found = []
    for link in sorted(project.links, key=lambda each: kinds[each.kind]):
        pins = project.pivots_on(link.id)
        if pins:
            found.append((_of_link if link.kind == "link" else _of_body)(project, link, tuple(pins), hole, units))
    if not found:
        raise HingewrightError("there are no pins yet, so there is nothing to print", remedy="Place the pins first.")
    for template in found:
        if max(template.box.wide, template.box.tall) > LONGEST:
            raise HingewrightError(
                f"it is longer than {format_length(LONGEST, units)}", template.link, "Check the places of its pins."
            )
    return tuple(found)


def _of_link(project: Project, link: Link, pins: tuple[Pivot, ...], hole: float, units: Units) -> Template:
    """A link to cut out, with its longest stretch upright."""
    least = hole + 2 * LEAST_EDGE
    wide = max(link.width, least)
    turn = _upright(pins)

    def turned(point: Point) -> Point:
        z = complex(*point) * turn
        return z.real, z.imag

    cut = plate_cut(project, link)
    if cut is None:
        lines = [Line("edge", band(tuple(turned(pin.at) for pin in pins), wide), closed=True)]
    else:
        contours = (cut.outer, *cut.cutouts)
        lines = [Line("edge", tuple(map(turned, drawn_contour(each))), closed=True) for each in contours]
    lines += [
        Line("outline", tuple(map(turned, outline.points)), outline.closed, outline.id)
        for outline in _outlines(project, link)
    ]
    holes = tuple(Hole(turned(pin.at), pin.id) for pin in pins)
    notes = (as_wide_as(link.width, wide, units),) if cut is None and link.width < least else ()
    return Template(link.id, link.id, notes, tuple(lines), holes, _distances(holes, units), _around(lines, holes, ROOM))


def _of_body(project: Project, link: Link, pins: tuple[Pivot, ...], hole: float, units: Units) -> Template:
    """The pins of the fixed link or of the panel, level, with what is near of its outlines."""
    holes = tuple(
        Hole(pin.at, pin.id, f"{format_coordinate(pin.at[0], units)}; {format_coordinate(pin.at[1], units)}")
        for pin in pins
    )
    near = _around([], holes, hole / 2 + AROUND)
    lines = [part for outline in _outlines(project, link) for part in _within(outline, near)]
    origin = min(holes, key=lambda each: (each.at[1], each.at[0])).at
    lines.append(Line("datum", ((near.left, origin[1]), (near.right, origin[1])), name="level"))
    lines.append(Line("datum", ((origin[0], near.low), (origin[0], near.high)), name="plumb"))
    return Template(pins_of(link), link.id, (), tuple(lines), holes, _distances(holes, units), near)


def _outlines(project: Project, link: Link) -> list[Outline]:
    return [outline for outline in project.outlines if outline.on == link.id]


def _upright(pins: tuple[Pivot, ...]) -> complex:
    """The turn that makes the longest stretch between two pins stand upright."""
    spots = [complex(*pin.at) for pin in pins]
    pairs = [b - a for a, b in combinations(spots, 2)]
    longest = max(pairs, key=abs, default=1j)
    return 1j * exp(-1j * phase(longest)) if abs(longest) > 0 else 1.0 + 0j


def _distances(holes: tuple[Hole, ...], units: Units) -> tuple[Distance, ...]:
    """Between all pairs of pins; with many pins only along the row."""
    pairs = list(combinations(holes, 2)) if len(holes) <= 4 else list(pairwise(holes))
    return tuple(
        Distance((a.at, b.at), f"{a.name} – {b.name}: {format_length(abs(complex(*a.at) - complex(*b.at)), units)}")
        for a, b in pairs
    )


def _within(outline: Outline, box: Box) -> list[Line]:
    """What of an outline lies in a box, as open lines."""
    points = [*outline.points, outline.points[0]] if outline.closed else outline.points
    cut = shapely.LineString(points).intersection(shapely.box(box.left, box.low, box.right, box.high))
    parts = [part for part in shapely.get_parts(cut) if part.geom_type == "LineString" and not part.is_empty]
    lines = [Line("outline", tuple((x, y) for x, y in part.coords)) for part in parts]
    return [replace(line, name="" if place else outline.id) for place, line in enumerate(lines)]


def _around(lines: list[Line], holes: tuple[Hole, ...], by: float) -> Box:
    spots = [hole.at for hole in holes] + [point for line in lines for point in line.points]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return Box(min(xs), min(ys), max(xs), max(ys)).grown(by)
