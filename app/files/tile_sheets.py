"""A sheet of a drawing at true size: its words, bars to check the print by, register marks, its tile of the drawing.

What is drawn on the tile is the caller's: it gets a function from the drawing (true size, y up) to the sheet, and draws
with the painter, cut off at the edge of the area.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from app.files.drafting import LINE, SMALL, THIN, WORDS
from app.files.paper import FOOT, HEAD, MARGIN
from app.sheet_words import TRUE_SIZE, print_bar, scale_words

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.files.drafting import Draft
    from app.files.paper import Paper, Tile, Tiling
    from app.files.print_check import PrintCheck
    from app.lengths import Units
    from kinematics.values import Point

HUNDRED, FOUR_INCHES = 100.0, 101.6
TICK = 3.0
CROSS = 5.0  # half the length of a register mark
DASHES = (4.0, 2.0)
GREY = "#777777"
INK = "#000000"
HEADING, FINE_PRINT = 4.0, 2.0  # mm


@dataclass(frozen=True, slots=True)
class Sheet:
    """One tile of a drawing.   title, notes : of the drawing.   overlap : with its neighbours.   number : "3 of 8"."""

    title: str
    notes: str
    tiled: Tiling
    tile: Tile
    overlap: float
    check: PrintCheck
    number: str


def draw_sheet(draft: Draft, sheet: Sheet, draw: Callable[[Callable[[Point], Point]], None]) -> None:
    """Draw a sheet with all that it says.   draw : draws what is on it, given where each point of the drawing goes."""
    tiled, tile = sheet.tiled, sheet.tile
    area = tiled.paper.area
    _head(draft, sheet)
    draw_bars(draft, tiled.paper, sheet.check)
    _edges(draft, tile, area, sheet.overlap)
    with draft.clipped(*area):
        draw(partial(tiled.placed, tile))
    for mark in tiled.marks:
        if tile.box.holds(mark.at, within=0.5):
            _register_mark(draft, tiled.on_sheet(tile, mark.at), mark.name)


def _register_mark(draft: Draft, at: Point, name: str) -> None:
    x, y = at
    draft.line((x - CROSS, y), (x + CROSS, y), THIN)
    draft.line((x, y - CROSS), (x, y + CROSS), THIN)
    draft.circle(at, 2.0, THIN)
    draft.words((x + 2.2, y - 2.2), name, SMALL)


def _edges(draft: Draft, tile: Tile, area: tuple[float, float, float, float], overlap: float) -> None:
    """Frame the area, and show with dashes how far the neighbours reach in."""
    left, top, wide, tall = area
    draft.ink = GREY
    draft.box(left, top, wide, tall, THIN)
    if tile.column > 0:
        draft.line((left + overlap, top), (left + overlap, top + tall), THIN, DASHES)
    if tile.column < tile.columns - 1:
        draft.line((left + wide - overlap, top), (left + wide - overlap, top + tall), THIN, DASHES)
    if tile.row > 0:
        draft.line((left, top + overlap), (left + wide, top + overlap), THIN, DASHES)
    if tile.row < tile.rows - 1:
        draft.line((left, top + tall - overlap), (left + wide, top + tall - overlap), THIN, DASHES)
    draft.ink = INK


def _head(draft: Draft, sheet: Sheet) -> None:
    paper, tile = sheet.tiled.paper, sheet.tile
    place = f"row {tile.row + 1} of {tile.rows}, column {tile.column + 1} of {tile.columns}"
    said = f"sheet {sheet.number}" if tile.rows * tile.columns == 1 else f"{place}; sheet {sheet.number}"
    room = paper.wide - 2 * MARGIN - draft.words((paper.wide - MARGIN, MARGIN + 4.0), said, SMALL, align=1.0) - 4.0
    draft.words((MARGIN, MARGIN + 4.0), draft.shortened(sheet.title, room, HEADING, bold=True), HEADING, bold=True)
    notes = draft.shortened(sheet.notes, paper.wide - 2 * MARGIN, SMALL)
    draft.words((MARGIN, MARGIN + HEAD - 2.0), notes, SMALL)


def draw_bars(draft: Draft, paper: Paper, check: PrintCheck) -> None:
    """Draw the print check: bars of 100 mm and 4 in, along the left side and the foot."""
    across, up = check.scale.on(paper)
    foot = paper.tall - MARGIN
    for row, (length, told) in enumerate(((HUNDRED, "100 mm"), (FOUR_INCHES, "4 in"))):
        y = foot - 2.0 - row * 6.0
        x = MARGIN + 2.0 + row * 5.0
        wide, tall = length * across, length * up
        _bar(draft, (MARGIN + 14.0, y), (MARGIN + 14.0 + wide, y))
        draft.words((MARGIN + 14.0 + wide / 2, y - 0.8), told, SMALL, align=0.5)
        _bar(draft, (x, foot - FOOT - tall), (x, foot - FOOT))
        draft.words((x - 0.8, foot - FOOT - tall / 2), told, SMALL, align=0.5, turn=-90.0)
    scaled = scale_words(check.short, check.long)
    left = MARGIN + 14.0 + FOUR_INCHES * across + 5.0
    said, height = " ".join(filter(None, (TRUE_SIZE, scaled))), FINE_PRINT if scaled else SMALL
    draft.paragraph((left, foot - FOOT + 1.0), paper.wide - MARGIN - left, said, height)


def _bar(draft: Draft, a: Point, b: Point) -> None:
    """Draw a bar from end to end, with ticks across its ends."""
    draft.line(a, b, LINE)
    across = (0.0, TICK / 2) if a[1] == b[1] else (TICK / 2, 0.0)
    for x, y in (a, b):
        draft.line((x - across[0], y - across[1]), (x + across[0], y + across[1]), LINE)


def check_square(draft: Draft, paper: Paper, check: PrintCheck, units: Units) -> tuple[float, float, float]:
    """Draw the square to measure in the lower left corner; give its left, top and width."""
    side, told = print_bar(units)
    across, up = check.scale.on(paper)
    wide, tall = side * across, side * up
    left, top = MARGIN + 2.0, paper.tall - MARGIN - tall - 6.0
    draft.box(left, top, wide, tall, LINE)
    draft.words((left + wide / 2, top + tall / 2), f"{told} both ways", WORDS, align=0.5)
    said = scale_words(check.short, check.long)
    draft.paragraph((left, paper.tall - MARGIN - 5.6), paper.wide - MARGIN - left, said, FINE_PRINT)
    return left, top, wide
