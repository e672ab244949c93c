"""Where words stand on the sheet, so that they don't lie on each other. No Qt here; all in pixels, y down.

Each label has a point and a side that it would like; it tries eight sides around its point, near first, then
farther off, and takes the one where it covers least: other words, symbols, the ends of lines, the sheet's edge. The
leaders that tie words to their points keep off other words too. Those of a lower rank choose first. A label stays
where it was in the last layout unless another side is clearly better, so that words don't jump while the linkage
moves. Plain and greedy; a few of twenty labels may still touch on a crowded sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
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
MOST_PLACES = SIDES * len(FARTHER_WITH_LEADER)
_TURNS = [(side + 1) // 2 * (1 if side % 2 else -1) for side in range(SIDES)]
SWING = np.tile(_TURNS, len(FARTHER_WITH_LEADER)) * 2 * pi / SIDES  # rad, left and right of the liked side in turn
STEP_PX = 8.0  # how close the points stand by which lines are kept clear of words
ON_THINGS, ON_WORDS = 2.0, 8.0  # what a square pixel costs that lies on a symbol, on other words
ON_PINS = 20.0  # what it costs a sign besides to lie on a pin, which is there to be dragged
NAME_ROOM = 24.0  # what names leave free of the part that they name
ON_LEADER = 60.0  # what each spot of a leader costs that lies beneath other words: they would be struck through
GRAZE_PX = 2.0  # what a leader keeps off the words of others
LEADER_SPOTS = np.linspace(0.0, 1.0, 11)  # where a leader is looked at, from its point (0) to its words (1)
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
    if not wishes:
        return {}
    places = _places(wishes)
    boxes = np.array([(box.left, box.top, box.right, box.bottom) for box in taken]).reshape(-1, 4)
    shared = _shared(places, boxes)
    hidden = shared.sum(axis=2)
    cost = 4.0 * np.arange(MOST_PLACES) + ON_THINGS * hidden
    cost += 3.0 * _outside(places, sheet) + 20.0 * _covered(places, lines)
    cost += ON_PINS * shared[..., :pins].sum(axis=2) * np.array([[wish.sign] for wish in wishes])
    cost[[not wish.leader for wish in wishes], SIDES * len(FARTHER) :] = np.inf
    tied = np.flatnonzero([wish.leader for wish in wishes])
    leaders = _leaders(places[tied], np.array([wish.at for wish in wishes])[tied])
    found: dict[str, tuple[Box, int]] = {}
    for row, wish in enumerate(wishes):
        if wish.key in before:
            cost[row, before[wish.key]] -= STAY
        place = int(cost[row].argmin())
        if wish.optional and hidden[row, place] > MOST_SHARED * wish.size[0] * wish.size[1]:
            continue
        box = places[row, place]
        found[wish.key] = Box(*box.tolist()), place
        over = _shared(places[row + 1 :], box[None])[..., 0]
        hidden[row + 1 :] += over
        cost[row + 1 :] += ON_WORDS * over
        if len(tied):
            cost[tied] += ON_LEADER * _struck(leaders, box)  # nothing to those that have chosen
        if wish.leader and row + 1 < len(wishes):
            cost[row + 1 :] += ON_LEADER * _covered(places[row + 1 :], leaders[tied == row][0, place])
    return found


def _places(wishes: Sequence[Wish]) -> Floats:
    """Give the boxes (labels, places, 4) that each label may take: near ones first, the side that it likes first.

    Those without a leader have fewer; what they have beyond counts for nothing.
    """
    at = np.array([wish.at for wish in wishes])[:, None]
    half = np.array([wish.size for wish in wishes])[:, None] / 2
    liked = np.array([[atan2(wish.away[1], wish.away[0])] for wish in wishes])
    far = np.array([FARTHER_WITH_LEADER if wish.leader else (*FARTHER, 0.0) for wish in wishes])
    clear = np.array([[wish.clear] for wish in wishes])
    way = np.exp(1j * (liked + SWING))
    with np.errstate(divide="ignore"):
        reach = np.minimum(half[..., 0] / np.abs(way.real), half[..., 1] / np.abs(way.imag))
    out = np.repeat(far, SIDES, axis=1) * clear + reach
    middle = at + np.stack([way.real * out, way.imag * out], axis=2)
    return np.concatenate([middle - half, middle + half], axis=2)


def _leaders(places: Floats, at: Floats) -> Floats:
    """Give spots (labels, places, spots, 2) along the leaders from points (labels, 2) to the nearest of the boxes."""
    start = at[:, None]
    way = np.clip(start, places[..., :2], places[..., 2:]) - start
    spots: Floats = start[:, :, None] + LEADER_SPOTS[:, None] * way[:, :, None]
    return spots


def _struck(leaders: Floats, box: Floats) -> Floats:
    """Count the spots of leaders (labels, places, spots, 2) that lie within a box or graze it."""
    (left, top), (right, bottom) = box[:2] - GRAZE_PX, box[2:] + GRAZE_PX
    x, y = leaders[..., 0], leaders[..., 1]
    count: Floats = ((x > left) & (x < right) & (y > top) & (y < bottom)).sum(axis=2)
    return count


def _shared(places: Floats, boxes: Floats) -> Floats:
    """Give the areas (labels, places, boxes) that places share with boxes (n, 4), square pixels."""
    wide = np.minimum(places[..., 2:3], boxes[:, 2]) - np.maximum(places[..., 0:1], boxes[:, 0])
    high = np.minimum(places[..., 3:4], boxes[:, 3]) - np.maximum(places[..., 1:2], boxes[:, 1])
    area: Floats = np.maximum(wide, 0.0) * np.maximum(high, 0.0)
    return area


def _outside(places: Floats, sheet: Box) -> Floats:
    """Give the areas (labels, places) that lie outside the sheet, square pixels."""
    inside = _shared(places, np.array([(sheet.left, sheet.top, sheet.right, sheet.bottom)]))[..., 0]
    area: Floats = (places[..., 2] - places[..., 0]) * (places[..., 3] - places[..., 1]) - inside
    return area


def _covered(places: Floats, lines: Floats) -> Floats:
    """Count the points of lines (n, 2) that each place (labels, places) would cover."""
    left, top, right, bottom = np.moveaxis(places, 2, 0)
    x, y = lines.T
    near_x = (x > left.min(axis=1)[:, None]) & (x < right.max(axis=1)[:, None])
    near_y = (y > top.min(axis=1)[:, None]) & (y < bottom.max(axis=1)[:, None])
    label, spot = np.nonzero(near_x & near_y)  # few are near any place of a label
    x, y = x[spot, None], y[spot, None]
    inside = (x > left[label]) & (x < right[label]) & (y > top[label]) & (y < bottom[label])
    pair, place = np.nonzero(inside)
    count: Floats = np.bincount(label[pair] * MOST_PLACES + place, minlength=left.size).reshape(left.shape)
    return count
