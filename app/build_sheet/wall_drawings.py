"""Drawings of what stands on the wall: wedges, base from the side and from above, the set-out, both on one bar."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.build_sheet.picture import LOOK, Picture, box_points, face, line, measure, words
from app.lengths import format_coordinate
from app.shapes import Layer, Pen, Stroke, Symbol, drawn_contour
from kinematics.contours import circle
from kinematics.mount_cuts import base_parts
from kinematics.mount_shapes import slot

if TYPE_CHECKING:
    from app.build_sheet.picture import Asked
    from app.shapes import Shape
    from kinematics.project import Point
    from kinematics.setting_out import SetOut, Spot

AXIS = (9.0, 2.0, 1.5, 2.0)


def wedge(asked: Asked) -> Picture:
    """A foot or shim from above: the wall below, the centreline upright, outboard to the hand's side.   of : the hand."""
    facts = asked.facts
    made = next(each for each in facts.wedges if each.hand == asked.of)
    side = 1.0 if made.hand == "right" else -1.0
    deep, rise, angle = made.depth, made.rise, math.radians(made.angle_deg)
    thick_out = made.thick_end == "outboard"
    high = max(0.9 * deep, 3.0 * rise)
    inner, outer = (0.0, rise) if thick_out else (rise, 0.0)  # how far each end reaches down to the wall

    def at(across: float, up: float) -> Point:
        return side * across, up

    top = high if made.trued == "foot" else made.thin
    shape = (at(0.0, top), at(deep, top), at(deep, -outer), at(0.0, -inner))
    over = 0.35 * deep
    tilt = (outer - inner) / deep
    wall = (at(-over, -inner + over * tilt), at(deep + over, -outer - over * tilt))
    found: list[Shape] = [
        face("part", shape, LOOK.link_fill, 0.35),
        Stroke("wall", "", wall, Pen(LOOK.ink, LOOK.heavy), Layer.FIXED),
        line("square", (at(-over, 0.0), at(deep + over, 0.0)), LOOK.thin, (6.0, 3.0)),
    ]
    thick, thin = (deep, 0.0) if thick_out else (0.0, deep)
    beside = thick + math.copysign(0.16 * deep, thick - 0.5 * deep)
    found += measure(
        "rise", at(beside, 0.0), at(beside, -rise), facts.fine(round(rise, 3)), (side * math.copysign(1.0, thick - thin), 0.0)
    )
    found += measure("depth", at(0.0, top + 0.12 * high), at(deep, top + 0.12 * high), facts.mm(deep))
    bend = [at(thin + math.copysign(0.55 * deep, thick - thin) * math.cos(a), -0.55 * deep * math.sin(a)) for a in (0.0, 0.5 * angle, angle)]
    found.append(line("arc", bend, LOOK.thin))
    found.append(words("angle", bend[1], facts.deg(made.angle_deg), (side * (thick - thin), -0.4), 3, bold=True))
    what = "web" if made.trued == "foot" else "shim"
    found.append(words("what", at(0.5 * deep, 0.6 * top), what, (0.0, 0.0), 2))
    found.append(words("outboard", at(deep + over, 0.55 * top), "outboard", (side, 0.0), 2))
    found.append(words("inboard", at(-over, 0.55 * top), "inboard", (-side, 0.0), 2))
    found.append(words("wall words", wall[0], "wall", (-side, -1.0), 2))
    spots = [*shape, *wall, at(beside, 0.0), at(0.0, top + 0.12 * high)]
    return Picture(tuple(found), box_points(spots), margins=(62.0, 22.0, 62.0, 24.0))


# Bases ----------------------------------------------------------------------------------------------------------------


def base_side(asked: Asked) -> Picture:
    """The base from the side as it stands: web through its plate, wall and backing plate, a bar in each pin's hole."""
    facts = asked.facts
    made = facts.base
    if made is None or made.web is None:
        return Picture(())
    seat, part = made.seat, made.part

    def drawn(along: float, off: float) -> Point:
        z = seat.drawn(complex(along, off))
        return z.real, z.imag

    middle, half = 0.5 * (made.foot[0] + made.foot[1]), 0.5 * made.height
    web = made.web.moved(0.0, 0j)
    edge = [drawn(x, y) for x, y in web.polyline(0.05).tolist()]
    found: list[Shape] = [face("web", edge, LOOK.link_fill, 0.35)]

    def slab(key: str, low: float, high: float, fill: str) -> None:
        corners = (drawn(middle - half, low), drawn(middle + half, low), drawn(middle + half, high), drawn(middle - half, high))
        found.append(face(key, corners, fill, 0.6, Layer.PANEL))

    slab("plate", -part.plate, 0.0, LOOK.link_fill)
    shims = part.shims
    wall_low = -part.plate - shims
    if part.backing > 0.0:
        slab("backing", wall_low - 2.0 - part.backing, wall_low - 2.0, LOOK.link_fill)
    line_of_wall = (drawn(middle - 1.3 * half, wall_low), drawn(middle + 1.3 * half, wall_low))
    found.append(Stroke("wall", "", line_of_wall, Pen(LOOK.ink, LOOK.heavy), Layer.FIXED))
    found.append(words("wall words", line_of_wall[1], "wall", (0.0, 1.0), 2))
    for (pin, at, _), (_, bar) in zip(made.pins, made.bars, strict=True):
        spot = drawn(at.real, at.imag)
        ring = [(spot[0] + x, spot[1] + y) for x, y in drawn_contour(circle(0j, 0.5 * bar))]
        found.append(face(f"bar {pin}", ring, LOOK.hatch, 0.7, Layer.DEVICES))
        found.append(words(f"pin {pin}", spot, f"{pin}, bar {facts.fine(bar)}", (seat.out.real or 1.0, 0.6), 3))
    spots = [*edge, *line_of_wall]
    return Picture(tuple(found), box_points(spots), margins=(26.0, 20.0, 60.0, 20.0))


def base_plate(asked: Asked) -> Picture:
    """The base plate from the pins' side, with slots, and lines at which webs and gussets stand."""
    facts = asked.facts
    made = facts.base
    if made is None:
        return Picture(())
    plate = next(part for part in base_parts(facts.project, made) if part.mark == "base plate")
    found: list[Shape] = [face("edge", drawn_contour(plate.outer), LOOK.link_fill, 0.35)]
    for k, each in enumerate(plate.inner):
        found.append(face(f"slot {k}", drawn_contour(each), LOOK.paper, layer=Layer.DEVICES))
    for k, (a, b) in enumerate(plate.bends):
        ends = ((a.real, a.imag), (b.real, b.imag))
        found.append(Stroke(f"web {k}", "", ends, Pen(LOOK.ink, LOOK.line, (6.0, 3.0)), Layer.GAPS))
    wide, tall = 0.5 * made.part.width, 0.5 * made.height
    found += measure("width", (-wide, tall + 6.0), (wide, tall + 6.0), facts.mm(made.part.width))
    found += measure("height", (wide + 6.0, -tall), (wide + 6.0, tall), facts.mm(made.height), (1.0, 0.0))
    spots = [(-wide, -tall), (wide + 6.0, tall + 6.0)]
    return Picture(tuple(found), box_points(spots), margins=(20.0, 24.0, 66.0, 12.0))


def lean(asked: Asked) -> Picture:
    """The web seen along its foot, with how far it may lean at the upper pin."""
    facts = asked.facts
    made = facts.base
    if made is None:
        return Picture(())
    from app.build_sheet.metal_steps import STRAIGHT

    part, high = made.part, max(at.imag for _, at, _ in made.pins)
    off, half = high * math.tan(math.radians(STRAIGHT)), 0.5 * part.web
    top, wide = high + made.eye, 0.5 * part.width
    found: list[Shape] = [
        face("plate", ((-wide, -part.plate), (wide, -part.plate), (wide, 0.0), (-wide, 0.0)), LOOK.link_fill, 0.35),
        face("web", ((-half, 0.0), (half, 0.0), (half, top), (-half, top)), LOOK.link_fill, 0.35),
        line("true", ((0.0, -part.plate - 4.0), (0.0, top + 4.0)), LOOK.thin, AXIS),
        line("leans", ((0.0, 0.0), (0.18 * top, top)), LOOK.thin, (4.0, 3.0)),
        line("pin", ((-half - 6.0, high), (half + 0.35 * top, high)), LOOK.thin, AXIS),
        words("off", (0.17 * high, high), f"{facts.fine(round(off, 2))} at most", (1.0, 1.0), 3),
    ]
    found += measure("high", (-0.6 * wide, 0.0), (-0.6 * wide, high), facts.mm(high), (-1.0, 0.0))
    return Picture(tuple(found), ((-wide, -part.plate), (wide, top)), margins=(30.0, 20.0, 50.0, 14.0))


def bar(asked: Asked) -> Picture:
    """Both hinges from above on one bar, the centreline between them."""
    facts = asked.facts
    loads = facts.project.loads
    spacing = 600.0 if loads is None or loads.spacing is None else loads.spacing
    half, deep = 0.5 * spacing, 0.16 * spacing
    found: list[Shape] = [line("centreline", ((0.0, -0.6 * deep), (0.0, 1.3 * deep)), LOOK.thin, AXIS)]
    pin = facts.project.pivots_on(facts.project.fixed.id)
    tilts = {each.hand: each.angle_deg if each.thick_end == "outboard" else -each.angle_deg for each in facts.wedges}
    for hand, side in (("left", -1.0), ("right", 1.0)):
        x, web = side * half, 0.012 * spacing
        found.append(face(f"{hand} web", ((x - web, 0.0), (x + web, 0.0), (x + web, deep), (x - web, deep)), LOOK.link_fill, 0.4))
        slope = math.tan(math.radians(tilts.get(hand, 0.0)))
        reach = 0.12 * spacing
        ends = ((x - side * reach, reach * slope), (x + side * reach, -reach * slope))
        found.append(Stroke(f"{hand} wall", "", ends, Pen(LOOK.ink, LOOK.heavy), Layer.FIXED))
        found.append(words(f"{hand} words", (x, 0.0), hand, (0.0, -1.0), 2, bold=True))
    found.append(Stroke("bar", "", ((-1.12 * half, 0.7 * deep), (1.12 * half, 0.7 * deep)), Pen(LOOK.ink, 4.0), Layer.GAPS))
    named = f"bar through {pin[0].id}" if pin else "bar"
    found.append(words("bar words", (0.4 * half, 0.7 * deep), named, (0.0, 1.0), 2))
    if loads is not None and loads.spacing is not None:
        found += measure("apart", (-half, 1.25 * deep), (half, 1.25 * deep), facts.mm(spacing))
    return Picture(tuple(found), ((-1.15 * half, -0.5 * deep), (1.15 * half, 1.3 * deep)), margins=(14.0, 22.0, 14.0, 26.0))


# On the wall ----------------------------------------------------------------------------------------------------------


def set_out(asked: Asked) -> Picture:
    """Both bases on the wall, left at the left, as one sees who stands before it; the way to the centreline is drawn
    short, so that the plates are large enough to read.
    """
    found: list[Shape] = []
    spots: list[Point] = []
    for each in asked.facts.set_outs:
        found += _hand(asked, each, 1.0 if each.hand == "right" else -1.0, spots)
    (left, low), (right, high) = box_points([*spots, (0.0, 0.0)])
    found.append(line("centreline", ((0.0, low), (0.0, high)), LOOK.thin, AXIS))
    found.append(line("level", ((left, 0.0), (right, 0.0)), LOOK.thin, AXIS))
    found.append(words("centreline words", (0.0, high), "centreline", (0.0, 1.0), 2))
    found.append(words("level words", (0.0, 0.0), "level line", (1.0, -1.0), 2))
    return Picture(tuple(found), ((left, low), (right, high)), margins=(22.0, 26.0, 22.0, 30.0))


def _hand(asked: Asked, each: SetOut, side: float, spots: list[Point]) -> list[Shape]:
    """One base on the wall: bolts with their numbers, its middle, and the two distances that find it."""
    facts = asked.facts
    wide = each.base.part.width
    shift = min(1.6 * wide - each.middle.along, 0.0)  # so much of the way to the centreline isn't drawn

    def at(along: float, up: float) -> Point:
        return side * (along + shift), up

    corners = [at(*corner) for corner in _plate(each)]
    found: list[Shape] = [face(f"{each.hand} plate", corners, LOOK.link_fill, 0.2, Layer.FIXED)]
    for spot in each.bolts:
        x, y = at(spot.along, spot.up)
        ring = [(x + a, y + b) for a, b in drawn_contour(circle(0j, 0.5 * each.base.thread.clearance))]
        found.append(face(f"{each.hand} bolt {spot.name}", ring, LOOK.paper, layer=Layer.DEVICES))
        inwards = math.copysign(1.0, each.middle.along - spot.along)
        found.append(words(f"{each.hand} name {spot.name}", (x, y), spot.name, (side * inwards, 0.3), 1, bold=True))
    middle = at(each.middle.along, each.middle.up)
    found.append(Symbol(f"{each.hand} middle", "", (middle,), "mark", LOOK.ink, LOOK.paper, Layer.PINS))
    low, high = min(y for _, y in corners), max(y for _, y in corners)
    foot, beside = min(low, 0.0) - 0.16 * wide, side * (0.72 * wide)
    found += measure(
        f"{each.hand} along", (0.0, foot), (middle[0], foot), f"{facts.mm(each.middle.along)} along", (0.0, -1.0)
    )
    found += _broken(f"{each.hand} break", (0.35 * middle[0], foot), 0.06 * wide)
    found += measure(f"{each.hand} up", (beside, 0.0), (beside, middle[1]), f"{facts.mm(each.middle.up)} up", (-side, 0.0))
    thin = Pen(LOOK.hatch, 0.6)
    found.append(Stroke(f"{each.hand} drop", "", (middle, (middle[0], foot)), thin, Layer.ZONES))
    found.append(Stroke(f"{each.hand} reach", "", (middle, (beside, middle[1])), thin, Layer.ZONES))
    found.append(words(f"{each.hand} hand", (middle[0], high), each.hand, (0.0, 1.0), 1, bold=True))
    spots += [*corners, (0.0, foot), (0.0, high)]
    return found


def _broken(key: str, at: Point, size: float) -> list[Shape]:
    """Two short strokes across a line that isn't drawn in full."""
    return [
        line(f"{key} {k}", ((at[0] + k - 0.5 * size, at[1] - size), (at[0] + k + 0.5 * size, at[1] + size)), LOOK.thin)
        for k in (-0.4 * size, 0.4 * size)
    ]


def _plate(each: SetOut) -> list[Point]:
    """The corners of the base plate on the wall, as its pattern lies there: along, up."""
    rise = complex(*each.rise) / abs(complex(*each.rise))
    across = rise / 1j
    wide, tall = 0.5 * each.base.part.width, 0.5 * each.base.height
    middle = complex(each.middle.along, each.middle.up)
    corners = [middle + a * wide * across + b * tall * rise for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    return [(z.real, z.imag) for z in corners]


def pattern(asked: Asked) -> Picture:
    """The bolts of one base, numbered in the order of drilling, with both diagonals."""
    facts = asked.facts
    each = next((found for found in facts.set_outs if found.hand == "right"), facts.set_outs[0])
    found: list[Shape] = [face("plate", _plate(each), LOOK.link_fill, 0.25, Layer.FIXED)]
    by = {spot.name: spot for spot in each.bolts}
    for spot in each.bolts:
        way, long = complex(*each.rise), 2.0 * each.base.part.up_down
        shape = slot(complex(spot.along, spot.up), each.base.thread.clearance, long, way)
        found.append(face(f"slot {spot.name}", drawn_contour(shape), LOOK.paper, layer=Layer.DEVICES))
        found.append(words(f"name {spot.name}", (spot.along, spot.up), spot.name, (1.0, 0.8), 1, bold=True))
    for diagonal, share in zip(each.diagonals[:2], (0.28, 0.72), strict=False):
        ends = _at(by[diagonal.one]), _at(by[diagonal.other])
        found.append(line(f"diagonal {diagonal.one}", ends, LOOK.thin, (4.0, 3.0)))
        at = ends[0][0] + share * (ends[1][0] - ends[0][0]), ends[0][1] + share * (ends[1][1] - ends[0][1])
        found.append(words(f"diagonal {diagonal.one} words", at, facts.mm(diagonal.length), (1.0, 0.0), 3))
    return Picture(tuple(found), box_points(_plate(each)), margins=(24.0, 14.0, 40.0, 14.0))


def _at(spot: Spot) -> Point:
    return spot.along, spot.up
