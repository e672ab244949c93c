"""The board's desk: what gestures work on (`app.board.hands.Desk`), and what they show meanwhile."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board import marking
from app.board.hits import bodies_at, hit
from app.sheet import drawing_step, grid_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board.board import Board
    from app.board.hits import Hit
    from app.board.snapping import Snap
    from app.document import Document
    from app.look import Look
    from app.shapes import Shape
    from kinematics.project import Point

REACH_PX = 8.0  # half of a target: 16 px across


class BoardDesk:
    """One board as gestures see it. snaps : whether what is near draws the hand.     held : what held keys ask for."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self._led: Snap | None = None
        self.snaps = False
        self.held: frozenset[str] = frozenset()

    @property
    def document(self) -> Document:
        """The open document."""
        return self._board.document

    @property
    def look(self) -> Look:
        """How the sheet looks."""
        return self._board.scene.look

    @property
    def reach(self) -> float:
        """How near counts as near, mm."""
        return REACH_PX / self._board.view.camera.scale

    @property
    def grid(self) -> float:
        """Size of the paper's squares, mm."""
        return grid_steps(self._board.view.camera.scale, self.document.project.display_units)[0]

    @property
    def step(self) -> float:
        """A round step of what is drawn, mm."""
        return drawing_step(self._board.view.camera.scale, self.document.units)

    def thing_at(self, at: Point, outline: str = "") -> Hit | None:
        """What lies at a place. outline : the one that shows its points."""
        return hit(self.document.project, self._board.placements, at, self.reach, outline)

    def bodies_at(self, at: Point) -> list[str]:
        """The links on which a place lies."""
        return bodies_at(self.document.project, self._board.placements, at, self.reach)

    def grabbed(self, pivot_id: str) -> None:
        """Tell that a pivot was taken."""
        self._board.view.show_grabbing()
        self._board.pivot_grabbed.emit(pivot_id)

    def dragged(self, pivot_id: str, at: Point) -> None:
        """Tell where it is."""
        self._board.pivot_dragged.emit(pivot_id, at)

    def dropped(self, pivot_id: str) -> None:
        """Tell that it was let go."""
        self._board.pivot_dropped.emit(pivot_id)

    @property
    def led(self) -> Snap | None:
        """What leads the hand."""
        return self._led

    def show_led(self, led: Snap | None) -> None:
        """Show what leads the hand; None: nothing."""
        if led == self._led:
            return
        self._led = led
        board = self._board
        shapes = (
            marking.led_shapes(
                led, self.document.project.fixed.id, self.look, self.document.units, board.view.camera.scale
            )
            if led is not None
            else []
        )
        board.scene.show_shapes("led", shapes)
        board.is_stale = True

    def say(self, sentence: str) -> None:
        """Say something at the board's foot; "": nothing."""
        self._board.say(sentence)

    def draw(self, shapes: Sequence[Shape]) -> None:
        """Show what is being made, until it is made."""
        if shapes or self._board.scene.has("sketch"):
            self._board.scene.show_shapes("sketch", shapes)
            self._board.is_stale = True

    def sketch(
        self, points: tuple[Point, ...], link_id: str, words: str = "", spots: tuple[Point, ...] | None = None
    ) -> None:
        """Show an outline that is being drawn, and words at the pointer."""
        self.draw(marking.sketch_shapes(points, link_id, self.look, words, spots))
