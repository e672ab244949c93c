"""Pictures compared by rule: what a picture must show, asked of a few pixels and of its words, never of all pixels."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QColor, QImage

if TYPE_CHECKING:
    from pathlib import Path


def load(path: Path) -> QImage:
    """Read a picture back; it must be one."""
    image = QImage(str(path))
    assert not image.isNull(), f"{path} is no picture"
    return image


def share_of(image: QImage, colour: str, within: int = 12) -> float:
    """Give the share of pixels that have a colour, each channel within a tolerance; looks at every third pixel each
    way.
    """
    wanted = QColor(colour)
    seen = hits = 0
    for x in range(0, image.width(), 3):
        for y in range(0, image.height(), 3):
            found = image.pixelColor(x, y)
            seen += 1
            hits += (
                abs(found.red() - wanted.red()) <= within
                and abs(found.green() - wanted.green()) <= within
                and abs(found.blue() - wanted.blue()) <= within
            )
    return hits / seen


def differ(one: QImage, other: QImage) -> float:
    """Give the share of pixels in which two pictures of one size differ visibly; looks at every third pixel each
    way.
    """
    assert one.size() == other.size()
    seen = hits = 0
    for x in range(0, one.width(), 3):
        for y in range(0, one.height(), 3):
            seen += 1
            hits += abs(one.pixelColor(x, y).lightness() - other.pixelColor(x, y).lightness()) > 40
    return hits / seen
