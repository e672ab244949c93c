"""Arrows on the sheet that come and go with the pose, and that the builder may want to see or not."""

from __future__ import annotations

from abc import abstractmethod
from typing import TYPE_CHECKING, ClassVar

from app.board.wanted import Wanted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board.board import Board
    from app.shapes import Shape


class Arrows(Wanted):
    """A group of arrows. The board calls `put` with all else that it shows, so that words find their places once a
    frame.
    """

    group: ClassVar[str]

    def __init__(self, board: Board, wanted: bool) -> None:
        self._board = board
        self._is_wanted = wanted

    def wanted_changed(self) -> None:
        """Show them, or take them off."""
        self.put()
        self._board.arrange()

    def put(self) -> None:
        """Put them on the sheet as they are now, or take them off."""
        shapes = self._shapes()
        if shapes or self._board.scene.has(self.group):
            self._board.scene.show_shapes(self.group, shapes)

    @abstractmethod
    def _shapes(self) -> Sequence[Shape]:
        """The arrows at the pose that is looked at; none where there are none."""
