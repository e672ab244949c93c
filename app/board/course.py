"""The course of a line that is being drawn: straight pieces, arcs through three points and smooth curves, as they come.

Each point that is clicked belongs to the *way* that was in force: a piece that ends there runs so. Points of one way in
a row are a *run*, which begins at the point before it. An arc takes two points of its run, one on it and its end; one
that is left over is reached straight. A smooth run is one curve through all of its points. No widgets here.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Literal

from kinematics import curves
from kinematics.errors import OutlineError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Point

Way = Literal["straight", "arc", "smooth"]
WAYS: dict[Way, str] = {
    "straight": "straight pieces",
    "arc": "arcs: a point on the arc, then its end",
    "smooth": "a smooth curve",
}
"""Ways and their words, in the order in which a key goes through them."""
SHORT: dict[Way, str] = {"straight": "straight", "arc": "arcs", "smooth": "smooth"}


def next_way(way: Way) -> Way:
    """Give the way that comes after one, round and round."""
    ways = list(WAYS)
    return ways[(ways.index(way) + 1) % len(ways)]


class Course:
    """What has been clicked so far. points : in their order.     way : how the next piece runs."""

    def __init__(self, way: Way = "straight") -> None:
        self.way = way
        self.points: list[Point] = []
        self._ways: list[Way] = []

    def put(self, point: Point) -> None:
        """Add a point; the piece to it runs as `way` says."""
        self.points.append(point)
        self._ways.append(self.way)

    def line(self, to: Point | None = None, *, closed: bool = False) -> tuple[Point, ...]:
        """Lay the line down as a chain of points.

        to : a point more, where the pointer is.     closed : back to the first point, which isn't repeated.
        """
        if closed and len(self.points) > 2 and set(self._ways[1:]) == {"smooth"}:
            return curves.smooth(self.points, closed=True)
        points, ways = list(self.points), list(self._ways)
        more = self.points[0] if closed else to
        if more is not None:
            points.append(more)
            ways.append(self.way)
        laid = _laid(points, ways)
        return laid[:-1] if closed else laid


def _laid(points: Sequence[Point], ways: Sequence[Way]) -> tuple[Point, ...]:
    chain = list(points[:1])
    place = 1
    for way, run in groupby(ways[1:]):
        end = place + len(list(run))
        chain += _run(way, points[place - 1 : end])[1:]
        place = end
    return tuple(chain)


def _run(way: Way, points: Sequence[Point]) -> list[Point]:
    """Lay one run down, from the point where it begins."""
    if way == "smooth":
        try:
            return list(curves.smooth(points))
        except OutlineError:  # two points are no curve yet
            return list(points)
    if way == "straight":
        return list(points)
    chain = [points[0]]
    for place in range(1, len(points), 2):
        chain += _arc(points[place - 1 : place + 2])[1:]
    return chain


def _arc(points: Sequence[Point]) -> list[Point]:
    """Lay one arc down, straight where only one of its two points is there or two coincide."""
    if len(points) < 3:
        return list(points)
    try:
        return list(curves.arc(points[0], points[1], points[2]))
    except OutlineError:
        return list(points)
