"""Photos beneath the layout, in pictures that go out: as the board shows them, faded and cropped, each on its link.

A photo that can't be read is left out; the report and the board say so.
"""

from __future__ import annotations

from math import cos, sin
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF, QTransform

from app.files.photos import image_of
from app.shapes import SHUT
from kinematics.errors import HingewrightError
from kinematics.pictures import Picture, ahead, middle_depth

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.shapes import Placement
    from app.sheet import Camera
    from kinematics.pictures import Place
    from kinematics.project import Project


def transform_of(place: Place) -> QTransform:
    """The place's matrix (it takes columns) as Qt has it (it takes rows), with a depth that is positive ahead."""
    sign = 1.0 if middle_depth(place) > 0 else -1.0
    (a, b, c), (d, e, f), (g, h, i) = (tuple(sign * value for value in row) for row in place.matrix)
    return QTransform(a, d, g, b, e, h, c, f, i)


def draw_photos(painter: QPainter, project: Project, placements: Mapping[str, Placement], camera: Camera) -> None:
    """Draw every photo that is shown, in the project's order."""
    for picture in project.pictures:
        if isinstance(picture, Picture) and not picture.hidden and picture.place.fade < 1.0:
            _draw(painter, picture, placements.get(picture.on, SHUT), camera)


def _draw(painter: QPainter, picture: Picture, at: Placement, camera: Camera) -> None:
    try:
        image = image_of(picture)
    except HingewrightError:
        return
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(*spot) for spot in ahead(picture.place)]))
    width, height = picture.place.size
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.setOpacity(1.0 - picture.place.fade)
    painter.setTransform(transform_of(picture.place) * _carried(at) * _seen(camera), combine=True)
    painter.setClipPath(path)
    painter.scale(width / image.width(), height / image.height())
    painter.drawImage(0, 0, image)
    painter.restore()


def _carried(at: Placement) -> QTransform:
    """Where a link's points stand, mm."""
    c, s = cos(at.turn_rad), sin(at.turn_rad)
    return QTransform(c, s, -s, c, at.dx, at.dy)


def _seen(camera: Camera) -> QTransform:
    """From mm on the sheet to pixels, y downwards."""
    x, y = camera.to_px((0.0, 0.0))
    return QTransform(camera.scale, 0.0, 0.0, -camera.scale, x, y)
