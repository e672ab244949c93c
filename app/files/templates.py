"""Templates for the drill: where the holes come on wall and panel, left and right, full size, as sheets to print.

The first sheet says what to do, what is missing, and carries a square to measure; then a list of all figures, then the
faces, left and right: mirrored, but for their words. A face is on one sheet where it fits, else tiled. Every sheet has
bars of 100 mm and 4 in both ways. A printer that is known to miss has all drawn larger or smaller by as much, along
each side of the sheet by its own.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from app.files.atomic import write_whole
from app.files.errors import FileError, fault_of, shown_name
from app.files.paper import PAPERS, USUAL_OVERLAP, tiling
from app.files.print_check import PrintCheck, check_print
from app.files.template_figures import tables_of
from app.files.template_parts import FaceTemplate, wall_template
from app.files.template_sheets import FirstSheet, draw_face, draw_first, draw_list, draw_setout, rows_on
from app.files.template_skin import skin_template
from app.files.tile_sheets import Sheet
from app.hardware import hardware
from app.lengths import format_length, style_of
from app.setout.drawing import setout_figure
from app.template_words import ALONG_AND_SQUARE, AS_SET, DRILL_CAUTIONS, MISSING, steps
from kinematics.errors import HingewrightError
from kinematics.marking_out import skin_marks, wall_marks
from kinematics.wall_parts import HANDS

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.files.drafting import Draft
    from app.files.template_sheets import Table
    from app.lengths import Units
    from app.setout.views import View
    from kinematics.marking_out import SkinMarks, WallMarks
    from kinematics.project import Project

MOST_SHEETS = 200
SETOUT, FIGURES = "where both hinges come", "all figures"
LONGEST = 20_000.0
"""A face longer than this, mm, is none to print."""


@dataclass(frozen=True, slots=True)
class TemplateOptions:
    """How templates are printed.   paper : of `PAPERS`.   overlap : mm that tiles share.   check : of a print."""

    paper: str = "A4"
    overlap: float = USUAL_OVERLAP
    check: PrintCheck = field(default_factory=PrintCheck)


@dataclass(frozen=True, slots=True)
class TemplateSheet:
    """One sheet: its size (mm), what it is, the face on it with its tiles (None: words), and what draws it."""

    size: tuple[float, float]
    title: str
    draw: Callable[[Draft], None]
    face: FaceTemplate | None = None
    sheet: Sheet | None = None


def usual_templates(units: Units) -> TemplateOptions:
    """Give what is taken unasked: the paper of where those units are at home."""
    return TemplateOptions("Letter", 12.7) if style_of(units).units == "in" else TemplateOptions()


def template_sheets(
    project: Project, options: TemplateOptions, units: Units | None = None, web_off: float | None = None
) -> tuple[TemplateSheet, ...]:
    """Lay out all sheets; without base or bracket the first one says what is missing, and the rest follows.

    web_off : how far the middle of the bracket's web lies outboard of the base's middle (`app.stacked.web_off`).
    Raises HingewrightError, a sentence, for options that make no sense, without pins, and where the paper is too small.
    """
    units = units or project.display_units
    check_templates(options, units)
    if not project.pivots:
        raise HingewrightError("there are no pins yet, so there is nothing to print", remedy="Place the pins first.")
    walls = [wall_marks(project, hardware(), hand) for hand in HANDS]
    skins = [skin_marks(project, hardware(), hand, web_off) for hand in HANDS]
    faces = [wall_template(project, each, units) for each in walls if each is not None]
    faces += [skin_template(project, each, units) for each in skins if each is not None]
    _check_sizes(faces, units)
    views = setout_figure(project, None, units, off=web_off).views
    return _sheets(project, options, units, (views, faces), (walls, skins))


def check_templates(options: TemplateOptions, units: Units) -> None:
    """Raise HingewrightError, a sentence, for options that make no sense."""
    check_print(options.paper, options.overlap, options.check, units)


def _check_sizes(faces: Sequence[FaceTemplate], units: Units) -> None:
    for face in faces:
        if not max(face.box.wide, face.box.tall) <= LONGEST:
            raise HingewrightError(
                f"it is longer than {format_length(LONGEST, units)}", face.title, "Check the places of its pins."
            )


def lacking(project: Project) -> tuple[str, ...]:
    """Say what can't be printed of a project, and why."""
    tables, hand = hardware(), HANDS[0]
    return missing_words(project, wall_marks(project, tables, hand), skin_marks(project, tables, hand))


def missing_words(project: Project, wall: WallMarks | None, skin: SkinMarks | None) -> tuple[str, ...]:
    """Say what can't be printed, and why."""
    told, mounted = [], project.mounted
    if wall is None:
        bare = not project.pivots_on(project.fixed.id)
        word = "base" if mounted.base is None else "pins" if bare else "lies"
        told.append(MISSING[word].format(link=project.fixed.id))
    if skin is None:
        told.append(MISSING["bracket" if mounted.bracket is None else "pins"].format(link=project.panel.id))
    return tuple(told)


def _sheets(
    project: Project,
    options: TemplateOptions,
    units: Units,
    drawn: tuple[Sequence[View], Sequence[FaceTemplate]],
    marks: tuple[list[WallMarks | None], list[SkinMarks | None]],
) -> tuple[TemplateSheet, ...]:
    """All sheets, once it is known what is on them.   drawn : views of the set-out, faces.   marks : of each hand."""
    views, faces = drawn
    paper, title = PAPERS[options.paper], project.title or "Hinge"
    size, (wall, skin) = (paper.wide, paper.tall), (marks[0][0], marks[1][0])
    tiled = [(face, tiling(face.box, paper, options.overlap, options.check.scale)) for face in faces]
    listed = _in_pages(tables_of(marks[0], marks[1], units), rows_on(paper))
    count = 1 + bool(views) + len(listed) + sum(len(each.tiles) for _, each in tiled)
    if count > MOST_SHEETS:
        raise HingewrightError(
            f"that would take {count} sheets of {paper.name}, more than {MOST_SHEETS}",
            remedy="Take larger paper, or check the places of the pins.",
        )
    missing = missing_words(project, wall, skin)
    said = steps(wall, skin, options.overlap, units)
    titles = [SETOUT] * bool(views) + [FIGURES] * len(listed) + [face.title for face, each in tiled for _ in each.tiles]
    words = FirstSheet(title, said, DRILL_CAUTIONS, missing, _contents(titles))
    sheets = [TemplateSheet(size, "how to use these sheets", partial(draw_first, words, paper, options.check, units))]

    def number() -> str:
        return f"{len(sheets) + 1} of {count}"

    if views:
        sheets.append(TemplateSheet(size, SETOUT, partial(draw_setout, views, number(), paper, options.check)))
    told = f"{ALONG_AND_SQUARE} {AS_SET}"
    for tables in listed:
        draw = partial(draw_list, title, told, tables, number(), paper, options.check)
        sheets.append(TemplateSheet(size, FIGURES, draw))
    for face, cut in tiled:
        for tile in cut.tiles:
            sheet = Sheet(face.title, "; ".join(face.notes), cut, tile, options.overlap, options.check, number())
            lying = (cut.paper.wide, cut.paper.tall)
            sheets.append(TemplateSheet(lying, face.title, partial(draw_face, face, sheet), face, sheet))
    return tuple(sheets)


def _contents(titles: Sequence[str]) -> tuple[str, ...]:
    """What is on which sheets, from the second on."""
    told, at = [], 2
    for title, group in groupby(titles):
        count = len(list(group))
        told.append(f"sheet {at}: {title}" if count == 1 else f"sheets {at} to {at + count - 1}: {title}")
        at += count
    return tuple(told)


def _in_pages(tables: Sequence[Table], most: int) -> list[list[Table]]:
    """Tables on sheets of so many rows: whole where one sheet holds them, else they go on on the next."""
    pages: list[list[Table]] = []
    left = 0
    for heading, columns, rows in tables:
        rest = list(rows)
        while rest:
            if left < (len(rest) + 3 if len(rest) + 3 <= most else 5):
                pages.append([])
                left = most
            taken, rest = rest[: left - 3], rest[left - 3 :]
            pages[-1].append((heading, columns, tuple(taken)))
            left -= len(taken) + 3
    return pages


def template_bytes(
    project: Project, options: TemplateOptions, units: Units | None = None, web_off: float | None = None
) -> bytes:
    """The templates as a PDF's bytes. Raises HingewrightError as `template_sheets` does."""
    from app.files.pdf import write_pages

    sheets = template_sheets(project, options, units, web_off)
    return write_pages([(sheet.size, sheet.draw) for sheet in sheets], f"{project.title or 'Hinge'}: templates")


def save_templates(
    project: Project,
    path: Path | str,
    options: TemplateOptions,
    units: Units | None = None,
    web_off: float | None = None,
) -> None:
    """Write the templates as a PDF. Raises HingewrightError; nothing is written then."""
    target = Path(path)
    content = template_bytes(project, options, units, web_off)
    try:
        write_whole(target, content)
    except OSError as problem:
        raise FileError(f"the templates can't be written: {fault_of(problem)}", shown_name(target)) from problem
