"""The latch, seals and bump stops on the sheet, and the striker's last way, enlarged beside the latch. No Qt here.

The latch's sign and the feet of cushions stand on the fixed link, where the panel meets them shut; so an open panel
shows how far its striker (a ring, on the panel) is from its catch.

*Enlarged* is the path of the last 30 mm as a small drawing of its own: a dashed line along the latch's way, the path
beside it, a tick each 10 mm, and how far it goes beside that way in figures. It is enlarged by a whole number, alike in
both directions, and stands ahead of the latch.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin
from typing import TYPE_CHECKING

from app.lengths import format_angle, format_length, format_number
from app.lettering import short_name
from app.strokes import Label, Layer, Pen, Shape, Stroke, Symbol

if TYPE_CHECKING:
    from app.lengths import Units
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.loads import Loads
    from kinematics.project import Point
    from kinematics.results import Entry

LATCH = "latch"
TIMES = (1, 2, 3, 4, 5, 6, 8, 10, 15, 20)
"""By so much a path may be enlarged …"""
SHARE = 0.16
"""… so that it stands about this share of the hinge's size high."""
TICK, TICKS = 10.0, 0.06
"""Mm of path between ticks, and how long they are as a share of the drawing."""


def shut_shapes(loads: Loads, fixed_id: str, look: Look) -> list[Shape]:
    """Draw what the panel meets when it is shut."""
    found: list[Shape] = []
    for cushion in loads.cushions:
        key, at = f"cushion:{cushion.id}", (cushion.at,)
        found.append(Symbol(key, fixed_id, at, cushion.kind, look.ink, look.paper, Layer.PINS, cushion.way_deg))
        words = short_name(cushion.id)
        words = f"{cushion.count} × {words}" if cushion.count > 1 else words
        found.append(_words(f"name of {key}", fixed_id, cushion.at, words, _back(cushion.way_deg), look))
    if loads.latch is not None:
        latch = loads.latch
        at, way = (latch.at,), latch.way_deg
        found.append(Symbol("latch", fixed_id, at, "latch", look.ink, look.paper, Layer.PINS, way))
        found.append(Symbol("striker", latch.on, at, "eye", look.ink, look.paper, Layer.PINS))
        found.append(_words("name of latch", fixed_id, latch.at, LATCH, (sin(radians(way)), -cos(radians(way))), look))
    return found


def entry_shapes(analysis: Analysis, look: Look, units: Units) -> list[Shape]:
    """Draw the striker's last way enlarged, with its figures; none where nothing is told of it."""
    shut = None if analysis.loads is None else analysis.loads.shut
    if shut is None or shut.entry is None or shut.entry.length <= 0.0:
        return []
    entry = shut.entry
    size = max(analysis.sweep.closure.size, hypot(*_spread(analysis)))
    times = max(each for each in TIMES if each == 1 or each * entry.length <= SHARE * size)
    drawn = _Enlarged(entry, times, _beside(analysis, entry, times))
    fixed, pen = analysis.project.fixed.id, Pen(look.path, look.thin)
    path = [drawn.at(x, y) for x, y in entry.path.tolist()]
    out = -entry.length * entry.way[0], -entry.length * entry.way[1]
    start = entry.path[0].tolist()
    line = drawn.at(*start), drawn.at(start[0] + out[0], start[1] + out[1])
    shapes: list[Shape] = [
        Stroke("entry:way", fixed, line, Pen(look.path, look.thin, (5.0, 3.0)), Layer.PATHS),
        Stroke("entry:path", fixed, tuple(path), Pen(look.ink, look.line), Layer.PATHS),
        Symbol("entry:shut", fixed, (path[0],), "eye", look.ink, look.paper, Layer.PATHS),
    ]
    tick = 0.5 * TICKS * times * entry.length
    for number in range(int(entry.length / TICK + 1e-9) + 1):
        x, y = (start[k] - number * TICK * entry.way[k] for k in (0, 1))
        cx, cy = drawn.at(x, y)
        across = -entry.way[1] * tick, entry.way[0] * tick
        ends = (cx - across[0], cy - across[1]), (cx + across[0], cy + across[1])
        shapes.append(Stroke(f"entry:tick {number}", fixed, ends, pen, Layer.PATHS))
    words = (
        f"striker ×{format_number(times, units)}: {format_length(entry.side_step, units)} aside, "
        f"{format_angle(entry.angle_deg, units)} off"
    )
    away = start[0] - line[0][0], start[1] - line[0][1]  # there is room over the panel, hardly any ahead of it
    shapes.append(
        Label("entry:label", fixed, path[-1], words, look.ink, look.paper, look.small_px, away, rank=4, clear_px=8.0)
    )
    return shapes


class _Enlarged:
    """Places of the small drawing."""

    def __init__(self, entry: Entry, times: int, origin: Point) -> None:
        self._from, self._times, self._origin = entry.path[0].tolist(), times, origin

    def at(self, x: float, y: float) -> Point:
        """Where a place near the latch stands in it."""
        return (
            self._origin[0] + self._times * (x - self._from[0]),
            self._origin[1] + self._times * (y - self._from[1]),
        )


def _beside(analysis: Analysis, entry: Entry, times: int) -> Point:
    """Where the drawing's shut place is: beside the latch, on the side away from the panel's middle."""
    x, y = entry.path[0].tolist()
    across = -entry.way[1], entry.way[0]
    middle = _middle(analysis)
    side = 1.0 if (x - middle[0]) * across[0] + (y - middle[1]) * across[1] >= 0.0 else -1.0
    far = side * 1.2 * times * entry.length
    return x + far * across[0], y + far * across[1]


def _points(analysis: Analysis) -> list[Point]:
    project = analysis.project
    found = [point for outline in project.outlines if outline.on == project.panel.id for point in outline.points]
    return found or [pivot.at for pivot in project.pivots]


def _middle(analysis: Analysis) -> Point:
    (left, low), (right, high) = (tuple(f(each) for each in zip(*_points(analysis), strict=True)) for f in (min, max))
    return (left + right) / 2, (low + high) / 2


def _spread(analysis: Analysis) -> Point:
    (left, low), (right, high) = (tuple(f(each) for each in zip(*_points(analysis), strict=True)) for f in (min, max))
    return right - left, high - low


def _back(way_deg: float) -> Point:
    return -cos(radians(way_deg)), -sin(radians(way_deg))


def _words(key: str, link: str, at: Point, text: str, away: Point, look: Look) -> Label:
    return Label(key, link, at, text, look.ink, look.paper, look.small_px, away, rank=6, clear_px=15.0)
