"""What is built, on the board: holes of plates always, bracket and base while the builder looks at what is built."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board.foot_hands import NEAR, foot_grips, foot_hit
from app.board.wanted import Wanted
from app.built_shapes import built_shapes

if TYPE_CHECKING:
    from app.board.board import Board
    from app.board.hits import Hit
    from app.shapes import Shape
    from kinematics.project import Point


class Built(Wanted):
    """Shows them of the newest analysis; they follow while something is dragged.

    is_wanted : whether bracket and base are always shown; else while `is_looked_at`, with the drawer Build: then their
    feet can be taken, too.
    """

    def __init__(self, board: Board) -> None:
        self._board = board
        self._is_wanted = self._is_looked_at = False
        self._grips: list[Shape] = []

    def wanted_changed(self) -> None:
        """Show them always, or only while they are looked at."""
        self._show_anew()

    @property
    def is_looked_at(self) -> bool:
        """Whether the drawer in which they are laid out is open."""
        return self._is_looked_at

    @is_looked_at.setter
    def is_looked_at(self, looked_at: bool) -> None:
        if looked_at != self._is_looked_at:
            self._is_looked_at = looked_at
            self._show_anew()

    def put(self) -> None:
        """Put them on the sheet as they are now, or take them off."""
        board = self._board
        mount = self._is_wanted or self._is_looked_at
        shapes = built_shapes(board.document.analysis.project, board.look, mount)
        self._grips = foot_grips(shapes, board.look) if self._is_looked_at else []
        shapes += self._grips
        if shapes or board.scene.has("built"):
            board.scene.show_shapes("built", shapes)

    def hit(self, at: Point, reach: float) -> Hit | None:
        """Give the foot of bracket or base that can be taken within `reach` (mm) of a place; None without one."""
        grips = self._grips if self._board.view.camera.scale >= NEAR else ()
        return foot_hit(grips, self._board.placements, at, reach)

    def _show_anew(self) -> None:
        self.put()
        self._board.arrange()
