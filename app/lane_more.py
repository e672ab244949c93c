"""What a lane of loads has besides its curve (`app.lane_figures.More`), drawn: laid out once for each figures and size,
painted in two goes, beneath the curve and over it.

Signs. A diamond: the largest. A triangle on its base, filled: a balance that the panel comes back to; on its tip, open:
one that it leaves. A ball on a hill: the tip-over. Two strokes: the curve ends here.
"""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPen, QPolygonF

from app.beside import Course, around, least_crossed
from app.labels import Box
from app.painter import THIN, line_pen, polygon
from app.strokes import Pen

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from PySide6.QtGui import QPainter

    from app.lane_figures import LaneFigures, More, Sign
    from app.look import Look
    from app.symbols import Spot
    from kinematics.arrays import Floats

FAR = 1e5  # pixels beyond which nobody sees how a curve goes on
EDGE_PX = 5.0  # how far from an edge a figure is shown to go on beyond it
APART = 5.0  # what is left between words beside each other
HATCHED_PX, STRIPS = 4.0, 12
POSE_PX = 3.0  # radius of the dot that is read
DASHES, DOTS = (4.0, 2.0), (1.0, 2.0)  # pixels on and off


def _shape(*spots: Spot) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in spots])


DIAMOND = _shape((0.0, -3.5), (-2.8, 0.0), (0.0, 3.5), (2.8, 0.0))
ON_BASE = _shape((0.0, 1.0), (-4.5, 9.0), (4.5, 9.0))  # both hang beneath the zero line
ON_TIP = _shape((0.0, 9.5), (-4.5, 1.5), (4.5, 1.5))
HILL = _shape((-8.0, -0.5), (-5.0, -1.8), (-2.4, -4.4), (0.0, -5.4), (2.4, -4.4), (5.0, -1.8), (8.0, -0.5))
BALL = QPointF(0.0, -8.2)  # on the hill, which stands on that line
DOWN = _shape((0.0, 3.5), (-3.5, -3.5), (3.5, -3.5))


class Laid:
    """The pixels of `More` in a lane. `to_x`, `to_y` : from places and values to pixels."""

    def __init__(
        self,
        figures: LaneFigures,
        more: More,
        to_x: Callable[[Floats], Floats],
        to_y: Callable[[Floats], Floats],
        spot: Callable[[float, float], Spot],
    ) -> None:
        self.more, self._spot = more, spot

        def line(xs: Floats, ys: Floats) -> Floats:
            return np.clip(np.stack([to_x(xs), to_y(ys)], axis=1), -FAR, FAR)

        own = [(figures.xs, figures.ys), *more.pieces]
        self.pieces = [polygon(line(xs, ys)) for xs, ys in more.pieces]
        thin = [line(xs, ys) for xs, ys in more.others]
        self.others = [polygon(each) for each in thin]
        sides = [(line(band.xs, band.high), line(band.xs, band.low)) for band in more.bands]
        self.bands = [polygon(np.concatenate([high, low[::-1]])) for high, low in sides]
        self.sides = [(polygon(high), polygon(low)) for high, low in sides]
        lines = [line(xs, ys) for xs, ys in own if len(xs)] + [side for both in sides for side in both]
        self._lines = [Course(each) for each in (*lines, *_highest(lines, thin))]
        shades = [line(xs, ys) for xs, ys in _below_nothing(own)] if more.shaded else []
        self.shades = [polygon(shade) for shade in shades]
        self._hatched = [box for shade in shades for box in _columns(shade)]
        self.levels = [
            (spot(level.stretch[0], level.value), spot(level.stretch[1], level.value))
            if level.stretch
            else ((0.0, spot(0.0, level.value)[1]), (FAR, spot(0.0, level.value)[1]))
            for level in more.levels
        ]
        self.uprights = [spot(upright.place, 0.0)[0] for upright in more.uprights]
        self.signs = [(sign, spot(sign.place, sign.value)) for sign in more.signs]
        self.edges = [spot(edge.place, edge.value) for edge in more.edges]

    # Words -----------------------------------------------------------------------------------------------------------

    def words(self, measure: Callable[[str], Spot], sheet: Box, levels: Iterable[float]) -> list[tuple[str, Box, bool]]:
        """Places for all words, what matters most first; what matters little goes where it would lie on something.

        measure : the size of words.     sheet : where they may stand.     levels : y of level lines.
        """
        levels = [*levels, *(start[1] for start, end in self.levels if end[0] == FAR)]
        taken = [*(_room(sign, at) for sign, at in self.signs), *self._hatched]
        taken += [Box(start[0], start[1] - 1.0, end[0], end[1] + 1.0) for start, end in self.levels if end[0] != FAR]
        found: list[tuple[str, Box, bool]] = []

        def put(text: str, boxes: list[Box], optional: bool = False) -> None:
            box, clear = least_crossed(boxes, self._lines, levels, taken, sheet)
            if text and (clear or not optional):
                taken.append(Box(box.left - APART, box.top, box.right + APART, box.bottom))
                found.append((text, box, clear and not self.others))

        more = self.more
        if more.instead:
            put(more.instead, [_middle(sheet, measure(more.instead))])
        for sign, at in sorted(self.signs, key=lambda each: each[0].kind not in ("largest", "short")):
            if sign.words:
                put(sign.words, _about(sign, at, measure(sign.words)), sign.kind == "point")
        for level, (start, end) in zip(more.levels, self.levels, strict=True):
            put(level.words, _on_level(start, end, measure(level.words), sheet, level.stretch is not None))
        for upright, x in zip(more.uprights, self.uprights, strict=True):
            put(upright.words, _beside(x, measure(upright.words), sheet))
        for edge, at in zip(more.edges, self.edges, strict=True):
            if edge.words:
                put(edge.words, around(at, measure(edge.words))[::-1])
        self._put_names(put, measure)
        return found

    def _put_names(self, put: Callable[[str, list[Box], bool], None], measure: Callable[[str], Spot]) -> None:
        """What lies below nothing is named above the zero line over it, a band at its edges."""
        zero = self._spot(0.0, 0.0)[1]
        for shade in self.shades:
            wide, high = measure(self.more.shaded)
            left, right = shade.boundingRect().left(), shade.boundingRect().right()
            if right - left > wide:
                starts = [left + share * (right - left - wide) for share in (0.5, 0.2, 0.8, 0.0, 1.0)]
                tops = (zero - high - 1.0, zero + 3.0)
                put(self.more.shaded, [Box(x, top, x + wide, top + high) for x in starts for top in tops], True)
        for band, sides in zip(self.more.bands, self.sides, strict=True):
            for name, side, above in zip(band.names, sides, (True, False), strict=True):
                put(name, _at_edge(side, measure(name), above), True)

    # Painting --------------------------------------------------------------------------------------------------------

    def paint_beneath(self, painter: QPainter, look: Look, width: float, height: float) -> None:
        """Bands, what lies below nothing, wants, other curves, in a lane of a size."""
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.grid_major))
        for band in self.bands:
            painter.drawPolygon(band)
        painter.setBrush(QBrush(QColor(look.hatch), Qt.BrushStyle.BDiagPattern))
        for shade in self.shades:
            painter.drawPolygon(shade)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(thin(painter, look.faint, DOTS))
        for side in self.sides:
            for edge in side:
                painter.drawPolyline(edge)
        painter.setPen(thin(painter, look.edge))
        for curve in self.others:
            painter.drawPolyline(curve)
        painter.setPen(thin(painter, look.ink, DASHES))
        for (left, y), (right, _) in self.levels:
            row = sharp(painter, y)
            painter.drawLine(QPointF(left, row), QPointF(min(right, width), row))
        for x in self.uprights:
            column = sharp(painter, x)
            painter.drawLine(QPointF(column, 0.0), QPointF(column, height))

    def paint_curves(self, painter: QPainter) -> None:
        """The pieces of the curve beyond its gaps, in the curve's own pen."""
        for piece in self.pieces:
            painter.drawPolyline(piece)

    def paint_over(self, painter: QPainter, look: Look, read: Spot | None) -> None:
        """The curve's ends, the signs, and a dot where it is read."""
        painter.setPen(QPen(QColor(look.ink), 1.4))
        for x, y in self.edges:
            for off in (1.0, 4.0):
                painter.drawLine(QPointF(x + off - 2.0, y + 5.0), QPointF(x + off + 2.0, y - 5.0))
        if read is not None:
            painter.setPen(thin(painter, look.paper))
            painter.setBrush(QColor(look.selection))
            painter.drawEllipse(QPointF(*read), POSE_PX, POSE_PX)
        for sign, at in self.signs:
            _paint_sign(painter, look, sign.kind, QPointF(*at))
        painter.setBrush(Qt.BrushStyle.NoBrush)


def thin(painter: QPainter, colour: str, dash: tuple[float, ...] = ()) -> QPen:
    """Give a pen one pixel of the screen wide, at every scale: Qt draws wider ones many times slower."""
    return line_pen(Pen(colour, THIN, dash), ratio=painter.device().devicePixelRatioF())


def sharp(painter: QPainter, place: float) -> float:
    """Give the middle of the one row (or column) of the screen's pixels at a place, which a thin line shall fill."""
    ratio = painter.device().devicePixelRatioF()
    return (floor(place * ratio) + 0.5) / ratio


def paint_under(painter: QPainter, look: Look, stretches: list[tuple[float, float]], height: float) -> None:
    """Say where the figure goes on below the lane: dots along the lower edge, an arrow at their ends."""
    y = height - EDGE_PX
    painter.setPen(thin(painter, look.faint, DOTS))
    for first, last in stretches:
        painter.drawLine(QPointF(first, y), QPointF(last, y))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.faint))
    for x in {x for stretch in stretches for x in stretch}:
        painter.drawPolygon(DOWN.translated(x, y))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _paint_sign(painter: QPainter, look: Look, kind: str, at: QPointF) -> None:
    if kind in ("largest", "short"):
        painter.setPen(thin(painter, look.paper))
        painter.setBrush(QColor(look.fault if kind == "short" else look.ok))
        painter.drawPolygon(DIAMOND.translated(at))
        return
    painter.setPen(QPen(QColor(look.ink), 1.2))
    painter.setBrush(QColor(look.ink if kind != "unstable" else look.paper))
    if kind == "tip-over":
        painter.drawEllipse(at + BALL, 2.2, 2.2)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(HILL.translated(at))
    elif kind == "point":
        painter.drawEllipse(at, 1.6, 1.6)
    else:
        painter.drawPolygon((ON_BASE if kind == "stable" else ON_TIP).translated(at))


def _anchor(sign: Sign, y: float) -> float:
    """The height about which a sign's words go."""
    return y + {"tip-over": -7.0, "stable": 5.0, "unstable": 5.0}.get(sign.kind, 0.0)


def _about(sign: Sign, at: Spot, size: Spot) -> list[Box]:
    """Boxes about a sign: as near as can be, else a little beside it, where a steep curve has passed by."""
    x, y = at[0], _anchor(sign, at[1])
    wide, high = size
    lefts = [left for off in (10.0, 25.0, 50.0) for left in (x + off, x - off - wide)]
    near = around((x, y), size)
    close = [Box(left, y - 3.0 - high, left + wide, y - 3.0) for left in (x + 4.0, x - 4.0 - wide)]
    return [*near[:2], *close, *(Box(left, y - high / 2, left + wide, y + high / 2) for left in lefts), *near[2:]]


def _room(sign: Sign, at: Spot) -> Box:
    """What a sign takes of the lane."""
    x, y = at
    if sign.kind == "tip-over":
        return Box(x - 8.0, y - 11.0, x + 8.0, y)
    if sign.kind in ("stable", "unstable"):
        return Box(x - 5.0, y + 1.0, x + 5.0, y + 10.0)
    return Box(x - 3.0, y - 3.0, x + 3.0, y + 3.0)


def _middle(sheet: Box, size: Spot) -> Box:
    """A box in the middle of the lane's height, a little off its left edge."""
    top = (sheet.top + sheet.bottom - size[1]) / 2
    return Box(sheet.left + 10.0, top, sheet.left + 10.0 + size[0], top + size[1])


def _on_level(start: Spot, end: Spot, size: Spot, sheet: Box, ends: bool) -> list[Box]:
    """Boxes on a level line: one that ends has its words behind its end, or on it; else they begin at the right."""
    wide, high = size
    y = start[1]
    if ends:
        lefts = [end[0] + 5.0, start[0] + 5.0, *(end[0] + away for away in (50.0, 100.0, 180.0, 280.0))]
        tops = [y - high / 2, y - high, y + 1.0]
    else:
        lefts = [sheet.left + share * (sheet.right - sheet.left - wide - 1.0) for share in (1.0, 0.75, 0.5, 0.25, 0.0)]
        tops = [y - high, y + 1.0]
    return [Box(x, top, x + wide, top + high) for x in lefts for top in tops]


def _beside(x: float, size: Spot, sheet: Box) -> list[Box]:
    """Boxes beside an upright line: at the lower edge, the upper one, between; each left, then right."""
    wide, high = size
    found = []
    room = sheet.bottom - sheet.top - high - 6.0
    for share in (1.0, 0.0, 0.8, 0.6, 0.4, 0.2):
        top = sheet.top + 3.0 + share * room
        found += [Box(left, top, left + wide, top + high) for left in (x - 4.0 - wide, x + 4.0)]
    return found


def _at_edge(edge: QPolygonF, size: Spot, above: bool) -> list[Box]:
    """Boxes just outside an edge of a band, at a few places along it."""
    wide, high = size
    found = []
    for share in (0.9, 0.75, 0.6, 0.45, 0.3, 0.15):
        spot = edge.at(int(share * (edge.size() - 1)))
        top = spot.y() - high - 3.0 if above else spot.y() + 3.0
        found.append(Box(spot.x() - wide / 2, top, spot.x() + wide / 2, top + high))
    return found


def _columns(shade: Floats) -> list[Box]:
    """What a hatched face takes of the lane, in a few upright strips; none where it is too low to hold words."""
    xs, ys, low = shade[1:-1, 0], shade[1:-1, 1], float(shade[0, 1])
    if len(xs) == 0 or float(ys.max()) < low + HATCHED_PX:
        return []
    parts = np.array_split(np.arange(len(xs)), min(STRIPS, len(xs)))
    return [Box(float(xs[k[0]]), low, float(xs[k[-1]]), float(ys[k].max())) for k in parts]


def _below_nothing(curves: list[tuple[Floats, Floats]]) -> list[tuple[Floats, Floats]]:
    """The faces between the zero line and what of the curves lies beneath it, as closed lines."""
    found = []
    for xs, ys in curves:
        under = np.concatenate([[False], ys < 0.0, [False]]).astype(np.int8)
        for first, after in np.flatnonzero(np.diff(under)).reshape(-1, 2).tolist():
            start, end = _crossing(xs, ys, first - 1), _crossing(xs, ys, after - 1)
            begin = xs[first] if start is None else start
            stop = xs[after - 1] if end is None else end
            place = np.concatenate([[begin], xs[first:after], [stop]])
            found.append((place, np.concatenate([[0.0], ys[first:after], [0.0]])))
    return found


def _highest(own: list[Floats], lines: list[Floats]) -> list[Floats]:
    """The upper edge of other curves over the same places, above which words stand with the curve that is the highest;
    those of a lower one stay by their sign.
    """
    if not lines or not own or any(len(line) != len(lines[0]) for line in lines):
        return []
    heights = np.min([line[:, 1] for line in lines], axis=0)
    return [np.column_stack([lines[0][:, 0], heights])] if own[0][:, 1].min() <= heights.min() else []


def _crossing(xs: Floats, ys: Floats, k: int) -> float | None:
    """Where a curve goes through nothing between its points k and k + 1; None beyond its ends."""
    if k < 0 or k + 1 >= len(xs):
        return None
    return float(xs[k] + (xs[k + 1] - xs[k]) * ys[k] / (ys[k] - ys[k + 1]))
