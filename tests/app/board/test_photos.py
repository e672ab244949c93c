"""Photos on the board: drawn once for a camera, put down as they are while it moves, cut before the horizon."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage

from app.files.photos import photo_of_image
from kinematics import beneath
from kinematics.pictures import ahead, laid, picture_of, through

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board.photos import PhotoItem
    from app.window import Window

LEANING = ((0.5, 0.1, -100.0), (0.05, -0.5, 50.0), (1e-3, 2e-3, 1.0))


@pytest.fixture
def item(window: Window, qtbot: QtBot) -> PhotoItem:
    """A red photo, 1200 × 900 mm, beneath an empty board; not faded."""
    image = QImage(400, 300, QImage.Format.Format_RGB32)
    image.fill(QColor("#d02020"))
    photo = photo_of_image(image, "red")
    place = replace(laid(photo.size, (0.0, 0.0), 1200.0), fade=0.0)
    window.document.new()
    project = window.document.project
    picture = picture_of("red", project.fixed.id, photo.media, photo.content, place)
    window.document.apply("Lay", beneath.add_picture(project, picture))
    qtbot.waitUntil(lambda: bool(window.board.photos.items), timeout=10_000)
    window.board.fit()
    found = window.board.photos.items["red"]
    window.board.view.viewport().repaint()
    window.board.photos.sharpen()
    window.board.view.viewport().repaint()
    return found


def share(window: Window) -> float:
    """The share of reddish pixels that the board shows."""
    image = window.board.view.grab().toImage()
    spots = [(x, y) for x in range(0, image.width(), 16) for y in range(0, image.height(), 16)]
    red = [spot for spot in spots if image.pixelColor(*spot).red() > image.pixelColor(*spot).blue() + 90]
    return len(red) / len(spots)


def test_it_is_drawn_once_and_kept_until_all_stands_still(window: Window, item: PhotoItem, qtbot: QtBot) -> None:
    kept = item._kept
    assert kept is not None
    assert not item.is_coarse
    view = window.board.view
    for _ in range(3):
        view.pan(9.0, 5.0)
        view.zoom(1.05)
        view.viewport().repaint()
    assert item._kept is kept
    assert item.is_coarse
    coarse = share(window)
    qtbot.waitUntil(lambda: not item.is_coarse, timeout=5_000)
    assert item._kept is not kept
    assert share(window) == pytest.approx(coarse, abs=0.03)


def test_fade_and_hide_draw_nothing_anew(window: Window, item: PhotoItem) -> None:
    kept, document = item._kept, window.document
    full = share(window)
    assert full > 0.4
    document.apply("Fade", beneath.fade_picture(document.project, "red", 0.9))
    assert share(window) == 0.0
    document.apply("Fade", beneath.fade_picture(document.project, "red", 1.0))
    document.apply("Hide", beneath.hide_picture(document.project, "red"))
    assert not item.isVisible()
    document.undo()
    document.undo()
    document.undo()
    assert item._kept is kept
    assert share(window) == full
    cropped = beneath.crop_picture(document.project, "red", (0.0, 0.0, 200.0, 300.0))
    document.apply("Crop", cropped)
    assert share(window) == pytest.approx(full / 2, abs=0.05)


def test_smaller_copies_are_drawn_where_it_is_seen_small(window: Window, item: PhotoItem) -> None:
    for scale, wide in ((2.0, 400), (0.1, 200), (0.03, 50)):
        window.board.view.set_camera(replace(window.board.view.camera, scale=scale))
        item._kept = None
        window.board.view.viewport().repaint()
        assert item._level(_whole(item), 1.0).width() == wide


def _whole(item: PhotoItem):  # noqa: ANN202
    from app.files.photo_beneath import transform_of

    return transform_of(item.picture.place) * item._kept_for


def test_it_follows_its_link(window: Window, item: PhotoItem) -> None:
    from app.window import demo

    document = window.document
    picture = replace(item.picture, on="hatch")
    document.new(beneath.add_picture(demo(), picture))
    window.board.photos._show(document.project)
    frame = window.board.photos.items["red"].parentItem()
    assert frame.rotation() == pytest.approx(0.0)
    document.set_opening(40.0)
    assert frame.rotation() == pytest.approx(40.0)


def test_nothing_is_drawn_at_the_horizon_and_behind() -> None:
    place = replace(laid((400, 300), (0.0, 0.0), 1200.0), matrix=LEANING)
    far = replace(place, matrix=(*LEANING[:2], (-4e-3, 0.0, 1.0)))
    corners = ahead(far)
    assert max(x for x, _ in corners) < 250.0  # the depth is 0 at 250
    assert len(corners) == 4
    spots = [through(far.matrix, corner) for corner in corners]
    assert np.abs(spots).max() < 1e5
    behind = replace(far, matrix=tuple(tuple(-value for value in row) for row in far.matrix))
    assert ahead(behind) == corners
    assert len(ahead(place)) == 4
