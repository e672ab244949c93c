"""The layout sheet: the hinge shut, half open and fully open, its pins, its checks and notes, on paper to hand on.

Always ink on white paper, on its side. The three pictures are at one scale and show the same part of the side view, so
that they compare; the hinge alone stands larger beside the table of its pins. What is too long for the first page goes
on the next.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from app.datums import datums
from app.dimensions import dimensions
from app.files.atomic import write_whole
from app.files.detail import LEAST_TIMES, linkage
from app.files.drafting import LINE, SMALL, THIN, TITLE, WORDS, wrapped
from app.files.errors import FileError, fault_of, shown_name
from app.files.paper import MARGIN, PAPERS, Paper
from app.files.pictures import draw_shapes
from app.lengths import format_angle, format_coordinate, style_of
from app.look import light
from app.made_picture import made_shapes
from app.shapes import placed, shapes
from app.sheet import Camera, extent, fitted, scale_bar
from app.traces import clearances, ghosts, paths
from app.words import AIDS_TO_JUDGEMENT, checks_summary, hidden_words, mobility_sentence, opening_sentence, worst_first
from kinematics.errors import HingewrightError
from kinematics.measuring import Readings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.files.drafting import Draft
    from app.lengths import Units
    from app.look import Look
    from app.shapes import Shape
    from kinematics.analysis import Analysis
    from kinematics.results import Pose

MM_PER_PX = 0.2
"""How large the board's pixel is on the sheet: its words are then 2.4 mm high."""
TITLE_ROOM, FOOT_ROOM, GAP = 15.0, 9.0, 4.0
PICTURES_SHARE = 0.47
ROW, LETTERS = 3.7, 2.2
JOINS_SHARE = 0.4
PICTURE_MARGINS = (34.0, 26.0, 34.0, 30.0)


@dataclass(frozen=True, slots=True)
class Row:
    """A line of words of a column; bold for headings."""

    words: str
    bold: bool = False
    ink: str = "#000000"


def save_layout_sheet(analysis: Analysis, path: Path | str, paper: str = "A4", units: Units | None = None) -> int:
    """Write the layout sheet as a PDF; give the number of its pages. Raises HingewrightError, and then nothing is
    written.
    """
    from app.files.pdf import write_pages

    target = Path(path)
    pages = layout_pages(analysis, paper, units)
    content = write_pages(pages, f"{analysis.project.title or 'Hinge'}: layout")
    try:
        write_whole(target, content)
    except OSError as problem:
        raise FileError(f"the sheet can't be written: {fault_of(problem)}", shown_name(target)) from problem
    return len(pages)


def layout_pages(
    analysis: Analysis, paper: str = "A4", units: Units | None = None
) -> list[tuple[tuple[float, float], partial[None]]]:
    """Lay out the pages: each a size (mm) and what draws it. Raises HingewrightError for a paper that isn't known."""
    from app.files.application import ensure_application

    ensure_application()
    if paper not in PAPERS:
        raise HingewrightError(f"“{paper}” is no paper known here", remedy=f"Take one of {', '.join(PAPERS)}.")
    sheet, units = PAPERS[paper].turned, units or analysis.project.display_units
    room = _column_room(sheet)
    wide = _column_wide(sheet)
    pins = _pin_rows(analysis, units, wide)
    told = _told_rows(analysis, units, wide)
    first = _First(analysis, sheet, units, tuple(pins[:room]), tuple(told[:room]))
    size = sheet.wide, sheet.tall
    pages = [(size, partial(_draw_first, first))]
    rest = [*_with_heading(pins, room, "Pins, continued"), *_with_heading(told, room, "Checks and notes, continued")]
    whole = int((sheet.tall - 2 * MARGIN - TITLE_ROOM - FOOT_ROOM) / ROW)
    for start in range(0, len(rest), 3 * whole):
        columns = [rest[start + place * whole : start + (place + 1) * whole] for place in range(3)]
        pages.append((size, partial(_draw_rest, analysis, sheet, columns)))
    return pages


def _with_heading(rows: list[Row], room: int, heading: str) -> list[Row]:
    return [Row(heading, bold=True), *rows[room:]] if len(rows) > room else []


@dataclass(frozen=True, slots=True)
class _First:
    """What stands on the first page."""

    analysis: Analysis
    sheet: Paper
    units: Units
    pins: tuple[Row, ...]
    told: tuple[Row, ...]


def _pictures_tall(sheet: Paper) -> float:
    return (sheet.tall - 2 * MARGIN - TITLE_ROOM - FOOT_ROOM) * PICTURES_SHARE


def _column_top(sheet: Paper) -> float:
    return MARGIN + TITLE_ROOM + _pictures_tall(sheet) + GAP


def _column_room(sheet: Paper) -> int:
    """Rows of a column beneath the pictures."""
    return int((sheet.tall - MARGIN - FOOT_ROOM - _column_top(sheet)) / ROW)


def _column_wide(sheet: Paper) -> float:
    return (sheet.wide - 2 * MARGIN - 2 * GAP) / 3


# --------------------------------------------------------------------------------------------------------------- words
def _pin_rows(analysis: Analysis, units: Units, wide: float) -> list[Row]:
    """The table of pins, shut; its columns are set by tabs."""
    unit = "in" if style_of(units).units == "in" else "mm"
    rows = [Row(f"Pins, shut ({unit}; x right, y up)", bold=True), Row("pin\tx\ty\tjoins", bold=True)]
    for pivot in analysis.project.pivots:
        x, y = (format_coordinate(value, units) for value in pivot.at)
        lock = " (locked)" if pivot.locked else ""
        first, *more = wrapped(", ".join(pivot.joins), JOINS_SHARE * wide, LETTERS)
        rows.append(Row(f"{pivot.id}{lock}\t{x}\t{y}\t{first}"))
        rows += [Row(f"\t\t\t{part}") for part in more]
    return rows


def _told_rows(analysis: Analysis, units: Units, wide: float) -> list[Row]:
    """Opening, checks, remarks and notes, wrapped."""
    project, look = analysis.project, light()
    rows = _wrapped([opening_sentence(analysis.opening, analysis.state, units), mobility_sentence(analysis)], wide)
    rows.append(Row(f"Checks: {checks_summary(analysis.checks)}", bold=True))
    for check, said in zip(analysis.checks, worst_first(analysis.checks, units), strict=True):
        rows += _wrapped([said], wide, look.ink if check.ok else look.fault)
    remarks = [*analysis.remarks, hidden_words(project)]
    rows += _wrapped([said for said in remarks if said], wide)
    if project.notes.strip():
        rows.append(Row("Notes", bold=True))
        rows += _wrapped(project.notes.strip().splitlines(), wide)
    return rows


def _wrapped(lines: Sequence[str], wide: float, ink: str = "#000000") -> list[Row]:
    return [Row(part, ink=ink) for line in lines for part in wrapped(_capital(line), wide, LETTERS)]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


# --------------------------------------------------------------------------------------------------------------- pages
def _draw_first(first: _First, draft: Draft) -> None:
    analysis, sheet, units = first.analysis, first.sheet, first.units
    _frame(draft, analysis, sheet)
    cameras = _pictures(draft, first)
    top, wide = _column_top(sheet), _column_wide(sheet)
    _table(draft, first.pins, (MARGIN, top), wide)
    left = MARGIN + wide + GAP
    _hinge(draft, first, cameras, (left, top, wide, sheet.tall - MARGIN - FOOT_ROOM - top - 2.0))
    _column(draft, first.told, (left + wide + GAP, top), wide)
    _scale(draft, cameras, sheet, units)


def _draw_rest(analysis: Analysis, sheet: Paper, columns: Sequence[Sequence[Row]], draft: Draft) -> None:
    _frame(draft, analysis, sheet)
    wide = _column_wide(sheet)
    for place, rows in enumerate(columns):
        _table(draft, rows, (MARGIN + place * (wide + GAP), MARGIN + TITLE_ROOM), wide)


def _frame(draft: Draft, analysis: Analysis, sheet: Paper) -> None:
    """Draw title and foot."""
    wide = sheet.wide - 2 * MARGIN
    title = draft.shortened(analysis.project.title or "Untitled hinge", wide, TITLE, bold=True)
    draft.words((MARGIN, MARGIN + 5.0), title, TITLE, bold=True)
    draft.line((MARGIN, MARGIN + 7.5), (sheet.wide - MARGIN, MARGIN + 7.5), LINE)
    draft.paragraph((MARGIN, sheet.tall - MARGIN - FOOT_ROOM + 1.5), wide, AIDS_TO_JUDGEMENT, SMALL * 0.9)


def _poses(analysis: Analysis) -> list[tuple[str, Pose]]:
    """Shut, half, full; shut alone where nothing opens."""
    reached = analysis.opening.reached_deg
    if reached <= 0.0:
        return [("shut", analysis.pose(0.0))]
    degs = (("shut", 0.0), ("half", reached / 2), ("full", reached))
    return [(f"{name}: {format_angle(deg)}" if deg else name, analysis.pose(deg)) for name, deg in degs]


def _pictures(draft: Draft, first: _First) -> Camera:
    """Draw the pictures in a row, all by one camera; give it."""
    analysis, sheet, units = first.analysis, first.sheet, first.units
    poses = _poses(analysis)
    tall = _pictures_tall(sheet)
    wide = (sheet.wide - 2 * MARGIN - (len(poses) - 1) * GAP) / len(poses)
    size = wide / MM_PER_PX, (tall - ROW) / MM_PER_PX
    camera = fitted(extent(analysis.project, analysis), size, PICTURE_MARGINS)
    for place, (name, pose) in enumerate(poses):
        left = MARGIN + place * (wide + GAP)
        top = MARGIN + TITLE_ROOM
        draft.words((left, top - 1.5), _capital(name), WORDS, bold=True)
        found = _shapes(analysis, pose, units, swept=place == len(poses) - 1)
        _picture(draft, found, analysis, pose, camera, (left, top, wide, tall - ROW))
    return camera


def _shapes(analysis: Analysis, pose: Pose, units: Units, swept: bool) -> list[Shape]:
    """Give what a picture shows; the last one also where the panel passed, and how near it came."""
    look = _look()
    found = [*shapes(analysis.project, look), *datums(analysis.project, look, units)]
    found += dimensions(Readings(analysis), pose, look, units)
    found += made_shapes(analysis, pose.deg, look, units)
    if swept:
        found += [*ghosts(analysis, look), *paths(analysis, look), *clearances(analysis, look, units)]
    return found


def _look() -> Look:
    return replace(light(), paper="#ffffff", edge="#777777")


def _picture(
    draft: Draft,
    found: list[Shape],
    analysis: Analysis,
    pose: Pose,
    camera: Camera,
    place: tuple[float, float, float, float],
) -> None:
    with draft.pixels(place, MM_PER_PX) as painter:
        draw_shapes(painter, found, placed(analysis, pose), camera, _look())
    draft.box(*place, THIN)


def _hinge(draft: Draft, first: _First, whole: Camera, place: tuple[float, float, float, float]) -> None:
    """Draw the hinge alone, shut, larger."""
    analysis = first.analysis
    pose = analysis.pose(0.0)
    spots = linkage(placed(analysis, pose), analysis)
    if len(spots) < 2:
        return
    size = place[2] / MM_PER_PX, place[3] / MM_PER_PX
    near = fitted(np.asarray(spots), size, (60.0, 34.0, 60.0, 40.0))
    times = near.scale / whole.scale
    if times < LEAST_TIMES:
        return
    draft.words((place[0], place[1] - 1.5), f"The hinge, shut, {times:.1f} times as large", WORDS, bold=True)
    _picture(draft, shapes(analysis.project, _look()), analysis, pose, near, place)


def _scale(draft: Draft, camera: Camera, sheet: Paper, units: Units) -> None:
    """Draw the scale bar of the three pictures, above them at the right."""
    length, text = scale_bar(camera.scale, units, 200.0)
    long = length * camera.scale * MM_PER_PX
    right, y = sheet.wide - MARGIN, MARGIN + TITLE_ROOM - 2.0
    draft.line((right - long, y), (right, y), LINE)
    for x in (right - long, right):
        draft.line((x, y - 1.0), (x, y + 1.0), LINE)
    draft.words((right - long - 2.0, y + 0.8), text, SMALL, align=1.0)


def _table(draft: Draft, rows: Sequence[Row], at: tuple[float, float], wide: float) -> None:
    """Write rows whose cells are parted by tabs: name, two numbers to the right, the rest."""
    stops = ((0.0, 0.0, 0.24), (0.4, 1.0, 0.16), (0.56, 1.0, 0.16), (1.0 - JOINS_SHARE, 0.0, JOINS_SHARE))
    for number, row in enumerate(rows):
        y = at[1] + (number + 1) * ROW - 1.0
        cells = row.words.split("\t")
        if len(cells) == 1:
            _words(draft, row, cells[0], (at[0], y), wide)
            continue
        for cell, (share, align, room) in zip(cells, stops, strict=False):
            _words(draft, row, cell, (at[0] + share * wide, y), room * wide, align)


def _column(draft: Draft, rows: Sequence[Row], at: tuple[float, float], wide: float) -> None:
    for number, row in enumerate(rows):
        _words(draft, row, row.words, (at[0], at[1] + (number + 1) * ROW - 1.0), wide)


def _words(draft: Draft, row: Row, words: str, at: tuple[float, float], room: float, align: float = 0.0) -> None:
    draft.ink = row.ink
    draft.words(at, draft.shortened(words, room, LETTERS, bold=row.bold), LETTERS, bold=row.bold, align=align)
    draft.ink = "#000000"
