"""The board's items: one for each key of the sheet's shapes, made once and then only moved.

A *frame* is an item without looks, one for each link and layer. It carries the link's placement, and the link's
strokes, symbols and words of that layer are its children: a new pose moves some twenty frames and touches nothing
else. When the project changes, every item takes its newest shape and does only what differs: a ghost moves, a
dragged pin's band gets a new path, all else stays. What stands still and is dear to draw (fixed outlines, their
hatching) is kept as a picture.

The scene's y points up, as the side view's does; the view turns it over.
"""

from __future__ import annotations

from math import degrees, log2
from typing import TYPE_CHECKING, TypeAlias

import shapely
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QTransform
from PySide6.QtWidgets import QGraphicsItem, QGraphicsPathItem, QStyleOptionGraphicsItem, QWidget

from app import painter as put
from app.hatching import DEPTH_PX, PITCH_PX, hatch_lines
from app.kept import kept
from app.labels import Box
from app.shapes import SHUT, Hatch, Label, Layer, Placement, Shape, Stroke, Symbol
from app.symbols import bounds

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from app.look import Look
    from kinematics.project import Point

MANY = 200  # points from which on a line is thinned
ROOM_PX = 10.0  # from handle to handle: they are 7 wide, and the line between them is to be seen
UNSEEN_PX = 0.1  # no eye sees a line that is off by this
STILL = QGraphicsItem.CacheMode.DeviceCoordinateCache


class Frame(QGraphicsItem):
    """Carries a link's items of one layer."""

    def __init__(self, layer: Layer) -> None:
        super().__init__()
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemHasNoContents)
        self.setZValue(float(layer))

    def boundingRect(self) -> QRectF:
        """Nothing: it has no contents."""
        return QRectF()

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """Nothing."""


def move(item: QGraphicsItem, placement: Placement) -> None:
    """Put an item where a link stands."""
    item.setPos(placement.dx, placement.dy)
    item.setRotation(degrees(placement.turn_rad))
    if placement.along_rad != 0.0 or placement.stretch != 1.0:  # Qt turns first and then draws out
        along = degrees(placement.turn_rad + placement.along_rad)
        item.setTransform(QTransform().rotate(along).scale(placement.stretch, 1.0).rotate(-along))
    elif not item.transform().isIdentity():
        item.setTransform(QTransform())


def zoom_step(scale: float) -> int:
    """Give the number of a zoom (pixels per mm): it changes where that has changed by about a third."""
    return round(2.5 * log2(scale))


def scale_of(step: int) -> float:
    """Give the zoom that stands for all of a number."""
    return float(2.0 ** (step / 2.5))


@kept(64)
def thinned(points: tuple[Point, ...], closed: bool, by: float) -> tuple[Point, ...]:
    """Leave out points of a line that would move it by less than `by` (mm)."""
    line = shapely.simplify(shapely.LineString([*points, points[0]] if closed else points), by, preserve_topology=False)
    found = tuple((x, y) for x, y in line.coords)
    return found[:-1] if closed else found


class StrokeItem(QGraphicsPathItem):
    """A line, or a face with an edge; one of very many points is drawn by as few of them as tell it at the zoom."""

    def __init__(self, stroke: Stroke, ratio: float) -> None:
        super().__init__()
        self.shape_shown = stroke
        self._ratio = ratio
        self._step: int | None = None
        self._draw(stroke, None)

    def rescale(self, scale: float) -> None:
        """Take another zoom, pixels per mm."""
        if self.shape_shown.near > 0.0:
            self.setVisible(scale >= self.shape_shown.near)
        step = zoom_step(scale)
        if step != self._step:
            self._step = step
            if len(self.shape_shown.points) >= MANY:
                self._draw_path()

    def _draw_path(self) -> None:
        points, closed = self.shape_shown.points, self.shape_shown.closed
        if len(points) >= MANY and self._step is not None:
            points = thinned(points, closed, UNSEEN_PX / self._ratio / scale_of(self._step))
        self.setPath(put.line_path(points, closed))

    def take(self, stroke: Stroke) -> None:
        """Show this stroke, doing only what differs from the one before."""
        old, self.shape_shown = self.shape_shown, stroke
        self._draw(stroke, old)

    def _draw(self, stroke: Stroke, old: Stroke | None) -> None:
        if old is None or old.points != stroke.points or old.closed != stroke.closed:
            self._draw_path()
        if old is None or old.pen != stroke.pen:
            self.setPen(put.line_pen(stroke.pen, ratio=self._ratio))
        if old is None or (old.fill, old.veil) != (stroke.fill, stroke.veil):
            self.setBrush(put.face_brush(stroke.fill, stroke.veil))
        if old is None or old.at != stroke.at:
            move(self, stroke.at or SHUT)
        if stroke.layer == Layer.FIXED and stroke.at is None:
            self.setCacheMode(STILL)


class HatchItem(QGraphicsPathItem):
    """Hatching; made anew when the zoom has changed by a third, so that its strokes keep about their size."""

    def __init__(self, hatch: Hatch) -> None:
        super().__init__()
        self.shape_shown = hatch
        self._step: int | None = None
        self.setCacheMode(STILL)
        self.setPen(put.line_pen(hatch.pen))

    def take(self, hatch: Hatch) -> None:
        """Show this hatching, at the zoom of the last one."""
        self.shape_shown = hatch
        self.setPen(put.line_pen(hatch.pen))
        self._draw()

    def rescale(self, scale: float) -> None:
        """Take another zoom, pixels per mm."""
        step = zoom_step(scale)
        if step != self._step:
            self._step = step
            self._draw()

    def _draw(self) -> None:
        hatch = self.shape_shown
        if self._step is not None:
            scale = scale_of(self._step)
            lines = hatch_lines(hatch.points, hatch.closed, hatch.side, DEPTH_PX / scale, PITCH_PX / scale)
            self.setPath(put.segments_path(lines))


class SymbolItem(QGraphicsItem):
    """A symbol, upright and of one size at every zoom."""

    def __init__(self, symbol: Symbol) -> None:
        super().__init__()
        self.shape_shown = symbol
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self.take(symbol)

    def take(self, symbol: Symbol) -> None:
        """Show this symbol."""
        self.prepareGeometryChange()
        self.shape_shown = symbol
        left, top, right, bottom = bounds(symbol.glyph)
        far = max(-left, -top, right, bottom)  # turned, it may reach that far to any side
        self._bounds = (
            QRectF(-far, -far, 2 * far, 2 * far) if symbol.turn_deg else QRectF(left, top, right - left, bottom - top)
        )
        self.setPos(QPointF(*symbol.at[0]))

    def rescale(self, scale: float) -> None:
        """Take another zoom, pixels per mm."""
        if self.shape_shown.near > 0.0:
            self.setVisible(scale >= self.shape_shown.near)

    def boundingRect(self) -> QRectF:
        """The symbol's bounds, pixels."""
        return self._bounds

    def paint(self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None) -> None:
        """Draw it."""
        put.draw_symbol(painter, self.shape_shown)


class SymbolsItem(QGraphicsItem):
    """One symbol at many points, such as the handles of an outline."""

    def __init__(self, symbol: Symbol) -> None:
        super().__init__()
        self.take(symbol)

    def take(self, symbol: Symbol) -> None:
        """Show this symbol at these points."""
        self.prepareGeometryChange()
        self.shape_shown = symbol
        xs, ys = [x for x, _ in symbol.at], [y for _, y in symbol.at]
        spread = 1.0 + (max(xs) - min(xs)) + (max(ys) - min(ys))  # stands for the pixels, whose mm it doesn't know
        self._bounds = QRectF(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)).adjusted(
            -spread, -spread, spread, spread
        )

    def boundingRect(self) -> QRectF:
        """Generous bounds, mm."""
        return self._bounds

    def paint(self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None) -> None:
        """Draw them, each in pixels around its point; where a curve's stand close, those that leave each other room."""
        to_sheet = painter.worldTransform()
        painter.save()
        for spot in apart([to_sheet.map(QPointF(x, y)) for x, y in self.shape_shown.at]):
            painter.resetTransform()
            painter.translate(spot)
            put.draw_symbol(painter, self.shape_shown)
        painter.restore()


def apart(spots: list[QPointF]) -> list[QPointF]:
    """Leave out what lies nearer than `ROOM_PX` to the one kept before it; the ends stay."""
    kept = spots[:1]
    for spot in spots[1:]:
        off = spot - kept[-1]
        if max(abs(off.x()), abs(off.y())) >= ROOM_PX:
            kept.append(spot)
    return kept if kept[-1:] == spots[-1:] else [*kept, spots[-1]]


class LabelItem(QGraphicsItem):
    """Words beside a point; the layout says where (`app.labels`)."""

    def __init__(self, label: Label, look: Look) -> None:
        super().__init__()
        self.shape_shown = label
        self._look = look
        self._box = Box(0.0, 0.0, 0.0, 0.0)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self.setVisible(False)  # until it has its place
        self.take(label)

    def take(self, label: Label) -> None:
        """Show these words; longer or shorter ones about the same middle, until they have their place."""
        if label.text != self.shape_shown.text:
            (wide, high), old = put.label_size(label, self._look), self._box
            x, y = (old.left + old.right) / 2, (old.top + old.bottom) / 2
            self.put_at(Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
        self.shape_shown = label
        self.setPos(QPointF(*label.at))
        self.update()

    def put_at(self, box: Box) -> None:
        """Stand in this box, pixels from the label's point."""
        if box != self._box:
            self.prepareGeometryChange()
            self._box = box

    @property
    def box(self) -> Box:
        """Where the words stand, pixels from the label's point."""
        return self._box

    def boundingRect(self) -> QRectF:
        """The words and the leader, pixels."""
        box = self._box
        return (
            QRectF(box.left, box.top, box.right - box.left, box.bottom - box.top)
            .united(QRectF(-1, -1, 2, 2))
            .adjusted(-2, -2, 2, 2)
        )

    def paint(self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None) -> None:
        """Draw it."""
        put.draw_label(painter, self.shape_shown, self._look, self._box, (0.0, 0.0))


Item: TypeAlias = StrokeItem | HatchItem | SymbolItem | SymbolsItem | LabelItem


def make(shape: Shape, look: Look, ratio: float) -> Item:
    """Make the item of a shape. ratio : of the screen's pixels to the sheet's."""
    if isinstance(shape, Stroke):
        return StrokeItem(shape, ratio)
    if isinstance(shape, Hatch):
        return HatchItem(shape)
    if isinstance(shape, Label):
        return LabelItem(shape, look)
    return SymbolItem(shape) if len(shape.at) == 1 else SymbolsItem(shape)


def fits(item: Item, shape: Shape) -> bool:
    """Tell whether an item can take this shape, or another must be made."""
    kinds = {Stroke: StrokeItem, Hatch: HatchItem, Label: LabelItem, Symbol: SymbolItem}
    kind = SymbolsItem if isinstance(shape, Symbol) and len(shape.at) != 1 else kinds[type(shape)]
    old = item.shape_shown
    return type(item) is kind and (old.link, layer_of(old)) == (shape.link, layer_of(shape))


def layer_of(shape: Shape) -> Layer:
    """Give the layer of a shape; words lie on top of all, those without a leader topmost."""
    if isinstance(shape, Label):
        return Layer.TIED_WORDS if shape.leader else Layer.WORDS
    return shape.layer


def own_placement(shape: Shape) -> Placement | None:
    """Give the placement that a shape brings along instead of its link's."""
    return shape.at if isinstance(shape, Stroke) else None
