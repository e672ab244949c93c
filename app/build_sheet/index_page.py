"""The index page for people: every file of the set, what it is for, how many, with a small drawing of each part.

`index.json` says the same for programs. A part's further formats stand in its row, as they are drawings of one thing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from app.build_sheet.bench_drawings import bare_part
from app.build_sheet.blocks import AFTER, BODY, TITLE, Block, Cautions, Paragraph, Words
from app.build_sheet.pages import FIRST, Flow, numbered, paper_for
from app.files.drafting import LINE, THIN
from app.files.paper import PAPERS
from app.lengths import format_length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.files.drafting import Draft, Page
    from app.lengths import Units
    from app.making.planned import CutPlan, Planned
    from kinematics.project import Project

WHAT_FOR = {
    "plate": "A link's plate: for the cutter.",
    "mount": "A part of what holds the hinge: for the cutter.",
    "templates": "To print at 100 % and tape to wall and skin: where holes come, left and right.",
    "mock-up": "To print at 100 % and glue on card: a mock-up of the hinge before metal is cut.",
    "parts": "What is cut and bought, with counts and spares: for the shop and the order. A spreadsheet reads it.",
    "build sheet": "The work step by step, with numbers, cautions and boxes to tick: for the bench.",
    "index page": "This page.",
}
"""By a file's kind."""
OTHER = "A file of the set."
FOR_PROGRAMS = "The same list for programs, with every hole's place and size."
BEGIN = "build sheet.pdf"
"""With which a builder begins."""
HEAD = "What is in this folder"
THUMB, TALL = 30.0, 13.0
"""Width and height of the small drawings, mm."""
COUNT = 20.0


@dataclass(slots=True)
class Entry(Block):
    """A file: a small drawing at the left, its path over what it is for, the count at the right."""

    path: str
    told: str
    count: str
    thumb: Callable[[Draft, tuple[float, float, float, float]], None]

    def _laid(self, wide: float) -> tuple[Words, Words]:
        room = wide - THUMB - COUNT - 8.0
        return Words(self.path, room, bold=True), Words(self.told, room)

    def tall(self, wide: float) -> float:
        """Of the words or of the drawing, whichever is more."""
        return max(sum(each.tall for each in self._laid(wide)), TALL) + 2.4

    def draw(self, draft: Draft, x: float, y: float, wide: float) -> None:
        """All of it, over a thin line."""
        self.thumb(draft, (x, y + 0.6, THUMB, TALL))
        path, told = self._laid(wide)
        path.draw(draft, x + THUMB + 4.0, y + 0.6)
        told.draw(draft, x + THUMB + 4.0, y + 0.6 + path.tall)
        draft.words((x + wide, y + 0.6 + BODY), self.count, 0.72 * BODY, align=1.0)
        tall = self.tall(wide)
        draft.line((x, y + tall - 0.7), (x + wide, y + tall - 0.7), THIN)


def index_pages(
    project: Project, cuts: Sequence[CutPlan], files: Sequence[Planned], faults: Sequence[str] = (), paper: str = ""
) -> list[Page]:
    """Lay the index page out.   files : this page's own among them.   paper : "": the usual one."""
    from app.files.application import ensure_application

    ensure_application()
    units = project.display_units
    sheet = PAPERS[paper or paper_for(units)]
    flow = Flow(sheet.wide, sheet.tall)
    title = project.title or "Hinge"
    flow.add([Paragraph(f"{HEAD}: {title}", TITLE, bold=True, after=3.0), Cautions((FIRST,))])
    flow.add([Paragraph(f"✗ {each}", bold=True) for each in faults])
    flow.add([Paragraph("", em=0.3 * BODY, after=AFTER)])
    flow.add(_entries(project, cuts, files, units))
    return numbered(flow, f"{title}: index")


def _entries(project: Project, cuts: Sequence[CutPlan], files: Sequence[Planned], units: Units) -> list[Block]:
    """Documents first, as a builder begins with these; then parts."""
    drawings: dict[str, list[str]] = {}
    for each in files:
        if each.kind == "drawing":
            drawings.setdefault(str(each.told.get("of", "")), []).append(each.path)
    by_name = {cut.path(each): cut for cut in cuts for each in ("dxf", "svg")}
    parts: list[Block] = []
    papers: list[Entry] = []
    for each in files:
        cut = by_name.get(each.path)
        if each.kind == "drawing":
            continue
        if cut is not None:
            parts.append(_part(project, cut, each, drawings.get(each.path, []), units))
        else:
            papers.append(Entry(each.path, WHAT_FOR.get(each.kind, OTHER), "", _sheet))
    papers.append(Entry("index.json", FOR_PROGRAMS, "", _sheet))
    return [*sorted(papers, key=lambda each: each.path != BEGIN), *parts]


def _part(project: Project, cut: CutPlan, file: Planned, others: Sequence[str], units: Units) -> Entry:
    metal = project.plating.of(cut.part.link).metal
    named = f", {metal.name}" if metal is not None else ""
    also = "".join(f", {path.rpartition('.')[2].upper()}" for path in others)
    told = f"{WHAT_FOR[file.kind]} {format_length(cut.part.thickness, units)}{named}."
    told += f" Also as{also[1:]}." if others else ""
    return Entry(file.path, told, f"{cut.count} off", partial(_thumb, cut))


def _thumb(cut: CutPlan, draft: Draft, place: tuple[float, float, float, float]) -> None:
    bare_part(cut).put(draft, place)


def _sheet(draft: Draft, place: tuple[float, float, float, float]) -> None:
    """A sheet of paper with lines on it."""
    left, top, wide, tall = place
    x = left + 0.5 * (wide - 0.7 * tall)
    draft.box(x, top, 0.7 * tall, tall, LINE)
    for k in range(1, 6):
        y = top + tall * k / 6.5
        draft.line((x + 0.1 * tall, y), (x + (0.6 if k % 3 else 0.4) * tall, y), THIN)
