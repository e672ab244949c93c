"""What the views of the set-out share: lengths that are drawn shortened, dimension lines, the view itself.

Everything is in mm of the view, x to the right and y up; what words and dimension lines need beside it is in pixels, so
that it keeps clear at every scale. A hinge stands far from the centreline and its plate is small beside that way, so
the way is drawn *shortened*: a stretch is taken out where nothing is, between two break lines, and all figures remain
those of the whole. What is left is to scale.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, pi, radians, sin
from typing import TYPE_CHECKING

from app.lengths import format_length, style_of
from app.shapes import Label, Layer, Pen, Shape, Stroke, Symbol
from app.sheet import Camera

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Point

CENTRE = (12.0, 3.0, 2.0, 3.0)
"""Dashes of a centreline, pixels: long and dotted, as ISO 128-2 has it for centre lines (from memory)."""
HIDDEN = (5.0, 3.0)
STEP = 24.0
"""Pixels from one dimension line to the next."""
ROUND = 16
LEAST_CUT = 20.0
"""Mm: a shorter stretch isn't worth a break."""
ZIGZAG = ((0.0, -7.0), (-4.0, -3.5), (4.0, 3.5), (0.0, 7.0))
"""A break line's zigzag, pixels."""


@dataclass(frozen=True, slots=True)
class Axis:
    """A length along which a stretch (`low` to `high`, mm, of one sign) may be left out of the drawing."""

    low: float = 0.0
    high: float = 0.0

    def shown(self, value: float) -> float:
        """Where a true length from the datum comes in the drawing."""
        size = abs(value)
        short = size if size <= self.low else max(self.low, size - (self.high - self.low))
        return short if value >= 0.0 else -short

    @property
    def breaks(self) -> bool:
        """Whether anything is left out."""
        return self.high > self.low


def shortened(nearest: float, stub: float) -> Axis:
    """The axis from a datum to something that begins `nearest` mm away, of which 2 · `stub` are shown."""
    if nearest < 2.0 * stub + LEAST_CUT:
        return Axis()
    return Axis(stub, nearest - stub)


def figure_words(mm: float, units: Units) -> str:
    """A figure on a drawing: mm without their unit, inches with their sign, as is usual on drawings."""
    return format_length(mm, units, unit=style_of(units).units == "in")


@dataclass(frozen=True, slots=True)
class Style:
    """How a view is drawn: look, units, mm to a pixel."""

    look: Look
    units: Units
    px: float

    @property
    def thin(self) -> Pen:
        """The pen of most lines."""
        return Pen(self.look.ink, self.look.thin)

    def line(
        self,
        key: str,
        points: Sequence[Point],
        pen: Pen,
        layer: Layer = Layer.LINKS,
        fill: str = "",
        veil: float = 0.35,
    ) -> Stroke:
        """A line, or with a fill a face."""
        return Stroke(key, "", tuple(points), pen, layer, closed=bool(fill), fill=fill, veil=veil)

    def words(
        self, key: str, at: Point, text: str, away: Point, *, rank: int = 3, bold: bool = False, clear: float = 3.0
    ) -> Label:
        """Words at a point, on one side of it."""
        look = self.look
        return Label(key, "", at, text, look.ink, look.paper, look.small_px, away, rank=rank, bold=bold, clear_px=clear)

    def dimension(
        self, key: str, ends: tuple[Point, Point], places: tuple[Point, Point], words: str, away: Point
    ) -> list[Shape]:
        """A dimension line between two ends, with thin lines to the places that it measures, and its figure."""
        (a, b), look = ends, self.look
        turn = _turn_deg(a, b)
        found: list[Shape] = [
            self.line(f"{key} from {number}", (place, end), Pen(look.hatch, look.thin), Layer.ZONES)
            for number, (place, end) in enumerate(zip(places, ends, strict=True))
            if hypot(place[0] - end[0], place[1] - end[1]) > 1e-6
        ]
        found.append(self.line(key, ends, self.thin, Layer.GAPS))
        found.append(Symbol(f"{key} ends", "", ends, "tick", look.ink, look.paper, Layer.GAPS, turn))
        middle = 0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])
        found.append(self.words(f"{key} figure", middle, words, away, rank=1, clear=2.0))
        return found

    def zigzag(self, key: str, at: Point, reach: tuple[float, float], along_deg: float) -> list[Shape]:
        """A break line through a point: it runs at an angle, from −reach to +reach (mm)."""
        c, s = cos(radians(along_deg)), sin(radians(along_deg))
        pen = Pen(self.look.faint, self.look.thin)

        def place(along: float, across: float) -> Point:
            return at[0] + c * along - s * across, at[1] + s * along + c * across

        teeth = [place(v * self.px, u * self.px) for u, v in ZIGZAG]
        return [self.line(key, (place(-reach[0], 0.0), *teeth, place(reach[1], 0.0)), pen, Layer.ZONES)]


def circled(at: Point, radius: float) -> tuple[Point, ...]:
    """A circle as a polygon."""
    turns = [2.0 * pi * k / ROUND for k in range(ROUND)]
    return tuple((at[0] + radius * cos(turn), at[1] + radius * sin(turn)) for turn in turns)


def _turn_deg(a: Point, b: Point) -> float:
    return degrees(atan2(b[1] - a[1], b[0] - a[0]))


@dataclass(frozen=True, slots=True)
class View:
    """One view.   key : "wall", "plan", "skin".   title : what is seen, and how.   box : left, low, right, high of
    what is drawn to scale, mm.   margins : pixels that words and dimension lines need beside it: left, top, right, low.
    """

    key: str
    title: str
    box: tuple[float, float, float, float]
    margins: tuple[float, float, float, float]

    def camera(self, size: tuple[float, float], scale: float | None = None) -> Camera:
        """The camera on it with its words.   size : pixels.   scale : pixels per mm; None: the largest that fits."""
        left, low, right, high = self.box
        if scale is None:
            scale = self.scale_for(size)
        west, north, east, south = self.margins
        middle = 0.5 * (left + right) + 0.5 * (east - west) / scale, 0.5 * (low + high) + 0.5 * (north - south) / scale
        return Camera(scale, middle, size)

    def scale_for(self, size: tuple[float, float]) -> float:
        """The largest scale (pixels per mm) at which it fits a size (pixels) with its words."""
        left, low, right, high = self.box
        west, north, east, south = self.margins
        wide = (size[0] - west - east) / max(right - left, 1e-6)
        tall = (size[1] - north - south) / max(high - low, 1e-6)
        return max(min(wide, tall), 0.02)

    def shapes(self, look: Look, scale: float) -> list[Shape]:
        """What is drawn.   scale : pixels per mm."""
        raise NotImplementedError
