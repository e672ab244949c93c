"""The pinch places on the board: marked while nothing is dragged, unless the builder doesn't want them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board.wanted import Wanted
from app.pinch_marks import pinch_marks
from kinematics.pinching import pinches

if TYPE_CHECKING:
    from app.board.board import Board


class Pinched(Wanted):
    """Shows the pinch places of the newest analysis. During a drag they are left out: none would be true for long."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self._is_wanted = True
        board.document.analysed.connect(lambda _: self.show())
        board.document.restyled.connect(self.show)

    def wanted_changed(self) -> None:
        """Show them, or take them off."""
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
