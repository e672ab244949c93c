"""SVG read by Qt's SVG module (SVG Tiny 1.2), and areas of W3C's own examples worked out by hand.

Our reader of SVG uses nothing of Qt. Here Qt paints a drawing on a device that writes down what it is asked to paint:
the same drawings must give the same lines. That they need not be wrong together, areas in W3C's examples are typed
here from closed forms.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QPaintDevice, QPaintEngine, QPaintEngineState, QPainter, QPainterPath, QPixmap, QPolygonF
from PySide6.QtSvg import QSvgRenderer

from app.files.outline_import import read_svg
from tests.outside.test_svg_reader import W3C_ARCS, along, by_us, made_up

if TYPE_CHECKING:
    from pathlib import Path

FLATTENED = 0.05  # mm, what our flattening may leave
WITHIN = FLATTENED + 0.01 + 0.03
"""What sampling leaves (test_svg_reader.py), and what Qt does: it turns arcs into cubics, a quarter at a time, off by
2.73e-4 of the radius (the usual four-cubic circle, recomputed); skewed and scaled, no radius here goes beyond 100 mm.
"""
SAMPLES = 200

Lines = list[shapely.Geometry]


class Record(QPaintEngine):
    """Writes down every line and curve it is asked to paint, where it stands on the device."""

    def __init__(self) -> None:
        super().__init__(QPaintEngine.PaintEngineFeature.AllFeatures)
        self.lines: Lines = []

    def begin(self, _device: QPaintDevice) -> bool:
        return True

    def end(self) -> bool:
        return True

    def type(self) -> QPaintEngine.Type:
        return QPaintEngine.Type.User

    def updateState(self, _state: QPaintEngineState) -> None:  # noqa: N802  Qt's
        """Nothing to keep: the painter is asked for its transform."""

    def drawPixmap(self, _to: QRectF, _pixmap: QPixmap, _from: QRectF) -> None:  # noqa: N802  Qt's
        raise AssertionError("no pictures here")

    def drawPath(self, path: QPainterPath) -> None:  # noqa: N802  Qt's
        placed = self.painter().worldTransform().map(QPainterPath(path))
        self.lines += [shapely.linestrings(run) for run in runs_of(placed)]

    def drawEllipse(self, box: QRectF) -> None:  # noqa: N802  Qt's
        path = QPainterPath()
        path.addEllipse(box)
        self.drawPath(path)

    def drawPolygon(self, points: list, mode: object) -> None:  # type: ignore[override,type-arg]  # noqa: N802
        path = QPainterPath()
        path.addPolygon(QPolygonF(points))
        if mode != QPaintEngine.PolygonDrawMode.PolylineMode:
            path.closeSubpath()
        self.drawPath(path)

    def drawLines(self, lines: list) -> None:  # type: ignore[override,type-arg]  # noqa: N802
        for line in lines:
            self.drawPolygon([line.p1(), line.p2()], QPaintEngine.PolygonDrawMode.PolylineMode)

    def drawRects(self, rects: list) -> None:  # type: ignore[override,type-arg]  # noqa: N802
        for rect in rects:
            path = QPainterPath()
            path.addRect(rect)
            self.drawPath(path)


class Sheet(QPaintDevice):
    """A device of one unit a millimetre."""

    def __init__(self) -> None:
        super().__init__()
        self.record = Record()

    def paintEngine(self) -> QPaintEngine:  # noqa: N802  Qt's
        return self.record

    def metric(self, which: QPaintDevice.PaintDeviceMetric) -> int:
        kinds = QPaintDevice.PaintDeviceMetric
        sizes = {kinds.PdmWidth: 4000, kinds.PdmHeight: 4000, kinds.PdmDepth: 32, kinds.PdmDevicePixelRatio: 1}
        return sizes.get(which, 96)


def runs_of(path: QPainterPath) -> list[np.ndarray]:
    """(n, 2) points along each piece of a path, its cubics sampled by Bernstein's polynomials."""
    spots = [
        (path.elementAt(k).type, complex(path.elementAt(k).x, path.elementAt(k).y)) for k in range(path.elementCount())
    ]
    runs, k, here = [], 0, 0j
    while k < len(spots):
        kind, at = spots[k]
        if kind == QPainterPath.ElementType.LineToElement:
            runs.append(np.array([here, at]))
        elif kind == QPainterPath.ElementType.CurveToElement:
            (_, second), (_, end) = spots[k + 1], spots[k + 2]
            t = np.linspace(0.0, 1.0, SAMPLES)
            s = 1.0 - t
            runs.append(s**3 * here + 3 * s**2 * t * at + 3 * s * t**2 * second + t**3 * end)
            at, k = end, k + 2
        here, k = at, k + 1
    return [np.stack([run.real, -run.imag], axis=1) for run in runs]


def by_qt(drawing: str, wide: float, high: float) -> shapely.Geometry:
    """All lines that Qt paints of a drawing on a sheet of this size, mm, y up."""
    renderer, sheet = QSvgRenderer(QByteArray(drawing.encode())), Sheet()
    assert renderer.isValid()
    renderer.setAspectRatioMode(Qt.AspectRatioMode.KeepAspectRatio)
    painter = QPainter(sheet)
    renderer.render(painter, QRectF(0.0, 0.0, wide, high))
    painter.end()
    return shapely.multilinestrings(sheet.record.lines)


def plain(seed: int) -> str:
    """A made-up drawing within SVG Tiny 1.2, which knows units on the outermost width and height alone (7.10 there)."""
    return re.sub(r'(r="[\d.]+)mm"', r'\1"', made_up(seed))


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize(
    ("drawing", "wide", "high"), [(W3C_ARCS, 120.0, 52.5), *((plain(seed), 180.0, 120.0) for seed in range(10, 16))]
)
def test_both_readers_see_the_same_lines(tmp_path: Path, drawing: str, wide: float, high: float) -> None:
    path = tmp_path / "a.svg"
    path.write_text(drawing)
    theirs, ours = by_qt(drawing, wide, high), by_us(path)
    shapely.prepare(theirs)
    for a, b in ((theirs, ours), (ours, theirs)):
        far = shapely.distance(shapely.points(along(a)), b)
        assert far.max() < WITHIN, (far.argmax(), far.max())


# W3C, SVG 1.1 (2nd edition, 2011), 8.3 (paths) and 9 (basic shapes), the numbers of the examples from memory; areas
# from closed forms, typed. A user unit is one millimetre here, so that flattening weighs little.
AREAS = {
    # 8.3.2, triangle01: half of 200 × 200
    "triangle01": ('<path d="M 100 100 L 300 100 L 200 300 z"/>', 20000.0),
    # 8.3.7, quad01, its first arch: two thirds of chord 400 × rise 125 (Archimedes)
    "quad01": ('<path d="M200,300 Q400,50 600,300"/>', 33333.3333),
    # 8.3.6, cubic01, its first curve over the chord of 150: y = 300·ts, dx = 900·ts dt, and ∫ t²s² dt = 1/30
    "cubic01": ('<path d="M100,200 C100,100 250,100 250,200"/>', 9000.0),
    # 8.3.8, arcs01: three quarters of a disc of 150, and one quarter
    "arcs01, large": ('<path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/>', 53014.3760),
    "arcs01, small": ('<path d="M275,175 v-150 a150,150 0 0,0 -150,150 z"/>', 17671.4587),
    # 9.2, rect02: 400 × 200 less (4 − π)·50² at its corners; ry follows rx
    "rect02": ('<rect x="100" y="100" width="400" height="200" rx="50"/>', 77853.9816),
    # 9.3, circle01 and 9.4, ellipse01
    "circle01": ('<circle cx="600" cy="200" r="100"/>', 31415.9265),
    "ellipse01": ('<g transform="translate(300 200)"><ellipse rx="250" ry="100"/></g>', 78539.8163),
    # 9.7, polygon01, the hexagon: two trapeziums 108 wide, between 125.1 (125) and 250 high
    "polygon01": ('<polygon points="850,75 958,137.5 958,262.5 850,325 742,262.6 742,137.5"/>', 40505.4),
}


@pytest.mark.parametrize("name", AREAS)
def test_shapes_of_the_standard_have_their_areas(tmp_path: Path, name: str) -> None:
    """Within the strip that flattening may take off, 0.05 mm all along the edge."""
    shape, area = AREAS[name]
    path = tmp_path / "a.svg"
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="1200mm" height="400mm" viewBox="0 0 1200 400">'
    path.write_text(f"{head}{shape}</svg>")
    (curve,) = read_svg(path).curves
    ring = shapely.Polygon(curve.points)
    assert ring.is_valid
    assert ring.area == pytest.approx(area, abs=FLATTENED * ring.length)
