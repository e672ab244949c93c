"""A desk without a board, on which gestures are tried with plain events."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from app.board.hits import bodies_at, hit
from app.look import Look, light
from app.shapes import placed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board import gestures
    from app.board.hits import Hit
    from app.board.snapping import Snap
    from app.document import Document
    from app.shapes import Shape
    from kinematics.project import Point


@dataclass
class PlainDesk:
    """A desk without a board: keeps what it is told."""

    document: Document
    told: list[str] = field(default_factory=list)
    sketched: tuple[Point, ...] = ()
    words: str = ""
    spots: tuple[Point, ...] | None = None
    held: frozenset[str] = frozenset()
    snaps: bool = False
    reach: float = 1.0
    grid: float = 0.0
    step: float = 0.0
    look: Look = field(default_factory=light)
    led: Snap | None = None
    said: str = ""
    drawn: list[Shape] = field(default_factory=list)

    def show_led(self, led: Snap | None) -> None:
        self.led = led

    def say(self, sentence: str) -> None:
        self.said = sentence

    def draw(self, shapes: Sequence[Shape]) -> None:
        self.drawn = list(shapes)

    def thing_at(self, at: Point, outline: str = "") -> Hit | None:
        return hit(self.document.project, placed(self.document.analysis, self.document.pose), at, self.reach, outline)

    def bodies_at(self, at: Point) -> list[str]:
        return bodies_at(self.document.project, placed(self.document.analysis, self.document.pose), at, self.reach)

    def grabbed(self, pivot_id: str) -> None:
        self.told.append(f"grabbed {pivot_id}")

    def dragged(self, pivot_id: str, at: Point) -> None:
        self.told.append(f"dragged {pivot_id} {at[0]:.1f} {at[1]:.1f}")

    def dropped(self, pivot_id: str) -> None:
        self.told.append(f"dropped {pivot_id}")

    def sketch(
        self,
        points: tuple[Point, ...],
        link_id: str,  # noqa: ARG002  the board needs it
        words: str = "",
        spots: tuple[Point, ...] | None = None,
    ) -> None:
        self.sketched, self.words, self.spots = points, words, spots


def perform(gesture: gestures.Gesture, *events: gestures.Event) -> bool:
    """Send events to a gesture; tells whether it ended of itself."""
    next(gesture)
    try:
        for event in events:
            gesture.send(event)
    except StopIteration:
        return True
    return False
