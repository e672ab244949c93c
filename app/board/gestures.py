"""What a gesture is made of: the events of the hand, and the desk that it works on. No widgets here.

A *gesture* is a generator. It begins with a press, then receives every event by `send`: moves, then the release that
ends it. Closing it (Esc, or the board losing the hand) gives it up: whatever it began is cancelled and leaves no step.
Places are points of the board, mm. The *desk* is the document, and the few things that the board shows meanwhile.
"""

from __future__ import annotations

from collections.abc import Callable, Generator
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Protocol, TypeAlias

from app.shapes import SHUT, Placement, placed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board.course import Way
    from app.board.hits import Hit
    from app.board.snapping import Snap
    from app.document import Document
    from app.look import Look
    from app.shapes import Shape
    from kinematics.project import Point


@dataclass(frozen=True, slots=True)
class Press:
    """The button went down. reach : mm, how near counts as the same place.     double : second press of a double
    click.     more : with Ctrl or Shift, which select one thing more.
    """

    at: Point
    reach: float = 1.0
    double: bool = False
    more: bool = False


@dataclass(frozen=True, slots=True)
class Move:
    """The pointer moved."""

    at: Point


@dataclass(frozen=True, slots=True)
class Release:
    """The button came up."""

    at: Point


@dataclass(frozen=True, slots=True)
class Enter:
    """Enter was pressed."""


@dataclass(frozen=True, slots=True)
class Turn:
    """The next piece of the line that is being drawn runs another way (`app.board.course`)."""

    way: Way


Event: TypeAlias = Press | Move | Release | Enter | Turn
Gesture: TypeAlias = Generator[None, Event, None]
Done: TypeAlias = Callable[[tuple["Point", ...], bool], None]


class Desk(Protocol):
    """What gestures work on; the board is one, tests bring a plain one."""

    @property
    def document(self) -> Document:
        """The open document."""

    def grabbed(self, pivot_id: str) -> None:
        """A pivot was taken."""

    def dragged(self, pivot_id: str, at: Point) -> None:
        """It was moved to a place."""

    def dropped(self, pivot_id: str) -> None:
        """It was let go."""

    @property
    def held(self) -> frozenset[str]:
        """What held keys ask for: "free" of snapping, keep a "line", keep the "length" of a link, "join" pins."""

    @property
    def look(self) -> Look:
        """How the sheet looks."""

    @property
    def snaps(self) -> bool:
        """Whether what is near draws the hand."""

    @property
    def reach(self) -> float:
        """How near counts as near, mm."""

    @property
    def grid(self) -> float:
        """Size of the paper's squares, mm."""

    @property
    def step(self) -> float:
        """A round step of what is drawn, no larger than a pixel, mm; 0 for none."""

    def show_led(self, led: Snap | None) -> None:
        """Show what leads the hand; None: nothing."""

    def say(self, sentence: str) -> None:
        """Say at the board's foot what can be done; "": nothing."""

    def draw(self, shapes: Sequence[Shape]) -> None:
        """Show what is being made, until it is made."""

    def thing_at(self, at: Point, outline: str = "") -> Hit | None:
        """What lies at a place: a pivot, a mark, a link or an outline, or a point of the outline that is named."""

    def bodies_at(self, at: Point) -> list[str]:
        """The links on which a place lies, by their bands, bars and outlines."""

    def sketch(
        self, points: tuple[Point, ...], link_id: str, words: str = "", spots: tuple[Point, ...] | None = None
    ) -> None:
        """Show what is being drawn on a link, shut coordinates, and words at its last point; nothing for no points.

        spots : which of them were clicked; None for all but the last, where the pointer is.
        """


def placement_of(document: Document, link_id: str) -> Placement:
    """Give where a link stands in the pose that is shown."""
    return placed(document.analysis, document.pose).get(link_id, SHUT)


def is_far(press: Press, at: Point) -> bool:
    """Tell a drag from a click with an unsteady hand."""
    return hypot(at[0] - press.at[0], at[1] - press.at[1]) > press.reach / 2


def moves(press: Press) -> Generator[None, Event, tuple[Point, bool]]:
    """Wait for the first move that is a drag. Gives its place and True, or where the button came up and False: a
    click.
    """
    while True:
        event = yield
        if isinstance(event, Release):
            return event.at, False
        if isinstance(event, Move) and is_far(press, event.at):
            return event.at, True


def one_step(
    document: Document, label: str, at: Point, put: Callable[[Point], None], ended: Callable[[], None] = lambda: None
) -> Gesture:
    """A drag as one step: `put` previews where the hand is, at first and with every move, until it lets go.

    at : where the drag began.   ended : called when it is over, however it ends, before the step is taken.
    """
    document.begin(label)
    try:
        while True:
            put(at)
            event = yield
            if isinstance(event, Release) or not document.is_dragging:  # undone, or another project, meanwhile
                break
            at = event.at if isinstance(event, Move) else at
    except GeneratorExit:
        document.cancel()
        raise
    finally:
        ended()
    document.commit()
