"""Mock-up templates: every link, and the pins of wall and panel, at true size, as sheets to print, cut and bolt up.

The first sheet says what to do and carries a square to measure; then come the parts, each on one sheet where it fits,
else tiled. Every sheet has bars of 100 mm and 4 in both ways. Where a printer is known to miss (its 100 mm bar measures
98.5), all is drawn larger by as much, and then measures 100.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.files.atomic import write_whole
from app.files.errors import FileError, fault_of, shown_name
from app.files.mockup_options import BOLTS, MockupOptions
from app.files.mockup_parts import templates
from app.files.mockup_sheets import draw_how_to, draw_tile
from app.files.paper import PAPERS, Paper, Tile, tiling
from app.files.print_check import check_print, check_within
from app.lengths import style_of
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.files.drafting import Draft
    from app.lengths import Units
    from kinematics.project import Project

LEAST_HOLE, MOST_HOLE = 2.0, 40.0
MOST_SHEETS = 200


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its size (mm), what it is, the tile on it (None: the first sheet), and what draws it."""

    size: tuple[float, float]
    title: str
    tile: Tile | None
    draw: Callable[[Draft], None]


def usual_options(units: Units) -> MockupOptions:
    """Give what is taken unasked: the paper and bolts of where those units are at home."""
    inches = style_of(units).units == "in"
    return MockupOptions("Letter", 12.7, BOLTS['1/4"']) if inches else MockupOptions()


def mockup_sheets(project: Project, options: MockupOptions, units: Units | None = None) -> tuple[Sheet, ...]:
    """Lay out all sheets. Raises HingewrightError, a sentence, for options that make no sense and where nothing is to
    be printed.
    """
    units = units or project.display_units
    check_options(options, units)
    paper = PAPERS[options.paper]
    parts = [
        (template, tiling(template.box, paper, options.overlap, options.check.scale))
        for template in templates(project, options.hole, units)
    ]
    count = 1 + sum(len(tiled.tiles) for _, tiled in parts)
    if count > MOST_SHEETS:
        raise HingewrightError(
            f"that would take {count} sheets of {paper.name}, more than {MOST_SHEETS}",
            remedy="Take larger paper, or check the places of the pins.",
        )
    first = partial(draw_how_to, project, parts, options, units)
    sheets = [Sheet(_size(paper), "how to use these sheets", None, first)]
    for template, tiled in parts:
        for tile in tiled.tiles:
            number = f"{len(sheets) + 1} of {count}"
            draw = partial(draw_tile, template, tiled, tile, options, number)
            sheets.append(Sheet(_size(tiled.paper), template.title, tile, draw))
    return tuple(sheets)


def save_mockup(project: Project, path: Path | str, options: MockupOptions, units: Units | None = None) -> int:
    """Write the templates as a PDF; give the number of its pages. Raises HingewrightError; nothing is written then."""
    target = Path(path)
    sheets = mockup_sheets(project, options, units)
    content = _pages(project, sheets)
    try:
        write_whole(target, content)
    except OSError as problem:
        raise FileError(f"the templates can't be written: {fault_of(problem)}", shown_name(target)) from problem
    return len(sheets)


def mockup_bytes(project: Project, options: MockupOptions, units: Units | None = None) -> bytes:
    """The templates as a PDF's bytes. Raises HingewrightError as `mockup_sheets` does."""
    return _pages(project, mockup_sheets(project, options, units))


def _pages(project: Project, sheets: tuple[Sheet, ...]) -> bytes:
    from app.files.pdf import write_pages

    title = f"{project.title or 'Hinge'}: mock-up templates"
    return write_pages([(sheet.size, sheet.draw) for sheet in sheets], title)


def check_options(options: MockupOptions, units: Units) -> None:
    """Raise HingewrightError, a sentence, for options that make no sense."""
    check_print(options.paper, options.overlap, options.check, units)
    check_within("a hole", options.hole, LEAST_HOLE, MOST_HOLE, units)


def _size(paper: Paper) -> tuple[float, float]:
    return paper.wide, paper.tall
