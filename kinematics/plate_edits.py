"""Edits of the link plates: what they are of, their eyes and sides, cutouts, edges of their own.

Pure functions from one project to the next, as in `kinematics.edits`: an edit that changes nothing gives back the
project itself, and what can't be is a `ProjectError`. Lengths mm, coordinates in the side view with the panel shut.
A *bow* moves the whole plate aside between its pins, a *waist* takes both of its sides in.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import shapely

from kinematics.build_parts import THICKNESS, Cutout, EyeSize, Plate, Plates, Side
from kinematics.errors import ProjectError
from kinematics.plate_shapes import SAGITTA, shape_of
from kinematics.plating import are_said, eye_radii, pins_of, ring_of
from kinematics.values import in_sixteenths, shown

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from kinematics.project import Link, Project
    from kinematics.strength_parts import Metal
    from kinematics.values import Point

ALL = ""
"""In place of a link: all of them."""
LEAST_BELLY = 0.005
"""A side that is bent by less (mm) is straight."""
RIM = 0.25
"""Of its diameter: what is left round a cutout to begin with, at least (common practice, no source)."""


def begin_plates(project: Project, metal: Metal | None = None, density: float | None = None) -> Project:
    """Let plates take the place of the links' bands; what the strength says of them already is taken over.

    The project itself where plates are said already.
    """
    if are_said(project):
        return project
    strength, plates = project.strength, project.plating
    usual = in_sixteenths(THICKNESS) if project.display_units == "in" else THICKNESS
    thickness = usual if strength is None else strength.inner
    return replace(project, plates=replace(plates, thickness=thickness, metal=metal, density=density))


def drop_plates(project: Project) -> Project:
    """Let the links be bands again: nothing is said of plates any more but what they cost."""
    prices = project.plating.prices
    plates = None if prices is None else Plates(prices=prices)
    return project if project.plates == plates else replace(project, plates=plates)


def set_sheet(project: Project, link: str, **fields: Any) -> Project:  # noqa: ANN401  any field
    """Set what all plates are of (`ALL`), or one link's: thickness, count, radius, metal, density; None: as usual, or
    as all have it.
    """
    if link == ALL:
        return _with(project, replace(project.plating, **fields))
    return _put(project, replace(own_plate(project, link), **fields))


def with_metal_of_all(project: Project, metal_for: Callable[[float], Metal | None]) -> Project:
    """Let links that only have a thickness of their own be of the metal of all, with its figures for that (mm)."""
    for plate in project.plating.each:
        if plate.metal is not None and plate.density is None:  # whoever chooses a link's metal sets its density too
            full = full_plate(project, plate.link)
            metal = metal_for(full.thickness or THICKNESS)
            project = set_sheet(project, plate.link, metal=None if metal == project.plating.metal else metal)
    return project


def has_plate(project: Project, link: str) -> bool:
    """Whether a link is built as a plate: plates are said, and it lies between fixed link and panel and has a pin."""
    found = next((each for each in project.links if each.id == link), None)
    return are_said(project) and found is not None and bool(pins_of(project, found))


def own_plate(project: Project, link: str) -> Plate:
    """What a link's plate has of its own; ProjectError where it isn't built as one."""
    _plated(project, link)
    return next((each for each in project.plating.each if each.link == link), Plate(link))


def full_plate(project: Project, link: str) -> Plate:
    """The plate of a link with all that it has."""
    return project.plating.of(link, _plated(project, link).width)


def as_all(project: Project, link: str) -> Project:
    """Let a link's plate have nothing of its own: the shape that follows from its pins, of what all are of."""
    return _put(project, Plate(link))


def set_eye(project: Project, link: str, pivot: str, radius: float | None) -> Project:
    """Set how far a plate reaches round one of its pins; None: as round its others."""
    plate = own_plate(project, link)
    _on(project, link, pivot)
    others = tuple(eye for eye in plate.eyes if eye.pivot != pivot)
    return _put(project, replace(plate, eyes=others if radius is None else (*others, EyeSize(pivot, radius))))


# ----------------------------------------------------------------------------------------------------------- its sides
def sides_of(project: Project, link: str) -> list[tuple[str, str]]:
    """The sides of a link's plate, anticlockwise, each by the pins from and to which it runs; none of one pin alone."""
    pins = pins_of(project, _plated(project, link))
    ring = ring_of(full_plate(project, link), pins) if pins else []
    return list(zip(ring, [*ring[1:], *ring[:1]], strict=True)) if len(ring) > 1 else []


def belly_of(project: Project, link: str, between: tuple[str, str]) -> float:
    """How far a side bellies out (mm)."""
    return next((side.belly for side in own_plate(project, link).sides if side.between == between), 0.0)


def set_belly(project: Project, link: str, between: tuple[str, str], belly: float) -> Project:
    """Bend a side out by so much at its middle; negative: in; 0: straight."""
    return set_bellies(project, link, {between: belly})


def set_bow(project: Project, link: str, between: tuple[str, str], bow: float) -> Project:
    """Bow a plate of two eyes: the side named moves out by so much at its middle, the other one in by as much."""
    if len(sides_of(project, link)) != 2:
        remedy = "Bend its sides one by one."
        raise ProjectError("only a plate that runs from one pin to another bows as a whole", f"plate of {link}", remedy)
    return set_bellies(project, link, {between: bow, (between[1], between[0]): -bow})


def set_waist(project: Project, link: str, depth: float) -> Project:
    """Take all sides of a plate in by so much at their middles; 0: straight."""
    sides = sides_of(project, link)
    if not sides:
        raise ProjectError("a plate on one pin has no sides", f"plate of {link}", "Put a second pin on the link.")
    return set_bellies(project, link, dict.fromkeys(sides, -depth))


def set_bellies(project: Project, link: str, bellies: dict[tuple[str, str], float]) -> Project:
    """Bend several sides at once; ProjectError where the plate can't be so."""
    plate, sides = own_plate(project, link), sides_of(project, link)
    missing = next((between for between in bellies if between not in sides), None)
    if missing is not None:
        raise ProjectError(f"no side runs from {shown(missing[0])} to {shown(missing[1])}", f"plate of {link}")
    if plate.edge:
        raise ProjectError("it has an edge of its own", f"plate of {link}", "Take that out first.")
    kept = tuple(side for side in plate.sides if side.between not in bellies and side.between in sides)
    bent = (Side(between, belly) for between, belly in bellies.items() if abs(belly) >= LEAST_BELLY)
    in_order = sorted((*kept, *bent), key=lambda side: sides.index(side.between))
    return checked(_put(project, replace(plate, sides=tuple(in_order))), link)


# ------------------------------------------------------------------------------------------------------------- cutouts
def add_cutout(project: Project, link: str, at: Point, diameter: float) -> Project:
    """Add a round hole that makes a plate lighter."""
    plate = own_plate(project, link)
    return _put(project, replace(plate, cutouts=(*plate.cutouts, Cutout(at, diameter))))


def change_cutout(project: Project, link: str, place: int, **fields: Any) -> Project:  # noqa: ANN401  any field
    """Change `at` or `diameter` of the cutout at a place, counted from 0."""
    plate = own_plate(project, link)
    cutout = replace(_cutout(plate, place), **fields)
    cutouts = (*plate.cutouts[:place], cutout, *plate.cutouts[place + 1 :])
    return _put(project, replace(plate, cutouts=cutouts))


def remove_cutout(project: Project, link: str, place: int) -> Project:
    """Take the cutout at a place out."""
    plate = own_plate(project, link)
    _cutout(plate, place)
    return _put(project, replace(plate, cutouts=(*plate.cutouts[:place], *plate.cutouts[place + 1 :])))


def first_cutout(project: Project, link: str) -> tuple[Point, float]:
    """Where a cutout goes to begin with, and its diameter: along the longest side, beside those that are there; or,
    where the plate has no room for it there, in the middle of the room it has.
    """
    pins = dict(pins_of(project, _plated(project, link)))
    plate = full_plate(project, link)
    size = round(max(0.7 * (plate.radius or 0.0), 1.0), 1)
    if len(pins) < 2:
        at = next(iter(pins.values()), 0j)
        return (at.real, at.imag), size
    names = sides_of(project, link) or [(one, other) for one in pins for other in pins if one != other]
    one, other = max(names, key=lambda pair: abs(pins[pair[1]] - pins[pair[0]]))
    taken = len(plate.cutouts)
    share = (0.5, 0.35, 0.65, 0.25, 0.75)[taken % 5]
    at = pins[one] + share * (pins[other] - pins[one])
    return _with_room(project, link, (round(at.real, 2), round(at.imag, 2)), size)


def _with_room(project: Project, link: str, at: Point, size: float) -> tuple[Point, float]:
    """The place and diameter of a hole, moved and made smaller where pins, other holes or the edge are in its way."""
    shape = shape_of(project, _plated(project, link))
    if shape is None or shape.cut is None:
        return at, size
    radii = eye_radii(shape.plate, shape.cut.pins)
    taken = [shapely.Point(pin.real, pin.imag).buffer(radii[name]) for name, pin in shape.cut.pins]
    taken += [shapely.Point(hole.at).buffer(hole.diameter / 2.0) for hole in shape.plate.cutouts]
    free = shapely.Polygon(shape.cut.outer.polyline(SAGITTA)).difference(shapely.union_all(taken))
    if free.contains(shapely.Point(at).buffer((0.5 + RIM) * size)):
        return at, size
    inside = shapely.maximum_inscribed_circle(free, tolerance=0.1)
    x, y = inside.coords[0]
    return (round(x, 2), round(y, 2)), max(min(size, round(inside.length / (0.5 + RIM), 1)), 1.0)


def set_cutouts(project: Project, link: str, cutouts: tuple[Cutout, ...]) -> Project:
    """Set all cutouts of a plate."""
    return _put(project, replace(own_plate(project, link), cutouts=cutouts))


def _cutout(plate: Plate, place: int) -> Cutout:
    if not 0 <= place < len(plate.cutouts):
        raise ProjectError(f"there is no cutout {place + 1}", f"plate of {plate.link}")
    return plate.cutouts[place]


# --------------------------------------------------------------------------------------------------- an edge of its own
def set_edge(
    project: Project, link: str, corners: Sequence[tuple[float, float] | tuple[float, float, float]]
) -> Project:
    """Give a plate an edge of its own: corners (x, y) or (x, y, bulge); none: round its pins again."""
    plate = own_plate(project, link)
    return _put(
        project, replace(plate, edge=tuple(corner if len(corner) == 3 else (*corner, 0.0) for corner in corners))
    )


def edge_from_outline(project: Project, link: str, outline: str) -> Project:
    """Give a plate the edge that a closed outline on its link has."""
    drawn = project.outline(outline)
    if drawn.on != link:
        remedy = f"Draw it on {link}, or let it ride there."
        raise ProjectError(f"it rides on {shown(drawn.on)}", f"outline {shown(outline)}", remedy)
    if not drawn.closed:
        raise ProjectError("it is open", f"outline {shown(outline)}", "Close it first.")
    return checked(set_edge(project, link, [(x, y, 0.0) for x, y in drawn.points]), link)


# -------------------------------------------------------------------------------------------------------------- inside
def _plated(project: Project, link: str) -> Link:
    found = project.link(link)
    if found.kind != "link":
        what = f"{shown(link)} is the {'panel' if found.kind == 'panel' else 'fixed link'}, which no link plate makes"
        raise ProjectError(what, remedy="Choose one of the links between them.")
    return found


def _on(project: Project, link: str, pivot: str) -> None:
    if link not in project.pivot(pivot).joins:
        raise ProjectError(f"the pin {shown(pivot)} isn't on it", f"plate of {link}")


def checked(project: Project, link: str) -> Project:
    """The project, if a link's plate can be cut so; ProjectError says why not."""
    shape = shape_of(project, project.link(link))
    if shape is not None and shape.why is not None:
        raise ProjectError(shape.why.what, f"plate of {link}", shape.why.remedy)
    return project


def _put(project: Project, plate: Plate) -> Project:
    """With a link's own; nothing is kept of one that has nothing of its own."""
    plates = project.plating
    others = tuple(each for each in plates.each if each.link != plate.link)
    order = project.link_index
    each = others if plate == Plate(plate.link) else (*others, plate)
    if {one.link: one for one in each} == {one.link: one for one in plates.each}:
        return project
    in_order = sorted(each, key=lambda one: order.get(one.link, len(order)))
    return _with(project, replace(plates, each=tuple(in_order)))


def _with(project: Project, plates: Plates) -> Project:
    return project if plates == project.plates else replace(project, plates=plates)
