"""What is shown of the parts that are cut: their contours, and what is scribed on them."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor, QImage

from app.drawers.cut_sheet import CutSheet
from app.look import light
from app.making.planned import CutPlan
from kinematics.cutting import Part
from kinematics.mount_shapes import rectangle


def scribed_pixels(part: Part) -> int:
    """How many pixels are as warm as scribed lines that lie half across two of them: all else is grey or paper."""
    sheet, look = CutSheet(), light()
    sheet.resize(300, 200)
    sheet.show_cuts([CutPlan(part, "plate", 2)], look, "mm")
    image = sheet.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    red, _, blue, _ = QColor(look.path).getRgb()
    spots = [QColor(image.pixel(x, y)) for x in range(image.width()) for y in range(image.height())]
    return sum(spot.red() - spot.blue() > 0.4 * (red - blue) for spot in spots)


@pytest.mark.usefixtures("qapp")
def test_what_is_scribed_is_shown() -> None:
    plain = Part("mount", "wall", "plate", rectangle(100.0, 60.0))
    scribed = Part("mount", "wall", "plate", rectangle(100.0, 60.0), bends=((-40.0 + 0j, 40.0 + 0j),))
    assert scribed_pixels(plain) == 0
    assert scribed_pixels(scribed) > 100


@pytest.mark.usefixtures("qapp")
def test_sizes_that_have_no_room_beside_the_name_stand_beneath_it() -> None:
    sheet, part = CutSheet(), Part("mount", "wall", "plate", rectangle(100.0, 60.0), thickness=10.0)
    heights = []
    for name in ("plate", "backing plate of the wall behind"):
        cut = CutPlan(part, name, 2)
        sheet.resize(290, 200)
        sheet.show_cuts([cut], light(), "mm")
        sheet.resize(290, sheet.height())
        words = sheet.line_of(cut, "mm")
        assert ": ".join(sheet.told(words, 290)) == words
        heights.append(sheet.height())
    assert heights[1] == heights[0] + sheet.fontMetrics().height()
