"""The few small pictures of the window's own controls, drawn as strokes on a square of 24, so that they are sharp at
every scale and follow the sheet.
"""

from __future__ import annotations

from functools import lru_cache

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
    "shown": (
        ((2, 12), (6, 7.5), (12, 5.5), (18, 7.5), (22, 12), (18, 16.5), (12, 18.5), (6, 16.5), (2, 12)),
        ((12, 12),),
    ),
    "locked": (
        ((5, 11), (19, 11), (19, 21), (5, 21), (5, 11)),
        ((8, 11), (8, 7), (9.5, 4.5), (12, 3.5), (14.5, 4.5), (16, 7), (16, 11)),
    ),
    "tool hand": (((5, 3), (5, 18), (9, 14.5), (12, 21), (14.5, 20), (11.5, 13.5), (17, 13.5), (5, 3)),),
    "tool link": (((6, 18), (18, 6)), ((6, 18),), ((18, 6),)),
    "tool pivot": (((3, 20), (12, 12)), ((12, 12), (21, 17)), ((12, 12),), ((12, 2), (12, 6)), ((10, 4), (14, 4))),
    "tool third pin": (
        ((4, 19), (20, 19), (12, 6), (4, 19)),
        ((4, 19),),
        ((20, 19),),
        ((12, 6),),
        ((18, 5), (22, 5)),
        ((20, 3), (20, 7)),
    ),
    "tool split": (
        ((3, 15), (9.5, 12.5)),
        ((14.5, 12.5), (21, 15)),
        ((12, 12),),
        ((12, 2), (12, 7)),
        ((12, 17), (12, 22)),
    ),
    "tool join": (
        ((3, 12), (8, 12)),
        ((16, 12), (21, 12)),
        ((12, 12),),
        ((6, 9.5), (8.5, 12), (6, 14.5)),
        ((18, 9.5), (15.5, 12), (18, 14.5)),
    ),
    "tool part": (
        ((7, 12),),
        ((17, 12),),
        ((4.5, 9.5), (2, 12), (4.5, 14.5)),
        ((19.5, 9.5), (22, 12), (19.5, 14.5)),
        ((12, 4), (12, 20)),
    ),
    "tool gather": (
        ((3, 8), (3, 4), (8, 4)),
        ((12, 4), (16, 4)),
        ((20, 4), (21, 4), (21, 8)),
        ((21, 12), (21, 15)),
        ((21, 19), (21, 20), (17, 20)),
        ((13, 20), (9, 20)),
        ((5, 20), (3, 20), (3, 16)),
        ((9, 14),),
        ((15, 10),),
    ),
    "tool corner": (
        ((3, 7), (14, 7), (14, 18)),
        ((14, 7),),
        ((20, 2), (20, 12)),
        ((5, 13), (10, 13)),
        ((7.5, 10.5), (5, 13), (7.5, 15.5)),
    ),
    "tool mass": (
        (
            (12, 4),
            (15.9, 5.6),
            (18.6, 8.6),
            (20, 12),
            (18.6, 15.9),
            (15.6, 18.6),
            (12, 20),
            (8.1, 18.4),
            (5.4, 15.6),
            (4, 12),
            (5.4, 8.1),
            (8.4, 5.4),
            (12, 4),
        ),
        ((12, 4), (12, 20)),
        ((4, 12), (20, 12)),
        ((13, 8.5), (17, 8.5)),
        ((13, 6.5), (15.5, 6.5)),
        ((13, 10.3), (18, 10.3)),
        ((7, 15.5), (11, 15.5)),
        ((8.5, 17.5), (11, 17.5)),
        ((6, 13.7), (11, 13.7)),
    ),
    "tool handle": (((3, 18), (21, 18)), ((6, 18), (6, 9.5), (8.5, 7), (15.5, 7), (18, 9.5), (18, 18))),
    "tool strut": (
        ((3, 21), (6, 18)),
        ((4.2, 16.2), (7.8, 19.8), (15.8, 11.8), (12.2, 8.2), (4.2, 16.2)),
        ((14, 10), (21, 3)),
    ),
    "tool spring": (
        (
            (2, 22),
            (5, 19),
            (4.5, 15.5),
            (9, 18.5),
            (7.5, 12.5),
            (12.5, 15.5),
            (11, 9.5),
            (16, 12.5),
            (14.5, 6.5),
            (19, 5),
            (22, 2),
        ),
    ),
    "tool distance": (
        ((4, 16), (20, 16)),
        ((4, 12), (4, 20)),
        ((20, 12), (20, 20)),
        ((7, 13.5), (4, 16), (7, 18.5)),
        ((17, 13.5), (20, 16), (17, 18.5)),
    ),
    "tool angle": (((20, 19), (4, 19), (16, 5)), ((13, 19), (12.4, 15.7), (10.6, 12.0))),
    "tool path": (((3, 19), (4, 13), (7, 8.5), (11.5, 5.8), (15, 5)), ((18, 6),)),
    "tool clearance": (((2, 20), (7, 8), (15, 4)), ((9, 21), (13, 14), (21, 10)), ((8.6, 9.4), (12.2, 12.6))),
    "play": (((7, 4), (19, 12), (7, 20), (7, 4)),),
    "stop": (((6, 6), (18, 6), (18, 18), (6, 18), (6, 6)),),
}
FILLED = frozenset({"play", "stop"})


@lru_cache(maxsize=256)
def icon(name: str, colour: str, side: int = 24) -> QIcon:
    """Make an icon in one colour, for scales 1, 2 and 3; one that was made before is given again."""
    made = QIcon()
    for factor in (1, 2, 3):
        picture = QPixmap(QSize(side, side) * factor)
        picture.setDevicePixelRatio(factor)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(side / 24, side / 24)
        paint_icon(painter, name, QColor(colour))
        painter.end()
        made.addPixmap(picture)
    return made


def paint_icon(painter: QPainter, name: str, colour: QColor) -> None:
    """Paint an icon, 24 wide and high from the painter's origin on."""
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
