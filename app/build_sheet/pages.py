"""The build sheet laid out: steps flow over sheets of paper, drawings beside the words where there is room.

Each step begins with its number and title; then what hurts people, what is needed, what is done, what is checked.
Drawings that aren't wide stand at the right of the words; those for which the words are too short come two by two
beneath them; wide ones last. A step's head never stands alone at the foot of a sheet. The first sheet says what the
figures are, what is built, and lists the steps.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING

from app.build_sheet.blocks import BODY, TITLE, Block, Cautions, Heading, Paragraph, Row, TableLaid, Words
from app.build_sheet.drawings import picture_of
from app.build_sheet.step import Drawing, Table
from app.build_sheet.steps import steps_of
from app.files.drafting import LINE, THIN
from app.files.paper import PAPERS
from app.lengths import style_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.build_sheet.facts import Facts
    from app.build_sheet.step import Step
    from app.files.drafting import Draft, Page
    from app.lengths import Units

MARGIN, FOOT = 13.0, 9.0
"""Mm left free round a sheet; beneath the words, for the sheet's number."""
GAP, BETWEEN = 5.0, 4.5
"""Mm between words and drawings; between steps."""
SIDE = 0.43
"""Of the width that drawings beside the words have."""
LONGER = 18.0
"""Mm by which drawings beside words may reach further down than these."""
SHRUNK = 0.8
"""A wide drawing may be so much less tall where that keeps it on the sheet."""
FIRST = (
    "The figures on these sheets follow from what was drawn. They are aids to judgement: they don't replace local "
    "codes, nor licensed or professional review, nor a measuring tape. What moves, lifts or is welded is to be "
    "looked at by somebody of the trade before anybody stands under the panel."
)
HOW = (
    "Steps stand in the order of the work. Read a step to its end before you begin it; what is framed comes first. "
    "Tick each box once you have measured. Left and right are those of one who looks from the panel's rear edge to its "
    "front."
)
FAULTS = "Mend these first, then print anew:"


@dataclass(slots=True)
class Flow:
    """Sheets that are being filled.   y : where the next block goes.   beside : (from x, down to y) of drawings."""

    wide: float
    tall: float
    pages: list[list[Callable[[Draft], None]]] = field(default_factory=lambda: [[]])
    y: float = MARGIN
    beside: float = 0.0

    @property
    def room(self) -> float:
        """The width of the words."""
        return self.wide - 2.0 * MARGIN

    @property
    def foot(self) -> float:
        """Down to where they go."""
        return self.tall - MARGIN - FOOT

    @property
    def narrow(self) -> float:
        """The width beside drawings."""
        return self.room * (1.0 - SIDE) - GAP

    @property
    def fresh(self) -> bool:
        """Whether nothing stands on the sheet yet."""
        return not self.pages[-1]

    def turn(self) -> None:
        """Begin another sheet."""
        if not self.fresh:
            self.pages.append([])
        self.y, self.beside = MARGIN, 0.0

    def width_here(self) -> float:
        """How wide words are at this height."""
        return self.narrow if self.y < self.beside - 0.5 else self.room

    def add(self, blocks: Sequence[Block]) -> None:
        """Put blocks one beneath the other; a row that begins a sheet gets its table's head again."""
        for place, block in enumerate(blocks):
            need = block.tall(self._width_of(block))
            if block.keeps and place + 1 < len(blocks):
                need += blocks[place + 1].tall(self._width_of(blocks[place + 1]))
            if self.y + need > self.foot and not self.fresh:
                self.turn()
                self._again(blocks, place)
            self._put(block)

    def _again(self, blocks: Sequence[Block], place: int) -> None:
        """The head of the table whose row comes next, unless that is the head itself."""
        table = getattr(blocks[place], "table", None)
        if table is not None and not getattr(blocks[place], "bold", False):
            self._put(table.blocks()[0])

    def _width_of(self, block: Block) -> float:
        """At which a block stands here; the rows of a table all stand at that of its head."""
        table = getattr(block, "table", None)
        if table is None:
            return self.width_here()
        if table.wide is None or (getattr(block, "bold", False) and not self.fresh):
            table.wide = self.width_here()
        return float(table.wide)

    def _put(self, block: Block) -> None:
        wide = self._width_of(block)
        self.pages[-1].append(partial(_at, block, MARGIN, self.y, wide))
        self.y += block.tall(wide)

    def clear(self) -> None:
        """Go on beneath the drawings."""
        self.y, self.beside = max(self.y, self.beside), 0.0


def _at(block: Block, x: float, y: float, wide: float, draft: Draft) -> None:
    block.draw(draft, x, y, wide)


# Drawings -------------------------------------------------------------------------------------------------------------


@dataclass(slots=True)
class Drawn:
    """A drawing with its words, in a room so wide."""

    facts: Facts
    drawing: Drawing
    wide: float

    @property
    def caption(self) -> Words:
        """What stands beneath it."""
        return Words(self.drawing.caption, self.wide)

    @property
    def tall(self) -> float:
        """With its words."""
        return self.drawing.tall + 1.0 + self.caption.tall + 2.5

    def draw(self, x: float, y: float, draft: Draft) -> None:
        """Draw it with its upper left corner there."""
        tall = self.drawing.tall
        picture_of(self.facts, self.drawing, self.wide).put(draft, (x, y, self.wide, tall))
        draft.box(x, y, self.wide, tall, THIN)
        self.caption.draw(draft, x, y + tall + 1.0)


class _Sheets:
    """The build sheet while it is laid out."""

    def __init__(self, facts: Facts, paper: str, faults: Sequence[str]) -> None:
        sheet = PAPERS[paper]
        self.facts, self.faults = facts, tuple(faults)
        self.flow = Flow(sheet.wide, sheet.tall)
        self.steps = steps_of(facts)
        self.starts: dict[int, int] = {}

    def laid(self) -> list[Page]:
        """All sheets."""
        self._first()
        for number, step in enumerate(self.steps, 1):
            self._step(number, step)
        return numbered(self.flow, f"{self.facts.project.title or 'Hinge'}: build sheet")

    # The first sheet --------------------------------------------------------------------------------------------------

    def _first(self) -> None:
        flow, facts = self.flow, self.facts
        flow.add([Paragraph(f"Build sheet: {facts.project.title or 'hinge'}", TITLE, bold=True, after=3.0)])
        flow.add([Cautions((FIRST,)), Paragraph(HOW, after=2.0), *(Paragraph(each) for each in self._about())])
        if self.faults:
            flow.add([Paragraph(FAULTS, bold=True), *(Paragraph(f"✗ {each}") for each in self.faults)])
        flow.y += 2.0
        self._place(Drawing("near", "0", "The hinge shut.", tall=62.0))
        if facts.moves:
            deg = facts.analysis.opening.reached_deg
            room = flow.foot - flow.beside - 10.0
            self._place(Drawing("pose", f"{deg}", f"Open by {facts.deg(deg)}.", tall=min(max(room, 60.0), 120.0)))
        flow.add([Paragraph("Steps", bold=True)])
        for number, step in enumerate(self.steps, 1):
            flow.add([_Entry(self.starts, number, step.title)])
        flow.clear()
        flow.turn()

    def _about(self) -> list[str]:
        """What is built, in a few lines."""
        facts, project = self.facts, self.facts.project
        lengths = "inches and fractions of them" if style_of(facts.units).units == "in" else "mm"
        said = (
            f"{facts.hinges} hinges, {len(project.pivots)} pins each, {sum(cut.count for cut in facts.cuts)} cut parts."
        )
        opens = f" The panel opens to {facts.deg(facts.analysis.opening.reached_deg)}." if facts.moves else ""
        return [f"{said}{opens} Lengths are in {lengths}."]

    def _place(self, drawing: Drawing) -> bool:
        """A drawing beside the words; False where the sheet has no room for it."""
        flow = self.flow
        wide = flow.room * SIDE
        drawn = Drawn(self.facts, drawing, wide)
        top = max(flow.y, flow.beside)
        if top + drawn.tall > flow.foot:
            return False
        flow.pages[-1].append(partial(drawn.draw, flow.wide - MARGIN - wide, top))
        flow.beside = top + drawn.tall
        return True

    # A step -----------------------------------------------------------------------------------------------------------

    def _step(self, number: int, step: Step) -> None:
        flow = self.flow
        flow.clear()
        if not flow.fresh:
            flow.y += BETWEEN
        blocks, slim = _blocks(step), [each for each in step.drawings if not each.wide]
        squeezed = any(each.natural > flow.narrow for each in _tables(blocks))
        heading = Heading(f"{number}", step.title, keeps=True)
        need = heading.tall(flow.room) + sum(
            each.tall(flow.narrow if slim and not squeezed else flow.room)
            for each in blocks[: bool(step.cautions) + bool(step.needs) + 1]
        )
        if slim and not squeezed:
            need = max(need, heading.tall(flow.room) + Drawn(self.facts, slim[0], flow.room * SIDE).tall)
        if flow.y + need > flow.foot:
            flow.turn()
        self.starts[number] = len(flow.pages)
        flow.add([heading])
        later = slim if squeezed else self._beside(blocks, slim)
        flow.add(blocks)
        flow.clear()
        self._rows(later)
        for drawing in step.drawings:
            if drawing.wide:
                self._wide(drawing)

    def _beside(self, blocks: Sequence[Block], slim: Sequence[Drawing]) -> list[Drawing]:
        """Put drawings beside the words where these reach as far down; else give them all, for rows beneath."""
        flow = self.flow
        reach = min(flow.y + sum(each.tall(flow.narrow) for each in blocks) + LONGER, flow.foot)
        foot = flow.y + sum(Drawn(self.facts, each, flow.room * SIDE).tall for each in slim)
        if foot > reach and len(slim) > 1:
            return list(slim)
        return [each for each in slim if not self._place(each)]

    def _rows(self, drawings: Sequence[Drawing]) -> None:
        """Two drawings beside each other, beneath the words; one alone has the whole width."""
        flow = self.flow
        if len(drawings) == 1:
            self._wide(drawings[0])
            return
        wide = 0.5 * (flow.room - GAP)
        for start in range(0, len(drawings), 2):
            pair = [Drawn(self.facts, each, wide) for each in drawings[start : start + 2]]
            tall = max(each.tall for each in pair)
            if flow.y + tall > flow.foot:
                flow.turn()
            for place, each in enumerate(pair):
                flow.pages[-1].append(partial(each.draw, MARGIN + place * (wide + GAP), flow.y))
            flow.y += tall

    def _wide(self, drawing: Drawing) -> None:
        flow = self.flow
        flow.y += 1.0
        drawn = Drawn(self.facts, drawing, flow.room)
        over = flow.y + drawn.tall - flow.foot
        if 0.0 < over <= (1.0 - SHRUNK) * drawing.tall:
            drawn = Drawn(self.facts, replace(drawing, tall=drawing.tall - over), flow.room)
        elif over > 0.0:
            flow.turn()
        flow.pages[-1].append(partial(drawn.draw, MARGIN, flow.y))
        flow.y += drawn.tall


def _tables(blocks: Sequence[Block]) -> list[TableLaid]:
    """The tables whose rows are among blocks."""
    return [each.table for each in blocks if isinstance(each, Row) and each.bold]


def _blocks(step: Step) -> list[Block]:
    """The words of a step, in order."""
    found: list[Block] = [Cautions(step.cautions)] if step.cautions else []
    if step.needs:
        found.append(Paragraph(f"Needed: {'; '.join(step.needs)}.", after=2.0))
    for each in step.does:
        if isinstance(each, Table):
            found += TableLaid(each).blocks()
            found.append(Paragraph("", em=0.4 * BODY, after=0.0))
        else:
            found.append(Paragraph(each, mark="•"))
    last = len(step.checks) - 2  # the last box never stands alone on a sheet
    found += [Paragraph(each, mark="☐", keeps=place == last) for place, each in enumerate(step.checks)]
    return found


@dataclass(slots=True)
class _Entry(Block):
    """A line of the list of steps; the sheet on which it begins is known once all is laid out."""

    starts: dict[int, int]
    number: int
    title: str

    def tall(self, wide: float) -> float:
        """One line."""
        return Words(self.title, wide - 30.0).tall + 0.6

    def draw(self, draft: Draft, x: float, y: float, wide: float) -> None:
        """Number, title, sheet."""
        Words(f"{self.number}", 9.0).draw(draft, x, y)
        Words(self.title, wide - 30.0).draw(draft, x + 9.0, y)
        Words(f"sheet {self.starts.get(self.number, 0)}", 20.0).draw(draft, x + wide - 18.0, y)


def numbered(flow: Flow, title: str) -> list[Page]:
    """The sheets of a flow, each with a foot: title, number, how many."""
    pages = [items for items in flow.pages if items]
    size, count = (flow.wide, flow.tall), len(pages)
    return [
        (size, partial(_draw, items, title, f"sheet {number} of {count}", size))
        for number, items in enumerate(pages, 1)
    ]


def paper_for(units: Units) -> str:
    """The paper of where units are at home."""
    return "Letter" if style_of(units).units == "in" else "A4"


def _draw(
    items: Sequence[Callable[[Draft], None]], title: str, number: str, size: tuple[float, float], draft: Draft
) -> None:
    """Draw one sheet with its foot."""
    for item in items:
        item(draft)
    y = size[1] - MARGIN - 0.2 * FOOT
    draft.line((MARGIN, y - 5.4), (size[0] - MARGIN, y - 5.4), LINE)
    cap = 0.72 * BODY
    draft.words((MARGIN, y), draft.shortened(title, size[0] - 2.0 * MARGIN - 45.0, cap), cap)
    draft.words((size[0] - MARGIN, y), number, cap, align=1.0)


def build_pages(facts: Facts, faults: Sequence[str] = (), paper: str | None = None) -> list[Page]:
    """Lay out the build sheet.   faults : told on the first sheet.   paper : of `PAPERS`; None: the usual one."""
    from app.files.application import ensure_application

    ensure_application()
    return _Sheets(facts, paper or paper_for(facts.units), faults).laid()
