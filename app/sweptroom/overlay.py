"""The swept room on the board. It is worked out once the hand rests, never during a drag."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from app.sweptroom.told import room_shapes

if TYPE_CHECKING:
    from app.board.board import Board
    from kinematics.swept import SweptRoom

GROUP = "swept"
REST_MS = 200


class SweptOverlay(QObject):
    """Shows the room while it is wanted; `told` gives each new one (None while it is being worked out)."""

    told = Signal(object)

    def __init__(self, board: Board) -> None:
        super().__init__(board)
        self._board = board
        self._wanted, self._panel_alone = False, False
        self.room: SweptRoom | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(REST_MS)
        self._timer.timeout.connect(self._work_out)
        board.document.analysed.connect(lambda _: self._forget())
        board.document.restyled.connect(self._draw)

    @property
    def is_wanted(self) -> bool:
        """Whether the room is shown."""
        return self._wanted

    def want(self, wanted: bool, panel_alone: bool = False) -> None:
        """Show the room, of all that moves or of the panel alone; or show none."""
        self._wanted, self._panel_alone = wanted, panel_alone
        self._timer.stop()
        self._work_out()

    def _forget(self) -> None:
        """The room belongs to a layout that is no more: take it off, and work it out anew once the hand rests."""
        if not self._wanted:
            return
        self.room = None
        self._draw()
        self.told.emit(None)
        self._timer.start()

    def _work_out(self) -> None:
        document = self._board.document
        if not self._wanted:
            self.room = None
        elif document.is_dragging:
            self._timer.start()
            return
        else:
            from kinematics.swept import swept_room

            self.room = swept_room(document.analysis, [document.project.panel.id] if self._panel_alone else None)
        self._draw()
        self.told.emit(self.room)

    def _draw(self) -> None:
        scene, document = self._board.scene, self._board.document
        if self.room is None:
            if scene.has(GROUP):
                scene.show_shapes(GROUP, [])
        else:
            scene.show_shapes(GROUP, room_shapes(self.room, document.project.fixed.id, scene.look))
        self._board.view.viewport().update()
