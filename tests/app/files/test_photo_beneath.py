"""Photos in pictures that go out: where the board shows them, carried by their link, faded; noise is left out."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QPointF
from PySide6.QtGui import QColor, QImage, QPainter

from app.files.photo_beneath import draw_photos
from app.files.pictures import save_picture
from app.shapes import placed
from app.sheet import Camera
from kinematics import analyse
from kinematics.pictures import Picture, laid, picture_of
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project

CAMERA = Camera(0.5, (300.0, 200.0), (400.0, 300.0))


def red(on: str = "bulkhead", content: bytes | None = None, **more: object) -> Picture:
    """A red photo, 200 mm wide and 100 high, its middle at (300, 200)."""
    image = QImage(40, 20, QImage.Format.Format_RGB32)
    image.fill(QColor("red"))
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]  # the stub wants bytes, Qt takes a str
    place = replace(laid((40, 20), (300.0, 200.0), 200.0), **{"fade": 0.0, **more})  # type: ignore[arg-type]
    return picture_of("red", on, "image/png", bytes(held.data()) if content is None else content, place)


def drawn(project: Project, deg: float = 0.0) -> QImage:
    analysis = analyse(demo_six_bar)
    image = QImage(400, 300, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    draw_photos(painter, project, placed(analysis, analysis.pose(deg)), CAMERA)
    painter.end()
    return image


def reddish(image: QImage) -> int:
    """How many of the pixels that are looked at are red, or nearly."""
    colours = [image.pixelColor(x, y) for x in range(0, image.width(), 8) for y in range(0, image.height(), 8)]
    return sum(colour.red() > 200 and colour.green() < 60 for colour in colours)


def test_it_lies_where_its_place_says(qapp: object) -> None:
    image = drawn(replace(demo_six_bar, pictures=(red(),)))
    inside = [(x, y) for x in range(400) for y in range(300) if image.pixelColor(x, y) == QColor("red")]
    assert min(x for x, _ in inside) == pytest.approx(150, abs=1)  # 300 ± 100 mm at 0.5 pixels per mm
    assert max(x for x, _ in inside) == pytest.approx(249, abs=1)
    assert min(y for _, y in inside) == pytest.approx(125, abs=1)
    assert max(y for _, y in inside) == pytest.approx(174, abs=1)


def test_it_swings_with_its_link(qapp: object) -> None:
    project = replace(demo_six_bar, pictures=(red(demo_six_bar.panel.id),))
    analysis = analyse(demo_six_bar)
    x, y = placed(analysis, analysis.pose(20.0))[demo_six_bar.panel.id].carry((300.0, 200.0))
    there = QPointF(*CAMERA.to_px((x, y))).toPoint()
    assert drawn(project, 20.0).pixelColor(there) == QColor("red")


def test_faded_cropped_or_hidden(qapp: object) -> None:
    half = drawn(replace(demo_six_bar, pictures=(red(fade=0.5),))).pixelColor(200, 150)
    assert half.green() == pytest.approx(128, abs=2)
    cropped = drawn(replace(demo_six_bar, pictures=(red(crop=(0.0, 0.0, 20.0, 20.0)),)))
    assert (cropped.pixelColor(180, 150), cropped.pixelColor(220, 150)) == (QColor("red"), QColor("white"))
    for gone in (replace(red(), hidden=True), red(fade=1.0), red(content=b"noise")):
        assert drawn(replace(demo_six_bar, pictures=(gone,))).pixelColor(200, 150) == QColor("white")


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_every_kind_of_picture_has_it(ending: str, tmp_path: Path) -> None:
    bare, beneath = tmp_path / f"a.{ending}", tmp_path / f"b.{ending}"
    save_picture(demo_six_bar, analyse(demo_six_bar), bare)
    project = replace(demo_six_bar, pictures=(red(),))
    save_picture(project, analyse(project), beneath)
    if ending == "png":
        reds = [reddish(QImage(str(path))) for path in (bare, beneath)]
        assert reds[1] > reds[0] + 20
    else:
        assert b"image" in beneath.read_bytes().lower()
        assert len(beneath.read_bytes()) > len(bare.read_bytes()) + 100
