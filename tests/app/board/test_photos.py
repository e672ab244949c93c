"""Photos on the board: drawn once for a camera, put down as they are while it moves, cut before the horizon."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRect
from PySide6.QtGui import QColor, QImage, QPainterPath, QPolygonF, QTransform

from app.board import photo_item
from app.board.photo_item import Kept
from app.files.photos import photo_of_image
from kinematics import beneath
from kinematics.pictures import ahead, laid, picture_of, through

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

    from app.board.photo_item import PhotoItem
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
    qtbot.waitUntil(lambda: not found.is_coarse, timeout=5_000)
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


def test_it_is_drawn_afresh_slice_by_slice_and_changes_when_it_is_whole(
    window: Window, item: PhotoItem, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    view, photos, kept = window.board.view, window.board.photos, item._kept
    view.zoom(1.3)
    view.viewport().repaint()
    photos._rest.stop()
    monkeypatch.setattr(photo_item, "SLICE_PX", 2e4)
    photos.sharpen()
    photos._draw_slice()
    assert item.is_being_drawn
    assert item.is_coarse
    assert item._kept is kept
    view.pan(30.0, 0.0)  # what was begun is of no use any more
    view.viewport().repaint()
    assert not item.is_being_drawn
    assert item._kept is kept
    qtbot.waitUntil(lambda: not item.is_coarse, timeout=5_000)
    assert item._kept is not kept


def test_slices_leave_no_seams(qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same pixels as drawn at once, through a perspective and at a ratio that makes halves of pixels."""
    pixels = np.random.default_rng(1).integers(0, 2**24, (300, 400), dtype=np.uint32) | 0xFF000000
    image = QImage(pixels.tobytes(), 400, 300, 1600, QImage.Format.Format_RGB32)
    place = replace(laid((400, 300), (0.0, 0.0), 1200.0), matrix=LEANING)
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(*at) for at in ahead(place)]))
    drawn = []
    for at_once in (1e3, 1e9):
        monkeypatch.setattr(photo_item, "SLICE_PX", at_once)
        kept = Kept(QRect(-61, -80, 150, 133), 1.37, QTransform.fromScale(0.8, -0.8), place, is_rough=False)
        slices = 0
        while not kept.is_whole:
            kept.draw_slice(image, place.size, path)
            slices += 1
        drawn.append((slices, kept.pixels.toImage()))
    (many, sliced), (one, whole) = drawn
    assert (many > 20, one) == (True, 1)
    assert sliced == whole
    assert whole.pixelColor(whole.width() // 2, whole.height() // 2).alpha() == 255


def test_a_photo_that_a_hand_moves_is_put_down_as_it_is(window: Window, item: PhotoItem) -> None:
    """Without a perspective in the way of it, though it has one itself: Qt is far faster so."""
    kept, document = item._kept, window.document
    assert kept is not None
    before = share(window)
    document.apply("Move", beneath.move_picture(document.project, "red", (1.0e5, 0.0)))
    assert share(window) == 0.0
    document.apply("Move", beneath.move_picture(document.project, "red", (-1.0e5, 0.0)))
    assert item._kept is kept
    assert share(window) == pytest.approx(before, abs=0.01)
    leaning = replace(item.picture.place, matrix=LEANING)
    aslant = Kept(QRect(0, 0, 9, 9), 1.0, kept.now, leaning, is_rough=False)
    moved = beneath.move_picture(beneath.set_place(document.project, "red", leaning), "red", (7.0, -3.0))
    to = aslant.to(kept.now, moved.picture("red").place)
    assert to.isAffine()
    shift = kept.now.map(QPointF(7.0, -3.0)) - kept.now.map(QPointF(0.0, 0.0))
    assert (to.dx(), to.dy()) == pytest.approx((shift.x(), shift.y()), abs=1e-6)
    assert (to.m11(), to.m12(), to.m21(), to.m22()) == pytest.approx((1.0, 0.0, 0.0, 1.0), abs=1e-9)


def test_it_is_kept_no_finer_than_it_is(window: Window, item: PhotoItem, qtbot: QtBot) -> None:
    window.board.view.zoom(8.0)
    window.board.view.viewport().repaint()
    qtbot.waitUntil(lambda: not item.is_coarse, timeout=5_000)
    assert item._kept is not None
    assert item._kept.ratio == pytest.approx(400 / (1200 * window.board.view.camera.scale))
    assert share(window) > 0.8


def test_what_cant_be_seen_isnt_drawn_afresh(window: Window, item: PhotoItem) -> None:
    document, photos = window.document, window.board.photos
    window.board.view.pan(50.0, 0.0)
    window.board.view.viewport().repaint()
    document.apply("Fade", beneath.fade_picture(document.project, "red", 1.0))
    photos._rest.stop()
    window.board.view.viewport().repaint()
    assert item.is_coarse
    assert not photos._rest.isActive()


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
        window.board.view.viewport().repaint()
        assert item._level(1.0).width() == wide


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
