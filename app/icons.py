"""The few small pictures of the window's own controls, drawn as strokes on a square of 24, so that they are sharp at
every scale and follow the sheet.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF

Spots = tuple[tuple[float, float], ...]

# name → polylines; a polyline of one spot is a pin (a small circle).
STROKES: dict[str, tuple[Spots, ...]] = {
    "trace": (((3.5, 19), (6.5, 8), (14, 5), (20, 6)), ((3.5, 19),), ((6.5, 8),), ((14, 5),), ((20, 6),)),
    "pins": (((5, 18), (9, 7), (19, 9)), ((5, 18),), ((9, 7),), ((19, 9),), ((1, 22), (9, 22))),
    "lift": (((12, 16), (12, 3)), ((8, 7), (12, 3), (16, 7)), ((6, 21), (18, 21), (16, 16), (8, 16), (6, 21))),
    "build": (
        ((3, 9), (6, 6), (18, 6), (21, 9), (21, 15), (18, 18), (6, 18), (3, 15), (3, 9)),
        ((7, 12),),
        ((17, 12),),
    ),
    "play": (((7, 4), (19, 12), (7, 20), (7, 4)),),
    "stop": (((6, 6), (18, 6), (18, 18), (6, 18), (6, 6)),),
}
FILLED = frozenset({"play", "stop"})


def icon(name: str, colour: str, side: int = 24) -> QIcon:
    """Make an icon in one colour, for scales 1, 2 and 3."""
    made = QIcon()
    for factor in (1, 2, 3):
        picture = QPixmap(QSize(side, side) * factor)
        picture.setDevicePixelRatio(factor)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(side / 24, side / 24)
        _paint(painter, name, QColor(colour))
        painter.end()
        made.addPixmap(picture)
    return made


def _paint(painter: QPainter, name: str, colour: QColor) -> None:
    painter.setPen(QPen(colour, 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin))
    pins = [stroke[0] for stroke in STROKES[name] if len(stroke) == 1]
    for stroke in STROKES[name]:
        shape = QPolygonF([QPointF(*spot) for spot in stroke])
        if name in FILLED:
            painter.setBrush(colour)
            painter.drawPolygon(shape)
        elif len(stroke) > 1:
            painter.drawPolyline(shape)
    for x, y in pins:
        ring = QRectF(x - 2.2, y - 2.2, 4.4, 4.4)
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Clear)
        painter.setBrush(colour)
        painter.drawEllipse(ring)
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceOver)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(ring)
