"""Weighing: what a mass is and where its centre of gravity lies, from two scales, or from what is drawn.

*On two supports.* A panel lies on two supports, A and B, each on a scale. With b the share of the weight that B reads,
d the distance of the supports and β how far B stands over A (an angle), moments about A give, from A along the line of
the supports, the place u of the centre of gravity and its height w over that line:

    b · d = u − w · tan β.

One weighing with both supports level (β = 0) tells u alone; a second one with B raised tells w too:

    w = d · (b₁ − b₂) / (tan β₂ − tan β₁).

Each support must be free to shift sideways (a roller, a rope), so that it carries straight up. *Sensitivity* is how far
the centre moves if one reading is off by so much. Source: moments about a support, as in weighing a vehicle for the
height of its centre of gravity (any text on vehicle dynamics; from memory).

*From what is drawn* (`MadeOf`): a line of sheet metal weighs its length × width across × thickness × density, at the
middle of its length; a solid its area × width × density, at its centroid; a link of plate the area of its band (holes
not taken off) × thickness × density; where the project says what its links' plates are, the area, thickness, density
and number are theirs. Such masses are *settled*: worked out anew whenever pins or outlines move.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from kinematics.errors import ProjectError
from kinematics.plate_shapes import plate_cut
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kinematics.parts import MadeOf, Mass
    from kinematics.plating import Cut
    from kinematics.project import Outline, Point, Project

READING = 0.1
"""Kg by which a reading is taken to be off where sensitivity is told: a common scale's step (common practice)."""
AGREE = 0.02
"""Totals of two weighings that differ by more than this share contradict each other (common practice, no source)."""
STEEPEST_TILT = 60.0
"""Degrees: tilted further, a panel slides off its supports."""
LEAST_TILT = 0.5
"""Degrees between two weighings; less tells nothing of the height."""
PER_KG_M3 = 1e-9
"""Kg of a mm³ at 1 kg/m³."""


# ------------------------------------------------------------------------------------------------- on two supports
@dataclass(frozen=True, slots=True)
class Reading:
    """One weighing. at_a, at_b : kg on the two scales, without what the supports weigh.   tilt_deg : how far the line
    from A to B rises.
    """

    at_a: float
    at_b: float
    tilt_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """What weighing tells. mass : kg.   along : mm from A towards B on the line of the supports.   height : mm over
    that line, None where one weighing can't tell it.   along_off, height_off : mm by which these are off if one reading
    is off by READING.   differs : kg by which the totals of two weighings differ.
    """

    mass: float
    along: float
    height: float | None
    along_off: float
    height_off: float | None
    differs: float = 0.0


def weighed(apart: float, level: Reading, tilted: Reading | None = None) -> Weighed:
    """Mass and centre of gravity from one weighing or two. apart : mm from support A to support B.

    The first weighing needn't be quite level; with it alone its tilt is left aside. ProjectError for supports in one
    place, readings that no panel gives, and weighings that contradict each other.
    """
    if not apart > 1.0:
        raise ProjectError("both supports are in one place", "weighing", "Put them well apart.")
    for reading, which in ((level, "first"), (tilted, "tilted")):
        if reading is not None:
            _check(reading, f"{which} weighing")
    if tilted is not None:
        _check_both(level, tilted)
    mass, along, height = _centre(apart, level, tilted)
    shifts = [_centre(apart, one, two) for one, two in _off(level, tilted)]
    along_off = max(abs(each[1] - along) for each in shifts)
    height_off = None if height is None else max(abs((each[2] or 0.0) - height) for each in shifts)
    differs = 0.0 if tilted is None else _total(tilted) - _total(level)
    return Weighed(mass, along, height, along_off, height_off, differs)


def tilt_of(raised: float, apart: float) -> float:
    """Degrees by which the line of the supports rises, once B stands so many mm higher than A."""
    if not abs(raised) < apart:
        what = "an end can't be raised by more than the way between the supports"
        raise ProjectError(what, "weighing", "Measure how much higher the far support stands.")
    return math.degrees(math.asin(raised / apart))


def place_of(a: Point, b: Point, along: float, height: float) -> Point:
    """Where (mm, shut) a point lies that is so far along from A towards B, and so far over the line of them.

    Over is the side that is up in the drawing; of an upright line, left of the way from A to B.
    """
    apart = math.dist(a, b)
    dx, dy = (b[0] - a[0]) / apart, (b[1] - a[1]) / apart
    side = -1.0 if dx < 0.0 else 1.0
    return a[0] + along * dx - side * height * dy, a[1] + along * dy + side * height * dx


def height_over(a: Point, b: Point, at: Point) -> float:
    """How far (mm) a point lies over the line of the supports; the other way round of `place_of`."""
    apart = math.dist(a, b)
    dx, dy = (b[0] - a[0]) / apart, (b[1] - a[1]) / apart
    side = -1.0 if dx < 0.0 else 1.0
    return side * ((at[1] - a[1]) * dx - (at[0] - a[0]) * dy)


def outside_by(project: Project, link: str, at: Point) -> float:
    """How far (mm) a place lies outside the upright box around a link's outlines: 0 within, or where none is drawn.

    A centre of gravity far outside tells of a misread scale or a misplaced support.
    """
    points = [point for outline in project.outlines if outline.on == link for point in outline.points]
    if not points:
        return 0.0
    beyond = []
    for axis in (0, 1):
        low, high = min(point[axis] for point in points), max(point[axis] for point in points)
        beyond.append(max(low - at[axis], at[axis] - high, 0.0))
    return math.hypot(*beyond)


def _total(reading: Reading) -> float:
    return reading.at_a + reading.at_b


def _centre(apart: float, level: Reading, tilted: Reading | None) -> tuple[float, float, float | None]:
    """Mass, along and height; the totals of both weighings count alike."""
    share = level.at_b / _total(level)
    if tilted is None:
        return _total(level), share * apart, None
    other = tilted.at_b / _total(tilted)
    slope, steeper = (math.tan(math.radians(each.tilt_deg)) for each in (level, tilted))
    height = apart * (share - other) / (steeper - slope)
    return 0.5 * (_total(level) + _total(tilted)), share * apart + height * slope, height


def _off(level: Reading, tilted: Reading | None) -> Iterable[tuple[Reading, Reading | None]]:
    """The weighings with one reading off by READING, either way: each reading in turn."""
    for key in ("at_a", "at_b"):
        for off in (READING, -READING):
            yield replace(level, **{key: max(getattr(level, key) + off, 0.0)}), tilted
            if tilted is not None:
                yield level, replace(tilted, **{key: max(getattr(tilted, key) + off, 0.0)})


def _check(reading: Reading, where: str) -> None:
    for value, support in ((reading.at_a, "A"), (reading.at_b, "B")):
        if not value >= 0.0:
            raise ProjectError(f"the reading at {support} is below nothing", where, "Set the scale to 0 first.")
    if not _total(reading) > READING:
        raise ProjectError("the scales read nothing", where, "Lay the panel on both supports.")
    if abs(reading.tilt_deg) > STEEPEST_TILT:
        what = f"a tilt of {abs(reading.tilt_deg):.0f}° is more than {STEEPEST_TILT:.0f}°"
        raise ProjectError(what, where, "Raise the end less, or a panel slides off its supports.")


def _check_both(level: Reading, tilted: Reading) -> None:
    """The two weighings fit together."""
    one, other = _total(level), _total(tilted)
    if abs(one - other) > max(AGREE * max(one, other), READING):
        what = f"the weighings contradict each other: {one:.4g} kg together the first time, {other:.4g} kg the second"
        raise ProjectError(what, "weighing", "Read the scales again: nothing else may touch the panel.")
    if abs(level.tilt_deg - tilted.tilt_deg) < LEAST_TILT:
        what = "both weighings are at the same tilt, which tells nothing of the height"
        raise ProjectError(what, "weighing", "Raise one end by a good part of the way between the supports.")


# ------------------------------------------------------------------------------------------------ from what is drawn
def settled(project: Project) -> Project:
    """The project with every mass that follows what is drawn worked out anew; the same object where none changes.

    A mass whose outline isn't there, or whose link has no band, keeps what it came to last (`adrift` names it).
    """
    loads = project.loads
    if loads is None or all(mass.made_of is None for mass in loads.masses):
        return project
    masses = tuple(_settled(project, mass) for mass in loads.masses)
    if all(new is old for new, old in zip(masses, loads.masses, strict=True)):
        return project
    return replace(project, loads=replace(loads, masses=masses))


def _settled(project: Project, mass: Mass) -> Mass:
    try:
        made = None if mass.made_of is None else came_to(project, mass.made_of, mass.on)
    except ProjectError:
        return mass
    if made is None:
        return mass
    new = replace(mass, on=made.on, mass=made.mass, at=made.at)
    return mass if new == mass else new


@dataclass(frozen=True, slots=True)
class Made:
    """What something that is drawn weighs (kg), and where (mm, shut) on which link its centre of gravity lies."""

    on: str
    mass: float
    at: Point


def came_to(project: Project, made_of: MadeOf, on: str) -> Made:
    """Mass and centre of gravity of what is drawn; ProjectError says what is missing. on : of a link's band, the link.

    A mass beyond what a project may hold is refused, as is one of nothing.
    """
    plate = plate_cut(project, project.link(on)) if made_of.outline is None else None
    if plate is not None:
        made_of = _of_plate(project, made_of, plate)
        size, at = plate.area(), _point(plate.centre)
        depth = plate.thickness
    elif made_of.outline is None:
        size, at = _band(project, on)
        depth = made_of.thickness or 0.0
    else:
        outline = next((each for each in project.outlines if each.id == made_of.outline), None)
        if outline is None:
            raise ProjectError(f"there is no outline {shown(made_of.outline)}", remedy="Choose one that is drawn.")
        on, depth = outline.on, (made_of.across or 0.0) * (made_of.thickness or 1.0)
        size, at = line_of(outline) if made_of.thickness is not None else solid_of(outline)
    mass = size * depth * made_of.density * PER_KG_M3 * made_of.count * (1.0 + made_of.extra)
    if not 0.0 < mass < 1e6:
        raise ProjectError(f"what is drawn would weigh {mass:.3g} kg", remedy="Look at thickness, width and density.")
    return Made(on, mass, at)


def _of_plate(project: Project, made_of: MadeOf, plate: Cut) -> MadeOf:
    """With density and number of the plates as they are built: all that one place says."""
    hinges = 1 if project.loads is None else project.loads.hinges
    return replace(made_of, density=plate.density, count=plate.count * hinges)


def _point(at: complex) -> Point:
    return at.real, at.imag


def adrift(project: Project) -> list[str]:
    """Sentences on masses that can't follow what they are made of, as that isn't there."""
    found = []
    for mass in () if project.loads is None else project.loads.masses:
        if mass.made_of is not None:
            try:
                came_to(project, mass.made_of, mass.on)
            except ProjectError as fault:
                found.append(f"A mass on {mass.on} stays at {mass.mass:.4g} kg, as {fault.what}.")
    return found


def line_of(outline: Outline) -> tuple[float, Point]:
    """Length (mm) of an outline and the middle of it: the centre of gravity of an even line."""
    points = (*outline.points, outline.points[0]) if outline.closed else outline.points
    lengths = [math.dist(one, other) for one, other in pairwise(points)]
    total = math.fsum(lengths)
    if not total > 0.0:
        raise ProjectError(f"outline {shown(outline.id)} has no length", remedy="Draw it first.")
    mids = [((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in pairwise(points)]
    return total, _mean(mids, lengths)


def solid_of(outline: Outline) -> tuple[float, Point]:
    """Area (mm²) within a closed outline, and its centroid."""
    if not outline.closed:
        remedy = "Close it under Trace, or give a thickness of sheet."
        raise ProjectError(f"outline {shown(outline.id)} is an open line, no solid", remedy=remedy)
    area, at = _polygon(outline.points)
    if not area > 0.0:
        raise ProjectError(f"outline {shown(outline.id)} has no area", remedy="Draw it around the solid.")
    return area, at


def _band(project: Project, link_id: str) -> tuple[float, Point]:
    """Area and centroid of a link's band."""
    width, pins = project.link(link_id).width, tuple(pivot.at for pivot in project.pivots_on(link_id))
    if not width > 0.0 or not pins:
        what = f"link {shown(link_id)} has {'no width' if pins else 'no pins'}, so no band"
        raise ProjectError(what, remedy="Give it one under Pins, or type what it weighs.")
    return band_of(pins, width)


def band_of(pins: Sequence[Point], width: float) -> tuple[float, Point]:
    """Area (mm²) and centroid of the convex hull of pins with half a width around it: exact, arcs as arcs.

    The hull, a strip along each edge, and a sector at each corner that closes the turn between two strips.
    """
    radius, ring = width / 2, _hull(pins)
    area, at = _polygon(ring) if len(ring) > 2 else (0.0, ring[0])
    sizes, places = [area], [at]
    if len(ring) == 1:
        return math.pi * radius**2, ring[0]
    count = len(ring)
    for k in range(count):
        (ax, ay), (bx, by), (cx, cy) = ring[k], ring[(k + 1) % count], ring[(k + 2) % count]
        long, way = math.dist(ring[k], ring[(k + 1) % count]), math.atan2(by - ay, bx - ax)
        out = way - math.pi / 2  # the hull goes round anticlockwise: outwards lies at the right
        sizes.append(long * radius)
        places.append(((ax + bx) / 2 + radius / 2 * math.cos(out), (ay + by) / 2 + radius / 2 * math.sin(out)))
        turn = (math.atan2(cy - by, cx - bx) - way) % (2 * math.pi)
        far = 2 * radius * math.sin(turn / 2) / (1.5 * turn) if turn > 0.0 else 0.0
        sizes.append(turn * radius**2 / 2)
        places.append((bx + far * math.cos(out + turn / 2), by + far * math.sin(out + turn / 2)))
    return math.fsum(sizes), _mean(places, sizes)


def _hull(points: Sequence[Point]) -> list[Point]:
    """The corners of the convex hull, anticlockwise, without any in line (Andrew's monotone chain)."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return ordered

    def half(way: Iterable[Point]) -> list[Point]:
        chain: list[Point] = []
        for point in way:
            while len(chain) > 1 and _turns(chain[-2], chain[-1], point) <= 0.0:
                chain.pop()
            chain.append(point)
        return chain[:-1]

    return half(ordered) + half(reversed(ordered))


def _turns(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _polygon(points: Sequence[Point]) -> tuple[float, Point]:
    """Area and centroid of a polygon that doesn't cross itself, either way round; taken about its first corner."""
    x0, y0 = points[0]
    moved = [(x - x0, y - y0) for x, y in (*points, points[0])]
    parts = [(ax * by - bx * ay, ax + bx, ay + by) for (ax, ay), (bx, by) in pairwise(moved)]
    twice = math.fsum(cross for cross, _, _ in parts)
    if twice == 0.0:
        return 0.0, points[0]
    x = math.fsum(cross * sx for cross, sx, _ in parts) / (3 * twice)
    y = math.fsum(cross * sy for cross, _, sy in parts) / (3 * twice)
    return abs(twice) / 2, (x0 + x, y0 + y)


def _mean(places: Sequence[Point], sizes: Sequence[float]) -> Point:
    total = math.fsum(sizes)
    return (
        math.fsum(size * x for size, (x, _) in zip(sizes, places, strict=True)) / total,
        math.fsum(size * y for size, (_, y) in zip(sizes, places, strict=True)) / total,
    )
