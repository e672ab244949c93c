"""SVG read by a general library (svgelements), which shares no code with ours: the same drawings, the same curves.

Both readings are sampled finely and compared by Hausdorff distance both ways (GEOS), 0.05 mm, which is what flattening
may leave. svgelements counts y down, in pixels of 1/96 inch. One case is W3C's own example.

GDAL, which reads our DXF back, can't do so for SVG. Tried with pyogrio 0.13.0 (GDAL 3.12.4): its wheel lists 64 drivers
and none is "SVG". `read_info` and `list_layers` of a plain drawing, and of one with the `cm:projected` polylines of the
one map server for whose files GDAL's driver was made (from memory), answer "not recognized as being in a supported file
format"; so they do with driver="SVG", and "SVG:" before the path finds no such file. Nor is there a way through PDF:
that driver only writes there. Qt's SVG module takes GDAL's place (test_qt_svg.py), beside areas from closed forms.
"""

from __future__ import annotations

from itertools import pairwise
from random import Random
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from app.files.outline_import import read_svg
from app.files.pictures import save_picture
from app.look import light
from kinematics import analyse
from tests import specimens
from tests.thorough import cases

if TYPE_CHECKING:
    from pathlib import Path

svgelements = pytest.importorskip("svgelements")

MM_PER_PX = 25.4 / 96
WITHIN = 0.05 + 0.01
SAMPLES = 200  # a segment: chords of a full circle of 60 mm radius then sag by 0.0074 mm at most

UNSETTLED = ("QS", "TS", "CT", "ST", "MZ")
"""Where the library departs from the standard: it mirrors the control point of a curve of the other family, and draws
a subpath of one point.
"""

W3C_ARCS = """<svg xmlns="http://www.w3.org/2000/svg" width="12cm" height="5.25cm" viewBox="0 0 1200 400">
 <path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/><path d="M275,175 v-150 a150,150 0 0,0 -150,150 z"/>
 <path d="M600,350 l 50,-25 a25,25 -30 0,1 50,-25 l 50,-25 a25,50 -30 0,1 50,-25 l 50,-25
  a25,75 -30 0,1 50,-25 l 50,-25 a25,100 -30 0,1 50,-25 l 50,-25"/></svg>"""
"""W3C, SVG 2, 2018, 9.3.8, example arcs01."""


def made_up(seed: int) -> str:
    """A drawing with every command and shape, in groups of random transforms."""
    rng = Random(seed)

    def n(low: float = -40.0, high: float = 40.0) -> str:
        return f"{rng.uniform(low, high):.3f}"

    def command(before: str) -> str:
        letter = rng.choice("LlHhVvCcSsQqTtAaZzMm")
        while before[0].upper() + letter.upper() in UNSETTLED:
            letter = rng.choice("LlHhVvCcSsQqTtAaZzMm")
        kind = letter.upper()
        if kind == "A":
            return f"{letter}{n(1)} {n(1)} {n(-180, 180)} {rng.randint(0, 1)} {rng.randint(0, 1)} {n()} {n()}"
        count = {"H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "Z": 0}.get(kind, 2)
        return letter + " ".join(n() for _ in range(count))

    def path() -> str:
        commands = [f"M{n()} {n()}"]
        for _ in range(8):
            commands.append(command(commands[-1]))
        return "".join(commands)

    def transform() -> str:
        return rng.choice(
            [
                f"translate({n()} {n()})",
                f"rotate({n(-180, 180)} {n()} {n()})",
                f"scale({n(0.5, 2)} {n(-2, -0.5)})",
                f"skewX({n(-30, 30)})",
                f"skewY({n(-30, 30)})",
                f"matrix({n(0.5, 1)} {n(-1, 1)} {n(-1, 0)} {n(0.5, 1)} {n()} {n()})",
            ]
        )

    shapes = [
        f'<rect x="{n()}" y="{n()}" width="{n(9)}" height="{n(9)}" rx="{n(1, 4)}"/>',
        f'<ellipse cx="{n()}" cy="{n()}" rx="{n(1)}" ry="{n(1)}"/>',
        f'<circle cx="{n()}" cy="{n()}" r="{n(1)}mm"/>',
        f'<polygon points="{n()},{n()} {n()},{n()} {n()},{n()}"/>',
        f'<line x1="{n()}" y1="{n()}" x2="{n()}" y2="{n()}"/>',
        *(f'<path d="{path()}"/>' for _ in range(3)),
    ]
    groups = [f'<g transform="{transform()} {transform()}"><g transform="{transform()}">{s}</g></g>' for s in shapes]
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="120mm" viewBox="-90 -60 180 120">'
        f"{''.join(groups)}</svg>"
    )


def by_the_library(path: Path) -> shapely.Geometry:
    """All drawn segments as svgelements places them, mm, y up."""
    lines = []
    # Sampled before they are carried by their transform: its own arcs hold no skew.
    for element in svgelements.SVG.parse(str(path), reify=False, ppi=96.0).elements():
        if isinstance(element, svgelements.Shape):
            for segment in svgelements.Path(element).segments(transformed=False):
                if not isinstance(segment, svgelements.Move) and segment.start is not None:
                    spots = (segment.point(t) for t in np.linspace(0, 1, SAMPLES))
                    z = [element.transform.point_in_matrix_space(spot) for spot in spots]
                    lines.append(np.array([(p.x * MM_PER_PX, -p.y * MM_PER_PX) for p in z]))
    return shapely.multilinestrings([shapely.linestrings(line) for line in lines])


def by_us(path: Path) -> shapely.Geometry:
    rings = [[*curve.points, *curve.points[: int(curve.closed)]] for curve in read_svg(path).curves]
    return shapely.multilinestrings([shapely.linestrings(ring) for ring in rings])


def along(lines: shapely.Geometry) -> np.ndarray:
    """(n, 2) points of the lines, and of their stretches' thirds."""
    found = []
    for line in shapely.get_parts(lines):
        z = shapely.get_coordinates(line)
        found += [z[:-1] + (z[1:] - z[:-1]) * share for share in (0.0, 1 / 3, 2 / 3)]
    return np.concatenate(found)


@pytest.mark.parametrize("drawing", [W3C_ARCS, *map(made_up, range(cases(3, 6)))])
def test_both_readers_see_the_same_lines(tmp_path: Path, drawing: str) -> None:
    path = tmp_path / "a.svg"
    path.write_text(drawing)
    theirs, ours = by_the_library(path), by_us(path)
    shapely.prepare(theirs)
    for a, b in ((theirs, ours), (ours, theirs)):
        far = shapely.distance(shapely.points(along(a)), b)
        assert far.max() < WITHIN, (far.argmax(), far.max())


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("deg", [0.0, 30.0, 75.0])
def test_a_picture_read_back_has_the_panels_lengths_by_its_scale_bar(tmp_path: Path, deg: float) -> None:
    """E7, E8: edges of the heavy line, in units of the bar that says "0 – 200 mm", within 0.05 mm; 96 px an inch."""
    project = specimens.demo_six_bar
    save_picture(project, analyse(project), tmp_path / "a.svg", deg, (1280, 800))
    read = svgelements.SVG.parse(str(tmp_path / "a.svg"), ppi=96.0)
    assert (read.width, read.height) == pytest.approx((1280.0, 800.0), abs=0.01)
    shapes = list(read.elements())
    (bar,) = (each for each in shapes if isinstance(each, svgelements.Rect) and str(each.stroke) == light().ink)
    left, _, right, _ = bar.bbox()
    mm = 200.0 / (right - left)
    heavy = (each for each in shapes if isinstance(each, svgelements.Path) and str(each.stroke) == light().panel)
    drawn = next(each for each in heavy if abs(each.stroke_width - light().heavy) < 0.01)
    spots = [complex(segment.end.x, segment.end.y) for segment in drawn.segments()]
    points = [complex(*point) for point in project.outline("hatch skin").points]
    assert len(spots) == len(points)
    for (a, b), (p, q) in zip(pairwise(spots), pairwise(points), strict=True):
        assert abs(b - a) * mm == pytest.approx(abs(q - p), abs=0.05)
