"""PDF files of whole sheets of paper at true size.

Qt writes a page's size in whole points (A4 as 595 × 842), up to 0.18 mm off; and a viewer scales what it prints to fit
the sheet unless told otherwise. Both are mended in what Qt has written: each page's MediaBox gets its true size, and
the catalog a wish that no scaling be offered (ViewerPreferences, PrintScaling None).
Source: ISO 32000-1:2008, Table 30 (MediaBox), Table 150 (PrintScaling), 7.5.4 (cross-reference table).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter

from app.files.application import ensure_application
from app.files.drafting import Draft

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

DOTS_PER_INCH = 1200
PER_MM = DOTS_PER_INCH / 25.4
POINTS_PER_MM = 72 / 25.4
MEDIA_BOX = re.compile(rb"/MediaBox \[[^\]]*\]")
CATALOG = re.compile(rb"/Type /Catalog")
XREF = re.compile(rb"xref\n0 (\d+)\n")
UNSCALED = b"/ViewerPreferences << /PrintScaling /None >>\n"


def write_pages(pages: Sequence[tuple[tuple[float, float], Callable[[Draft], None]]], title: str) -> bytes:
    """A PDF of sheets, each a size (mm) and what draws on it; at least one."""
    ensure_application()
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle(title)
    writer.setCreator("Hingewright")
    writer.setResolution(DOTS_PER_INCH)
    _set_page(writer, pages[0][0])
    painter = QPainter(writer)
    try:
        for number, (size, draw) in enumerate(pages):
            if number:
                _set_page(writer, size)
                writer.newPage()
            painter.save()
            draw(Draft(painter, PER_MM))
            painter.restore()
    finally:
        painter.end()  # a device must not die while it is painted on
    buffer.close()
    return _mended(bytes(held.data()), [size for size, _ in pages])


def _set_page(writer: QPdfWriter, size: tuple[float, float]) -> None:
    upright = QPageSize(QSizeF(*sorted(size)), QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch)
    way = QPageLayout.Orientation.Portrait if size[0] <= size[1] else QPageLayout.Orientation.Landscape
    writer.setPageLayout(QPageLayout(upright, way, QMarginsF(0, 0, 0, 0)))


def _mended(data: bytes, sizes: Sequence[tuple[float, float]]) -> bytes:
    """What Qt has written, with true page sizes and the wish for no scaling; left alone where it isn't as expected."""
    boxes, catalogs = list(MEDIA_BOX.finditer(data)), list(CATALOG.finditer(data))
    table = list(XREF.finditer(data))
    if len(boxes) != len(sizes) or len(catalogs) != 1 or len(table) != 1:
        return data
    changes = [(catalogs[0].end(), catalogs[0].end(), b"\n" + UNSCALED)]
    for box, size in zip(boxes, sizes, strict=True):
        wide, tall = (f"{side * POINTS_PER_MM:.6f}".encode() for side in size)
        changes.append((box.start(), box.end(), b"/MediaBox [0 0 " + wide + b" " + tall + b"]"))
    changes.sort()
    return _with_places(_changed(data, changes), changes)


def _changed(data: bytes, changes: list[tuple[int, int, bytes]]) -> bytes:
    parts, position = [], 0
    for start, end, text in changes:
        parts += [data[position:start], text]
        position = end
    return b"".join([*parts, data[position:]])


def _with_places(data: bytes, changes: list[tuple[int, int, bytes]]) -> bytes:
    """Move the places in the cross-reference table by what the changes have put before them."""

    def moved(place: int) -> int:
        return place + sum(len(text) - (end - start) for start, end, text in changes if start < place)

    table = list(XREF.finditer(data))[-1]
    first, count = table.end(), int(table[1])
    rows = [data[first + 20 * row : first + 20 * row + 20] for row in range(count)]
    new = b"".join(b"%010d" % moved(int(row[:10])) + row[10:] if row[17:18] == b"n" else row for row in rows)
    head, tail = data[:first], data[first + 20 * count :]
    tail = re.sub(rb"startxref\n\d+", b"startxref\n%d" % table.start(), tail)
    return head + new + tail
