"""What stands on the sheet: paragraphs, boxes to tick, cautions, tables, measured before they are placed.

A *block* knows how tall it is at a width and draws itself at a place (mm). Words are wrapped between words, and within
one that is longer than the line; letters are 10.5 pt, so that they are read at arm's length.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QTextLayout, QTextOption

from app.files.drafting import FINE, HEAVY, LINE, THIN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.build_sheet.step import Table
    from app.files.drafting import Draft

PT = 25.4 / 72.0
BODY, HEAD, TITLE = 10.5 * PT, 14.0 * PT, 22.0 * PT
"""Letters, mm to the em."""
LEADING = 1.26
"""From line to line over the em."""
AFTER, CELL = 1.3, 2.4
"""Mm beneath a block; between the columns of a table."""
TICK, TICK_ROOM = 3.8, 6.4
LEAST_COLUMN = 12.0
SPARE = 9.0
"""Mm that a column is wider than its words at most: what belongs together stays together."""
INK = "#000000"


@lru_cache(maxsize=16)
def font_of(em: float, *, bold: bool) -> QFont:
    """The font of a size (mm), as it is measured and drawn."""
    font = QFont()
    font.setStyleHint(QFont.StyleHint.SansSerif)
    font.setPixelSize(max(round(em * FINE), 1))
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return font


class Words:
    """Words laid out at a width (mm)."""

    def __init__(self, text: str, wide: float, em: float = BODY, *, bold: bool = False) -> None:
        self.em, self.wide = em, wide
        self._layout = QTextLayout(text, font_of(em, bold=bold))
        option = QTextOption(Qt.AlignmentFlag.AlignLeft)
        option.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
        self._layout.setTextOption(option)
        self._layout.setCacheEnabled(True)
        self._layout.beginLayout()
        step, count = em * LEADING * FINE, 0
        while (line := self._layout.createLine()).isValid():
            line.setLineWidth(max(wide, 1.0) * FINE)
            line.setPosition(QPointF(0.0, count * step))
            count += 1
        self._layout.endLayout()
        self.lines = count
        self.tall = count * em * LEADING

    def draw(self, draft: Draft, x: float, y: float) -> None:
        """Draw them with their upper left corner there."""
        with draft.pixels((x - 1.0, y - 1.0, self.wide + 3.0, self.tall + 3.0), 1.0 / FINE) as painter:
            painter.setPen(QColor(INK))
            self._layout.draw(painter, QPointF(FINE, FINE))


def width_of(text: str, em: float = BODY, *, bold: bool = False) -> float:
    """How wide words are on one line, mm."""
    return QFontMetricsF(font_of(em, bold=bold)).horizontalAdvance(text) / FINE


@dataclass(slots=True)
class Block:
    """Something that stands on the sheet.   keeps : whether it stays on one sheet with what follows."""

    keeps: bool = field(default=False, kw_only=True)
    _words: dict[float, Words] = field(default_factory=dict, init=False, repr=False)

    def tall(self, wide: float) -> float:
        """Mm at a width, with the room beneath it."""
        raise NotImplementedError

    def draw(self, draft: Draft, x: float, y: float, wide: float) -> None:
        """Draw it with its upper left corner there."""
        raise NotImplementedError


@dataclass(slots=True)
class Paragraph(Block):
    """Words.   mark : "" none, "•" before what is done, "☐" a box to tick."""

    text: str
    em: float = BODY
    bold: bool = False
    mark: str = ""
    after: float = AFTER

    def _laid(self, wide: float) -> Words:
        if wide not in self._words:
            self._words[wide] = Words(self.text, wide - self._inset, self.em, bold=self.bold)
        return self._words[wide]

    @property
    def _inset(self) -> float:
        return {"": 0.0, "•": 3.6, "☐": TICK_ROOM}[self.mark]

    def tall(self, wide: float) -> float:
        """Lines, and the room beneath."""
        return self._laid(wide).tall + self.after

    def draw(self, draft: Draft, x: float, y: float, wide: float) -> None:
        """The mark, and the words beside it."""
        if self.mark == "☐":
            draft.box(x + 0.4, y + 0.3, TICK, TICK, LINE)
        elif self.mark:
            draft.fill(x + 0.8, y + 0.5 * self.em * LEADING - 0.5, 1.0, 1.0, INK)
        self._laid(wide).draw(draft, x + self._inset, y)


@dataclass(slots=True)
class Cautions(Block):
    """What hurts people here, in a frame."""

    texts: tuple[str, ...]

    def _laid(self, wide: float) -> list[Words]:
        return [Words(f"⚠  {text}", wide - 7.0, bold=True) for text in self.texts]

    def tall(self, wide: float) -> float:
        """With the frame."""
        return sum(each.tall + 0.8 for each in self._laid(wide)) + 3.0 + AFTER

    def draw(self, draft: Draft, x: float, y: float, wide: float) -> None:
        """A heavy bar at the left, a frame, and the words."""
        tall = self.tall(wide) - AFTER
        draft.box(x + 0.4, y, wide - 0.8, tall, LINE)
        draft.fill(x, y - 0.12, 2.0, tall + 0.24, INK)
        y += 1.8
        for words in self._laid(wide):
            words.draw(draft, x + 4.4, y)
            y += words.tall + 0.8


@dataclass(slots=True)
class Heading(Block):
    """The number and title of a step, over a heavy line."""

    number: str
    title: str

    def tall(self, wide: float) -> float:
        """With the line."""
        return Words(self.title, wide - 13.0, HEAD, bold=True).tall + 4.2

    def draw(self, draft: Draft, x: float, y: float, wide: float) -> None:
        """The line above, number and title."""
        draft.line((x, y), (x + wide, y), HEAVY)
        if self.number:
            Words(self.number, 12.0, HEAD, bold=True).draw(draft, x, y + 1.4)
        inset = 11.0 if self.number else 0.0
        Words(self.title, wide - 13.0, HEAD, bold=True).draw(draft, x + inset, y + 1.4)


@dataclass(slots=True)
class Row(Block):
    """One row of a table.   widths : of its columns at a width of the whole."""

    table: TableLaid
    cells: tuple[str, ...]
    bold: bool = False

    def _laid(self, wide: float) -> list[Words]:
        widths = self.table.widths(wide)
        return [Words(cell, room, bold=self.bold) for cell, room in zip(self.cells, widths, strict=False)]

    def tall(self, wide: float) -> float:
        """Of the tallest cell."""
        return max((each.tall for each in self._laid(wide)), default=0.0) + 1.2

    def draw(self, draft: Draft, x: float, y: float, wide: float) -> None:
        """The cells, and a thin line beneath."""
        tall, right = self.tall(wide), x
        for words, room in zip(self._laid(wide), self.table.widths(wide), strict=False):
            words.draw(draft, right, y + 0.3)
            right += room + CELL
        draft.line((x, y + tall - 0.2), (right - CELL, y + tall - 0.2), LINE if self.bold else THIN)


@dataclass(slots=True)
class TableLaid:
    """The columns of a table: as wide as their words where that fits, else the widest are made narrower."""

    table: Table
    wide: float | None = None
    """At which it is laid: all rows alike, wherever they stand."""
    _at: dict[float, tuple[float, ...]] = field(default_factory=dict)

    @property
    def natural(self) -> float:
        """Mm that it takes with every cell on one line."""
        return sum(self._natural()) + CELL * (len(self.table.head) - 1)

    def widths(self, wide: float) -> tuple[float, ...]:
        """Of the columns, mm."""
        if wide not in self._at:
            self._at[wide] = self._fitted(wide)
        return self._at[wide]

    def _fitted(self, wide: float) -> tuple[float, ...]:
        count = len(self.table.head)
        room = wide - CELL * (count - 1)
        found = narrowed(self._natural(), room)
        spare = min((room - sum(found)) / count, SPARE)
        return tuple(each + spare for each in found)

    def _natural(self) -> list[float]:
        """Of each column with every cell on one line."""
        columns = zip(*self.table.rows, strict=True)
        widest = [max(map(width_of, column)) for column in columns] or [0.0] * len(self.table.head)
        heads = [width_of(each, bold=True) for each in self.table.head]
        return [max(pair) + 0.4 for pair in zip(heads, widest, strict=True)]

    def blocks(self) -> list[Row]:
        """Head and rows."""
        head = Row(self, self.table.head, bold=True, keeps=True)
        last = len(self.table.rows) - 2  # the last row never stands alone on a sheet
        return [head, *(Row(self, row, keeps=place == last) for place, row in enumerate(self.table.rows))]


def narrowed(natural: Sequence[float], room: float) -> list[float]:
    """Widths that fit a room: none is narrower than it need be but the widest, which share what is left."""
    if sum(natural) <= room:
        return list(natural)
    order = sorted(range(len(natural)), key=lambda k: natural[k])
    found, left = [0.0] * len(natural), room
    for place, k in enumerate(order):
        share = left / (len(natural) - place)
        found[k] = max(min(natural[k], share), min(LEAST_COLUMN, share))
        left -= found[k]
    return found
