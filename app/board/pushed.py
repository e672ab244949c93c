"""The arrows at the pins: which way to push them while the worst check falls short, live while they are dragged."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.board.arrows import Arrows
from app.board.hits import pivot_place
from app.push_marks import push_marks
from kinematics.pushing import pushes

if TYPE_CHECKING:
    from app.board.board import Board
    from app.shapes import Shape
    from kinematics.analysis import Analysis
    from kinematics.pushing import Pushes
    from kinematics.results import Pose


class Pushed(Arrows):
    """Shows the arrows of the newest analysis at the pose that is looked at; none while all checks hold."""

    group: ClassVar[str] = "pushes"

    def __init__(self, board: Board) -> None:
        super().__init__(board, wanted=True)
        self._known: tuple[Analysis, Pose, Pushes | None] | None = None

    def _shapes(self) -> list[Shape]:
        document, board = self._board.document, self._board
        analysis = document.analysis
        found = self._found(analysis, document.pose) if self._is_wanted else None
        if found is None:
            return []
        project = analysis.project
        hidden = {pivot.id for pivot in project.pivots if pivot.hidden}
        places = {
            push.pivot: pivot_place(project, board.placements, push.pivot)
            for push in found.pins
            if push.pivot not in hidden
        }
        hit = board.pointer.hit
        told = {each.id for each in document.selections if each.kind == "pivot"}
        if hit is not None and hit.kind == "pivot":
            told.add(hit.id)
        return push_marks(found, places, told, project.fixed.id, board.scene.look, document.units)

    def _found(self, analysis: Analysis, pose: Pose) -> Pushes | None:
        """What helps; None while all checks hold. It stays the same while only the pointer moves."""
        if not analysis.checks or analysis.checks[0].ok:
            return None
        known = self._known
        if known is None or known[0] is not analysis or known[1] is not pose:
            self._known = known = (analysis, pose, pushes(analysis, pose=pose))
        return known[2]
