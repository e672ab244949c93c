"""DXF as the public reference defines it, and as another reader reads it.

Source of E2 and E3: the DXF reference that the format's makers publish (LWPOLYLINE, group code 42; header variable
$INSUNITS), release of 2012 and later; tangents and lengths can be derived by anyone. Second reader (E5): GDAL's DXF
driver, within pyogrio's wheel; it shares nothing with the library that reads our drawings.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from app.files.outline_import import Curve, read_dxf
from tests.app.files.dxf_text import arc, block, circle, dxf, insert, line, lwpolyline

if TYPE_CHECKING:
    from pathlib import Path


def curves(tmp_path: Path, text: str) -> tuple[Curve, ...]:
    path = tmp_path / "drawing.dxf"
    path.write_text(text, "cp1252")
    return read_dxf(path).curves


@pytest.mark.parametrize(
    ("bulge", "angle_deg"), [(0.198912367, 45), (0.267949192, 60), (0.414213562, 90), (1.0, 180), (2.414213562, 270)]
)
@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize("turned", [1, np.exp(1j * math.radians(37))])
def test_e2_bulge_is_the_tangent_of_a_quarter_of_the_angle(
    tmp_path: Path, bulge: float, angle_deg: float, sign: int, turned: complex
) -> None:
    """Positive: anticlockwise from this vertex to the next. Tolerances: a few of the bulge's last printed digit, 5e-10.

    The vertices lie on a circle of 250 mm about (20, −30), so the points of the arc must lie on it, on the right side.
    """
    centre = 20 - 30j
    ends = [centre + 250 * turned, centre + 250 * turned * np.exp(1j * math.radians(sign * angle_deg))]
    (curve,) = curves(
        tmp_path, dxf(lwpolyline([(ends[0].real, ends[0].imag, sign * bulge), (ends[1].real, ends[1].imag)]))
    )
    z = (np.array([complex(*point) for point in curve.points]) - centre) / (250 * turned)
    assert np.abs(np.abs(z) - 1).max() < 2e-9
    turn = np.unwrap(np.angle(z))
    assert turn[-1] - turn[0] == pytest.approx(sign * math.radians(angle_deg), abs=1e-8)
    assert np.all(sign * np.diff(turn) > 0)


def test_e2_mirroring_flips_the_sign(tmp_path: Path) -> None:
    """A plate with round ends, placed mirrored. With the old signs its area were 2000 − 100π = 1685.84.

    Tolerance: the sagitta 0.05 mm along the 62.8 mm of arcs, of which a chord polygon loses two thirds.
    """
    plate = lwpolyline([(0, -10), (100, -10, 1), (100, 10), (0, 10, 1)], closed=True)
    (curve,) = curves(tmp_path, dxf(insert("P", 7, 9, (42, -1), (50, 37)), blocks=(block("P", plate),)))
    assert shapely.Polygon(curve.points).area == pytest.approx(2314.159265359, abs=62.8 * 0.05 * 2 / 3)


@pytest.mark.parametrize(
    ("code", "unit", "drawn", "mm"),
    [
        (1, "in", 100, 2540.0),
        (2, "ft", 100, 30480.0),
        (4, "mm", 100, 100.0),
        (5, "cm", 100, 1000.0),
        (6, "m", 100, 100_000.0),
        (9, "mil", 100, 2.54),
        (13, "µm", 10_000, 10.0),
        (14, "dm", 100, 10_000.0),
    ],
)
def test_e3_units(tmp_path: Path, code: int, unit: str, drawn: float, mm: float) -> None:
    """How long a line is; tolerance: rounding of one product."""
    path = tmp_path / "drawing.dxf"
    path.write_text(dxf(line(0, 0, drawn, 0), units=code))
    drawing = read_dxf(path)
    assert drawing.units == unit
    assert [curve.length for curve in drawing.curves] == pytest.approx([mm], rel=1e-12)


def test_e3_the_same_length_in_inches_and_millimetres(tmp_path: Path) -> None:
    """An inch file has 3.937007874 where a mm file has 100; tolerance: half its last digit, 25.4 × 5e-10."""
    (inches,) = curves(tmp_path, dxf(line(0, 0, 3.937007874, 0), units=1))
    assert inches.length == pytest.approx(100.0, abs=1.3e-8)


@pytest.mark.parametrize("code", [0, None, 7])
def test_e3_no_unit_is_asked_for_never_guessed(tmp_path: Path, code: int | None) -> None:
    """0 and a missing variable say nothing, and 7 (kilometres) is none that an outline is drawn in.

    Trap: the reading library fills in metres (6) where the variable is missing from a file without a header.
    """
    path = tmp_path / "drawing.dxf"
    text = dxf(line(0, 0, 10, 0), units=code, version="AC1009")
    path.write_text(text)
    assert read_dxf(path).units is None
    path.write_text(text[text.index("  0\nSECTION\n  2\nENTITIES") :])  # no header at all
    assert read_dxf(path).units is None


PLATE = lwpolyline([(0, -10), (100, -10, 1), (100, 10), (0, 10, 1)], closed=True)
DRAWING = dxf(
    PLATE,
    circle(0, 0, 4),
    arc(0, 200, 50, 300, 30, (210, 0), (220, 0), (230, -1)),
    lwpolyline([(0, 300, -0.3), (40, 330, 2.0), (90, 290), (200, 350, 0.05), (400, 300)]),
    insert("P", 300, 100, (41, -1.5), (42, 1.5), (50, 30)),
    insert("P", 700, 100, (41, 2), (42, -1)),
    blocks=(block("P", PLATE, circle(50, 0, 4), base=(3.0, -2.0)),),
)


def test_e5_gdal_sees_the_same_lines(tmp_path: Path) -> None:
    """Arcs seen from behind, bulges of either sign, blocks mirrored, turned and unevenly scaled.

    GDAL is told to chord arcs at 0.1°. It then errs by r·(1 − cos 0.05°); the flattest arc here has bulge 0.05 over the
    chord √(200² + 50²), so r = 206.155·1.0025/0.2 = 1033.4 mm, and 3.94e-4 mm. No vertex of ours may leave its lines by
    more, and none of its vertices may leave ours by more than 0.05 mm and that.
    """
    pyogrio = pytest.importorskip("pyogrio", reason="needs GDAL's DXF reader, which pyogrio's wheel carries")
    ours = curves(tmp_path, DRAWING)
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1"})
    _, _, geometry, _ = pyogrio.raw.read(tmp_path / "drawing.dxf")
    theirs = [part for shape in shapely.from_wkb(geometry) for part in shapely.get_parts(shape)]
    assert len(ours) == len(theirs) == 8
    left = list(theirs)
    for curve in ours:
        around = [*curve.points, curve.points[0]] if curve.closed else curve.points
        mine = shapely.LineString(around)
        match = min(left, key=lambda other: shapely.hausdorff_distance(mine, other))
        left.remove(match)
        assert match.is_closed == curve.closed
        assert shapely.distance(match, shapely.points(curve.points)).max() < 4e-4
        assert shapely.distance(mine, shapely.points(match.coords)).max() <= 0.05 + 4e-4


def test_e5_areas_by_gdal(tmp_path: Path) -> None:
    """Capsule 100 × ø20 by GDAL's own chords of 4°: 2313.904132; exact 2314.159265359 (E1)."""
    pyogrio = pytest.importorskip("pyogrio", reason="needs GDAL's DXF reader, which pyogrio's wheel carries")
    (curve,) = curves(tmp_path, dxf(PLATE))
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "4"})
    _, _, geometry, _ = pyogrio.raw.read(tmp_path / "drawing.dxf")
    (theirs,) = shapely.from_wkb(geometry)
    assert shapely.Polygon(theirs.coords).area == pytest.approx(2313.904132, abs=5e-7)
    assert shapely.Polygon(curve.points).area == pytest.approx(2314.159265359, abs=62.8 * 0.05 * 2 / 3)
