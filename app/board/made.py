"""The hinges as built on the board, beside what is drawn; not during a drag, as putting them together takes time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.made_picture import made_shapes

if TYPE_CHECKING:
    from app.board.board import Board

GROUP = "as built"


class AsBuilt:
    """Shows them where the project says so; follows the opening and the look."""

    def __init__(self, board: Board) -> None:
        self._board = board
        board.document.analysed.connect(lambda _: self.show())
        board.document.posed.connect(lambda _: self.show())
        board.document.restyled.connect(self.show)

    def show(self) -> None:
        """Show them as they are now."""
        document, scene = self._board.document, self._board.scene
        analysis = document.analysis
        if document.is_dragging or not analysis.project.made.shown:
            if not scene.has(GROUP):
                return
            scene.show_shapes(GROUP, [])
        else:
            scene.show_shapes(GROUP, made_shapes(analysis, document.pose.deg, scene.look, document.units))
        self._board.is_stale = True
        self._board.settle()
