"""One photo beneath the board: drawn for a camera, and then only put down.

A photo of 12 million pixels through a perspective takes far longer than a frame. So it is drawn into a *kept* picture
of what the window shows of it, and some way around. While the sheet is pushed or zoomed, its link swings or a hand
moves it, the kept picture is put down where it belongs by then, a little *coarse*. When all has stood still for a
moment it is drawn afresh, a *slice* at a time with whatever else there is to do in between, and changes once it is
whole. Only the first is drawn at once, of as few pixels as a slice has.
Smaller copies, each half of the one before, are drawn from where the sheet shows the photo smaller: fewer pixels to go
through, and none that are skipped. Nor is a kept picture finer than the photo itself.
"""

from __future__ import annotations

from math import floor, hypot, log2, sqrt
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QImage, QPainter, QPainterPath, QPixmap, QPolygonF, QTransform
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.files.photo_beneath import transform_of
from kinematics.pictures import ahead, through

if TYPE_CHECKING:
    from kinematics.pictures import Picture, Place

MOST_KEPT_PX = 8e6  # of a kept picture: 32 MB
AROUND = 0.2  # of the window, on each side, that is drawn beyond it
SLICE_PX = 6e5  # drawn at a time: some 5 ms through a perspective
SMALLEST_PX = 64  # a side of the smallest copy


class Kept:
    """A picture of what a window shows of a photo, and where its pixels stand while camera and place are the same."""

    def __init__(self, part: QRect, ratio: float, now: QTransform, place: Place, *, is_rough: bool) -> None:
        self.pixels = QPixmap(max(round(part.width() * ratio), 1), max(round(part.height() * ratio), 1))
        self.pixels.fill(Qt.GlobalColor.transparent)
        self.at, self.ratio, self.is_rough = QPointF(part.topLeft()), ratio, is_rough
        self.now, self._matrix, self._whole = now, place.matrix, transform_of(place) * now
        self.rows = 0  # that are drawn

    @property
    def is_whole(self) -> bool:
        """Whether all of it is drawn."""
        return self.rows >= self.pixels.height()

    def is_for(self, now: QTransform, place: Place) -> bool:
        """Whether its pixels stand where they were drawn."""
        return now == self.now and place.matrix == self._matrix

    def to(self, now: QTransform, place: Place) -> QTransform:
        """What takes it to where it belongs for another camera, or for another place of the photo."""
        is_there = place.matrix == self._matrix
        back, is_regular = (self.now if is_there else self._whole).inverted()
        return back * (now if is_there else transform_of(place) * now) if is_regular else QTransform()

    def draw_slice(self, image: QImage, size: tuple[int, int], path: QPainterPath) -> None:
        """Draw the rows that come next. size : of the photo.     path : what is shown of it, in its pixels."""
        rows = max(int(SLICE_PX / self.pixels.width()), 1)
        painter = QPainter(self.pixels)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.setClipRect(QRect(0, self.rows, self.pixels.width(), rows))
        painter.scale(self.ratio, self.ratio)
        painter.translate(-self.at)
        painter.setWorldTransform(self._whole, combine=True)
        painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
        painter.scale(size[0] / image.width(), size[1] / image.height())
        painter.drawImage(0, 0, image)
        painter.end()
        self.rows += rows

    def put(self, painter: QPainter, to: QTransform) -> None:
        """Put it down. to : what takes its pixels to where they belong."""
        painter.setWorldTransform(QTransform(1 / self.ratio, 0, 0, 1 / self.ratio, self.at.x(), self.at.y()) * to)
        painter.drawPixmap(0, 0, self.pixels)


class PhotoItem(QGraphicsItem):
    """One photo, in mm of its link."""

    def __init__(self, picture: Picture, image: QImage) -> None:
        super().__init__()
        self._levels = [image]
        self.picture = picture
        self._bounds = QRectF()
        self._path = QPainterPath()
        self._kept: Kept | None = None
        self._next: Kept | None = None  # the one that is being drawn
        self._now = QTransform()  # the camera of the last paint
        self.is_coarse = False  # the kept picture was drawn for another camera, or of few pixels
        self.setVisible(not picture.hidden)
        self._cover(picture.place)

    def take(self, picture: Picture) -> None:
        """Show this picture, doing only what differs."""
        before, self.picture = self.picture.place, picture
        self.setVisible(not picture.hidden)
        if (picture.place.matrix, picture.place.crop) != (before.matrix, before.crop):
            self._cover(picture.place)
        if picture.place.crop != before.crop:
            self._kept = None
        if picture.place != before:
            self.update()

    def _cover(self, place: Place) -> None:
        """Find out what it covers now."""
        self.prepareGeometryChange()
        seen = ahead(place)
        self._bounds = QPolygonF([QPointF(*through(place.matrix, at)) for at in seen]).boundingRect()
        self._path = QPainterPath()
        self._path.addPolygon(QPolygonF([QPointF(*at) for at in seen]))
        self._next = None

    def boundingRect(self) -> QRectF:
        """What it covers, mm."""
        return self._bounds

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:  # noqa: ARG002  Qt's own names
        """Put the kept picture down."""
        if widget is not None:
            self.put(painter, widget)

    def put(self, painter: QPainter, widget: QWidget) -> None:
        """Put the kept picture down where it belongs by now; where there is none, one of few pixels is drawn."""
        if not self.is_seen:
            return
        now, place = QTransform(painter.worldTransform()), self.picture.place
        self._now = now
        if self._next is not None and not self._next.is_for(now, place):
            self._next = None
        if self._kept is None:
            self._kept = self._begin(widget, SLICE_PX)
            while self._kept is not None and not self._kept.is_whole:
                self._draw_slice(self._kept)
        kept = self._kept
        if kept is None:
            return
        is_there = kept.is_for(now, place)
        self.is_coarse = not is_there or kept.is_rough
        painter.save()
        painter.setOpacity(1.0 - place.fade)
        is_smooth = is_there and kept.ratio < widget.devicePixelRatioF()  # fast in motion, and smooth at rest
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, is_smooth)
        kept.put(painter, QTransform() if is_there else kept.to(now, place))
        painter.restore()

    # Drawing afresh --------------------------------------------------------------------------------------------------

    @property
    def is_seen(self) -> bool:
        """Whether there is anything to be seen of it."""
        return self.isVisible() and self.picture.place.fade < 1.0

    @property
    def is_being_drawn(self) -> bool:
        """Whether it is being drawn afresh."""
        return self._next is not None

    def begin(self, widget: QWidget) -> None:
        """Begin to draw it afresh for the camera of the last paint."""
        self._next = self._begin(widget, MOST_KEPT_PX)
        if self._next is None:  # nothing of it is in the window
            self._kept, self.is_coarse = None, False

    def draw_slice(self) -> None:
        """Draw a slice; the last one lets the new picture be shown."""
        if self._next is None:
            return
        self._draw_slice(self._next)
        if self._next.is_whole:
            self._kept, self._next, self.is_coarse = self._next, None, False
            self.update()

    def _draw_slice(self, kept: Kept) -> None:
        kept.draw_slice(self._level(kept.ratio), self.picture.place.size, self._path)

    def _begin(self, widget: QWidget, most_px: float) -> Kept | None:
        """Begin a picture of what the window shows, and some way around; None where it shows nothing."""
        part = self._part(widget)
        if part.isEmpty():
            return None
        area, best = part.width() * part.height(), self._best_ratio(widget, part)
        ratio = min(best, sqrt(most_px / area))
        return Kept(part, ratio, self._now, self.picture.place, is_rough=ratio < best)

    def _part(self, widget: QWidget) -> QRect:
        """What to draw of it: what the window shows, and around it as far as that many pixels may be kept."""
        room, seen = QRectF(widget.rect()), self._now.mapRect(self._bounds)
        wide, high = AROUND * room.width(), AROUND * room.height()
        part = seen.intersected(room.adjusted(-wide, -high, wide, high)).toAlignedRect()
        if part.width() * part.height() * widget.devicePixelRatioF() ** 2 > MOST_KEPT_PX:
            part = seen.intersected(room).toAlignedRect()
        return part

    def _best_ratio(self, widget: QWidget, part: QRect) -> float:
        """Pixels to draw for each of the window's: no more than its screen has, the photo has, or may be kept."""
        corners = [self._path.elementAt(index) for index in range(self._path.elementCount())]
        photo = 1.0 / max(1e-6, *(self._pixels(QPointF(at.x, at.y)) for at in corners))
        return min(widget.devicePixelRatioF(), photo, sqrt(MOST_KEPT_PX / (part.width() * part.height())))

    def _pixels(self, at: QPointF) -> float:
        """How many of the window's pixels a pixel of the photo is wide there."""
        whole = transform_of(self.picture.place) * self._now
        here = whole.map(at)
        steps = [whole.map(at + QPointF(*by)) - here for by in ((1.0, 0.0), (0.0, 1.0))]
        return max(hypot(step.x(), step.y()) for step in steps)

    def _level(self, ratio: float) -> QImage:
        """The copy that has about as many pixels as are drawn of it."""
        pixels = ratio * self._pixels(self._path.boundingRect().center())
        wanted = floor(-log2(min(max(pixels, 1e-6), 1.0)))
        while len(self._levels) <= wanted and min(self._levels[-1].width(), self._levels[-1].height()) > SMALLEST_PX:
            last = self._levels[-1]
            self._levels.append(
                last.scaled(
                    last.width() // 2,
                    last.height() // 2,
                    Qt.AspectRatioMode.IgnoreAspectRatio,
                    Qt.TransformationMode.SmoothTransformation,
                )
            )
        return self._levels[min(wanted, len(self._levels) - 1)]
