"""A step of the work, as a value: what it takes, what is done with which numbers, how it is checked, what is drawn."""

from __future__ import annotations

from dataclasses import dataclass

PRACTICE = "common practice, no source"
"""What stands beside a fact of the trade that no book was at hand for."""


@dataclass(frozen=True, slots=True)
class Table:
    """Numbers in rows.   head : of each column.   Words and numbers as they are printed."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """What is drawn.

    kind : of `drawings.KINDS`.   of : a pivot, a hand or the like, as the kind takes it.   caption : beneath it.
    wide : across the whole sheet; else beside the words.   tall : mm on paper.
    """

    kind: str
    of: str = ""
    caption: str = ""
    wide: bool = False
    tall: float = 62.0


@dataclass(frozen=True, slots=True)
class Step:
    """One step.

    needs : tools and parts.   does : sentences and tables, in order.   checks : each with a box to tick.   cautions :
    what hurts people here, before anything is done.
    """

    key: str
    title: str
    needs: tuple[str, ...] = ()
    does: tuple[str | Table, ...] = ()
    checks: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    drawings: tuple[Drawing, ...] = ()
