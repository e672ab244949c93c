"""What the one picture is made of: strokes, hatches, symbols and words, and where links stand. Plain values, no Qt.

`app.shapes` says what they mean together.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from math import cos, sin
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from kinematics.project import Point


class Layer(IntEnum):
    """What lies over what; a higher layer hides a lower one."""

    ZONES = 0
    GHOSTS = 1
    FIXED = 2
    PATHS = 3
    PANEL = 4
    LINKS = 5
    DEVICES = 6
    PINS = 7
    GAPS = 8
    HANDS = 9
    TIED_WORDS = 10  # with a leader, which never runs over other words
    WORDS = 11


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a link stands: its shut point p is at R(turn)·p + (dx, dy).

    stretch : what rides on a spring is drawn out so many times along the direction `along_rad`, before it is turned.
    """

    turn_rad: float = 0.0
    dx: float = 0.0
    dy: float = 0.0
    stretch: float = 1.0
    along_rad: float = 0.0

    def carry(self, point: Point) -> Point:
        """Give the place of a shut point."""
        x, y = point if self.stretch == 1.0 else self._drawn_out(point, self.stretch)
        c, s = cos(self.turn_rad), sin(self.turn_rad)
        return c * x - s * y + self.dx, s * x + c * y + self.dy

    def back(self, place: Point) -> Point:
        """Give the shut point that stands at a place: the inverse of `carry`."""
        c, s = cos(self.turn_rad), sin(self.turn_rad)
        x, y = place[0] - self.dx, place[1] - self.dy
        point = c * x + s * y, c * y - s * x
        return point if self.stretch == 1.0 else self._drawn_out(point, 1.0 / self.stretch)

    def _drawn_out(self, point: Point, times: float) -> Point:
        c, s = cos(self.along_rad), sin(self.along_rad)
        more = (times - 1.0) * (c * point[0] + s * point[1])
        return point[0] + more * c, point[1] + more * s


SHUT = Placement()


@dataclass(frozen=True, slots=True)
class Pen:
    """A line: colour, weight and dashes (drawn, left out, …), both in pixels. Weight 0: no line."""

    colour: str
    px: float = 1.0
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Stroke:
    """A polyline, or closed a polygon with a face of `fill` at `veil` (0 clear, 1 solid). `at`: a placement of its
    own instead of its link's. `near`: it is shown from so many pixels per mm on.
    """

    key: str
    link: str
    points: tuple[Point, ...]
    pen: Pen
    layer: Layer
    closed: bool = False
    fill: str = ""
    veil: float = 1.0
    at: Placement | None = None
    near: float = 0.0


@dataclass(frozen=True, slots=True)
class Hatch:
    """Strokes at 45° behind a line, on its left (+1) or right (−1) as it runs, or within a closed line (0)."""

    key: str
    link: str
    points: tuple[Point, ...]
    side: int
    pen: Pen
    layer: Layer
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Symbol:
    """A sign of `app.symbols` at one or more points, upright, turned by `turn_deg` anticlockwise. `near`: one at a
    single point is shown from so many pixels per mm on.
    """

    key: str
    link: str
    at: tuple[Point, ...]
    glyph: str
    ink: str
    paper: str
    layer: Layer
    turn_deg: float = 0.0
    near: float = 0.0


@dataclass(frozen=True, slots=True)
class Label:
    """Words near a point, on the side `away` (x right, y up) if there is room.

    rank : lower ones choose their place first.     framed : a box around the words.
    leader : a line ties the words to their point, from farther off if need be.
    clear_px : how far the words keep from the point.
    span : mm; where that is shorter on the sheet than the words, they are left out (0: never).
    glyph : a sign of `app.symbols` before the words; it is there where the words are left out, too.
    """

    key: str
    link: str
    at: Point
    text: str
    ink: str
    paper: str
    px: float
    away: Point = (1.0, 1.0)
    rank: int = 5
    bold: bool = False
    framed: bool = False
    leader: bool = False
    clear_px: float = 8.0
    span: float = 0.0
    glyph: str = ""


Shape: TypeAlias = Stroke | Hatch | Symbol | Label
