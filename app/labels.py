"""Where words stand on the sheet, so that they don't lie on each other. No Qt here; all in pixels, y down.

Each label has a point and a side that it would like; it tries eight sides around its point, near first, then
farther off, and takes the one where it covers least: other words, symbols, the ends of lines, the sheet's edge.
Those of a lower rank choose first. A label stays where it was in the last layout unless another side is clearly
better, so that words don't jump while the linkage moves. Plain and greedy; a few of twenty labels may still touch
on a crowded sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import atan2, log2, pi
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from app.kept import kept
from app.shapes import SHUT, Label, Layer, Placement, Stroke, Symbol
from app.symbols import SIGN, bounds

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from app.shapes import Shape
    from app.sheet import Camera
    from app.symbols import Spot
    from kinematics.project import Point

Floats: TypeAlias = NDArray[np.float64]

SIDES = 8
STAY = 14.0  # what a label gives for staying where it was
FARTHER = (1.0, 2.2, 3.6)
FARTHER_WITH_LEADER = (1.0, 1.8, 3.0, 4.6)
STEP_PX = 8.0  # how close the points stand by which lines are kept clear of words
ON_THINGS, ON_WORDS = 2.0, 8.0  # what a square pixel costs that lies on a symbol, on other words
ON_PINS = 20.0  # what it costs a sign besides to lie on a pin, which is there to be dragged
NAME_ROOM = 24.0  # what names leave free of the part that they name
MOST_SHARED = 0.1  # share of a name that may lie on other things; else it is left out
KEPT_CLEAR = (Layer.FIXED, Layer.PANEL, Layer.GAPS)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the screen."""

    left: float
    top: float
    right: float
    bottom: float

    def holds(self, spot: Spot) -> bool:
        """Tell whether a point lies within."""
        return self.left <= spot[0] <= self.right and self.top <= spot[1] <= self.bottom

    def moved(self, x: float, y: float) -> Box:
        """Give the box elsewhere."""
        return Box(self.left + x, self.top + y, self.right + x, self.bottom + y)


@dataclass(frozen=True, slots=True)
class Wish:
    """A label that looks for its place: the point it belongs to, its size, the side it would like (screen, y down).

    optional : rather left out than laid on something else.   sign : it hides no pin, if that can be.
    """

    key: str
    at: Spot
    size: Spot
    away: Spot
    clear: float
    leader: bool = False
    optional: bool = False
    sign: bool = False


def arrange(
    shapes: Sequence[Shape],
    placements: Mapping[str, Placement],
    camera: Camera,
    measure: Callable[[Label], Spot],
    sheet: Box,
    taken: Iterable[Box],
    before: Mapping[str, int],
) -> dict[str, tuple[Box, int]]:
    """Give every label among the shapes its box, pixels from the label's point, and the number of its place.

    measure : gives a label's size, pixels.     sheet : where words may stand.     taken : where they may not.
    before : the places of the last layout.
    """
    labels = [shape for shape in shapes if isinstance(shape, Label)]
    roomy = {label.key for label in labels if has_room(label, camera.scale, measure)}
    there = [label for label in labels if label.key in roomy or label.glyph]
    spots = {label.key: camera.to_px(placements.get(label.link, SHUT).carry(label.at)) for label in there}
    wishes = [
        Wish(
            each.key,
            spots[each.key],
            measure(each) if each.key in roomy else SIGN,
            (each.away[0], -each.away[1]),
            each.clear_px,
            each.leader,
            each.span > 0 and not each.glyph,
            bool(each.glyph),
        )
        for each in sorted(there, key=lambda label: label.rank)
        if sheet.holds(spots[each.key])
    ]
    pins = _symbol_boxes(shapes, placements, camera, Layer.PINS)
    boxes = [*pins, *taken, *_symbol_boxes(shapes, placements, camera, Layer.GAPS)]
    found = lay_out(wishes, boxes, sheet, _line_spots(shapes, placements, camera), before, pins=len(pins))
    return {key: (box.moved(-spots[key][0], -spots[key][1]), place) for key, (box, place) in found.items()}


def has_room(label: Label, scale: float, measure: Callable[[Label], Spot]) -> bool:
    """Tell whether a label is shown at this scale (pixels per mm): what it names is longer on the sheet than its
    words.
    """
    return label.span == 0 or label.span * scale >= measure(label)[0] + NAME_ROOM


def _symbol_boxes(
    shapes: Sequence[Shape], placements: Mapping[str, Placement], camera: Camera, layer: Layer
) -> list[Box]:
    found = []
    for shape in shapes:
        if isinstance(shape, Symbol) and shape.layer == layer:
            x, y = camera.to_px(placements.get(shape.link, SHUT).carry(shape.at[0]))
            found.append(Box(*bounds(shape.glyph)).moved(x, y))
    return found


def _line_spots(shapes: Sequence[Shape], placements: Mapping[str, Placement], camera: Camera) -> Floats:
    """Give points, pixels, along the lines that words should not cover."""
    step = 2.0 ** round(log2(STEP_PX / camera.scale))
    found = []
    for shape in shapes:
        if isinstance(shape, Stroke) and shape.at is None and shape.layer in KEPT_CLEAR:
            where = placements.get(shape.link, SHUT)
            found.append(
                _along(shape.points, shape.closed, step) * np.exp(1j * where.turn_rad) + complex(where.dx, where.dy)
            )
    if not found:
        return np.zeros((0, 2))
    flat = (np.concatenate(found) - complex(*camera.middle)) * camera.scale
    return np.stack([flat.real + camera.size[0] / 2, camera.size[1] / 2 - flat.imag], axis=1)


@kept(256)
def _along(points: tuple[Point, ...], closed: bool, step: float) -> NDArray[np.complex128]:
    """Give points along a line, at most a step (mm) apart, no more than some hundreds."""
    corners = np.array(
        [complex(*point) for point in (*points, points[0])] if closed else [complex(*point) for point in points]
    )
    lengths = np.concatenate([[0.0], np.abs(np.diff(corners)).cumsum()])
    count = int(min(lengths[-1] / step + 2, 400))
    at = np.linspace(0.0, lengths[-1], count)
    found: NDArray[np.complex128] = np.interp(at, lengths, corners.real) + 1j * np.interp(at, lengths, corners.imag)
    return found


def lay_out(
    wishes: Sequence[Wish], taken: Sequence[Box], sheet: Box, lines: Floats, before: Mapping[str, int], pins: int = 0
) -> dict[str, tuple[Box, int]]:
    """Give every label its box, and the number of the place it took (for `before` of the next layout).

    Names that are optional and find no room are left out.

    wishes : the first chooses first.     taken : what is there already, first of all so many `pins`.
    lines : (n, 2) points of lines that words shouldn't cover.
    """
    boxes, weights = np.empty((len(taken) + len(wishes), 4)), np.full(len(taken) + len(wishes), ON_WORDS)
    boxes[: len(taken)] = [(box.left, box.top, box.right, box.bottom) for box in taken] or np.zeros((0, 4))
    weights[: len(taken)] = ON_THINGS
    count, across = len(taken), np.ascontiguousarray(lines.T)
    found: dict[str, tuple[Box, int]] = {}
    for wish in wishes:
        places = np.tile(wish.at, 2) + _offsets(wish.size, wish.away, wish.clear, wish.leader)
        shared = _shared(places, boxes[:count])
        cost = 4.0 * np.arange(len(places)) + shared @ weights[:count]
        if wish.sign:
            cost += ON_PINS * shared[:, :pins].sum(axis=1)
        cost += 3.0 * _outside(places, sheet) + 20.0 * _covered(places, across)
        if wish.key in before:
            cost[before[wish.key]] -= STAY
        place = int(cost.argmin())
        if wish.optional and shared[place].sum() > MOST_SHARED * wish.size[0] * wish.size[1]:
            continue
        boxes[count] = places[place]
        count += 1
        found[wish.key] = Box(*places[place].tolist()), place
    return found


@lru_cache(maxsize=512)
def _offsets(size: Spot, away: Spot, clear: float, leader: bool) -> Floats:
    """Give the boxes (n, 4) that a label may take, from its point: near ones first, the side that it likes first."""
    far = np.repeat(FARTHER_WITH_LEADER if leader else FARTHER, SIDES) * clear
    side = np.arange(len(far)) % SIDES
    swing = (side + 1) // 2 * np.where(side % 2, 1, -1) * 2 * pi / SIDES  # left and right of it in turn
    way = np.exp(1j * (atan2(away[1], away[0]) + swing))
    half = np.array(size) / 2
    with np.errstate(divide="ignore"):
        out = far + np.minimum(half[0] / np.abs(way.real), half[1] / np.abs(way.imag))
    middle = np.stack([way.real * out, way.imag * out], axis=1)
    return np.concatenate([middle - half, middle + half], axis=1)


def _shared(places: Floats, boxes: Floats) -> Floats:
    """Give the areas (places, boxes) that boxes share, square pixels."""
    low = np.maximum(places[:, None, :2], boxes[None, :, :2])
    high = np.minimum(places[:, None, 2:], boxes[None, :, 2:])
    sides = np.maximum(high - low, 0.0)
    area: Floats = sides[..., 0] * sides[..., 1]
    return area


def _outside(places: Floats, sheet: Box) -> Floats:
    """Give the areas that lie outside the sheet, square pixels."""
    wide = np.minimum(places[:, 2], sheet.right) - np.maximum(places[:, 0], sheet.left)
    high = np.minimum(places[:, 3], sheet.bottom) - np.maximum(places[:, 1], sheet.top)
    whole = (places[:, 2] - places[:, 0]) * (places[:, 3] - places[:, 1])
    area: Floats = whole - np.maximum(wide, 0.0) * np.maximum(high, 0.0)
    return area


def _covered(places: Floats, lines: Floats) -> Floats:
    """Count the points of lines (2, n) that each place would cover."""
    (left, top), (right, bottom) = places[:, :2].min(axis=0), places[:, 2:].max(axis=0)
    x, y = lines
    near = (x > left) & (x < right) & (y > top) & (y < bottom)
    x, y = x[near], y[near]
    across = (x > places[:, 0, None]) & (x < places[:, 2, None])
    count: Floats = (across & (y > places[:, 1, None]) & (y < places[:, 3, None])).sum(axis=1)
    return count
