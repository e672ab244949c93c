"""Contours of mounts: a web laid round eyes and a foot, with tabs or a flange below it; slots, plates, gussets.

A web lies in its seat's frame, u + i·v, its foot along v = const, its pins above. Its foot is a straight piece between
two small rounds; what sticks out below is put in the place of that piece.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.contours import Contour, Eye, around
from kinematics.errors import HingewrightError
from kinematics.plating import outermost

if TYPE_CHECKING:
    from collections.abc import Sequence

CORNER = 2.0
"""Mm of radius at the ends of a foot: no cut edge ends in a point."""
QUARTER = math.tan(math.pi / 8.0)
"""The bulge of a quarter of a circle."""
FLAT = 1e-7
SAGITTA, NEAR = 0.01, 0.05
"""Mm by which the polygon that is looked at misses arcs, and by which an eye may then seem to be short."""


def web(pins: Sequence[complex], eye: float, foot: tuple[float, float], low: float) -> Contour:
    """The band round the pins' eyes and a foot at v = low; an eye beside the foot may reach lower than it.

    Raises HingewrightError where the foot is too short for its rounds, or there is no such band.
    """
    if foot[1] - foot[0] < 4.0 * CORNER:
        raise HingewrightError("the foot is too short", "foot", "Make it longer.")
    ends = [Eye(complex(u, low + CORNER), CORNER) for u in (foot[0] + CORNER, foot[1] - CORNER)]
    eyes = [*(Eye(at, eye) for at in pins), *ends]
    order = outermost(eyes)
    if all(at.imag - eye >= low - FLAT for at in pins):
        return around([eyes[k] for k in order])
    return _beside(pins, eye, ends, [eyes[k] for k in order])


def _beside(pins: Sequence[complex], eye: float, ends: list[Eye], band: list[Eye]) -> Contour:
    """The band where eyes beside the foot reach lower than it does: there it goes down from the foot's corner to them.

    band : eyes that a band laid round all of them touches; it passes the foot below where one goes up to the other.
    """
    low, middle = ends[0].at.imag - CORNER, 0.5 * (ends[0].at.real + ends[1].at.real)
    lower = [at.real for at in pins if at.imag - eye < low - FLAT]
    left, right = (
        Eye(complex(end.at.real, low), 0.0) if any((u - middle) * way > 0.0 for u in lower) else end
        for end, way in zip(ends, (-1.0, 1.0), strict=True)
    )
    places = range(len(band))
    after = next((k for k in places if band[k - 1].at.real < middle < band[k].at.real), 0)
    ring = [each for each in (*band[after:], *band[:after]) if each not in ends]
    shape = around([left, right, *ring], sharp=True)
    metal = shapely.Polygon(shape.polyline(SAGITTA))
    within = metal.buffer(NEAR - eye) if metal.is_valid else shapely.Polygon()
    if not all(within.contains(shapely.Point(at.real, at.imag)) for at in pins):
        raise HingewrightError("no band goes round these eyes and the foot", "foot", "Move it away from the pins.")
    return shape


def tabbed(contour: Contour, middles: Sequence[float], length: float, depth: float) -> Contour:
    """The web with tabs of a length that stick out below its foot by `depth`; itself where it has none.

    None where `middles` is empty, as of feet that are ground. Raises HingewrightError ("tabs") where they don't fit on
    the foot.
    """
    if not middles:
        return contour
    place, left, right = _foot_piece(contour, sum(middles) / len(middles))
    low = left.imag
    edges = [(middle - length / 2.0, middle + length / 2.0) for middle in middles]
    reach = [left.real, *(u for edge in edges for u in edge), right.real]
    if any(after - before < FLAT for before, after in itertools.pairwise(reach)):
        raise HingewrightError("the tabs don't fit on the foot", "tabs", "Make them shorter, or fewer.")
    inserted = [
        corner
        for start, end in edges
        for corner in (complex(start, low), complex(start, low - depth), complex(end, low - depth), complex(end, low))
    ]
    return _with(contour, place, inserted, [0.0] * len(inserted))


def feet(contour: Contour, foot: tuple[float, float], low: float, end: float) -> Contour:
    """The web with a flange flat below its foot, from v = low down to v = end, rounded at its corners."""
    place, left, right = _foot_piece(contour, 0.5 * (foot[0] + foot[1]))
    if end > low - 4.0 * CORNER:
        raise HingewrightError("the flange is too short", "flange", "Make it wider.")
    # an eye that is level with the foot carries its piece on beyond it, but no flange
    r, a, b = CORNER, max(left.real, foot[0] + CORNER), min(right.real, foot[1] - CORNER)
    inserted = [complex(a, end + r), complex(a + r, end), complex(b - r, end), complex(b, end + r)]
    bulges = [QUARTER, 0.0, QUARTER, 0.0]
    if a > left.real + FLAT:
        inserted, bulges = [complex(a, low), *inserted], [0.0, *bulges]
    if b < right.real - FLAT:
        inserted, bulges = [*inserted, complex(b, low)], [*bulges, 0.0]
    return _with(contour, place, inserted, bulges)


def _foot_piece(contour: Contour, middle: float) -> tuple[int, complex, complex]:
    """The straight piece along the foot: its place among the pieces, its left and right end.

    middle : of the foot; an eye that reaches down level with it may have a piece of its own there.
    """
    for place, piece in enumerate(contour.pieces()):
        level = abs(piece.start.imag - piece.end.imag) < FLAT
        if piece.bulge == 0.0 and level and piece.start.real < middle < piece.end.real:
            return place, piece.start, piece.end
    raise HingewrightError("the eyes reach below the foot", "foot", "Move the face away from the pins.")


def _with(contour: Contour, place: int, corners: Sequence[complex], bulges: Sequence[float]) -> Contour:
    """The contour with corners put in behind one, each with the bulge of the piece that begins at it."""
    return Contour(
        np.insert(contour.corners, place + 1, np.array(corners)), np.insert(contour.bulges, place + 1, np.array(bulges))
    )


def rectangle(width: float, height: float, corner: float = 0.0) -> Contour:
    """A rectangle about the origin, with round corners."""
    x, y = width / 2.0, height / 2.0
    r = min(corner, 0.999 * min(x, y))
    if r < 1e-6:
        return Contour(np.array([-x - 1j * y, x - 1j * y, x + 1j * y, -x + 1j * y]), np.zeros(4))
    corners = [
        complex(-x + r, -y),
        complex(x - r, -y),
        complex(x, -y + r),
        complex(x, y - r),
        complex(x - r, y),
        complex(-x + r, y),
        complex(-x, y - r),
        complex(-x, -y + r),
    ]
    return Contour(np.array(corners), np.array([0.0, QUARTER] * 4))


def slot(at: complex, diameter: float, span: float, way: complex) -> Contour:
    """A slot with round ends, `span` between the middles of its ends along a unit way; a round hole where that is 0."""
    r = diameter / 2.0
    if span < 1e-6:
        return Contour(np.array([at + r, at - r]), np.array([1.0, 1.0]))
    side, half = r * 1j * way, 0.5 * span * way
    return Contour(
        np.array([at - half - side, at + half - side, at + half + side, at - half + side]),
        np.array([0.0, 1.0, 0.0, 1.0]),
    )


def gusset(leg: float, root: float) -> Contour:
    """A three-sided gusset with legs along both axes, its root cut off for the weld, its tips blunt."""
    cut, blunt = min(root, 0.3 * leg), 0.2 * leg
    corners = [
        complex(cut, 0.0),
        complex(leg, 0.0),
        complex(leg, blunt),
        complex(blunt, leg),
        complex(0.0, leg),
        complex(0.0, cut),
    ]
    return Contour(np.array(corners), np.zeros(6))
