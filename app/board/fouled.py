"""Where struts and springs touch outlines that nobody watches: marked while nothing is dragged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.traces import contacts
from kinematics.fouling import fouled

if TYPE_CHECKING:
    from app.board.board import Board


class Fouled:
    """Shows these places of the newest analysis; during a drag they are left out, as looking for them takes a while."""

    def __init__(self, board: Board) -> None:
        self._board = board
        board.document.analysed.connect(lambda _: self.show())
        board.document.restyled.connect(self.show)

    def show(self) -> None:
        """Show them as they are now."""
        document, scene = self._board.document, self._board.scene
        loads = document.analysis.project.loads
        if document.is_dragging or loads is None or not loads.devices:
            if not scene.has("fouled"):
                return
            scene.show_shapes("fouled", [])
        else:
            found = fouled(document.analysis)
            scene.show_shapes("fouled", contacts(document.analysis, found, scene.look, document.units))
        self._board.is_stale = True
        self._board.settle()
