"""What stands on the sheets of mock-up templates: the first sheet's words, and the parts (`app.files.tile_sheets`)."""

from __future__ import annotations

from functools import partial
from math import atan2, cos, degrees, sin
from typing import TYPE_CHECKING

from app.files.drafting import HEAVY, LINE, SMALL, THIN, TITLE, WORDS
from app.files.paper import MARGIN, PAPERS
from app.files.tile_sheets import GREY, INK, Sheet, check_square, draw_sheet
from app.sheet_words import MOCKUP_CAUTIONS, TRUST_FIGURES, how_to_words
from app.words import AIDS_TO_JUDGEMENT

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.files.drafting import Draft
    from app.files.mockup_options import MockupOptions
    from app.files.mockup_parts import Template
    from app.files.paper import Paper, Tile, Tiling
    from app.lengths import Units
    from kinematics.project import Project
    from kinematics.values import Point

LONGEST_TITLE = 80


# -------------------------------------------------------------------------------------------------------- parts, tiles
def draw_tile(template: Template, tiled: Tiling, tile: Tile, options: MockupOptions, number: str, draft: Draft) -> None:
    """Draw one tile of a part, with all that its sheet says."""
    notes = "; ".join(("as seen in the side view, true size", *template.notes))
    draw = partial(_part, draft, template, radius=options.hole * options.check.scale.short / 2)
    draw_sheet(draft, Sheet(template.title, notes, tiled, tile, options.overlap, options.check, number), draw)


def _part(draft: Draft, template: Template, placed: Callable[[Point], Point], *, radius: float) -> None:
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


# -------------------------------------------------------------------------------------------------------- first sheet
def draw_how_to(
    project: Project, parts: Sequence[tuple[Template, Tiling]], options: MockupOptions, units: Units, draft: Draft
) -> None:
    """Draw the first sheet: what to do, what to beware of, what follows, and a square to measure."""
    paper = PAPERS[options.paper]
    wide = paper.wide - 2 * MARGIN
    y = MARGIN
    title = f"{(project.title or 'Hinge')[:LONGEST_TITLE]}: mock-up templates"
    y += draft.paragraph((MARGIN, y), wide, title, TITLE, bold=True) + 2.0
    for number, said in enumerate(how_to_words(options.overlap, options.hole, units), 1):
        y += draft.paragraph((MARGIN, y), wide, f"{number}.  {said}", WORDS) + 1.0
    for said in (*MOCKUP_CAUTIONS, AIDS_TO_JUDGEMENT):
        y += draft.paragraph((MARGIN, y), wide, f"⚠  {said}", WORDS, bold=True) + 1.0
    left, top, side = check_square(draft, paper, options.check, units)
    _contents(draft, parts, (left + side + 8.0, max(y + 3.0, top)), paper)


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
