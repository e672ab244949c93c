"""Photos beneath the board, by hand: in from a file, the clipboard and by dropping; to scale, level, true; one step
each.
"""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QMimeData, QPointF, QRectF, Qt, QUrl
from PySide6.QtGui import QColor, QDropEvent, QGuiApplication, QImage, QPainter, QTransform
from PySide6.QtWidgets import QPushButton

from app.board.drawing import Pencil
from app.shapes import Stroke
from kinematics import beneath
from kinematics.perspective import project as through_matrix
from kinematics.pictures import shows, through
from tests.app import mouse
from tests.kinematics.test_perspective import camera

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.drawers.photo_box import PhotoBox
    from app.window import Window
    from kinematics.project import Picture, Point

VIEW = np.array([[0.25, 0, 0], [0, 0.25, 0], [0, 0, 1]]) @ camera(4, 0.5, 0.4)  # 1000 × 750 pixels
SHEET = np.array([(-210.0, -149.0), (210.0, -149.0), (210.0, 148.0), (-210.0, 148.0)])  # A3


@pytest.fixture(scope="module")
def photo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A photo, aslant, of a white sheet of A3 on grey."""
    image = QImage(1000, 750, QImage.Format.Format_RGB32)
    image.fill(QColor("#808080"))
    painter = QPainter(image)
    (a, b, c), (d, e, f), (g, h, i) = VIEW
    painter.setTransform(QTransform(a, d, g, b, e, h, c, f, i))
    painter.fillRect(QRectF(QPointF(*SHEET[0]), QPointF(*SHEET[2])), QColor("white"))
    painter.end()
    path = tmp_path_factory.mktemp("photos") / "side view.png"
    assert image.save(str(path))
    return path


@pytest.fixture
def box(window: Window, photo_file: Path, qtbot: QtBot) -> PhotoBox:
    """The photos' box over an empty project with that photo beneath."""
    window.document.new()
    window.take_file(photo_file)
    qtbot.waitUntil(lambda: bool(window.board.photos.items), timeout=10_000)
    return window.trace.photos


def photo(box: PhotoBox) -> Picture:
    (only,) = box._document.project.photos
    return only


def click(qtbot: QtBot, box: PhotoBox, px: Point) -> None:
    """Click a point of the photo where it is seen."""
    at = through(photo(box).place.matrix, px)
    view = box._board.view
    mouse.hover(qtbot, view, at)
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=mouse.spot(view, at))


def press(box: PhotoBox, words: str) -> None:
    button = next(each for each in box.findChildren(QPushButton) if each.text() == words)
    assert button.toolTip()
    assert button.accessibleName()
    button.click()


def test_a_photo_from_a_file_is_laid_beneath_in_one_step(box: PhotoBox) -> None:
    picture, document = photo(box), box._document
    assert (picture.id, picture.on, picture.place.size) == ("side view", "body", (1000, 750))
    assert document.undo_label == "Lay side view beneath"
    assert "not to scale yet" in box.told.text()
    item = box._board.photos.items["side view"]
    assert item.isVisible()
    image = box._board.view.grab().toImage()
    spot = mouse.spot(box._board.view, through(picture.place.matrix, (500.0, 375.0)))
    seen = QColor(image.pixel(round(spot.x() * image.devicePixelRatio()), round(spot.y() * image.devicePixelRatio())))
    assert seen.lightness() > 150
    document.undo()
    assert not document.project.pictures
    assert not box._board.photos.items
    document.redo()
    assert box._board.photos.items  # decoded once


def test_four_corners_make_it_true_in_any_order(box: PhotoBox, qtbot: QtBot) -> None:
    box.true.sheet.choose("A3")
    press(box, "Make true by its corners")
    corners = through_matrix(VIEW, SHEET)
    for place in (2, 0, 3, 1):
        click(qtbot, box, tuple(corners[place]))
    picture = photo(box)
    assert box._document.undo_label == "Make side view true"
    ends = [through(picture.place.matrix, tuple(corner)) for corner in corners]
    assert dist(ends[0], ends[1]) == pytest.approx(420.0, abs=4.0)
    assert dist(ends[1], ends[2]) == pytest.approx(297.0, abs=4.0)
    assert "Made true by four points" in box.true.told.text()
    assert not box.true.told.isHidden()
    assert "made true" in box.told.text()
    press(box, "Swap its sides")
    ends = [through(photo(box).place.matrix, tuple(corner)) for corner in corners]
    assert dist(ends[0], ends[1]) == pytest.approx(297.0, abs=4.0)
    box._document.undo()
    box._document.undo()
    assert not photo(box).place.is_true
    assert box.true.told.isHidden()


def test_a_photo_of_another_size_is_shown_whole_by_undo_and_redo_too(box: PhotoBox, qtbot: QtBot) -> None:
    board, document = box._board, box._document
    small = board.view.camera.scale
    press(box, "Make true by its corners")
    for corner in through_matrix(VIEW, SHEET):
        click(qtbot, box, tuple(corner))
    assert board.is_fitted
    large = board.view.camera.scale
    document.undo()
    undone = board.view.camera.scale
    assert board.is_fitted
    assert undone == pytest.approx(small, rel=0.5)
    assert not 0.8 < large / undone < 1.25
    document.redo()
    assert board.view.camera.scale == pytest.approx(large)
    board.view.zoom(1.5)
    document.attempt("Fade it", lambda project: beneath.fade_picture(project, "side view", 0.3))
    document.undo()
    assert not board.is_fitted  # it has its size still: the view is left alone


def test_corners_that_are_none_are_told_and_change_nothing(box: PhotoBox, qtbot: QtBot) -> None:
    said: list[str] = []
    box._document.noticed.connect(said.append)
    before = box._document.project
    press(box, "Make true by its corners")
    for px in ((100.0, 100.0), (500.0, 300.0), (900.0, 500.0), (400.0, 600.0)):
        click(qtbot, box, px)
    assert "in a line" in said[-1]
    assert box._document.project is before


@pytest.mark.parametrize("words", ["Level", "Move", "Lay on by common points"])
def test_a_photo_that_is_gone_meanwhile_ends_the_gesture(box: PhotoBox, qtbot: QtBot, words: str) -> None:
    said: list[str] = []
    box._document.noticed.connect(said.append)
    view, at = box._board.view, through(photo(box).place.matrix, (500.0, 300.0))
    press(box, words)
    if words != "Move":
        click(qtbot, box, (400.0, 300.0))
    box._document.undo()
    for _ in range(2):
        mouse.hover(qtbot, view, at)
        qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=mouse.spot(view, at))
    assert 'no picture "side view"' in said[-1]
    assert not box._document.project.pictures


def test_two_points_and_their_distance_scale_it(box: PhotoBox, qtbot: QtBot) -> None:
    assert not box.length.isEnabled()
    press(box, "Scale by two points")
    click(qtbot, box, (100.0, 700.0))
    click(qtbot, box, (900.0, 100.0))
    assert box.length.isEnabled()
    assert box.length.line.hasFocus()
    qtbot.keyClicks(box.length.line, "1500")
    qtbot.keyClick(box.length.line, Qt.Key.Key_Return)
    picture = photo(box)
    (known,) = picture.place.lengths
    assert known.length == 1500.0
    assert dist(*(through(picture.place.matrix, px) for px in known.px)) == pytest.approx(1500.0)
    assert "to scale: 1.5 mm a pixel" in box.told.text()
    assert box._document.undo_label == "Scale side view"
    box.length.line.selectAll()
    qtbot.keyClicks(box.length.line, "750")  # mended later
    qtbot.keyClick(box.length.line, Qt.Key.Key_Return)
    assert photo(box).place.lengths[0].length == 750.0


def test_what_was_told_of_a_photo_that_cannot_be_read_goes_once_another_lies_there(
    box: PhotoBox, window: Window
) -> None:
    notice = window.area.notice
    for others in ("", "Something else is wrong."):
        box.take_image(QImage(), "pasted photo")
        assert "no picture" in notice.sentence
        if others:
            window.document.noticed.emit(others)
        box.take_image(QImage(20, 10, QImage.Format.Format_RGB32), "pasted photo")
        assert notice.sentence == others
    assert len(window.document.project.photos) == 3


def test_level_plumb_move_and_crop(box: PhotoBox, qtbot: QtBot) -> None:
    press(box, "Level")
    click(qtbot, box, (100.0, 300.0))
    click(qtbot, box, (900.0, 400.0))
    ends = [through(photo(box).place.matrix, px) for px in ((100.0, 300.0), (900.0, 400.0))]
    assert ends[0][1] == pytest.approx(ends[1][1], abs=3.0)
    press(box, "Plumb")
    click(qtbot, box, (500.0, 200.0))
    click(qtbot, box, (500.0, 600.0))
    ends = [through(photo(box).place.matrix, px) for px in ((500.0, 200.0), (500.0, 600.0))]
    assert ends[0][0] == pytest.approx(ends[1][0], abs=3.0)

    view = box._board.view
    before = through(photo(box).place.matrix, (0.0, 0.0))
    middle = through(photo(box).place.matrix, (500.0, 375.0))
    press(box, "Move")
    mouse.press(qtbot, view, middle)
    mouse.move(qtbot, view, middle, (middle[0] + 60.0, middle[1] - 40.0))
    qtbot.mouseRelease(
        view.viewport(), Qt.MouseButton.LeftButton, pos=mouse.spot(view, (middle[0] + 60.0, middle[1] - 40.0))
    )
    assert box._board.give_up()
    after = through(photo(box).place.matrix, (0.0, 0.0))
    assert (after[0] - before[0], after[1] - before[1]) == pytest.approx((60.0, -40.0), abs=4.0)
    assert box._document.undo_label == "Move side view"

    press(box, "Crop")
    for px in ((250.0, 200.0), (750.0, 500.0)):
        click(qtbot, box, px)
    assert photo(box).place.shown_box == pytest.approx((250.0, 200.0, 750.0, 500.0), abs=4.0)
    press(box, "Show all of it")
    assert photo(box).place.crop is None


def test_fade_hide_ride_and_delete(box: PhotoBox) -> None:
    box.fade.setValue(80)
    assert photo(box).place.fade == 0.8
    assert box._document.undo_label == "Fade side view"
    press(box, "Hide photo")
    assert photo(box).hidden
    assert not box._board.photos.items["side view"].isVisible()
    press(box, "Show photo")
    box.rides_on.choose("panel")
    box.rides_on.activated.emit(0)
    assert photo(box).on == "panel"
    press(box, "Delete photo")
    assert not box._document.project.pictures


def test_common_points_lay_it_on_what_is_there(box: PhotoBox, qtbot: QtBot) -> None:
    view = box._board.view
    start = [through(photo(box).place.matrix, px) for px in ((300.0, 300.0), (700.0, 300.0))]
    to = [(start[0][0] + 20.0, start[0][1] + 30.0), (start[1][0] - 60.0, start[1][1] + 30.0)]
    press(box, "Lay on by common points")
    for px, at in zip(((300.0, 300.0), (700.0, 300.0)), to, strict=True):
        click(qtbot, box, px)
        mouse.hover(qtbot, view, at)
        qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=mouse.spot(view, at))
    pair = box._board.scene.shown("sketch:pair 1")  # seen from where to where, while more are picked
    assert isinstance(pair, Stroke)
    assert [dist(*ends) < 3.0 for ends in zip(pair.points, (start[1], to[1]), strict=True)] == [True, True]
    qtbot.keyClick(box._board, Qt.Key.Key_Return)
    assert not box._board.scene.has("sketch")
    ends = [through(photo(box).place.matrix, px) for px in ((300.0, 300.0), (700.0, 300.0))]
    assert ends[0] == pytest.approx(to[0], abs=3.0)
    assert ends[1] == pytest.approx(to[1], abs=3.0)
    assert "Laid on by two points" in box.true.told.text()
    assert box._document.undo_label == "Lay side view on"


def test_pasted_and_dropped(window: Window, photo_file: Path, qtbot: QtBot, tmp_path: Path) -> None:
    said: list[str] = []
    window.document.noticed.connect(said.append)
    QGuiApplication.clipboard().setImage(QImage(str(photo_file)))
    window.paste_photo()
    assert [picture.id for picture in window.document.project.photos] == ["pasted photo"]
    QGuiApplication.clipboard().setText("no picture")
    window.paste_photo()
    assert "no picture in the clipboard" in said[-1]

    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photo_file))])
    keys = Qt.KeyboardModifier.NoModifier
    actions = Qt.DropAction.CopyAction
    window.dropEvent(QDropEvent(QPointF(5, 5), actions, data, Qt.MouseButton.LeftButton, keys))
    qtbot.waitUntil(lambda: len(window.document.project.photos) == 2, timeout=10_000)
    (tmp_path / "phone.heic").write_bytes(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic")
    window.take_file(tmp_path / "phone.heic")
    qtbot.waitUntil(lambda: "as JPEG" in said[-1], timeout=10_000)
    assert len(window.document.project.photos) == 2


def test_a_photo_is_kept_in_the_file_and_noise_is_told(box: PhotoBox, tmp_path: Path, qtbot: QtBot) -> None:
    document, path = box._document, tmp_path / "kept.hinge"
    assert document.save(path)
    kept = photo(box)
    document.new()
    assert document.open(path)
    assert photo(box) == kept
    text = path.read_text().replace(kept.data[40:60], "A" * 20)
    path.write_text(text)
    said: list[str] = []
    document.noticed.connect(said.append)
    assert document.open(path)
    qtbot.waitUntil(lambda: bool(said), timeout=5_000)
    assert "can't be shown" in said[-1]
    assert not document.project.photos
    assert document.project.pictures


def test_a_line_traced_over_a_photo_begins_with_how_far_it_may_be_off(
    box: PhotoBox, window: Window, qtbot: QtBot
) -> None:
    def traced() -> float:
        window.trace.draw_outline()
        for px in ((301.0, 303.0), (607.0, 309.0)):
            click(qtbot, box, px)
        qtbot.keyClick(window.board.view.viewport(), Qt.Key.Key_Return)
        qtbot.keyClick(window.board.view.viewport(), Qt.Key.Key_Return)
        return window.document.project.outlines[-1].uncertain

    assert traced() == 0.0  # not to scale: nobody knows
    window.document.undo()
    box.true.sheet.choose("A3")
    press(box, "Make true by its corners")
    for corner in through_matrix(VIEW, SHEET):
        click(qtbot, box, tuple(corner))
    worst = photo(box).place.uncertain
    assert worst is not None
    pixel = 1.0 / window.board.view.camera.scale
    assert pixel < traced() <= worst + pixel + 0.1
    window.document.undo()  # line and doubt are one step
    assert not window.document.project.outlines


def test_the_squares_do_not_pull_what_is_traced(box: PhotoBox) -> None:
    box._board.set_snaps(True)
    desk, picture = box._board.pointer.desk, photo(box)
    pencil = Pencil(desk, picture.on)
    corner = (0.01 * desk.grid, 0.0)  # a hair beside the corner of two squares
    assert shows(picture.place, corner)
    assert not pencil.lead(corner).holds
    box._document.attempt("Hide", lambda project: beneath.hide_picture(project, picture.id, True))
    assert [each.kind for each in Pencil(desk, picture.on).lead(corner).holds]
