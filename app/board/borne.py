"""The forces on the pins at the pose that is looked at: of those that are selected, or of all if the builder wants."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.board.arrows import Arrows
from app.board.hits import pivot_place
from app.force_marks import force_marks, newtons_a_pixel
from kinematics.carrying import carried_at, largest_pin

if TYPE_CHECKING:
    from app.board.board import Board
    from app.shapes import Shape


class Borne(Arrows):
    """Shows the arrows of the newest analysis; their scale stands still while something is dragged."""

    group: ClassVar[str] = "forces"

    def __init__(self, board: Board) -> None:
        super().__init__(board, wanted=False)
        self._scale = 0.0

    def _shapes(self) -> list[Shape]:
        board, document = self._board, self._board.document
        analysis = document.analysis
        chosen = {each.id for each in document.selections if each.kind == "pivot"}
        if analysis.loads is None or analysis.state != "moves" or not (chosen or self._is_wanted):
            return []
        if not document.is_dragging or self._scale <= 0.0:
            most = largest_pin(analysis)
            self._scale = 0.0 if most is None else newtons_a_pixel(most.force)
        if self._scale <= 0.0:
            return []
        project = analysis.project
        places = {
            pivot.id: pivot_place(project, board.placements, pivot.id)
            for pivot in project.pivots
            if not pivot.hidden and (self._is_wanted or pivot.id in chosen)
        }
        now = carried_at(analysis, document.pose.deg)
        return force_marks(now, places, chosen, self._scale, project.fixed.id, board.scene.look, document.units)
