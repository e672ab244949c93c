"""The strokes behind a fixed line: parallel, at 45°, within a strip along the line. No Qt here.

As in ISO 3952-1's sign for a member that doesn't move (from memory). How deep and how close they are is a matter of
the sheet, not of the part: callers give both in mm, as so many pixels at the zoom of the moment. Open lines are
hatched on the side of the material, closed ones along the inside of their edge.
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil, floor
from typing import TYPE_CHECKING

import numpy as np
import shapely

if TYPE_CHECKING:
    from kinematics.project import Point

DEPTH_PX = 9.0
PITCH_PX = 6.0
MOST = 4000  # strokes; a line far larger than the sheet gets wider ones

Segment = tuple["Point", "Point"]


@lru_cache(maxsize=64)
def hatch_lines(points: tuple[Point, ...], closed: bool, side: int, depth: float, pitch: float) -> tuple[Segment, ...]:
    """Give the hatch strokes of a line.

    points : the line, mm.     side : +1 left of it as it runs, −1 right; 0 within a closed one.
    depth, pitch : mm, how deep and how close.
    """
    strip = _strip(points, closed, side, depth)
    if strip.is_empty:
        return ()
    x0, y0, x1, y1 = strip.bounds
    first, last = floor((x0 - y1) / (pitch * 2**0.5)), ceil((x1 - y0) / (pitch * 2**0.5))
    rows = np.arange(first, last + 1) * pitch * 2**0.5
    if len(rows) > MOST:
        return ()
    # the line x − y = c, from the strip's bottom to its top
    whole = np.stack(
        [np.stack([rows + y0, np.full_like(rows, y0)], 1), np.stack([rows + y1, np.full_like(rows, y1)], 1)], 1
    )
    cut = shapely.intersection(shapely.linestrings(whole), strip)
    parts = shapely.get_parts(cut)
    parts = parts[(shapely.get_type_id(parts) == 1) & ~shapely.is_empty(parts)]
    spots, owner = shapely.get_coordinates(parts, return_index=True)
    ends = np.searchsorted(owner, np.arange(len(parts)))
    return tuple(
        ((x, y), (u, v)) for (x, y), (u, v) in zip(spots[ends].tolist(), spots[ends + 1].tolist(), strict=True)
    )


def _strip(points: tuple[Point, ...], closed: bool, side: int, depth: float) -> shapely.Geometry:
    """Give the strip to be hatched, mended where it crosses itself."""
    if closed:
        face = shapely.make_valid(shapely.Polygon(points))
        return face.difference(face.buffer(-depth, join_style="mitre"))
    line = shapely.LineString(points)
    return shapely.make_valid(
        line.buffer(side * depth, single_sided=True, join_style="mitre", cap_style="flat", mitre_limit=2.0)
    )
