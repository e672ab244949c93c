"""The panel's inner skin as one sees it who faces it to drill, the front up: both brackets, mirrored.

Places ahead of the rear edge run up, along the skin; from the centreline they are told square to it. Bolts have their
number in the order of drilling; they stand at the middles of their slots.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from app.setout.views import CENTRE, STEP, Axis, Style, View, circled, figure_words, shortened
from app.shapes import Layer, Pen, Shape
from kinematics.setting_out import drilling_order

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from app.look import Look
    from kinematics.marking_out import SkinMarks
    from kinematics.project import Point

APART = 150.0
"""Mm from the centreline at which brackets are drawn where nobody knows how far off it they are."""
BROAD = 8.0
"""Mm of the panel's edge that is shown beyond the brackets."""


@dataclass(frozen=True, slots=True)
class SkinBolt:
    """A bolt.   name : its number in the order of drilling.   right, up : from the web's outer side and the middle of
    its foot, as one sees it.   ahead : of the rear edge, along the skin; None: no panel is drawn.   square : to the
    centreline; None: unknown.   across : from the web's outer side, along the flange.
    """

    name: str
    right: float
    up: float
    ahead: float | None
    square: float | None
    across: float


def skin_bolts(marks: SkinMarks) -> tuple[SkinBolt, ...]:
    """The bolts of one bracket in the order of drilling."""
    bolts = np.array(marks.made.bolts)
    places = marks.laid(bolts)
    order = drilling_order(np.column_stack([places.real, places.imag]))
    return tuple(
        SkinBolt(
            str(number),
            float(places[k].real),
            float(places[k].imag),
            None if marks.rear is None else float(places[k].imag) - marks.rear,
            None if marks.from_centre is None else marks.square(float(places[k].real)),
            float(bolts[k].real),
        )
        for number, k in enumerate(order, 1)
    )


@dataclass(frozen=True, slots=True)
class Side:
    """One bracket in the view, and how the ways to it are shortened."""

    marks: SkinMarks
    across: Axis
    ahead: Axis

    @property
    def web(self) -> float:
        """X of the web's outer side."""
        centre = self.marks.from_centre
        return self.marks.right * (APART if centre is None else self.across.shown(centre))

    def at(self, right: float, up: float) -> Point:
        """Where a place comes."""
        rear = self.marks.rear
        return self.web + right, up if rear is None else self.ahead.shown(up - rear)

    @property
    def flange(self) -> tuple[Point, ...]:
        """Its corners, one round it."""
        made = self.marks.made
        half = 0.5 * (made.foot[1] - made.foot[0])
        corners = np.array([-1j * half, made.flange - 1j * half, made.flange + 1j * half, 1j * half])
        return tuple(self.at(float(z.real), float(z.imag)) for z in self.marks.laid(corners))


@dataclass(frozen=True, slots=True)
class SkinView(View):
    """The view."""

    sides: tuple[Side, ...]
    units: Units

    def shapes(self, look: Look, scale: float) -> list[Shape]:
        """What is drawn."""
        style = Style(look, self.units, 1.0 / scale)
        left, low, right, high = self.box
        px, dashed = style.px, Pen(look.path, look.line, CENTRE)
        found: list[Shape] = [
            style.line("centreline", ((0.0, low - 12.0 * px), (0.0, high + 10.0 * px)), dashed, Layer.GAPS),
            style.words("centreline name", (0.0, high + 8.0 * px), "centreline of the panel", (0.0, 1.0), rank=2),
        ]
        if self.sides[0].marks.rear is not None:
            pen = Pen(look.panel, look.heavy)
            found.append(style.line("rear edge", ((left, 0.0), (right, 0.0)), pen, Layer.PANEL))
            found.append(style.words("rear edge name", (0.0, 0.0), "rear edge", (1.0, 1.0), rank=3))
        for side in self.sides:
            found += _bracket(side, style)
            found += _squares(side, style, low)
            found += _aheads(side, style, self.box)
            if side.across.breaks and side.marks.from_centre is not None:
                x = side.marks.right * side.across.low
                found += style.zigzag(
                    f"break {side.marks.hand}", (x, 0.5 * (low + high)), (0.5 * (high - low),) * 2, 90.0
                )
        if self.sides[0].ahead.breaks:
            found += style.zigzag("break ahead", (0.0, self.sides[0].ahead.low), (-left, right), 0.0)
        return found


def skin_view(marks: Sequence[SkinMarks], units: Units) -> SkinView:
    """Lay the view out."""
    wide = max(each.made.flange for each in marks)
    known = [each.from_centre for each in marks if each.from_centre is not None]
    halves = [0.5 * (each.made.foot[1] - each.made.foot[0]) for each in marks]
    starts = [-half - each.rear for half, each in zip(halves, marks, strict=True) if each.rear is not None]
    across = shortened(min(known) - wide, 1.2 * wide) if known else Axis()
    ahead = shortened(min(starts), 0.4 * wide) if starts else Axis()
    sides = tuple(Side(each, across, ahead) for each in marks)
    places = [place for side in sides for place in side.flange]
    reach = max(abs(x) for x, _ in places) + BROAD
    lows = [y for _, y in places] + ([0.0] if starts else [])
    title = "The panel's inner skin as you face it, the front up"
    margins = (60.0 + STEP * 1.6, 30.0, 60.0 + STEP * 1.6, 30.0 + 2.0 * STEP)
    return SkinView("skin", title, (-reach, min(lows), reach, max(y for _, y in places)), margins, sides, units)


def _bracket(side: Side, style: Style) -> list[Shape]:
    """Flange, web, holes with their numbers."""
    marks, look, name = side.marks, style.look, side.marks.hand
    found: list[Shape] = [
        style.line(f"flange {name}", side.flange, Pen(look.link, look.line), Layer.LINKS, look.link_fill)
    ]
    half = 0.5 * (marks.made.foot[1] - marks.made.foot[0])
    ends = side.at(0.0, -half), side.at(0.0, half)
    found.append(style.line(f"web {name}", ends, Pen(look.link, look.heavy), Layer.LINKS))
    radius = 0.5 * marks.made.thread.clearance
    bolts = skin_bolts(marks)
    half_way = 0.5 * (min(bolt.across for bolt in bolts) + max(bolt.across for bolt in bolts))
    for bolt in bolts:
        at, key = side.at(bolt.right, bolt.up), f"hole {name} {bolt.name}"
        beside = marks.over if bolt.across > half_way else -marks.over  # outside of the pattern
        found.append(style.line(key, circled(at, radius), Pen(look.ink, look.line), Layer.PINS, look.paper, 1.0))
        found.append(style.words(f"{key} number", at, bolt.name, (beside, 0.0), rank=2, bold=True, clear=8.0))
    words = f"{name.upper()} bracket"
    at = 0.5 * (side.flange[0][0] + side.flange[1][0]), max(y for _, y in side.flange)
    return [*found, style.words(f"name {name}", at, words, (0.0, 1.0), rank=0, bold=True, clear=6.0)]


def _squares(side: Side, style: Style, low: float) -> list[Shape]:
    """Dimension lines square to the centreline, beneath all: to the web's outer side and the first row of bolts."""
    marks, found = side.marks, list[Shape]()
    if marks.from_centre is None:
        return found
    bolts = skin_bolts(marks)
    first = min(bolts, key=lambda bolt: bolt.across)
    half = 0.5 * (marks.made.foot[1] - marks.made.foot[0])
    told = [
        ("bolt", first.square or 0.0, side.at(first.right, first.up)),
        ("web", marks.from_centre, side.at(0.0, -half)),
    ]
    for row, (what, square, at) in enumerate(sorted(told, key=lambda each: each[1])):
        y = low - (row + 1) * STEP * style.px
        words = f"{figure_words(square, style.units)} square to {what}"
        ends, places = ((0.0, y), (at[0], y)), ((0.0, y), at)
        found += style.dimension(f"square {marks.hand} {what}", ends, places, words, (0.0, 1.0))
    return found


def _aheads(side: Side, style: Style, box: tuple[float, float, float, float]) -> list[Shape]:
    """Dimension lines ahead of the rear edge, outboard of the bracket: to the first and the last bolt of a row."""
    marks, found = side.marks, list[Shape]()
    if marks.rear is None:
        return found
    bolts = sorted(skin_bolts(marks), key=lambda bolt: bolt.up)
    outer = box[2] if marks.right > 0 else box[0]
    ends = bolts[:1] if bolts[-1].up - bolts[0].up < 1e-6 else [bolts[0], bolts[-1]]
    for row, bolt in enumerate(ends):
        x = outer + marks.right * (14.0 + row * STEP * 1.6) * style.px
        at = side.at(bolt.right, bolt.up)
        words, key = figure_words(bolt.ahead or 0.0, style.units), f"ahead {marks.hand} {row}"
        found += style.dimension(key, ((x, 0.0), (x, at[1])), ((outer, 0.0), at), words, (marks.right, 0.0))
    return found
