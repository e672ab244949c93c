"""The wall seen from above, at the bases: what is measured along it, and what square to the centreline.

One who stands before the wall is at the foot of the view, so left and right are as in the view of the wall. Angles are
true; the way from the centreline is shortened along the wall, so that both pieces of it keep their line.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, tan
from typing import TYPE_CHECKING

from app.lengths import format_angle
from app.setout.views import CENTRE, STEP, Axis, Style, View, figure_words, shortened
from app.shapes import Hatch, Layer, Pen, Shape, Symbol
from kinematics.walling import FLAT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Point
    from kinematics.setting_out import SetOut

WEB = 46.0
"""Mm of the webs that are shown off the plate."""
BEYOND = 0.35
"""Of the plate's width, the wall that is shown beyond it."""


@dataclass(frozen=True, slots=True)
class Half:
    """One side: its set-out, how the way along its wall is shortened, where its wall meets the centreline (y)."""

    told: SetOut
    along: Axis
    start: float
    trued: str
    thin: float

    def at(self, along: float, off: float = 0.0) -> Point:
        """Where a place comes: so far along the wall, so far off it towards the pins."""
        b = radians(self.told.plane.off_deg)
        short = self.along.shown(along)
        x, y = short * cos(b) + off * sin(b), short * sin(b) - off * cos(b)
        return self.told.outboard * x, self.start + y

    @property
    def width(self) -> float:
        """Of the plate."""
        return self.told.base.part.width

    @property
    def foot(self) -> Point:
        """Where the links' plane meets the plate."""
        part = self.told.base.part
        if self.trued == "foot":
            return self.at(self.middle, part.plate + part.shims)
        x, y = self.at(self.middle)
        return x, y - self.thin - 0.5 * self.width * tan(radians(abs(self.told.plane.off_deg))) - part.plate

    @property
    def middle(self) -> float:
        """Along the wall, to the base's middle."""
        return 0.0 if self.told.from_middle else self.told.taped(self.told.middle)


@dataclass(frozen=True, slots=True)
class PlanView(View):
    """The view.   ahead : +1 where the panel's front is at the foot of the view, −1 where it is behind the wall.

    short : whether its words are, for a picture that has little room.
    """

    halves: tuple[Half, ...]
    units: Units
    ahead: int
    short: bool = False

    def shapes(self, look: Look, scale: float) -> list[Shape]:
        """What is drawn."""
        style = Style(look, self.units, 1.0 / scale)
        _, low, _, high = self.box
        px = style.px
        ends = ((0.0, low - 12.0 * px), (0.0, high + 16.0 * px))
        found: list[Shape] = [
            style.line("centreline", ends, Pen(look.path, look.line, CENTRE), Layer.GAPS),
            style.words("centreline name", ends[1], "centreline", (0.0, 1.0), rank=2),
        ]
        tip = (0.0, low - 12.0 * px) if self.ahead > 0 else ends[1]
        found.append(Symbol("ahead", "", (tip,), "arrow", look.ink, look.paper, Layer.GAPS, -90.0 * self.ahead))
        found.append(style.words("ahead name", tip, "ahead", (1.0, float(self.ahead)), rank=1, bold=True, clear=8.0))
        for half in self.halves:
            found += _wall(half, style, short=self.short)
            found += _base(half, style)
            found += _measures(half, style, low, short=self.short)
        return found


def plan_view(hands: Sequence[SetOut], trued: str, thin: float, units: Units, ahead: int) -> PlanView:
    """Lay the view out.   trued, thin : as in `kinematics.wall_parts.Wall`; thin is of a shim."""
    wide = max(told.base.part.width for told in hands)
    nearest = min(told.taped(told.middle) for told in hands) - 0.5 * wide
    along = Axis() if any(told.from_middle for told in hands) else shortened(nearest, 0.8 * wide)
    starts = [_start(told) for told in hands]
    halves = tuple(Half(told, along, start - starts[0], trued, thin) for told, start in zip(hands, starts, strict=True))
    places = [(0.0, 0.0)]
    for half in halves:
        end = half.middle + (0.5 + BEYOND) * half.width
        places += [half.at(end), half.at(0.0), half.at(end, WEB + 30.0), half.at(half.middle, WEB + 30.0)]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    title = "The same seen from above, at the bases: you stand at the foot"
    box = (min(xs), min(ys), max(xs), max(ys))
    return PlanView("plan", title, box, (24.0, 20.0 + 2.0 * STEP, 24.0, 10.0 + 2.0 * STEP), halves, units, ahead)


def _start(told: SetOut) -> float:
    """How far from the pins' side the wall meets the centreline, at the height of the base."""
    plane = told.plane
    x = float(plane.at[0] + plane.rise[0] / plane.rise[1] * told.middle.height)
    return -x if plane.out[0] >= 0.0 else x


def _wall(half: Half, style: Style, *, short: bool) -> list[Shape]:
    """The wall's line with its angle off square."""
    name, look, units = half.told.hand, style.look, style.units
    outer = half.middle + (0.5 + BEYOND) * half.width
    start = 0.0 if not half.told.from_middle else half.middle - (0.5 + BEYOND) * half.width
    ends = half.at(start), half.at(outer)
    pen, side = Pen(look.fixed, look.heavy), 1 if half.told.outboard > 0 else -1
    found: list[Shape] = [
        style.line(f"wall {name}", ends, pen, Layer.FIXED),
        Hatch(f"wall {name} hatch", "", ends, side, Pen(look.hatch), Layer.FIXED),
    ]
    if half.along.breaks:
        turn = half.told.plane.off_deg * half.told.outboard + 90.0
        found += style.zigzag(f"break {name}", half.at(half.along.low), (16.0 * style.px, 16.0 * style.px), turn)
    off = half.told.plane.off_deg
    if abs(off) > FLAT:
        reach = half.along.shown(half.middle) * 0.55
        b = radians(off)
        square = ((0.0, half.start), (half.told.outboard * reach * cos(b), half.start))
        found.append(style.line(f"square {name}", square, Pen(look.path, look.thin, CENTRE), Layer.PATHS))
        at = half.told.outboard * 0.8 * reach * cos(b), half.start + 0.4 * reach * sin(b)
        words = format_angle(abs(off), units) + ("" if short else " off square")
        found.append(style.words(f"angle {name}", at, words, (0.0, -1.0), rank=2, clear=6.0))
    return found


def _base(half: Half, style: Style) -> list[Shape]:
    """The plate with its webs, and the shim behind it where there is one."""
    told, look, name, side = half.told, style.look, half.told.hand, half.told.outboard
    part, pen = told.base.part, Pen(look.link, look.line)
    found: list[Shape] = []
    if half.trued == "shim":
        plate, shim = _on_shim(half)
        found.append(style.line(f"shim {name}", shim, Pen(look.path, look.line), Layer.LINKS, look.path))
    else:
        lifts = part.shims, part.shims + part.plate
        corners = ((-0.5, lifts[0]), (0.5, lifts[0]), (0.5, lifts[1]), (-0.5, lifts[1]))
        plate = tuple(half.at(half.middle + share * half.width, lift) for share, lift in corners)
    found.append(style.line(f"plate {name}", plate, pen, Layer.LINKS, look.link_fill))
    x, y = half.foot
    slope = 0.0 if half.trued == "shim" else tan(radians(told.plane.off_deg))
    level = y - WEB
    for number, (near, far) in enumerate(_webs(told)):
        corners = ((near, y + slope * near), (far, y + slope * far), (far, level), (near, level))
        web = tuple((x + side * reach, height) for reach, height in corners)
        found.append(style.line(f"web {name} {number}", web, pen, Layer.DEVICES, look.link_fill, 0.7))
    found.append(style.words(f"name {name}", (x, level), name.upper(), (0.0, -1.0), rank=0, bold=True, clear=4.0))
    return found


def _on_shim(half: Half) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """A plate that stays square to its links, and the shim between it and the wall."""
    side, width, thick = half.told.outboard, half.width, half.told.base.part.plate
    slope = tan(radians(half.told.plane.off_deg))
    x, foot = half.foot
    level, (_, y) = foot + thick, half.at(half.middle)
    near, far = x - side * 0.5 * width, x + side * 0.5 * width
    plate = (near, level), (far, level), (far, foot), (near, foot)
    shim = (near, level), (far, level), (far, y + 0.5 * width * slope), (near, y - 0.5 * width * slope)
    return plate, shim


def _webs(told: SetOut) -> list[tuple[float, float]]:
    """From where to where each web reaches, outboard of the links' plane."""
    part = told.base.part
    if part.webs == 1:
        return [(-0.5 * part.web, 0.5 * part.web)]
    return [(-0.5 * part.apart - part.web, -0.5 * part.apart), (0.5 * part.apart, 0.5 * part.apart + part.web)]


def _measures(half: Half, style: Style, low: float, *, short: bool) -> list[Shape]:
    """Along the wall beyond it, and square to the centreline at the foot."""
    if half.told.from_middle:
        return []
    name, units, side = half.told.hand, style.units, half.told.outboard
    away = -(20.0 + STEP) * style.px
    ends = half.at(0.0, away), half.at(half.middle, away)
    b = radians(half.told.plane.off_deg)
    words = f"{figure_words(half.middle, units)} along" + ("" if short else " the wall")
    up = (-side * sin(b), cos(b))
    found = style.dimension(f"along {name}", ends, (half.at(0.0), half.at(half.middle)), words, up)
    y, x = low - (12.0 + STEP) * style.px, half.at(half.middle)[0]
    words = f"{figure_words(half.told.middle.square, units)} square" + ("" if short else " to the centreline")
    places = (0.0, y), (x, half.at(half.middle)[1])
    return [*found, *style.dimension(f"square to {name}", ((0.0, y), (x, y)), places, words, (0.0, -1.0))]
