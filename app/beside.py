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
# What is worst to be crossed by: other words, then the curve (it is no level line, so it cuts letters), then a line.
BY_BOX, BY_CURVE, BY_LINE = 8, 4, 2


def around(spot: Spot, size: Spot) -> list[Box]:
    """Give the boxes of a size beside a mark, the best first: above, then below, each right, then left; then farther
    off.
    """
    wide, high = size
    found = []
    for away in (OFF, OFF + high):
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
    boxes: Sequence[Box], curve: NDArray[np.float64], levels: Iterable[float], taken: Iterable[Box], sheet: Box
) -> tuple[Box, bool]:
    """Choose the first box with the least across it. Gives it, and whether nothing is.

    curve : (n, 2), x ascending.     levels : y of level lines.     taken : boxes of other words.     sheet : what can
    be seen; a box that leaves it is as bad as one on other words.
    """
    levels, taken = tuple(levels), tuple(taken)
    best, least = boxes[0], BY_BOX * (2 + len(taken))
    for box in boxes:
        weight = _crossings(box, curve, levels, taken, sheet)
        if not weight:
            return box, True
        if weight < least:
            best, least = box, weight
    return best, False


def _crossings(box: Box, curve: NDArray[np.float64], levels: Sequence[float], taken: Sequence[Box], sheet: Box) -> int:
    outside = box.left < sheet.left or box.top < sheet.top or box.right > sheet.right or box.bottom > sheet.bottom
    return (
        BY_BOX * (outside + sum(_meet(box, other) for other in taken))
        + BY_CURVE * _curve_crosses(box, curve)
        + BY_LINE * sum(box.top < level < box.bottom for level in levels)
    )


def _meet(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


def _curve_crosses(box: Box, curve: NDArray[np.float64]) -> bool:
    """Tell whether the curve passes between the box's upper and lower edge anywhere along its width."""
    if not len(curve) or curve[-1, 0] < box.left or curve[0, 0] > box.right:
        return False
    xs, ys = curve[:, 0], curve[:, 1]
    first, last = np.searchsorted(xs, (box.left, box.right)).tolist()
    heights = [*np.interp((box.left, box.right), xs, ys).tolist(), *ys[first:last].tolist()]
    return bool(min(heights) < box.bottom and max(heights) > box.top)
