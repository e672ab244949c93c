"""A proposal on the board: its links and panel in thin dashed lines at the opening looked at, its sweep as dots beside.

It lies over the layout that is there, which it leaves alone; shown no more, the board is as before.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.shapes import Layer, Pen, Shape, Stroke, Symbol, placed
from app.trials.beside import Beside
from app.trials.picture import moved

if TYPE_CHECKING:
    from app.board.board import Board
    from app.look import Look
    from kinematics.analysis import Analysis

GROUP = "proposal"
STEPS = 5
"""Places of the panel between shut and open that are shown."""
DOTS = (1.0, 3.0)


def sweep_shapes(analysis: Analysis, fixed: str, look: Look) -> list[Shape]:
    """Give the panel at even steps of its sweep, in dotted lines on the link `fixed` of another project."""
    project, pen = analysis.project, Pen(look.path, look.thin, DOTS)
    found: list[Shape] = []
    for step in range(1, STEPS + 1):
        places = placed(analysis, analysis.pose(analysis.opening.reached_deg * step / STEPS))
        found += [
            Stroke(f"sweep:{step}:{each.id}", fixed, moved(each.points, places[each.on]), pen, Layer.PATHS, each.closed)
            for each in project.outlines
            if each.on == project.panel.id and not each.hidden
        ]
    return found


def over_all(shapes: list[Shape]) -> list[Shape]:
    """The same shapes over the links that are there: a proposal is pointed at to be seen."""
    return [replace(each, layer=Layer.GAPS) if isinstance(each, Stroke | Symbol) else each for each in shapes]


class Shown(Beside):
    """Shows one proposal's analysis on the board, or none: the layout over what is there, and its sweep."""

    def __init__(self, board: Board) -> None:
        super().__init__(board, GROUP)

    def _shapes(self, analysis: Analysis) -> list[Shape]:
        sweep = sweep_shapes(analysis, self._board.document.project.fixed.id, self._board.scene.look)
        return [*sweep, *over_all(super()._shapes(analysis))]
