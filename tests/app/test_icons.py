"""The rail's pictures: drawn in the sheet's ink, sharp at every scale."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor

from app.icons import STROKES, icon
from app.look import dark


@pytest.mark.parametrize("name", sorted(STROKES))
def test_every_picture_is_drawn_in_its_colour_and_stays_within_its_square(qapp: object, name: str) -> None:
    image = icon(name, dark().ink).pixmap(QSize(48, 48)).toImage()
    inked = [
        (x, y) for x in range(image.width()) for y in range(image.height()) if image.pixelColor(x, y).alpha() > 200
    ]
    assert len(inked) > 20
    assert QColor(dark().ink).rgb() in {image.pixelColor(x, y).rgb() for x, y in inked}
    edge = image.width() - 1
    assert all(0 < x < edge and 0 < y < edge for x, y in inked)


def test_there_is_a_picture_for_each_scale(qapp: object) -> None:
    sizes = {size.width() for size in icon("pins", "#000000").availableSizes()}
    assert sizes == {24, 48, 72}
