"""Photos beneath the board: each decoded once, drawn once for a camera, and then only put down.

A photo of 12 million pixels through a perspective takes far longer than a frame. So each is drawn into a *kept* picture
of what the window shows of it, and some way around. While the sheet is pushed or zoomed, or its link swings, the kept
picture is put down where it belongs by then, a little coarse; when all has stood still for a moment it is drawn afresh.
Smaller copies, each half of the one before, are drawn from where the sheet shows the photo smaller: fewer pixels to go
through, and none that are skipped.
"""

from __future__ import annotations

from functools import partial
from math import floor, hypot, log2, sqrt
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QObject, QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QImage, QPainter, QPainterPath, QPixmap, QPolygonF, QTransform
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.board.items import Frame, move
from app.files.photo_beneath import transform_of
from app.pumped import Pumped
from app.shapes import SHUT, Layer
from kinematics.pictures import ahead, through

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from app.board.board import Board
    from app.shapes import Placement
    from kinematics.pictures import Picture
    from kinematics.project import Project

REST_MS = 120
MOST_KEPT_PX = 16e6  # of a kept picture: a window of 2560 × 1440 at scale 2, and nothing around it then
AROUND = 0.2  # of the window, on each side, that is drawn beyond it
KEPT_SUMS = 3  # decoded photos that stay at hand though no project shows them, for undo


class PhotoItem(QGraphicsItem):
    """One photo, in mm of its link."""

    def __init__(self, picture: Picture, image: QImage) -> None:
        super().__init__()
        self._levels = [image]
        self.picture = picture
        self._bounds = QRectF()
        self._path = QPainterPath()
        self._kept: QPixmap | None = None
        self._kept_at = QPointF()
        self._kept_for = QTransform()
        self.is_coarse = False  # the kept picture was drawn for another camera
        self.take(picture, force=True)

    def take(self, picture: Picture, *, force: bool = False) -> None:
        """Show this picture, doing only what differs."""
        before, self.picture = self.picture, picture
        self.setVisible(not picture.hidden)
        if not force and picture.place == before.place:
            return
        if force or (picture.place.matrix, picture.place.crop) != (before.place.matrix, before.place.crop):
            self.prepareGeometryChange()
            seen = ahead(picture.place)
            mm = [QPointF(*through(picture.place.matrix, at)) for at in seen]
            self._bounds = QPolygonF(mm).boundingRect()
            self._path = QPainterPath()
            self._path.addPolygon(QPolygonF([QPointF(*at) for at in seen]))
            self._kept = None
        self.update()

    def boundingRect(self) -> QRectF:
        """What it covers, mm."""
        return self._bounds

    def sharpen(self) -> None:
        """Let it be drawn afresh for the camera that is there now."""
        if self.is_coarse:
            self._kept = None
            self.update()

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:  # noqa: ARG002  Qt's own names
        """Put the kept picture down."""
        if widget is not None:
            self.put(painter, widget)

    def put(self, painter: QPainter, widget: QWidget) -> None:
        """Put the kept picture down where it belongs by now; drawn first, where there is none."""
        fade = self.picture.place.fade
        if fade >= 1:
            return
        now = painter.worldTransform()
        if self._kept is None:
            self._draw(now, widget)
        kept = self._kept
        if kept is None:
            return
        back, is_regular = self._kept_for.inverted()
        self.is_coarse = now != self._kept_for
        painter.save()
        painter.setOpacity(1.0 - fade)
        painter.setWorldTransform(back * now if self.is_coarse and is_regular else QTransform())
        painter.drawPixmap(self._kept_at, kept)
        painter.restore()

    def _draw(self, now: QTransform, widget: QWidget) -> None:
        """Draw what the window shows of it, and some way around."""
        ratio, room = widget.devicePixelRatioF(), QRectF(widget.rect())
        around = room.adjusted(
            -AROUND * room.width(), -AROUND * room.height(), AROUND * room.width(), AROUND * room.height()
        )
        seen = now.mapRect(self._bounds)
        part = seen.intersected(around).toAlignedRect()
        if part.width() * part.height() * ratio**2 > MOST_KEPT_PX:
            part = seen.intersected(room).toAlignedRect()
        if part.isEmpty():
            return
        ratio = min(ratio, sqrt(MOST_KEPT_PX / (part.width() * part.height())))
        kept = QPixmap(round(part.width() * ratio), round(part.height() * ratio))
        kept.setDevicePixelRatio(ratio)
        kept.fill(Qt.GlobalColor.transparent)
        painter = QPainter(kept)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.translate(-part.left(), -part.top())
        whole = transform_of(self.picture.place) * now
        painter.setWorldTransform(whole, combine=True)
        painter.setClipPath(self._path)
        image = self._level(whole, ratio)
        width, height = self.picture.place.size
        painter.scale(width / image.width(), height / image.height())
        painter.drawImage(0, 0, image)
        painter.end()
        self._kept, self._kept_at, self._kept_for = kept, QPointF(part.topLeft()), QTransform(now)

    def _level(self, whole: QTransform, ratio: float) -> QImage:
        """The copy that has about as many pixels as the sheet shows of it."""
        middle = self._path.boundingRect().center()
        here = whole.map(middle)
        steps = [whole.map(middle + QPointF(*by)) - here for by in ((1.0, 0.0), (0.0, 1.0))]
        pixels = ratio * max(hypot(step.x(), step.y()) for step in steps)
        wanted = floor(-log2(min(max(pixels, 1e-6), 1.0)))
        while len(self._levels) <= wanted and min(self._levels[-1].width(), self._levels[-1].height()) > 64:
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


class Photos(QObject):
    """The photos of one board: follows the document, decodes each photo once, and sharpens when all stands still."""

    def __init__(self, board: Board) -> None:
        super().__init__(board)
        self._board = board
        self.items: dict[str, PhotoItem] = {}
        self._frames: dict[str, Frame] = {}
        self._images: dict[str, QImage | None] = {}  # by sum; None where it is none, or isn't there yet
        self._pumped = Pumped(self, lambda fault: board.document.noticed.emit(str(fault)))
        self._told: set[str] = set()
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.sharpen)
        board.document.changed.connect(self._show)
        self._show(board.document.project)

    def _show(self, project: Project) -> None:
        """Show the photos of a project, the later ones over the earlier."""
        shown = [item.picture for item in self.items.values()]
        photos = project.photos
        if len(shown) != len(photos) or any(one is not other for one, other in zip(shown, photos, strict=True)):
            before, self.items = self.items, {}
            for picture in photos:
                item = self._item(picture, before.get(picture.id))
                if item is not None:
                    self.items[picture.id] = item
            for id_, item in before.items():
                if self.items.get(id_) is not item and item.scene() is not None:
                    item.scene().removeItem(item)
            self._forget(project)
            self._repaint()
        self._tell_faults(project)

    def _item(self, picture: Picture, before: PhotoItem | None) -> PhotoItem | None:
        """The item of a picture: the one that is there, where it shows the same photo."""
        item = before
        if item is None or item.picture.sha256 != picture.sha256:
            image = self._decoded(picture)
            if image is None:
                return None
            item = PhotoItem(picture, image)
        else:
            item.take(picture)
        if picture.on == self._board.document.project.fixed.id:
            if item.scene() is not None:
                item.scene().removeItem(item)
        else:
            item.setParentItem(self._frame(picture.on))
            item.setZValue(float(len(self.items)))
        return item

    def draw_still(self, painter: QPainter) -> None:
        """Draw the photos on the fixed link: part of the paper, which the view keeps."""
        for item in self.items.values():
            if item.scene() is None and item.isVisible():
                painter.save()
                item.put(painter, self._board.view.viewport())
                painter.restore()

    def _repaint(self) -> None:
        self._board.view.resetCachedContent()
        self._board.view.viewport().update()

    def _decoded(self, picture: Picture) -> QImage | None:
        """The photo's pixels; None where it is none, or isn't decoded yet: it is shown when it is."""
        from app.files.photos import image_of

        if picture.sha256 not in self._images:
            self._images[picture.sha256] = None
            self._pumped.do(picture.sha256, partial(image_of, picture), partial(self._take, picture.sha256))
        return self._images[picture.sha256]

    def _take(self, sha256: str, image: QImage) -> None:
        if sha256 in self._images:
            self._images[sha256] = image
            self._show(self._board.document.project)
            self._repaint()

    def _forget(self, project: Project) -> None:
        """Let go of photos that haven't been shown for long."""
        shown = {picture.sha256 for picture in project.photos}
        idle = [each for each in self._images if each not in shown]
        for each in idle[: max(len(idle) - KEPT_SUMS, 0)]:
            del self._images[each]

    def _tell_faults(self, project: Project) -> None:
        """Say once of each entry that is no sound picture why it isn't shown."""
        if len(project.photos) == len(project.pictures):
            return
        from app.files.project_json import picture_faults

        new = [sentence for sentence in picture_faults(project) if sentence not in self._told]
        self._told.update(new)
        if new:
            more = f" {len(new) - 1} more are like it." if len(new) > 1 else ""
            sentence = f"A photo in this file can't be shown: {new[0]}{more} It is kept in the file as it is."
            QTimer.singleShot(0, self, lambda: self._board.document.noticed.emit(sentence))

    def _frame(self, link_id: str) -> Frame:
        frame = self._frames.get(link_id)
        if frame is None:
            frame = self._frames[link_id] = Frame(Layer.ZONES)
            frame.setZValue(-1.0)  # beneath all
            self._board.scene.addItem(frame)
            move(frame, self._board.placements.get(link_id, SHUT))
        return frame

    def extent(self) -> NDArray[np.float64] | None:
        """The corners (mm, shut) of what is shown of all photos; None without any."""
        boxes = [item.boundingRect() for item in self.items.values() if item.isVisible()]
        corners = [at for box in boxes for at in ((box.left(), box.top()), (box.right(), box.bottom()))]
        return np.array(corners) if corners else None

    def place(self, placements: Mapping[str, Placement]) -> None:
        """Move the photos to where their links stand."""
        for link_id, frame in self._frames.items():
            move(frame, placements.get(link_id, SHUT))

    def rest(self) -> None:
        """Wait for all to stand still, then sharpen, where anything is coarse. Told after each paint."""
        if any(item.is_coarse and item.isVisible() for item in self.items.values()):
            self._rest.start()

    def sharpen(self) -> None:
        """Draw afresh what is coarse."""
        for item in self.items.values():
            item.sharpen()
        self._repaint()
