"""The pinch places on the board: marked while nothing is dragged, unless the builder doesn't want them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.pinch_marks import pinch_marks
from kinematics.pinching import pinches

if TYPE_CHECKING:
    from app.board.board import Board


class Pinched:
    """Shows the pinch places of the newest analysis. During a drag they are left out: none would be true for long."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self._is_wanted = True
        board.document.analysed.connect(lambda _: self.show())
        board.document.restyled.connect(self.show)

    @property
    def is_wanted(self) -> bool:
        """Whether the builder wants to see them."""
        return self._is_wanted

    @is_wanted.setter
    def is_wanted(self, wanted: bool) -> None:
        self._is_wanted = wanted
        self.show()

    def show(self) -> None:
        """Show them as they are now."""
        document, scene = self._board.document, self._board.scene
        if not self._is_wanted or document.is_dragging:
            if not scene.has("pinches"):
                return
            scene.show_shapes("pinches", [])
        else:
            found = pinches(document.analysis)
            scene.show_shapes("pinches", pinch_marks(found, document.project.fixed.id, scene.look, document.units))
        self._board.is_stale = True
        self._board.settle()
