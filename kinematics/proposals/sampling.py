"""Which points of an outline are looked up: all its corners, and the more others, the nearer they are to what matters.

While two outlines are apart, they are nearest at a vertex of one of them; but a smooth line has far more than a
first judgement needs, and a long straight edge has too few to tell that it has gone through something. So points stand
a share of their distance to the other outline apart, at shut, and no closer than a few mm.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from kinematics.proposals.fields import corners_of, distances

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Outline

CLOSEST = 8.0
"""mm between points where the other outline is near."""
SHARE = 0.3
"""Points stand apart by this share of how far the other outline is."""
CORNER_DEG = 15.0
"""A line that turns by more at a vertex has a corner there."""
CORNERS = 40
"""Corners that are kept, those nearest to the other outline."""


def sampled(outline: Outline, other: Outline) -> Complexes:
    """(m,) points along an outline, thinned by how far they are from another one, both at shut."""
    line = corners_of(outline)
    spread = _spread(line)
    away = distances(other, spread, CLOSEST)[0]
    chosen = [0]
    along = np.append(0.0, np.cumsum(np.abs(np.diff(spread))))
    for k in range(1, len(spread)):
        if along[k] - along[chosen[-1]] >= max(CLOSEST, SHARE * min(away[k], away[chosen[-1]])):
            chosen.append(k)
    if chosen[-1] != len(spread) - 1:
        chosen.append(len(spread) - 1)
    return np.asarray(np.unique(np.concatenate([spread[chosen], _corners(line, outline.closed, other)])))


def _spread(line: Complexes) -> Complexes:
    """The line's vertices, with more between them where they stand far apart."""
    parts = []
    for tail, head in pairwise(line):
        count = max(1, int(abs(head - tail) / CLOSEST))
        parts.append(tail + (head - tail) * np.arange(count) / count)
    return np.concatenate([*parts, line[-1:]])


def _corners(line: Complexes, closed: bool, other: Outline) -> Complexes:
    """Vertices where the line turns sharply, and the ends of an open one."""
    ways = np.diff(line)
    before = np.append(ways[-1:], ways[:-1]) if closed else np.append(ways[:1] * 1j, ways[:-1])
    turned: Floats = np.abs(np.angle(ways * before.conj()))
    corners = line[:-1][turned > np.radians(CORNER_DEG)]
    if not closed:
        corners = np.append(corners, line[-1])
    if len(corners) > CORNERS:
        away = distances(other, corners, CLOSEST)[0]
        corners = corners[np.argsort(away, kind="stable")[:CORNERS]]
    return np.asarray(corners)
