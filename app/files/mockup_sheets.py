"""What stands on a sheet of mock-up templates: its words, bars, register marks, and its tile of the part."""

from __future__ import annotations

from math import atan2, cos, degrees, sin
from typing import TYPE_CHECKING

from app.files.drafting import HEAVY, LINE, SMALL, THIN, TITLE, WORDS
from app.files.paper import FOOT, HEAD, MARGIN, PAPERS
from app.sheet_words import MOCKUP_CAUTIONS, TRUE_SIZE, TRUST_FIGURES, how_to_words, print_bar, scale_words
from app.words import AIDS_TO_JUDGEMENT

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.files.drafting import Draft
    from app.files.mockup import MockupOptions
    from app.files.mockup_parts import Template
    from app.files.paper import Paper, Tile, Tiling
    from app.lengths import Units
    from kinematics.project import Project
    from kinematics.values import Point

HUNDRED, FOUR_INCHES = 100.0, 101.6
TICK = 3.0
CROSS = 5.0  # half the length of a register mark
LONGEST_TITLE = 80
DASHES = (4.0, 2.0)
GREY = "#777777"
INK = "#000000"


# -------------------------------------------------------------------------------------------------------- parts, tiles
def draw_tile(template: Template, tiled: Tiling, tile: Tile, options: MockupOptions, number: str, draft: Draft) -> None:
    """Draw one tile of a part, with all that its sheet says."""
    paper, scale = tiled.paper, 100.0 / options.measured
    left, top, wide, tall = paper.area

    def placed(point: Point) -> Point:
        """From the part, true size, to the sheet."""
        return left + point[0] * scale - tile.box.left, top + tile.box.high - point[1] * scale

    _head(draft, paper, template, tile, number)
    _bars(draft, paper, scale, options)
    _edges(draft, tile, (left, top, wide, tall), options.overlap)
    with draft.clipped(left, top, wide, tall):
        _part(draft, template, placed, options.hole * scale / 2)
    for mark in tiled.marks:
        if tile.box.holds(mark.at, within=0.5):
            at = left + mark.at[0] - tile.box.left, top + tile.box.high - mark.at[1]
            _register_mark(draft, at, mark.name)


def _part(draft: Draft, template: Template, placed: Callable[[Point], Point], radius: float) -> None:
    """Draw lines first, then words, then holes, so that no hole is hidden."""
    looks = {"edge": (HEAVY, ()), "outline": (LINE, (2.0, 1.0)), "datum": (THIN, (8.0, 2.0, 1.0, 2.0))}
    for line in template.lines:
        weight, dash = looks[line.kind]
        points = [placed(point) for point in line.points]
        draft.polyline(points, line.closed, weight, dash)
        if line.name:
            x, y = points[0]
            draft.ink = GREY
            draft.words((x + 1.0, y - 1.0), line.name, SMALL)
            draft.ink = INK
    for distance in template.distances:
        _distance(draft, placed(distance.ends[0]), placed(distance.ends[1]), distance.words)
    for hole in template.holes:
        _hole(draft, placed(hole.at), radius, hole.name, hole.note)


def _distance(draft: Draft, a: Point, b: Point, words: str) -> None:
    """Write a distance along the line between its pins, to be read from below or from the right."""
    (ax, ay), (bx, by) = sorted((a, b)) if abs(a[0] - b[0]) > 1e-6 else sorted((a, b), reverse=True)
    turn = atan2(by - ay, bx - ax)
    away = sin(turn) * 1.0, -cos(turn) * 1.0
    at = (ax + bx) / 2 + away[0], (ay + by) / 2 + away[1]
    draft.words(at, words, SMALL, align=0.5, turn=degrees(turn))


def _hole(draft: Draft, at: Point, radius: float, name: str, note: str) -> None:
    x, y = at
    arm = radius + 3.0
    draft.circle(at, radius, LINE)
    draft.line((x - arm, y), (x + arm, y), THIN)
    draft.line((x, y - arm), (x, y + arm), THIN)
    draft.words((x + radius + 1.0, y - 1.2), name, WORDS, bold=True)
    if note:
        draft.words((x + radius + 1.0, y + 4.4), note, SMALL)


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


def _head(draft: Draft, paper: Paper, template: Template, tile: Tile, number: str) -> None:
    right = paper.wide - MARGIN
    place = f"row {tile.row + 1} of {tile.rows}, column {tile.column + 1} of {tile.columns}"
    said = f"sheet {number}" if tile.rows * tile.columns == 1 else f"{place}; sheet {number}"
    draft.words((right, MARGIN + 4.0), said, SMALL, align=1.0)
    room = paper.wide - 2 * MARGIN - 75.0
    draft.words((MARGIN, MARGIN + 4.0), draft.shortened(template.title, room, TITLE * 0.8, bold=True), 4.0, bold=True)
    notes = "; ".join(("as seen in the side view, true size", *template.notes))
    draft.words((MARGIN, MARGIN + HEAD - 2.0), draft.shortened(notes, paper.wide - 2 * MARGIN, SMALL), SMALL)


def _bars(draft: Draft, paper: Paper, scale: float, options: MockupOptions) -> None:
    """Draw the print check: bars of 100 mm and 4 in, along the left side and the foot."""
    foot = paper.tall - MARGIN
    for row, (length, told) in enumerate(((HUNDRED, "100 mm"), (FOUR_INCHES, "4 in"))):
        y = foot - 2.0 - row * 6.0
        x = MARGIN + 2.0 + row * 5.0
        long = length * scale
        _bar(draft, (MARGIN + 14.0, y), (MARGIN + 14.0 + long, y))
        draft.words((MARGIN + 14.0 + long / 2, y - 0.8), told, SMALL, align=0.5)
        _bar(draft, (x, foot - FOOT - long), (x, foot - FOOT))
        draft.words((x - 0.8, foot - FOOT - long / 2), told, SMALL, align=0.5, turn=-90.0)
    said = " ".join(filter(None, (TRUE_SIZE, scale_words(options.measured))))
    left = MARGIN + 14.0 + FOUR_INCHES * scale + 5.0
    draft.paragraph((left, foot - FOOT + 2.0), paper.wide - MARGIN - left, said, SMALL)


def _bar(draft: Draft, a: Point, b: Point) -> None:
    """Draw a bar from end to end, with ticks across its ends."""
    draft.line(a, b, LINE)
    across = (0.0, TICK / 2) if a[1] == b[1] else (TICK / 2, 0.0)
    for x, y in (a, b):
        draft.line((x - across[0], y - across[1]), (x + across[0], y + across[1]), LINE)


# -------------------------------------------------------------------------------------------------------- first sheet
def draw_how_to(
    project: Project, parts: Sequence[tuple[Template, Tiling]], options: MockupOptions, units: Units, draft: Draft
) -> None:
    """Draw the first sheet: what to do, what to beware of, what follows, and a square to measure."""
    paper, scale = PAPERS[options.paper], 100.0 / options.measured
    wide = paper.wide - 2 * MARGIN
    y = MARGIN
    title = f"{(project.title or 'Hinge')[:LONGEST_TITLE]}: mock-up templates"
    y += draft.paragraph((MARGIN, y), wide, title, TITLE, bold=True) + 2.0
    for number, said in enumerate(how_to_words(options.overlap, options.hole, units), 1):
        y += draft.paragraph((MARGIN, y), wide, f"{number}.  {said}", WORDS) + 1.0
    for said in (*MOCKUP_CAUTIONS, AIDS_TO_JUDGEMENT):
        y += draft.paragraph((MARGIN, y), wide, f"⚠  {said}", WORDS, bold=True) + 1.0
    side, told = print_bar(units)
    square = side * scale
    left, top = MARGIN + 2.0, paper.tall - MARGIN - square - 6.0
    _contents(draft, parts, (left + square + 8.0, max(y + 3.0, top)), paper)
    draft.box(left, top, square, square, LINE)
    draft.words((left + square / 2, top + square / 2), f"{told} both ways", WORDS, align=0.5)
    said = scale_words(options.measured)
    draft.words((left, paper.tall - MARGIN - 1.0), said, SMALL)


def _contents(draft: Draft, parts: Sequence[tuple[Template, Tiling]], at: Point, paper: Paper) -> None:
    """List the parts with their sheets and the distances of their pins."""
    x, y = at
    room, foot = paper.wide - MARGIN - x, paper.tall - MARGIN - 4.0
    draft.words((x, y + 3.0), "Parts and the distances of their pins", WORDS, bold=True)
    y += 8.0
    sheet = 2
    for template, tiled in parts:
        count = len(tiled.tiles)
        sheets = f"sheet {sheet}" if count == 1 else f"sheets {sheet} to {sheet + count - 1}"
        rows = [f"{template.title}: {sheets}", *(f"    {each.words}" for each in template.distances)]
        sheet += count
        for place, row in enumerate(rows):
            if y > foot - 4.2:
                draft.words((x, y), "… and more, each on its own sheet", SMALL)
                return
            draft.words((x, y), draft.shortened(row, room, SMALL, bold=place == 0), SMALL, bold=place == 0)
            y += 4.2
    draft.paragraph((x, min(y, foot - 6.0)), room, TRUST_FIGURES, SMALL)
