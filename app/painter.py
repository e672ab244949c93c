"""Puts the shapes of the sheet down with a QPainter: pens, paths, symbols, words. QtGui only, no widgets, so files
can use it too.

Everything here is told in pixels of the sheet, y down; lines keep their weight however the sheet is scaled
(*cosmetic* pens).
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QByteArray, QDataStream, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from app.symbols import GLYPHS, SIGN, Piece, bounds

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from app.labels import Box
    from app.look import Look
    from app.shapes import Label, Pen, Symbol

PAD_X, PAD_Y = 3.0, 1.0  # paper around words, pixels
THIN = 1.0
FAR_PX = 16.0  # words farther than this from their point are tied to it
SCRAP = 0.82  # how much of what lies beneath words their scrap of paper hides
NO_PEN = QPen(Qt.PenStyle.NoPen)
NO_BRUSH = QBrush(Qt.BrushStyle.NoBrush)


def line_pen(pen: Pen, *, cosmetic: bool = True, ratio: float = 1.0) -> QPen:
    """Turn a pen of the sheet into Qt's; dashes are told in pixels there, in line weights here.

    ratio : of the screen's pixels to the sheet's, which a cosmetic pen doesn't know of. A thin line stays one pixel of
        the screen at every ratio: that is the quick way to draw, and sharp.
    """
    if pen.px <= 0:
        return NO_PEN
    weight = pen.px * ratio if pen.px > THIN else pen.px
    made = QPen(QColor(pen.colour), weight)
    made.setCosmetic(cosmetic)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    made.setCapStyle(Qt.PenCapStyle.FlatCap if pen.dash else Qt.PenCapStyle.RoundCap)
    if pen.dash:
        made.setDashPattern([length * ratio / weight for length in pen.dash])
    return made


def face_brush(colour: str, veil: float = 1.0) -> QBrush:
    """Give the brush of a face, none for ""; `veil` is 0 where it is clear, 1 where it hides what lies beneath."""
    if not colour:
        return NO_BRUSH
    made = QColor(colour)
    made.setAlphaF(veil)
    return QBrush(made)


def polygon(spots: NDArray[np.float64]) -> QPolygonF:
    """Make a polyline of (n, 2) pixels, by Qt's own stream: quick, and nobody holds an address within the polyline.

    Writing into its memory is as quick, but what `data()` gives is taken for an object at that address; once the memory
    is another object's, PySide takes the one for the other, and a living widget for a dead one.
    """
    content = len(spots).to_bytes(4, "big") + spots.astype(">f8").tobytes()
    found = QPolygonF()
    QDataStream(QByteArray(content)) >> found
    return found


def line_path(points: Iterable[tuple[float, float]], closed: bool) -> QPainterPath:
    """Give a polyline as a path."""
    path = QPainterPath()
    path.addPolygon(polygon(np.array([*points])))
    if closed:
        path.closeSubpath()
    return path


def segments_path(segments: Iterable[tuple[tuple[float, float], tuple[float, float]]]) -> QPainterPath:
    """Give many short lines as one path."""
    path = QPainterPath()
    for (x, y), (u, v) in segments:
        path.moveTo(x, y)
        path.lineTo(u, v)
    return path


# ------------------------------------------------------------------------------------------------------------- symbols
@lru_cache(maxsize=64)
def _pieces(glyph: str) -> tuple[tuple[Piece, QPainterPath], ...]:
    return tuple((piece, _piece_path(piece)) for piece in GLYPHS[glyph])


def _piece_path(piece: Piece) -> QPainterPath:
    if piece.radius <= 0:
        return line_path(piece.points, piece.closed)
    path = QPainterPath()
    path.addEllipse(QPointF(*piece.points[0]), piece.radius, piece.radius)
    return path


def draw_symbol(painter: QPainter, symbol: Symbol) -> None:
    """Draw a symbol around the painter's origin, in pixels."""
    if symbol.turn_deg:
        painter.save()
        painter.rotate(-symbol.turn_deg)
    _draw_glyph(painter, symbol.glyph, QColor(symbol.ink), QColor(symbol.paper))
    if symbol.turn_deg:
        painter.restore()


def _draw_glyph(painter: QPainter, glyph: str, ink: QColor, paper: QColor) -> None:
    for piece, path in _pieces(glyph):
        pen = QPen(ink, piece.px) if piece.px > 0 else NO_PEN
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        painter.setBrush(QBrush({"ink": ink, "paper": paper}[piece.fill]) if piece.fill else NO_BRUSH)
        painter.drawPath(path)


# --------------------------------------------------------------------------------------------------------------- words
@lru_cache(maxsize=64)
def font(families: tuple[str, ...], px: float, bold: bool = False) -> QFont:
    """Give a font by its height in pixels; without families the system's own, sans serif."""
    made = QFont()
    if families:
        made.setFamilies(list(families))
    made.setStyleHint(QFont.StyleHint.SansSerif)
    made.setPixelSize(max(round(px), 1))
    made.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return made


@lru_cache(maxsize=2048)
def words_size(text: str, families: tuple[str, ...], px: float, bold: bool = False) -> tuple[float, float]:
    """Give the width and height of a line of words with the paper around it, pixels."""
    metrics = QFontMetricsF(font(families, px, bold))
    return metrics.horizontalAdvance(text) + 2 * PAD_X, metrics.height() + 2 * PAD_Y


def label_size(label: Label, look: Look) -> tuple[float, float]:
    """Give the size of a label, pixels."""
    wide, high = words_size(label.text, look.families, label.px, label.bold)
    if label.glyph:
        wide, high = wide + SIGN[0], max(high, SIGN[1])
    return (wide + 6.0, high + 4.0) if label.framed else (wide, high)


def draw_label(painter: QPainter, label: Label, look: Look, box: Box, at: tuple[float, float]) -> None:
    """Draw a label's words in its box on a scrap of paper, with a frame or a leader to its point where it asks for
    them.
    """
    place = QRectF(box.left, box.top, box.right - box.left, box.bottom - box.top)
    ink = QColor(label.ink)
    near = _nearest(place, at)
    if label.leader or (near - QPointF(*at)).manhattanLength() > FAR_PX:
        painter.setPen(QPen(ink, 1.0))
        painter.drawLine(QPointF(*at), near)
    painter.setPen(QPen(ink, 1.4) if label.framed else NO_PEN)
    painter.setBrush(face_brush(label.paper, 1.0 if label.framed else SCRAP))
    if label.framed:
        painter.drawRect(place)
    else:
        painter.drawRoundedRect(place, 3.0, 3.0)
    if label.glyph:
        _draw_sign(painter, label, place)
        place.setLeft(place.left() + SIGN[0])
        if place.width() < 1.0:  # the sign alone has room
            return
    painter.setPen(ink)
    painter.setFont(font(look.families, label.px, label.bold))
    painter.drawText(place, Qt.AlignmentFlag.AlignCenter, label.text)


def _draw_sign(painter: QPainter, label: Label, place: QRectF) -> None:
    left, top, right, bottom = bounds(label.glyph)
    painter.save()
    painter.translate(place.left() + (SIGN[0] - left - right) / 2, place.center().y() - (top + bottom) / 2)
    _draw_glyph(painter, label.glyph, QColor(label.ink), QColor(label.paper))
    painter.restore()


def _nearest(place: QRectF, at: tuple[float, float]) -> QPointF:
    """Give the point of a box that is nearest to a point."""
    return QPointF(min(max(at[0], place.left()), place.right()), min(max(at[1], place.top()), place.bottom()))


# ----------------------------------------------------------------------------------------------------------- the paper
def draw_grid(
    painter: QPainter, look: Look, lines: Sequence[tuple[str, Sequence[float], Sequence[float]]], area: QRectF
) -> None:
    """Draw squared paper over an area; lines: colour, then the places of upright and of level lines."""
    painter.fillRect(area, QColor(look.paper))
    for colour, upright, level in lines:
        pen = QPen(QColor(colour), 1.0)
        pen.setCosmetic(True)
        painter.setPen(pen)
        for x in upright:
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
        for y in level:
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))


def draw_edge(painter: QPainter, place: QRectF, colour: str) -> None:
    """Draw the edge of a rectangle, one pixel within it, as four thin faces: a rectangle of lines costs fifty times as
    much, as all that it holds is looked at.
    """
    x, y, wide, high = place.x(), place.y(), place.width(), place.height()
    for left, top, w, h in (
        (x, y, wide, 1.0),
        (x, y + high - 1.0, wide, 1.0),
        (x, y + 1.0, 1.0, high - 2.0),
        (x + wide - 1.0, y + 1.0, 1.0, high - 2.0),
    ):
        painter.fillRect(QRectF(left, top, w, h), QColor(colour))


def draw_scale_bar(painter: QPainter, look: Look, at: tuple[float, float], length_px: float, text: str) -> None:
    """Draw the scale bar from its left end: a ruled bar in two halves, one of them inked, with its length above."""
    x, y = at
    painter.setPen(QPen(QColor(look.ink), 1.0))
    painter.setBrush(face_brush(look.paper))
    painter.drawRect(QRectF(x, y - 5.0, length_px, 5.0))
    painter.fillRect(QRectF(x, y - 5.0, length_px / 2, 5.0), QColor(look.ink))
    painter.setFont(font(look.families, look.small_px))
    painter.drawText(QPointF(x, y - 10.0), f"0 – {text}")
