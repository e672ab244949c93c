"""Another layout on the board, in thin dashed lines beside the one that is there, at the opening that is looked at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.trials.picture import beside

if TYPE_CHECKING:
    from app.board.board import Board
    from app.shapes import Shape
    from kinematics.analysis import Analysis

GROUP = "beside"


class Beside:
    """Shows one layout's analysis on the board, or none; follows the opening, the look and the fixed link's name.

    group : of its shapes; two that are shown at once need two.
    """

    def __init__(self, board: Board, group: str = GROUP) -> None:
        self._board, self._group = board, group
        self._analysis: Analysis | None = None
        board.document.posed.connect(lambda _: self._draw())
        board.document.restyled.connect(self._draw)

    def show(self, analysis: Analysis | None) -> None:
        """Show this one from now on; None: none."""
        if analysis is not self._analysis:
            self._analysis = analysis
            self._draw()

    def _draw(self) -> None:
        scene = self._board.scene
        if self._analysis is None:
            if scene.has(self._group):
                scene.show_shapes(self._group, [])
                self._board.view.viewport().update()
            return
        scene.show_shapes(self._group, self._shapes(self._analysis))
        self._board.view.viewport().update()

    def _shapes(self, analysis: Analysis) -> list[Shape]:
        """What is shown of it."""
        document = self._board.document
        return beside(analysis, document.pose.deg, document.project.fixed.id, self._board.scene.look)
