"""Where words go beside a mark so that no line runs through them. Places are pixels, y down. No Qt here.

Each place that comes into question is a box; it is *crossed* by a curve that passes through it, by a level line, by
the edge, or by another box. The first place that nothing crosses is taken; where all are crossed, the one that is
crossed by the least.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from app.labels import Box

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from app.symbols import Spot

OFF = 5.0  # how far words stand from their mark
COLUMN = 4.0  # pixels from one place to the next at which a curve is read
# What is worst to be crossed by: other words, then the curve (it is no level line, so it cuts letters), then a line.
BY_BOX, BY_CURVE, BY_LINE = 8, 4, 2


def around(spot: Spot, size: Spot) -> list[Box]:
    """Give the boxes of a size beside a mark, the best first: above, then below, each right, then left; then farther
    off.
    """
    wide, high = size
    found = []
    for away in (OFF, OFF + high / 2.0, OFF + high):
        for top in (spot[1] - away - high, spot[1] + away):
            for left in (spot[0] + OFF, spot[0] - OFF - wide):
                found.append(Box(left, top, left + wide, top + high))
    return found


def along(level: float, size: Spot, width: float) -> list[Box]:
    """Give the boxes of a size on a level line of a width, the best first: at its right end, above, then below; then
    farther left.
    """
    wide, high = size
    found = []
    for share in (1.0, 0.75, 0.5, 0.25, 0.0):
        left = share * (width - wide)
        found += [Box(left, top, left + wide, top + high) for top in (level - high, level + 1.0)]
    return found


def least_crossed(
    boxes: Sequence[Box], curves: Sequence[Course], levels: Iterable[float], taken: Iterable[Box], sheet: Box
) -> tuple[Box, bool]:
    """Choose the first box with the least across it. Gives it, and whether nothing is.

    curves : none or several.     levels : y of level lines.     taken : boxes of other words.
    sheet : what can be seen; a box that leaves it is as bad as one on other words.
    """
    levels, taken = tuple(levels), tuple(taken)
    for box in boxes:
        if _is_clear(box, curves, levels, taken, sheet):
            return box, True
    return min(boxes, key=lambda box: _crossings(box, curves, levels, taken, sheet)), False


def _is_clear(box: Box, curves: Sequence[Course], levels: Sequence[float], taken: Sequence[Box], sheet: Box) -> bool:
    """Whether nothing lies across a box; what is quick to tell comes first, as this is asked many times in a frame."""
    left, top, right, bottom = box.left, box.top, box.right, box.bottom
    if left < sheet.left or top < sheet.top or right > sheet.right or bottom > sheet.bottom:
        return False
    for level in levels:
        if top < level < bottom:
            return False
    for other in taken:
        if left < other.right and other.left < right and top < other.bottom and other.top < bottom:
            return False
    return not any(curve.crosses(box) for curve in curves)


def _crossings(box: Box, curves: Sequence[Course], levels: Sequence[float], taken: Sequence[Box], sheet: Box) -> int:
    outside = box.left < sheet.left or box.top < sheet.top or box.right > sheet.right or box.bottom > sheet.bottom
    return (
        BY_BOX * (outside + sum(_meet(box, other) for other in taken))
        + BY_CURVE * sum(curve.crosses(box) for curve in curves)
        + BY_LINE * sum(box.top < level < box.bottom for level in levels)
    )


def _meet(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


class Course:
    """A curve (n, 2), x ascending, read at every few pixels: made once, asked for many boxes."""

    def __init__(self, curve: NDArray[np.float64]) -> None:
        xs, ys = curve[:, 0], curve[:, 1]
        self._first, self._last = (float(xs[0]), float(xs[-1])) if len(xs) else (0.0, -1.0)
        columns = np.arange(self._first, self._last + COLUMN, COLUMN)
        self._heights: list[float] = np.interp(columns, xs, ys).tolist() if len(xs) else []

    def crosses(self, box: Box) -> bool:
        """Tell whether it passes between the box's upper and lower edge anywhere along its width."""
        if self._last < box.left or self._first > box.right:
            return False
        first = max(int((box.left - self._first) / COLUMN), 0)
        heights = self._heights[first : int((box.right - self._first) / COLUMN) + 2]
        return min(heights) < box.bottom and max(heights) > box.top
