"""What the report tells of strength and of sway, in keys of our own and as text."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from app.strength_words import HEAD, STRENGTH_CAUTION, all_on_one, sideways_sentences, strength_rows, strength_sentences
from kinematics.sideways import sideways

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.results import Utilised

__all__ = ["strength_lines", "strength_told"]

MOST_ROWS = 24
"""So many rows of the table are printed, the worst ones."""


def strength_told(analysis: Analysis) -> dict[str, Any]:
    """The keys "strength" and "sideways" of the report, each where there is something to tell."""
    told, swayed = analysis.strength, None if analysis.strength is None else sideways(analysis)
    found: dict[str, Any] = {}
    if told is not None:
        figures = [_figure(each, told.share) for each in told.figures]
        found["strength"] = {"share": told.share, "untold": told.untold or None, "figures": figures}
    if swayed is not None:
        found["sideways"] = {
            "play": swayed.play,
            "tilts_deg": dict(swayed.tilts),
            "sways": [{"at_deg": each.deg + 0.0, "one": each.one, "two": each.two} for each in swayed.sways],
        }
    return found


def _figure(figure: Utilised, share: float) -> dict[str, Any]:
    return {
        "mode": figure.mode,
        "pivot": figure.pivot or None,
        "link": figure.link or None,
        "force": _number(figure.force),
        "stress": _number(figure.stress),
        "strength": _number(figure.strength),
        "want": _number(figure.want),
        "have": _number(figure.have),
        "on_one_hinge": _number(all_on_one(figure, share)),
        "at_deg": _number(figure.deg),
        "note": figure.note or None,
    }


def _number(value: float | None) -> float | None:
    """A plain float; None for what isn't told, or has no end."""
    return None if value is None or not math.isfinite(value) else float(value) + 0.0


def strength_lines(analysis: Analysis, units: Units) -> list[str]:
    """The report's lines: whose share, a table worst first, how far it sways, and what the figures are worth."""
    if analysis.strength is None:
        return []
    rows = strength_rows(analysis, units)
    more = [f"… and {len(rows) - MOST_ROWS} more, all further from their strength."] if len(rows) > MOST_ROWS else []
    said = [*strength_sentences(analysis, units), *_table(rows[:MOST_ROWS]), *more]
    return [*said, *sideways_sentences(analysis, units), STRENGTH_CAUTION]


def _table(rows: list[tuple[str, ...]]) -> list[str]:
    """Columns as wide as their widest cell, the first two to the left."""
    if not rows:
        return []
    widths = [max(len(row[column]) for row in (HEAD, *rows)) for column in range(len(HEAD))]
    lines = []
    for row in (HEAD, *rows):
        cells = (
            cell.ljust(width) if column < 2 else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        lines.append("  ".join(cells).rstrip())
    return lines
