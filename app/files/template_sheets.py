"""What stands on the sheets of the templates for the drill: the first sheet, the list of all figures, and the faces."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from app.files.drafting import HEAVY, LINE, SMALL, THIN, TITLE, WORDS
from app.files.paper import HEAD, LEFT, MARGIN
from app.files.tile_sheets import FOUR_INCHES, GREY, INK, Sheet, check_square, draw_bars, draw_sheet
from app.words import AIDS_TO_JUDGEMENT

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.files.drafting import Draft
    from app.files.paper import Paper
    from app.files.print_check import PrintCheck
    from app.files.template_parts import Drill, FaceTemplate
    from app.lengths import Units
    from app.setout.views import View
    from kinematics.values import Point

FAINT = "#b8b8b8"
LOOKS: dict[str, tuple[float, tuple[float, ...], str]] = {
    "edge": (HEAVY, (), INK),
    "outline": (LINE, (2.0, 1.0), INK),
    "slot": (THIN, (), GREY),
    "cross": (THIN, (), INK),
    "links": (LINE, (10.0, 1.5, 1.0, 1.5), INK),
    "datum": (LINE, (6.0, 1.5), INK),
    "wall edge": (HEAVY, (), GREY),
    "offset": (THIN, (), FAINT),
}
"""Weight (mm), dashes and ink of each kind of line."""
ORDER = ("offset", "slot", "wall edge", "outline", "edge", "links", "datum", "cross")
ARM = 3.0
"""Mm by which the cross of a hole reaches beyond its largest circle."""
NUMBER, FINE, STEP = 4.5, 2.2, 3.2
ALIGNED = {-1: 1.0, 0: 0.5, 1: 0.0}
ROW = 4.6
LONGEST_TITLE = 80
Table = tuple[str, tuple[str, ...], tuple[tuple[str, ...], ...]]
"""A heading, the columns' names, and rows."""


# --------------------------------------------------------------------------------------------------------------- faces
def draw_face(template: FaceTemplate, sheet: Sheet, draft: Draft) -> None:
    """Draw one tile of a face, with all that its sheet says."""
    draw_sheet(draft, sheet, partial(_face, draft, template, sheet.tiled.scale))


def _face(draft: Draft, template: FaceTemplate, scale: Point, placed: Callable[[Point], Point]) -> None:
    """Draw faint lines first and holes last, so that no hole is hidden."""
    for line in sorted(template.lines, key=lambda each: ORDER.index(each.kind)):
        weight, dash, draft.ink = LOOKS[line.kind]
        draft.polyline([placed(point) for point in line.points], line.closed, weight, dash)
    draft.ink = INK
    for word in template.words:
        draft.words(placed(word.at), word.text, word.height, bold=word.bold, align=word.align, turn=word.turn)
    for drill in template.drills:
        _drill(draft, drill, placed, scale)


def _drill(draft: Draft, drill: Drill, placed: Callable[[Point], Point], scale: Point) -> None:
    """Draw a hole: its circles, a cross at its centre, its number, and its words, perhaps at the end of a leader."""
    x, y = at = placed(drill.at)
    reach = 0.0
    for across, up in drill.rings:
        ways = [(way.real * scale[0], -way.imag * scale[1]) for way in (across, up)]
        draft.oval(at, ways[0], ways[1], LINE)
        reach = max(reach, *(abs(part) for way in ways for part in way))
    arm = reach + ARM
    draft.line((x - arm, y), (x + arm, y), THIN)
    draft.line((x, y - arm), (x, y + arm), THIN)
    side = drill.side or 1
    beside = x + side * (reach + 1.0)
    draft.words((beside, y - 1.4), drill.name, NUMBER, bold=True, align=ALIGNED[side])
    first = -1.4 - NUMBER - 1.6 - STEP * (len(drill.notes) - 1) if drill.above else arm + 3.2 if not drill.side else 4.2
    if drill.beside is not None:
        x, first = placed((drill.beside, drill.at[1]))[0], 1.0
        draft.ink = GREY
        draft.line((at[0] + side * arm, y), (x, y), THIN)
        draft.ink, beside = INK, x + side
    if not drill.side:
        beside = x
    for row, note in enumerate(drill.notes):
        draft.words((beside, y + first + STEP * row), note, FINE, align=ALIGNED[drill.side])


# --------------------------------------------------------------------------------------------------------- first sheet
HEIGHTS = (WORDS, 2.7, 2.4, 2.1, 1.8)
"""Heights of letters on the first sheet: the first is taken at which all fits above the square."""


def _tall(draft: Draft, said: Sequence[tuple[str, bool]], wide: float, height: float) -> float:
    """How much of a sheet's height paragraphs take."""
    return sum(draft.tall(told, wide, height, bold=bold) + 1.0 for told, bold in said)


@dataclass(frozen=True, slots=True)
class FirstSheet:
    """What the first sheet says: title, steps, cautions, what is missing, what follows."""

    title: str
    said: tuple[str, ...]
    warned: tuple[str, ...]
    missing: tuple[str, ...]
    contents: tuple[str, ...]


def draw_first(words: FirstSheet, paper: Paper, check: PrintCheck, units: Units, draft: Draft) -> None:
    """Draw the first sheet, with a square to measure."""
    wide, y = paper.wide - 2 * MARGIN, MARGIN
    y += draft.paragraph((MARGIN, y), wide, f"{words.title[:LONGEST_TITLE]}: templates", TITLE, bold=True) + 2.0
    said = [(f"✗  {told}", True) for told in words.missing]
    said += [(f"{number}.  {told}", False) for number, told in enumerate(words.said, 1)]
    said += [(f"⚠  {told}", True) for told in (*words.warned, AIDS_TO_JUDGEMENT)]
    room = paper.tall - MARGIN - check.scale.on(paper)[1] * FOUR_INCHES - 10.0 - y
    height = next((each for each in HEIGHTS if _tall(draft, said, wide, each) <= room), HEIGHTS[-1])
    for told, bold in said:
        y += draft.paragraph((MARGIN, y), wide, told, height, bold=bold) + 1.0
    left, top, side = check_square(draft, paper, check, units)
    x, y = left + side + 8.0, max(y + 3.0, top)
    draft.words((x, y + 3.0), "What follows", WORDS, bold=True)
    for row, told in enumerate(words.contents, 1):
        room = paper.wide - MARGIN - x
        draft.words((x, y + 3.0 + ROW * row), draft.shortened(told, room, SMALL), SMALL)


# ------------------------------------------------------------------------------------------------------------- set-out
def draw_setout(views: Sequence[View], number: str, paper: Paper, check: PrintCheck, draft: Draft) -> None:
    """Draw a sheet with the views of the set-out beneath each other, not to the templates' scale."""
    from app.look import light  # both know the painter
    from app.setout.put import draw_on_paper

    draft.words((MARGIN, MARGIN + 4.0), "Where both hinges come", 4.0, bold=True)
    draft.words((paper.wide - MARGIN, MARGIN + 4.0), f"sheet {number}", SMALL, align=1.0)
    draft.words((MARGIN, MARGIN + HEAD - 2.0), "not to scale with the templates: measure by the figures", SMALL)
    left, top, wide, tall = paper.area
    each = tall / max(len(views), 1)
    for place, view in enumerate(views):
        y = top + place * each
        draft.words((left + 2.0, y + 5.0), draft.shortened(view.title, wide - 4.0, SMALL, bold=True), SMALL, bold=True)
        draw_on_paper(draft, view, (left, y + 7.0, wide, each - 9.0), light())
    draw_bars(draft, paper, check)


# ------------------------------------------------------------------------------------------------------------- figures
def rows_on(paper: Paper) -> int:
    """How many rows of the list a sheet holds."""
    return int((paper.area[3] - 26.0) / ROW)


def draw_list(
    title: str, told: str, tables: Sequence[Table], number: str, paper: Paper, check: PrintCheck, draft: Draft
) -> None:
    """Draw a sheet of the list of figures."""
    left, y = MARGIN + LEFT + 2.0, MARGIN
    draft.words((MARGIN, y + 4.0), "All figures, to measure by", 4.0, bold=True)
    draft.words((paper.wide - MARGIN, y + 4.0), f"sheet {number}", SMALL, align=1.0)
    draft.words((MARGIN, y + HEAD - 2.0), draft.shortened(title, paper.wide - 2 * MARGIN, SMALL), SMALL)
    wide = paper.wide - left - MARGIN
    y += HEAD + draft.paragraph((left, y + HEAD), wide, told, SMALL) + 3.0
    for heading, columns, rows in tables:
        y += ROW
        draft.words((left, y), draft.shortened(heading, wide, WORDS, bold=True), WORDS, bold=True)
        y = _table(draft, (left, y), wide, columns, rows) + 0.5 * ROW
    draw_bars(draft, paper, check)


def _table(draft: Draft, at: Point, wide: float, columns: Sequence[str], rows: Sequence[Sequence[str]]) -> float:
    """Draw a table; give where it ends."""
    x, y = at
    step = wide / max(len(columns), 1)
    draft.ink = GREY
    y += ROW
    for place, name in enumerate(columns):
        draft.words((x + place * step, y), name, SMALL)
    draft.ink = INK
    for row in rows:
        y += ROW
        for place, cell in enumerate(row):
            draft.words((x + place * step, y), draft.shortened(cell, step - 1.0, WORDS), WORDS)
    return y
