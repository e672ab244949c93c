"""The detail of a picture: the linkage drawn larger beside the whole.

A hinge is small beside its panel; on a picture of the whole sweep its pins stand close together. Where the picture is
wider than the sweep needs, the room at its side shows the linkage once more, so many times as large, as on any drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import TYPE_CHECKING

import numpy as np

from app.labels import Box
from app.sheet import Camera, fitted
from app.traces import shown_gaps

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from app.shapes import Placement
    from kinematics.analysis import Analysis

EDGE = 12.0
LEAST_SHARE, MOST_SHARE = 0.28, 0.48  # of the picture's width
LEAST_TIMES = 1.5  # a detail that is hardly larger than the whole is none
WORDS_ROOM = 90.0  # for words at the whole's sides
MARGINS = (44.0, 40.0, 44.0, 52.0)


@dataclass(frozen=True, slots=True)
class Detail:
    """Where the detail stands on the sheet (pixels), what it shows, and how many times as large."""

    box: Box
    camera: Camera
    times: float


def room_for_detail(points: NDArray[np.float64], size: tuple[float, float], margins: tuple[float, ...]) -> float:
    """Give the width (pixels) at the right side that the whole, shown as large as its height allows, doesn't need.

    points : (n, 2) mm, all that the whole shows.     size : the sheet, pixels.     margins : around the whole.
    0 where that is too little.
    """
    if not len(points):
        return 0.0
    wide, tall = np.maximum(points.max(axis=0) - points.min(axis=0), 1.0).tolist()
    scale = (size[1] - margins[1] - margins[3]) / tall
    left = size[0] - (wide * scale + margins[0] + margins[2] + WORDS_ROOM)
    return min(left, MOST_SHARE * size[0]) if left >= LEAST_SHARE * size[0] else 0.0


def detail(spots: NDArray[np.float64], whole: Camera, room: float) -> Detail | None:
    """Give the detail that fills the room at the right side; None where it would be hardly larger than the whole.

    spots : (n, 2) mm, what it has to show: `linkage` at one pose or at several.
    """
    if room <= 0.0 or len(spots) < 2:
        return None
    width, height = whole.size
    box = Box(width - room, EDGE, width - EDGE, height - EDGE)
    size = box.right - box.left, box.bottom - box.top
    near = fitted(spots, size, MARGINS)
    times = floor(2.0 * near.scale / whole.scale) / 2.0
    if times < LEAST_TIMES:
        return None
    return Detail(box, Camera(times * whole.scale, near.middle, size), times)


def linkage(placements: Mapping[str, Placement], analysis: Analysis) -> NDArray[np.float64]:
    """Give the pins as they stand, and the ends of the gap most in need, mm."""
    found = [placements[pivot.joins[0]].carry(pivot.at) for pivot in analysis.project.pivots]
    for gap in shown_gaps(analysis)[:1]:
        found += gap.at_points or ()
    return np.array(found).reshape(-1, 2)
