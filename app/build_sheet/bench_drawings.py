"""Drawings of what is done at the bench: parts, edges, bends, eyes, holes, bushings, sections through pins."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import TYPE_CHECKING

from app.build_sheet.picture import FINE_LOOK, FINE_PX, LOOK, Picture, box_points, face, line, measure, words
from app.lettering import short_name
from app.shapes import Label, Layer, Pen, Stroke, drawn_contour
from app.stack.section import camera_on, hatching, section_shapes
from kinematics.contours import circle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.build_sheet.picture import Asked
    from app.making.planned import CutPlan
    from app.shapes import Shape
    from app.sheet import Camera
    from kinematics.project import Point

LOSS_TIMES = 10.0
"""By how much the stock that is lost is drawn larger, or nobody saw it."""
GAP = 0.12
"""Between parts side by side, over the tallest one."""
WORDS = 0.16
"""Of a row's width that a part's name takes."""


# Parts ----------------------------------------------------------------------------------------------------------------


def parts(asked: Asked) -> Picture:
    """All parts that are cut, at one scale, in rows."""
    return _parts(asked.facts.cuts, asked.aspect)


def holes(asked: Asked) -> Picture:
    """The parts that have pin holes, of handed ones one."""
    cuts = asked.facts.cuts
    return _parts([cut for cut in cuts if cut.part.holes and cut.part.hand != "right"], asked.aspect)


def _parts(chosen: Sequence[CutPlan], aspect: float) -> Picture:
    found: list[Shape] = []
    spots: list[Point] = []
    for cut, at in zip(chosen, _rows([cut.part.box() for cut in chosen], aspect), strict=True):
        found += part_shapes(cut, at, spots)
    return Picture(tuple(found), box_points(spots) if spots else ((0.0, 0.0),), margins=(10.0, 8.0, 10.0, 22.0))


def _rows(boxes: Sequence[tuple[float, float, float, float]], aspect: float) -> list[complex]:
    """Where each box's lower left corner goes, so that all lie in rows that fill a sheet of this aspect well."""
    if not boxes:
        return []
    gap = GAP * max(max(right - left, high - low) for left, low, right, high in boxes)
    area = sum((right - left + gap) * (high - low + 1.6 * gap) for left, low, right, high in boxes)
    widest = max(right - left for left, _, right, _ in boxes)
    best: tuple[float, list[complex]] | None = None
    for share in (0.8, 1.0, 1.2, 1.5, 1.9, 2.4):
        wide = max(share * math.sqrt(area * aspect), widest)
        places, wide_used, tall = _rowed(boxes, wide, gap)
        cost = max(wide_used / aspect, tall)
        if best is None or cost < best[0]:
            best = cost, places
    return best[1] if best is not None else []


def _rowed(
    boxes: Sequence[tuple[float, float, float, float]], wide: float, gap: float
) -> tuple[list[complex], float, float]:
    """Boxes in rows no wider than this: their corners, the width that is used and the height."""
    places, x, y, row, used = [], 0.0, 0.0, 0.0, 0.0
    least = WORDS * wide
    for left, low, right, high in boxes:
        slot = max(right - left, least)
        if x > 0.0 and x + slot > wide:
            x, y, row = 0.0, y - row - 1.6 * gap, 0.0
        places.append(complex(x + 0.5 * (slot - right + left) - left, y - (high - low) - low))
        x += slot + gap
        row, used = max(row, high - low), max(used, x - gap)
    return places, used, row - y


def part_shapes(cut: CutPlan, at: complex, spots: list[Point]) -> list[Shape]:
    """A part with its pins' names, and its own name beneath it; `spots` gets what must be seen."""
    part = cut.part.moved(0.0, at)
    left, low, right, high = part.box()
    spots += [(left, low), (right, high)]
    key = cut.name
    found: list[Shape] = [face(f"{key} edge", drawn_contour(part.outer), LOOK.link_fill, 0.35)]
    found += [
        face(f"{key} hole {k}", drawn_contour(each), LOOK.paper, layer=Layer.DEVICES)
        for k, each in enumerate(part.inner)
    ]
    found += [
        Stroke(f"{key} bend {k}", "", (_xy(a), _xy(b)), Pen(LOOK.ink, LOOK.thin, (6.0, 3.0)), Layer.DEVICES)
        for k, (a, b) in enumerate(part.bends)
    ]
    found += [
        words(f"{key} pin {hole.pivot}", _xy(hole.at), short_name(hole.pivot, 10), (1.0, 1.0), 1, bold=True)
        for hole in part.holes
    ]
    found.append(
        words(
            f"{key} name", (0.5 * (left + right), low), f"{short_name(cut.name, 16)}, {cut.count} off", (0.0, -1.0), 2
        )
    )
    return found


def _shorter(shape: Shape) -> Shape:
    """A plate's name without its bushing, which stands in the list: long words would lie over the plates."""
    if isinstance(shape, Label) and shape.key.startswith("name "):
        name, comma, size = shape.text.partition("; bushing ")[0].rpartition(", ")
        return replace(shape, text=f"{short_name(name, 16)}{comma}{size}")
    return shape


def bare_part(cut: CutPlan) -> Picture:
    """A part without words, for a small drawing."""
    left, low, right, high = cut.part.box()
    found = [each for each in part_shapes(cut, 0j, []) if not isinstance(each, Label)]
    return Picture(tuple(found), ((left, low), (right, high)), margins=(3.0, 3.0, 3.0, 3.0))


def _xy(z: complex) -> Point:
    return z.real, z.imag


# Edges ----------------------------------------------------------------------------------------------------------------


def edge(asked: Asked) -> Picture:
    """The section through a plate at a hole, its edges broken."""
    facts = asked.facts
    cut = next((each for each in facts.cuts if each.part.holes), facts.cuts[0])
    thick = cut.part.thickness
    radius = 0.5 * (cut.part.holes[0].diameter if cut.part.holes else 2.0 * thick)
    reach, off = radius + 1.5 * thick, 0.09 * thick
    found: list[Shape] = []
    for side in (-1.0, 1.0):
        inner, outer = side * radius, side * reach
        corners = (
            (inner, 0.3 * off), (inner + side * 0.3 * off, 0.0), (outer - side * off, 0.0), (outer, off),
            (outer, thick - off), (outer - side * off, thick), (inner + side * 0.3 * off, thick),
            (inner, thick - 0.3 * off),
        )  # fmt: skip
        found.append(face(f"half {side}", corners, LOOK.link_fill, 0.35))
        found += _hatched(f"half {side}", min(inner, outer), max(inner, outer), 0.0, thick)
    found.append(line("axis", ((0.0, -0.5 * thick), (0.0, 1.5 * thick)), LOOK.thin, (9.0, 2.0, 1.5, 2.0)))
    found.append(words("outside", (reach, 0.0), "broken", (0.3, -1.0), 3))
    found.append(words("hole", (radius, thick), "burr off, no more", (0.0, 1.0), 3))
    found += measure("thick", (-reach - 0.8 * thick, 0.0), (-reach - 0.8 * thick, thick), facts.mm(thick), (-1.0, 0.0))
    return Picture(
        tuple(found), ((-reach - thick, -0.5 * thick), (reach, 1.5 * thick)), margins=(50.0, 30.0, 30.0, 30.0)
    )


def _hatched(
    key: str, left: float, right: float, low: float, high: float, way: int = 1, times: float = 1.0
) -> list[Shape]:
    """Strokes that say that something is cut through."""
    pitch = 0.28 * (high - low) * times
    return [
        Stroke(f"{key} hatch {k}", "", ends, Pen(LOOK.link, 0.6), Layer.LINKS)
        for k, ends in enumerate(hatching(left, right, low, high, way, pitch))
    ]


def bend(asked: Asked) -> Picture:
    """The bracket seen along its bend: web upright, flange off it."""
    facts = asked.facts
    made = facts.bracket
    if made is None:
        return Picture(())
    t, r, angle = made.part.thickness, made.bend.radius, math.radians(made.bend.angle_deg)
    high = max(at.imag for _, at, _ in made.pins) + made.eye
    # inner face of the web along x = 0 from above down, bent about (r, 0)-ish centre to the right
    centre = complex(r, 0.0)
    arcs = {
        size: [centre + size * cmath.rect(1.0, math.pi + angle * k / 12.0) for k in range(13)] for size in (r, r + t)
    }
    way = cmath.rect(1.0, math.pi + angle) * 1j
    long = max(made.flange - made.bend.setback, t)
    web = min(high, 2.2 * made.flange)
    inner = [complex(0.0, web), *arcs[r], arcs[r][-1] + long * way]
    outer = [complex(-t, web), *arcs[r + t], arcs[r + t][-1] + long * way]
    corner = arcs[r + t][-1] - made.bend.setback * way
    found: list[Shape] = [face("bent", [_xy(z) for z in (*inner, *reversed(outer))], LOOK.link_fill, 0.35)]
    down = cmath.rect(1.0, math.pi + angle) * 5.0
    found += measure("flange", _xy(corner + down), _xy(outer[-1] + down), facts.mm(made.flange), (0.0, -1.0))
    for key, on, up, said in (
        ("angle", arcs[r][8], 0.62, f"bent by {facts.deg(made.bend.angle_deg)}"),
        ("radius", arcs[r][4], 0.36, f"inside radius {facts.mm(r)}"),
    ):
        at = complex(0.55 * made.flange, up * web)
        found.append(line(f"{key} lead", (_xy(on), _xy(at)), LOOK.thin))
        found.append(words(key, _xy(at), said, (1.0, 0.2), 1))
    found.append(words("web", (-0.5 * t, web), f"web, {facts.mm(t)}", (1.0, 0.4), 2))
    spots = [_xy(z) for z in (*inner, *outer, corner + down, outer[-1] + down)]
    return Picture(tuple(found), box_points(spots), margins=(24.0, 24.0, 150.0, 28.0))


def eye(asked: Asked) -> Picture:
    """An eye as it is cut and as it is finished; the loss drawn larger, or nobody saw it.   of : the link."""
    facts = asked.facts
    from app.build_sheet.metal_steps import GRITS, eyes_of

    radius, hole = next((r, d) for link, r, d in eyes_of(facts) if link == asked.of)
    lost = sum(each for _, each in GRITS)
    drawn = radius - LOSS_TIMES * lost
    found: list[Shape] = []
    for key, size, px, dash in (("cut", radius, LOOK.thin, (5.0, 3.0)), ("finished", drawn, LOOK.line, ())):
        arc = [cmath.rect(size, math.pi * (0.5 + k / 24.0)) for k in range(25)]
        shape = [complex(2.4 * radius, size), *arc, complex(2.4 * radius, -size)]
        found.append(line(key, [_xy(z) for z in shape], px, dash))
    ring = drawn_contour(circle(0j, 0.5 * hole))
    found.append(face("hole", ring, LOOK.paper))
    found.append(words("was", (1.9 * radius, radius), "as cut", (0.0, 1.0), 2))
    found.append(words("then", (1.9 * radius, drawn), "finished", (0.0, -1.0), 2))
    found += measure(
        "edge", (0.0, 0.0), _xy(cmath.rect(drawn, math.radians(215.0))), facts.fine(round(radius - lost, 2))
    )
    found.append(words("hole size", (0.5 * hole, 0.0), f"⌀{facts.fine(hole)}", (1.0, 0.0), 2))
    return Picture(tuple(found), ((-radius, -radius), (2.4 * radius, radius)), margins=(12.0, 24.0, 12.0, 14.0))


# Bushings, pins -------------------------------------------------------------------------------------------------------


def bushing(asked: Asked) -> Picture:
    """A bushing in its plate, cut through.   of : the pivot."""
    facts = asked.facts
    hole = next(each for pivot, each in facts.holes if pivot == asked.of and each.bushing is not None)
    sat = hole.bushing
    if sat is None:
        return Picture(())
    t, low = hole.thickness, 0.5 * (hole.thickness - sat.length)
    reach = 0.5 * sat.nominal_outside + 1.6 * t
    found: list[Shape] = []
    for side in (-1.0, 1.0):
        bore, outside = side * 0.5 * sat.nominal_bore, side * 0.5 * sat.nominal_outside
        for key, (a, b), (down, up), fill, way in (
            ("plate", (outside, side * reach), (0.0, t), LOOK.link_fill, 1),
            ("bushing", (bore, outside), (low, low + sat.length), LOOK.path, -1),
        ):
            left, right = min(a, b), max(a, b)
            corners = ((left, down), (right, down), (right, up), (left, up))
            found.append(face(f"{key} {side}", corners, fill, 0.35))
            found += _hatched(f"{key} {side}", left, right, down, up, way, 1.0 if key == "plate" else 0.6)
    found.append(
        line("axis", ((0.0, low - 0.5 * t), (0.0, low + sat.length + 0.5 * t)), LOOK.thin, (9.0, 2.0, 1.5, 2.0))
    )
    top, foot = low + sat.length + 0.5 * t, low - 0.5 * t
    found += measure(
        "bore",
        (-0.5 * sat.nominal_bore, foot),
        (0.5 * sat.nominal_bore, foot),
        f"⌀{facts.fine(sat.nominal_bore)}",
        (0.0, -1.0),
    )
    half = 0.5 * sat.nominal_outside
    found += measure("outside", (-half, top), (half, top), f"⌀{facts.fine(sat.nominal_outside)}")
    beside = reach + 0.6 * t
    found += measure("long", (beside, low), (beside, low + sat.length), facts.fine(sat.length), (1.0, 0.0))
    found += measure("thick", (-beside, 0.0), (-beside, t), facts.fine(t), (-1.0, 0.0))
    return Picture(tuple(found), ((-beside, foot), (beside, top)), margins=(58.0, 24.0, 58.0, 24.0))


def section(asked: Asked) -> Picture:
    """The section through a pin, as the window has it.   of : the pivot."""
    facts = asked.facts
    pin = facts.stack.pin(asked.of)
    if pin is None:
        return Picture(())

    def aim(size: tuple[float, float]) -> tuple[Camera, tuple[Shape, ...]]:
        camera = camera_on(facts.project, pin, size)
        found = section_shapes(facts.project, facts.stack, pin, (FINE_LOOK, facts.units), camera.scale)
        return camera, tuple(_shorter(each) for each in found)

    return Picture((), aim=aim, px=FINE_PX)
