"""Sheets of paper, and how a drawing larger than one is cut into tiles. No Qt here.

A sheet keeps a *margin* that printers don't reach, a head for words, and strips at the left and the foot for the print
check; what remains is its *area*. A *tile* is one area's worth of a drawing; neighbours share an *overlap*, in whose
middle stand *register marks*, crosses at the same points of the drawing on either sheet: laid over each other, the
sheets fit. Lengths are mm at true size, the drawing's y up.
Sizes: ISO 216:2007 (A4, A3); ASME Y14.1 A and B, which are Letter and Tabloid (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.values import Point

MARGIN = 8.0
"""Left free at each side of the sheet; what printers don't reach is 3 to 6 mm (common practice, no source)."""
HEAD, LEFT, FOOT = 11.0, 11.0, 15.0
LEAST_OVERLAP, USUAL_OVERLAP, MOST_OVERLAP = 5.0, 15.0, 50.0
MARK_PLACES = (0.2, 0.8)
"""Where along the shared edge of two tiles their marks stand, shares of its length."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, mm: left, low, right, high."""

    left: float
    low: float
    right: float
    high: float

    @property
    def wide(self) -> float:
        """Its width."""
        return self.right - self.left

    @property
    def tall(self) -> float:
        """Its height."""
        return self.high - self.low

    def grown(self, by: float) -> Box:
        """The box with `by` more on each side."""
        return Box(self.left - by, self.low - by, self.right + by, self.high + by)

    def scaled(self, across: float, up: float) -> Box:
        """The box so many times as large about the origin."""
        return Box(self.left * across, self.low * up, self.right * across, self.high * up)

    def holds(self, point: Point, within: float = 0.0) -> bool:
        """Whether a point lies in it, `within` mm from its edge or farther."""
        x, y = point
        return self.left + within <= x <= self.right - within and self.low + within <= y <= self.high - within


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet: its name and size, upright, mm."""

    name: str
    wide: float
    tall: float

    @property
    def turned(self) -> Paper:
        """The sheet on its side."""
        return replace(self, wide=self.tall, tall=self.wide)

    @property
    def area(self) -> tuple[float, float, float, float]:
        """Where the drawing goes: left, top, width, height, from the sheet's upper left corner, y down."""
        left, top = MARGIN + LEFT, MARGIN + HEAD
        return left, top, self.wide - left - MARGIN, self.tall - top - MARGIN - FOOT


PAPERS = {
    paper.name: paper
    for paper in (
        Paper("A4", 210.0, 297.0),
        Paper("A3", 297.0, 420.0),
        Paper("Letter", 215.9, 279.4),
        Paper("Tabloid", 279.4, 431.8),
    )
}


@dataclass(frozen=True, slots=True)
class Scale:
    """How many times as large all is drawn along the sheet's short side and its long one, for a printer that misses."""

    short: float = 1.0
    long: float = 1.0

    def on(self, paper: Paper) -> tuple[float, float]:
        """Across and up on a sheet as it lies."""
        return (self.short, self.long) if paper.wide <= paper.tall else (self.long, self.short)


TRUE = Scale()


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet's worth of a drawing: which row (from the top) and column, of how many, and what of it is there."""

    row: int
    column: int
    rows: int
    columns: int
    box: Box


@dataclass(frozen=True, slots=True)
class RegisterMark:
    """A cross that two neighbouring tiles share, and the name that stands beside it on both."""

    at: Point
    name: str


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a drawing is cut: the sheet as it lies, the tiles row by row, all register marks, and how many times as large
    it is drawn across and up. Tiles and marks are in mm of the sheet, so scaled.
    """

    paper: Paper
    tiles: tuple[Tile, ...]
    marks: tuple[RegisterMark, ...]
    scale: tuple[float, float] = (1.0, 1.0)

    def placed(self, tile: Tile, point: Point) -> Point:
        """Where a point of the drawing, true size, stands on the sheet of a tile."""
        return self.on_sheet(tile, (point[0] * self.scale[0], point[1] * self.scale[1]))

    def on_sheet(self, tile: Tile, scaled: Point) -> Point:
        """Where a point that is scaled already (a register mark) stands on the sheet of a tile."""
        left, top, _, _ = self.paper.area
        return left + scaled[0] - tile.box.left, top + tile.box.high - scaled[1]


def tiling(box: Box, paper: Paper, overlap: float = USUAL_OVERLAP, scale: Scale = TRUE) -> Tiling:
    """Cut a drawing that fills `box` (true size) into tiles, the sheet upright or on its side, whichever takes fewer.

    overlap : mm that neighbours share, kept within what makes sense.
    """
    overlap = min(max(overlap, LEAST_OVERLAP), MOST_OVERLAP)
    boxes = {way: box.scaled(*scale.on(way)) for way in (paper, paper.turned)}
    counts = {way: _counts(large, way, overlap) for way, large in boxes.items()}
    way = min(counts, key=lambda each: counts[each][0] * counts[each][1])
    (rows, columns), box = counts[way], boxes[way]
    _, _, wide, tall = way.area
    lefts = _starts((box.left + box.right) / 2, wide, columns, overlap)
    lows = _starts((box.low + box.high) / 2, tall, rows, overlap)[::-1]
    tiles = tuple(
        Tile(row, column, rows, columns, Box(left, low, left + wide, low + tall))
        for row, low in enumerate(lows)
        for column, left in enumerate(lefts)
    )
    return Tiling(way, tiles, tuple(_marks(lefts, lows, wide, tall)), scale.on(way))


def _counts(box: Box, paper: Paper, overlap: float) -> tuple[int, int]:
    """Rows and columns that it takes."""
    _, _, wide, tall = paper.area
    return _count(box.tall, tall, overlap), _count(box.wide, wide, overlap)


def _count(length: float, area: float, overlap: float) -> int:
    return 1 if length <= area else ceil((length - overlap) / (area - overlap) - 1e-9)


def _starts(middle: float, area: float, count: int, overlap: float) -> list[float]:
    """Where tiles begin along one side, their whole about `middle`."""
    step = area - overlap
    first = middle - (area + (count - 1) * step) / 2
    return [first + place * step for place in range(count)]


def _marks(lefts: list[float], lows: list[float], wide: float, tall: float) -> list[RegisterMark]:
    """The crosses: in the middle of every strip that two neighbours share, two along it.

    Their names can't be taken for those of bolts to drill or pins, which are bare.
    """
    spots = []
    for before, after in pairwise(lefts):
        x = (before + wide + after) / 2
        spots += [(x, low + tall * share) for low in lows for share in MARK_PLACES]
    for above, below in pairwise(lows):
        y = (above + below + tall) / 2
        spots += [(left + wide * share, y) for left in lefts for share in MARK_PLACES]
    return [RegisterMark(spot, f"join {number}") for number, spot in enumerate(spots, 1)]
