"""Drawings of what stands on the wall: wedges, base from the side and from above, the set-out, both on one bar."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from app.build_sheet.picture import LOOK, SMALL_LOOK, SMALL_PX, Picture, box_points, face, line, measure, words
from app.lettering import short_name
from app.shapes import Label, Layer, Pen, Stroke, drawn_contour
from kinematics.contours import circle
from kinematics.mount_cuts import base_parts
from kinematics.mount_shapes import slot

if TYPE_CHECKING:
    from app.build_sheet.picture import Asked
    from app.shapes import Shape
    from app.sheet import Camera
    from kinematics.project import Point
    from kinematics.setting_out import Spot

AXIS = (9.0, 2.0, 1.5, 2.0)


def wedge(asked: Asked) -> Picture:
    """A foot or shim from above: the wall below, the centreline upright, outboard to its side.   of : the hand."""
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
    ground = next((each for each in facts.feet if each.hand == made.hand), None)
    heights = () if ground is None else tuple(0.5 * (each.low + each.high) for each in ground.lines)
    foot = -rise - min(heights) if heights else 0.0  # of a foot as it was cut, of a shim square to the links
    found: list[Shape] = [
        face("part", shape, LOOK.link_fill, 0.35),
        Stroke("wall", "", wall, Pen(LOOK.ink, LOOK.heavy), Layer.FIXED),
        line("square", (at(-over, foot), at(deep + over, foot)), LOOK.thin, (6.0, 3.0)),
    ]
    thick, thin = (deep, 0.0) if thick_out else (0.0, deep)
    if heights:
        for key, end, high_over in (("outboard", deep, heights[0]), ("inboard", 0.0, heights[-1])):
            beside = end + math.copysign(0.16 * deep, end - 0.5 * deep)
            away = side * math.copysign(1.0, end - 0.5 * deep)
            ends = at(beside, foot), at(beside, foot + high_over)
            found += measure(f"{key} line", *ends, facts.fine(round(high_over, 2)), (away, 0.0))
    else:
        beside = thick + math.copysign(0.16 * deep, thick - 0.5 * deep)
        away = side * math.copysign(1.0, thick - 0.5 * deep)
        found += measure("rise", at(beside, 0.0), at(beside, -rise), facts.fine(round(rise, 3)), (away, 0.0))
    found += measure("depth", at(0.0, top + 0.12 * high), at(deep, top + 0.12 * high), facts.mm(deep))
    origin = -rise if heights else 0.0
    corner, turns = (thick, thin) if heights else (thin, thick)
    out, up = math.copysign(0.55 * deep, turns - corner), 0.55 * deep if heights else -0.55 * deep
    bend = [at(corner + out * math.cos(a), origin + up * math.sin(a)) for a in (0.0, 0.5 * angle, angle)]
    found.append(line("arc", bend, LOOK.thin))
    found.append(words("angle", bend[1], facts.deg(made.angle_deg), (side * (turns - corner), -1.0), 3, bold=True))
    what = "web" if made.trued == "foot" else "shim"
    found.append(words("what", at(0.5 * deep, 0.6 * top), what, (0.0, 0.0), 2))
    found.append(words("outboard", at(deep + over, 0.55 * top), "outboard", (side, 0.0), 2))
    found.append(words("inboard", at(-over, 0.55 * top), "inboard", (-side, 0.0), 2))
    found.append(words("wall words", wall[0], "wall", (-side, 0.6), 2))
    spots = [*shape, *wall, at(-0.2 * deep, foot), at(1.2 * deep, foot), at(0.0, top + 0.12 * high)]
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
        corners = (
            drawn(middle - half, low),
            drawn(middle + half, low),
            drawn(middle + half, high),
            drawn(middle - half, high),
        )
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
        found.append(
            words(f"pin {pin}", spot, f"{short_name(pin)}, bar {facts.fine(bar)}", (seat.out.real or 1.0, 0.6), 3)
        )
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
    from app.build_sheet.metal_steps import straight_deg

    part, high = made.part, max(at.imag for _, at, _ in made.pins)
    off, half = high * math.tan(math.radians(straight_deg(facts))), 0.5 * part.web
    top, wide = high + made.eye, 0.5 * part.width
    found: list[Shape] = [
        face("plate", ((-wide, -part.plate), (wide, -part.plate), (wide, 0.0), (-wide, 0.0)), LOOK.link_fill, 0.35),
        face("web", ((-half, 0.0), (half, 0.0), (half, top), (-half, top)), LOOK.link_fill, 0.35),
        line("true", ((0.0, -part.plate - 4.0), (0.0, top + 4.0)), LOOK.thin, AXIS),
        line("leans", ((0.0, 0.0), (0.18 * top, top)), LOOK.thin, (4.0, 3.0)),
        line("pin", ((-half - 6.0, high), (half + 0.35 * top, high)), LOOK.thin, AXIS),
        words("off", (0.17 * high, high), f"{facts.small(off)} at most", (1.0, 1.0), 3),
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
        found.append(
            face(f"{hand} web", ((x - web, 0.0), (x + web, 0.0), (x + web, deep), (x - web, deep)), LOOK.link_fill, 0.4)
        )
        slope = math.tan(math.radians(tilts.get(hand, 0.0)))
        reach = 0.12 * spacing
        ends = ((x - side * reach, reach * slope), (x + side * reach, -reach * slope))
        found.append(Stroke(f"{hand} wall", "", ends, Pen(LOOK.ink, LOOK.heavy), Layer.FIXED))
        found.append(words(f"{hand} words", (x, 0.0), hand, (0.0, -1.0), 2, bold=True))
    found.append(
        Stroke("bar", "", ((-1.12 * half, 0.7 * deep), (1.12 * half, 0.7 * deep)), Pen(LOOK.ink, 4.0), Layer.GAPS)
    )
    named = f"bar through {short_name(pin[0].id)}" if pin else "bar"
    found.append(words("bar words", (0.4 * half, 0.7 * deep), named, (0.0, 1.0), 2))
    if loads is not None and loads.spacing is not None:
        found += measure("apart", (-half, 1.25 * deep), (half, 1.25 * deep), facts.mm(spacing))
    return Picture(
        tuple(found), ((-1.15 * half, -0.5 * deep), (1.15 * half, 1.3 * deep)), margins=(14.0, 22.0, 14.0, 26.0)
    )


# On the wall ----------------------------------------------------------------------------------------------------------


def set_out(asked: Asked) -> Picture:
    """A view of the set-out, as the window has it.   of : "wall" or "plan"."""
    facts = asked.facts
    view = facts.set_out_figure.view(asked.of)
    if view is None:
        return Picture(())

    def aim(size: tuple[float, float]) -> tuple[Camera, tuple[Shape, ...]]:
        camera = view.camera(size)
        return camera, tuple(_beneath(each) for each in view.shapes(SMALL_LOOK, camera.scale))

    return Picture((), aim=aim, px=SMALL_PX)


def _beneath(shape: Shape) -> Shape:
    """The name of the wall's edge beneath it, and short: else it lies over the hinges' names on so narrow a sheet."""
    if isinstance(shape, Label) and shape.key == "edge name":
        return replace(shape, away=(0.0, -1.0), text=shape.text.replace("edge of the wall", "edge"))
    return shape


def pattern(asked: Asked) -> Picture:
    """The bolts of one base as one faces the wall, numbered in the order of drilling, with both diagonals."""
    facts = asked.facts
    each = next(found for found in facts.set_outs if found.hand == asked.of)
    side = each.outboard

    def at(spot: Spot) -> Point:
        return side * spot.along, spot.up

    plate = [(side * along, up) for along, up in each.plate]
    found: list[Shape] = [face("plate", plate, LOOK.link_fill, 0.25, Layer.FIXED)]
    way, long = complex(side * each.rise[0], each.rise[1]), 2.0 * each.base.part.up_down
    for spot in each.bolts:
        shape = slot(complex(*at(spot)), each.base.thread.clearance, long, way)
        found.append(face(f"slot {spot.name}", drawn_contour(shape), LOOK.paper, layer=Layer.DEVICES))
        found.append(words(f"name {spot.name}", at(spot), spot.name, (1.0, 0.8), 1, bold=True))
    by = {spot.name: at(spot) for spot in each.bolts}
    for diagonal, share in zip(each.diagonals[:2], (0.28, 0.72), strict=False):
        a, b = by[diagonal.one], by[diagonal.other]
        found.append(line(f"diagonal {diagonal.one}", (a, b), LOOK.thin, (4.0, 3.0)))
        spot_on = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
        found.append(words(f"diagonal {diagonal.one} words", spot_on, facts.mm(diagonal.length), (1.0, 0.0), 3))
    return Picture(tuple(found), box_points(plate), margins=(24.0, 14.0, 40.0, 14.0))
