"""What is built, on the board: holes of plates always, bracket and base while the builder looks at what is built."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.built_shapes import built_shapes

if TYPE_CHECKING:
    from app.board.board import Board


class Built:
    """Shows them of the newest analysis; they follow while something is dragged.

    is_wanted : whether bracket and base are always shown; else while `is_looked_at`, with the drawer Build.
    """

    def __init__(self, board: Board) -> None:
        self._board = board
        self._is_wanted = self._is_looked_at = False

    @property
    def is_wanted(self) -> bool:
        """Whether the builder wants to see them always."""
        return self._is_wanted

    @is_wanted.setter
    def is_wanted(self, wanted: bool) -> None:
        self._is_wanted = wanted
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
        if shapes or board.scene.has("built"):
            board.scene.show_shapes("built", shapes)

    def _show_anew(self) -> None:
        self.put()
        self._board.arrange()
