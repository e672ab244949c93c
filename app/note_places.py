"""Where notes stand that speak of things in the window: beside them, on free sheet, off each other.

Each note has a *thing* it speaks of and a box for its words, joined by a line. A box tries sides of its thing, near and
farther off; all boxes are then chosen together, so that none takes the only good place of another. What a box hides
costs: another box or the spot of a thing more than anything, then what must not be covered (*pins*, *bars*), then the
controls beside the board.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPoint, QPointF, QRect, QRectF, QSize

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

NEAR, STEP, RINGS = 70, 70, 4  # pixels from the thing to the box; the rings that are tried
MARGIN = 6  # what stays free to the window's edge
CLEAR = 14  # what stays free around a pin
BEST = 14  # places of each note that are compared with those of the others
ON_ANOTHER, ON_SPOT, ON_BAR, ON_PIN, CROSSED, OFF_BOARD = 1000.0, 300.0, 60.0, 12.0, 8.0, 6.0
STAY = 3.0  # what a note gives for staying on the side where it was


@dataclass(frozen=True, slots=True)
class Want:
    """A note that looks for its place. key : its own.   thing : what it speaks of.   sides : best first."""

    key: str
    thing: QPoint
    size: QSize
    sides: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The window, the board in it, and what must not be hidden."""

    window: QRect
    board: QRect
    pins: Sequence[QPoint] = ()
    bars: Sequence[QRect] = ()


@dataclass(frozen=True, slots=True)
class Place:
    """A box that a note may take, the number of its side, and what it costs by itself."""

    box: QRect
    rank: int
    cost: float
    thing: QPoint


def note_places(wants: Sequence[Want], around: Surroundings, before: Mapping[str, int]) -> dict[str, tuple[QRect, int]]:
    """Give each note its box and the number of its side, for `before` of the next time."""
    spots = [want.thing for want in wants]
    tried = [
        sorted(_places(want, around, spots, before.get(want.key)), key=lambda place: place.cost)[:BEST]
        for want in wants
    ]
    pairs = [(i, j) for j in range(len(wants)) for i in range(j)]
    costs = {(i, j): {(a.rank, b.rank): _between(a, b) for a in tried[i] for b in tried[j]} for i, j in pairs}

    def cost(chosen: tuple[Place, ...]) -> float:
        alone = sum(place.cost for place in chosen)
        return alone + sum(costs[i, j][chosen[i].rank, chosen[j].rank] for i, j in pairs)

    best = min(product(*tried), key=cost)
    return {want.key: (place.box, place.rank) for want, place in zip(wants, best, strict=True)}


def line_end(box: QRectF, spot: QPointF) -> QPointF:
    """Give the point of a box where the line to a spot begins."""
    return QPointF(min(max(spot.x(), box.left()), box.right()), min(max(spot.y(), box.top()), box.bottom()))


def _places(want: Want, around: Surroundings, spots: Sequence[QPoint], stood: int | None) -> list[Place]:
    room = around.window.adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN)
    found = []
    for rank, (ring, (x, y)) in enumerate(product(range(RINGS), want.sides)):
        away = NEAR + STEP * ring
        out = QPoint(round(x * (away + want.size.width() / 2)), round(y * (away + want.size.height() / 2)))
        box = QRect(want.thing + out - QPoint(want.size.width() // 2, want.size.height() // 2), want.size)
        box.moveLeft(min(max(box.left(), room.left()), room.right() - box.width()))
        box.moveTop(min(max(box.top(), room.top()), room.bottom() - box.height()))
        cost = 0.4 * rank + _hides(box, around, spots) - (STAY if rank == stood else 0.0)
        found.append(Place(box, rank, cost, want.thing))
    return found


def _hides(box: QRect, around: Surroundings, spots: Sequence[QPoint]) -> float:
    """Tell what a box hides of all that isn't a note."""
    wide = box.adjusted(-CLEAR, -CLEAR, CLEAR, CLEAR)
    on_board = box.intersected(around.board)
    share = 1.0 - on_board.width() * on_board.height() / (box.width() * box.height())
    return (
        ON_SPOT * sum(wide.contains(spot) for spot in spots)
        + ON_PIN * sum(wide.contains(pin) for pin in around.pins)
        + ON_BAR * sum(box.intersects(bar) for bar in around.bars)
        + OFF_BOARD * share
    )


def _between(a: Place, b: Place) -> float:
    """Tell what it costs that two notes stand so: boxes on each other, lines across boxes or across each other."""
    if a.box.adjusted(-4, -4, 4, 4).intersects(b.box):
        return ON_ANOTHER
    lines = [QLineF(line_end(QRectF(each.box), QPointF(each.thing)), QPointF(each.thing)) for each in (a, b)]
    crossed = _cross(*lines) + _runs_over(lines[0], b.box) + _runs_over(lines[1], a.box)
    return CROSSED * crossed


def _runs_over(line: QLineF, box: QRect) -> bool:
    across = (QLineF(box.topLeft(), box.bottomRight()), QLineF(box.bottomLeft(), box.topRight()))
    return any(_cross(line, QLineF(each)) for each in across)


def _cross(a: QLineF, b: QLineF) -> bool:
    kind, _ = a.intersects(b)
    return bool(kind == QLineF.IntersectionType.BoundedIntersection)
