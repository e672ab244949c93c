"""The photos of a board: each decoded once, on its link's frame or on the paper, drawn afresh when all stands still."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QObject, QTimer

from app.board.items import Frame, move
from app.board.photo_item import PhotoItem
from app.pumped import Pumped
from app.shapes import SHUT, Layer

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray
    from PySide6.QtGui import QImage, QPainter

    from app.board.board import Board
    from app.shapes import Placement
    from kinematics.pictures import Picture
    from kinematics.project import Project

REST_MS = 120
KEPT_SUMS = 3  # decoded photos that stay at hand though no project shows them, for undo


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
        self._slices = QTimer(self)  # each slice a turn of the event loop, so that nothing waits for more
        self._slices.timeout.connect(self._draw_slice)
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
        if any(item.is_coarse and item.is_seen and not item.is_being_drawn for item in self.items.values()):
            self._rest.start()

    def sharpen(self) -> None:
        """Begin to draw afresh what is coarse."""
        for item in self.items.values():
            if item.is_coarse and item.is_seen:
                item.begin(self._board.view.viewport())
                self._slices.start()

    def _draw_slice(self) -> None:
        """Draw a slice; once nothing is left to be drawn, show it all."""
        begun = next((item for item in self.items.values() if item.is_being_drawn), None)
        if begun is not None:
            begun.draw_slice()
        else:
            self._slices.stop()
            self._repaint()
